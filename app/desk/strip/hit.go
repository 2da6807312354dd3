package strip

import (
	"cmp"
	"math"
	"slices"
	"time"
)

// Hit is what lies at a place of the strip.
type Hit struct {
	Lane Lane
	// At is the strip time there: in the overview by the overview's own scale.
	At time.Duration
	// Items are what is there, the most urgent first; nil in the overview and on
	// empty ground.
	Items []Item
	// Edge is the edge of Items[0] that a drag would take; NoEdge: none.
	Edge Edge
}

// Reach of the pointer at scale 1.
const (
	edgeReach  = 4  // to the edge of a bar
	pointReach = 7  // to the middle of a sign
	edgeRoom   = 14 // a bar narrower than this has no edges to take
)

// HitAt finds what lies at a pixel.
func HitAt(l Layout, a *Axis, m *Model, x, y float64) Hit {
	h := Hit{Lane: l.LaneAt(int(y))}
	if h.Lane == LaneOverview {
		h.At = l.OverviewAt(a, x)
		return h
	}
	h.At = a.At(x)
	if m == nil || a.Empty() || x < float64(l.Zoomed.Min.X) {
		return h
	}
	switch h.Lane {
	case LaneRuler:
	case LaneHomePoints, LaneAwayPoints, LaneHeard:
		h.points(l, a, m, x)
	default:
		h.bars(l, a, m, x)
	}
	return h
}

func (h *Hit) points(l Layout, a *Axis, m *Model, x float64) {
	reach := pointReach * l.Scale
	near := func(i Item) float64 {
		return max(a.X(i.From)-x, x-a.X(i.To), 0)
	}
	for _, i := range m.runs[h.Lane].in(a.At(x-reach), a.At(x+reach)) {
		if near(i) <= reach {
			h.Items = append(h.Items, i)
		}
	}
	slices.SortStableFunc(h.Items, func(i, j Item) int {
		if i.Kind != j.Kind {
			return cmp.Compare(j.Kind, i.Kind)
		}
		return cmp.Or(cmp.Compare(j.State, i.State), cmp.Compare(near(i), near(j)))
	})
	if len(h.Items) > 0 && h.Items[0].Drag.Has(Moment) {
		h.Edge = Moment
	}
}

// bars takes the bars under the pointer; the first is the one whose edge is
// nearest, so that of two bars that touch the one under the pointer is taken.
func (h *Hit) bars(l Layout, a *Axis, m *Model, x float64) {
	reach := edgeReach * l.Scale
	type found struct {
		item   Item
		inside bool
		edge   Edge
		far    float64
	}
	var all []found
	for _, i := range m.runs[h.Lane].in(a.At(x-reach), a.At(x+reach)) {
		from, to := a.X(i.From), a.X(i.To)
		if x < from-reach || x > to+reach {
			continue
		}
		f := found{item: i, inside: x >= from && x <= max(to, from+1), far: math.Inf(1)}
		if to-from >= edgeRoom*l.Scale {
			for _, e := range [2]Edge{Begin, End} {
				at := from
				if e == End {
					at = to
				}
				if d := math.Abs(x - at); d <= reach && d < f.far && i.Drag.Has(e) {
					f.edge, f.far = e, d
				}
			}
		}
		if f.inside || f.edge != NoEdge || to-from < edgeRoom*l.Scale {
			all = append(all, f)
		}
	}
	slices.SortStableFunc(all, func(a, b found) int {
		if a.inside != b.inside {
			if a.inside {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.far, b.far)
	})
	for _, f := range all {
		h.Items = append(h.Items, f.item)
	}
	if len(all) > 0 {
		h.Edge = all[0].edge
	}
}
