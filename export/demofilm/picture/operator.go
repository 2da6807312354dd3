package picture

import (
	"math"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// Operator turns and zooms the camera as a person at a tripod does: she looks
// where pack and jammers are, late and smoothly, and lets the camera rest while
// little changes. It is used by one goroutine, scene after scene.
type Operator struct {
	cam   Camera
	last  time.Duration
	begun bool

	yaw, pitch, zoom spring
}

// NewOperator takes a place and the size of the frames.
func NewOperator(place Place, w, h int) *Operator {
	return &Operator{cam: Camera{Place: place, W: w, H: h}}
}

// Limits of what the operator shows; the panorama covers them.
const (
	widest   = 0.82 // focal length over frame width
	tightest = 1.22
	maxTurn  = 0.42 // radians from Place.Facing
)

// Update takes the next scene and returns the camera.
func (o *Operator) Update(s simulate.Scene) Camera {
	dt := (s.At - o.last).Seconds()
	jump := !o.begun || dt <= 0 || dt > 0.5
	o.last, o.begun = s.At, true

	yaw, pitch, focal := o.aim(s)
	if jump {
		o.yaw.set(yaw)
		o.pitch.set(pitch)
		o.zoom.set(focal)
	} else {
		// Rest bands: 1.5 degrees, half a degree, 3 per cent.
		o.yaw.follow(yaw, 0.026, 2.4, dt)
		o.pitch.follow(pitch, 0.009, 1.6, dt)
		o.zoom.follow(focal, 0.03, 1.1, dt)
	}
	o.cam.Yaw, o.cam.Pitch, o.cam.Focal = o.yaw.at, o.pitch.at, o.zoom.at*float64(o.cam.W)
	return o.cam
}

// aim is where a perfect operator would point: yaw, pitch, focal length over width.
func (o *Operator) aim(s simulate.Scene) (yaw, pitch, focal float64) {
	var sum, x, y float64
	left, right := math.Inf(1), math.Inf(-1)
	near, far := math.Inf(1), 0.0
	for i := range s.Skaters {
		f := &s.Skaters[i]
		w := interest(s.Phase, f)
		if w == 0 {
			continue
		}
		sum += w
		x += w * f.Pos.X
		y += w * f.Pos.Y
		az := turnTo(o.cam.Facing, o.cam.azimuth(f.Pos.X, f.Pos.Y))
		left, right = min(left, az), max(right, az)
		d := math.Hypot(f.Pos.X-o.cam.X, f.Pos.Y-o.cam.Y)
		near, far = min(near, d), max(far, d)
	}
	if sum == 0 {
		return o.cam.Facing, 0.2, widest
	}
	x, y = x/sum, y/sum
	centre := turnTo(o.cam.Facing, o.cam.azimuth(x, y))
	// Between the weighted middle and the middle of what should be in view.
	yaw = 0.5*centre + 0.25*(left+right)
	half := max(right-yaw, yaw-left) + 0.09
	focal = min(tightest, max(widest, 0.5/math.Tan(min(1.2, half))))
	yaw = o.cam.Facing + min(maxTurn, max(-maxTurn, yaw))
	// Feet of the nearest and heads of the farthest should be in view.
	low, high := math.Atan2(o.cam.Z, near), math.Atan2(o.cam.Z-7, far)
	aspect := float64(o.cam.H) / float64(o.cam.W)
	tall := 0.5 / math.Tan(max(0.05, (low-high)/2+0.05)) * aspect
	focal = max(widest, min(focal, tall))
	pitch = min(0.3, max(0.1, (low+high)/2-0.015))
	return yaw, pitch, focal
}

// interest is how much a skater draws the operator's eye.
func interest(phase simulate.Phase, f *simulate.Figure) float64 {
	onTrack := f.Where == simulate.OnTrack || f.Where == simulate.OutOfBounds
	switch {
	case f.Role == timeline.NoRole || !onTrack:
		return 0
	case phase == simulate.PhaseJam && f.Star:
		return 2.5
	case phase == simulate.PhaseJam:
		return 1
	}
	return 0.7
}

// spring is a critically damped follower with a rest band.
type spring struct {
	at, speed, goal float64
	moving          bool
}

func (s *spring) set(v float64) { *s = spring{at: v, goal: v} }

// follow moves towards v; within the band round the place of rest it does not
// start. rate is in 1/s: about 2/rate seconds of lag.
func (s *spring) follow(v, band, rate, dt float64) {
	if !s.moving && math.Abs(v-s.at) > band {
		s.moving = true
	}
	if !s.moving {
		return
	}
	s.goal = v
	// Small steps keep the sum stable at any frame rate.
	for n := int(math.Ceil(dt / 0.02)); n > 0; n-- {
		h := dt / math.Ceil(dt/0.02)
		acc := rate*rate*(s.goal-s.at) - 2*rate*s.speed
		s.speed += acc * h
		s.at += s.speed * h
	}
	if math.Abs(s.goal-s.at) < band/8 && math.Abs(s.speed) < band/8 {
		s.speed, s.moving = 0, false
	}
}
