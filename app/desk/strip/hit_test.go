package strip

import (
	"testing"
	"time"

	"whistlecut/timeline"
)

// hall is a small model in 1000 pixels for 100 s: a jam from 20 to 60 with two
// home trips that touch at 40, a visit, and points.
func hall() (Layout, *Axis, *Model) {
	a := NewAxis([]Piece{{Footage: "a", Film: timeline.TimeRange{End: sec(100)}}})
	l := NewLayout(1020, NormalHeight, 1, 0)
	a.SetView(float64(l.Zoomed.Min.X), 1000, 1)
	return l, a, newModel([]Item{
		{ID: "jam", Kind: KindJam, From: sec(20), To: sec(60), Drag: edges(Begin, End)},
		{ID: "trip1", Kind: KindTrip, Side: timeline.Home, From: sec(20), To: sec(40), Drag: edges(Begin, End)},
		{ID: "trip2", Kind: KindTrip, Side: timeline.Home, From: sec(40), To: sec(60), Drag: edges(Begin)},
		{ID: "short", Kind: KindTrip, Side: timeline.Home, From: sec(70), To: sec(70.5), Drag: edges(Begin, End)},
		{ID: "visit", Kind: KindBox, Side: timeline.Away, From: sec(30), To: sec(50), Drag: edges(Begin, End)},
		{ID: "lead", Kind: KindLead, Side: timeline.Home, From: sec(40), To: sec(40), Drag: edges(Moment)},
		{ID: "pen", Kind: KindPenalty, Side: timeline.Home, From: sec(40.2), To: sec(40.2), Drag: edges(Moment)},
		{ID: "find", Kind: KindFinding, Side: timeline.Home, From: sec(40.4), To: sec(40.4), State: Differs},
		{ID: "call", Kind: KindCall, Side: timeline.Away, From: sec(59), To: sec(59), Drag: edges(Moment)},
		{Kind: KindSeries, From: sec(20), To: sec(20.3)},
	}, nil)
}

func middle(l Layout, lane Lane) float64 {
	return float64(l.Lanes[lane].Min.Y+l.Lanes[lane].Max.Y) / 2
}

func TestHit(t *testing.T) {
	for _, c := range []struct {
		name  string
		lane  Lane
		at    float64 // s
		off   float64 // pixels beside it
		first timeline.ID
		n     int
		edge  Edge
	}{
		{"inside a jam", LaneJams, 40, 0, "jam", 1, NoEdge},
		{"a jam's start, from inside", LaneJams, 20, 2, "jam", 1, Begin},
		{"a jam's start, from outside", LaneJams, 20, -3, "jam", 1, Begin},
		{"a jam's end", LaneJams, 60, -2, "jam", 1, End},
		{"too far from the jam", LaneJams, 20, -6, "", 0, NoEdge},
		{"where trips touch, on the left", LaneHomeTrips, 40, -2, "trip1", 2, End},
		{"where trips touch, on the right", LaneHomeTrips, 40, 2, "trip2", 2, Begin},
		{"an end that cannot be dragged", LaneHomeTrips, 60, -2, "trip2", 1, NoEdge},
		{"a bar too narrow for edges", LaneHomeTrips, 70, 1, "short", 1, NoEdge},
		{"the other side's lane", LaneAwayTrips, 40, 0, "", 0, NoEdge},
		{"a visit's end", LaneAwayBox, 50, 1, "visit", 1, End},
		{"points: the finding first", LaneHomePoints, 40.2, 0, "find", 3, NoEdge},
		{"a point alone", LaneAwayPoints, 59, 5, "call", 1, Moment},
		{"beside a point", LaneAwayPoints, 59, 9, "", 0, NoEdge},
		{"whistles have no ID", LaneHeard, 20, 1, "", 1, NoEdge},
		{"the ruler is empty", LaneRuler, 20, 0, "", 0, NoEdge},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, a, m := hall()
			h := HitAt(l, a, m, a.X(sec(c.at))+c.off, middle(l, c.lane))
			first := timeline.ID("")
			if len(h.Items) > 0 {
				first = h.Items[0].ID
			}
			if h.Lane != c.lane || first != c.first || len(h.Items) != c.n || h.Edge != c.edge {
				t.Errorf("lane %d, %d items, first %q, edge %d; want lane %d, %d, %q, %d", h.Lane, len(h.Items), first, h.Edge, c.lane, c.n, c.first, c.edge)
			}
		})
	}
}

func TestHitInTheOverview(t *testing.T) {
	l, a, m := hall()
	a.Show(sec(50), sec(60)) // the overview does not care
	r := l.Lanes[LaneOverview]
	h := HitAt(l, a, m, float64(r.Min.X)+float64(r.Dx())/4, middle(l, LaneOverview))
	if h.Lane != LaneOverview || (h.At-sec(25)).Abs() > time.Millisecond || len(h.Items) != 0 {
		t.Errorf("%+v, want 25 s in the overview", h)
	}
}

func TestEveryHeightHasALane(t *testing.T) {
	for _, high := range []int{60, 110, 158, 240, 316} {
		l := NewLayout(800, high, 1, 30)
		for n := 1; n < int(laneCount); n++ {
			if l.Lanes[n].Min.Y < l.Lanes[n-1].Max.Y || l.Lanes[n].Empty() {
				t.Errorf("height %d: lane %d is %v after %v", high, n, l.Lanes[n], l.Lanes[n-1])
			}
		}
		if last := l.Lanes[laneCount-1].Max.Y; last > high {
			t.Errorf("height %d: the last lane ends at %d", high, last)
		}
		for n, r := range l.Lanes {
			if got := l.LaneAt((r.Min.Y + r.Max.Y) / 2); got != Lane(n) {
				t.Errorf("height %d: the middle of lane %d is taken for lane %d", high, n, got)
			}
		}
	}
}
