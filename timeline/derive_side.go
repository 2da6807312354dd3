package timeline

import (
	"fmt"
	"slices"
	"time"
)

// sideTags are one side's tags of one jam by kind, each list by time.
type sideTags struct {
	lineup, lead, lost, call, star, trip, penalty, box []placed
}

// fieldJam sorts one jam's tags by side and finds who was fielded, star passes,
// and status: what later steps need of all jams.
func (d *deriver) fieldJam(i int) {
	j := &d.bout.Jams[i]
	by := &d.sides[i]
	for _, p := range d.inJam[i] {
		switch {
		case p.Side != NoSide:
			by[p.Side.Index()].add(p)
		case p.Kind == KindEvent:
		case scoring(p.Kind), p.Kind == KindLineup, p.Kind == KindPenalty, p.Kind == KindBox:
			d.problem(Problem{Kind: ProblemEmpty, Jam: j.ID, Tags: []ID{p.ID}, Text: fmt.Sprintf("%s tag %s says no side and is left out", p.Kind, p.ID)})
		}
	}
	for _, s := range Sides {
		t, side := &by[s.Index()], &j.Sides[s.Index()]
		side.Logged = j.Logged && d.logs[s.Index()]
		for _, p := range t.penalty {
			side.Penalties = append(side.Penalties, p.ID)
		}
		d.fielded(j, s, side, t)
		d.starPass(j, s, side, t)
		d.status(j, s, side, t)
	}
}

// countJam counts trips and points, at pass level where events are logged, and
// settles how the jam ended.
func (d *deriver) countJam(i int) {
	j := &d.bout.Jams[i]
	for _, s := range Sides {
		t, side := &d.sides[i][s.Index()], &j.Sides[s.Index()]
		d.trips(j, s, side, t)
		d.initial(side, t)
	}
	d.eventLevel(i)
	d.ended(i)
	d.bothSides(j)
}

func (t *sideTags) add(p placed) {
	switch p.Kind {
	case KindLineup:
		t.lineup = append(t.lineup, p)
	case KindLead:
		t.lead = append(t.lead, p)
	case KindLost:
		t.lost = append(t.lost, p)
	case KindCall:
		t.call = append(t.call, p)
	case KindStarPass:
		t.star = append(t.star, p)
	case KindTrip:
		t.trip = append(t.trip, p)
	case KindPenalty:
		t.penalty = append(t.penalty, p)
	case KindBox:
		t.box = append(t.box, p)
	}
}

// starPass finds the completed star pass (Rules 2.2.4: once per jam).
func (d *deriver) starPass(j *Jam, s Side, side *JamSide, t *sideTags) {
	for _, p := range t.star {
		if p.StarPass == nil {
			d.problem(Problem{Kind: ProblemEmpty, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: "a star pass tag that does not say whether it was completed is left out"})
			continue
		}
		if !p.StarPass.Complete {
			continue
		}
		if side.StarPass {
			d.problem(Problem{
				Kind: ProblemContradict, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Section: "2.2.4",
				Text: fmt.Sprintf("a second completed star pass of %s in jam %s; only one is possible, the first is taken", s, j.Name()),
			})
			continue
		}
		side.StarPass = true
		side.StarPassAt, side.StarPassTimed = p.at, p.timed
		to := p.StarPass.To.Number
		if to == "" {
			to = side.Pivot.Number
		} else if side.Pivot.Number != "" && side.Pivot.Number != to {
			d.problem(Problem{
				Kind: ProblemContradict, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Section: "2.2.4",
				Text: fmt.Sprintf("the star of %s went to %s in jam %s, but %s is lined up as pivot; only the pivot can become jammer", s, to, j.Name(), side.Pivot.Number),
			})
		}
		side.NewJammer = to
		side.Why = append(side.Why, Reason{Text: fmt.Sprintf("star pass completed: %s is jammer from the release on and goes on with the trip", named(to)), Section: "2.2.4", Tags: []ID{p.ID}})
	}
}

