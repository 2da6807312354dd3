package sheet

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"whistlecut/timeline"
)

// lineups compares whom the sheet fielded with the line-up tags.
func (c *checker) lineups() {
	if len(c.s.Lineups) == 0 || len(c.b.Jams) == 0 {
		return
	}
	for i, side := range timeline.Sides {
		var rows []*Lineup
		for n := range c.s.Lineups {
			if l := &c.s.Lineups[n]; l.Side == side && !l.StarPass {
				rows = append(rows, l)
			}
		}
		if len(rows) == 0 {
			continue
		}
		pairs := align(len(rows), len(c.b.Jams), func(a, b int) float64 { return c.lineupCost(rows[a], b, i) }, gap)
		for _, p := range pairs {
			switch {
			case p.a < 0:
				c.lineupMissing(p.b, side)
			case p.b < 0:
				c.unchecked(Unchecked{Table: KindLineups, Period: rows[p.a].Period, Jam: rows[p.a].Jam, Side: side, Why: "no jam is tagged for this row"}, -1)
			default:
				c.lineup(rows[p.a], p.b, side)
			}
		}
	}
}

// lineupCost is that of taking a line-up row and a jam for the same.
func (c *checker) lineupCost(l *Lineup, j, side int) float64 {
	d := 0.0
	js := &c.b.Jams[j].Sides[side]
	if js.LineupTagged {
		off := 0
		for n := range slotsOf(l) {
			if js.Lineup[n] == timeline.NoRole {
				off++
			}
		}
		d = min(3, 0.8*float64(off))
	}
	if l.Jam != c.b.Jams[j].Number {
		d += offNumber
	}
	if l.Period != c.b.Jams[j].Period {
		d += 1.5
	}
	return d
}

// slotsOf is who stands in a row, with her role.
func slotsOf(l *Lineup) map[timeline.Number]timeline.Role {
	out := map[timeline.Number]timeline.Role{}
	put := func(s Slot, r timeline.Role) {
		if s.Skater.State == timeline.CellKnown && s.Skater.Value != "" {
			if _, twice := out[s.Skater.Value]; !twice {
				out[s.Skater.Value] = r
			}
		}
	}
	put(l.Jammer, timeline.Jammer)
	pivot := timeline.Pivot
	if l.NoPivot.State == timeline.CellKnown && l.NoPivot.Value {
		pivot = timeline.Blocker // the pivot's place, ticked as no pivot: a fourth blocker
	}
	put(l.Pivot, pivot)
	for _, b := range l.Blockers {
		put(b, timeline.Blocker)
	}
	return out
}

func (c *checker) lineupMissing(j int, side timeline.Side) {
	if !c.b.Jams[j].Sides[side.Index()].LineupTagged {
		return
	}
	jam := &c.b.Jams[j]
	f := Finding{Cause: CauseMissingRow, Table: KindLineups, Period: jam.Period, Jam: jam.Number, Side: side, Column: FieldJam, Sheet: "no row", Tags: "jam"}
	f.Text = fmt.Sprintf("Jam %d of period %d has no line-up row on the sheet of %s.", jam.Number, jam.Period, side)
	f.touches = []string{lineupKey(side, jam.Period, jam.Number), "lineups/" + side.String()}
	c.add(f, j)
}

// lineup compares one row. Each skater that should be there and is not, or is in
// another place, is paired with who stands there instead; the pair is one finding.
func (c *checker) lineup(l *Lineup, j int, side timeline.Side) {
	js := &c.b.Jams[j].Sides[side.Index()]
	if !js.LineupTagged {
		c.unchecked(Unchecked{Table: KindLineups, Period: l.Period, Jam: l.Jam, Side: side, Why: "no line-up is tagged"}, j)
		return
	}
	paper := slotsOf(l)
	unread := 0
	for _, s := range append([]Slot{l.Jammer, l.Pivot}, l.Blockers...) {
		if s.Skater.State == timeline.CellUnread {
			unread++
		}
	}
	var missing, extra, moved []timeline.Number
	for n, r := range js.Lineup {
		switch got, ok := paper[n]; {
		case !ok:
			missing = append(missing, n)
		case got != r:
			moved = append(moved, n)
		default:
			c.compared(true)
		}
	}
	for n := range paper {
		if js.Lineup[n] == timeline.NoRole {
			extra = append(extra, n)
		}
	}
	for _, list := range [][]timeline.Number{missing, extra, moved} {
		sort.Slice(list, func(a, b int) bool { return list[a] < list[b] })
	}
	open := openPlaces(js)
	x := &lineupDiff{c: c, l: l, j: j, side: side, js: js, paper: paper}
	x.extras(extra, &missing, open)
	x.missing(missing, unread)
	x.moved(moved)
}

