package align

import (
	"math"
	"sort"

	"whistlecut/timeline"
)

// place makes the moments at which jams may start and end: every series that may
// sound so, the pinned ones, and unheard ones where the model expects them.
func (m *model) place() {
	m.pinned = make([]int, len(m.stages))
	for i := range m.pinned {
		m.pinned[i] = -1
	}
	m.pin()
	miss := math.Log(m.noise) // the price of an event claimed is its rate as noise
	for i := range m.events {
		e := &m.events[i]
		if x := e.sounds[SigStart]; x > -4.5 {
			m.starts = append(m.starts, node{at: e.at, island: e.island, event: i, score: math.Log(heardStart) + x - miss, only: -1})
		}
		if x := e.sounds[SigEnd]; x > -4.5 {
			m.ends = append(m.ends, m.endAt(e.end, e.island, i, math.Log(heardEnd)+x-miss))
		}
	}
	m.expect()
	for i := range m.starts {
		m.bound(&m.starts[i])
	}
	for i := range m.ends {
		m.bound(&m.ends[i])
		m.addEcho(&m.ends[i])
	}
	order := make([]int, len(m.starts))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return m.starts[order[a]].at < m.starts[order[b]].at })
	sorted := make([]node, len(order))
	to := make([]int, len(order))
	for i, o := range order {
		sorted[i], to[o] = m.starts[o], i
	}
	m.starts = sorted
	for k, p := range m.pinned {
		if p >= 0 {
			m.pinned[k] = to[p]
		}
	}
	sort.SliceStable(m.ends, func(a, b int) bool { return m.ends[a].at < m.ends[b].at })
}

func (m *model) endAt(at float64, isl, ev int, score float64) node {
	return node{at: at, island: isl, event: ev, score: score, only: -1}
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

// pin turns hand-set starts into the only nodes their jams may use.
func (m *model) pin() {
	for _, p := range m.in.Pins {
		if p.Edge != timeline.EdgeStart {
			continue
		}
		for k := range m.stages {
			if m.stages[k].ID != p.Jam || m.loop {
				continue
			}
			for i, f := range m.in.Films {
				at := secs(p.Film)
				if f.Footage != p.Footage || at < secs(f.From)-1 || at > secs(f.From+f.Length)+1 {
					continue
				}
				n := node{at: m.axis(i, at), island: m.islandOf(i), event: -1, only: k}
				for j, e := range m.events {
					if e.film == i && math.Abs(e.at-n.at) < 0.4 {
						n.event = j
					}
				}
				m.pinned[k] = len(m.starts)
				m.starts = append(m.starts, n)
			}
		}
	}
}

// expect adds unheard starts and ends. An unheard moment stands for a stretch of
// time around it (its width), since a density is summed.
func (m *model) expect() {
	const width = 2.0
	noStart, noEnd := math.Log(1-heardStart)+math.Log(width), math.Log(1-heardEnd)+math.Log(width)
	lengths := map[int]bool{}
	for _, k := range m.stages {
		if k.Duration > 0 {
			lengths[int(math.Round(secs(k.Duration)))] = true
		}
	}
	heardStarts, heardEnds := len(m.starts), len(m.ends)
	var starts, ends []node
	in := func(n node) bool {
		x := m.islands[n.island]
		return n.at >= x.from && n.at <= x.to
	}
	add := func(list *[]node, at float64, isl int, score float64, k int) {
		if n := (node{at: at, island: isl, event: -1, score: score, only: k}); in(n) {
			*list = append(*list, n)
		}
	}
	strong := func(n node) bool { return n.event < 0 || n.score > 1 }
	for _, n := range m.ends[:heardEnds] {
		if !strong(n) {
			continue
		}
		add(&starts, n.at+m.lineup+0.7, n.island, noStart, -1)
		for d := range lengths {
			add(&starts, n.at-float64(d), n.island, noStart, -1)
		}
		add(&starts, n.at-m.jamMax-1.4, n.island, noStart, -1)
	}
	for _, n := range m.starts[:heardStarts] {
		if !strong(n) {
			continue
		}
		add(&ends, n.at-m.lineup-0.7, n.island, noEnd, -1)
		add(&ends, n.at+m.jamMax+1.4, n.island, noEnd, -1)
		for d := range lengths {
			add(&ends, n.at+float64(d), n.island, noEnd, -1)
		}
	}
	m.starts = append(m.starts, thin(starts, width/2)...)
	m.ends = append(m.ends, thin(ends, width/2)...)
}

// thin drops nodes nearer than gap to the one before.
func thin(list []node, gap float64) []node {
	sort.SliceStable(list, func(a, b int) bool { return list[a].at < list[b].at })
	var out []node
	for _, n := range list {
		if len(out) == 0 || n.at-out[len(out)-1].at >= gap {
			out = append(out, n)
		}
	}
	return out
}
