package simulate

import (
	"math"

	"whistlecut/timeline"
)

// contest is a jammer held by one blocker until a moment.
type contest struct{ till float64 }

// moveJammer has a jammer skate on, or work at the blockers ahead of her.
func (m *jam) moveJammer(j *skater) {
	if m.star.from == j {
		m.moveWithStar(j)
		return
	}
	b, gap := m.nextFoe(j)
	if b == nil || gap > 16 {
		// Free skating, careful in traffic.
		speed, lane := 17.5*j.speed, Width(j.s)*0.42
		if traffic := m.traffic(j); traffic {
			speed, lane = 9.5*j.speed, m.gapLane(j)
		}
		j.drive(dt, speed, clamp(lane, 1.2, Width(j.s)-1.2), 15)
		return
	}
	if gap > 3.2 || m.beaten[j.team][b] {
		// Coming up to the next blocker.
		speed := clamp(4+1.1*gap, 4, 16) * j.speed
		j.drive(dt, speed, clamp(m.gapLane(j), 1.2, Width(j.s)-1.2), 15)
		return
	}
	c := m.contests[j.team][b]
	if c == nil {
		c = &contest{till: m.t + m.holdTime(j, b)}
		m.contests[j.team][b] = c
	}
	sway := 1.3 * math.Sin(2.1*m.t+float64(j.team))
	j.drive(dt, b.v+3*(gap-1.9), clamp(b.d+sway, 1, Width(j.s)-1), 16)
	if m.t >= c.till {
		delete(m.contests[j.team], b)
		m.resolve(j, b)
	}
}

// nextFoe is the nearest opposing blocker ahead whom the jammer still has to get
// past, and how far ahead (ft).
func (m *jam) nextFoe(j *skater) (*skater, float64) {
	var best *skater
	gap := math.Inf(1)
	for _, b := range m.teams[1-j.team] {
		if b.role == timeline.Jammer || b.mode != playing || !b.up || !b.in || b.outTill > 0 || m.beaten[j.team][b] {
			continue
		}
		if g := Gap(j.s, b.s); g > -hips && g < gap && g < 40 {
			best, gap = b, g
		}
	}
	return best, gap
}

// traffic reports whether somebody stands close ahead.
func (m *jam) traffic(j *skater) bool {
	for _, k := range m.on {
		if k != j && k.mode == playing {
			if g := Gap(j.s, k.s); g > -1 && g < 5 && math.Abs(k.d-j.d) < 6 {
				return true
			}
		}
	}
	return false
}

// gapLane is the lane near a jammer with most room ahead.
func (m *jam) gapLane(j *skater) float64 {
	best, room := j.d, -1.0
	for i := -3; i <= 3; i++ {
		lane := clamp(j.d+1.4*float64(i), 1.2, Width(j.s)-1.2)
		free := 4.0
		for _, k := range m.on {
			if k == j || k.mode != playing {
				continue
			}
			if g := Gap(j.s, k.s); g > -1.5 && g < 6 {
				free = min(free, math.Abs(k.d-lane))
			}
		}
		free -= 0.15 * math.Abs(lane-j.d)
		if free > room {
			best, room = lane, free
		}
	}
	return best
}

// holdTime is how long a blocker and those by her side hold a jammer.
func (m *jam) holdTime(j, b *skater) float64 {
	r := m.h.rng
	if !m.pack.ok || r.Float64() < 0.12 {
		return 0
	}
	wall := 0
	for _, k := range m.teams[b.team] {
		if k.role != timeline.Jammer && k.mode == playing && k.up && k.in && math.Abs(Gap(b.s, k.s)) < 5 && !m.beaten[j.team][k] {
			wall++
		}
	}
	mean := (0.8 + 2.7*float64(wall)) * b.skill / j.skill
	if len(m.tallyTrips(j)) > 1 {
		mean *= 1.15 // the wall is set when she comes round
	}
	return 0.3 + mean*min(r.ExpFloat64(), 3.5)
}

func (m *jam) tallyTrips(j *skater) []Trip {
	if y := m.tallyOf(j); y != nil {
		return y.trips
	}
	return nil
}

// resolve is how a contest ends: the jammer gets past (perhaps past more than
// one), is knocked out of bounds, or somebody falls.
func (m *jam) resolve(j, b *skater) {
	r := m.h.rng
	p := r.Float64()
	out, fall := 0.15*rate(m.h.opt.Rates.OutOfBounds), 0.05*rate(m.h.opt.Rates.Falls)
	switch {
	case m.pack.ok && p < out:
		m.knockOut(j, b)
	case p < out+fall:
		m.fall(j, timeline.ByOpponent)
	default:
		if p > 1-fall {
			m.fall(b, timeline.ByOpponent)
		}
		m.beaten[j.team][b] = true
		for _, k := range m.teams[b.team] {
			if k.role != timeline.Jammer && math.Abs(Gap(b.s, k.s)) < 4.5 && r.Float64() < 0.45 {
				m.beaten[j.team][k] = true
			}
		}
	}
}

// newApproach forgets whom a jammer had got the better of: she comes from behind.
func (m *jam) newApproach(j *skater) {
	clear(m.beaten[j.team])
	clear(m.contests[j.team])
}
