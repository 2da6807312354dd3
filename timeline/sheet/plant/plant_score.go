package plant

import "whistlecut/timeline"

// tripDigit changes one trip. The totals follow, or the jam total alone does, or none.
func (p *planter) tripDigit() (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	rows := p.rows(k, side)
	if len(rows) == 0 || !p.free(k, side, "points") {
		return Planted{}, false
	}
	i := rows[p.rng.IntN(len(rows))]
	r := &p.s.Rows[i]
	var at []int
	for n, t := range r.Trips {
		if known(t) {
			at = append(at, n)
		}
	}
	if len(at) == 0 {
		return Planted{}, false
	}
	n := at[p.rng.IntN(len(at))]
	was := r.Trips[n].Value
	v := p.rng.IntN(5)
	if v == was {
		return Planted{}, false
	}
	r.Trips[n].Value = v
	switch p.rng.IntN(4) {
	case 0: // the digit alone
	case 1: // the jam total follows, the game total was taken from the scoreboard
		r.JamTotal.Value += v - was
	default:
		r.JamTotal.Value += v - was
		p.carry(i, v-was)
	}
	p.take(k, side, "points")
	return p.made(k, side, "trip %d is written %d instead of %d", n+2, v, was), true
}

// shifted moves a row's trips one column to the right.
func (p *planter) shifted() (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	rows := p.rows(k, side)
	if len(rows) == 0 || !p.free(k, side, "points") {
		return Planted{}, false
	}
	r := &p.s.Rows[rows[p.rng.IntN(len(rows))]]
	sum := 0
	for _, t := range r.Trips {
		sum += t.Value
	}
	if sum == 0 {
		return Planted{}, false // nothing that could be seen to have moved
	}
	blank := timeline.Cell[int]{State: timeline.CellBlank}
	if len(r.Trips) > 1 && !known(r.Trips[0]) && p.coin() {
		r.Trips = r.Trips[1:]
	} else {
		r.Trips = append([]timeline.Cell[int]{blank}, r.Trips...)
	}
	p.take(k, side, "points")
	return p.made(k, side, "the trips are shifted by a column"), true
}

// wrongJammer writes another skater of the team as jammer.
func (p *planter) wrongJammer() (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	rows := p.rows(k, side)
	if len(rows) == 0 || !p.free(k, side, "jammer") {
		return Planted{}, false
	}
	r := &p.s.Rows[rows[p.rng.IntN(len(rows))]]
	other, ok := p.anyone(side)
	for _, i := range rows {
		if p.s.Rows[i].Jammer.Value == other {
			ok = false
		}
	}
	if !ok || r.Jammer.State != timeline.CellKnown {
		return Planted{}, false
	}
	was := r.Jammer.Value
	r.Jammer.Value = other
	p.take(k, side, "jammer")
	m := p.made(k, side, "the jammer is written %s instead of %s", other, was)
	m.Skater = other
	return m, true
}

// anyone is a random skater of a roster who is not out of the game.
func (p *planter) anyone(side timeline.Side) (timeline.Number, bool) {
	r := p.s.Teams[side.Index()].Roster
	if len(r) == 0 {
		return "", false
	}
	n := r[p.rng.IntN(len(r))].Number.Value
	for _, o := range p.s.Outs {
		if o.Side == side && o.Skater.Value == n {
			return "", false
		}
	}
	return n, true
}

// starPass credits trips to the other row of a star pass.
func (p *planter) starPass() (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	rows := p.rows(k, side)
	if len(rows) < 2 || !p.free(k, side, "points") || !p.free(k, side, "jammer") {
		return Planted{}, false
	}
	a, b := &p.s.Rows[rows[0]], &p.s.Rows[rows[1]]
	from, to := b, a
	what := "trips of the new jammer are credited to the first"
	if p.coin() {
		from, to, what = a, b, "trips of the first jammer are credited to the new one"
	}
	any := false
	for i, t := range from.Trips {
		any = any || t.Value > 0 && (i >= len(to.Trips) || !known(to.Trips[i]))
	}
	if !any {
		return Planted{}, false // zeros alone would show nothing
	}
	moved, n := 0, 0
	one := p.coin()
	for i := range from.Trips {
		if !known(from.Trips[i]) || i < len(to.Trips) && known(to.Trips[i]) {
			continue
		}
		if one && n > 0 {
			break
		}
		for len(to.Trips) <= i {
			to.Trips = append(to.Trips, timeline.Cell[int]{State: timeline.CellBlank})
		}
		to.Trips[i] = from.Trips[i]
		from.Trips[i] = timeline.Cell[int]{State: timeline.CellBlank}
		moved += to.Trips[i].Value
		n++
		if one && to.Trips[i].Value == 0 {
			n = 0 // a trip without points shows nothing; take the next one as well
		}
	}
	from.JamTotal.Value -= moved
	to.JamTotal.Value += moved
	if from == b {
		a.GameTotal.Value += moved
	} else {
		a.GameTotal.Value -= moved
	}
	p.take(k, side, "points")
	return p.made(k, side, "%s", what), true
}

