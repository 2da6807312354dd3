package sheet

import (
	"fmt"
	"sort"

	"whistlecut/timeline"
)

// fielding: row jammers against line-ups, unknown numbers, skaters twice in a
// line-up, boxed skaters left out or in another role, fouled-out skaters fielded.
func (c *selfChecker) fielding() {
	for i, side := range timeline.Sides {
		rows := c.lineupRows(side)
		for _, l := range c.lines[i] {
			for _, r := range l.rows {
				if r.Jammer.State == timeline.CellKnown && unknownNumber(c.roster, side, r.Jammer.Value) {
					f := c.row(CauseUnknown, side, l, FieldJammer, "jammer")
					f.Skater, f.Sheet, f.Tags, f.From = r.Jammer.Value, string(r.Jammer.Value), "a number on the roster", froms(r.Jammer.From)
					f.Text = fmt.Sprintf("Jammer %s of jam %d is on neither roster.", r.Jammer.Value, l.jam)
					c.add(f)
				}
			}
		}
		for _, l := range rows {
			c.lineupRow(side, l)
		}
		c.jammersFielded(i, side, rows)
		c.boxed(side, rows)
	}
}

// lineupRow checks one line-up by itself.
func (c *selfChecker) lineupRow(side timeline.Side, l *Lineup) {
	seen := map[timeline.Number]bool{}
	for n, s := range append([]Slot{l.Jammer, l.Pivot}, l.Blockers...) {
		if s.Skater.State != timeline.CellKnown || s.Skater.Value == "" {
			continue
		}
		who := s.Skater.Value
		field := [...]Field{FieldJammer, FieldPivot, FieldBlocker}[min(n, 2)]
		if unknownNumber(c.roster, side, who) {
			f := c.lineup(CauseUnknown, side, l, field, who)
			f.Sheet, f.Tags = string(who), "a number on the roster"
			f.Text = fmt.Sprintf("%s stands in the line-up of jam %d and is on neither roster.", who, l.Jam)
			c.add(f)
		}
		if seen[who] {
			f := c.lineup(CauseLineup, side, l, field, who)
			f.Sheet, f.Tags = "twice", "once"
			f.Text = fmt.Sprintf("%s stands twice in the line-up of jam %d.", who, l.Jam)
			c.add(f)
		}
		seen[who] = true
	}
}

// lineup starts a finding about a line-up row.
func (c *selfChecker) lineup(cause Cause, side timeline.Side, l *Lineup, field Field, who ...timeline.Number) Finding {
	f := Finding{Cause: cause, Table: KindLineups, Period: l.Period, Jam: l.Jam, Side: side, Column: field}
	for _, n := range who {
		f.touches = append(f.touches, lineupKey(side, l.Period, l.Jam)+"/"+string(n))
		f.Skater = n
	}
	for _, s := range append([]Slot{l.Jammer, l.Pivot}, l.Blockers...) {
		if len(who) > 0 && s.Skater.Value == who[0] {
			f.From = froms(s.Skater.From)
		}
	}
	return f
}

