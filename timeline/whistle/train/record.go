package train

import (
	"math"
	"math/rand/v2"
)

// background adds the crowd's and the hall's noise to out: coloured, rising and
// falling.
func (s *stage) background(out []float64) {
	r := s.r
	// Whistles have power about 1/2; noise is spread over the band.
	level := fromDB(within(r, -38, 6))
	colour := within(r, 0.02, 1)
	var hiss [2]resonator
	hiss[0].set(within(r, 400, 1500), within(r, 300, 1200))
	hiss[1].set(within(r, 1500, 5000), within(r, 500, 4000))
	mix := [3]float64{within(r, 0, 1), within(r, 0, 1.5), within(r, 0, 1)}
	low, swell, want := 0.0, 1.0, 1.0
	chatter := within(r, 0, 0.6)
	for i := range out {
		if i%800 == 0 {
			want = math.Exp(chatter * r.NormFloat64())
		}
		swell += (want - swell) * 0.002
		x := r.NormFloat64()
		low += colour * (x - low)
		out[i] += level * swell * (mix[0]*low/math.Sqrt(colour) + mix[1]*hiss[0].next(x)*2 + mix[2]*hiss[1].next(x))
	}
}

// biquad is a second-order section.
type biquad struct{ b0, b1, b2, a1, a2, x1, x2, y1, y2 float64 }

func (q *biquad) next(x float64) float64 {
	y := q.b0*x + q.b1*q.x1 + q.b2*q.x2 - q.a1*q.y1 - q.a2*q.y2
	q.x2, q.x1, q.y2, q.y1 = q.x1, x, q.y1, y
	return y
}

// peaking lifts or lowers round a pitch (Bristow-Johnson, Audio EQ Cookbook).
func peaking(hz, q, gain float64) *biquad {
	a := math.Pow(10, gain/40)
	w := 2 * math.Pi * hz / rate
	al, c := math.Sin(w)/2/q, math.Cos(w)
	n := 1 + al/a
	return &biquad{b0: (1 + al*a) / n, b1: -2 * c / n, b2: (1 - al*a) / n, a1: -2 * c / n, a2: (1 - al/a) / n}
}

// lowpass and highpass after the same source.
func lowpass(hz, q float64) *biquad {
	w := 2 * math.Pi * hz / rate
	al, c := math.Sin(w)/2/q, math.Cos(w)
	n := 1 + al
	return &biquad{b0: (1 - c) / 2 / n, b1: (1 - c) / n, b2: (1 - c) / 2 / n, a1: -2 * c / n, a2: (1 - al) / n}
}

func highpass(hz, q float64) *biquad {
	w := 2 * math.Pi * hz / rate
	al, c := math.Sin(w)/2/q, math.Cos(w)
	n := 1 + al
	return &biquad{b0: (1 + c) / 2 / n, b1: -(1 + c) / n, b2: (1 + c) / 2 / n, a1: -2 * c / n, a2: (1 - al) / n}
}

// record passes the sound through a microphone, a recorder and a line.
func record(r *rand.Rand, x []float64) {
	var chain []*biquad
	for range r.IntN(4) {
		chain = append(chain, peaking(math.Exp(within(r, math.Log(300), math.Log(7000))), within(r, 0.5, 5), within(r, -12, 9)))
	}
	if chance(r, 0.6) {
		chain = append(chain, highpass(within(r, 60, 600), 0.7))
	}
	switch k := r.IntN(10); {
	case k < 2: // telephone rate
		for _, q := range []float64{0.541, 1.307, 0.9} {
			chain = append(chain, lowpass(3700, q))
		}
	case k < 4:
		f := within(r, 4200, 7000)
		for _, q := range []float64{0.541, 1.307} {
			chain = append(chain, lowpass(f, q))
		}
	}
	peak := 0.0
	for i := range x {
		y := x[i]
		for _, q := range chain {
			y = q.next(y)
		}
		x[i] = y
		peak = max(peak, math.Abs(y))
	}
	if chance(r, 0.45) {
		autoGain(r, x)
	}
	g := fromDB(within(r, -40, 0)) / (peak + 1e-9)
	if chance(r, 0.25) {
		g = fromDB(within(r, 0, 18)) / (peak + 1e-9)
	}
	bits := math.Pow(2, 15)
	if chance(r, 0.1) {
		bits = math.Pow(2, 9)
	}
	for i := range x {
		x[i] = math.Round(min(1, max(-1, x[i]*g))*bits) / bits
	}
	if chance(r, 0.3) {
		coarse(r, x)
	}
}

// autoGain pulls loud sound down and lets go slowly.
func autoGain(r *rand.Rand, x []float64) {
	attack := math.Exp(within(r, math.Log(0.002), math.Log(0.15)))
	release := math.Exp(within(r, math.Log(0.1), math.Log(3)))
	power := within(r, 0.3, 1)
	level := 0.01
	up, down := 1-math.Exp(-1/(attack*rate)), 1-math.Exp(-1/(release*rate))
	for i, y := range x {
		if p := math.Abs(y); p > level {
			level += (p - level) * up
		} else {
			level += (p - level) * down
		}
		x[i] = y * math.Pow(level+1e-3, -power)
	}
	// It makes its own level; the caller's scaling follows from a mean of about 1.
	peak := 0.0
	for _, y := range x {
		peak = max(peak, math.Abs(y))
	}
	for i := range x {
		x[i] /= peak + 1e-9
	}
}
