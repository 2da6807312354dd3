package simulate

import (
	"math"

	"whistlecut/timeline"
)

// official is one of the crew on the floor.
type official struct {
	role OfficialRole
	s, d float64
	v, w float64
	face float64
}

func jammerReferee(team int) OfficialRole {
	if team == 0 {
		return HomeJammerReferee
	}
	return AwayJammerReferee
}

func (h *hall) enterOfficials() {
	for i, role := range Crew {
		o := &official{role: role, s: 3 * float64(i), d: -5}
		g := o.goal(h)
		o.s, o.d = g.S, g.D
		h.officials = append(h.officials, o)
	}
}

// goal is where an official wants to be: jammer referees abreast of their
// jammers in the infield, pack referees by the pack (common practice).
func (o *official) goal(h *hall) Spot {
	rear, front, middle := 8.0, 28.0, 18.0
	jammers := [2]float64{-2, 0}
	if m := h.jam; m != nil {
		rear, front = m.pack.zone.Rear.S-2, m.pack.zone.Front.S+2
		middle = rear + Gap(rear, front)/2
		for t, y := range m.tallies {
			jammers[t] = middle
			if !y.jammer.serving() && y.jammer.mode != returning {
				jammers[t] = y.jammer.s
			}
		}
	}
	outside := func(s float64) Spot { return Spot{s, Width(s) + 3.5} }
	switch o.role {
	case HomeJammerReferee:
		return Spot{jammers[0], -3.2}
	case AwayJammerReferee:
		return Spot{jammers[1], -4.8}
	case FrontPackReferee:
		return Spot{front, -2.4}
	case RearPackReferee:
		return Spot{rear, -2.4}
	case OutsideReferee1:
		return outside(front + 6)
	case OutsideReferee2:
		return outside(middle)
	case OutsideReferee3:
		return outside(rear - 8)
	case HomeBoxTimer:
		return Spot{boxS - 6, boxD - 6}
	case AwayBoxTimer:
		return Spot{boxS + 6, boxD - 6}
	}
	return Spot{2, -7.5} // the jam timer, by the jammer line
}

// move skates an official after her goal.
func (o *official) move(h *hall, step float64) {
	g := o.goal(h)
	gap := Gap(o.s, g.S) * Stretch(o.s, o.d)
	if math.Abs(gap) < 0.4 && math.Abs(o.v) < 0.5 && math.Abs(g.D-o.d) < 0.3 {
		o.v, o.w = 0, 0
		return
	}
	o.v = approach(o.v, clamp(2*gap, -9, 18), 14*step)
	o.w = approach(o.w, clamp(2*(g.D-o.d), -4, 4), 10*step)
	o.s = skate(o.s, o.d, o.v*step)
	o.d += o.w * step
	want := 0.0
	if o.v < -1 {
		want = math.Pi
	}
	o.face = approach(o.face, want, 4*step)
}

// callerFor is the official who calls a penalty on a skater: her jammer referee,
// or the pack referee nearest.
func (h *hall) callerFor(k *skater) OfficialRole {
	if k.role == timeline.Jammer && h.rng.Float64() < 0.7 {
		return jammerReferee(k.team)
	}
	best, gap := OutsideReferee2, math.Inf(1)
	for _, o := range h.officials {
		switch o.role {
		case FrontPackReferee, RearPackReferee, OutsideReferee1, OutsideReferee2, OutsideReferee3:
			if g := math.Abs(Gap(o.s, k.s)) + 2*h.rng.Float64(); g < gap {
				best, gap = o.role, g
			}
		}
	}
	return best
}

func (h *hall) officialBy(role OfficialRole) *official {
	for _, o := range h.officials {
		if o.role == role {
			return o
		}
	}
	return h.officials[0]
}
