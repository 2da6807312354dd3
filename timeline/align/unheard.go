package align

import (
	"math"
	"sort"
)

// An unheard moment stands for a stretch of time around it, since a density is
// summed: about the spread of what leads to it, seconds.
const (
	unheardWidth = 2.2
	unheardApart = 1.0
	heardNear    = 0.6 // a heard moment so near makes an unheard one needless
	strongScore  = 1.5 // of a heard moment that unheard ones are inferred from
)

// expect adds unheard starts and ends, inferred from strong heard ones: by the
// written durations (for the one jam only), by the full jam, by the line-up.
func (m *model) expect() {
	noStart := math.Log(1-heardStart) + math.Log(unheardWidth)
	noEnd := math.Log(1-heardEnd) + math.Log(unheardWidth)
	anchorStarts, anchorEnds := strong(m.starts), firsts(strong(m.ends))
	starts := &inference{model: m, heard: m.starts, score: noStart}
	ends := &inference{model: m, heard: m.ends, score: noEnd}

	full := m.jamMax + fullOver
	line := m.lineup + lineupOver
	for _, e := range anchorEnds {
		starts.add(e.at+line, e.island, e.only+1, e.pinned)
		starts.add(e.at-full, e.island, e.only, e.pinned)
	}
	for _, s := range anchorStarts {
		ends.add(s.at-line, s.island, s.only-1, s.pinned)
		ends.add(s.at+full, s.island, s.only, s.pinned)
	}
	for k := range m.stages {
		want := secs(m.stages[k].Duration)
		if want <= 0 {
			continue
		}
		for _, e := range anchorEnds {
			if !e.pinned || e.only == k {
				starts.addFor(k, e.at-want, e.island)
			}
		}
		for _, s := range anchorStarts {
			if !s.pinned || s.only == k {
				ends.addFor(k, s.at+want, s.island)
			}
		}
	}
	m.starts = append(m.starts, starts.thinned()...)
	m.ends = append(m.ends, ends.thinned()...)
}

// cutOff adds the ends and starts that fall into the holes between islands.
func (m *model) cutOff() {
	for i, x := range m.islands {
		if i > 0 {
			m.starts = append(m.starts, node{at: x.from, island: i, event: -1, only: -1, edge: true})
		}
		if i < len(m.islands)-1 {
			m.ends = append(m.ends, node{at: x.to, island: i, event: -1, only: -1, edge: true})
		}
	}
}

func strong(list []node) []node {
	var out []node
	for _, n := range list {
		if n.pinned || n.score > strongScore {
			out = append(out, n)
		}
	}
	return out
}

// firsts drops what follows another within the span of echoes: the first set of
// four is the end.
func firsts(list []node) []node {
	byTime(list)
	var out []node
	last := minusInf
	for _, n := range list {
		if n.pinned || n.at-last > echoSpan/2 {
			out = append(out, n)
		}
		last = n.at
	}
	return out
}

// inference collects unheard moments.
type inference struct {
	*model
	heard []node
	score float64
	found []node
}

func (f *inference) add(at float64, isl, only int, pinned bool) {
	if !pinned {
		only = -1
	} else if only < 0 || only >= len(f.stages) {
		return
	}
	f.addFor(only, at, isl)
}

func (f *inference) addFor(k int, at float64, isl int) {
	if x := f.islands[isl]; at < x.from || at > x.to {
		return
	}
	f.found = append(f.found, node{at: at, island: isl, event: -1, score: f.score, only: k})
}

// thinned drops moments nearer than unheardApart to one for the same stage, and
// those near a strong heard one.
func (f *inference) thinned() []node {
	byTime(f.found)
	near := make([]float64, 0, len(f.heard))
	for _, n := range strong(f.heard) {
		near = append(near, n.at)
	}
	sort.Float64s(near)
	last := map[int]float64{}
	var out []node
	for _, n := range f.found {
		i := sort.SearchFloat64s(near, n.at-heardNear)
		if i < len(near) && near[i] < n.at+heardNear {
			continue
		}
		at, ok := last[n.only]
		if ok && n.at-at < unheardApart {
			continue
		}
		if any, ok := last[-1]; ok && n.at-any < unheardApart/2 {
			continue
		}
		last[n.only] = n.at
		out = append(out, n)
	}
	return out
}
