package timeline

import "fmt"

// seatsPerSide is how many blockers of one team may be seated (4.4.1).
const seatsPerSide = 2

// apply lets one move happen at the keeper's moment.
func (b *boxKeeper) apply(e BoxEvent) {
	if e.Skater.Side != Home && e.Skater.Side != Away {
		b.problem(e, "a move in the box without a side; left out")
		return
	}
	s := b.skater(e.Skater)
	if e.Role != NoRole && s.stay == nil {
		s.role = e.Role
	}
	switch e.What {
	case BoxPenalised:
		b.assess(s, e)
	case BoxCancelled:
		b.withdraw(s, e)
	case BoxSits:
		b.sits(s, e)
	case BoxRises, BoxStays, BoxStands:
		b.moves(s, e)
	case BoxLeaves:
		b.leaves(s, e)
	default:
		b.problem(e, "a move "+quote(string(e.What))+" is not known; left out")
	}
}

// assess adds one penalty: so much more to serve (4.4), one more toward fouling
// out (4.5).
func (b *boxKeeper) assess(s *boxSkater, e BoxEvent) {
	whose := e.Skater
	if !e.For.IsZero() {
		whose = e.For
	}
	b.count.Fouls[whose]++
	if b.count.Fouls[whose] == b.rules.FoulOut {
		b.count.FouledOut[whose] = b.event
	}
	b.owe(s, e)
	if s.stay != nil && s.role == Jammer {
		b.swap(s)
	}
}

func (b *boxKeeper) owe(s *boxSkater, e BoxEvent) {
	p := &boxPenalty{id: e.Penalty, whose: e.For, time: b.rules.PenaltyTime}
	s.owes = append(s.owes, p)
	if s.stay != nil {
		b.addToStay(s, p)
		s.stood = false
		s.why(fmt.Sprintf("one more penalty while in the box: %v more", p.time), "4.4")
	}
}

func (b *boxKeeper) addToStay(s *boxSkater, p *boxPenalty) {
	s.stay.Count++
	s.stay.Owed += p.left()
	if p.id != "" {
		s.stay.Penalties = append(s.stay.Penalties, p.id)
	}
	if !p.whose.IsZero() && p.whose != s.ref {
		s.stay.For = append(s.stay.For, p.whose)
	}
}

// withdraw takes back a penalty: by its ID, or else the latest not served.
func (b *boxKeeper) withdraw(s *boxSkater, e BoxEvent) {
	at := -1
	for i, p := range s.owes {
		if e.Penalty != "" && p.id == e.Penalty || e.Penalty == "" && p.left() > 0 {
			at = i
		}
	}
	if at < 0 {
		b.problem(e, e.Skater.String()+" owes no such penalty to withdraw; left out")
		return
	}
	p := s.owes[at]
	whose := s.ref
	if !p.whose.IsZero() {
		whose = p.whose
	}
	if b.count.Fouls[whose]--; b.count.Fouls[whose] < b.rules.FoulOut {
		delete(b.count.FouledOut, whose)
	}
	left := p.left()
	p.time = p.served
	if s.stay != nil {
		s.stay.Forgiven += left
		s.why("a penalty was withdrawn", "4.4")
		b.releaseIfDone(s)
	}
}

