package train

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/dsp/fourier"
)

// room is an impulse response without the direct sound: early reflections and
// noise that dies exponentially, faster at high frequencies. In some rooms the
// noise is single reflections at first, ever denser: the n-th comes with the third
// root of n (Kuttruff, Room Acoustics, 5th ed. 2009, section 4.1, from memory).
type room struct{ h []float64 }

func newRoom(r *rand.Rand) *room {
	if chance(r, 0.15) {
		return &room{}
	}
	rt := math.Exp(within(r, math.Log(0.25), math.Log(3.2)))
	n := int(min(rt*0.9, 2.6) * rate)
	h := make([]float64, n)
	first := within(r, 0.002, 0.03)
	dark := within(r, 0, 0.6)
	low := 0.0
	build := within(r, 0, 0.04) + 1e-3
	dense := 0.0 // when reflections are as many as samples, s after the first
	if chance(r, 0.5) {
		dense = math.Exp(within(r, math.Log(0.03), math.Log(0.4)))
	}
	for i := range h {
		t := float64(i)/rate - first
		if t < 0 {
			continue
		}
		x := r.NormFloat64()
		if share := sq((t + 1e-3) / (dense + 1e-3)); share < 1 {
			if !chance(r, share) {
				x = 0
			}
			x /= math.Sqrt(share)
		}
		low += (1 - dark*min(1, t/rt)) * (x - low)
		h[i] = low * math.Pow(10, -3*t/rt) * (1 - math.Exp(-t/build))
	}
	energy := 0.0
	for _, x := range h {
		energy += x * x
	}
	g := 1 / math.Sqrt(energy+1e-12)
	for i := range h {
		h[i] *= g
	}
	for range r.IntN(8) {
		t := first + within(r, 0, 0.08)
		if i := int(t * rate); i < n {
			h[i] += within(r, -0.5, 0.5)
		}
	}
	return &room{h}
}

func sq(x float64) float64 { return x * x }

// apply returns the reverberation of x.
func (m *room) apply(x []float64) []float64 {
	if len(m.h) == 0 {
		return make([]float64, len(x))
	}
	n := 1
	for n < len(x)+len(m.h) {
		n *= 2
	}
	f := fourier.NewFFT(n)
	a, b := make([]float64, n), make([]float64, n)
	copy(a, x)
	copy(b, m.h)
	ca, cb := f.Coefficients(nil, a), f.Coefficients(nil, b)
	for i := range ca {
		ca[i] *= cb[i]
	}
	f.Sequence(a, ca)
	for i := range a {
		a[i] /= float64(n)
	}
	return a[:len(x)]
}
