package align

import (
	"math"
	"slices"
)

// The model's own probability is well calibrated where its assumptions hold (on
// simulated bouts, 8 bouts under six conditions, jams at 0.97 were right in 93 of
// 100, jams at 0.999 in 999 of 1000), but a real hall breaks some of them. It is
// drawn towards one half on the scale of log odds, by a factor that leaves 0.9 to
// what the model holds for surer than 97 in 100, and never says certain. Measured
// with the trained listener on the tuning family of staged sound, four tiers and
// four kinds of sheet, 70 bouts of 10 jams: with 0.6 what was called 0.86 sure was
// right in 96 of 100 and nothing called 0.9 was wrong; with 0.75 one was.
const (
	oddsKept       = 0.6
	mostConfidence = 0.985
)

// tempered is the confidence shown for a model probability p: monotone, 0..mostConfidence.
func tempered(p float64) float64 {
	switch {
	case p <= 0 || math.IsNaN(p):
		return 0
	case p >= 1-1e-9:
		return mostConfidence
	case p <= 0.5:
		return p // doubt is passed on as it is
	}
	return min(1/(1+math.Exp(-oddsKept*math.Log(p/(1-p)))), mostConfidence)
}

// mostUnheard is how sure a start that nobody heard may be: it is inferred from
// line-ups and stopwatches, which are kept by hand, so that even the right chain
// does not say the second (common practice, no source).
const mostUnheard = 0.85

// modest keeps a placing that is doubtful on the whole from being sure of a part of
// it. Durations make a chain sure of itself where the blasts that end a jam fit by
// chance; where they don't fit many jams, in spite of being known, the hall breaks
// what the model takes for granted (echoes that sound like officials), and a fit says
// less than the model thinks. Seen on staged halls of the hard tier: of what was
// called 0.9 sure in bouts whose jams were 0.85 sure and more on average nothing was
// wrong (329 jams), in the others 2 of 93 in one family of halls, in another one, of
// hard reflections, more.
//
// On a sheet without any duration the number of jams holds the chain in its place,
// and a jam that was not found may be the one by which all others are shifted, or
// the first of the film may have begun before it: there all jams count, those
// without a place as not sure at all.
func (c *chain) modest(out []Placed) {
	timed := slices.ContainsFunc(c.stages, func(s Known) bool { return s.Duration > 0 })
	sum, n := 0.0, 0
	for j := range out {
		if !out[j].Hand && (c.stages[j].Duration > 0 || !timed) {
			sum, n = sum+out[j].Confidence, n+1
		}
	}
	if n == 0 || sum/float64(n) >= mostUnheard {
		return
	}
	for j := range out {
		if !out[j].Hand {
			out[j].Confidence = min(out[j].Confidence, mostUnheard)
		}
	}
}
