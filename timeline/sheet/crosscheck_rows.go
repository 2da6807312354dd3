package sheet

import (
	"fmt"
	"sort"
	"strconv"

	"whistlecut/timeline"
)

// extraRows reports lines of the sheet that no jam was found for. One that
// repeats its neighbour is doubled; where both sheets have a line that the tags
// have no jam for, nobody tagged it.
func (c *checker) extraRows() {
	var extra [2][]int // entry indices
	for i := range c.entries {
		for n, e := range c.entries[i] {
			if e.jam < 0 {
				extra[i] = append(extra[i], n)
			}
		}
	}
	defer func() {
		sort.Slice(c.untagged, func(i, j int) bool {
			a, b := c.untagged[i], c.untagged[j]
			return a[0] > b[0] || a[0] == b[0] && a[1] > b[1]
		})
	}()
	used := [2]map[int]bool{{}, {}}
	for i, side := range timeline.Sides {
		for _, n := range extra[i] {
			if used[i][n] {
				continue
			}
			used[i][n] = true
			e := c.entries[i][n]
			twin := c.doubled(i, n)
			mate := c.mate(1-i, extra[1-i], used[1-i], e)
			if mate >= 0 {
				used[1-i][mate] = true
			}
			if !twin && (mate >= 0 || len(c.entries[1-i]) == 0 || !c.logged) {
				u := Unchecked{Table: KindScore, Period: e.line.period, Jam: e.line.jam, Why: "no jam is tagged for this row"}
				c.leaveOpen(e, &u)
				if mate >= 0 {
					c.leaveOpen(c.entries[1-i][mate], &u)
					c.untagged = append(c.untagged, [2]int{e.line.period, e.line.jam})
				} else {
					u.Side = side
				}
				c.unchecked(u, -1)
				continue
			}
			f := c.extraFinding(e)
			if mate >= 0 {
				m := c.entries[1-i][mate]
				f.Side = timeline.NoSide
				c.stakeRow(f, m)
			}
		}
	}
}

// leaveOpen counts a line's points as unchecked.
func (c *checker) leaveOpen(e *entry, u *Unchecked) {
	v, _ := e.points()
	e.open = v
	u.Points[e.side.Index()] += v
}

func (c *checker) extraFinding(e *entry) *Finding {
	v, _ := e.points()
	f := Finding{Cause: CauseDoubledRow, Column: FieldJam, Sheet: fmt.Sprintf("row with %d points", v), Tags: "no such row", From: froms(fromRow(e.line))}
	f.Text = fmt.Sprintf("%s has a row for jam %d more than the tags have jams; it repeats its neighbour or stands for no tagged jam.", title1(e.side.String()), e.line.jam)
	p := c.draft(e, f, "points", "jammer", "marks")
	near := c.near(e)
	if near >= 0 {
		p.JamID, p.Film = c.b.Jams[near].ID, c.b.Jams[near].Start
	}
	p.Stake = [2]int{}
	c.stakeRow(p, e)
	return p
}

// stakeRow adds a whole line to a finding's stake.
func (c *checker) stakeRow(p *Finding, e *entry) {
	v, _ := e.points()
	e.residual, e.tags = v, 0
	p.Stake[e.side.Index()] += v
	p.touches = append(p.touches, rowKey(e.side, e.line.period, e.line.jam), rowsKey(e.side, e.line.period))
	known := false
	for _, d := range e.drafts {
		known = known || d == p
	}
	if !known {
		e.drafts = append(e.drafts, p)
	}
}

// doubled reports that an unpaired line repeats the line before or after it.
func (c *checker) doubled(i, n int) bool {
	e := c.entries[i][n]
	for _, m := range [...]int{n - 1, n + 1} {
		if m >= 0 && m < len(c.entries[i]) && alike(e.line, c.entries[i][m].line) {
			return true
		}
	}
	return false
}

// alike reports lines with the same jammers, trips and marks.
func alike(a, b line) bool {
	if len(a.rows) != len(b.rows) {
		return false
	}
	for k := range a.rows {
		r, q := a.rows[k], b.rows[k]
		if !equal(r.Jammer, q.Jammer) || !equal(r.Lead, q.Lead) || !equal(r.JamTotal, q.JamTotal) {
			return false
		}
		for i := range max(len(r.Trips), len(q.Trips)) {
			x, _ := tripSpan(r, i)
			y, _ := tripSpan(q, i)
			if x != y {
				return false
			}
		}
	}
	return true
}