// jammersFielded compares the score sheet's jammers with the line-ups, jam by jam
// as they align.
func (c *selfChecker) jammersFielded(i int, side timeline.Side, rows []*Lineup) {
	ls := c.lines[i]
	if len(rows) == 0 || len(ls) == 0 {
		return
	}
	jammer := func(l line) (timeline.Number, bool) {
		r := l.row(0)
		return r.Jammer.Value, r.Jammer.State == timeline.CellKnown
	}
	pairs := alignLineups(ls, rows)
	for _, p := range pairs {
		if p.a < 0 || p.b < 0 {
			continue
		}
		l, u := ls[p.a], rows[p.b]
		if n, ok := jammer(l); ok && u.Jammer.Skater.State == timeline.CellKnown && n != u.Jammer.Skater.Value {
			f := c.row(CauseWrongJammer, side, l, FieldJammer, "jammer")
			f.Skater, f.Sheet, f.Tags = n, string(n), string(u.Jammer.Skater.Value)
			f.touches = append(f.touches, lineupKey(side, u.Period, u.Jam)+"/"+string(u.Jammer.Skater.Value))
			f.Text = fmt.Sprintf("The score sheet has jammer %s in jam %d, the line-up %s.", n, l.jam, u.Jammer.Skater.Value)
			c.add(f)
		}
		if sp := l.sp(); sp != nil && sp.Jammer.State == timeline.CellKnown && u.Pivot.Skater.State == timeline.CellKnown && sp.Jammer.Value != u.Pivot.Skater.Value {
			f := c.row(CauseWrongJammer, side, l, FieldJammer, "jammer")
			f.Skater, f.Sheet, f.Tags = sp.Jammer.Value, string(sp.Jammer.Value), string(u.Pivot.Skater.Value)
			f.touches = append(f.touches, lineupKey(side, u.Period, u.Jam)+"/"+string(u.Pivot.Skater.Value))
			f.Text = fmt.Sprintf("The SP row of jam %d has %s; only the pivot, %s in the line-up, can get the star.", l.jam, sp.Jammer.Value, u.Pivot.Skater.Value)
			c.add(f)
		}
	}
}

// boxed: who is still in the box when a jam ends counts as fielded in the next
// one, in her role.
func (c *selfChecker) boxed(side timeline.Side, rows []*Lineup) {
	for n := 0; n+1 < len(rows); n++ {
		l, next := rows[n], rows[n+1]
		if next.Period != l.Period || next.Jam != l.Jam+1 {
			continue // across the break, or a row is missing between
		}
		roles := slotsOf(next)
		check := func(s Slot, role timeline.Role) {
			if s.Skater.State != timeline.CellKnown || len(s.Box) == 0 {
				return
			}
			m := s.Box[len(s.Box)-1]
			if m.State != timeline.CellKnown || !m.Value.StaysIn() {
				return
			}
			who := s.Skater.Value
			if c.out(side, who, l.Period, l.Jam) {
				return // a substitute serves for her
			}
			got, fielded := roles[who]
			switch {
			case !fielded:
				f := c.lineup(CauseBoxedMissing, side, next, FieldBox, who)
				f.Sheet, f.Tags = "none", string(who)
				f.Text = fmt.Sprintf("%s was still in the box at the end of jam %d and counts as fielded in jam %d; the line-up does not have her.", who, l.Jam, next.Jam)
				f.touches = append(f.touches, lineupKey(side, l.Period, l.Jam)+"/"+string(who), skaterKey(side, who))
				c.add(f)
			case got != role && !c.starPassed(side, l):
				f := c.lineup(CauseBoxedRole, side, next, FieldRole, who)
				f.Sheet, f.Tags = got.String(), role.String()
				f.Text = fmt.Sprintf("%s was still in the box at the end of jam %d as %s; the line-up of jam %d has her as %s.", who, l.Jam, role, next.Jam, got)
				f.touches = append(f.touches, lineupKey(side, l.Period, l.Jam)+"/"+string(who), skaterKey(side, who))
				c.add(f)
			}
		}
		check(l.Jammer, timeline.Jammer)
		pivot := timeline.Pivot
		if v, open := marked(l.NoPivot); !open && v {
			pivot = timeline.Blocker
		}
		check(l.Pivot, pivot)
		for _, b := range l.Blockers {
			check(b, timeline.Blocker)
		}
	}
}

// starPassed reports that roles changed in that jam.
func (c *selfChecker) starPassed(side timeline.Side, l *Lineup) bool {
	for _, x := range c.lines[side.Index()] {
		if x.period == l.Period && x.jam == l.Jam && x.sp() != nil {
			return true
		}
	}
	for _, x := range c.s.Lineups {
		if x.StarPass && x.Side == side && x.Period == l.Period && x.Jam == l.Jam {
			return true
		}
	}
	return false
}

