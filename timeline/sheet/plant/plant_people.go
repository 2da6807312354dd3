package plant

import (
	"fmt"
	"slices"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// pickPenalty is a random penalty at whose skater nothing was planted that
// shares its jam or code.
func (p *planter) pickPenalty() (int, bool) {
	if len(p.s.Penalties) == 0 {
		return 0, false
	}
	i := p.rng.IntN(len(p.s.Penalties))
	x := p.s.Penalties[i]
	return i, !p.penUsed(x, x.Period.Value, x.Jam.Value, x.Code.Value)
}

func penPlace(side timeline.Side, who timeline.Number, what string) string {
	return fmt.Sprintf("pen/%s/%s/%s", side, who, what)
}

func (p *planter) penUsed(x sheet.Penalty, period, jam int, code string) bool {
	return p.used[penPlace(x.Side, x.Skater.Value, fmt.Sprintf("%d/%d", period, jam))] ||
		p.used[penPlace(x.Side, x.Skater.Value, code)]
}

func (p *planter) takePen(x sheet.Penalty) {
	p.used[penPlace(x.Side, x.Skater.Value, fmt.Sprintf("%d/%d", x.Period.Value, x.Jam.Value))] = true
	p.used[penPlace(x.Side, x.Skater.Value, x.Code.Value)] = true
}

func madePen(x sheet.Penalty, format string, args ...any) Planted {
	return Planted{
		Table: sheet.KindPenalties, Period: x.Period.Value, Jam: x.Jam.Value, Side: x.Side, Skater: x.Skater.Value,
		Text: fmt.Sprintf(format, args...),
	}
}

// penMissing leaves a penalty out.
func (p *planter) penMissing() (Planted, bool) {
	i, ok := p.pickPenalty()
	if !ok {
		return Planted{}, false
	}
	x := p.s.Penalties[i]
	p.takePen(x)
	p.s.Penalties = slices.Delete(p.s.Penalties, i, i+1)
	return madePen(x, "penalty %s of %s is left out", x.Code.Value, x.Skater.Value), true
}

// penJam writes a penalty in another jam of the period.
func (p *planter) penJam() (Planted, bool) {
	i, ok := p.pickPenalty()
	if !ok {
		return Planted{}, false
	}
	x := &p.s.Penalties[i]
	was := *x
	to := jamKey{x.Period.Value, x.Jam.Value + [...]int{1, -1, 2, -2, 3}[p.rng.IntN(5)]}
	if !slices.Contains(p.jams, to) || p.penUsed(*x, to.period, to.jam, "") || p.hasPenalty(x.Side, x.Skater.Value, to, x.Code.Value) {
		return Planted{}, false
	}
	x.Jam.Value = to.jam
	p.takePen(was)
	p.takePen(*x)
	return madePen(was, "penalty %s of %s is written in jam %d", was.Code.Value, was.Skater.Value, to.jam), true
}

func (p *planter) hasPenalty(side timeline.Side, who timeline.Number, k jamKey, code string) bool {
	for _, x := range p.s.Penalties {
		if x.Side == side && x.Skater.Value == who && x.Period.Value == k.period && x.Jam.Value == k.jam && x.Code.Value == code {
			return true
		}
	}
	return false
}

// codes are letters of the present penalty sheet (from memory).
var codes = [...]string{"A", "B", "C", "D", "E", "F", "H", "I", "L", "M", "N", "P", "X"}

// penCode writes another letter.
func (p *planter) penCode() (Planted, bool) {
	i, ok := p.pickPenalty()
	if !ok {
		return Planted{}, false
	}
	x := &p.s.Penalties[i]
	was := *x
	code := codes[p.rng.IntN(len(codes))]
	k := jamKey{x.Period.Value, x.Jam.Value}
	if code == x.Code.Value || p.used[penPlace(x.Side, x.Skater.Value, code)] || p.hasPenalty(x.Side, x.Skater.Value, k, code) {
		return Planted{}, false
	}
	x.Code.Value = code
	p.takePen(was)
	p.takePen(*x)
	return madePen(was, "the penalty of %s is written %s instead of %s", was.Skater.Value, code, was.Code.Value), true
}

// pickLineup is a random first row of the line-up sheet.
func (p *planter) pickLineup() (*sheet.Lineup, bool) {
	if len(p.s.Lineups) == 0 {
		return nil, false
	}
	l := &p.s.Lineups[p.rng.IntN(len(p.s.Lineups))]
	return l, !l.StarPass && p.free(jamKey{l.Period, l.Jam}, l.Side, "lineup")
}

// slots are pointers to a row's places and their roles.
func slots(l *sheet.Lineup) (at []*sheet.Slot, roles []timeline.Role) {
	at, roles = append(at, &l.Jammer, &l.Pivot), append(roles, timeline.Jammer, timeline.Pivot)
	for i := range l.Blockers {
		at, roles = append(at, &l.Blockers[i]), append(roles, timeline.Blocker)
	}
	return at, roles
}

// wasBoxed reports a skater who was in the box when the jam started.
func wasBoxed(s *sheet.Slot) bool {
	return len(s.Box) > 0 && s.Box[0].Value.WasIn()
}

func madeLineup(l *sheet.Lineup, who timeline.Number, format string, args ...any) Planted {
	return Planted{Table: sheet.KindLineups, Period: l.Period, Jam: l.Jam, Side: l.Side, Skater: who, Text: fmt.Sprintf(format, args...)}
}

// pickBoxed is a place of a row whose skater was in the box at the start.
func (p *planter) pickBoxed() (l *sheet.Lineup, at []*sheet.Slot, n int, ok bool) {
	l, ok = p.pickLineup()
	if !ok {
		return nil, nil, 0, false
	}
	at, _ = slots(l)
	var in []int
	for i, s := range at {
		if wasBoxed(s) {
			in = append(in, i)
		}
	}
	if len(in) == 0 {
		return nil, nil, 0, false
	}
	return l, at, in[p.rng.IntN(len(in))], true
}

// boxedMissing leaves a skater in the box out, with or without another in her place.
func (p *planter) boxedMissing() (Planted, bool) {
	l, at, n, ok := p.pickBoxed()
	if !ok {
		return Planted{}, false
	}
	was := at[n].Skater.Value
	*at[n] = sheet.Slot{Skater: timeline.Cell[timeline.Number]{State: timeline.CellBlank}}
	if p.coin() {
		other, ok := p.anyone(l.Side)
		if ok && other != was && !lined(at, other) {
			at[n].Skater = timeline.Known(other)
		}
	}
	p.take(jamKey{l.Period, l.Jam}, l.Side, "lineup")
	return madeLineup(l, was, "%s is left out of the line-up", was), true
}

func lined(at []*sheet.Slot, who timeline.Number) bool {
	for _, s := range at {
		if s.Skater.Value == who {
			return true
		}
	}
	return false
}

// boxedRole swaps a skater in the box with another role's.
func (p *planter) boxedRole() (Planted, bool) {
	l, at, n, ok := p.pickBoxed()
	if !ok {
		return Planted{}, false
	}
	_, roles := slots(l)
	m := p.rng.IntN(len(at))
	if roles[m] == roles[n] || at[m].Skater.Value == "" || l.NoPivot.Value && roles[n] != timeline.Jammer && roles[m] != timeline.Jammer {
		return Planted{}, false
	}
	was := at[n].Skater.Value
	*at[n], *at[m] = *at[m], *at[n]
	p.take(jamKey{l.Period, l.Jam}, l.Side, "lineup")
	return madeLineup(l, was, "%s is lined up as %s instead of %s", was, roles[m], roles[n]), true
}

// fouledFielded fields a skater whose bout is over.
func (p *planter) fouledFielded() (Planted, bool) {
	if len(p.s.Outs) == 0 {
		return Planted{}, false
	}
	o := p.s.Outs[p.rng.IntN(len(p.s.Outs))]
	l, ok := p.pickLineup()
	if !ok || l.Side != o.Side || l.Period < o.Period.Value || l.Period == o.Period.Value && l.Jam <= o.Jam.Value {
		return Planted{}, false
	}
	at, _ := slots(l)
	n := p.rng.IntN(len(at))
	// Leaving a skater in the box out for her would be two mistakes at one place.
	if at[n].Skater.Value == "" || wasBoxed(at[n]) || lined(at, o.Skater.Value) {
		return Planted{}, false
	}
	was := at[n].Skater.Value
	*at[n] = sheet.Slot{Skater: o.Skater}
	p.take(jamKey{l.Period, l.Jam}, l.Side, "lineup")
	return madeLineup(l, o.Skater.Value, "%s, who has fouled out, is lined up instead of %s", o.Skater.Value, was), true
}

// unknown writes a number that nobody has: as jammer, in a line-up, on a penalty.
func (p *planter) unknown() (Planted, bool) {
	number := timeline.Number(fmt.Sprintf("%d", 1000+p.rng.IntN(9000)))
	for i := range p.s.Teams {
		for _, r := range p.s.Teams[i].Roster {
			if r.Number.Value == number {
				return Planted{}, false
			}
		}
	}
	switch p.rng.IntN(3) {
	case 0:
		k, side := p.pickJam(), p.pickSide()
		rows := p.rows(k, side)
		if len(rows) == 0 || !p.free(k, side, "jammer") {
			return Planted{}, false
		}
		r := &p.s.Rows[rows[p.rng.IntN(len(rows))]]
		was := r.Jammer.Value
		r.Jammer = timeline.Known(number)
		p.take(k, side, "jammer")
		m := p.made(k, side, "the jammer is written %s instead of %s", number, was)
		m.Skater = number
		return m, true
	case 1:
		l, ok := p.pickLineup()
		if !ok {
			return Planted{}, false
		}
		at, _ := slots(l)
		s := at[p.rng.IntN(len(at))]
		if s.Skater.Value == "" {
			return Planted{}, false
		}
		was := s.Skater.Value
		s.Skater = timeline.Known(number)
		p.take(jamKey{l.Period, l.Jam}, l.Side, "lineup")
		return madeLineup(l, number, "%s is lined up instead of %s", number, was), true
	}
	i, ok := p.pickPenalty()
	if !ok {
		return Planted{}, false
	}
	x := &p.s.Penalties[i]
	was := *x
	p.takePen(was)
	x.Skater = timeline.Known(number)
	m := madePen(was, "a penalty of %s is written for %s", was.Skater.Value, number)
	m.Skater = number
	return m, true
}
