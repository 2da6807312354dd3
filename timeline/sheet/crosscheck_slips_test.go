package sheet_test

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
	"whistlecut/timeline/simulate"
)

// slip is one thing done to a sheet's score rows. Row and Other are taken modulo
// the rows there are, so that a slip fits any sheet.
type slip struct {
	What       string
	Row, Other int
	N          int
	State      timeline.CellState
}

// slipKinds are the things that a slip can do.
var slipKinds = map[string]func(rows []timeline.JamRow, r *timeline.JamRow, s slip) []timeline.JamRow{
	"delete": func(rows []timeline.JamRow, _ *timeline.JamRow, s slip) []timeline.JamRow {
		return slices.Delete(rows, s.Row, s.Row+1)
	},
	"double": func(rows []timeline.JamRow, r *timeline.JamRow, s slip) []timeline.JamRow {
		twin := *r
		twin.Trips = slices.Clone(r.Trips)
		return slices.Insert(rows, s.Row, twin)
	},
	"copy to the other team": func(rows []timeline.JamRow, r *timeline.JamRow, s slip) []timeline.JamRow {
		twin := *r
		twin.Trips, twin.Side = slices.Clone(r.Trips), r.Side.Other()
		return slices.Insert(rows, s.Other, twin)
	},
	"move": func(rows []timeline.JamRow, r *timeline.JamRow, s slip) []timeline.JamRow {
		rows[s.Row], rows[s.Other] = rows[s.Other], rows[s.Row]
		return rows
	},
	"other team": row(func(r *timeline.JamRow, _ slip) { r.Side = r.Side.Other() }),
	"swap the jam": func(rows []timeline.JamRow, r *timeline.JamRow, _ slip) []timeline.JamRow {
		period, jam := r.Period, r.Jam
		for i := range rows {
			if rows[i].Period == period && rows[i].Jam == jam {
				rows[i].Side = rows[i].Side.Other()
			}
		}
		return rows
	},
	"swap all": func(rows []timeline.JamRow, _ *timeline.JamRow, _ slip) []timeline.JamRow {
		for i := range rows {
			rows[i].Side = rows[i].Side.Other()
		}
		return rows
	},
	"one side's rows go": func(rows []timeline.JamRow, r *timeline.JamRow, _ slip) []timeline.JamRow {
		side := r.Side
		return slices.DeleteFunc(rows, func(x timeline.JamRow) bool { return x.Side == side })
	},
	"a period's rows go": func(rows []timeline.JamRow, r *timeline.JamRow, _ slip) []timeline.JamRow {
		period := r.Period
		return slices.DeleteFunc(rows, func(x timeline.JamRow) bool { return x.Period == period })
	},
	"no trips anywhere": all(func(r *timeline.JamRow, _ slip) { r.Trips = nil }),
	"no jam totals":     all(func(r *timeline.JamRow, s slip) { r.JamTotal = cell(r.JamTotal, s) }),
	"no game totals":    all(func(r *timeline.JamRow, s slip) { r.GameTotal = cell(r.GameTotal, s) }),
	"game totals begin anew": func(rows []timeline.JamRow, _ *timeline.JamRow, _ slip) []timeline.JamRow {
		var half [2]int
		for i := range rows {
			switch r := &rows[i]; {
			case r.GameTotal.State != timeline.CellKnown:
			case r.Period == 1:
				half[r.Side.Index()] = r.GameTotal.Value
			default:
				r.GameTotal.Value -= half[r.Side.Index()]
			}
		}
		return rows
	},
	"jam number":  row(func(r *timeline.JamRow, s slip) { r.Jam = s.N % 21 }),
	"period":      row(func(r *timeline.JamRow, s slip) { r.Period = s.N % 4 }),
	"jam total":   row(func(r *timeline.JamRow, s slip) { r.JamTotal = timeline.Known(s.N % 31) }),
	"game total":  row(func(r *timeline.JamRow, s slip) { r.GameTotal = timeline.Known(s.N) }),
	"no total":    row(func(r *timeline.JamRow, s slip) { r.JamTotal = cell(r.JamTotal, s) }),
	"no game":     row(func(r *timeline.JamRow, s slip) { r.GameTotal = cell(r.GameTotal, s) }),
	"row of a SP": row(func(r *timeline.JamRow, _ slip) { r.StarPass = !r.StarPass }),
	"spacer":      row(func(r *timeline.JamRow, _ slip) { r.Spacer = !r.Spacer }),
	"no trips":    row(func(r *timeline.JamRow, _ slip) { r.Trips = nil }),
	"one trip more": row(func(r *timeline.JamRow, s slip) {
		r.Trips = append(r.Trips, timeline.Known(s.N%6))
	}),
	"trips to the right": row(func(r *timeline.JamRow, _ slip) {
		r.Trips = append([]timeline.Cell[int]{{State: timeline.CellBlank}}, r.Trips...)
	}),
	"trip": row(func(r *timeline.JamRow, s slip) {
		if len(r.Trips) > 0 {
			r.Trips[s.Other%len(r.Trips)] = timeline.Known(s.N % 10)
		}
	}),
	"no trip": row(func(r *timeline.JamRow, s slip) {
		if n := len(r.Trips); n > 0 {
			r.Trips[s.Other%n] = cell(r.Trips[s.Other%n], s)
		}
	}),
	"jammer": row(func(r *timeline.JamRow, s slip) {
		r.Jammer = timeline.Cell[timeline.Number]{State: s.State, Value: "10"}
	}),
	"marks": row(func(r *timeline.JamRow, s slip) {
		for i, m := range [...]*timeline.Cell[bool]{&r.Lost, &r.Lead, &r.Call, &r.Inj, &r.NI} {
			m.Value = s.N>>i&1 == 1
		}
	}),
}