// openPlaces counts places of a tagged line-up whose skater is not seen.
func openPlaces(js *timeline.JamSide) int {
	n := 0
	for _, w := range append([]timeline.Who{js.Jammer, js.Pivot}, js.Blockers...) {
		if w.Seen != timeline.Sure {
			n++
		}
	}
	return n
}

// lineupDiff reports what differs in one line-up row.
type lineupDiff struct {
	c     *checker
	l     *Lineup
	j     int
	side  timeline.Side
	js    *timeline.JamSide
	paper map[timeline.Number]timeline.Role
}

// boxed: in the box when the jam started, by the tags or by the row's own symbol.
func (x *lineupDiff) boxed(n timeline.Number) bool {
	if x.js.BoxedAtStar[n] {
		return true
	}
	for _, s := range append([]Slot{x.l.Jammer, x.l.Pivot}, x.l.Blockers...) {
		if s.Skater.Value == n && len(s.Box) > 0 && s.Box[0].Value.WasIn() {
			return true
		}
	}
	return false
}

func (x *lineupDiff) find(f Finding, who ...timeline.Number) {
	f.Table, f.Side, f.Period, f.Jam = KindLineups, x.side, x.l.Period, x.l.Jam
	key := lineupKey(x.side, x.l.Period, x.l.Jam)
	for _, n := range who {
		if n != "" {
			f.touches = append(f.touches, key+"/"+string(n))
			if f.From == nil {
				f.From = froms(x.from(n))
			}
		}
	}
	for _, id := range x.c.b.Jams[x.j].Tags {
		if t, ok := x.c.f.Tags[id]; ok && t.Kind == timeline.KindLineup && t.Side == x.side {
			f.TagID = append(f.TagID, id)
		}
	}
	x.c.compared(false)
	x.c.add(f, x.j)
}

func (x *lineupDiff) from(n timeline.Number) string {
	for _, s := range append([]Slot{x.l.Jammer, x.l.Pivot}, x.l.Blockers...) {
		if s.Skater.Value == n && s.Skater.From != "" {
			return s.Skater.From
		}
	}
	return ""
}

// extras reports skaters on paper whom the tags don't have, each with whom she
// stands for: first one of the same role.
func (x *lineupDiff) extras(extra []timeline.Number, missing *[]timeline.Number, open int) {
	for _, n := range extra {
		role := x.paper[n]
		instead := timeline.Number("")
		best := -1
		for i, m := range *missing {
			if x.js.Lineup[m] == role {
				best = i
				break
			}
		}
		if best < 0 && len(*missing) > 0 {
			best = 0
		}
		if best < 0 && open > 0 {
			open--
			x.c.unchecked(Unchecked{Table: KindLineups, Period: x.l.Period, Jam: x.l.Jam, Side: x.side, Columns: []string{role.String()}, Why: "the tags leave a place of this line-up open"}, x.j)
			continue
		}
		if best >= 0 {
			instead = (*missing)[best]
			*missing = append((*missing)[:best:best], (*missing)[best+1:]...)
		}
		f := Finding{Skater: n, Column: roleField(role), Sheet: string(n), Tags: string(instead)}
		than := ""
		if instead != "" {
			than = fmt.Sprintf("; the tags have %s there", instead)
		}
		switch {
		case unknownNumber(x.c.roster, x.side, n):
			f.Cause = CauseUnknown
			f.Text = fmt.Sprintf("%s stands in the line-up as %s and is on neither roster%s.", n, role, than)
		case x.out(n):
			f.Cause = CauseFouledFielded
			f.Text = fmt.Sprintf("%s stands in the line-up as %s after her bout was over by the tags%s.", n, role, than)
		case instead != "" && x.boxed(instead):
			f.Cause, f.Skater = CauseBoxedMissing, instead
			f.Text = fmt.Sprintf("%s was in the box when the jam started and counts as fielded; the line-up has %s instead.", instead, n)
		default:
			f.Cause = CauseLineup
			f.Text = fmt.Sprintf("%s stands in the line-up as %s%s.", n, role, than)
			if role == timeline.Jammer {
				f.Cause = CauseWrongJammer
			}
		}
		x.find(f, n, instead)
	}
}

func roleField(r timeline.Role) Field {
	switch r {
	case timeline.Jammer:
		return FieldJammer
	case timeline.Pivot:
		return FieldPivot
	}
	return FieldBlocker
}

