package whistle

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// The window (32 ms) and the step (10 ms) of the spectra, in samples at Rate. The
// window is a power of two, which gonum's transform needs to be quick.
const (
	window = 512
	step   = 160
	bins   = window/2 + 1
)

// stepSeconds is the time between two windows.
const stepSeconds = float64(step) / Rate

// binHz is the distance of two bins.
const binHz = float64(Rate) / window

// hann is the periodic Hann window, w(n) = (1 - cos(2 pi n / N)) / 2 (Harris,
// "On the use of windows for harmonic analysis with the discrete Fourier
// transform", Proc. IEEE 66(1), 1978, eq. 27a), scaled so that a full-scale sine
// in the middle of a bin has power 1/2 there.
func hann(n int) []float64 {
	w := make([]float64, n)
	for i := range w {
		w[i] = 0.5 * (1 - math.Cos(2*math.Pi*float64(i)/float64(n)))
	}
	return w
}

// spectrum computes power spectra of windows of one length.
type spectrum struct {
	fft   *fourier.FFT
	taper []float64
	buf   []float64
	coef  []complex128
	scale float64
}

func newSpectrum(n int) *spectrum {
	s := &spectrum{fft: fourier.NewFFT(n), taper: hann(n), buf: make([]float64, n), coef: make([]complex128, n/2+1)}
	sum := 0.0
	for _, w := range s.taper {
		sum += w
	}
	s.scale = 2 / (sum * sum)
	return s
}

// power fills out (n/2+1 values) with the one-sided power spectrum of x.
func (s *spectrum) power(out []float64, x []float32) {
	for i, w := range s.taper {
		s.buf[i] = float64(x[i]) * w
	}
	s.fft.Coefficients(s.coef, s.buf)
	for i, c := range s.coef {
		re, im := real(c), imag(c)
		out[i] = (re*re + im*im) * s.scale
	}
}

// db is a power in decibels; silence is -150 dB.
func db(p float64) float64 { return 10 * math.Log10(p+1e-15) }
