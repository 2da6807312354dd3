package align

import (
	"math"

	"whistlecut/timeline/whistle"
)

// soundOf is how a signal sounds: the probability of each kind of series when an
// official gives it and it is heard (common practice, no source; set so that a
// hall's echoes and swallowed blasts have room).
var soundOf = map[Signal]map[whistle.Kind]float64{
	SigStart:   {whistle.Short: 0.80, whistle.Pair: 0.03, whistle.Four: 0.01, whistle.Long: 0.08, whistle.Rolling: 0.01, whistle.Unclear: 0.07},
	SigLead:    {whistle.Short: 0.12, whistle.Pair: 0.72, whistle.Four: 0.04, whistle.Long: 0.04, whistle.Rolling: 0.01, whistle.Unclear: 0.07},
	SigEnd:     {whistle.Short: 0.03, whistle.Pair: 0.07, whistle.Four: 0.78, whistle.Long: 0.03, whistle.Rolling: 0.02, whistle.Unclear: 0.07},
	SigPenalty: {whistle.Short: 0.15, whistle.Pair: 0.02, whistle.Four: 0.01, whistle.Long: 0.70, whistle.Rolling: 0.05, whistle.Unclear: 0.07},
	SigTimeout: {whistle.Short: 0.03, whistle.Pair: 0.07, whistle.Four: 0.78, whistle.Long: 0.03, whistle.Rolling: 0.02, whistle.Unclear: 0.07},
	SigGoOn:    {whistle.Short: 0.03, whistle.Pair: 0.02, whistle.Four: 0.02, whistle.Long: 0.30, whistle.Rolling: 0.56, whistle.Unclear: 0.07},
	// What is no official's signal sounds like anything: squeaks, music, the stand.
	SigNone: {whistle.Short: 0.50, whistle.Pair: 0.10, whistle.Four: 0.04, whistle.Long: 0.16, whistle.Rolling: 0.05, whistle.Unclear: 0.15},
}

// kinds in a fixed order.
var kinds = []whistle.Kind{whistle.Short, whistle.Pair, whistle.Four, whistle.Long, whistle.Rolling, whistle.Unclear}

// sounds is one series' log likelihood under each signal, against "none": how
// much more likely it sounds so as that signal than as nothing.
type sounds map[Signal]float64

// listenTo weighs a series. A listener's confidence c is the odds that an official
// blew at all, which count for every signal and against none.
func listenTo(s whistle.Series) sounds {
	likely := s.Likely
	if len(likely) == 0 {
		likely = map[whistle.Kind]float64{s.Kind: 1}
	}
	c := min(max(s.Confidence, 0.02), 0.98)
	odds := math.Log(c / (1 - c))
	out := sounds{SigNone: 0}
	none := mix(likely, SigNone)
	for sig := range soundOf {
		if sig != SigNone {
			out[sig] = math.Log(mix(likely, sig)/none) + odds
		}
	}
	return out
}

func mix(likely map[whistle.Kind]float64, sig Signal) float64 {
	p := 0.0
	for _, k := range kinds {
		p += likely[k] * soundOf[sig][k]
	}
	return max(p, 1e-4)
}