// out reports a skater who fouled out or was expelled in an earlier jam.
func (x *lineupDiff) out(n timeline.Number) bool {
	for _, f := range x.c.b.Fouls {
		if f.Skater != (timeline.SkaterRef{Side: x.side, Number: n}) {
			continue
		}
		for _, id := range [...]timeline.ID{f.FouledOut, f.Expelled} {
			if id == "" {
				continue
			}
			for j := range x.c.b.Jams[:x.j] {
				for _, p := range x.c.b.Jams[j].Sides[x.side.Index()].Penalties {
					if p == id {
						return true
					}
				}
			}
		}
	}
	return false
}

// missing reports skaters whom the paper leaves out without anybody in their place.
func (x *lineupDiff) missing(missing []timeline.Number, unread int) {
	for _, n := range missing {
		if unread > 0 {
			unread--
			x.c.unchecked(Unchecked{Table: KindLineups, Period: x.l.Period, Jam: x.l.Jam, Side: x.side, Columns: []string{x.js.Lineup[n].String()}, Why: "the sheet's cell can't be read"}, x.j)
			continue
		}
		f := Finding{Cause: CauseLineup, Skater: n, Column: roleField(x.js.Lineup[n]), Sheet: "none", Tags: string(n)}
		f.Text = fmt.Sprintf("The tags field %s as %s; the line-up does not have her.", n, x.js.Lineup[n])
		if x.boxed(n) {
			f.Cause = CauseBoxedMissing
			f.Text = fmt.Sprintf("%s was in the box when the jam started and counts as fielded; the line-up does not have her.", n)
		}
		x.find(f, n)
	}
}

// moved reports skaters in another role. Two that changed places are one finding,
// about the boxed one if one of them was in the box.
func (x *lineupDiff) moved(moved []timeline.Number) {
	used := map[timeline.Number]bool{}
	for _, n := range moved {
		if used[n] {
			continue
		}
		used[n] = true
		with := timeline.Number("")
		for _, m := range moved {
			if !used[m] && x.paper[m] == x.js.Lineup[n] && x.paper[n] == x.js.Lineup[m] && (with == "" || x.boxed(m) && !x.boxed(with)) {
				with = m
			}
		}
		if with != "" {
			used[with] = true
		}
		who := n
		if with != "" && x.boxed(with) && !x.boxed(n) {
			who = with
		}
		f := Finding{Cause: CauseLineup, Skater: who, Column: FieldRole, Sheet: x.paper[who].String(), Tags: x.js.Lineup[who].String()}
		f.Text = fmt.Sprintf("%s stands in the line-up as %s; the tags field her as %s.", who, x.paper[who], x.js.Lineup[who])
		if x.boxed(who) {
			f.Cause = CauseBoxedRole
			f.Text = fmt.Sprintf("%s was in the box when the jam started, as %s; the line-up has her as %s.", who, x.js.Lineup[who], x.paper[who])
		}
		x.find(f, who, n, with)
	}
}

// durationSlack is how far a stopwatch may be from the film before it is worth a
// look (common practice, no source).
const durationSlack = 4 * time.Second

// durations compares jam durations.
func (c *checker) durations() {
	for _, k := range c.s.Clock {
		if k.Duration.State != timeline.CellKnown {
			continue
		}
		j := c.jamOf(k.Period, k.Jam)
		if j < 0 || c.b.Jams[j].Duration == 0 {
			c.unchecked(Unchecked{Table: KindClock, Period: k.Period, Jam: k.Jam, Columns: []string{"duration"}, Why: "the jam's length is not known from the tags"}, j)
			continue
		}
		d := k.Duration.Value - c.b.Jams[j].Duration
		c.compared(d.Abs() <= durationSlack)
		if d.Abs() <= durationSlack {
			continue
		}
		f := Finding{
			Cause: CauseDuration, Table: KindClock, Period: k.Period, Jam: k.Jam, Column: FieldDuration, From: froms(k.Duration.From),
			Sheet: clockText(k.Duration.Value), Tags: clockText(c.b.Jams[j].Duration.Round(100 * time.Millisecond)), TagID: []timeline.ID{c.b.Jams[j].ID},
			touches: []string{fmt.Sprintf("clock/%d/%d", k.Period, k.Jam)},
		}
		f.Text = fmt.Sprintf("The sheet has %s for the jam, the tags %s.", f.Sheet, strings.TrimSpace(f.Tags))
		c.add(f, j)
	}
}
