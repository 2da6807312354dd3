package align

import (
	"math"
	"sort"
	"time"
)

// node is a moment at which a jam may start, or end.
type node struct {
	at     float64
	island int
	event  int     // index of the series heard there, -1 unheard
	score  float64 // log weight of the signal heard or missed there
	before int     // events that start before the node's own
	after  int     // first event behind the node's own (and, for an end, behind its echoes)
	only   int     // stage that alone may use it, -1 any
	pinned bool    // set by a person: its stage may use no other
	edge   bool    // lies in the hole before (a start) or behind (an end) its island
	echo   float64 // for ends: what the echoes behind it weigh
}

// weakest is the log likelihood ratio below which a series is no candidate for a
// signal any more.
const weakest = -4.5

// place makes the moments at which jams may start and end: every series that may
// sound so, the pinned ones, and unheard ones where the model expects them.
func (m *model) place() {
	claim := -math.Log(m.blown) // against any other series an official may blow
	for i := range m.events {
		e := &m.events[i]
		m.startsIn(i, claim)
		if x := e.sounds[SigEnd]; x > weakest {
			m.ends = append(m.ends, node{at: e.end, island: e.island, event: i, score: math.Log(heardEnd) + x + claim, only: -1})
		}
	}
	m.pin()
	m.expect()
	m.cutOff()
	for i := range m.starts {
		m.bound(&m.starts[i])
	}
	for i := range m.ends {
		m.bound(&m.ends[i])
		m.addEcho(&m.ends[i])
	}
	byTime(m.starts)
	byTime(m.ends)
	m.pinnedStart, m.pinnedEnd = pinnedOf(m.starts, len(m.stages)), pinnedOf(m.ends, len(m.stages))
}

// mixedSeries is the most blasts of a series that a start may hide in; more are a
// set of four with its echoes. hiddenStart is the chance of a start doing so.
const (
	mixedSeries = 6
	hiddenStart = 0.3
)

// startsIn adds the blasts of a series as starts: the start whistle is one blast,
// and noise right before it draws it into a series. Which blast it is their
// confidence tells.
func (m *model) startsIn(i int, claim float64) {
	e := &m.events[i]
	f := m.in.Films[e.film]
	s := f.Series[e.series]
	add := func(at time.Duration, x float64) {
		if x > weakest {
			m.starts = append(m.starts, node{at: m.axis(e.film, secs(at)), island: e.island, event: i, score: math.Log(heardStart) + x + claim, only: -1})
		}
	}
	odds := func(b int) float64 {
		c := min(max(f.Blasts[b].Confidence, 0.02), 0.98)
		return c / (1 - c)
	}
	known := func(b int) bool { return b >= 0 && b < len(f.Blasts) }
	if len(s.Blasts) < 2 || len(s.Blasts) > mixedSeries || !known(s.Blasts[0]) {
		add(s.Start, e.sounds[SigStart])
		return
	}
	sum := 0.0
	for _, b := range s.Blasts {
		if known(b) {
			sum += odds(b)
		}
	}
	for _, b := range s.Blasts {
		if !known(b) {
			continue
		}
		x := e.sounds[SigStart] + math.Log(odds(b)/sum)
		if f.Blasts[b].Start > s.Start {
			o := odds(b)
			x = max(x, math.Log(hiddenStart*o/(1+o*stray)))
		}
		add(f.Blasts[b].Start, x)
	}
}

func byTime(list []node) {
	sort.SliceStable(list, func(a, b int) bool { return list[a].at < list[b].at })
}

// pinnedOf says by stage which node it is pinned to, -1.
func pinnedOf(list []node, stages int) []int {
	out := make([]int, stages)
	for k := range out {
		out[k] = -1
	}
	for i, n := range list {
		if n.pinned && n.only >= 0 {
			out[n.only] = i
		}
	}
	return out
}

// bound says which events lie before and behind a node's own.
func (m *model) bound(n *node) {
	if n.event >= 0 {
		n.before, n.after = n.event, n.event+1
		return
	}
	n.before = m.firstAfter(n.at)
	n.after = n.before
}

// addEcho takes sets of four right behind an end as others repeating it.
func (m *model) addEcho(n *node) {
	for n.after < len(m.events) {
		e := m.events[n.after]
		if e.island != n.island || e.at > n.at+echoSpan {
			return
		}
		n.echo += math.Log1p(m.weight(e, rateEcho, SigEnd))
		n.after++
	}
}
