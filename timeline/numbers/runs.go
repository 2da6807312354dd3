package numbers

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// Run is points of one side without a point of the other in between.
type Run struct {
	Side   timeline.Side  `json:"side"`
	Points timeline.Range `json:"points"`
	First  RunEnd         `json:"first"`
	Last   RunEnd         `json:"last"`
	Jams   int            `json:"jams"` // jams from the first point to the last
	// Sure: what ended the run on either side was seen. A jam that nobody logged, or
	// that both sides scored in without times, ends a run as not sure.
	Sure bool `json:"sure"`
}

// RunEnd is where a run starts or ends.
type RunEnd struct {
	Jam    timeline.ID   `json:"jam_id"`
	Period int           `json:"period"`
	Number int           `json:"number"`
	At     time.Duration `json:"at"`
	Timed  bool          `json:"timed"`

	index int
}

// runs lists every run, most points first. A point that may or may not have been
// scored ends the other side's run as not sure; so do points of both sides at one
// moment, which belong to no run because nobody can say who came first.
func runs(b *timeline.Bout) []Run {
	out := []Run{}
	var open *Run
	end := func(sure bool) {
		if open != nil {
			open.Sure = open.Sure && sure
			out = append(out, *open)
			open = nil
		}
	}
	sure := true // what stands before the next point was seen
	for i := range b.Jams {
		j := &b.Jams[i]
		list, ordered := gains(j)
		if !ordered || !j.Sides[0].Logged || !j.Sides[1].Logged {
			end(false)
			sure = false
			continue
		}
		for n, g := range list {
			if n > 0 && g.together(list[n-1]) && g.side != list[n-1].side || n+1 < len(list) && g.together(list[n+1]) && g.side != list[n+1].side {
				end(false) // both at once, as at the jam's end
				sure = false
				continue
			}
			here := RunEnd{Jam: j.ID, Period: j.Period, Number: j.Number, At: g.at, Timed: g.timed, index: i}
			switch {
			case open != nil && open.Side == g.side:
				open.Points, open.Last = open.Points.Add(g.by), here
				open.Jams = i - open.First.index + 1
			case g.by.Low == 0:
				end(false)
				sure = false
			default:
				end(true)
				open = &Run{Side: g.side, Points: g.by, First: here, Last: here, Jams: 1, Sure: sure}
				sure = true
			}
		}
	}
	end(true)
	slices.SortStableFunc(out, func(x, y Run) int {
		return cmp.Or(cmp.Compare(y.Points.Low, x.Points.Low), cmp.Compare(y.Points.High, x.Points.High), cmp.Compare(x.First.index, y.First.index), cmp.Compare(x.First.At, y.First.At))
	})
	return out
}
