package sheet

import (
	"sort"
	"strings"

	"whistlecut/timeline"
)

// score reads the score rows of one block.
func (r *reader) score() {
	jamCol := r.blk.column(FieldJam, 0)
	if jamCol < 0 {
		return
	}
	var rows []timeline.JamRow
	var empty []bool
	r.rows(func() {
		if r.totalLine(jamCol) || r.periodLine(jamCol) {
			return
		}
		row, bare, ok := r.scoreRow(jamCol)
		if !ok {
			return
		}
		rows, empty = append(rows, row), append(empty, bare)
	})
	// Forms print more jam numbers than a bout needs: the tail without entries is no jam.
	n := len(rows)
	for n > 0 && empty[n-1] && !rows[n-1].Spacer {
		n--
	}
	// A printed number without an entry right after such a tail, before the next
	// period of the same block, is no jam either.
	for i, row := range rows[:n] {
		if empty[i] && !row.Spacer && (i+1 < n && rows[i+1].Period > row.Period || r.tail(rows[:n], empty, i)) {
			continue
		}
		r.s.Rows = append(r.s.Rows, row)
	}
}

// tail reports that everything from row i to the period's end is empty.
func (r *reader) tail(rows []timeline.JamRow, empty []bool, i int) bool {
	for j := i; j < len(rows); j++ {
		if rows[j].Period != rows[i].Period || rows[j].Side != rows[i].Side {
			return rows[j].Period > rows[i].Period
		}
		if !empty[j] {
			return false
		}
	}
	return false
}

// totalLine reads a line of sums ("Total", "Summe") into Totals.
func (r *reader) totalLine(jamCol int) bool {
	is := isTotalLine(r.text(jamCol))
	if !is && r.text(jamCol) == "" {
		for _, s := range r.g.Cells[r.row] {
			if s != "" {
				is = isTotalLine(s)
				break
			}
		}
	}
	if !is {
		return false
	}
	side := r.side()
	col := r.blk.column(FieldJamTotal, 0)
	period := r.count(side).period
	if col < 0 || r.text(col) == "" {
		col, period = r.blk.column(FieldGameTotal, 0), 0
	}
	if side != timeline.NoSide && col >= 0 && r.text(col) != "" {
		r.s.Totals = append(r.s.Totals, Total{Period: period, Side: side, Points: r.points(col)})
	}
	return true
}

// periodLine reads a line between the rows that only names a period.
func (r *reader) periodLine(jamCol int) bool {
	if r.blk.has(FieldPeriod) {
		return false
	}
	var only string
	for _, s := range r.g.Cells[r.row] {
		if s == "" {
			continue
		}
		if only != "" {
			return false
		}
		only = s
	}
	if !hasLetter(only) {
		return false
	}
	p := periodOf(only)
	if p == 0 || starRow(only) != notStar {
		return false
	}
	if p == overtimePeriod {
		return true
	}
	r.blk.Period = p
	return true
}

