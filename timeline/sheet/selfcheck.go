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
	for _, x := range selfCheck(s, rules, roster) {
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
	// seen keeps one finding per place and cause.
	seen map[string]bool
}

func selfCheck(s Sheet, rules timeline.RuleSet, roster [2]map[timeline.Number]bool) []Finding {
	c := &selfChecker{s: s, rules: rules, roster: roster, seen: map[string]bool{}}
	for i, side := range timeline.Sides {
		c.lines[i] = lines(s.Rows, side)
	}
	c.pairing()
	c.arithmetic()
	c.combinations()
	c.fielding()
	c.penaltySheet()
	return c.found
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