// mate is an unpaired line of the other side at the same place.
func (c *checker) mate(i int, list []int, used map[int]bool, e *entry) int {
	for _, n := range list {
		o := c.entries[i][n]
		if !used[n] && o.line.period == e.line.period && o.line.jam == e.line.jam && c.near(o) == c.near(e) {
			return n
		}
	}
	return -1
}

// near is the jam of the paired line that an unpaired one repeats, else of the
// one before it, else of the one after.
func (c *checker) near(e *entry) int {
	list := c.entries[e.side.Index()]
	for n, x := range list {
		if x != e {
			continue
		}
		for _, m := range [...]int{n - 1, n + 1} {
			if m >= 0 && m < len(list) && list[m].jam >= 0 && alike(e.line, list[m].line) {
				return list[m].jam
			}
		}
	}
	last := -1
	for n, x := range list {
		if x == e {
			if last < 0 {
				for _, y := range list[n:] {
					if y.jam >= 0 {
						return y.jam
					}
				}
			}
			return last
		}
		if x.jam >= 0 {
			last = x.jam
		}
	}
	return -1
}

// missingRows reports jams that have no line on a side's sheet.
func (c *checker) missingRows() {
	for j := range c.b.Jams {
		var sides []timeline.Side
		for i, side := range timeline.Sides {
			if len(c.entries[i]) > 0 && c.byJam[i][j] == nil {
				sides = append(sides, side)
			}
		}
		if len(sides) == 0 {
			continue
		}
		if !c.periodOnSheet(c.b.Jams[j].Period) {
			c.unchecked(Unchecked{Table: KindScore, Why: fmt.Sprintf("the sheet has no rows of period %d", c.b.Jams[j].Period)}, j)
			c.report.Notes = appendOnce(c.report.Notes, fmt.Sprintf("The sheet has no score rows of period %d; that period was left out.", c.b.Jams[j].Period))
			continue
		}
		f := Finding{Cause: CauseMissingRow, Table: KindScore, Column: FieldJam, Period: c.b.Jams[j].Period, Jam: c.paperNumber(j), Tags: "jam", Sheet: "no row"}
		if len(sides) == 1 {
			f.Side = sides[0]
		}
		for _, s := range sides {
			f.Stake[s.Index()] = -c.span(j, s.Index()).Low
			f.touches = append(f.touches, totalKey(s), rowsKey(s, f.Period), rowKey(s, f.Period, f.Jam))
		}
		f.Tags = strconv.Itoa(c.span(j, 0).Low) + " : " + strconv.Itoa(c.span(j, 1).Low)
		f.Text = fmt.Sprintf("Jam %d of period %d has no row on the sheet of %s.", f.Jam, f.Period, sideNames(sides))
		p := c.add(f, j)
		for _, s := range sides {
			if e := c.after(s.Index(), j); e != nil {
				e.before = append(e.before, p)
			}
		}
	}
}

func (c *checker) periodOnSheet(p int) bool {
	for i := range c.entries {
		for _, e := range c.entries[i] {
			if e.line.period == p || e.jam >= 0 && c.b.Jams[e.jam].Period == p {
				return true
			}
		}
	}
	return false
}

func appendOnce(list []string, s string) []string {
	if contains(list, s) {
		return list
	}
	return append(list, s)
}

func sideNames(sides []timeline.Side) string {
	if len(sides) == 2 {
		return "either team"
	}
	return sides[0].String()
}

// after is the first line of a side whose jam comes after j.
func (c *checker) after(i, j int) *entry {
	for _, e := range c.entries[i] {
		if e.jam > j {
			return e
		}
	}
	return nil
}

// slip is one game total or jam total that does not follow from what is above it.
type slip struct {
	e     *entry
	k     int // row
	value int
	order int // among the side's game totals
}

