package sound

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/dsp/fourier"
)

// blockSize is the number of samples all sources and rooms work on at a time:
// 85 ms at 48 kHz, a power of two for the transforms.
const blockSize = 4096

// convolver is a room given by its impulse response: uniformly partitioned
// overlap-save convolution. Rooms of the evaluation family.
type convolver struct {
	fft    *fourier.FFT
	parts  [][][]complex128 // per channel and partition
	inputs [][]complex128   // ring of transformed input blocks
	at     int
	window []float64 // the last two input blocks
	sum    []complex128
	back   []float64
}

// newConvolver takes one impulse response per channel.
func newConvolver(responses [][]float64) *convolver {
	c := &convolver{
		fft:    fourier.NewFFT(2 * blockSize),
		window: make([]float64, 2*blockSize),
		sum:    make([]complex128, blockSize+1),
		back:   make([]float64, 2*blockSize),
	}
	parts := 0
	for _, h := range responses {
		var spectra [][]complex128
		for i := 0; i < len(h); i += blockSize {
			padded := make([]float64, 2*blockSize)
			copy(padded, h[i:min(len(h), i+blockSize)])
			s := c.fft.Coefficients(nil, padded)
			for k := range s {
				s[k] /= complex(2*blockSize, 0) // gonum's inverse does not scale
			}
			spectra = append(spectra, s)
		}
		c.parts = append(c.parts, spectra)
		parts = max(parts, len(spectra))
	}
	for range parts {
		c.inputs = append(c.inputs, make([]complex128, blockSize+1))
	}
	return c
}

func (c *convolver) process(in []float64, out [][]float64) {
	copy(c.window, c.window[blockSize:])
	copy(c.window[blockSize:], in)
	c.fft.Coefficients(c.inputs[c.at], c.window)
	for ch := range out {
		clear(c.sum)
		for p, h := range c.parts[ch] {
			x := c.inputs[(c.at-p+len(c.inputs))%len(c.inputs)]
			x, h = x[:len(c.sum)], h[:len(c.sum)]
			for k := range c.sum {
				c.sum[k] += x[k] * h[k]
			}
		}
		c.fft.Sequence(c.back, c.sum)
		for i, y := range c.back[blockSize:] {
			out[ch][i] += y
		}
	}
	c.at = (c.at + 1) % len(c.inputs)
}

// newHallResponse makes the impulse response of a box-shaped hall: first and
// second reflections of its walls by mirror images (Allen and Berkley 1979),
// then noise that dies away, longer in the low and shorter in the high parts.
// rt is the reverberation time in the whistle band in seconds.
func newHallResponse(rt float64, rng *rand.Rand, rate int) []float64 {
	h := make([]float64, int(rt*1.1*float64(rate)))
	mirrors(h, rt, rng, rate)
	early := 0.0
	for _, x := range h {
		early += x * x
	}
	noise := newHiss(rng)
	// The tail grows for up to 60 ms while the mirror images thin out.
	low, high := lowpass(1200, 0.7, rate), highpass(6000, 0.7, rate)
	rate1 := math.Ln10 * 3 / rt / float64(rate)
	start, grown := 0.02*min(1, rt), 0.06*min(1, rt)
	// The tail holds twice the energy of the early reflections (common practice,
	// no source): noise of variance 1/3 that falls by 60 dB in rt.
	level := math.Sqrt(2 * early * 3 * 2 * rate1)
	for i := range h {
		t := float64(i) / float64(rate)
		if t < start {
			continue
		}
		x := noise.next()
		l, u := low.next(x), high.next(x)
		mid := x - l - u
		n := float64(i)
		y := l*math.Exp(-n*rate1/1.25) + mid*math.Exp(-n*rate1) + u*math.Exp(-n*rate1/0.6)
		h[i] += level * y * min(1, (t-start)/grown)
	}
	scale := 1 / math.Sqrt(BandPower(h, rate)*float64(len(h))/bandShare(rate))
	for i := range h {
		h[i] *= scale
	}
	return h
}

// mirrors adds the early reflections.
func mirrors(h []float64, rt float64, rng *rand.Rand, rate int) {
	size := [3]float64{within(rng, 42, 66), within(rng, 34, 58), within(rng, 8, 13)}
	var source, ear [3]float64
	for k := range size {
		source[k] = size[k] * within(rng, 0.3, 0.7)
		ear[k] = size[k] * within(rng, 0.1, 0.9)
	}
	source[2], ear[2] = 1.7, within(rng, 3, 6)
	direct := math.Sqrt(sq(source[0]-ear[0]) + sq(source[1]-ear[1]) + sq(source[2]-ear[2]))
	for i := -2; i <= 2; i++ {
		for j := -2; j <= 2; j++ {
			for k := -2; k <= 2; k++ {
				order := abs(i) + abs(j) + abs(k)
				if order == 0 || order > 3 {
					continue
				}
				d := math.Sqrt(sq(mirror(source[0], size[0], i)-ear[0]) + sq(mirror(source[1], size[1], j)-ear[1]) + sq(mirror(source[2], size[2], k)-ear[2]))
				late := (d - direct) / soundSpeed
				if at := int(late * float64(rate)); at >= 0 && at < len(h) {
					// The walls take what the reverberation time says.
					h[at] += math.Pow(10, -3*late/rt) * direct / d
				}
			}
		}
	}
}

// mirror is the place of the n-th image along an axis of the given length.
func mirror(x, size float64, n int) float64 {
	if n%2 == 0 {
		return float64(n)*size + x
	}
	return float64(n)*size + size - x
}

func sq(x float64) float64 { return x * x }

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

func (c *convolver) reset() {
	clear(c.window)
	for _, x := range c.inputs {
		clear(x)
	}
}
