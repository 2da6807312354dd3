package bench

import (
	"cmp"
	"math"
	"slices"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/whistle"
)

// onsetTolerance is how far a heard blast may begin from a true one. Shorter than
// the beat of a series, so that neighbours are not taken for each other.
const onsetTolerance = 150 * time.Millisecond

// pairs matches heard blasts with true ones, one to one, nearest first. It
// returns for each heard blast the index of the true one or -1.
func pairs(truth []sound.Blast, heard []whistle.Blast) []int {
	type pair struct {
		t, h int
		d    time.Duration
	}
	var all []pair
	for h, b := range heard {
		from, _ := slices.BinarySearchFunc(truth, b.Start-onsetTolerance, func(t sound.Blast, at time.Duration) int { return cmp.Compare(t.Onset, at) })
		for t := from; t < len(truth) && truth[t].Onset <= b.Start+onsetTolerance; t++ {
			d := max(truth[t].Onset-b.Start, b.Start-truth[t].Onset)
			// Of two as near, the one of the same pitch.
			d += time.Duration(20 * float64(time.Millisecond) * min(3, 20*math.Abs(truth[t].Hz/b.Hz-1)))
			all = append(all, pair{t, h, d})
		}
	}
	slices.SortStableFunc(all, func(a, b pair) int { return cmp.Compare(a.d, b.d) })
	out := make([]int, len(heard))
	for i := range out {
		out[i] = -1
	}
	used := make([]bool, len(truth))
	for _, p := range all {
		if out[p.h] < 0 && !used[p.t] {
			out[p.h], used[p.t] = p.t, true
		}
	}
	return out
}

// tally is how well blasts were heard.
type tally struct {
	truth, heard, hit int
	late              []float64 // heard minus true onset, ms
	ends              []float64 // the same of the ends
	brier             float64   // summed
	sure, sureRight   int       // of confidence 0.9 and more
	decoys            int       // false blasts that were decoys
	seconds           float64   // of sound
	busy              time.Duration
}

func (t *tally) add(take *Take, heard []whistle.Blast) {
	t.truth += len(take.Truth.Blasts)
	t.seconds += take.Length.Seconds()
	match := pairs(take.Truth.Blasts, heard)
	for i, b := range heard {
		t.heard++
		right := 0.0
		if m := match[i]; m >= 0 {
			right = 1
			t.hit++
			t.late = append(t.late, (b.Start-take.Truth.Blasts[m].Onset).Seconds()*1000)
			t.ends = append(t.ends, (b.End-take.Truth.Blasts[m].Offset).Seconds()*1000)
		} else if isDecoy(take.Truth.Decoys, b) {
			t.decoys++
		}
		if b.Confidence >= 0.9 {
			t.sure++
			t.sureRight += int(right)
		}
		t.brier += (b.Confidence - right) * (b.Confidence - right)
	}
}

func (t *tally) merge(o tally) {
	t.truth += o.truth
	t.heard += o.heard
	t.hit += o.hit
	t.late = append(t.late, o.late...)
	t.ends = append(t.ends, o.ends...)
	t.brier += o.brier
	t.sure += o.sure
	t.sureRight += o.sureRight
	t.decoys += o.decoys
	t.seconds += o.seconds
	t.busy += o.busy
}

func isDecoy(list []sound.Decoy, b whistle.Blast) bool {
	for _, d := range list {
		if b.Start < d.Offset && b.End > d.Onset {
			return true
		}
	}
	return false
}

func ratio(a, b int) float64 {
	if b == 0 {
		return 0
	}
	return float64(a) / float64(b)
}

func (t *tally) precision() float64 { return ratio(t.hit, t.heard) }

func (t *tally) recall() float64 { return ratio(t.hit, t.truth) }

func (t *tally) f1() float64 { return ratio(2*t.hit, t.heard+t.truth) }

// middle is the median of x and how far the middle two thirds lie from it:
// robust stand-ins for bias and spread.
func middle(x []float64) (median, spread float64) {
	if len(x) == 0 {
		return 0, 0
	}
	s := slices.Clone(x)
	slices.Sort(s)
	return s[len(s)/2], (s[len(s)*5/6] - s[len(s)/6]) / 2
}
