package simulate

import "sort"

// film keeps where everybody was, in samples of every second tick of play that
// moved them.
type film struct {
	tracks []track // skaters in roster order, home first, then the crew
}

type track struct{ samples []sample }

// sample is one person at one tick.
type sample struct {
	n          int64
	s, d, face float64
	flags      flags
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
	f.shoot(h)
}

// shoot samples everybody at an even tick.
func (f *film) shoot(h *hall) {
	if h.n%2 != 0 {
		return
	}
	for i, k := range h.skaters {
		f.tracks[i].add(sample{h.n, k.s, k.d, k.face, flagsOf(k)})
	}
	for i, o := range h.officials {
		f.tracks[len(h.skaters)+i].add(sample{n: h.n, s: o.s, d: o.d, face: o.face})
	}
}

// add appends a sample unless nothing changed; a first change after a rest
// repeats the old place just before, so that nobody creeps through the rest.
func (t *track) add(x sample) {
	if len(t.samples) == 0 {
		t.samples = append(t.samples, x)
		return
	}
	last := t.samples[len(t.samples)-1]
	if last.s == x.s && last.d == x.d && last.face == x.face && last.flags == x.flags {
		return
	}
	if x.n-last.n > 2 {
		last.n = x.n - 2
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

// at is where somebody was at a moment counted in ticks, and how fast she moved
// along and outwards (ft of inside line and ft per tick).
func (t *track) at(n float64) (x sample, vs, vd float64) {
	i := sort.Search(len(t.samples), func(i int) bool { return float64(t.samples[i].n) > n }) - 1
	if i < 0 {
		return t.samples[0], 0, 0
	}
	if i == len(t.samples)-1 {
		return t.samples[i], 0, 0
	}
	a, b := t.samples[i], t.samples[i+1]
	span := float64(b.n - a.n)
	if span <= 0 {
		return b, 0, 0
	}
	u := (n - float64(a.n)) / span
	// Slopes through the neighbours make the way smooth at any frame rate.
	slope := func(j int) (float64, float64) {
		lo, hi := max(j-1, 0), min(j+1, len(t.samples)-1)
		p, q := t.samples[lo], t.samples[hi]
		if q.n == p.n {
			return 0, 0
		}
		return (q.s - p.s) / float64(q.n-p.n), (q.d - p.d) / float64(q.n-p.n)
	}
	as, ad := slope(i)
	bs, bd := slope(i + 1)
	x = a
	x.s, vs = hermite(u, span, a.s, b.s, as, bs)
	x.d, vd = hermite(u, span, a.d, b.d, ad, bd)
	x.face = a.face + u*(b.face-a.face)
	return x, vs, vd
}

// hermite is the cubic through a and b with slopes da and db, at share u of the
// span, and its slope there.
func hermite(u, span, a, b, da, db float64) (y, dy float64) {
	u2, u3 := u*u, u*u*u
	y = (2*u3-3*u2+1)*a + (u3-2*u2+u)*span*da + (3*u2-2*u3)*b + (u3-u2)*span*db
	dy = ((6*u2-6*u)*(a-b))/span + (3*u2-4*u+1)*da + (3*u2-2*u)*db
	return y, dy
}
