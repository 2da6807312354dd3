package align

import "math"

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

// leastOnTheWhole is how sure the jams of a placing must be on average for one of them
// to be surer than mostUnheard.
const leastOnTheWhole = 0.9

// modest keeps a placing that is doubtful on the whole from being sure of a part of
// it. Durations make a chain sure of itself where the blasts that end a jam fit by
// chance; where they don't fit many jams, in spite of being known, the hall breaks
// what the model takes for granted (echoes that sound like officials), and a fit says
// less than the model thinks. Seen on 24 staged bouts of the hard tier with loosely
// kept durations: the one jam of 75 that was called 0.9 sure and more and was wrong
// was in a bout of 0.87 on average.
//
// On a sheet without any duration the number of jams alone holds the chain in its
// place: a jam that no film shows shifts all others, and what follows fits as well.
// There nothing is sure before one jam was set by hand. Seen on the same bouts, film
// from three tenths on: all 7 jams that were called 0.9 sure were of another number.
//
// It reports whether the sheet was bare and nothing set by hand.
func (c *chain) modest(out []Placed) (bare bool) {
	// What lies before the film or behind it says nothing.
	first, last := len(out), -1
	for j := range out {
		if out[j].Footage != "" {
			first, last = min(first, j), j
		}
	}
	sum, timed, hand := 0.0, 0, false
	for j := first; j <= last; j++ {
		switch {
		case out[j].Hand:
			hand = true
		case c.stages[j].Duration > 0:
			sum, timed = sum+out[j].Confidence, timed+1
		}
	}
	if timed > 0 && sum/float64(timed) >= leastOnTheWhole || timed == 0 && hand {
		return false
	}
	for j := range out {
		if !out[j].Hand {
			out[j].Confidence = min(out[j].Confidence, mostUnheard)
		}
	}
	return timed == 0 && last >= 0
}
