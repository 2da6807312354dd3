package numbers

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// Basis says what the points of a stretch of jam time are counted by.
type Basis string

// What points are counted by, from the surest to the least.
const (
	ByJams   Basis = "whole jams" // the stretch takes in all of a jam, or nothing was scored
	ByPasses Basis = "pass times" // each point at the pass that earned it
	ByTrips  Basis = "trip ends"  // a trip's points at the end of the trip
	NotKnown Basis = "not known"  // some trip that scored has no time, or nobody logged the jam
)

func (b Basis) rank() int {
	for i, x := range []Basis{ByJams, ByPasses, ByTrips, NotKnown} {
		if b == x {
			return i
		}
	}
	return 0 // the zero value: nothing counted yet
}

// Points are the points of a stretch and how they are known.
type Points struct {
	// Range bounds the points. With Basis NotKnown it takes in those of every trip
	// that may belong to the stretch, of logged jams alone.
	timeline.Range
	Basis Basis `json:"basis"`
}

// Known reports whether the points could be put inside or outside the stretch.
func (p Points) Known() bool { return p.Basis != NotKnown }

// Plus adds two stretches; the less sure basis stands.
func (p Points) Plus(o Points) Points {
	sum := Points{p.Add(o.Range), p.Basis}
	if o.Basis.rank() > p.Basis.rank() || p.Basis == "" {
		sum.Basis = o.Basis
	}
	return sum
}

// stretch is a part of one jam: jam time from From up to but without To; ToEnd
// takes in everything to the jam's end. Untimed: it lies somewhere in the jam.
type stretch struct {
	jam      int
	from, to time.Duration
	toEnd    bool
	untimed  bool
}

func (s stretch) contains(at time.Duration) bool { return at >= s.from && (s.toEnd || at < s.to) }

// whole reports whether the stretch is all of its jam.
func (s stretch) whole() bool { return !s.untimed && s.from <= 0 && s.toEnd }

// pointsIn counts what one side scored in a stretch.
func pointsIn(b *timeline.Bout, s stretch, side timeline.Side) Points {
	x := &b.Jams[s.jam].Sides[side.Index()]
	switch {
	case !x.Logged:
		return Points{Basis: NotKnown}
	case x.Points == timeline.Range{}:
		return Points{Basis: ByJams}
	case s.whole():
		return Points{x.Points, ByJams}
	case s.untimed:
		return Points{timeline.Range{High: x.Points.High}, NotKnown}
	}
	sum := Points{Basis: ByTrips}
	if x.PassLevel {
		sum.Basis = ByPasses
	}
	for _, t := range x.Trips {
		switch {
		case len(t.PointAt) > 0:
			for _, at := range t.PointAt {
				if s.contains(at) {
					sum.Range = sum.Add(timeline.Exactly(1))
				}
			}
		case t.Points == timeline.Range{}:
		case !t.Timed:
			sum = sum.Plus(Points{timeline.Range{High: t.Points.High}, NotKnown})
		case s.contains(t.End):
			sum.Range = sum.Add(t.Points)
		}
	}
	return sum
}

// pointsInAll adds up several stretches.
func pointsInAll(b *timeline.Bout, list []stretch, side timeline.Side) Points {
	sum := Points{Basis: ByJams}
	for _, s := range list {
		sum = sum.Plus(pointsIn(b, s, side))
	}
	return sum
}

// union joins stretches of the same jam that overlap, so that no point counts
// twice. Stretches are of one skater and few.
func union(list []stretch) []stretch {
	var out []stretch
next:
	for _, s := range list {
		for i := range out {
			o := &out[i]
			if o.jam != s.jam {
				continue
			}
			switch {
			case o.whole() || s.untimed && o.untimed:
				continue next
			case s.whole():
				*o = s
				continue next
			case s.untimed || o.untimed:
				// Either may lie in the other; both together lie somewhere in the jam.
				o.untimed = true
				continue next
			case (o.toEnd || s.from <= o.to) && (s.toEnd || o.from <= s.to):
				o.from = min(o.from, s.from)
				o.toEnd = o.toEnd || s.toEnd
				o.to = max(o.to, s.to)
				continue next
			}
		}
		out = append(out, s)
	}
	if len(out) < len(list) {
		return union(out) // what was joined may now touch another
	}
	return out
}

// outside is what is left of a jam beside some stretches of it, which are as
// union leaves them.
func outside(jam int, list []stretch) []stretch {
	list = slices.Clone(list)
	slices.SortFunc(list, func(x, y stretch) int { return cmp.Compare(x.from, y.from) })
	left := []stretch{}
	at := time.Duration(0)
	for _, s := range list {
		if s.untimed {
			return []stretch{{jam: jam, untimed: true}} // somewhere beside it
		}
		if s.from > at {
			left = append(left, stretch{jam: jam, from: at, to: s.from})
		}
		if s.toEnd {
			return left
		}
		at = max(at, s.to)
	}
	return append(left, stretch{jam: jam, from: at, toEnd: true})
}
