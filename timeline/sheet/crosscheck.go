package sheet

import (
	"fmt"
	"sort"

	"whistlecut/timeline"
)

// Check cross-checks the sheet against the recount and, in itself, by the rule
// set of the facts. Rows are aligned even if one is missing, doubled or stands
// on the other team's sheet; what the tags do not say stays unchecked. Each
// finding has one cause, the simplest that explains it, and the findings'
// stakes with the unchecked points add up to the difference in score.
// Resolutions stored in the facts are attached to their findings.
func Check(s Sheet, b timeline.Bout, f timeline.Facts) Report {
	c := &checker{s: s, b: b, f: f, logged: len(b.Jams) > 0}
	for i, side := range timeline.Sides {
		c.sheet[i] = lines(s.Rows, side)
		c.roster[i] = rosterOf(s, f, side)
		for j := range b.Jams {
			c.tags[i] = append(c.tags[i], tagLine(&b.Jams[j], side))
		}
	}
	c.score()
	c.penalties()
	c.outs()
	c.lineups()
	c.durations()
	late := map[[2]int]bool{}
	for _, j := range b.Jams {
		if j.Overtime {
			late[[2]int{j.Period, j.Number}] = true
		}
	}
	c.fold(selfCheck(c.aligned(), f.Rules, c.roster, len(b.Jams) > 0, late))
	c.finish()
	return c.report
}

// checker is the state of one check.
type checker struct {
	s       Sheet
	b       timeline.Bout
	f       timeline.Facts
	logged  bool // there are jams to compare with
	roster  [2]map[timeline.Number]bool
	sheet   [2][]line
	tags    [2][]line // by jam index
	pairs   [2][]pair
	entries [2][]*entry
	byJam   [2]map[int]*entry // the entry paired with a jam
	// untagged are period and number of jams on both score sheets that nobody
	// tagged, highest first.
	untagged [][2]int
	report   Report
	found    []*Finding
}