// row does something to one row.
func row(do func(*timeline.JamRow, slip)) func([]timeline.JamRow, *timeline.JamRow, slip) []timeline.JamRow {
	return func(rows []timeline.JamRow, r *timeline.JamRow, s slip) []timeline.JamRow {
		do(r, s)
		return rows
	}
}

// all does something to every row.
func all(do func(*timeline.JamRow, slip)) func([]timeline.JamRow, *timeline.JamRow, slip) []timeline.JamRow {
	return func(rows []timeline.JamRow, _ *timeline.JamRow, s slip) []timeline.JamRow {
		for i := range rows {
			do(&rows[i], s)
		}
		return rows
	}
}

// cell is a cell in the state of a slip. Its value stays: it must not count.
func cell(c timeline.Cell[int], s slip) timeline.Cell[int] {
	c.State = s.State
	if s.State == timeline.CellRange {
		c = timeline.Cell[int]{State: s.State, Low: s.N % 3, High: s.N%3 + 2}
	}
	return c
}

// slipped is what slips make of rows.
func slipped(rows []timeline.JamRow, slips ...slip) []timeline.JamRow {
	rows = slices.Clone(rows)
	for i := range rows {
		rows[i].Trips = slices.Clone(rows[i].Trips)
	}
	for _, s := range slips {
		if len(rows) == 0 {
			break
		}
		s.Row, s.Other = s.Row%len(rows), s.Other%len(rows)
		rows = slipKinds[s.What](rows, &rows[s.Row], s)
	}
	return rows
}

// gap is one thing done to the tags: one of those of a kind, in their order, goes
// or was not seen. N is taken modulo how many there are.
type gap struct {
	What string
	N    int
}

// gapKinds are the things that a gap can do.
var gapKinds = []string{"any", "jam", "trip", "trip not seen", "trip unsure", "star pass", "line-up", "log of a jam", "log of a side", "logs"}

