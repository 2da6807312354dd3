package align

import (
	"math"
	"sort"
	"time"

	"whistlecut/timeline/whistle"
)

// event is one heard series on the axis.
type event struct {
	film, series int
	at, end      float64 // axis time, seconds; a set of four ends with its first set
	island       int
	sounds       sounds
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
	blown   float64 // officials' series, a second

	stages []Known // one per jam; one for all when jams are proposed
	loop   bool    // proposing: a jam follows another of the same stage
	starts []node
	ends   []node
	// By stage: the node its start and end are pinned to, -1.
	pinnedStart, pinnedEnd []int

	// Cumulated over events, length len(events)+1: what events weigh as part of a
	// break by its timeouts, of a jam's penalties by ladder step, and of leads (linear).
	inBreak [breakKinds][]float64
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
	ear := newEar(m.in.Films)
	m.blown = ear.blown
	for i, f := range m.in.Films {
		isl := m.islandOf(i)
		for j, s := range f.Series {
			m.events = append(m.events, event{
				film: i, series: j, at: m.axis(i, secs(s.Start)), end: m.axis(i, secs(firstSetEnd(f, s))), island: isl, sounds: ear.listenTo(s),
			})
		}
	}
	sort.SliceStable(m.events, func(a, b int) bool { return m.events[a].at < m.events[b].at })
}

// firstSetEnd is the end of the first set of a series: echoes by other officials
// belong to the series, but the jam is over with the first fourth blast. A set of
// four takes 1 to 1.8 s (common practice, no source).
func firstSetEnd(f Film, s whistle.Series) time.Duration {
	const usual, most = 1500 * time.Millisecond, 1900 * time.Millisecond
	if s.Kind == whistle.Long || s.Kind == whistle.Rolling || s.Kind == whistle.Short {
		return s.End
	}
	var best time.Duration
	for i := range s.Blasts {
		if end, ok := fourthBlast(f.Blasts, s.Blasts[i:]); ok && (best == 0 || end < best) {
			best = end
		}
	}
	switch {
	case best > 0:
		return best
	case s.End-s.Start <= most:
		return s.End
	}
	return s.Start + usual
}

// fourthBlast follows the first of some blasts by pitch and beat, and returns the
// end of its fourth.
func fourthBlast(all []whistle.Blast, series []int) (time.Duration, bool) {
	const beatLeast, beatMost, samePitch = 150 * time.Millisecond, 650 * time.Millisecond, 0.05
	n := 0
	var last whistle.Blast
	for _, i := range series {
		if i < 0 || i >= len(all) {
			return 0, false
		}
		b := all[i]
		beat := b.Start - last.Start
		if n > 0 && (beat < beatLeast || math.Abs(b.Hz-last.Hz) > samePitch*last.Hz) {
			continue
		}
		if n > 0 && beat > beatMost {
			return 0, false
		}
		n, last = n+1, b
		if n == 4 {
			return last.End, true
		}
	}
	return 0, false
}
