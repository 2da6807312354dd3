package timeline

import "fmt"

// The Why lookups answer where a point or a status comes from, each reason with
// the rule section it rests on. They answer nothing (nil) for a jam, side or
// skater that is not there.

// WhyScore answers for a side's score: one reason per jam that scored or is open.
func (b Bout) WhyScore(side Side) []Reason {
	if !side.known() {
		return nil
	}
	var out []Reason
	for i := range b.Jams {
		j := &b.Jams[i]
		s := j.Sides[side.Index()]
		switch {
		case !s.Logged:
			out = append(out, Reason{Text: fmt.Sprintf("jam %s: not logged, so it counts nothing", j.Name()), Tags: []ID{j.ID}})
		case s.Points != (Range{}):
			r := Reason{Text: fmt.Sprintf("jam %s: %s", j.Name(), s.Points), Section: "3.1"}
			for _, t := range s.Trips {
				r.Tags = append(r.Tags, t.Tags...)
			}
			out = append(out, r)
		}
	}
	return out
}

// WhyPoints answers for one side's points in one jam: every trip's reasons, in
// order, and at pass level every point's.
func (b Bout) WhyPoints(jam ID, side Side) []Reason {
	s := b.side(jam, side)
	if s == nil {
		return nil
	}
	if !s.Logged {
		return []Reason{{Text: "nobody logged this side's trips in this jam"}}
	}
	var out []Reason
	for _, t := range s.Trips {
		for _, w := range t.Why {
			w.Text = fmt.Sprintf("trip %d: %s", t.Number, w.Text)
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		out = append(out, Reason{Text: "no trip beyond the initial one is tagged; the initial trip scores nothing", Section: "3.2"})
	}
	return out
}

// WhyTrip answers for one trip.
func (b Bout) WhyTrip(jam ID, side Side, number int) []Reason {
	if s := b.side(jam, side); s != nil {
		for _, t := range s.Trips {
			if t.Number == number {
				return t.Why
			}
		}
	}
	return nil
}

// WhyStatus answers for lead, lost, call-off, star pass and no initial of one
// side in one jam.
func (b Bout) WhyStatus(jam ID, side Side) []Reason {
	s := b.side(jam, side)
	if s == nil {
		return nil
	}
	out := s.Why
	if len(out) == 0 && s.Logged {
		out = []Reason{{Text: "no lead, call-off or star pass of this side is tagged in this jam", Section: "2.2.2"}}
	}
	return out
}

// WhyFoulOut answers for a skater's penalties: fouled out, expelled, or how far from it.
func (b Bout) WhyFoulOut(who SkaterRef) []Reason {
	for _, f := range b.Fouls {
		if f.Skater != who {
			continue
		}
		if len(f.Why) > 0 {
			return f.Why
		}
		return []Reason{{Text: fmt.Sprintf("%d penalties; %d foul a skater out", len(f.Penalties), b.Rules.FoulOut), Section: "4.5", Tags: f.Penalties}}
	}
	return nil
}

// WhyBox answers for one box visit, by its tag.
func (b Bout) WhyBox(tag ID) []Reason {
	for _, v := range b.Visits {
		if v.Tag == tag {
			return v.Why
		}
	}
	return nil
}

// WhyClock answers for the period clock at a jam's start, and WhyEnded for what
// ended it.
func (b Bout) WhyClock(jam ID) Reason {
	j, _ := b.Jam(jam)
	return j.ClockWhy
}

// WhyEnded answers for what ended a jam.
func (b Bout) WhyEnded(jam ID) Reason {
	j, _ := b.Jam(jam)
	return j.EndedWhy
}

// WhySituation answers for the situations of one kind in one jam.
func (b Bout) WhySituation(jam ID, kind SituationKind) []Reason {
	j, _ := b.Jam(jam)
	var out []Reason
	for _, s := range j.Situations {
		if s.Kind == kind {
			out = append(out, s.Why...)
		}
	}
	return out
}

func (b Bout) side(jam ID, side Side) *JamSide {
	if !side.known() {
		return nil
	}
	for i := range b.Jams {
		if b.Jams[i].ID == jam {
			return &b.Jams[i].Sides[side.Index()]
		}
	}
	return nil
}