// gapped does what gaps do to the tags.
func gapped(f *timeline.Facts, gaps ...gap) {
	for _, g := range gaps {
		var ids []timeline.ID
		for id, x := range f.Tags {
			switch g.What {
			case "any":
			case "trip not seen", "trip unsure":
				if x.Kind != timeline.KindTrip {
					continue
				}
			case "log of a jam", "log of a side":
				if x.Kind != timeline.KindJam {
					continue
				}
			default:
				if string(x.Kind) != g.What {
					continue
				}
			}
			ids = append(ids, id)
		}
		slices.Sort(ids)
		if g.What == "logs" {
			for id, x := range f.Tags {
				if x.Kind != timeline.KindJam {
					delete(f.Tags, id)
				}
			}
		}
		if len(ids) == 0 {
			continue
		}
		id := ids[g.N%len(ids)]
		x := f.Tags[id]
		switch g.What {
		case "trip not seen":
			x.Seen = timeline.NotSeen
			f.Tags[id] = x
		case "trip unsure":
			x.Seen = timeline.Unsure
			f.Tags[id] = x
		case "log of a jam", "log of a side":
			for other, y := range f.Tags {
				if y.Kind != timeline.KindJam && (y.Jam == id || y.Place.Jam == id) && (g.What == "log of a jam" || y.Side == timeline.Sides[g.N%2]) {
					delete(f.Tags, other)
				}
			}
		default:
			delete(f.Tags, id)
		}
	}
}

// even is a number below n, each as likely as the others: rapid's own ranges
// prefer small numbers, and the first rows of a sheet with them.
func even(t *rapid.T, n int, name string) int {
	v := 0
	for range 10 {
		v *= 2
		if rapid.Bool().Draw(t, name) {
			v++
		}
	}
	return v % n
}

var drawSlip = rapid.Custom(func(t *rapid.T) slip {
	kinds := make([]string, 0, len(slipKinds))
	for k := range slipKinds {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	return slip{
		What: kinds[even(t, len(kinds), "what")], Row: even(t, 200, "row"), Other: even(t, 200, "other"), N: even(t, 120, "n"),
		State: rapid.SampledFrom([]timeline.CellState{timeline.CellBlank, timeline.CellAbsent, timeline.CellUnread, timeline.CellRange}).Draw(t, "state"),
	}
})

var drawGap = rapid.Custom(func(t *rapid.T) gap {
	return gap{gapKinds[even(t, len(gapKinds), "what")], even(t, 1000, "n")}
})

// TestAccount: whatever is done to the score rows, and whatever the tags leave
// open, the findings and the unchecked points add up to the difference, no two
// findings have one key, and not more agrees than was compared.
func TestAccount(t *testing.T) {
	games := []*simulate.Game{
		game(),
		simulate.Play(6, simulate.Options{PeriodLength: 4 * time.Minute, Rates: simulate.Rates{StarPasses: 6, Penalties: 3}}),
		simulate.Play(7, simulate.Options{PeriodLength: 3 * time.Minute, Periods: 3}),
	}
	rapid.Check(t, func(t *rapid.T) {
		g := games[rapid.IntRange(0, len(games)-1).Draw(t, "game")]
		clean := plant.Sheet(g)
		s := clean
		if rapid.Bool().Draw(t, "score rows alone") {
			s = sheet.Sheet{}
		}
		s.Rows = slipped(clean.Rows, rapid.SliceOfN(drawSlip, 0, 10).Draw(t, "slips")...)
		gaps := rapid.SliceOfN(drawGap, 0, 5).Draw(t, "gaps")
		b, f := boutOf(t, g, func(f *timeline.Facts) { gapped(f, gaps...) })
		r := sheet.Check(s, b, f)
		accounted(t, r)
		checked(t, r)
		checked(t, sheet.SelfCheck(s, f.Rules))
	})
}

// checked fails unless a report is sound in itself.
func checked(t interface{ Errorf(string, ...any) }, r sheet.Report) {
	keys := map[string]bool{}
	for _, f := range r.Findings {
		if keys[f.Key] {
			t.Errorf("two findings have the key %q", f.Key)
		}
		keys[f.Key] = true
		if f.Text == "" || f.Cause == "" {
			t.Errorf("a finding without a text or a cause: %+v", f)
		}
	}
	if r.Agreed > r.Compared {
		t.Errorf("%d agree of %d compared", r.Agreed, r.Compared)
	}
}