// scoreRow reads one row. bare: it holds nothing but its jam number.
func (r *reader) scoreRow(jamCol int) (row timeline.JamRow, bare, ok bool) {
	side := r.side()
	if side == timeline.NoSide {
		r.problem(r.blk.column(FieldTeam, 0), "%q is neither team; say in the mapping which side it is", r.text(max(r.blk.column(FieldTeam, 0), 0)))
		return row, false, false
	}
	text := r.text(jamCol)
	entry := r.entry(jamCol)
	s := starRow(text)
	sp := r.blk.column(FieldStarPass, 0)
	period, jam, isJam := parseJam(text)
	c := r.count(side)
	spMark := false
	if sp >= 0 {
		v, isMark := parseMark(r.text(sp))
		spMark = isMark && v || starRow(r.text(sp)) == starOwn
	}
	switch {
	case s != notStar && c.jam > 0:
		row.Period, row.Jam = c.period, c.jam
		if p := r.blk.column(FieldPeriod, 0); p >= 0 && periodCell(r.text(p)) > 0 {
			row.Period = periodCell(r.text(p))
		}
		row.StarPass = entry
		row.Spacer = !entry
		if !entry && s == starOwn && !r.sharedStar() {
			row.StarPass, row.Spacer = true, false
		}
	case isJam && spMark && jam == c.jam && c.jam > 0 && (period == 0 || period == c.period):
		row.Period, row.Jam, row.StarPass = c.period, c.jam, true
	case isJam:
		c = r.step(side, period, jam)
		row.Period, row.Jam = c.period, c.jam
	case text == "" && entry && c.jam > 0 && (spMark || r.nextJam(jamCol) != c.jam+2):
		row.Period, row.Jam, row.StarPass = c.period, c.jam, true
	case overtimeText(text):
		c = r.step(side, 0, c.jam+1)
		row.Period, row.Jam = c.period, c.jam
	case entry:
		c = r.step(side, 0, c.jam+1)
		row.Period, row.Jam = c.period, c.jam
		r.problem(jamCol, "%q is no jam number; taken as jam %d", text, c.jam)
	default:
		return row, false, false
	}
	row.Side = side
	r.scoreCells(&row)
	return row, !entry, true
}

// overtimeText reports a jam cell that says overtime.
func overtimeText(s string) bool {
	p := plain(s)
	return p == "ot" || strings.HasPrefix(p, "ot ") || periodOf(s) == overtimePeriod
}

// sharedStar reports that the jam column serves both teams, so that an SP row
// without entries is the other side's.
func (r *reader) sharedStar() bool {
	for _, b := range r.m.Blocks {
		if b.Kind == KindScore && b.Index == r.blk.Index && b.Side != r.blk.Side && b.Head == r.blk.Head &&
			b.column(FieldJam, 0) == r.blk.column(FieldJam, 0) {
			return true
		}
	}
	return r.blk.has(FieldTeam)
}

// nextJam is the jam number of the next row that has one, 0 at the end.
func (r *reader) nextJam(jamCol int) int {
	for i := r.row + 1; i <= r.blk.Last && i < len(r.g.Cells); i++ {
		if _, n, ok := parseJam(r.g.At(i, jamCol)); ok {
			return n
		}
	}
	return 0
}

// entry reports that the row holds anything of its own.
func (r *reader) entry(jamCol int) bool {
	for _, c := range r.blk.Columns {
		switch c.Field {
		case FieldJam, FieldPeriod, FieldTeam, FieldKeep, FieldIgnore:
		case FieldGameTotal:
			// A running total alone is often filled down over unused rows.
			if s := r.text(c.Index); s != "" && !isDash(s) && s != "0" && !r.onlyTotal() {
				return true
			}
		case FieldJamTotal:
			if s := r.text(c.Index); s != "" && !isDash(s) && (s != "0" || !r.formTotals()) {
				return true
			}
		default:
			if s := r.text(c.Index); s != "" && (c.Index != jamCol) && !isDash(s) {
				return true
			}
		}
	}
	return false
}

// onlyTotal reports a running total that merely repeats the one above.
func (r *reader) onlyTotal() bool {
	c := r.blk.column(FieldGameTotal, 0)
	for i := r.row - 1; i >= r.blk.First; i-- {
		if s := r.g.At(i, c); s != "" {
			return s == r.text(c) && r.formTotals()
		}
	}
	return false
}

// formTotals reports a block with jammers or trips: there a total without either
// is a formula's result, not an entry.
func (r *reader) formTotals() bool { return r.blk.has(FieldJammer) || r.blk.has(FieldTrip) }

// scoreCells reads the row's values.
func (r *reader) scoreCells(row *timeline.JamRow) {
	b := r.blk
	row.Jammer = r.skater(b.column(FieldJammer, 0))
	row.Lost = r.mark(b.column(FieldLost, 0))
	row.Lead = r.mark(b.column(FieldLead, 0))
	row.Call = r.mark(b.column(FieldCall, 0))
	row.Inj = r.mark(b.column(FieldInj, 0))
	row.NI = r.mark(b.column(FieldNI, 0))
	r.marksWords(row)
	r.trips(row)
	row.JamTotal = r.points(b.column(FieldJamTotal, 0))
	row.GameTotal = r.points(b.column(FieldGameTotal, 0))
}

