package align

import "sort"

// event is one heard series on the axis.
type event struct {
	film, series int
	at, end      float64 // axis time, seconds
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
	noise   float64 // rate of sounds that are no signal, a second

	stages []Known // one per jam; one for all when jams are proposed
	loop   bool    // proposing: a jam follows another of the same stage
	starts []node
	ends   []node
	// By stage: the node its start and end are pinned to, -1.
	pinnedStart, pinnedEnd []int

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
