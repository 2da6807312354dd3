package timeline

import (
	"fmt"
	"slices"
	"time"
)

// eventLevel counts a jam from its physical events where someone logged them,
// and compares both levels where the jam has both. Points then come from the
// events; status comes from the tags of what the officials signalled, where
// there are any.
func (d *deriver) eventLevel(i int) {
	j := &d.bout.Jams[i]
	events := d.events(i)
	if len(events) == 0 {
		return
	}
	if j.Duration > 0 && !slices.ContainsFunc(events, func(e Event) bool { return e.What == EvJamEnds }) {
		events = append(events, Event{At: j.Duration, What: EvJamEnds})
	}
	count := RecountEvents(d.rules, d.jamStart(i), events)
	for _, p := range count.Problems {
		d.problem(Problem{Kind: ProblemContradict, Jam: j.ID, Tags: p.Tags, Text: fmt.Sprintf("in the events of jam %s: %s", j.Name(), p.Text)})
	}
	if j.Duration == 0 && count.EndKnown {
		j.Duration = count.EndAt
	}
	if j.Ended == EndUnknown && count.Ended != EndUnknown {
		j.Ended, j.EndedWhy = count.Ended, count.EndWhy
	}
	for _, s := range Sides {
		side, c, t := &j.Sides[s.Index()], count.Sides[s.Index()], &d.sides[i][s.Index()]
		if len(t.trip) > 0 && !passesOf(events, s, c) {
			continue // only the other side's passes are logged
		}
		d.eventStatus(i, s, side, c)
		d.eventTrips(j, s, side, c, len(t.trip) > 0)
	}
}

// events are the jam's physical events, by time and then by tag ID.
func (d *deriver) events(i int) []Event {
	var out []Event
	for _, p := range d.inJam[i] {
		if p.Kind != KindEvent {
			continue
		}
		if p.Event == nil {
			d.problem(Problem{Kind: ProblemEmpty, Jam: d.bout.Jams[i].ID, Tags: []ID{p.ID}, Text: fmt.Sprintf("event tag %s says nothing and is left out", p.ID)})
			continue
		}
		e := *p.Event
		if p.timed {
			e.At = p.at
		}
		e.Tags = append([]ID{p.ID}, e.Tags...)
		out = append(out, e)
	}
	slices.SortStableFunc(out, func(x, y Event) int { return int(min(max(x.At-y.At, -1), 1)) })
	return out
}

func passesOf(events []Event, s Side, c SideCount) bool {
	return slices.ContainsFunc(events, func(e Event) bool {
		return e.What == EvPass && e.Who.Side == s && (e.Who.Number == c.Jammer || e.Who.Number == c.NewJammer)
	})
}

// jamStart is the state at the start whistle as it was noted, or else as line-ups
// and box visits have it.
func (d *deriver) jamStart(i int) JamStart {
	j := &d.bout.Jams[i]
	if f := d.jamTag[i].JamInfo.Field; f != nil {
		start := *f
		start.Overtime = j.Overtime
		start.Skaters = slices.Clone(f.Skaters)
		return start
	}
	start := JamStart{Overtime: j.Overtime}
	for _, s := range Sides {
		side := &j.Sides[s.Index()]
		for n, num := range side.fieldOrder() {
			f := Fielded{SkaterRef: SkaterRef{s, num}, Role: side.Lineup[num]}
			if f.Role != Jammer {
				f.Order = n
			}
			f.PenalisedInLineup = d.penalisedBefore(i, f.SkaterRef)
			if side.BoxedAtStar[num] {
				f.InBox, f.Order = true, 0
				f.Served, f.Owed = d.owedAt(i, f.SkaterRef)
			}
			start.Skaters = append(start.Skaters, f)
		}
	}
	return start
}

// fieldOrder lists the line-up as it was written: jammer, blockers, pivot.
func (s *JamSide) fieldOrder() []Number {
	var out []Number
	for _, w := range append(append([]Who{s.Jammer}, s.Blockers...), s.Pivot) {
		if _, ok := s.Lineup[w.Number]; ok && !slices.Contains(out, w.Number) {
			out = append(out, w.Number)
		}
	}
	return out
}

// penalisedBefore reports a penalty in the line-up before jam i.
func (d *deriver) penalisedBefore(i int, who SkaterRef) bool {
	for _, p := range d.penalties {
		if p.Side != who.Side || p.Who.Number != who.Number || !p.timed {
			continue
		}
		if p.jam == i && p.at < 0 {
			return true
		}
		if p.jam == i-1 && d.bout.Jams[i-1].Duration > 0 && p.at > d.bout.Jams[i-1].Duration {
			return true
		}
	}
	return false
}

// owedAt is what a skater in the box has served of her time when jam i starts.
func (d *deriver) owedAt(i int, who SkaterRef) (served, owed time.Duration) {
	for _, v := range d.bout.Visits {
		if v.Skater != who || v.InJam > i || v.OutJam >= 0 && v.OutJam < i {
			continue
		}
		owed = v.Owed
		served = 0
		for n := v.InJam; n < i; n++ {
			from := time.Duration(0)
			if n == v.InJam {
				from = max(v.In, 0)
			}
			served += max(d.bout.Jams[n].Duration-from, 0)
		}
	}
	if owed == 0 {
		owed = d.rules.PenaltyTime
	}
	return min(served, owed), owed
}

