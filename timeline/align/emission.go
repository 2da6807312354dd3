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

// stray is the share of officials' series that belong to no signal of this bout
// (a neighbouring track, a warm-up, a coach): it caps how much one series, however
// surely a whistle, can count (common practice, no source).
const stray = 0.08

// idleWeight is how many series the usual mixture of meaningless sounds counts for
// beside what this hall's own look like.
const idleWeight = 20.0

// ear weighs series by what this hall's meaningless sounds look like.
type ear struct {
	none  map[whistle.Kind]float64
	blown float64 // officials' series, a second
}

// newEar learns from all series of the films what is no signal here: those the
// listener itself doubts.
func newEar(films []Film) ear {
	count := map[whistle.Kind]float64{}
	total, length, blown := idleWeight, 0.0, 4.0
	for _, k := range kinds {
		count[k] = idleWeight * soundOf[SigNone][k]
	}
	for _, f := range films {
		length += secs(f.Length)
		for _, s := range f.Series {
			c := confidence(s)
			blown += c
			total += 1 - c
			for k, p := range likelyOf(s) {
				count[k] += (1 - c) * p
			}
		}
	}
	for k := range count {
		count[k] /= total
	}
	// Officials blow some five series a minute of a bout, echoes included; a film of
	// mere noise must not look rich because it holds fewer.
	return ear{none: count, blown: min(max(blown/max(length, 60), 0.04), 0.3)}
}

// confidence that an official blew at all: a series' own confidence is that and its
// kind being right.
func confidence(s whistle.Series) float64 {
	c := s.Confidence
	if p := s.Likely[s.Kind]; p > 0.3 && s.Kind != whistle.Unclear {
		c /= p
	}
	return min(max(c, 0.02), 0.98)
}

func likelyOf(s whistle.Series) map[whistle.Kind]float64 {
	if len(s.Likely) == 0 {
		return map[whistle.Kind]float64{s.Kind: 1}
	}
	return s.Likely
}

// listenTo weighs a series. A listener's confidence c is the odds that an official
// blew at all, which count for every signal and against none.
func (a ear) listenTo(s whistle.Series) sounds {
	likely, c := likelyOf(s), confidence(s)
	none := (1-c)*mix(likely, a.none) + c*stray/float64(len(kinds))
	out := sounds{SigNone: 0}
	for sig, sound := range soundOf {
		if sig != SigNone {
			out[sig] = math.Log(c * mix(likely, sound) / none)
		}
	}
	return out
}

func mix(likely, sound map[whistle.Kind]float64) float64 {
	p := 0.0
	for _, k := range kinds {
		p += likely[k] * sound[k]
	}
	return max(p, 1e-4)
}
