package match

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline/whistle"
)

const ms = time.Millisecond

func blast(by string, on, length time.Duration) True {
	return True{Onset: on, Offset: on + length, Hz: 3000, By: by}
}

func TestSignals(t *testing.T) {
	for _, c := range []struct {
		name  string
		truth []True
		want  []int
	}{
		{"nothing", nil, []int{}},
		{"one official's series", []True{blast("a", 0, 150*ms), blast("a", 230*ms, 150*ms)}, []int{0, 1}},
		{"an echo at once", []True{blast("a", 0, 200*ms), blast("b", 40*ms, 200*ms)}, []int{0, 0}},
		{"an echo at the limit", []True{blast("a", 0, 200*ms), blast("b", 150*ms, 200*ms)}, []int{0, 0}},
		{"an echo past it", []True{blast("a", 0, 200*ms), blast("b", 151*ms, 200*ms)}, []int{0, 1}},
		{"the first has ended", []True{blast("a", 0, 100*ms), blast("b", 120*ms, 200*ms)}, []int{0, 1}},
		{"no chain of echoes", []True{blast("a", 0, 300*ms), blast("b", 100*ms, 300*ms), blast("c", 200*ms, 300*ms)}, []int{0, 0, 1}},
		{"the same official never", []True{blast("a", 0, 300*ms), blast("a", 100*ms, 300*ms)}, []int{0, 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Signals(c.truth); !slices.Equal(got, c.want) {
				t.Errorf("signals %v, want %v", got, c.want)
			}
		})
	}
}

func TestPairs(t *testing.T) {
	truth := []True{blast("a", 1000*ms, 200*ms), blast("b", 1040*ms, 200*ms), blast("a", 1400*ms, 200*ms)}
	truth[1].Hz = 2500
	for _, c := range []struct {
		name  string
		heard []whistle.Blast
		want  []int
	}{
		{"each its own", []whistle.Blast{{Start: 1010 * ms, Hz: 3000}, {Start: 1410 * ms, Hz: 3000}}, []int{0, 2}},
		{"of two as near the one of its pitch", []whistle.Blast{{Start: 1020 * ms, Hz: 2510}}, []int{1}},
		{"one to one", []whistle.Blast{{Start: 1400 * ms, Hz: 3000}, {Start: 1405 * ms, Hz: 3000}}, []int{2, -1}},
		{"too late", []whistle.Blast{{Start: 1551 * ms, Hz: 3000}}, []int{-1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Pairs(truth, c.heard); !slices.Equal(got, c.want) {
				t.Errorf("pairs %v, want %v", got, c.want)
			}
		})
	}
	likely := PairsLikely(truth, []whistle.Blast{{Start: 1400 * ms, Hz: 3000}, {Start: 1405 * ms, Hz: 3000}}, []float64{0.1, 0.9})
	if !slices.Equal(likely, []int{-1, 2}) {
		t.Errorf("the likelier of two gave way: %v", likely)
	}
}

// Whatever is heard: pairs are one to one and within the tolerance; a signal
// holds an official once and begins within its span.
func TestAnyTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var truth []True
		for at := 0; len(truth) < rapid.IntRange(0, 20).Draw(t, "n"); {
			at += rapid.IntRange(0, 200).Draw(t, "gap")
			truth = append(truth, blast(rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "by"), time.Duration(at)*ms, time.Duration(rapid.IntRange(50, 400).Draw(t, "length"))*ms))
		}
		var heard []whistle.Blast
		for _, at := range rapid.SliceOfN(rapid.IntRange(0, 3000), 0, 20).Draw(t, "heard") {
			heard = append(heard, whistle.Blast{Start: time.Duration(at) * ms, Hz: 3000})
		}
		used := map[int]bool{}
		for h, k := range Pairs(truth, heard) {
			if k < 0 {
				continue
			}
			if used[k] || (truth[k].Onset-heard[h].Start).Abs() > Tolerance {
				t.Fatalf("pair of %v and %v", truth[k], heard[h])
			}
			used[k] = true
		}
		first := map[int]True{}
		officials := map[int]map[string]bool{}
		for i, s := range Signals(truth) {
			b := truth[i]
			f, ok := first[s]
			if !ok {
				if s != len(first) {
					t.Fatalf("signal %d after %d others", s, len(first))
				}
				first[s], officials[s] = b, map[string]bool{b.By: true}
				continue
			}
			if officials[s][b.By] || b.Onset > f.Onset+150*ms || b.Onset >= f.Offset {
				t.Fatalf("%v and %v are one signal", f, b)
			}
			officials[s][b.By] = true
		}
	})
}