// status finds lead, lost and call-off of one side (Rules 2.2.2).
func (d *deriver) status(j *Jam, s Side, side *JamSide, t *sideTags) {
	for _, p := range t.lead {
		if p.Seen == NotSeen {
			side.LeadUnknown = !side.Lead
			continue
		}
		if side.Lead {
			d.problem(Problem{Kind: ProblemDuplicate, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: fmt.Sprintf("lead of %s is tagged twice in jam %s", s, j.Name())})
			continue
		}
		side.Lead, side.LeadUnknown = true, false
		side.LeadAt, side.LeadTimed = p.at, p.timed
		side.Why = append(side.Why, Reason{Text: "lead, as tagged", Section: "2.2.2", Tags: []ID{p.ID}})
		if j.Overtime {
			d.problem(Problem{Kind: ProblemRule, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Section: "1.5.1", Text: fmt.Sprintf("%s has lead in jam %s, which is overtime: there is no lead in overtime", s, j.Name())})
		}
	}
	lose := func(at time.Duration, timed bool, r Reason) {
		if !side.Lost {
			side.LostAt, side.LostTimed = at, timed
		} else if timed && (!side.LostTimed || at < side.LostAt) {
			side.LostAt, side.LostTimed = at, true
		}
		side.Lost = true
		side.Why = append(side.Why, r)
	}
	for n, p := range t.lost {
		if n > 0 {
			d.problem(Problem{Kind: ProblemDuplicate, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: fmt.Sprintf("lost is tagged twice for %s in jam %s", s, j.Name())})
			continue
		}
		lose(p.at, p.timed, Reason{Text: "lost, as tagged", Section: "2.2.2", Tags: []ID{p.ID}})
	}
	for _, p := range t.star {
		if side.Lead && p.StarPass != nil {
			lose(p.at, p.timed, Reason{Text: "lead is lost when the jammer takes her star off to pass it", Section: "2.2.2", Tags: []ID{p.ID}})
		}
	}
	for _, p := range t.penalty {
		if !side.Lead || p.Who.Number == "" || p.Who.Number != side.Jammer.Number {
			continue
		}
		if p.timed && (p.at < 0 || d.over(d.jamIndex[j.ID], p.at)) {
			continue
		}
		if p.timed && side.LeadTimed && p.at < side.LeadAt {
			d.problem(Problem{
				Kind: ProblemRule, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Section: "2.2.2",
				Text: fmt.Sprintf("jammer %s of %s is tagged as lead in jam %s after a penalty in the same jam, which ends her eligibility", p.Who.Number, s, j.Name()),
			})
			continue
		}
		lose(p.at, p.timed, Reason{Text: "lead is lost by a penalty", Section: "2.2.2", Tags: []ID{p.ID}})
	}
	for _, p := range t.call {
		if side.Called {
			d.problem(Problem{Kind: ProblemDuplicate, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: fmt.Sprintf("the call-off of %s is tagged twice in jam %s", s, j.Name())})
			continue
		}
		side.Called, side.CalledAt, side.CalledTimed = true, p.at, p.timed
		side.Why = append(side.Why, Reason{Text: "called off, as tagged", Section: "2.2.2", Tags: []ID{p.ID}})
		switch {
		case !side.Lead && !side.LeadUnknown:
			d.problem(Problem{Kind: ProblemRule, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Section: "2.2.2", Text: fmt.Sprintf("%s calls off jam %s without being lead", s, j.Name())})
		case side.Lost && !(side.LostTimed && p.timed && side.LostAt > p.at):
			d.problem(Problem{Kind: ProblemRule, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Section: "2.2.2", Text: fmt.Sprintf("%s calls off jam %s after losing lead", s, j.Name())})
		}
	}
}