// rosterOf is who may be fielded: the sheet's roster, else the bout's; nil when
// neither is known.
func rosterOf(s Sheet, f timeline.Facts, side timeline.Side) map[timeline.Number]bool {
	out := map[timeline.Number]bool{}
	for _, l := range s.Teams[side.Index()].Roster {
		if l.Number.State == timeline.CellKnown {
			out[l.Number.Value] = true
		}
	}
	if len(out) == 0 {
		for _, p := range f.Teams[side.Index()].Roster {
			out[p.Number] = true
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// unknownNumber reports a number that is on neither side's roster.
func unknownNumber(roster [2]map[timeline.Number]bool, side timeline.Side, n timeline.Number) bool {
	r := roster[side.Index()]
	return r != nil && !r[n] && !roster[side.Other().Index()][n]
}

func tagLine(j *timeline.Jam, side timeline.Side) line {
	l := line{period: j.Period, jam: j.Number}
	js := &j.Sides[side.Index()]
	for i := range js.Rows {
		if r := &js.Rows[i]; !r.Spacer {
			l.rows = append(l.rows, r)
		}
	}
	return l
}

// add records a finding and fills in what follows from its jam.
func (c *checker) add(f Finding, jam int) *Finding {
	p := &f
	if p.State == "" {
		p.State = StateDiffers
	}
	if jam >= 0 && jam < len(c.b.Jams) {
		j := &c.b.Jams[jam]
		p.JamID = j.ID
		if p.Period == 0 {
			p.Period, p.Jam = j.Period, j.Number
		}
		p.Film = j.Start
		if p.Film.IsZero() {
			p.Film = timeline.JamAlone(j.ID)
		}
	}
	for _, id := range p.TagID {
		if t, ok := c.f.Tags[id]; ok && t.Place.HasTime() && t.Kind != timeline.KindJam {
			p.Film = t.Place
			break
		}
	}
	c.found = append(c.found, p)
	return p
}

func (c *checker) unchecked(u Unchecked, jam int) {
	if jam >= 0 && jam < len(c.b.Jams) {
		u.JamID, u.Film = c.b.Jams[jam].ID, c.b.Jams[jam].Start
		if u.Period == 0 {
			u.Period, u.Jam = c.b.Jams[jam].Period, c.b.Jams[jam].Number
		}
	}
	c.report.Unchecked = append(c.report.Unchecked, u)
}

// compared counts one compared cell.
func (c *checker) compared(agrees bool) {
	c.report.Compared++
	if agrees {
		c.report.Agreed++
	}
}

// aligned is the sheet with its score rows numbered as the jams they were paired
// with, and without rows that have no jam: what the sheet is to be checked in
// itself as, so that one missing row does not set all rows below it against the
// other team's.
func (c *checker) aligned() Sheet {
	s := c.s
	if !c.logged || len(c.sheet[0])+len(c.sheet[1]) == 0 {
		return s
	}
	s.Rows = nil
	for i := range c.entries {
		for _, e := range c.entries[i] {
			if e.jam < 0 && c.logged && len(c.b.Jams) > 0 && e.open == 0 && len(e.drafts) > 0 {
				continue
			}
			for _, r := range e.line.rows {
				x := *r
				if e.jam >= 0 {
					x.Period, x.Jam = c.b.Jams[e.jam].Period, c.paperNumber(e.jam)
				}
				s.Rows = append(s.Rows, x)
			}
		}
	}
	return s
}

// fold drops what the sheet contradicts itself in where a finding explains it,
// and adds the rest: there tags and sheet agree, yet the entry can't be so.
func (c *checker) fold(self []Finding) {
	for _, f := range self {
		explained := false
		for _, by := range c.found {
			if by.State == StateDiffers && touch(by.touches, f.touches) {
				by.Also = append(by.Also, f.Text)
				explained = true
				break
			}
		}
		if explained {
			continue
		}
		jam := c.jamOf(f.Period, f.Jam)
		f.Stake = [2]int{}
		c.add(f, jam)
	}
}

// touch reports that two findings are about the same place: one of a's places is
// one of b's, or holds it.
func touch(a, b []string) bool {
	for _, x := range a {
		for _, y := range b {
			if x == y || len(x) < len(y) && y[:len(x)] == x && y[len(x)] == '/' || len(y) < len(x) && x[:len(y)] == y && x[len(y)] == '/' {
				return true
			}
		}
	}
	return false
}

// jamOf finds the jam that another table's period and number mean; -1 unknown.
// Jams that both score sheets have and nobody tagged are not counted by the
// tags, so later ones bear higher numbers on paper.
func (c *checker) jamOf(period, jam int) int {
	for _, u := range c.untagged {
		switch {
		case u[0] != period:
		case u[1] == jam:
			return -1
		case u[1] < jam:
			jam--
		}
	}
	for i, j := range c.b.Jams {
		if j.Period == period && j.Number == jam {
			return i
		}
	}
	return -1
}

// paperNumber is the number that a jam has on faultless paper: the tags' number
// and the untagged jams before it.
func (c *checker) paperNumber(j int) int {
	n := c.b.Jams[j].Number
	for i := len(c.untagged) - 1; i >= 0; i-- {
		if u := c.untagged[i]; u[0] == c.b.Jams[j].Period && u[1] <= n {
			n++
		}
	}
	return n
}

// finish orders the findings, gives each its key and attaches resolutions.
func (c *checker) finish() {
	sort.SliceStable(c.found, func(i, j int) bool {
		a, b := c.found[i], c.found[j]
		if a.Period != b.Period {
			return a.Period < b.Period
		}
		if a.Jam != b.Jam {
			return a.Jam < b.Jam
		}
		return a.Side < b.Side
	})
	c.report.Findings = withKeys(c.found, c.f.Resolutions)
}

// withKeys turns findings into values with unique keys and their resolutions.
func withKeys(found []*Finding, resolutions map[timeline.ID]timeline.Resolution) []Finding {
	out := []Finding{}
	seen := map[string]int{}
	for _, f := range found {
		k := f.key()
		seen[k]++
		if seen[k] > 1 {
			k = fmt.Sprintf("%s#%d", k, seen[k])
		}
		f.Key = k
		if r, ok := resolutions[timeline.ID(k)]; ok {
			f.Resolution = &r
		}
		out = append(out, *f)
	}
	return out
}

func rowKey(side timeline.Side, period, jam int) string {
	return fmt.Sprintf("row/%s/%d/%d", side, period, jam)
}

func rowsKey(side timeline.Side, period int) string { return fmt.Sprintf("rows/%s/%d", side, period) }

// totalKey is a side's displayed total: whatever changes its score explains it.
func totalKey(side timeline.Side) string { return "total/" + side.String() }

func lineupKey(side timeline.Side, period, jam int) string {
	return fmt.Sprintf("lineup/%s/%d/%d", side, period, jam)
}

func skaterKey(side timeline.Side, n timeline.Number) string {
	return fmt.Sprintf("skater/%s/%s", side, n)
}
