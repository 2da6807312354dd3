package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"whistlecut/timeline"
)

// tripGrid is a line's trips by row and column, as far as they can be compared.
type tripGrid struct {
	sheet [][]int // value; 0 for an empty cell
	empty [][]bool
	open  [][]bool // can't be read
	tags  [][]timeline.Range
	rows  int
	width int
}

func newTripGrid(s, t line) tripGrid {
	g := tripGrid{rows: max(len(s.rows), len(t.rows)), width: max(s.width(), t.width()) + 2}
	for k := range g.rows {
		var vs []int
		var es, os []bool
		var ts []timeline.Range
		for i := range g.width {
			v, open := tripSpan(s.row(k), i)
			if !v.Sure() {
				open = true // a range on paper: our own form of a recount
			}
			r := s.row(k)
			vs, os = append(vs, v.Low), append(os, open)
			es = append(es, r == nil || i >= len(r.Trips) || r.Trips[i].State <= timeline.CellBlank)
			span, _ := tripSpan(t.row(k), i)
			ts = append(ts, span)
		}
		g.sheet, g.empty, g.open, g.tags = append(g.sheet, vs), append(g.empty, es), append(g.open, os), append(g.tags, ts)
	}
	return g
}

// same reports that cell k, i agrees with the tags' cell k, j. An empty cell and
// 0 are the same: sheets differ in writing the last, unfinished trip.
func (g tripGrid) same(k, i, j int) bool {
	if i < 0 || i >= g.width {
		return j < 0 || j >= g.width || g.tags[k][j].Low == 0
	}
	if g.open[k][i] {
		return true
	}
	want := timeline.Range{}
	if j >= 0 && j < g.width {
		want = g.tags[k][j]
	}
	return want.Contains(g.sheet[k][i])
}

// apart counts the differing cells of row k when the sheet's columns are read
// shifted to the right by s.
func (g tripGrid) apart(k, s int) int {
	n := 0
	for i := min(0, s); i < g.width+max(0, s); i++ {
		if !g.same(k, i, i-s) {
			n++
		}
	}
	return n
}

// union counts the columns whose sum over both rows differs.
func (g tripGrid) union() int {
	n := 0
	for i := range g.width {
		sum, span, open := 0, timeline.Range{}, false
		for k := range g.rows {
			sum += g.sheet[k][i]
			span = span.Add(g.tags[k][i])
			open = open || g.open[k][i]
		}
		if !open && !span.Contains(sum) {
			n++
		}
	}
	return n
}

// trips compares the trips of a line and finds the simplest cause: credited to
// the other row of a star pass, shifted by a column, or single digits.
func (c *checker) trips(e *entry, t line) {
	s := e.line
	g := newTripGrid(s, t)
	var shift, apart [2]int
	straight := 0
	for k := range g.rows {
		n := g.apart(k, 0)
		straight += n
		apart[k] = n
		for _, d := range [...]int{1, -1, 2} {
			if x := g.apart(k, d) + 1; x < apart[k] {
				apart[k], shift[k] = x, d
			}
		}
	}
	starRow := (s.sp() == nil) != (t.sp() == nil)
	credit := g.union() + 1
	switch {
	case starRow && s.sp() == nil && !c.starRows():
		c.unchecked(Unchecked{Table: KindScore, Period: s.period, Jam: s.jam, Side: e.side, Columns: []string{string(FieldStarPass)}, Why: "this sheet has no star-pass rows; the line holds both jammers' trips"}, e.jam)
		c.unionDigits(e, t, g)
	case starRow:
		c.starRow(e, t, g)
	case g.rows > 1 && straight > 0 && credit < apart[0]+apart[1]:
		c.starCredit(e, t, g)
	default:
		for k := range g.rows {
			if shift[k] != 0 {
				c.shifted(e, t, g, k, shift[k])
			} else {
				c.digits(e, t, g, k)
			}
		}
	}
}

// starRows reports a sheet that has star-pass rows at all.
func (c *checker) starRows() bool {
	for _, r := range c.s.Rows {
		if r.StarPass || r.Spacer {
			return true
		}
	}
	return false
}

// starRow: one paper has a star-pass row and the other not.
func (c *checker) starRow(e *entry, t line, g tripGrid) {
	f := Finding{Cause: CauseStarPass, Column: FieldStarPass, Sheet: "no SP row", Tags: "SP row", From: froms(fromRow(e.line))}
	f.Text = "By the tags a star pass was completed; the sheet has no SP row for it."
	if e.line.sp() != nil {
		f.Sheet, f.Tags = "SP row", "no SP row"
		f.Text = "The sheet has an SP row; by the tags no star pass was completed."
	}
	for id, tag := range c.jamTags(e.jam) {
		if tag.Kind == timeline.KindStarPass && tag.Side == e.side {
			f.TagID = append(f.TagID, id)
		}
	}
	c.draft(e, f, "points", "jammer", "marks")
	c.unionDigits(e, t, g)
}

