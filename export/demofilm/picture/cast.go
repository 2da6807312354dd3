package picture

import (
	"math"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// Actor is one person ready to be drawn.
type Actor struct {
	X, Y    float64
	Heading float64 // radians from +x
	Speed   float64 // ft/s
	Stride  float64 // phase of the legs, radians
	Fall    float64 // 0 upright .. 1 on the floor
	Sit     float64 // 0 upright .. 1 on a seat
	Crouch  float64 // 0 standing tall .. 1 in skating stance

	Side   timeline.Side // NoSide: an official
	Number timeline.Number
	Star   bool
	Stripe bool
	Holds  bool // a star in hand
	Blows  bool // the whistle
	Arm    bool // an arm pointed at the lead jammer
}

// Cast follows the people of a bout from frame to frame: it gives them strides
// and lets them fall, rise, sit and turn without a jump. It is used by one
// goroutine, frame after frame.
type Cast struct {
	last   time.Duration
	begun  bool
	people map[person]*motion
	actors []Actor
}

type person struct {
	skater   timeline.SkaterRef
	official simulate.OfficialRole
}

type motion struct {
	at         simulate.Point
	speed      float64
	heading    float64
	stride     float64
	fall, sit  float64
	crouch     float64
	strideSeed float64 // so that people at rest don't stand alike
}

// NewCast starts with nobody.
func NewCast() *Cast { return &Cast{people: make(map[person]*motion)} }

// Update takes the next scene and returns everybody in it. The slice is valid
// until the next call.
func (c *Cast) Update(s simulate.Scene) []Actor {
	dt := (s.At - c.last).Seconds()
	// A first scene, a step back or a long step: nothing to be smooth with.
	jump := !c.begun || dt <= 0 || dt > 0.5
	c.last, c.begun = s.At, true
	c.actors = c.actors[:0]
	for i := range s.Skaters {
		f := &s.Skaters[i]
		m, fresh := c.motion(person{skater: f.SkaterRef})
		heading, stance := f.Heading, f.Stance
		if f.Where == simulate.OnBench {
			stance = simulate.Sitting
		}
		if stance == simulate.Sitting {
			heading = math.Atan2(-f.Pos.Y, -f.Pos.X*0.3) // seats face the track
		}
		m.follow(f.Pos, heading, dt, jump || fresh)
		m.pose(stance, crouchFor(s.Phase, f), dt, jump || fresh)
		c.actors = append(c.actors, Actor{
			X: f.Pos.X, Y: f.Pos.Y, Heading: m.heading, Speed: m.speed,
			Stride: m.stride, Fall: m.fall, Sit: m.sit, Crouch: m.crouch,
			Side: f.Side, Number: f.Number, Star: f.Star, Stripe: f.Stripe, Holds: f.Holds,
		})
	}
	for i := range s.Officials {
		o := &s.Officials[i]
		m, fresh := c.motion(person{official: o.Role})
		m.follow(o.Pos, o.Heading, dt, jump || fresh)
		m.pose(simulate.Upright, 0.1, dt, jump || fresh)
		c.actors = append(c.actors, Actor{
			X: o.Pos.X, Y: o.Pos.Y, Heading: m.heading, Speed: m.speed, Stride: m.stride,
			Crouch: m.crouch, Blows: o.Signal, Arm: s.Running && pointsAtLead(s, o.Role),
		})
	}
	return c.actors
}

func (c *Cast) motion(p person) (m *motion, fresh bool) {
	m, ok := c.people[p]
	if !ok {
		m = &motion{strideSeed: float64(len(c.people)) * 1.7}
		c.people[p] = m
	}
	return m, !ok
}

// pointsAtLead: a jammer referee keeps pointing at her jammer while she is lead.
func pointsAtLead(s simulate.Scene, role simulate.OfficialRole) bool {
	side := timeline.NoSide
	switch role {
	case simulate.HomeJammerReferee:
		side = timeline.Home
	case simulate.AwayJammerReferee:
		side = timeline.Away
	}
	if side == timeline.NoSide {
		return false
	}
	for i := range s.Skaters {
		if s.Skaters[i].Lead && s.Skaters[i].Side == side {
			return true
		}
	}
	return false
}

func crouchFor(phase simulate.Phase, f *simulate.Figure) float64 {
	if phase == simulate.PhaseJam && f.Role != timeline.NoRole && f.Where == simulate.OnTrack {
		return 1
	}
	return min(0.4, f.Speed/20)
}

func (m *motion) follow(to simulate.Point, heading, dt float64, jump bool) {
	if jump {
		m.at, m.heading, m.speed, m.stride = to, heading, 0, m.strideSeed
		return
	}
	moved := math.Hypot(to.X-m.at.X, to.Y-m.at.Y)
	m.at = to
	speed := min(30, moved/dt)
	m.speed += (speed - m.speed) * min(1, dt*6)
	m.heading += math.Remainder(heading-m.heading, 2*math.Pi) * min(1, dt*9)
	// One full stride of both legs takes about 9 ft at speed, less when slow
	// (common practice, no source); standing skaters don't paddle.
	m.stride = math.Mod(m.stride+dt*2*math.Pi*m.speed/(5+0.35*m.speed), 2*math.Pi)
}

func (m *motion) pose(stance simulate.Stance, crouch, dt float64, jump bool) {
	fall, sit := 0.0, 0.0
	switch stance {
	case simulate.Down:
		fall = 1
	case simulate.Sitting:
		sit = 1
	}
	if jump {
		m.fall, m.sit, m.crouch = fall, sit, crouch
		return
	}
	m.fall = toward(m.fall, fall, dt*3.5)
	m.sit = toward(m.sit, sit, dt*2.5)
	m.crouch = toward(m.crouch, crouch, dt*2)
}

// toward moves a to b by at most step.
func toward(a, b, step float64) float64 {
	if a < b {
		return min(b, a+step)
	}
	return max(b, a-step)
}
