package simulate

import (
	"math"

	"whistlecut/timeline"
)

// formation is where the teams' walls go: a middle of the pack that rolls along,
// and for each team how far ahead of it and in which lane its wall stands.
type formation struct {
	s, v, wantV float64
	next        float64 // jam time of the next change of pace
	walls       [2]wall
}

type wall struct {
	off, wantOff float64
	strayTill    float64
	lane         float64
	roam         [2]float64 // of the blocker who helps her own jammer
	nextRoam     float64
	members      []*skater // in the wall, rear pair first, then the brace
	helper       *skater
}

// Places in a wall: two side by side, the third bracing in front (common practice).
var wallShape = [4]Spot{{-1.3, -1.6}, {-1.3, 1.6}, {1.7, 0}, {1.7, 2.4}}

func (m *jam) startFormation() {
	r := m.h.rng
	f := &m.form
	f.s = 19
	f.next = 1.5 + 2*r.Float64()
	front := r.IntN(2)
	for t := range f.walls {
		f.walls[t].off = -2.5
		if t == front {
			f.walls[t].off = 3.5
		}
		f.walls[t].wantOff = f.walls[t].off
		f.walls[t].lane = 4.5 + 5*r.Float64()
	}
}

// formUp rolls the pack along and sets each blocker's place.
func (m *jam) formUp() {
	r := m.h.rng
	f := &m.form
	if m.t > f.next {
		f.next = m.t + 1.5 + 3*r.Float64()
		f.wantV = clamp(2.4+1.5*r.NormFloat64(), 0, 6)
	}
	f.v = approach(f.v, f.wantV, 1.5*dt)
	f.s += f.v * dt
	for t := range f.walls {
		w := &f.walls[t]
		w.members = w.members[:0]
		w.helper = nil
		for _, k := range m.teams[t] {
			if k.mode == playing && k.role != timeline.Jammer && k.up && k.in && k.recycle < m.t && k.outTill == 0 {
				w.members = append(w.members, k)
			}
		}
		if len(w.members) > 3 {
			w.helper = w.members[0]
			w.members = w.members[1:]
		}
		m.steerWall(t)
	}
}

func (m *jam) steerWall(t int) {
	r := m.h.rng
	f := &m.form
	w := &f.walls[t]
	if w.strayTill == 0 && m.t > 6 && r.Float64() < 0.006*dt*rate(m.h.opt.Rates.Splits)*float64(len(w.members)) {
		// The wall holds its ground, or skates off with its jammer's help: too far
		// from the others for one pack.
		w.strayTill = m.t + 3 + 3*r.Float64()
		w.wantOff = math.Copysign(17+4*r.Float64(), w.off)
	}
	if w.strayTill > 0 && m.t > w.strayTill {
		w.strayTill = 0
		w.wantOff = math.Copysign(3, w.off)
	}
	w.off = approach(w.off, w.wantOff, 4.5*dt)
	lane := Width(f.s) / 2
	if j := m.foe(t); j != nil && j.mode == playing {
		if g := Gap(j.s, f.s+w.off); g > -3 && g < 18 {
			lane = j.d
		}
	}
	w.lane = approach(w.lane, clamp(lane, 2.6, Width(f.s)-2.6), 3.5*dt)
	if m.t > w.nextRoam {
		w.nextRoam = m.t + 2 + 3*r.Float64()
		w.roam = [2]float64{-4 + 8*r.Float64(), 1 + (Width(f.s)-2)*r.Float64()}
	}
}

// foe is the jammer whom a team's blockers face.
func (m *jam) foe(team int) *skater { return m.tallies[1-team].jammer }

func (m *jam) moveBlocker(k *skater) {
	f := &m.form
	w := &f.walls[k.team]
	if k.recycle > m.t {
		k.drive(dt, -6.5, clamp(k.d, 2, Width(k.s)-2), 16)
		return
	}
	if m.star.from != nil && m.star.to == k {
		m.moveToStar(k)
		return
	}
	goal, lane := f.s+w.off, w.lane
	if k == w.helper {
		goal, lane = f.s+f.walls[1-k.team].off+w.roam[0], w.roam[1]
	} else {
		for i, b := range w.members {
			if b == k {
				goal += wallShape[i].S
				lane += wallShape[i].D
			}
		}
	}
	gap := Gap(k.s, goal)
	speed := f.v + 2.2*gap
	if gap > 15 {
		speed = 15
	}
	k.drive(dt, clamp(speed*Stretch(k.s, k.d), -6, 16), clamp(lane, 1, Width(k.s)-1), 11)
}

// keepApart pushes skaters sideways who would stand in each other.
func (m *jam) keepApart() {
	for i, a := range m.on {
		if a.mode != playing {
			continue
		}
		for _, b := range m.on[i+1:] {
			if b.mode != playing {
				continue
			}
			side := b.d - a.d
			if math.Abs(side) > 1.6 || math.Abs(Gap(a.s, b.s)) > 1.8 {
				continue
			}
			push := math.Copysign((1.6-math.Abs(side))*1.8*dt, side)
			if a.up && a.outTill == 0 {
				a.d -= push
			}
			if b.up && b.outTill == 0 {
				b.d += push
			}
		}
	}
}