func (c *checker) jamTags(jam int) map[timeline.ID]timeline.Tag {
	out := map[timeline.ID]timeline.Tag{}
	for _, id := range c.b.Jams[jam].Tags {
		if t, ok := c.f.Tags[id]; ok {
			out[id] = t
		}
	}
	return out
}

// starCredit: the trips add up column by column but stand in the wrong row.
func (c *checker) starCredit(e *entry, t line, g tripGrid) {
	c.compared(false)
	f := Finding{
		Cause: CauseStarPass, Column: FieldTrip, Sheet: g.text(0, true) + " | " + g.text(1, true), Tags: g.text(0, false) + " | " + g.text(1, false),
		From: tripFroms(e.line), TagID: tripTags(t),
	}
	f.Text = fmt.Sprintf("A trip belongs to whoever completes it: the sheet has %s before and %s after the star pass, the tags %s and %s.",
		g.text(0, true), g.text(1, true), g.text(0, false), g.text(1, false))
	c.draft(e, f, "points")
	c.unionDigits(e, t, g)
}

// unionDigits reports columns whose sum over both rows still differs.
func (c *checker) unionDigits(e *entry, t line, g tripGrid) {
	for i := range g.width {
		sum, span, open := 0, timeline.Range{}, false
		for k := range g.rows {
			sum += g.sheet[k][i]
			span = span.Add(g.tags[k][i])
			open = open || g.open[k][i]
		}
		if open || span.Contains(sum) {
			continue
		}
		c.digit(e, t, 0, i, sum, span)
	}
}

// shifted: row k is right but for standing d columns aside.
func (c *checker) shifted(e *entry, t line, g tripGrid, k, d int) {
	c.compared(false)
	f := Finding{Cause: CauseShifted, Column: FieldTrip, Sheet: g.text(k, true), Tags: g.text(k, false), From: tripFroms(e.line), TagID: tripTags(t)}
	way := "right"
	if d < 0 {
		way = "left"
	}
	f.Text = fmt.Sprintf("The trips stand %d column to the %s of the tags' (%s, the tags %s).", abs(d), way, g.text(k, true), g.text(k, false))
	if d > 1 {
		f.Text = strings.Replace(f.Text, "column to", "columns to", 1)
	}
	c.draft(e, f, "points")
	for i := range g.width {
		if g.same(k, i, i-d) {
			continue
		}
		want := timeline.Range{}
		if i-d >= 0 && i-d < g.width {
			want = g.tags[k][i-d]
		}
		c.digit(e, t, k, i, g.sheet[k][i], want)
	}
}

// digits: single trips of row k differ.
func (c *checker) digits(e *entry, t line, g tripGrid, k int) {
	for i := range g.width {
		switch {
		case g.open[k][i]:
			c.unchecked(Unchecked{Table: KindScore, Period: e.line.period, Jam: e.line.jam, Side: e.side, Columns: []string{fmt.Sprintf("trip %d", i+2)}, Why: "the sheet's cell can't be read"}, e.jam)
		case g.empty[k][i] && g.tags[k][i] == timeline.Range{}:
		case !g.tags[k][i].Contains(g.sheet[k][i]):
			c.compared(false)
			c.digit(e, t, k, i, g.sheet[k][i], g.tags[k][i])
		case !g.tags[k][i].Sure():
			c.rangeOpen(e, fmt.Sprintf("trip %d", i+2), g.sheet[k][i], g.tags[k][i])
		default:
			c.compared(true)
		}
	}
}

// digit reports one trip.
func (c *checker) digit(e *entry, t line, k, i, v int, span timeline.Range) {
	f := Finding{Cause: CauseTripDigit, Column: FieldTrip, N: i + 2, Sheet: strconv.Itoa(v), Tags: rangeText(span)}
	if r := e.line.row(k); r != nil && i < len(r.Trips) {
		f.From = froms(r.Trips[i].From)
		if r.Trips[i].State <= timeline.CellBlank {
			f.Sheet = "blank"
		}
	} else {
		f.Sheet = "blank"
	}
	if q := t.row(k); q != nil && i < len(q.Trips) {
		f.TagID = q.Trips[i].Tags
	}
	d := v - nearest(v, span)
	f.Stake[e.side.Index()] = d
	e.residual += d
	f.Text = fmt.Sprintf("Trip %d: the sheet has %s, the tags %s.", i+2, f.Sheet, f.Tags)
	c.draft(e, f, "points")
}

// text writes a row's trips: "4, 3, 0".
func (g tripGrid) text(k int, sheet bool) string {
	var out []string
	last := -1
	for i := range g.width {
		s := "-"
		switch {
		case sheet && !g.empty[k][i]:
			s, last = strconv.Itoa(g.sheet[k][i]), i
		case !sheet && g.tags[k][i] != timeline.Range{}:
			s, last = rangeText(g.tags[k][i]), i
		}
		out = append(out, s)
	}
	if last < 0 {
		return "none"
	}
	return strings.Join(out[:last+1], ", ")
}

func tripFroms(l line) []string {
	var out []string
	for _, r := range l.rows {
		for _, c := range r.Trips {
			if c.From != "" && c.State >= timeline.CellKnown {
				out = append(out, c.From)
			}
		}
	}
	return out
}
