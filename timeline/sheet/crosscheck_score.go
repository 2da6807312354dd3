package sheet

import (
	"fmt"

	"whistlecut/timeline"
)

// entry is one line of one side's score sheet with what it was paired with.
type entry struct {
	line   line
	side   timeline.Side
	jam    int // index of the jam, -1 for none
	rows   []rowSum
	drafts []*Finding
	before []*Finding // rows missing right before it
	swap   *Finding
	// residual is what the compared trips add to the score over the tags' value.
	residual int
	tags     int // the tags' points, nearest to the sheet's where they are a range
	open     int // points that nothing was compared with
}

// rowSum is the arithmetic of one row.
type rowSum struct {
	trips, total         int
	tripsKnown, totalSet bool
	slip                 int // jam total minus trips
	game                 int
	gameSet              bool
	carry                int // game total minus what it should carry
}

// gap is the cost of leaving a row out; two of them cost more than the worst
// pair of equal numbers, so that rows of one number stay together.
const gap = 2.0

// offNumber is the cost of pairing rows of different jam numbers.
const offNumber = 0.2

// score aligns and compares the score rows.
func (c *checker) score() {
	if len(c.sheet[0])+len(c.sheet[1]) == 0 {
		return
	}
	for i := range c.sheet {
		if len(c.sheet[i]) > 0 && len(c.tags[i]) > 0 {
			sheetTrips := hasTrips(c.sheet[i])
			c.pairs[i] = align(len(c.sheet[i]), len(c.tags[i]), func(a, b int) float64 {
				return c.cost(i, a, b, sheetTrips)
			}, gap)
		} else {
			for a := range c.sheet[i] {
				c.pairs[i] = append(c.pairs[i], pair{a, -1})
			}
			if len(c.sheet[i]) > 0 {
				continue
			}
			for b := range c.tags[i] {
				c.pairs[i] = append(c.pairs[i], pair{-1, b})
			}
		}
	}
	c.agreeOnGaps()
	for i, side := range timeline.Sides {
		c.byJam[i] = map[int]*entry{}
		for _, p := range c.pairs[i] {
			if p.a < 0 {
				continue
			}
			e := &entry{line: c.sheet[i][p.a], side: side, jam: p.b}
			c.entries[i] = append(c.entries[i], e)
			if p.b >= 0 {
				c.byJam[i][p.b] = e
			}
		}
		addUp(c.entries[i])
	}
	c.extraRows()
	swapped := c.findSwaps()
	for j := range c.b.Jams {
		for i, side := range timeline.Sides {
			e := c.byJam[i][j]
			if e == nil {
				continue
			}
			as := side
			if swapped[j] {
				as = side.Other()
			}
			c.line(e, as)
		}
		if !swapped[j] {
			c.foldMarks(j)
		}
	}
	c.missingRows()
	c.slips()
	c.account()
}

// cost is that of taking a sheet line and a jam for the same: their content and
// their numbers. Content of the other team counts too, in case the two sheets
// were swapped.
func (c *checker) cost(i, a, b int, trips bool) float64 {
	own := c.distance(c.sheet[i][a], c.tags[i][b], c.b.Jams[b].Sides[i].Logged, trips)
	other := c.distance(c.sheet[i][a], c.tags[1-i][b], c.b.Jams[b].Sides[1-i].Logged, trips) + 0.6
	d := min(own, other, 3.2)
	// Little: below a missing row that was numbered over, all numbers are off, and
	// the content must say where it is missing.
	if c.sheet[i][a].jam != c.tags[i][b].jam {
		d += offNumber
	}
	if c.sheet[i][a].period != c.tags[i][b].period {
		d += 1.5
	}
	return d
}

// distance weighs how much a sheet line differs from a recount line.
func (c *checker) distance(s, t line, logged, trips bool) float64 {
	d := 0.0
	differ := func(a, b timeline.Cell[timeline.Number]) bool {
		return a.State == timeline.CellKnown && b.State == timeline.CellKnown && a.Value != b.Value
	}
	if len(s.rows) == 0 || len(t.rows) == 0 {
		return 1
	}
	if differ(s.rows[0].Jammer, t.rows[0].Jammer) {
		d += 1.5
	}
	if s.sp() != nil && t.sp() != nil && differ(s.sp().Jammer, t.sp().Jammer) {
		d += 0.5
	}
	if (s.sp() != nil) != (t.sp() != nil) {
		d += 0.4
	}
	if !logged {
		return d
	}
	d += min(1.4, 0.5*float64(pointsApart(s, t, trips)))
	for k := range s.rows {
		r, q := s.row(k), t.row(k)
		if q == nil {
			break
		}
		for _, m := range marksOf(r, q) {
			if v, open := marked(*m.sheet); !open && m.tag.State == timeline.CellKnown && v != m.tag.Value {
				d += m.weight
			}
		}
	}
	return d
}

// pointsApart counts trip cells (or, without trips, totals) that differ.
func pointsApart(s, t line, trips bool) int {
	n := 0
	if !trips {
		sum, span := 0, timeline.Range{}
		for _, r := range s.rows {
			if r.JamTotal.State != timeline.CellKnown {
				return 0
			}
			sum += r.JamTotal.Value
		}
		for _, r := range t.rows {
			span = span.Add(spanOf(r))
		}
		if !span.Contains(sum) {
			n = 2
		}
		return n
	}
	for k := range max(len(s.rows), len(t.rows)) {
		for i := range max(s.width(), t.width()) {
			v, open := tripSpan(s.row(k), i)
			want, _ := tripSpan(t.row(k), i)
			if !open && v.Sure() && !want.Contains(v.Low) {
				n++
			}
		}
	}
	return n
}

