package sheet

import "whistlecut/timeline"

// line is one jam of one side on paper or in the recount: its first row and its
// star-pass row.
type line struct {
	period, jam int
	rows        []*timeline.JamRow // first row, then SP row; spacers left out
	spacer      bool
}

// lines groups one side's rows by jam, in their order. A row with a jam's number
// that is no SP row begins a line of its own, even if the number comes twice.
func lines(rows []timeline.JamRow, side timeline.Side) []line {
	var out []line
	for i := range rows {
		r := &rows[i]
		if r.Side != side {
			continue
		}
		n := len(out)
		same := n > 0 && out[n-1].period == r.Period && out[n-1].jam == r.Jam
		switch {
		case r.Spacer && same:
			out[n-1].spacer = true
		case r.Spacer:
		case r.StarPass && same && len(out[n-1].rows) == 1 && !out[n-1].rows[0].StarPass:
			out[n-1].rows = append(out[n-1].rows, r)
		default:
			out = append(out, line{period: r.Period, jam: r.Jam, rows: []*timeline.JamRow{r}})
		}
	}
	return out
}

// sp is the star-pass row, nil without one.
func (l line) sp() *timeline.JamRow {
	if len(l.rows) > 1 {
		return l.rows[1]
	}
	return nil
}

// row returns row k, nil when the line has fewer.
func (l line) row(k int) *timeline.JamRow {
	if k < len(l.rows) {
		return l.rows[k]
	}
	return nil
}

// width is the greatest number of trip columns.
func (l line) width() int {
	w := 0
	for _, r := range l.rows {
		w = max(w, len(r.Trips))
	}
	return w
}

// tripSpan is the trip's points as a range. open: the cell can't be compared.
func tripSpan(r *timeline.JamRow, i int) (span timeline.Range, open bool) {
	if r == nil || i < 0 || i >= len(r.Trips) {
		return timeline.Range{}, false
	}
	c := r.Trips[i]
	switch c.State {
	case timeline.CellKnown:
		return timeline.Exactly(c.Value), false
	case timeline.CellRange:
		return timeline.Range{Low: c.Low, High: c.High}, false
	case timeline.CellUnread:
		return timeline.Range{}, true
	}
	return timeline.Range{}, false
}

// tripSum adds up a row's trips; known is false when one can't be read.
func tripSum(r *timeline.JamRow) (sum int, known bool) {
	for i := range r.Trips {
		span, open := tripSpan(r, i)
		if open || !span.Sure() {
			return 0, false
		}
		sum += span.Low
	}
	return sum, true
}

// hasTrips reports that a side's rows have trip columns at all.
func hasTrips(ls []line) bool {
	for _, l := range ls {
		if l.width() > 0 {
			return true
		}
	}
	return false
}

// marked is a mark as true or false; open when the column does not exist or can't be read.
func marked(c timeline.Cell[bool]) (v, open bool) {
	switch c.State {
	case timeline.CellKnown:
		return c.Value, false
	case timeline.CellBlank:
		return false, false
	}
	return false, true
}

// valueOf is a cell's value; the zero value, and false, where none is sure. A cell
// that can't be read may still carry a value: it must count nowhere.
func valueOf[T comparable](c timeline.Cell[T]) (v T, ok bool) {
	if c.State != timeline.CellKnown {
		return v, false
	}
	return c.Value, true
}

// equal compares what two cells say; one that says nothing equals one that says
// zero.
func equal[T comparable](a, b timeline.Cell[T]) bool {
	x, _ := valueOf(a)
	y, _ := valueOf(b)
	return x == y
}

// nearest is the value of a range next to v.
func nearest(v int, r timeline.Range) int { return max(r.Low, min(r.High, v)) }
