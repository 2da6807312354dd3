package train

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/dsp/fourier"
)

// coarse does to the sound what saving it at a low bit rate does: in every band
// of overlapping windows, what is far below the loudest is thrown away and the
// rest is rounded.
func coarse(r *rand.Rand, x []float64) {
	const n, hop = 1024, 512
	f := fourier.NewFFT(n)
	depth := within(r, 12, 30)
	out := make([]float64, len(x)+n)
	buf := make([]float64, n)
	var c []complex128
	for at := 0; at < len(x); at += hop {
		for i := range buf {
			buf[i] = 0
			if at+i < len(x) {
				buf[i] = x[at+i] * math.Sin(math.Pi*(float64(i)+0.5)/n)
			}
		}
		c = f.Coefficients(c, buf)
		for lo := 0; lo < len(c); lo += 16 {
			hi := min(lo+16, len(c))
			top := 0.0
			for _, v := range c[lo:hi] {
				top = max(top, math.Abs(real(v)), math.Abs(imag(v)))
			}
			q := top*fromDB(-depth) + 1e-9
			for i := lo; i < hi; i++ {
				c[i] = complex(math.Round(real(c[i])/q)*q, math.Round(imag(c[i])/q)*q)
			}
		}
		f.Sequence(buf, c)
		for i := range buf {
			out[at+i] += buf[i] / n * math.Sin(math.Pi*(float64(i)+0.5)/n)
		}
	}
	copy(x, out)
}
