package bench

import (
	"slices"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/whistle"
	"whistlecut/timeline/whistle/match"
)

// trueBlasts are the officials' blasts of a truth, sorted by onset.
func trueBlasts(t sound.Truth) []match.True {
	out := make([]match.True, len(t.Blasts))
	for i, b := range t.Blasts {
		out[i] = match.True{Onset: b.Onset, Offset: b.Offset, Hz: b.Hz, By: string(b.Official)}
	}
	return out
}

// tally is how well blasts were heard.
type tally struct {
	truth, heard, hit int
	// The same with blasts of several officials at once as one (match.Signals). A
	// second blast heard of such a signal counts neither way; false ones count as
	// they do strictly.
	signals, signalHit int
	late               []float64 // heard minus true onset, ms
	ends               []float64 // the same of the ends
	decoys             int       // false blasts that were decoys
	seconds            float64   // of sound
	busy               time.Duration
	deciles            [10]decile
}

// decile is how the confidences of one tenth of their range came out.
type decile struct {
	heard, right int
	said, brier  float64 // summed
}

// add counts heard blasts, of whatever confidence: those below whistle.Least
// only in the deciles.
func (t *tally) add(take *Take, all []whistle.Blast) {
	truth := trueBlasts(take.Truth)
	for i, m := range match.Pairs(truth, all) {
		c := all[i].Confidence
		d := &t.deciles[min(int(c*10), 9)]
		d.heard++
		d.said += c
		if m >= 0 {
			d.right++
			c--
		}
		d.brier += c * c
	}
	var heard []whistle.Blast
	for _, b := range all {
		if b.Confidence >= whistle.Least {
			heard = append(heard, b)
		}
	}
	signal := match.Signals(truth)
	got := map[int]bool{}
	t.truth += len(truth)
	t.heard += len(heard)
	t.seconds += take.Length.Seconds()
	if len(signal) > 0 {
		t.signals += slices.Max(signal) + 1
	}
	for i, m := range match.Pairs(truth, heard) {
		b := heard[i]
		if m < 0 {
			if isDecoy(take.Truth.Decoys, b) {
				t.decoys++
			}
			continue
		}
		t.hit++
		got[signal[m]] = true
		t.late = append(t.late, (b.Start-truth[m].Onset).Seconds()*1000)
		t.ends = append(t.ends, (b.End-truth[m].Offset).Seconds()*1000)
	}
	t.signalHit += len(got)
}

func (t *tally) merge(o tally) {
	t.truth, t.heard, t.hit = t.truth+o.truth, t.heard+o.heard, t.hit+o.hit
	t.signals, t.signalHit = t.signals+o.signals, t.signalHit+o.signalHit
	t.late = append(t.late, o.late...)
	t.ends = append(t.ends, o.ends...)
	t.decoys += o.decoys
	t.seconds += o.seconds
	t.busy += o.busy
	for i, d := range o.deciles {
		s := &t.deciles[i]
		s.heard, s.right = s.heard+d.heard, s.right+d.right
		s.said, s.brier = s.said+d.said, s.brier+d.brier
	}
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

func (t *tally) wrong() int { return t.heard - t.hit }

func (t *tally) signalPrecision() float64 { return ratio(t.signalHit, t.signalHit+t.wrong()) }

func (t *tally) signalRecall() float64 { return ratio(t.signalHit, t.signals) }

func (t *tally) signalF1() float64 {
	return ratio(2*t.signalHit, t.signalHit+t.wrong()+t.signals)
}

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
