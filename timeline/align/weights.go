package align

import (
	"math"
	"sort"
)

// How often signals are heard at all (common practice, no source).
const (
	heardStart = 0.88
	heardEnd   = 0.95
	heardLead  = 0.75
)

// Rates of signals in stretches that do not ask for them, a second (common
// practice, no source), and how long after a jam's end others echo it.
const (
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

// Breaks by what is known of their timeouts, and the rate of the four blasts that
// open one and of the rolling whistle that ends it, a second.
const (
	breakPlain = iota
	breakStop
	breakOpen // not known, or between periods
	breakKinds
)

var rateStop = [breakKinds]float64{breakPlain: 0.0008, breakStop: 0.02, breakOpen: 0.004}

func (k *Known) breakKind() int {
	switch {
	case k == nil || k.Timeouts < 0:
		return breakOpen
	case k.Timeouts > 0:
		return breakStop
	}
	return breakPlain
}

func ladderRate(step int) float64 { return ladderLeast * float64(int(1)<<step) }

func ladderStep(rate float64) int {
	return min(max(int(math.Round(math.Log2(rate/ladderLeast))), 0), ladderSteps-1)
}

// weight of an event as a signal of a Poisson rate r, against no signal. The
// listener's odds hold for the usual rate of officials' series.
func (m *model) weight(e event, r float64, sig Signal) float64 {
	return r / m.blown * math.Exp(min(e.sounds[sig], 50))
}

func (m *model) cumulate() {
	n := len(m.events)
	for b := range m.inBreak {
		m.inBreak[b] = make([]float64, n+1)
	}
	m.lead = make([]float64, n+1)
	m.inJam = make([][]float64, ladderSteps)
	for l := range m.inJam {
		m.inJam[l] = make([]float64, n+1)
	}
	for i, e := range m.events {
		for b, r := range rateStop {
			m.inBreak[b][i+1] = m.inBreak[b][i] + math.Log1p(m.weight(e, r, SigTimeout)+m.weight(e, r, SigGoOn))
		}
		m.lead[i+1] = m.lead[i] + math.Exp(min(e.sounds[SigLead], 50))/m.blown
		for l := range m.inJam {
			m.inJam[l][i+1] = m.inJam[l][i] + math.Log1p(m.weight(e, ladderRate(l), SigPenalty))
		}
	}
}

// firstAfter is the index of the first event that starts after t.
func (m *model) firstAfter(t float64) int {
	return sort.Search(len(m.events), func(i int) bool { return m.events[i].at > t })
}

// jamInside weighs the events between a jam's start and end nodes, d seconds of
// film apart.
func (m *model) jamInside(k *Known, s, e *node, d float64) float64 {
	lo, hi := s.after, max(e.before, s.after)
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
func (m *model) breakInside(kind, lo, hi int, d float64) float64 {
	if hi <= lo {
		hi = lo
	}
	return m.inBreak[kind][hi] - m.inBreak[kind][lo] - 2*rateStop[kind]*max(d, 0)
}
