package check

import (
	"cmp"
	"slices"
	"strings"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// item is one row of the list: a finding, or something that could not be checked.
type item struct {
	finding   *sheet.Finding
	unchecked *sheet.Unchecked
	order     int // as the report has it
}

func (i item) key() string {
	if i.finding != nil {
		return i.finding.Key
	}
	u := i.unchecked
	return strings.Join(append([]string{"unchecked", string(u.Table), placeText(u.Period, u.Jam), u.Side.String(), u.Why}, u.Columns...), "/")
}

func (i item) period() int {
	if i.finding != nil {
		return i.finding.Period
	}
	return i.unchecked.Period
}

func (i item) jam() int {
	if i.finding != nil {
		return i.finding.Jam
	}
	return i.unchecked.Jam
}

func (i item) side() timeline.Side {
	if i.finding != nil {
		return i.finding.Side
	}
	return i.unchecked.Side
}

// open reports whether a person still has to decide about it.
func (i item) open() bool { return i.finding != nil && app.Unsettled(*i.finding) }

// points is the weight in the score.
func (i item) points() int {
	if i.finding != nil {
		return i.finding.Points()
	}
	return max(abs(i.unchecked.Points[0]), abs(i.unchecked.Points[1]))
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// sorting is how the list is sorted.
type sorting int

const (
	byStake sorting = iota
	byBout
	byCause
	sortings
)

// filter says what the list shows.
type filter struct {
	settled   bool // the settled ones, too
	side      timeline.Side
	period    int  // 0: all
	unchecked bool // what could not be checked, too
}

// shows reports whether the filter lets an item through. What is of neither
// side is about both.
func (f filter) shows(i item) bool {
	if i.unchecked != nil && !f.unchecked || i.finding != nil && !f.settled && !i.open() {
		return false
	}
	if f.side != timeline.NoSide && i.side() != timeline.NoSide && i.side() != f.side {
		return false
	}
	return f.period == 0 || i.period() == 0 || i.period() == f.period
}

// listed are the rows of a report, filtered and sorted. By stake and by cause
// what could not be checked stands at the end; in bout order it stands where it
// belongs.
func listed(r *sheet.Report, f filter, s sorting) []item {
	if r == nil {
		return nil
	}
	var out []item
	for n := range r.Findings {
		out = append(out, item{finding: &r.Findings[n], order: n})
	}
	for n := range r.Unchecked {
		out = append(out, item{unchecked: &r.Unchecked[n], order: len(r.Findings) + n})
	}
	out = slices.DeleteFunc(out, func(i item) bool { return !f.shows(i) })
	slices.SortStableFunc(out, func(a, b item) int {
		place := cmp.Or(cmp.Compare(period(a), period(b)), cmp.Compare(a.jam(), b.jam()), cmp.Compare(a.side(), b.side()), cmp.Compare(a.order, b.order))
		kind := cmp.Compare(kindOf(a), kindOf(b))
		switch s {
		case byStake:
			return cmp.Or(kind, cmp.Compare(b.points(), a.points()), place)
		case byCause:
			return cmp.Or(kind, cmp.Compare(cause(a), cause(b)), place)
		}
		return place
	})
	return out
}

// period sorts what names no period, as a whole table, to the end.
func period(i item) int {
	if p := i.period(); p > 0 {
		return p
	}
	return 1 << 20
}

func kindOf(i item) int {
	if i.finding == nil {
		return 1
	}
	return 0
}

// cause is the cause's place among all, or why something could not be checked.
func cause(i item) int {
	if i.finding == nil {
		return 0
	}
	return slices.Index(sheet.Causes, i.finding.Cause)
}
