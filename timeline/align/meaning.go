package align

import (
	"whistlecut/timeline"
)

type timelineID = timeline.ID

// meaning says what each series was, given where the jams are.
func (m *model) meaning(jams []Placed) []Heard {
	type edge struct{ film, series int }
	starts, ends := map[edge]timelineID{}, map[edge]timelineID{}
	spans := map[timelineID][]*Placed{}
	for i := range jams {
		j := &jams[i]
		if j.Footage == "" {
			continue
		}
		spans[j.Footage] = append(spans[j.Footage], j)
		for f := range m.in.Films {
			if m.in.Films[f].Footage != j.Footage {
				continue
			}
			if j.StartSeries >= 0 {
				starts[edge{f, j.StartSeries}] = j.Jam
			}
			if j.EndSeries >= 0 && j.EndFootage == j.Footage {
				ends[edge{f, j.EndSeries}] = j.Jam
			}
		}
	}
	var out []Heard
	for _, e := range m.events {
		film := m.in.Films[e.film]
		h := Heard{Footage: film.Footage, Series: e.series, Signal: SigNone}
		key := edge{e.film, e.series}
		at := film.Series[e.series].Start
		inside := false
		for _, j := range spans[film.Footage] {
			if at >= j.Start && at < j.End {
				inside, h.Jam = true, j.Jam
			} else if at >= j.End && !inside {
				h.Jam = j.Jam
			}
		}
		if id, ok := starts[key]; ok {
			h.Signal, h.Jam = SigStart, id
		} else if id, ok := ends[key]; ok {
			h.Signal, h.Jam = SigEnd, id
		} else {
			h.Signal = likeliest(e.sounds, inside)
		}
		out = append(out, h)
	}
	return out
}

// likeliest is the signal a series inside or outside a jam sounds like most.
func likeliest(s sounds, inside bool) Signal {
	among := []Signal{SigTimeout, SigGoOn}
	if inside {
		among = []Signal{SigLead, SigPenalty}
	}
	best := SigNone
	for _, x := range among {
		if s[x] > s[best] {
			best = x
		}
	}
	return best
}
