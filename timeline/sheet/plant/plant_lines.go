package plant

import (
	"slices"

	"whistlecut/timeline"
)

// swapped writes each team's line on the other team's sheet.
func (p *planter) swapped() (Planted, bool) {
	k := p.pickJam()
	h, a := p.rows(k, timeline.Home), p.rows(k, timeline.Away)
	if len(h) == 0 || len(a) == 0 || !p.alone(k, timeline.Home) || !p.alone(k, timeline.Away) {
		return Planted{}, false
	}
	if p.s.Rows[h[0]].Jammer.Value == p.s.Rows[a[0]].Jammer.Value {
		return Planted{}, false // with equal numbers nobody could tell
	}
	points := func(rows []int) (n int) {
		for _, i := range rows {
			n += p.s.Rows[i].JamTotal.Value
		}
		return n
	}
	ph, pa := points(h), points(a)
	var before [2]int // game total before the jam
	for i, rows := range [][]int{h, a} {
		before[i] = p.s.Rows[rows[0]].GameTotal.Value - p.s.Rows[rows[0]].JamTotal.Value
	}
	after := [2]int{h[len(h)-1] + 1, a[len(a)-1] + 1}
	for i := range p.s.Rows {
		r := &p.s.Rows[i]
		if r.Period == k.period && r.Jam == k.jam {
			r.Side = r.Side.Other()
		}
	}
	// What follows was added up from the swapped lines, or taken from the scoreboard.
	total := [2]int{before[0], before[1]}
	for _, i := range append(slices.Clone(h), a...) {
		r := &p.s.Rows[i]
		s := r.Side.Index()
		total[s] += r.JamTotal.Value
		r.GameTotal.Value = total[s]
	}
	if p.coin() {
		for i, side := range timeline.Sides {
			d := pa - ph
			if i == 1 {
				d = -d
			}
			for n := max(after[0], after[1]); n < len(p.s.Rows); n++ {
				if r := &p.s.Rows[n]; r.Side == side && known(r.GameTotal) {
					r.GameTotal.Value += d
				}
			}
		}
	}
	p.takeLine(k, timeline.Home)
	p.takeLine(k, timeline.Away)
	return p.made(k, timeline.NoSide, "each team's row stands on the other team's sheet"), true
}

// alone reports that nothing was planted in a line nor in its neighbours as wholes.
func (p *planter) alone(k jamKey, side timeline.Side) bool {
	if p.used[place(k, side, "any")] {
		return false
	}
	for d := -2; d <= 2; d++ {
		n := jamKey{k.period, k.jam + d}
		for _, s := range timeline.Sides {
			if p.used[place(n, s, "line")] {
				return false
			}
		}
	}
	for _, d := range [...]int{-1, 1} {
		if p.used[place(jamKey{k.period, k.jam + d}, side, "points")] {
			return false
		}
	}
	return true
}

func (p *planter) takeLine(k jamKey, side timeline.Side) {
	for _, what := range [...]string{"line", "points", "jammer", "marks"} {
		p.take(k, side, what)
	}
	for _, d := range [...]int{-1, 1} {
		p.used[place(jamKey{k.period, k.jam + d}, side, "points")] = true
	}
}

// wholeLine leaves a line out or writes it twice; on one sheet, or a missing one
// on both.
func (p *planter) wholeLine(double bool) (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	both := !double && p.rng.IntN(4) == 0
	sides := []timeline.Side{side}
	if both {
		sides = timeline.Sides[:]
	}
	for _, s := range sides {
		if len(p.rows(k, s)) == 0 || !p.alone(k, s) {
			return Planted{}, false
		}
	}
	renumber, carry := p.coin(), p.coin()
	for _, s := range sides {
		p.cuts = append(p.cuts, cut{jamKey: k, side: s, double: double, renumber: renumber, carry: carry})
		p.takeLine(k, s)
	}
	what := "the row is left out"
	if double {
		what = "the row is written twice"
	}
	if renumber {
		what += ", the jams after it are numbered on"
	}
	if carry {
		what += ", the game totals after it follow the mistake"
	}
	m := p.made(k, side, "%s", what)
	if both {
		m.Side = timeline.NoSide
	}
	return m, true
}

// finish carries the whole-line changes out, last jam first, so that the numbers
// of those before stay as they are.
func (p *planter) finish() {
	slices.SortFunc(p.cuts, func(a, b cut) int {
		if a.period != b.period {
			return b.period - a.period
		}
		return b.jam - a.jam
	})
	for _, c := range p.cuts {
		rows := p.rows(c.jamKey, c.side)
		points := 0
		for _, i := range rows {
			points += p.s.Rows[i].JamTotal.Value
		}
		last := rows[len(rows)-1]
		step := -1
		if c.double {
			step = 1
		}
		if c.carry {
			for n := last + 1; n < len(p.s.Rows); n++ {
				if r := &p.s.Rows[n]; r.Side == c.side && known(r.GameTotal) {
					r.GameTotal.Value += step * points
				}
			}
		}
		if c.renumber {
			for n := last + 1; n < len(p.s.Rows); n++ {
				if r := &p.s.Rows[n]; r.Side == c.side && r.Period == c.period && r.Jam > c.jam {
					r.Jam += step
				}
			}
		}
		if c.double {
			var again []timeline.JamRow
			for _, i := range rows {
				r := p.s.Rows[i]
				r.Trips = slices.Clone(r.Trips)
				if c.renumber {
					r.Jam++
				}
				if c.carry {
					r.GameTotal.Value += points
				}
				again = append(again, r)
			}
			p.s.Rows = slices.Insert(p.s.Rows, last+1, again...)
			continue
		}
		for n := len(rows) - 1; n >= 0; n-- {
			p.s.Rows = slices.Delete(p.s.Rows, rows[n], rows[n]+1)
		}
	}
}
