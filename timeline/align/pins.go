package align

import (
	"math"

	"whistlecut/timeline"
)

// pinSnap is how near a series must lie to a hand-set edge to be its signal, s.
const pinSnap = 0.4

// pin turns hand-set edges into the only nodes their jams may use. A pin on
// footage that is not among the films says nothing about these.
func (m *model) pin() {
	if m.loop {
		return
	}
	for _, p := range m.in.Pins {
		k := m.stageOf(p.Jam)
		film := m.filmAt(p)
		if k < 0 || film < 0 {
			continue
		}
		n := node{at: m.axis(film, secs(p.Film)), island: m.islandOf(film), event: -1, only: k, pinned: true}
		for j, e := range m.events {
			at := e.at
			if p.Edge == timeline.EdgeEnd {
				at = e.end
			}
			if e.film == film && math.Abs(at-n.at) < pinSnap {
				n.event = j
			}
		}
		list := &m.starts
		if p.Edge == timeline.EdgeEnd {
			list = &m.ends
		}
		*list = append(dropPinned(*list, k), n)
	}
}

// dropPinned removes an earlier pin of the stage: the last one set counts.
func dropPinned(list []node, k int) []node {
	out := list[:0]
	for _, n := range list {
		if !n.pinned || n.only != k {
			out = append(out, n)
		}
	}
	return out
}

func (m *model) stageOf(jam timeline.ID) int {
	for k := range m.stages {
		if m.stages[k].ID == jam {
			return k
		}
	}
	return -1
}

func (m *model) filmAt(p Pin) int {
	for i, f := range m.in.Films {
		if f.Footage == p.Footage && p.Film >= f.From && p.Film <= f.From+f.Length {
			return i
		}
	}
	return -1
}