// out reports that a skater's bout was over by the end of that jam, by the
// penalty sheet.
func (c *selfChecker) out(side timeline.Side, who timeline.Number, period, jam int) bool {
	p, j, ok := c.outAt(side, who)
	return ok && (p < period || p == period && j <= jam)
}

// outAt is when a skater fouled out or was expelled, where the sheet tells.
func (c *selfChecker) outAt(side timeline.Side, who timeline.Number) (period, jam int, ok bool) {
	var list [][2]int
	for _, p := range c.s.Penalties {
		if p.Side == side && p.Skater.Value == who && p.Period.State == timeline.CellKnown && p.Jam.State == timeline.CellKnown {
			list = append(list, [2]int{p.Period.Value, p.Jam.Value})
		}
	}
	sort.Slice(list, func(a, b int) bool {
		return list[a][0] < list[b][0] || list[a][0] == list[b][0] && list[a][1] < list[b][1]
	})
	if n := c.rules.FoulOut; n > 0 && len(list) >= n {
		return list[n-1][0], list[n-1][1], true
	}
	for _, o := range c.s.Outs {
		if o.Side != side || o.Skater.Value != who {
			continue
		}
		if o.Period.State == timeline.CellKnown && o.Jam.State == timeline.CellKnown {
			return o.Period.Value, o.Jam.Value, true
		}
		if n := len(list); n > 0 {
			return list[n-1][0], list[n-1][1], true
		}
	}
	return 0, 0, false
}

// penaltySheet: unknown numbers, foul-outs by count, fouled-out skaters fielded,
// penalties in jams their skater was not fielded in.
func (c *selfChecker) penaltySheet() {
	count := map[timeline.SkaterRef]int{}
	fielded := map[string]map[timeline.Number]bool{}
	for n := range c.s.Lineups {
		l := &c.s.Lineups[n]
		k := lineupKey(l.Side, l.Period, l.Jam)
		if fielded[k] == nil {
			fielded[k] = map[timeline.Number]bool{}
		}
		for who := range slotsOf(l) {
			fielded[k][who] = true
		}
	}
	for _, p := range c.s.Penalties {
		if p.Skater.State != timeline.CellKnown {
			continue
		}
		who := p.Skater.Value
		count[timeline.SkaterRef{Side: p.Side, Number: who}]++
		if unknownNumber(c.roster, p.Side, who) {
			f := c.penalty(CauseUnknown, p, FieldSkater)
			f.Sheet, f.Tags = string(who), "a number on the roster"
			f.Text = fmt.Sprintf("A penalty stands on %s, who is on neither roster.", who)
			c.add(f)
			continue
		}
		if p.Period.State != timeline.CellKnown || p.Jam.State != timeline.CellKnown {
			continue
		}
		in := fielded[lineupKey(p.Side, p.Period.Value, p.Jam.Value)]
		if len(in) > 0 && !in[who] && !c.betweenJams(p, fielded) {
			f := c.penalty(CausePenJam, p, FieldPenaltyJam)
			f.Sheet, f.Tags = fmt.Sprintf("jam %d", p.Jam.Value), "a jam she was fielded in"
			f.Text = fmt.Sprintf("%s has a penalty in jam %d, whose line-up does not have her.", who, p.Jam.Value)
			f.touches = append(f.touches, lineupKey(p.Side, p.Period.Value, p.Jam.Value))
			c.add(f)
		}
	}
	for _, b := range c.s.Box {
		if b.Skater.State != timeline.CellKnown || !unknownNumber(c.roster, b.Side, b.Skater.Value) {
			continue
		}
		c.add(Finding{
			Cause: CauseUnknown, Table: KindBox, Period: b.Period.Value, Jam: b.Jam.Value, Side: b.Side, Column: FieldSkater, Skater: b.Skater.Value,
			Sheet: string(b.Skater.Value), Tags: "a number on the roster", From: froms(b.Skater.From), touches: []string{skaterKey(b.Side, b.Skater.Value)},
			Text: fmt.Sprintf("%s sits in the box in jam %d and is on neither roster.", b.Skater.Value, b.Jam.Value),
		})
	}
	c.foulOuts(count)
}

