package simulate

import "whistlecut/timeline"

// Rows is the score sheet as perfect officials write it: two lines a jam, home
// first; after a star pass an SP line, and an empty one on the other side's
// sheet so that both stay level. A trip stands in the line of who completed it.
func (g *Game) Rows() []timeline.JamRow {
	var rows []timeline.JamRow
	for _, j := range g.Truth.Jams {
		for side := range j.Sides {
			rows = append(rows, g.sideRows(j, side)...)
		}
	}
	return rows
}

func (g *Game) sideRows(j *Jam, side int) []timeline.JamRow {
	s, o := &j.Sides[side], &j.Sides[1-side]
	row := timeline.JamRow{
		Period: j.Period, Jam: j.Number, Side: timeline.Sides[side],
		Jammer: timeline.Known(s.Jammer),
		Lost:   timeline.Known(s.Lost),
		Lead:   timeline.Known(s.Lead),
		Call:   timeline.Known(s.Called && j.Ended == timeline.EndCalled),
		Inj:    timeline.Known(j.Ended == timeline.EndInjury),
		NI:     timeline.Known(s.NI[0]),
	}
	sp := timeline.JamRow{
		Period: j.Period, Jam: j.Number, Side: timeline.Sides[side], StarPass: true,
		Jammer: timeline.Known(s.NewJammer),
		Lost:   timeline.Known(false),
		Lead:   timeline.Known(false),
		Call:   timeline.Known(false),
		Inj:    row.Inj,
		NI:     timeline.Known(s.NI[1]),
	}
	var sums [2]int
	for _, t := range s.Trips {
		if t.Number == 1 && len(t.Points) == 0 {
			continue
		}
		r, i := &row, 0
		if t.NewStar {
			r, i = &sp, 1
		}
		sums[i] += len(t.Points)
		// In overtime the initial trip's points stand with trip 2's, which has no
		// column of its own before it.
		at := max(t.Number-2, 0)
		for len(r.Trips) <= at {
			r.Trips = append(r.Trips, timeline.Cell[int]{State: timeline.CellBlank})
		}
		c := &r.Trips[at]
		*c = timeline.Known(c.Value + len(t.Points))
	}
	row.JamTotal, sp.JamTotal = timeline.Known(sums[0]), timeline.Known(sums[1])
	row.GameTotal = timeline.Known(s.Before + sums[0])
	sp.GameTotal = timeline.Known(s.Before + sums[0] + sums[1])
	rows := []timeline.JamRow{row}
	switch {
	case s.NewJammer != "":
		rows = append(rows, sp)
	case o.NewJammer != "":
		rows = append(rows, timeline.JamRow{Period: j.Period, Jam: j.Number, Side: timeline.Sides[side], Spacer: true})
	}
	return rows
}
