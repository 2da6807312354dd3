package simulate

import (
	"math"

	"whistlecut/timeline"
)

// mode is what a skater is about.
type mode uint8

const (
	benched   mode = iota // at, or on the way to, her team's bench
	lining                // on the way to, or at, her starting spot
	playing               // in the jam, in or out of bounds, up or down
	leaving               // sent to the box, on the way, or queued there
	seated                // serving, sitting
	standing              // serving, the last seconds
	returning             // freed, on the way back to the track
	gone                  // out of the jam for good (hurt, fouled out and served)
)

// skater is one roster line on the floor.
type skater struct {
	timeline.SkaterRef
	name string
	team int // Side.Index
	seat int // her place on the bench

	// What she is like: 1 is usual.
	speed, skill, rash float64

	// Fielded in the running or coming jam as role; slot numbers her team's
	// blockers 0..3 (the pivot is 0), index her place in the jam's list.
	fielded bool
	role    timeline.Role
	slot    int
	index   int

	mode mode
	s, d float64 // place; s counts on over the laps
	v, w float64 // ft/s along the track and outwards
	face float64 // direction she faces, from the direction of skating

	up     bool // upright
	in     bool // in bounds
	star   bool // wears the jammer's cover
	stripe bool // wears the pivot's cover
	holds  bool // has a star cover in hand
	lead   bool

	// Timers in jam seconds, 0 when not running.
	downTill float64
	outTill  float64 // earliest return to the track
	outSide  float64 // lane she slides to while out of bounds
	behind   []*skater
	cutting  bool
	recycle  float64 // skates clockwise until then

	penal penalState
	// Season in the game.
	fouls  int
	fouled bool // fouled out
	sitOut int  // jams to miss after an injury
	jams   int  // jams fielded
}

func (k *skater) spot() Spot { return Spot{k.s, k.d} }

// onTrack reports whether she is part of play on the floor: not off to, in, or
// on the way back from the box.
func (k *skater) onTrack() bool { return k.mode == playing }

// packable reports whether she can belong to the pack.
func (k *skater) packable() bool {
	return k.mode == playing && k.role != timeline.Jammer && k.up && k.in
}

func clamp(x, lo, hi float64) float64 { return min(max(x, lo), hi) }

// approach moves x towards want by at most step.
func approach(x, want, step float64) float64 { return x + clamp(want-x, -step, step) }

// drive moves her for dt seconds towards a speed along the track (ft/s) and a
// lane (ft from the inside line), within what legs can do.
func (k *skater) drive(dt, speed, lane, quick float64) {
	k.v = approach(k.v, speed, quick*dt)
	k.w = approach(k.w, clamp(3*(lane-k.d), -7, 7), 22*dt)
	k.advance(dt)
}

func (k *skater) advance(dt float64) {
	k.s = skate(k.s, k.d, k.v*dt)
	k.d += k.w * dt
	want := 0.0
	if math.Abs(k.v)+math.Abs(k.w) > 1.5 {
		want = -math.Atan2(k.w, max(k.v, 0.5)) * 0.7
	}
	k.face = approach(k.face, want, 4*dt)
}

// walk moves her towards a spot at up to speed, away from play; it reports
// whether she is there.
func (k *skater) walk(dt float64, goal Spot, speed float64) bool {
	along := Gap(k.s, goal.S) * Stretch(k.s, max(0, k.d))
	across := goal.D - k.d
	if math.Abs(along) < 0.15 && math.Abs(across) < 0.15 {
		k.s += Gap(k.s, goal.S)
		k.d, k.v, k.w = goal.D, 0, 0
		k.face = approach(k.face, 0, 3*dt)
		return true
	}
	k.v = approach(k.v, clamp(2*along, -speed, speed), 16*dt)
	k.w = approach(k.w, clamp(2*across, -speed*0.7, speed*0.7), 16*dt)
	k.s = skate(k.s, max(0, k.d), k.v*dt)
	k.d += k.w * dt
	if math.Hypot(k.v, k.w) > 1 {
		want := -math.Atan2(k.w, k.v)
		turn := math.Remainder(want-k.face, 2*math.Pi)
		k.face = math.Remainder(k.face+clamp(turn, -5*dt, 5*dt), 2*math.Pi)
	}
	return false
}

// Places beside the track: the box stands outside the middle of the back
// straight, the benches outside the turns on either side of it (common practice,
// no source).
const (
	boxS = turn1End + HalfStraight
	boxD = 26.0
)

func benchSpot(team, seat int) Spot {
	if team == 0 {
		return Spot{turn1End - 1.5 - 0.7*float64(seat), 30}
	}
	return Spot{backEnd + 1.5 + 0.7*float64(seat), 30}
}

// seatSpot is a seat in the box: 0 the jammer's, 1 and 2 the blockers', 3 and up
// where those wait for whom there is no seat.
func seatSpot(team, seat int) Spot {
	s, d := 2.5+3*float64(seat), boxD
	if seat > 2 {
		s, d = 5+2*float64(seat-3), boxD-6
	}
	if team == 0 {
		s = -s
	}
	return Spot{boxS + s, d}
}