// betweenJams: a penalty called between jams may stand in the jam before or after
// the one its skater was fielded in.
func (c *selfChecker) betweenJams(p Penalty, fielded map[string]map[timeline.Number]bool) bool {
	for _, d := range [...]int{-1, 1} {
		if fielded[lineupKey(p.Side, p.Period.Value, p.Jam.Value+d)][p.Skater.Value] {
			return true
		}
	}
	return false
}

func (c *selfChecker) penalty(cause Cause, p Penalty, field Field) Finding {
	return Finding{
		Cause: cause, Table: KindPenalties, Period: p.Period.Value, Jam: p.Jam.Value, Side: p.Side, Column: field,
		Skater: p.Skater.Value, From: froms(p.Code.From, p.Skater.From), touches: []string{skaterKey(p.Side, p.Skater.Value)},
	}
}

// foulOuts checks the FO marks against the counts and who was fielded after.
func (c *selfChecker) foulOuts(count map[timeline.SkaterRef]int) {
	noted := map[timeline.SkaterRef]string{}
	for _, o := range c.s.Outs {
		if o.Skater.State == timeline.CellKnown {
			noted[timeline.SkaterRef{Side: o.Side, Number: o.Skater.Value}] = o.Kind.Value
		}
	}
	who := make([]timeline.SkaterRef, 0, len(count))
	for r := range count {
		who = append(who, r)
	}
	for r := range noted {
		if count[r] == 0 {
			who = append(who, r)
		}
	}
	sort.Slice(who, func(a, b int) bool {
		return who[a].Side < who[b].Side || who[a].Side == who[b].Side && who[a].Number < who[b].Number
	})
	most := c.rules.FoulOut
	for _, r := range who {
		kind, is := noted[r]
		f := Finding{Table: KindPenalties, Side: r.Side, Skater: r.Number, Column: FieldOut, touches: []string{skaterKey(r.Side, r.Number)}}
		switch {
		case most == 0:
		case is && kind == OutFoul && count[r] < most:
			f.Cause, f.Sheet, f.Tags = CausePenMissing, fmt.Sprintf("FO with %d penalties", count[r]), fmt.Sprintf("%d penalties", most)
			f.Text = fmt.Sprintf("%s is noted as fouled out with %d penalties on the sheet; it takes %d.", r.Number, count[r], most)
			c.add(f)
		case !is && count[r] >= most && len(c.s.Outs) > 0:
			f.Cause, f.Sheet, f.Tags = CauseOut, fmt.Sprintf("%d penalties, no FO", count[r]), "FO"
			f.Text = fmt.Sprintf("%s has %d penalties and is not noted as fouled out.", r.Number, count[r])
			c.add(f)
		}
		p, j, ok := c.outAt(r.Side, r.Number)
		if !ok || !is && count[r] < most {
			continue
		}
		for n := range c.s.Lineups {
			l := &c.s.Lineups[n]
			if l.Side != r.Side || l.Period < p || l.Period == p && l.Jam <= j || slotsOf(l)[r.Number] == timeline.NoRole {
				continue
			}
			x := c.lineup(CauseFouledFielded, r.Side, l, FieldSkater, r.Number)
			x.Sheet, x.Tags = string(r.Number), "another skater"
			x.Text = fmt.Sprintf("%s is fielded in jam %d of period %d; by the penalty sheet her bout was over in jam %d of period %d.", r.Number, l.Jam, l.Period, j, p)
			x.touches = append(x.touches, skaterKey(r.Side, r.Number))
			c.add(x)
		}
	}
}