// trips reads the trip columns, or all trips from one cell.
func (r *reader) trips(row *timeline.JamRow) {
	var cols []Column
	for _, c := range r.blk.Columns {
		if c.Field == FieldTrip && c.N >= 2 && c.N <= 40 {
			cols = append(cols, c)
		}
	}
	sort.SliceStable(cols, func(i, j int) bool { return cols[i].N < cols[j].N })
	for _, c := range cols {
		for len(row.Trips) < c.N-2 {
			row.Trips = append(row.Trips, timeline.Cell[int]{State: timeline.CellBlank})
		}
		cell := r.points(c.Index)
		if len(row.Trips) == c.N-2 {
			row.Trips = append(row.Trips, cell)
		}
	}
	if c := r.blk.column(FieldTrips, 0); c >= 0 && len(cols) == 0 {
		for _, w := range strings.FieldsFunc(r.text(c), func(x rune) bool { return strings.ContainsRune(" +-,;/|·–", x) }) {
			n, ok := wholeNumber(w)
			if !ok || n < 0 {
				r.unread(c)
				r.problem(c, "%q can't be read as points per trip", r.text(c))
				row.Trips = []timeline.Cell[int]{{State: timeline.CellUnread, From: r.ref(c)}}
				return
			}
			row.Trips = append(row.Trips, timeline.Cell[int]{State: timeline.CellKnown, Value: n, From: r.ref(c)})
		}
	}
	r.initialPoints(row)
	for n := len(row.Trips); n > 0 && row.Trips[n-1].State == timeline.CellBlank; n-- {
		row.Trips = row.Trips[:n-1]
	}
}

// initialPoints adds points of the initial trip, which has them in overtime
// alone, to those of trip 2, where a recount has them as well.
func (r *reader) initialPoints(row *timeline.JamRow) {
	c := r.blk.column(FieldTrip, 1)
	if c < 0 {
		return
	}
	n, ok := wholeNumber(r.text(c))
	if !ok || n <= 1 {
		return // a tick for a completed initial trip
	}
	if len(row.Trips) == 0 {
		row.Trips = []timeline.Cell[int]{{State: timeline.CellBlank, From: r.ref(c)}}
	}
	if t := &row.Trips[0]; t.State <= timeline.CellKnown {
		*t = timeline.Cell[int]{State: timeline.CellKnown, Value: t.Value + n, From: r.ref(c)}
	}
}

// marksWords reads lost, lead... written as words in one cell.
func (r *reader) marksWords(row *timeline.JamRow) {
	c := r.blk.column(FieldMarks, 0)
	if c < 0 {
		return
	}
	set := map[Field]*timeline.Cell[bool]{
		FieldLost: &row.Lost, FieldLead: &row.Lead, FieldCall: &row.Call, FieldInj: &row.Inj, FieldNI: &row.NI,
	}
	for f, cell := range set {
		if r.blk.column(f, 0) < 0 {
			*cell = timeline.Cell[bool]{State: timeline.CellBlank, From: r.ref(c)}
		}
	}
	for _, w := range strings.FieldsFunc(r.text(c), func(x rune) bool { return strings.ContainsRune(",;/+|&", x) }) {
		found := false
		for _, cand := range readings(strings.TrimSpace(w)) {
			if cell := set[cand.field]; cell != nil && cand.sure > 0.55 {
				*cell = timeline.Cell[bool]{State: timeline.CellKnown, Value: true, From: r.ref(c)}
				found = true
				break
			}
		}
		if !found && strings.TrimSpace(w) != "" && !isDash(w) {
			r.problem(c, "%q is none of lost, lead, call, inj, NI", w)
		}
	}
}
