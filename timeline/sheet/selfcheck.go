package sheet

import (
	"fmt"

	"whistlecut/timeline"
)

// SelfCheck checks a sheet in itself, with no film and no tags: arithmetic,
// combinations that the rules exclude, rows that do not pair, numbers that are
// on no roster, penalties against line-ups. A zero rule set leaves out what
// needs one.
func SelfCheck(s Sheet, rules timeline.RuleSet) Report {
	f := timeline.Facts{Rules: rules}
	roster := [2]map[timeline.Number]bool{rosterOf(s, f, timeline.Home), rosterOf(s, f, timeline.Away)}
	var found []*Finding
	for _, x := range selfCheck(s, rules, roster, false, nil) {
		found = append(found, &x)
	}
	var r Report
	r.Findings = withKeys(found, nil)
	for i, side := range timeline.Sides {
		var es []*entry
		for _, l := range lines(s.Rows, side) {
			es = append(es, &entry{line: l, side: side, jam: -1})
		}
		addUp(es)
		r.Score[i].Sheet, r.Score[i].SheetKnown = final(es)
	}
	return r
}

// selfChecker is the state of one self-check.
type selfChecker struct {
	s      Sheet
	rules  timeline.RuleSet
	roster [2]map[timeline.Number]bool
	lines  [2][]line
	found  []Finding
	// late are overtime jams that the tags know of.
	late map[[2]int]bool
	// seen keeps one finding per place and cause.
	seen map[string]bool
}

// selfCheck runs all checks; beside checks only what a cross-check does not do
// itself (it explains slips of the totals with their causes).
func selfCheck(s Sheet, rules timeline.RuleSet, roster [2]map[timeline.Number]bool, beside bool, late map[[2]int]bool) []Finding {
	c := &selfChecker{s: s, rules: rules, roster: roster, late: late, seen: map[string]bool{}}
	for i, side := range timeline.Sides {
		c.lines[i] = lines(s.Rows, side)
		c.byLineups(i, side)
	}
	c.pairing()
	c.arithmetic(beside)
	c.combinations()
	c.fielding()
	c.penaltySheet()
	return c.found
}

// byLineups numbers a side's score rows by the line-ups that they align with, so
// that a missing or doubled row is one finding and not one for each row below it.
func (c *selfChecker) byLineups(i int, side timeline.Side) {
	rows := c.lineupRows(side)
	ls := c.lines[i]
	if len(rows) == 0 || len(ls) == 0 {
		return
	}
	pairs := alignLineups(ls, rows)
	off, paired := 0, 0
	for _, p := range pairs {
		if p.a >= 0 && p.b >= 0 {
			paired++
			if ls[p.a].jam != rows[p.b].Jam {
				off++
			}
		}
	}
	if off < 2 || paired < len(ls)/2 {
		return
	}
	kept := ls[:0:0]
	for n, p := range pairs {
		switch {
		case p.a < 0:
		case p.b < 0 && n > 0 && pairs[n-1].a >= 0 && alike(ls[p.a], ls[pairs[n-1].a]):
			f := c.row(CauseDoubledRow, side, ls[p.a], FieldJam)
			f.Sheet, f.Tags = "row twice", "row once"
			f.Text = fmt.Sprintf("The row of jam %d of period %d repeats the one before on the sheet of %s.", ls[p.a].jam, ls[p.a].period, side)
			f.touches = append(f.touches, rowsKey(side, ls[p.a].period))
			c.add(f)
		default:
			l := ls[p.a]
			if p.b >= 0 {
				l.period, l.jam = rows[p.b].Period, rows[p.b].Jam
			}
			kept = append(kept, l)
		}
	}
	c.lines[i] = kept
}

func (c *selfChecker) lineupRows(side timeline.Side) []*Lineup {
	var rows []*Lineup
	for n := range c.s.Lineups {
		if l := &c.s.Lineups[n]; l.Side == side && !l.StarPass {
			rows = append(rows, l)
		}
	}
	return rows
}

// alignLineups pairs score lines and line-up rows by jam and jammer.
func alignLineups(ls []line, rows []*Lineup) []pair {
	return align(len(ls), len(rows), func(a, b int) float64 {
		d := 0.0
		j := ls[a].row(0).Jammer
		if j.State == timeline.CellKnown && rows[b].Jammer.Skater.State == timeline.CellKnown && j.Value != rows[b].Jammer.Skater.Value {
			d += 1.5
		}
		if ls[a].jam != rows[b].Jam {
			d += offNumber
		}
		if ls[a].period != rows[b].Period {
			d += 1.5
		}
		return d
	}, gap)
}

// add records a finding once.
func (c *selfChecker) add(f Finding) {
	f.State = StateImpossible
	k := string(f.Cause) + f.key()
	if c.seen[k] {
		return
	}
	c.seen[k] = true
	c.found = append(c.found, f)
}

// row starts a finding about a score row.
func (c *selfChecker) row(cause Cause, side timeline.Side, l line, field Field, touches ...string) Finding {
	f := Finding{Cause: cause, Table: KindScore, Period: l.period, Jam: l.jam, Side: side, Column: field, From: froms(fromRow(l))}
	for _, t := range touches {
		f.touches = append(f.touches, rowKey(side, l.period, l.jam)+"/"+t)
	}
	return f
}

// pairing: both sides have the same jams, each once and without a gap, and the
// other tables know no jam besides.
func (c *selfChecker) pairing() {
	jams := [2]map[[2]int]int{{}, {}}
	for i, side := range timeline.Sides {
		last := [2]int{}
		for _, l := range c.lines[i] {
			k := [2]int{l.period, l.jam}
			jams[i][k]++
			if jams[i][k] == 2 {
				f := c.row(CauseDoubledRow, side, l, FieldJam)
				f.Sheet, f.Tags = "row twice", "row once"
				f.Text = fmt.Sprintf("Jam %d of period %d stands twice on the sheet of %s.", l.jam, l.period, side)
				f.touches = append(f.touches, rowsKey(side, l.period))
				c.add(f)
			}
			if l.period == last[0] && l.jam > last[1]+1 {
				for n := last[1] + 1; n < l.jam && n < last[1]+60; n++ {
					c.missing(side, l.period, n, "the numbers leave it out")
				}
			}
			last = k
		}
	}
	if len(c.lines[0]) == 0 || len(c.lines[1]) == 0 {
		return
	}
	for i, side := range timeline.Sides {
		for _, l := range c.lines[1-i] {
			if jams[i][[2]int{l.period, l.jam}] == 0 {
				c.missing(side, l.period, l.jam, "the other sheet has it")
			}
		}
	}
	for _, l := range c.s.Lineups {
		k := [2]int{l.Period, l.Jam}
		if i := l.Side.Index(); jams[i][k] == 0 && len(c.lines[i]) > 0 {
			c.missing(l.Side, l.Period, l.Jam, "the line-up sheet has it")
		}
	}
}

func (c *selfChecker) missing(side timeline.Side, period, jam int, why string) {
	k := fmt.Sprintf("missing %s %d %d", side, period, jam)
	if c.seen[k] {
		return
	}
	c.seen[k] = true
	f := Finding{Cause: CauseMissingRow, Table: KindScore, Period: period, Jam: jam, Side: side, Column: FieldJam, Sheet: "no row", Tags: "row"}
	f.Text = fmt.Sprintf("Jam %d of period %d has no row on the score sheet of %s; %s.", jam, period, side, why)
	f.touches = []string{rowKey(side, period, jam), rowsKey(side, period)}
	c.add(f)
}
