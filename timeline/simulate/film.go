package simulate

import (
	"math"
	"sort"
)

// film keeps where everybody was, in samples of every second tick of play that
// moved them.
type film struct {
	tracks []track // skaters in roster order, home first, then the crew
	last   int64   // tick of the last samples
}

// every is how many ticks lie between two samples of somebody who moves.
const every = 2

type track struct{ samples []sample }

// sample is one person at one tick.
type sample struct {
	n     int64
	pos   Point
	face  float64 // direction she faces, from +x
	flags flags
}

type flags struct {
	role                      uint8
	stance                    Stance
	where                     Where
	star, stripe, holds, lead bool
}

func flagsOf(k *skater) flags {
	f := flags{role: uint8(k.role), star: k.star, stripe: k.stripe, holds: k.holds, lead: k.lead}
	switch {
	case k.mode == seated:
		f.stance = Sitting
	case !k.up:
		f.stance = Down
	}
	switch k.mode {
	case benched, gone:
		f.where = OnBench
		if k.v != 0 || k.w != 0 {
			f.where = Walking
		}
	case lining:
		f.where = OnTrack
		if !k.spot().InBounds() {
			f.where = Walking
		}
	case playing:
		f.where = OnTrack
		if !k.in {
			f.where = OutOfBounds
		}
	case leaving:
		f.where = ToBox
	case seated, standing:
		f.where = InBox
	case returning:
		f.where = FromBox
	}
	return f
}

func (f *film) open(h *hall) {
	f.tracks = make([]track, len(h.skaters)+len(h.officials))
	f.last = -every
	f.shoot(h)
}

// shoot samples everybody, unless it is too soon.
func (f *film) shoot(h *hall) {
	if h.n < f.last+every {
		return
	}
	before := f.last
	f.last = h.n
	for i, k := range h.skaters {
		f.tracks[i].add(sample{h.n, k.spot().Point(), Heading(k.s) + k.face, flagsOf(k)}, before)
	}
	for i, o := range h.officials {
		f.tracks[len(h.skaters)+i].add(sample{n: h.n, pos: Spot{o.s, o.d}.Point(), face: Heading(o.s) + o.face}, before)
	}
}

// add appends a sample unless nothing changed; a first change after a rest
// repeats the old place at the shot before, so that nobody creeps through the rest.
func (t *track) add(x sample, before int64) {
	if len(t.samples) == 0 {
		t.samples = append(t.samples, x)
		return
	}
	last := t.samples[len(t.samples)-1]
	if last.pos == x.pos && last.face == x.face && last.flags == x.flags {
		return
	}
	if last.n < before {
		last.n = before
		t.samples = append(t.samples, last)
	}
	t.samples = append(t.samples, x)
}

// close ends the film at a tick.
func (f *film) close(n int64) {
	for i := range f.tracks {
		t := &f.tracks[i]
		last := t.samples[len(t.samples)-1]
		last.n = n
		t.samples = append(t.samples, last)
	}
}

// at is where somebody was at a moment counted in ticks, and how fast (ft per tick).
func (t *track) at(n float64) (x sample, speed float64) {
	i := sort.Search(len(t.samples), func(i int) bool { return float64(t.samples[i].n) > n }) - 1
	if i < 0 {
		return t.samples[0], 0
	}
	if i == len(t.samples)-1 {
		return t.samples[i], 0
	}
	a, b := t.samples[i], t.samples[i+1]
	span := float64(b.n - a.n)
	if span <= 0 {
		return b, 0
	}
	u := (n - float64(a.n)) / span
	ax, ay := t.slope(i)
	bx, by := t.slope(i + 1)
	x = a
	var vx, vy float64
	x.pos.X, vx = hermite(u, span, a.pos.X, b.pos.X, ax, bx)
	x.pos.Y, vy = hermite(u, span, a.pos.Y, b.pos.Y, ay, by)
	x.face = a.face + u*math.Remainder(b.face-a.face, 2*math.Pi)
	return x, math.Hypot(vx, vy)
}

// slope is how fast somebody moves (ft per tick) at a sample, by its neighbours,
// so that the way is smooth at any frame rate. Next to a rest she stands.
func (t *track) slope(i int) (vx, vy float64) {
	p, q := t.samples[max(i-1, 0)], t.samples[min(i+1, len(t.samples)-1)]
	n := float64(q.n - p.n)
	if n == 0 || n > 2*every+2 {
		return 0, 0
	}
	return (q.pos.X - p.pos.X) / n, (q.pos.Y - p.pos.Y) / n
}

// hermite is the cubic through a and b with slopes da and db, at share u of the
// span, and its slope there.
func hermite(u, span, a, b, da, db float64) (y, dy float64) {
	u2, u3 := u*u, u*u*u
	y = (2*u3-3*u2+1)*a + (u3-2*u2+u)*span*da + (3*u2-2*u3)*b + (u3-u2)*span*db
	dy = ((6*u2-6*u)*(a-b))/span + (3*u2-4*u+1)*da + (3*u2-2*u)*db
	return y, dy
}