// lead takes the lead mark away, adds one, or moves it to the other team.
func (p *planter) lead() (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	mine, other := p.rows(k, side), p.rows(k, side.Other())
	if len(mine) == 0 || len(other) == 0 || !p.free(k, side, "marks") || !p.free(k, side.Other(), "marks") {
		return Planted{}, false
	}
	a, b := &p.s.Rows[mine[0]].Lead, &p.s.Rows[other[0]].Lead
	text := ""
	switch {
	case a.Value && p.coin():
		a.Value, text = false, "the lead mark is left out"
	case a.Value:
		a.Value, b.Value, text = false, true, "the lead mark stands in the other team's row"
	case !b.Value || p.coin():
		a.Value, text = true, "a lead mark is added"
	default:
		return Planted{}, false
	}
	p.take(k, side, "marks")
	p.take(k, side.Other(), "marks")
	return p.made(k, side, "%s", text), true
}

// lost takes a lost mark away, or adds one to a jammer with lead: for a jammer
// without lead the paper may go either way.
func (p *planter) lost() (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	rows := p.rows(k, side)
	if len(rows) == 0 || !p.free(k, side, "marks") {
		return Planted{}, false
	}
	r := &p.s.Rows[rows[0]]
	if !r.Lead.Value {
		return Planted{}, false
	}
	r.Lost = timeline.Known(!r.Lost.Value)
	p.take(k, side, "marks")
	text := "the lost mark is left out"
	if r.Lost.Value {
		text = "a lost mark is added"
	}
	return p.made(k, side, "%s", text), true
}

// running makes a slip in a game total that is carried on, or taken back at once.
func (p *planter) running() (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	rows := p.rows(k, side)
	if len(rows) == 0 || !p.free(k, side, "points") {
		return Planted{}, false
	}
	for _, d := range [...]int{-1, 1} {
		if p.used[place(jamKey{k.period, k.jam + d}, side, "running")] || p.used[place(jamKey{k.period, k.jam + d}, side, "line")] {
			return Planted{}, false
		}
	}
	i := rows[len(rows)-1]
	r := &p.s.Rows[i]
	d := [...]int{1, -1, 10, -10, 2, -2, 3}[p.rng.IntN(7)]
	if !known(r.GameTotal) || r.GameTotal.Value+d < 0 {
		return Planted{}, false
	}
	text := "and carried on"
	if p.coin() {
		p.carry(i, d)
	} else {
		r.GameTotal.Value += d
		text = "and right again in the next row"
	}
	p.take(k, side, "points")
	p.take(k, side, "running")
	return p.made(k, side, "the game total is off by %+d %s", d, text), true
}

// jamTotal makes a slip in a jam total; the game total follows or not.
func (p *planter) jamTotal() (Planted, bool) {
	k, side := p.pickJam(), p.pickSide()
	rows := p.rows(k, side)
	if len(rows) == 0 || !p.free(k, side, "points") {
		return Planted{}, false
	}
	i := rows[p.rng.IntN(len(rows))]
	r := &p.s.Rows[i]
	d := 1 + p.rng.IntN(4)
	if p.coin() {
		d = -d
	}
	if len(r.Trips) == 0 || !known(r.JamTotal) || r.JamTotal.Value+d < 0 {
		return Planted{}, false
	}
	r.JamTotal.Value += d
	if p.coin() {
		p.carry(i, d)
	}
	p.take(k, side, "points")
	return p.made(k, side, "the jam total is off by %+d", d), true
}
