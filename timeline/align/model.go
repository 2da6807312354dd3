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

// ladder are the penalty rates that sums are kept for; a jam takes the nearest.
var ladder = []float64{0.001, 0.004, 0.008, 0.016, 0.032, 0.064, 0.128}

// event is one heard series on the axis.
type event struct {
	film, series int
	at, end      float64 // axis time, seconds
	island       int
	sounds       sounds
}

// node is a moment at which a jam may start, or end.
type node struct {
	at     float64
	island int
	event  int     // index of the series heard there, -1 unheard
	score  float64 // log weight of the signal heard or missed there
	before int     // events that start before the node's own
	after  int     // first event behind the node's own (and, for an end, behind its echoes)
	only   int     // stage that alone may use it (pinned), -1 any
	echo   float64 // for ends: what the echoes behind it weigh
}

// island is a stretch of film without a hole, on the axis.
type island struct {
	from, to float64
	films    []int
}

// model is one alignment at work.
type model struct {
	in       Input
	jamMax   float64
	lineup   float64
	overtime float64

	base    []float64 // axis time of each film's From
	islands []island
	events  []event
	noise   float64 // rate of sounds that are no signal, a second

	stages []Known // one per jam; one for all when jams are proposed
	loop   bool    // proposing: a jam follows another of the same stage
	starts []node
	ends   []node
	pinned []int // by stage: index of the start node it is pinned to, -1

	// Cumulated over events, length len(events)+1: what events weigh as part of a
	// break, of a jam's penalties by ladder step, and of leads (linear).
	inBreak []float64
	inJam   [][]float64
	lead    []float64
}

// holeWidth keeps islands apart on the axis; lengths across it are never measured.
const holeWidth = 100000.0

func newModel(in Input) *model {
	m := &model{in: in, jamMax: 120, lineup: 30, overtime: 60}
	if r := in.Rules; r.JamLength > 0 {
		m.jamMax = secs(r.JamLength)
		if r.LineupTime > 0 {
			m.lineup = secs(r.LineupTime)
		}
		if r.OvertimeLine > 0 {
			m.overtime = secs(r.OvertimeLine)
		}
	}
	m.stages = in.Jams
	if len(m.stages) == 0 {
		m.loop = true
		m.stages = []Known{{Penalties: -1, Timeouts: -1}}
	}
	m.layOut()
	m.hear()
	m.cumulate()
	m.place()
	return m
}

// layOut puts the films on one axis.
func (m *model) layOut() {
	at := 0.0
	for i, f := range m.in.Films {
		if i == 0 || !f.Follows {
			if i > 0 {
				at += holeWidth
			}
			m.islands = append(m.islands, island{from: at, to: at})
		}
		m.base = append(m.base, at)
		at += secs(f.Length)
		last := &m.islands[len(m.islands)-1]
		last.to = at
		last.films = append(last.films, i)
	}
}

func (m *model) islandOf(film int) int {
	for i, x := range m.islands {
		for _, f := range x.films {
			if f == film {
				return i
			}
		}
	}
	return -1
}

// axis is the axis time of a film time.
func (m *model) axis(film int, s float64) float64 {
	return m.base[film] + s - secs(m.in.Films[film].From)
}

func (m *model) hear() {
	total := 0.0
	for i, f := range m.in.Films {
		total += secs(f.Length)
		isl := m.islandOf(i)
		for j, s := range f.Series {
			m.events = append(m.events, event{
				film: i, series: j, at: m.axis(i, secs(s.Start)), end: m.axis(i, secs(s.End)), island: isl, sounds: listenTo(s),
			})
		}
	}
	sort.SliceStable(m.events, func(a, b int) bool { return m.events[a].at < m.events[b].at })
	// The rate of sounds that mean nothing, by the listener's own confidence.
	none := 2.0
	for _, e := range m.events {
		s := m.in.Films[e.film].Series[e.series]
		none += 1 - min(max(s.Confidence, 0), 1)
	}
	m.noise = none / max(total, 60)
}

// weight of an event as a signal of a Poisson rate r, against no signal.
func (m *model) weight(e event, r float64, sig Signal) float64 {
	return r / m.noise * math.Exp(min(e.sounds[sig], 50))
}

func (m *model) cumulate() {
	n := len(m.events)
	m.inBreak = make([]float64, n+1)
	m.lead = make([]float64, n+1)
	m.inJam = make([][]float64, len(ladder))
	for l := range ladder {
		m.inJam[l] = make([]float64, n+1)
	}
	for i, e := range m.events {
		m.inBreak[i+1] = m.inBreak[i] + math.Log1p(m.weight(e, rateTimeout, SigTimeout)+m.weight(e, rateGoOn, SigGoOn))
		m.lead[i+1] = m.lead[i] + math.Exp(min(e.sounds[SigLead], 50))/m.noise
		for l, r := range ladder {
			m.inJam[l][i+1] = m.inJam[l][i] + math.Log1p(m.weight(e, r, SigPenalty))
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
	step := 0
	for i, r := range ladder {
		if math.Abs(math.Log(r/rate)) < math.Abs(math.Log(ladder[step]/rate)) {
			step = i
		}
	}
	p := m.inJam[step][hi] - m.inJam[step][lo] - ladder[step]*d
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
