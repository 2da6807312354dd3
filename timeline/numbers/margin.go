package numbers

import (
	"slices"
	"time"

	"whistlecut/timeline"
)

// Step is the score after something changed it, along the bout.
type Step struct {
	Jam    timeline.ID `json:"jam_id"`
	Index  int         `json:"index"` // of the jam in the bout, from 0
	Period int         `json:"period"`
	Number int         `json:"number"`
	// At is jam time when Timed; an untimed step stands for the jam's end.
	At    time.Duration     `json:"at"`
	Timed bool              `json:"timed"`
	Side  timeline.Side     `json:"side,omitempty"` // who scored; NoSide: both, or a jam without points
	Score [2]timeline.Range `json:"score"`
	// Margin is home minus away.
	Margin timeline.Range `json:"margin"`
	// Known is false once a jam nobody logged lies before: scores are then of the
	// logged jams alone.
	Known bool `json:"known"`
}

// gain is points of one side at one moment of a jam.
type gain struct {
	at    time.Duration
	timed bool
	side  timeline.Side
	by    timeline.Range
}

// together reports whether two gains are of one moment; untimed ones of one jam are.
func (g gain) together(o gain) bool { return g.timed == o.timed && (g.at == o.at || !g.timed) }

// gains lists what a jam scored in order; ordered is false when both sides may
// have scored and some trip has no time, so that nobody knows who came first.
func gains(j *timeline.Jam) (list []gain, ordered bool) {
	untimed := false
	scored := [2]bool{}
	for _, s := range timeline.Sides {
		x := &j.Sides[s.Index()]
		for _, t := range x.Trips {
			if t.Points == (timeline.Range{}) {
				continue
			}
			scored[s.Index()] = true
			if len(t.PointAt) > 0 {
				for _, at := range t.PointAt {
					list = append(list, gain{at, true, s, timeline.Exactly(1)})
				}
				continue
			}
			untimed = untimed || !t.Timed
			list = append(list, gain{t.End, t.Timed, s, t.Points})
		}
	}
	slices.SortStableFunc(list, func(x, y gain) int {
		switch {
		case x.timed != y.timed:
			if x.timed {
				return -1
			}
			return 1
		case x.at < y.at:
			return -1
		case x.at > y.at:
			return 1
		}
		return 0
	})
	return list, !untimed || !(scored[0] && scored[1])
}

// steps is the score along the bout: trip by trip (point by point where passes
// are logged) in jams whose order is known, else once at the jam's end. Every jam
// gives one step at least.
func steps(b *timeline.Bout) []Step {
	out := []Step{}
	var score [2]timeline.Range
	for i := range b.Jams {
		j := &b.Jams[i]
		at := Step{Jam: j.ID, Index: i, Period: j.Period, Number: j.Number, Known: gameKnownBefore(j)}
		put := func() {
			at.Score, at.Margin = score, timeline.Range{Low: score[0].Low - score[1].High, High: score[0].High - score[1].Low}
			out = append(out, at)
		}
		list, ordered := gains(j)
		if !ordered {
			for _, g := range list {
				score[g.side.Index()] = score[g.side.Index()].Add(g.by)
			}
			list = nil
		}
		for n, g := range list {
			score[g.side.Index()] = score[g.side.Index()].Add(g.by)
			if n > 0 && list[n-1].together(g) {
				if at.Side != g.side {
					at.Side = timeline.NoSide
				}
			} else {
				at.At, at.Timed, at.Side = g.at, g.timed, g.side
			}
			if n+1 < len(list) && g.together(list[n+1]) {
				continue // points of one moment are one step
			}
			put()
		}
		if len(list) == 0 {
			at.At, at.Timed, at.Side = j.Duration, false, timeline.NoSide
			put()
		}
	}
	return out
}

// JamPoints are both sides' points of one jam.
type JamPoints struct {
	Jam      timeline.ID       `json:"jam_id"`
	Period   int               `json:"period"`
	Number   int               `json:"number"`
	Overtime bool              `json:"overtime,omitempty"`
	Duration time.Duration     `json:"duration,omitempty"`
	Points   [2]timeline.Range `json:"points"`
	Logged   [2]bool           `json:"logged"`
	Lead     timeline.Side     `json:"lead,omitempty"`
	Score    [2]timeline.Range `json:"score"` // after the jam
}

func perJam(b *timeline.Bout) []JamPoints {
	out := make([]JamPoints, 0, len(b.Jams))
	for i := range b.Jams {
		j := &b.Jams[i]
		p := JamPoints{Jam: j.ID, Period: j.Period, Number: j.Number, Overtime: j.Overtime, Duration: j.Duration}
		for _, s := range timeline.Sides {
			n := s.Index()
			x := &j.Sides[n]
			p.Points[n], p.Logged[n] = x.Points, x.Logged
			p.Score[n] = x.GameBefore.Add(x.Points)
			if x.Lead {
				p.Lead = s
			}
		}
		out = append(out, p)
	}
	return out
}

// LeadChange is a change of who leads the score; a tie between the same leader is
// none (timeline.SitLeadChange).
type LeadChange struct {
	Jam    timeline.ID   `json:"jam_id"`
	Period int           `json:"period"`
	Number int           `json:"number"`
	At     time.Duration `json:"at"`
	Timed  bool          `json:"timed"`
	To     timeline.Side `json:"to"` // who leads from then on
	Text   string        `json:"text"`
}

func leadChanges(b *timeline.Bout) []LeadChange {
	out := []LeadChange{}
	for i := range b.Jams {
		j := &b.Jams[i]
		for _, s := range j.Situations {
			if s.Kind != timeline.SitLeadChange {
				continue
			}
			c := LeadChange{Jam: j.ID, Period: j.Period, Number: j.Number, At: s.Range.Start, Timed: !s.Whole, To: s.Side}
			if len(s.Why) > 0 {
				c.Text = s.Why[0].Text
			}
			out = append(out, c)
		}
	}
	return out
}