// slips explains jam totals and game totals: by a finding of the same line whose
// consequence stayed away, by a total that was right again on the next line, or
// as slips of their own.
func (c *checker) slips() {
	for i := range c.entries {
		var carry []slip
		n := 0
		for _, e := range c.entries[i] {
			for k, x := range e.rows {
				if x.slip != 0 {
					c.jamTotal(e, k, x)
				}
				if x.gameSet {
					if x.carry != 0 {
						carry = append(carry, slip{e, k, x.carry, n})
					}
					n++
				}
			}
		}
		for n := 0; n < len(carry); n++ {
			s := carry[n]
			if f := c.explains(i, s); f != nil {
				f.Stake[i] += s.value
				f.Also = append(f.Also, fmt.Sprintf("The game total of %d does not follow it.", s.e.rows[s.k].game))
				f.touches = append(f.touches, rowKey(s.e.side, s.e.line.period, s.e.line.jam)+"/points")
				continue
			}
			if s.order == 0 && c.leftOutBefore(s.e) {
				s.e.open += s.value
				u := Unchecked{Table: KindScore, Period: s.e.line.period, Jam: s.e.line.jam, Side: s.e.side, Columns: []string{string(FieldGameTotal)}, Why: "its points from before are of a period that is not on the sheet"}
				u.Points[i] = s.value
				c.unchecked(u, s.e.jam)
				continue
			}
			x := s.e.rows[s.k]
			f := Finding{Cause: CauseRunning, Column: FieldGameTotal, Sheet: strconv.Itoa(x.game), Tags: strconv.Itoa(x.game - s.value), From: froms(s.e.line.rows[s.k].GameTotal.From)}
			f.Stake[i] = s.value
			f.Text = fmt.Sprintf("The game total is %d; the total before and this row's points make %d.", x.game, x.game-s.value)
			p := c.draft(s.e, f, "points")
			if n+1 < len(carry) && carry[n+1].value == -s.value && carry[n+1].order == s.order+1 {
				next := carry[n+1]
				p.Stake[i] = 0
				p.Also = append(p.Also, "The next game total is right again.")
				p.touches = append(p.touches, rowKey(next.e.side, next.e.line.period, next.e.line.jam)+"/points")
				n++
			}
			if p.State == StateDiffers && s.e.jam < 0 {
				p.State = StateImpossible
			}
		}
	}
}

// leftOutBefore reports that a period before a line's is not on the sheet.
func (c *checker) leftOutBefore(e *entry) bool {
	for p := 1; p < e.line.period; p++ {
		if !c.periodOnSheet(p) {
			return true
		}
	}
	return false
}

// explains finds the finding of the same line (or of a line missing or doubled
// just before) whose points the game total did not take in.
func (c *checker) explains(i int, s slip) *Finding {
	for _, f := range s.e.drafts {
		if f.Stake[i] == -s.value {
			return f
		}
	}
	for _, f := range s.e.before {
		if f.Stake[i] == -s.value {
			return f
		}
	}
	list := c.entries[i]
	for n, e := range list {
		if e == s.e && n > 0 {
			for _, f := range list[n-1].drafts {
				if f.Stake[i] == -s.value && (f.Cause == CauseDoubledRow || f.Cause == CauseSwappedTeams) {
					return f
				}
			}
		}
	}
	return nil
}

// jamTotal explains a jam total that is not the sum of its trips.
func (c *checker) jamTotal(e *entry, k int, x rowSum) {
	i := e.side.Index()
	for _, f := range e.drafts {
		if f.Stake[i] == -x.slip && f.Cause != CauseJamTotal {
			f.Stake[i] = 0
			f.Also = append(f.Also, fmt.Sprintf("The jam total of %d is the tags'.", x.total))
			return
		}
	}
	f := Finding{Cause: CauseJamTotal, Column: FieldJamTotal, Sheet: strconv.Itoa(x.total), Tags: strconv.Itoa(x.trips), From: froms(e.line.rows[k].JamTotal.From)}
	f.Stake[i] = x.slip
	f.Text = fmt.Sprintf("The jam total is %d; the row's trips make %d.", x.total, x.trips)
	c.draft(e, f, "points")
}

// noScore takes back what was counted in the score of a side whose sheet tells
// none: nothing can be at stake there.
func (c *checker) noScore(i int) {
	for _, e := range c.entries[i] {
		e.open = 0
	}
	for _, f := range c.found {
		f.Stake[i] = 0
	}
}

// account adds up each side's score.
func (c *checker) account() {
	for i := range c.entries {
		a := &c.report.Score[i]
		a.Sheet, a.SheetKnown = final(c.entries[i])
		if !a.SheetKnown {
			c.noScore(i)
		}
		near := 0
		for _, e := range c.entries[i] {
			near += e.tags
			a.Unchecked += e.open
		}
		for j := range c.b.Jams {
			a.Tags = a.Tags.Add(c.span(j, i))
			if c.byJam[i][j] == nil {
				if len(c.entries[i]) > 0 && c.periodOnSheet(c.b.Jams[j].Period) {
					near += c.span(j, i).Low
				}
			}
		}
		if a.SheetKnown {
			a.Difference = a.Sheet - near
		}
		for _, f := range c.found {
			a.Explained += f.Stake[i]
		}
	}
}
