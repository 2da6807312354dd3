package whistle

import "math"

// The whistle's search band in Hz: fundamentals of officials' whistles in halls
// lie between 2.3 and 4.0 kHz; the start of the rise and a few far models need
// room on both sides.
const (
	lowestHz  = 1900.0
	highestHz = 4700.0
)

// most is how many humps of one spectrum are looked at.
const most = 6

// standOut is how far a hump must rise above the background to be looked at, dB.
const standOut = 5.0

// frame is what is kept of one window.
type frame struct {
	// db is the power spectrum in dB, smoothed over three bins.
	db [bins]float32
	// ground is the median level round the whistle band, all the level of the
	// whole sound above 200 Hz, both dB.
	ground, all float32
	humps       [most]hump
	n           int // humps in use, strongest first
	// floor is the slow level of each bin in the search band up to a quarter of a
	// second ago: sustained music and hum lie near it.
	floor [searchBins]float32
}

// hump is a place of the spectrum that stands out.
type hump struct {
	hz, level float32 // Hz, dB
}

// Bins of the search band and of the stretch that the background is taken from.
var (
	firstBin  = int(math.Round(lowestHz / binHz))
	lastBin   = int(math.Round(highestHz / binHz))
	groundLow = int(math.Round(1500 / binHz))
	groundTop = int(math.Round(6000 / binHz))
)

// searchBins is at least lastBin-firstBin+1.
const searchBins = 92

// clusterHalf is the half width of the triangle that gathers the partials of one
// whistle, in bins: 125 Hz.
const clusterHalf = 4

// framer turns windows into frames.
type framer struct {
	spec    *spectrum
	power   [bins]float64
	cluster [bins]float64
	order   [bins]float64
	top     float64 // highest frequency with sound, in bins; follows slowly
	n       float64 // frames that it has followed
}

func newFramer() *framer { return &framer{spec: newSpectrum(window), top: bins - 1} }

// fill computes the frame of a window of samples.
func (fr *framer) fill(f *frame, x []float32) {
	p := &fr.power
	fr.spec.power(p[:], x)
	all := 0.0
	for k := 6; k < bins; k++ {
		all += p[k]
	}
	f.all = float32(db(all))
	for k := range p {
		lo, hi := max(k-1, 0), min(k+1, bins-1)
		f.db[k] = fastDB(0.25*p[lo] + 0.5*p[k] + 0.25*p[hi])
	}
	for k := firstBin - 2*clusterHalf; k <= groundTop; k++ {
		sum := 0.0
		for j := -clusterHalf; j <= clusterHalf; j++ {
			w := float64(clusterHalf + 1 - max(j, -j))
			sum += w * p[k+j]
		}
		fr.cluster[k] = sum / ((clusterHalf + 1) * (clusterHalf + 1))
	}
	fr.bandwidth(f)
	f.ground = fr.background(f)
	fr.findHumps(f)
}

// bandwidth follows the highest frequency that holds sound: telephones and low
// bit rates leave nothing above 4 or 5 kHz, which must not count as quiet.
func (fr *framer) bandwidth(f *frame) {
	k := bins - 4
	for k > groundLow+32 && f.db[k] < f.all-70 {
		k--
	}
	rate := 0.002
	if float64(k) > fr.top {
		rate = 0.05
	}
	// At first it is the plain mean, so that it does not take seconds to find.
	fr.n++
	rate = max(rate, 1/fr.n)
	fr.top += rate * (float64(k) - fr.top)
}

// background is the median level over the surroundings of the whistle band.
func (fr *framer) background(f *frame) float32 {
	n := 0
	for k := groundLow; k <= min(groundTop, int(fr.top)); k += 2 {
		fr.order[n] = float64(f.db[k])
		n++
	}
	if n == 0 {
		return f.db[groundLow]
	}
	return float32(selectNth(fr.order[:n], n/2))
}

// findHumps lists the local peaks of the clustered spectrum that stand out.
func (fr *framer) findHumps(f *frame) {
	f.n = 0
	c := &fr.cluster
	need := math.Pow(10, (float64(f.ground)+standOut)/10)
	for k := firstBin; k <= lastBin; k++ {
		if c[k] < need || c[k] < c[k-1] || c[k] < c[k+1] || c[k] < c[k-2] || c[k] < c[k+2] {
			continue
		}
		best := k
		for j := k - 3; j <= k+3; j++ {
			if f.db[j] > f.db[best] {
				best = j
			}
		}
		f.insert(hump{hz: peakHz(f, best), level: fastDB(c[k])})
	}
}

// peakHz is the top of the parabola through a bin and its neighbours.
func peakHz(f *frame, k int) float32 {
	a, b, c := f.db[k-1], f.db[k], f.db[k+1]
	d := a - 2*b + c
	shift := float32(0)
	if d < -1e-3 {
		shift = max(-0.5, min(0.5, 0.5*(a-c)/d))
	}
	return (float32(k) + shift) * float32(binHz)
}

// insert keeps the strongest humps; of two peaks within 60 Hz the stronger.
func (f *frame) insert(h hump) {
	for i := range f.n {
		if d := f.humps[i].hz - h.hz; d < 60 && d > -60 {
			if f.humps[i].level < h.level {
				copy(f.humps[i:], f.humps[i+1:f.n])
				f.n--
				break
			}
			return
		}
	}
	i := f.n
	for i > 0 && f.humps[i-1].level < h.level {
		i--
	}
	if i >= most {
		return
	}
	f.n = min(f.n+1, most)
	copy(f.humps[i+1:f.n], f.humps[i:])
	f.humps[i] = h
}

// fastDB is db in single precision.
func fastDB(p float64) float32 { return float32(10 * math.Log10(p+1e-15)) }

// selectNth returns the n-th smallest of x (from 0) and changes the order of x.
func selectNth(x []float64, n int) float64 {
	lo, hi := 0, len(x)-1
	for lo < hi {
		pivot := x[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for x[j] > pivot {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i++
				j--
			}
		}
		switch {
		case n <= j:
			hi = j
		case n >= i:
			lo = i
		default:
			return x[n]
		}
	}
	return x[n]
}
