package numbers

import (
	"time"

	"whistlecut/timeline"
)

// PowerJams are the power jams one side had.
type PowerJams struct {
	// N counts stretches; a jam can hold more than one. Jams counts the jams.
	N    int `json:"n"`
	Jams int `json:"jams"`
	// Time is their length together; TimeKnown is false where a jam's length or a
	// stretch's edge was not known.
	Time      time.Duration `json:"time"`
	TimeKnown bool          `json:"time_known"`
	// Scored are the side's points in them, Conceded the other side's.
	Scored   Points     `json:"scored"`
	Conceded Points     `json:"conceded"`
	List     []PowerJam `json:"list"`
}

// PowerJam is one stretch.
type PowerJam struct {
	Jam    timeline.ID        `json:"jam_id"`
	Period int                `json:"period"`
	Number int                `json:"number"`
	Range  timeline.TimeRange `json:"range"` // jam time
	// Boxed is the other side's jammer.
	Boxed    timeline.SkaterRef     `json:"boxed"`
	Scored   Points                 `json:"scored"`
	Conceded Points                 `json:"conceded"`
	Film     []timeline.FilmStretch `json:"film,omitempty"`
}

func powerJams(b *timeline.Bout, side timeline.Side) PowerJams {
	p := PowerJams{TimeKnown: true, Scored: Points{Basis: ByJams}, Conceded: Points{Basis: ByJams}, List: []PowerJam{}}
	for i := range b.Jams {
		j := &b.Jams[i]
		n := p.N
		for _, s := range j.Situations {
			if s.Kind != timeline.SitPowerJam || s.Side != side {
				continue
			}
			x := stretch{jam: i, from: s.Range.Start, to: s.Range.End, toEnd: j.Duration > 0 && s.Range.End >= j.Duration}
			one := PowerJam{
				Jam: j.ID, Period: j.Period, Number: j.Number, Range: s.Range, Boxed: s.Skater(),
				Scored: pointsIn(b, x, side), Conceded: pointsIn(b, x, side.Other()),
			}
			one.Film, _ = b.Alignment.FilmRange(j.ID, s.Range)
			p.List = append(p.List, one)
			p.N++
			p.Time += s.Range.Duration()
			p.TimeKnown = p.TimeKnown && j.Duration > 0
			p.Scored, p.Conceded = p.Scored.Plus(one.Scored), p.Conceded.Plus(one.Conceded)
		}
		if p.N > n {
			p.Jams++
		}
	}
	return p
}

// StarPasses are one side's star passes.
type StarPasses struct {
	Completed int `json:"completed"`
	Failed    int `json:"failed"` // attempts tagged as not completed
	// Points are those of trips completed by the new jammer, whose first may have
	// begun before the pass: the pivot goes on with the trip (2.2.4).
	Points timeline.Range `json:"points"`
	// Jams counts once every jam with a completed star pass, with both sides' points.
	Jams Stint `json:"jams"`
}

func starPasses(src Source, side timeline.Side) StarPasses {
	var p StarPasses
	for i := range src.Bout.Jams {
		j := &src.Bout.Jams[i]
		s := &j.Sides[side.Index()]
		if s.StarPass {
			p.Completed++
			p.Jams.add(j, side)
		}
		for _, t := range s.Trips {
			if t.NewStar {
				p.Points = p.Points.Add(t.Points)
			}
		}
		for _, id := range j.Tags {
			t := src.Facts.Tags[id]
			if t.Kind == timeline.KindStarPass && t.Side == side && t.StarPass != nil && !t.StarPass.Complete {
				p.Failed++
			}
		}
	}
	p.Jams.settle()
	return p
}