// eventStatus takes star pass, lead and call from the events where no tag says
// otherwise, and reports where a tag does.
func (d *deriver) eventStatus(i int, s Side, side *JamSide, c SideCount) {
	j, t := &d.bout.Jams[i], &d.sides[i][s.Index()]
	differ := func(what string, tagged, counted bool, tags []placed, why Reason) {
		if tagged == counted {
			return
		}
		say := map[bool]string{true: "yes", false: "no"}
		d.problem(Problem{
			Kind: ProblemLevels, Jam: j.ID, Side: s, Tags: append(idsOf(tags), why.Tags...), Section: why.Section,
			Text: fmt.Sprintf("%s of %s in jam %s: tagged %s, by the events %s (%s); the tag stands", what, s, j.Name(), say[tagged], say[counted], why.Text),
		})
	}
	leads := append(slices.Clone(d.sides[i][0].lead), d.sides[i][1].lead...)
	if len(leads) > 0 {
		if !side.LeadUnknown {
			differ("lead", side.Lead, c.Lead, t.lead, c.LeadWhy)
		}
	} else if c.Lead {
		side.Lead, side.LeadAt, side.LeadTimed = true, c.LeadAt, true
		side.Why = append(side.Why, c.LeadWhy)
	}
	if !side.Lost && c.Lost && side.Lead {
		side.Lost, side.LostAt, side.LostTimed = true, c.LostAt, true
		side.Why = append(side.Why, c.LostWhy)
	}
	if len(t.call) > 0 {
		differ("call-off", side.Called, c.Called, t.call, c.CallWhy)
	} else if c.Called {
		side.Called, side.CalledAt, side.CalledTimed = true, c.CallAt, true
		side.Why = append(side.Why, c.CallWhy)
	}
	if len(t.star) > 0 {
		differ("star pass", side.StarPass, c.NewJammer != "", t.star, Reason{Section: "2.2.4"})
	}
	if !side.StarPass && c.NewJammer != "" && len(t.star) == 0 {
		side.StarPass, side.NewJammer = true, c.NewJammer
		side.StarPassAt, side.StarPassTimed = c.StarPassAt, true
		for _, p := range c.StarPasses {
			if p.Complete {
				side.Why = append(side.Why, p.Why)
			}
		}
	}
}

// eventTrips replaces the tagged trips by those the events make.
func (d *deriver) eventTrips(j *Jam, s Side, side *JamSide, c SideCount, tagged bool) {
	before, was := side.Points, side.Trips
	side.Trips, side.PassLevel = nil, true
	for _, ct := range c.Trips {
		tr := Trip{
			Number: ct.Number, Jammer: ct.Jammer, Start: ct.Start, End: max(ct.Start, ct.End), Timed: true,
			Open: ct.Open, NewStar: ct.NewStar && side.StarPass, Points: Exactly(len(ct.Points)),
		}
		for _, p := range ct.Points {
			tr.Why = append(tr.Why, p.Why)
			tr.PointAt = append(tr.PointAt, p.At)
		}
		for _, w := range was {
			if w.Number == tr.Number {
				tr.Tags = append(tr.Tags, w.Tags...)
			}
		}
		side.Trips = append(side.Trips, tr)
	}
	for _, lap := range c.Laps {
		// The jammer lap of 2013 belongs to no trip; it is written with the one it fell in.
		n := slices.IndexFunc(side.Trips, func(t Trip) bool { return lap.At <= t.End })
		if n < 0 {
			n = len(side.Trips) - 1
		}
		if n < 0 {
			side.Trips, n = append(side.Trips, Trip{Number: 1, Jammer: c.Jammer, Open: true}), 0
		}
		side.Trips[n].Points = side.Trips[n].Points.Add(Exactly(1))
		side.Trips[n].Why = append(side.Trips[n].Why, lap.Why)
		side.Trips[n].PointAt = append(side.Trips[n].PointAt, lap.At)
	}
	side.Points = Range{}
	for _, tr := range side.Trips {
		side.Points = side.Points.Add(tr.Points)
	}
	side.NoInitialUnknown = false
	side.NoInitial = c.NoInitial[0]
	side.NI = [2]Cell[bool]{Known(c.NoInitial[0]), Known(c.NoInitial[1])}
	if side.StarPass {
		side.NoInitial = c.NoInitial[1]
	}
	if !tagged || before.Contains(side.Points.Low) && tripsAgree(was, side.Trips) {
		return
	}
	var ids []ID
	for _, w := range was {
		ids = append(ids, w.Tags...)
	}
	d.problem(Problem{
		Kind: ProblemLevels, Jam: j.ID, Side: s, Tags: ids, Section: "3.1",
		Text: fmt.Sprintf("the trips of %s in jam %s are tagged with %s points (%s), the events make %s (%s); the events stand", s, j.Name(), before, tripList(was), side.Points, tripList(side.Trips)),
	})
}

// tripsAgree reports whether each tagged trip allows what the events make of it.
func tripsAgree(tagged, events []Trip) bool {
	for _, t := range tagged {
		got := Range{}
		for _, e := range events {
			if e.Number == t.Number {
				got = e.Points
			}
		}
		if !t.Points.Contains(got.Low) {
			return false
		}
	}
	return true
}

func tripList(trips []Trip) string {
	text := ""
	for _, t := range trips {
		if text != "" {
			text += ", "
		}
		text += fmt.Sprintf("trip %d: %s", t.Number, t.Points)
	}
	return text
}

func idsOf(tags []placed) (out []ID) {
	for _, t := range tags {
		out = append(out, t.ID)
	}
	return out
}