// spanOf is the points of a recount row.
func spanOf(r *timeline.JamRow) timeline.Range {
	sum := timeline.Range{}
	for i := range r.Trips {
		s, _ := tripSpan(r, i)
		sum = sum.Add(s)
	}
	return sum
}

// markPair is one mark on both papers.
type markPair struct {
	field  Field
	cause  Cause
	weight float64
	sheet  *timeline.Cell[bool]
	tag    *timeline.Cell[bool]
}

func marksOf(s, t *timeline.JamRow) []markPair {
	return []markPair{
		{FieldLost, CauseLost, 0.2, &s.Lost, &t.Lost},
		{FieldLead, CauseLead, 0.4, &s.Lead, &t.Lead},
		{FieldCall, CauseCall, 0.3, &s.Call, &t.Call},
		{FieldInj, CauseInj, 0.2, &s.Inj, &t.Inj},
		{FieldNI, CauseNI, 0.3, &s.NI, &t.NI},
	}
}

// findSwaps finds jams whose two lines stand on each other's sheet. Three or
// more in a row are one finding.
func (c *checker) findSwaps() map[int]bool {
	out := map[int]bool{}
	neutral := map[int]bool{}
	for j := range c.b.Jams {
		h, a := c.byJam[0][j], c.byJam[1][j]
		if h == nil || a == nil {
			continue
		}
		straight := c.apart(h, 0, j) + c.apart(a, 1, j)
		crossed := c.apart(h, 1, j) + c.apart(a, 0, j)
		switch {
		case straight >= 2 && crossed+2 <= straight && 3*crossed <= straight:
			out[j] = true
		case straight == crossed:
			neutral[j] = true
		}
	}
	for j := 0; j < len(c.b.Jams); {
		if !out[j] {
			j++
			continue
		}
		last, n := j, 0
		for k := j; k < len(c.b.Jams) && (out[k] || neutral[k]); k++ {
			if out[k] {
				last = k
				n++
			}
		}
		if n < 3 {
			c.swapFinding([]int{j})
			j++
			continue
		}
		var run []int
		for k := j; k <= last; k++ {
			out[k] = true
			run = append(run, k)
		}
		c.swapFinding(run)
		j = last + 1
	}
	return out
}

// apart counts what differs between a sheet line and one side of a jam.
func (c *checker) apart(e *entry, side, j int) int {
	js := &c.b.Jams[j].Sides[side]
	t := c.tags[side][j]
	n := 0
	for k := range max(len(e.line.rows), len(t.rows)) {
		r, q := e.line.row(k), t.row(k)
		if r == nil || q == nil {
			n++
			continue
		}
		if r.Jammer.State == timeline.CellKnown && q.Jammer.State == timeline.CellKnown && r.Jammer.Value != q.Jammer.Value {
			n += 2
		}
		if !js.Logged {
			continue
		}
		for _, m := range marksOf(r, q) {
			if v, open := marked(*m.sheet); !open && m.tag.State == timeline.CellKnown && v != m.tag.Value {
				n++
			}
		}
	}
	if js.Logged {
		n += pointsApart(e.line, t, hasTrips(c.sheet[e.side.Index()]))
	}
	return n
}

// swapFinding reports jams whose lines are swapped; its stake is what the swap
// alone does to the score.
func (c *checker) swapFinding(jams []int) {
	f := Finding{Cause: CauseSwappedTeams, Table: KindScore}
	for _, j := range jams {
		for i, side := range timeline.Sides {
			e := c.byJam[i][j]
			if e == nil {
				continue
			}
			if f.Period == 0 {
				f.Period, f.Jam = e.line.period, e.line.jam
			}
			f.touches = append(f.touches, totalKey(side), rowKey(side, e.line.period, e.line.jam), rowKey(side, c.b.Jams[j].Period, c.paperNumber(j)))
			f.From = append(f.From, fromRow(e.line))
		}
	}
	j := c.b.Jams[jams[0]]
	f.Sheet, f.Tags = "other team's line", "own line"
	f.Text = fmt.Sprintf("Jam %d: each team's line stands on the other team's sheet by the tags.", j.Number)
	if len(jams) > 1 {
		f.Text = fmt.Sprintf("Jams %d to %d: each team's lines stand on the other team's sheet by the tags.", j.Number, c.b.Jams[jams[len(jams)-1]].Number)
	}
	p := c.add(f, jams[0])
	for _, j := range jams {
		for i := range timeline.Sides {
			if e := c.byJam[i][j]; e != nil {
				e.swap = p
				e.drafts = append(e.drafts, p)
			}
		}
	}
}

// span is what one side scored in a jam by the tags; 0 where nothing is logged.
func (c *checker) span(j, side int) timeline.Range {
	if !c.b.Jams[j].Sides[side].Logged {
		return timeline.Range{}
	}
	sum := timeline.Range{}
	for _, r := range c.tags[side][j].rows {
		sum = sum.Add(spanOf(r))
	}
	return sum
}

// points is what a line's trips (or, without trips, totals) add up to; known is
// false when one row has neither, and the sum is that of the others.
func (e *entry) points() (sum int, known bool) {
	known = true
	for _, r := range e.rows {
		switch {
		case r.tripsKnown:
			sum += r.trips
		case r.totalSet:
			sum += r.total
		default:
			known = false
		}
	}
	return sum, known
}

func fromRow(l line) string {
	for _, r := range l.rows {
		for _, s := range [...]string{r.Jammer.From, r.JamTotal.From, r.Lead.From, r.GameTotal.From} {
			if s != "" {
				return s
			}
		}
	}
	return ""
}
