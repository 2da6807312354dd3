package align

import (
	"math"
	"sort"
	"time"

	"whistlecut/timeline/whistle"
)

// Step says how the time of a second recording maps to that of a first one:
// first = Offset + Scale * second.
type Step struct {
	Offset time.Duration
	Scale  float64
	// Matched is how many blasts both heard, Residual how far these lie from the
	// line (root mean square).
	Matched  int
	Residual time.Duration
	// Confidence that the two are in step: 0..1.
	Confidence float64
}

// First is the first recording's time of a time of the second.
func (s Step) First(second time.Duration) time.Duration {
	return s.Offset + time.Duration(s.Scale*float64(second))
}

// Second is the second recording's time of a time of the first.
func (s Step) Second(first time.Duration) time.Duration {
	return time.Duration(float64(first-s.Offset) / s.Scale)
}

const (
	mostBlasts = 1200  // of each recording are compared, the surest
	voteBin    = 0.06  // s; sound needs up to 0.1 s across a hall
	driftStep  = 25e-6 // clocks of cameras differ by up to 150 parts in a million (common practice, no source)
	driftSteps = 6     // each way
	leastMatch = 4
)

// onset is one blast as it is compared.
type onset struct{ at, hz, weight float64 }

// InStep puts two recordings of one bout in step by their blasts, film times of
// each: differences of onsets vote for offset and drift, then a line is fitted to
// those that match. ok is false when nothing stands out of chance.
func InStep(first, second []whistle.Blast) (step Step, ok bool) {
	a, b := onsets(first), onsets(second)
	if len(a) < leastMatch || len(b) < leastMatch {
		return Step{Scale: 1}, false
	}
	offset, drift := vote(a, b)
	line := fit{offset: offset, drift: drift}
	n := 0
	for _, within := range []float64{0.12, 0.08, 0.06} {
		pairs := match(a, b, line, within)
		if n = len(pairs); n < leastMatch {
			return Step{Scale: 1}, false
		}
		line = leastSquares(pairs, 0.02)
	}
	confidence := 1 / (1 + math.Exp(-(standsOut(a, b, line, n) - 10)))
	step = Step{
		Offset: time.Duration(line.offset * 1e9), Scale: 1 + line.drift, Matched: n,
		Residual: time.Duration(line.residual * 1e9), Confidence: min(confidence, mostConfidence),
	}
	return step, confidence > 0.5
}

func onsets(list []whistle.Blast) []onset {
	out := make([]onset, 0, len(list))
	for _, x := range list {
		out = append(out, onset{secs(x.Start), x.Hz, min(max(x.Confidence, 0.05), 1)})
	}
	if len(out) > mostBlasts {
		sort.SliceStable(out, func(i, j int) bool { return out[i].weight > out[j].weight })
		out = out[:mostBlasts]
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].at < out[j].at })
	return out
}

// alike weighs a pair of blasts: of one pitch they are more likely the same.
func alike(x, y onset) float64 {
	w := x.weight * y.weight
	if x.hz > 0 && y.hz > 0 {
		z := math.Log(x.hz/y.hz) / 0.03
		w *= 0.15 + 0.85*math.Exp(-0.5*z*z)
	}
	return w
}

// vote finds the offset and drift that most pairs agree on.
func vote(a, b []onset) (offset, drift float64) {
	turn := math.Abs(b[len(b)-1].at) * driftStep * driftSteps
	least, most := a[0].at-b[len(b)-1].at-turn-1, a[len(a)-1].at-b[0].at+turn+1
	votes := make([]float64, int((most-least)/voteBin)+4)
	best := -1.0
	for d := -driftSteps; d <= driftSteps; d++ {
		rate := float64(d) * driftStep
		clear(votes)
		for _, y := range b {
			turned := y.at * (1 + rate)
			for _, x := range a {
				p := (x.at - turned - least) / voteBin
				i := int(p)
				f := p - float64(i)
				w := alike(x, y)
				votes[i] += w * (1 - f)
				votes[i+1] += w * f
			}
		}
		for i, v := range votes {
			// Mild preference for no drift: many rates are tried.
			if z := v * (1 - 0.01*math.Abs(float64(d))); z > best {
				best, offset, drift = z, least+float64(i)*voteBin, rate
			}
		}
	}
	return offset, drift
}

// standsOut is how far n matches stand out of what the same blasts give when one
// recording is moved by some seconds, in standard deviations. Series of four come
// in heaps, so that the best false step matches many, too: two different simulated
// bouts gave below 7, one bout heard by two cameras in a hard hall over 20.
func standsOut(a, b []onset, line fit, n int) float64 {
	most := 0
	for _, moved := range []float64{-7.9, -4.3, -2.9, -1.7, 1.3, 2.3, 3.7, 5.9} {
		other := line
		other.offset += moved
		most = max(most, len(match(a, b, other, 0.06)))
	}
	return float64(n-most) / math.Sqrt(float64(most)+1)
}

// fit is a line: first = offset + (1+drift) * second.
type fit struct{ offset, drift, residual float64 }

type pair struct{ first, second, weight float64 }

// match pairs each blast of b with the nearest of a under the line, each once.
func match(a, b []onset, line fit, within float64) []pair {
	var out []pair
	used := map[int]bool{}
	for _, y := range b {
		want := line.offset + (1+line.drift)*y.at
		best, score := -1, 0.0
		for i := sort.Search(len(a), func(i int) bool { return a[i].at >= want-within }); i < len(a) && a[i].at <= want+within; i++ {
			if s := alike(a[i], y) * (1 - math.Abs(a[i].at-want)/within); s > score && !used[i] {
				best, score = i, s
			}
		}
		if best >= 0 {
			used[best] = true
			out = append(out, pair{a[best].at, y.at, alike(a[best], y)})
		}
	}
	return out
}

// leastSquares fits a line to the pairs, those far off counting less. The drift is
// held near zero, by as much as cameras' clocks are alike, so that a few pairs
// close together do not tilt the line. onsetError is how exact they are, s.
func leastSquares(pairs []pair, onsetError float64) fit {
	const usualDrift = 40e-6
	f := fit{offset: medianGap(pairs)}
	for range 8 {
		var w, wx, wy float64
		weight := func(p pair) float64 {
			e := (p.first - p.second*(1+f.drift) - f.offset) / onsetError
			return p.weight / (1 + e*e)
		}
		for _, p := range pairs {
			k := weight(p)
			w, wx, wy = w+k, wx+k*p.second, wy+k*(p.first-p.second)
		}
		if w == 0 {
			break
		}
		mx, my := wx/w, wy/w
		var sxx, sxy float64
		for _, p := range pairs {
			k := weight(p)
			sxx += k * (p.second - mx) * (p.second - mx)
			sxy += k * (p.second - mx) * (p.first - p.second - my)
		}
		f.drift = sxy / (sxx + onsetError*onsetError/(usualDrift*usualDrift))
		f.offset = my - f.drift*mx
	}
	sum, n := 0.0, 0.0
	for _, p := range pairs {
		e := p.first - p.second*(1+f.drift) - f.offset
		sum, n = sum+e*e, n+1
	}
	f.residual = math.Sqrt(sum / max(n, 1))
	return f
}

func medianGap(pairs []pair) float64 {
	gaps := make([]float64, len(pairs))
	for i, p := range pairs {
		gaps[i] = p.first - p.second
	}
	sort.Float64s(gaps)
	return gaps[len(gaps)/2]
}