// sits seats a skater: her clock runs with the jam's from here.
func (b *boxKeeper) sits(s *boxSkater, e BoxEvent) {
	if s.stay != nil { // seated again after rising early
		s.risen = false
		return
	}
	if s.role != Jammer && b.seated(s) >= seatsPerSide {
		b.sendBack(s, e)
		return
	}
	implied := false
	if s.current() == nil {
		b.problem(e, e.Skater.String()+" sits without a penalty known to be owed; taken to be for one")
		s.owes = append(s.owes, &boxPenalty{id: e.Penalty, whose: e.For, time: b.rules.PenaltyTime})
		implied = true
	}
	in := e.At
	if e.Jam != b.now.jam { // after the end of a jam: before the next
		in = -1
	}
	s.stay = &BoxServed{Skater: s.ref, Role: s.role, InJam: b.now.jam, In: in, OutJam: -1}
	for _, p := range s.owes {
		if p.left() > 0 {
			b.addToStay(s, p)
		}
	}
	b.stays = append(b.stays, s.stay)
	s.why(fmt.Sprintf("owes %v of jam time, from sitting down on", s.stay.Owed), "4.4")
	if in < 0 {
		s.why("sat down between jams: the clock starts with the next jam", "4.4")
	}
	if implied {
		s.why("no penalty is known: taken to be for one", "4.4")
	}
	if s.role == Jammer {
		b.endsJam(s, e)
		b.swap(s)
	}
}

// seated counts a team's blockers on seats; one who stands has left hers free.
func (b *boxKeeper) seated(s *boxSkater) int {
	n := 0
	for _, o := range b.order {
		if o != s && o.ref.Side == s.ref.Side && o.stay != nil && o.role != Jammer && !o.stood && o.left() > b.rules.StandTime {
			n++
		}
	}
	return n
}

// sendBack is a third blocker: queued and told to go on playing (4.4.1).
func (b *boxKeeper) sendBack(s *boxSkater, e BoxEvent) {
	st := BoxServed{
		Skater: s.ref, Role: s.role, InJam: b.now.jam, In: e.At, OutJam: b.now.jam, Out: e.At,
		SentBack: true, Owed: s.left(), Remains: s.left(),
		Why: []Reason{{Text: "two blockers of her team are seated: queued and sent back to play", Section: "4.4.1"}},
	}
	for _, p := range s.owes {
		st.Count++
		if p.id != "" {
			st.Penalties = append(st.Penalties, p.id)
		}
	}
	b.stays = append(b.stays, &st)
}

// moves are rising, not standing and standing.
func (b *boxKeeper) moves(s *boxSkater, e BoxEvent) {
	if s.stay == nil {
		b.problem(e, e.Skater.String()+" is not in the box; left out")
		return
	}
	switch {
	case e.What == BoxRises || e.What == BoxStands && s.left() > b.rules.StandTime+boxTolerance:
		s.risen = true
		s.why(fmt.Sprintf("rose with %v to serve: the clock stands until she is seated", s.left()), "4.4")
	case e.What == BoxStays:
		s.staying = true
		s.why("told to stand and clearly did not: the clock stands until she does", "4.4")
	default:
		s.risen, s.staying, s.stood = false, false, true
	}
}

// leaves is a skater leaving the box; before her time is up that is early.
func (b *boxKeeper) leaves(s *boxSkater, e BoxEvent) {
	if s.stay == nil {
		return // her time was up: nothing more to tell
	}
	if left := s.left(); left > boxTolerance {
		s.stay.Left = true
		s.stay.OutJam, s.stay.Out = b.now.jam, b.now.at
		s.why(fmt.Sprintf("left early with %v to serve", left), "4.4")
		b.leave(s)
		return
	}
	for _, p := range s.owes {
		p.time = p.served
	}
	b.release(s, b.now)
}

// releaseIfDone releases a skater in the box who owes nothing more.
func (b *boxKeeper) releaseIfDone(s *boxSkater) {
	if s.stay != nil && s.current() == nil {
		b.release(s, b.now)
	}
}

// finish writes out stays that go on after the last jam and what is still owed.
func (b *boxKeeper) finish() BoxCount {
	for _, s := range b.order {
		if s.stay != nil {
			s.stay.Remains = s.left()
			s.why("still serving when the last jam ended", "4.4")
		}
		if left := s.left(); left > 0 {
			b.count.Owed[s.ref] = left
		}
	}
	for _, st := range b.stays {
		b.count.Stays = append(b.count.Stays, *st)
	}
	return b.count
}
