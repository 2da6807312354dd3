package align

import (
	"math"
	"sort"
)

// How often signals are heard at all (common practice, no source).
const (
	heardStart = 0.92
	heardEnd   = 0.95
	heardLead  = 0.75
)

// Rates of signals in stretches that do not ask for them, a second (common
// practice, no source), and how long after a jam's end others echo it.
const (
	rateTimeout = 0.004
	rateGoOn    = 0.003
	rateEcho    = 0.15
	echoSpan    = 6.0
	ratePenalty = 0.012 // where no penalty sheet tells
)

// The penalty rates that sums are kept for: the least, a second, and how many
// steps of doubling; a jam takes the nearest.
const (
	ladderLeast = 0.001
	ladderSteps = 8
)

func ladderRate(step int) float64 { return ladderLeast * float64(int(1)<<step) }

func ladderStep(rate float64) int {
	return min(max(int(math.Round(math.Log2(rate/ladderLeast))), 0), ladderSteps-1)
}

// weight of an event as a signal of a Poisson rate r, against no signal.
func (m *model) weight(e event, r float64, sig Signal) float64 {
	return r / m.noise * math.Exp(min(e.sounds[sig], 50))
}

func (m *model) cumulate() {
	n := len(m.events)
	m.inBreak = make([]float64, n+1)
	m.lead = make([]float64, n+1)
	m.inJam = make([][]float64, ladderSteps)
	for l := range m.inJam {
		m.inJam[l] = make([]float64, n+1)
	}
	for i, e := range m.events {
		m.inBreak[i+1] = m.inBreak[i] + math.Log1p(m.weight(e, rateTimeout, SigTimeout)+m.weight(e, rateGoOn, SigGoOn))
		m.lead[i+1] = m.lead[i] + math.Exp(min(e.sounds[SigLead], 50))/m.noise
		for l := range m.inJam {
			m.inJam[l][i+1] = m.inJam[l][i] + math.Log1p(m.weight(e, ladderRate(l), SigPenalty))
		}
	}
}

// firstAfter is the index of the first event that starts after t.
func (m *model) firstAfter(t float64) int {
	return sort.Search(len(m.events), func(i int) bool { return m.events[i].at > t })
}

// jamInside weighs the events between a jam's start and end nodes.
func (m *model) jamInside(k *Known, s, e *node) float64 {
	lo, hi := s.after, max(e.before, s.after)
	d := e.at - s.at
	rate := ratePenalty
	if k.Penalties >= 0 {
		rate = (float64(k.Penalties) + 0.15) / max(d, 10)
	}
	step := ladderStep(rate)
	p := m.inJam[step][hi] - m.inJam[step][lo] - ladderRate(step)*d
	pair := 1 - heardLead + heardLead*(m.lead[hi]-m.lead[lo])/min(max(d, 8), 60)
	switch k.Lead {
	case Yes:
		p += math.Log(pair)
	case Unknown:
		p += math.Log(0.2 + 0.8*pair)
	}
	return p
}

// breakInside weighs the events from event lo up to hi as part of a break of d
// seconds of film.
func (m *model) breakInside(lo, hi int, d float64) float64 {
	if hi <= lo {
		hi = lo
	}
	return m.inBreak[hi] - m.inBreak[lo] - (rateTimeout+rateGoOn)*max(d, 0)
}
