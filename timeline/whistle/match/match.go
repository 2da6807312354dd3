// Package match holds heard blasts against the true ones.
//
// Two ways of counting are kept apart. Strictly, every blast of every official is
// one to be heard. As a signal, blasts of several officials that sound together
// are one: see Signals.
package match

import (
	"cmp"
	"math"
	"slices"
	"time"

	"whistlecut/timeline/whistle"
)

// Tolerance is how far a heard blast may begin from a true one. Shorter than the
// beat of a series, so that neighbours are not taken for each other.
const Tolerance = 150 * time.Millisecond

// True is one official's blast as it reaches the microphone.
type True struct {
	Onset, Offset time.Duration
	Hz            float64 // strongest tone while steady
	By            string  // the official
}

// Pairs matches heard blasts with true ones (sorted by onset), one to one,
// nearest first. It returns for each heard blast the index of the true one or -1.
func Pairs(truth []True, heard []whistle.Blast) []int {
	return pairs(truth, heard, func(int) time.Duration { return 0 })
}

// PairsLikely is Pairs for candidates of which many are nothing: a candidate that
// is less likely (0..1 each) must be that much nearer.
func PairsLikely(truth []True, heard []whistle.Blast, likely []float64) []int {
	return pairs(truth, heard, func(h int) time.Duration {
		return time.Duration((1 - likely[h]) * float64(60*time.Millisecond))
	})
}

func pairs(truth []True, heard []whistle.Blast, handicap func(h int) time.Duration) []int {
	type pair struct {
		t, h int
		d    time.Duration
	}
	var all []pair
	for h, b := range heard {
		from, _ := slices.BinarySearchFunc(truth, b.Start-Tolerance, func(t True, at time.Duration) int { return cmp.Compare(t.Onset, at) })
		for t := from; t < len(truth) && truth[t].Onset <= b.Start+Tolerance; t++ {
			d := (truth[t].Onset - b.Start).Abs()
			// Of two as near, the one of the same pitch.
			d += time.Duration(20 * float64(time.Millisecond) * min(3, 20*math.Abs(truth[t].Hz/b.Hz-1)))
			all = append(all, pair{t, h, d + handicap(h)})
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

// togetherWithin is how long after the first official another may begin so that
// both are one signal.
const togetherWithin = 150 * time.Millisecond

// Signals numbers the signals that true blasts (sorted by onset) belong to, from
// 0 in order: blasts of several officials are one signal when each begins within
// 0.15 s of the first of them and before that one has ended.
//
// Why: a signal says one thing to the bout however many officials repeat it (a
// jam's end is the first set of four; the others only echo it), and nothing that
// is told apart by whistles depends on who else blew at the same moment. One
// official's own blasts never fall together by this rule: the shortest short
// blast and gap are 0.15 and 0.08 s (common practice, no source), so that two of
// them begin at least 0.23 s apart. The span counts from the first beginning and
// does not go on from link to link. That the limit is 0.15 s, the tolerance by
// which a blast counts as found in time, is our choice.
func Signals(truth []True) []int {
	out := make([]int, len(truth))
	for i := range out {
		out[i] = -1
	}
	n := 0
	for i, first := range truth {
		if out[i] >= 0 {
			continue
		}
		out[i] = n
		by := map[string]bool{first.By: true}
		for k := i + 1; k < len(truth) && truth[k].Onset <= first.Onset+togetherWithin && truth[k].Onset < first.Offset; k++ {
			if out[k] < 0 && !by[truth[k].By] {
				out[k] = n
				by[truth[k].By] = true
			}
		}
		n++
	}
	return out
}
