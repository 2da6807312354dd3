package align

import (
	"math"
	"math/cmplx"
	"sort"
	"time"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Shift is how much later second is than first, two windows of the same sound at
// rate samples a second: first[n] is about second[n+shift]. It is the peak of the
// generalised cross-correlation with phase transform (Knapp and Carter, The
// generalized correlation method for estimation of time delay, 1976), searched to
// most each way and interpolated between samples. Sharp is the peak against the
// root mean square of the rest; below about 5 it means nothing.
func Shift(first, second []float32, rate int, most time.Duration) (shift time.Duration, sharp float64) {
	n := 1
	for n < len(first)+len(second) {
		n *= 2
	}
	if len(first) == 0 || len(second) == 0 || rate <= 0 {
		return 0, 0
	}
	fft := fourier.NewFFT(n)
	x := fft.Coefficients(nil, padded(first, n))
	y := fft.Coefficients(nil, padded(second, n))
	// Below 300 Hz halls hum and rumble; all above counts alike.
	low := int(300 * float64(n) / float64(rate))
	for i := range x {
		c := y[i] * cmplx.Conj(x[i])
		if a := cmplx.Abs(c); a > 1e-12 && i >= low {
			x[i] = c / complex(a, 0)
		} else {
			x[i] = 0
		}
	}
	r := fft.Sequence(nil, x)
	reach := min(int(most.Seconds()*float64(rate)), n/2-1)
	lag := func(k int) float64 { return r[((k%n)+n)%n] }
	best, power := 0, 0.0
	for k := -reach; k <= reach; k++ {
		if lag(k) > lag(best) {
			best = k
		}
		power += lag(k) * lag(k)
	}
	if power == 0 {
		return 0, 0
	}
	sharp = lag(best) / math.Sqrt(power/float64(2*reach+1))
	at := float64(best)
	if a, b, c := lag(best-1), lag(best), lag(best+1); a+c < 2*b {
		at += 0.5 * (a - c) / (a - 2*b + c)
	}
	return time.Duration(at / float64(rate) * 1e9), sharp
}

func padded(x []float32, n int) []float64 {
	mean := 0.0
	for _, v := range x {
		mean += float64(v)
	}
	mean /= float64(max(len(x), 1))
	out := make([]float64, n)
	for i, v := range x {
		out[i] = float64(v) - mean
	}
	return out
}

// Window is the sound of both recordings round one moment: that of the second
// begins where the step holds the same moment to be.
type Window struct {
	Second        time.Duration // time of the second recording at which its samples begin
	First, Sample []float32     // of the first and of the second recording
	Rate          int
}

// leastSharp is the sharpness from which on a window's shift is believed.
const leastSharp = 5.5

// Refine makes a step exact to milliseconds by the waveforms of some windows. It
// returns the step unchanged when fewer than three windows agree.
func Refine(step Step, windows []Window) Step {
	var pairs []pair
	for _, w := range windows {
		shift, sharp := Shift(w.First, w.Sample, w.Rate, 250*time.Millisecond)
		if sharp < leastSharp {
			continue
		}
		// What the first plays at its beginning, the second plays shift later.
		second := w.Second + shift
		pairs = append(pairs, pair{secs(step.First(w.Second)), secs(second), 1})
	}
	pairs = agreeing(pairs, step)
	if len(pairs) < 3 {
		return step
	}
	f := leastSquares(pairs, 0.002)
	step.Offset, step.Scale = time.Duration(f.offset*1e9), 1+f.drift
	step.Residual = time.Duration(f.residual * 1e9)
	return step
}

// agreeing keeps the pairs that lie near the median of what they add to the step.
func agreeing(pairs []pair, step Step) []pair {
	const near = 0.04
	off := func(p pair) float64 { return p.first - secs(step.Offset) - step.Scale*p.second }
	var all []float64
	for _, p := range pairs {
		all = append(all, off(p))
	}
	if len(all) == 0 {
		return nil
	}
	sort.Float64s(all)
	middle := all[len(all)/2]
	var out []pair
	for _, p := range pairs {
		if math.Abs(off(p)-middle) < near {
			out = append(out, p)
		}
	}
	return out
}