// ended settles what ended the jam.
func (d *deriver) ended(i int) {
	j := &d.bout.Jams[i]
	called, injury := ID(""), ID("")
	for _, p := range d.inJam[i] {
		switch {
		case p.Kind == KindCall && p.Side != NoSide && called == "":
			called = p.ID
		case p.Kind == KindInjury && injury == "":
			injury = p.ID
		}
	}
	switch {
	case j.Ended != EndUnknown:
		j.EndedWhy = Reason{Text: "as tagged", Tags: []ID{j.ID}}
		if called != "" && j.Ended != EndCalled {
			d.problem(Problem{
				Kind: ProblemContradict, Jam: j.ID, Tags: []ID{j.ID, called}, Section: "1.1",
				Text: fmt.Sprintf("jam %s is tagged as ended by %q and as called off", j.Name(), j.Ended),
			})
		}
	case called != "":
		j.Ended = EndCalled
		j.EndedWhy = Reason{Text: "a call-off is tagged", Section: "2.2.2", Tags: []ID{called}}
	case injury != "":
		j.Ended = EndInjury
		j.EndedWhy = Reason{Text: "an injury is tagged and nothing else that ended the jam", Section: "1.2", Tags: []ID{injury}}
	case j.Duration >= d.rules.JamLength-500*time.Millisecond:
		j.Ended = EndTime
		j.EndedWhy = Reason{Text: "it ran its full length", Section: "1.1"}
	}
	if j.Ended == EndCalled && called == "" {
		var lead []Side
		for _, s := range Sides {
			if x := j.Sides[s.Index()]; x.Lead && !x.Lost {
				lead = append(lead, s)
			}
		}
		if len(lead) == 1 {
			side := &j.Sides[lead[0].Index()]
			side.Called = true
			side.CalledAt, side.CalledTimed = j.Duration, j.Duration > 0
			side.Why = append(side.Why, Reason{Text: "the jam was called off, and only lead can do that", Section: "2.2.2", Tags: []ID{j.ID}})
		}
	}
}

// initial says whether the initial trip was completed, and what the no-initial
// mark of each row is: true on each row it is true for.
func (d *deriver) initial(side *JamSide, t *sideTags) {
	if !side.Logged {
		return
	}
	// Without a word on it, lead tells that she was through; tagged as not completed,
	// the initial trip was not, lead or not.
	side.NoInitial = !side.Lead
	for _, tr := range side.Trips {
		side.NoInitial = tr.Number == 1 && tr.Open
	}
	if side.NoInitial {
		for _, p := range t.trip {
			if p.Trip != nil && p.Trip.Number == 1 && p.Seen != Sure {
				side.NoInitialUnknown = true
			}
		}
		side.NoInitialUnknown = side.NoInitialUnknown || side.LeadUnknown
	}
	switch {
	case side.NoInitialUnknown:
		side.NoInitial = false
		side.NI = [2]Cell[bool]{{State: CellUnread}, {State: CellUnread}}
	case side.NoInitial && side.Lead:
		// The paper may go either way (common practice, no source): left open.
		side.NI = [2]Cell[bool]{}
	case side.NoInitial:
		side.NI = [2]Cell[bool]{Known(true), Known(true)}
		side.Why = append(side.Why, Reason{Text: "no trip is tagged beyond the initial one, which scores nothing", Section: "3.2"})
	default:
		side.NI = [2]Cell[bool]{side.firstNoInitial(), Known(false)}
	}
}

// firstNoInitial: the initial trip was completed; was it by the first jammer?
func (side *JamSide) firstNoInitial() Cell[bool] {
	if !side.StarPass {
		return Known(false)
	}
	for _, tr := range side.Trips {
		switch {
		case tr.Number == 1 && tr.NewStar && side.Lead:
			return Cell[bool]{} // lead, yet not through: the paper may go either way
		case tr.Number == 1 && !tr.Open && len(tr.Tags) > 0:
			return Known(tr.NewStar)
		case tr.Number > 1 && !tr.NewStar:
			return Known(false)
		}
	}
	if side.Lead {
		return Cell[bool]{}
	}
	return Cell[bool]{State: CellUnread}
}

// bothSides checks what only one side can have.
func (d *deriver) bothSides(j *Jam) {
	h, a := &j.Sides[0], &j.Sides[1]
	if h.Lead && a.Lead {
		var ids []ID
		for _, s := range j.Sides {
			for _, w := range s.Why {
				if w.Text == "lead, as tagged" {
					ids = append(ids, w.Tags...)
				}
			}
		}
		slices.Sort(ids)
		d.problem(Problem{Kind: ProblemContradict, Jam: j.ID, Tags: ids, Section: "2.2.2", Text: fmt.Sprintf("both sides have lead in jam %s; at most one can", j.Name())})
	}
}

func named(n Number) string {
	if n == "" {
		return "a skater whose number was not seen"
	}
	return string(n)
}
