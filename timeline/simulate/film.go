package simulate

import (
	"math"
	"sort"

	"whistlecut/timeline"
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
	n     int32
	x, y  float32
	face  float32 // direction she faces, from +x
	flags flags
}

type flags struct {
	role   timeline.Role
	stance Stance
	where  Where
	wears  wears
}

// wears is what is to be seen of covers and of a referee's lead signal, as bits.
type wears uint8

const (
	wearsStar wears = 1 << iota
	wearsStripe
	holdsStar
	isLead
)

func (w *wears) set(bit wears, on bool) {
	if on {
		*w |= bit
	}
}

func flagsOf(k *skater) flags {
	f := flags{role: k.role}
	f.wears.set(wearsStar, k.star)
	f.wears.set(wearsStripe, k.stripe)
	f.wears.set(holdsStar, k.holds)
	f.wears.set(isLead, k.lead)
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
		f.tracks[i].add(shot(h.n, k.spot(), k.face, flagsOf(k)), before)
	}
	for i, o := range h.officials {
		f.tracks[len(h.skaters)+i].add(shot(h.n, Spot{o.s, o.d}, o.face, flags{}), before)
	}
}

func shot(n int64, at Spot, face float64, f flags) sample {
	p := at.Point()
	return sample{int32(n), float32(p.X), float32(p.Y), float32(Heading(at.S) + face), f}
}

// add appends a sample unless nothing changed; a first change after a rest
// repeats the old place at the shot before, so that nobody creeps through the rest.
func (t *track) add(x sample, before int64) {
	if len(t.samples) == 0 {
		t.samples = append(t.samples, x)
		return
	}
	last := t.samples[len(t.samples)-1]
	if last.x == x.x && last.y == x.y && last.face == x.face && last.flags == x.flags {
		return
	}
	if last.n < int32(before) {
		last.n = int32(before)
		t.samples = append(t.samples, last)
	}
	t.samples = append(t.samples, x)
}

// close ends the film at a tick.
func (f *film) close(n int64) {
	for i := range f.tracks {
		t := &f.tracks[i]
		last := t.samples[len(t.samples)-1]
		last.n = int32(n)
		t.samples = append(t.samples, last)
	}
}

// place is where somebody was at a moment.
type place struct {
	pos         Point
	face, speed float64 // from +x; ft per tick
	flags       flags
}

// at is where somebody was at a moment counted in ticks.
func (t *track) at(n float64) place {
	i := sort.Search(len(t.samples), func(i int) bool { return float64(t.samples[i].n) > n }) - 1
	i = max(i, 0)
	a := t.samples[i]
	x := place{pos: Point{float64(a.x), float64(a.y)}, face: float64(a.face), flags: a.flags}
	if i == len(t.samples)-1 || n <= float64(a.n) {
		return x
	}
	b := t.samples[i+1]
	span := float64(b.n - a.n)
	u := (n - float64(a.n)) / span
	ax, ay := t.slope(i)
	bx, by := t.slope(i + 1)
	var vx, vy float64
	x.pos.X, vx = hermite(u, span, float64(a.x), float64(b.x), ax, bx)
	x.pos.Y, vy = hermite(u, span, float64(a.y), float64(b.y), ay, by)
	x.face += u * math.Remainder(float64(b.face)-x.face, 2*math.Pi)
	x.speed = math.Hypot(vx, vy)
	return x
}

// slope is how fast somebody moves (ft per tick) at a sample, by its neighbours,
// so that the way is smooth at any frame rate. Next to a rest she stands.
func (t *track) slope(i int) (vx, vy float64) {
	p, q := t.samples[max(i-1, 0)], t.samples[min(i+1, len(t.samples)-1)]
	n := float64(q.n - p.n)
	if n == 0 || n > 2*every+2 {
		return 0, 0
	}
	return float64(q.x-p.x) / n, float64(q.y-p.y) / n
}

// hermite is the cubic through a and b with slopes da and db, at share u of the
// span, and its slope there.
func hermite(u, span, a, b, da, db float64) (y, dy float64) {
	u2, u3 := u*u, u*u*u
	y = (2*u3-3*u2+1)*a + (u3-2*u2+u)*span*da + (3*u2-2*u3)*b + (u3-u2)*span*db
	dy = ((6*u2-6*u)*(a-b))/span + (3*u2-4*u+1)*da + (3*u2-2*u)*db
	return y, dy
}
