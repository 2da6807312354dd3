package sound

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// random gives the generator of one source (and one piece of it): the same for
// the same seed whatever else is rendered.
func random(seed uint64, source string, piece int64) *rand.Rand {
	h := fnv.New64a()
	_, _ = h.Write([]byte(source)) // never fails
	return rand.New(rand.NewPCG(seed^h.Sum64(), uint64(piece)*0x9E3779B97F4A7C15+1))
}

// within draws evenly from lo to hi.
func within(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// hiss is fast white noise, even in -1..1 (variance one third).
type hiss uint64

func newHiss(r *rand.Rand) hiss { return hiss(r.Uint64() | 1) }

func (h *hiss) next() float64 {
	x := uint64(*h)
	x ^= x << 13
	x ^= x >> 7
	x ^= x << 17
	*h = hiss(x)
	return float64(int64(x)) / (1 << 63)
}

// biquad is a second-order filter (Robert Bristow-Johnson's audio cookbook
// forms), transposed direct form II.
type biquad struct {
	b0, b1, b2, a1, a2 float64
	z1, z2             float64
}

func (q *biquad) next(x float64) float64 {
	y := q.b0*x + q.z1
	q.z1 = q.b1*x - q.a1*y + q.z2
	q.z2 = q.b2*x - q.a2*y
	return y
}

func design(hz, q float64, rate int, b func(cos, alpha float64) (b0, b1, b2 float64)) biquad {
	w := 2 * math.Pi * min(hz, 0.48*float64(rate)) / float64(rate)
	sin, cos := math.Sincos(w)
	alpha := sin / (2 * q)
	b0, b1, b2 := b(cos, alpha)
	a0 := 1 + alpha
	return biquad{b0: b0 / a0, b1: b1 / a0, b2: b2 / a0, a1: -2 * cos / a0, a2: (1 - alpha) / a0}
}

func lowpass(hz, q float64, rate int) biquad {
	return design(hz, q, rate, func(cos, _ float64) (float64, float64, float64) {
		return (1 - cos) / 2, 1 - cos, (1 - cos) / 2
	})
}

func highpass(hz, q float64, rate int) biquad {
	return design(hz, q, rate, func(cos, _ float64) (float64, float64, float64) {
		return (1 + cos) / 2, -(1 + cos), (1 + cos) / 2
	})
}

// bandpass has gain 1 at its middle.
func bandpass(hz, q float64, rate int) biquad {
	return design(hz, q, rate, func(_, alpha float64) (float64, float64, float64) {
		return alpha, 0, -alpha
	})
}

// Band is the whistle band in Hz: fundamentals in halls lie at 2.3 to 4.0 kHz.
var Band = [2]float64{2000, 4500}

// bandFilter passes the whistle band: fourth-order Butterworth at either edge
// (two sections each, Q 0.541 and 1.307).
type bandFilter [4]biquad

func newBandFilter(rate int) bandFilter {
	return bandFilter{
		highpass(Band[0], 0.5412, rate), highpass(Band[0], 1.3066, rate),
		lowpass(Band[1], 0.5412, rate), lowpass(Band[1], 1.3066, rate),
	}
}

func (f *bandFilter) next(x float64) float64 {
	for i := range f {
		x = f[i].next(x)
	}
	return x
}

// BandPower is the mean power of samples in the whistle band.
func BandPower(samples []float64, rate int) float64 {
	f := newBandFilter(rate)
	sum := 0.0
	for _, x := range samples {
		y := f.next(x)
		sum += y * y
	}
	return sum / float64(max(1, len(samples)))
}

// fromDB turns a level into an amplitude ratio.
func fromDB(db float64) float64 { return math.Pow(10, db/20) }

// toDB turns an amplitude ratio into a level.
func toDB(ratio float64) float64 { return 20 * math.Log10(ratio) }
