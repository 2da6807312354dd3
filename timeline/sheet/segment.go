package sheet

import (
	"whistlecut/timeline"
)

// segment is a run of columns that belong to one table side by side with others.
type segment struct {
	cols   []headCol
	shared []headCol // jam and period columns left of all segments
	side   timeline.Side
	label  string
	period int
}

// repeats are fields that may stand more than once in one table.
var repeats = map[Field]bool{
	FieldTrip: true, FieldBlocker: true, FieldBox: true, FieldPenalty: true, FieldPenaltyJam: true,
	FieldKeep: true, FieldName: true, FieldIgnore: true, FieldSkater: false,
}

// segments splits columns into tables side by side: by side or label of the
// headings, else where a heading that stands once in a table comes again.
func segments(cols []headCol) []segment {
	segs := bySide(cols)
	if segs == nil {
		segs = byLabel(cols)
	}
	if segs == nil {
		segs = byRepeat(cols)
	}
	// Jam and period columns of one table serve a neighbour that has none.
	for i := range segs {
		for j := range segs {
			if i == j || !pairsWith(segs[j], segs[i]) {
				continue
			}
			for _, c := range segs[j].cols {
				f := c.field()
				if (f == FieldJam || f == FieldPeriod) && !hasField(segs[i].cols, f) && !hasField(segs[i].shared, f) {
					segs[i].shared = append(segs[i].shared, c)
				}
			}
		}
	}
	return segs
}

// bySide splits by "Home ..." and "Away ..." in the headings.
func bySide(cols []headCol) []segment {
	var home, away, shared []headCol
	for _, c := range cols {
		switch c.side {
		case timeline.Home:
			home = append(home, c)
		case timeline.Away:
			away = append(away, c)
		default:
			shared = append(shared, c)
		}
	}
	if len(home) == 0 || len(away) == 0 {
		return nil
	}
	if len(shared) > 3 && len(home)+len(away) <= 4 && !pointsOnly(home) {
		return nil
	}
	if again := doubled(shared, home) + doubled(shared, away); again >= 2 {
		// The group texts stand elsewhere than over their columns.
		if segs := byRepeat(cols); len(segs) == 2 {
			segs[0].side, segs[1].side = timeline.Home, timeline.Away
			if home[0].index > away[0].index {
				segs[0].side, segs[1].side = timeline.Away, timeline.Home
			}
			return segs
		}
	}
	home, away = balance(home, away)
	out := []segment{{cols: home, shared: shared, side: timeline.Home}, {cols: away, shared: shared, side: timeline.Away}}
	if split := byRepeat(home); len(split) > 1 {
		return append(splitSide(split, shared, timeline.Home), splitSide(byRepeat(away), shared, timeline.Away)...)
	}
	return out
}

func splitSide(segs []segment, shared []headCol, side timeline.Side) []segment {
	for i := range segs {
		segs[i].side = side
		segs[i].shared = append(segs[i].shared, shared...)
	}
	return segs
}

// doubled counts the fields of one table that columns outside of it have too.
func doubled(shared, cols []headCol) int {
	n := 0
	for _, c := range shared {
		if named1(c) && c.field() != FieldJam && c.field() != FieldPeriod && hasField(cols, c.field()) {
			n++
		}
	}
	return n
}

// balance moves a column over the border of two tables of one layout when it
// stands twice in one and is missing in the other: group texts are often a
// column off.
func balance(a, b []headCol) (left, right []headCol) {
	swap := len(a) > 0 && len(b) > 0 && a[0].index > b[0].index
	if swap {
		a, b = b, a
	}
	for range 3 {
		if len(b) > 1 && named1(b[0]) && hasField(b[1:], b[0].field()) && !hasField(a, b[0].field()) {
			a, b = append(a[:len(a):len(a)], b[0]), b[1:]
		}
		if n := len(a); n > 1 && named1(a[n-1]) && hasField(a[:n-1], a[n-1].field()) && !hasField(b, a[n-1].field()) {
			a, b = a[:n-1], append([]headCol{a[n-1]}, b...)
		}
	}
	if swap {
		a, b = b, a
	}
	return a, b
}

// named1 reports a column whose field stands once in a table.
func named1(c headCol) bool {
	return len(c.cands) > 0 && c.cands[0].sure > 0.5 && !repeats[c.field()]
}

// pointsOnly reports columns headed by the team alone.
func pointsOnly(cols []headCol) bool { return len(cols) <= 2 }

// byLabel splits by two group texts that are no field (team names), each over
// the same kinds of column, or standing alone over points.
func byLabel(cols []headCol) []segment {
	var labels []string
	count := map[string]int{}
	for _, c := range cols {
		if c.label == "" {
			continue
		}
		if count[c.label] == 0 {
			labels = append(labels, c.label)
		}
		count[c.label]++
	}
	if len(labels) != 2 {
		return nil
	}
	a, b := count[labels[0]], count[labels[1]]
	if a != b && min(a, b) < 2 {
		return nil
	}
	segs := []segment{{label: labels[0]}, {label: labels[1]}}
	var shared []headCol
	for _, c := range cols {
		switch c.label {
		case labels[0]:
			segs[0].cols = append(segs[0].cols, c)
		case labels[1]:
			segs[1].cols = append(segs[1].cols, c)
		default:
			shared = append(shared, c)
		}
	}
	if a == 1 {
		// Single columns under two names: only when they hold points.
		for _, s := range segs {
			if s.cols[0].ev.number < 0.8 {
				return nil
			}
		}
	}
	segs[0].cols, segs[1].cols = balance(segs[0].cols, segs[1].cols)
	for i := range segs {
		segs[i].shared = shared
	}
	return segs
}

// byRepeat walks the columns and begins a new table where a field that stands
// once in a table comes a second time.
func byRepeat(cols []headCol) []segment {
	var segs []segment
	cur := segment{}
	seen := map[Field]bool{}
	pairs := penaltyPairs(cols)
	for _, c := range cols {
		f := c.field()
		sure := len(c.cands) > 0 && c.cands[0].sure >= 0.5
		if sure && seen[f] && !repeats[f] && !(pairs && (f == FieldCode || f == FieldJam)) {
			// Another reading that the table has not yet had comes before a split.
			again := true
			for _, x := range c.cands {
				if x.sure >= c.cands[0].sure-0.35 && x.sure >= 0.4 && !seen[x.field] && x.field != f {
					f, again = x.field, false
					break
				}
			}
			if f == FieldJamTotal && !seen[FieldGameTotal] {
				f, again = FieldGameTotal, false
			}
			if again {
				segs = append(segs, cur)
				cur, seen = segment{}, map[Field]bool{}
			}
		}
		if f == FieldTrip && sure && len(c.cands) > 0 {
			if n := c.cands[0].n; hasTrip(cur.cols, n) {
				segs = append(segs, cur)
				cur, seen = segment{}, map[Field]bool{}
			}
		}
		seen[f] = true
		cur.cols = append(cur.cols, c)
	}
	segs = append(segs, cur)
	segs = rejoin(handBack(segs))
	for i := range segs {
		for _, c := range segs[i].cols {
			if segs[i].period == 0 {
				segs[i].period = c.period
			}
			if segs[i].side == timeline.NoSide {
				segs[i].side = c.side
			}
			if segs[i].label == "" {
				segs[i].label = c.label
			}
		}
	}
	return segs
}

// rejoin undoes splits between runs that are no two tables of one layout: the
// later one must have at least half of its fields in common with the first.
func rejoin(segs []segment) []segment {
	out := segs[:1:1]
	for _, s := range segs[1:] {
		same, all := 0, 0
		for _, c := range s.cols {
			if f := c.field(); named1(c) && f != FieldPeriod && f != FieldTeam {
				all++
				if hasField(out[0].cols, f) {
					same++
				}
			}
		}
		if all > 0 && 2*same > all && same >= 2 || len(s.cols) > 1 && standsAlone(s) {
			out = append(out, s)
			continue
		}
		out[len(out)-1].cols = append(out[len(out)-1].cols, s.cols...)
	}
	return out
}

// standsAlone reports a run that is a table of some kind by itself.
func standsAlone(s segment) bool {
	has := func(fs ...Field) bool {
		for _, f := range fs {
			if !hasField(s.cols, f) {
				return false
			}
		}
		return true
	}
	return has(FieldSkater, FieldName) || has(FieldJam, FieldDuration) || has(FieldSkater, FieldCode) ||
		has(FieldJam, FieldJammer) || has(FieldSkater, FieldPenalty)
}

// handBack moves columns between two tables that are laid out in mirror image
// or whose first columns were taken for the end of the table before: where the
// later table begins with fields in the order of the first, nothing moves; where
// it lacks a field that ends the first table twice, that column moves over.
func handBack(segs []segment) []segment {
	for i := 0; i+1 < len(segs); i++ {
		a, b := segs[i].cols, segs[i+1].cols
		if len(a) < 2 || len(b) == 0 {
			continue
		}
		last := a[len(a)-1]
		f := last.field()
		// "… Total | Team | Jammer …": the trailing column is the head of the next table.
		if (f == FieldTeam || f == FieldSkater || f == FieldJam || f == FieldPeriod) && !hasField(b, f) &&
			b[0].field() != FieldJam && hasField(a[:len(a)-1], f) {
			segs[i].cols, segs[i+1].cols = a[:len(a)-1], append([]headCol{last}, b...)
		}
	}
	return segs
}

func hasField(cols []headCol, f Field) bool {
	for _, c := range cols {
		if c.field() == f {
			return true
		}
	}
	return false
}

func hasTrip(cols []headCol, n int) bool {
	for _, c := range cols {
		if c.field() == FieldTrip && len(c.cands) > 0 && c.cands[0].n == n {
			return true
		}
	}
	return false
}

// pairsWith reports two tables with several fields in common: the same table of
// two teams.
func pairsWith(a, b segment) bool {
	for _, c := range b.cols {
		if f := c.field(); f != FieldKeep && f != FieldPeriod && f != FieldJam && hasField(a.cols, f) {
			return true
		}
	}
	return pointsOnly(a.cols[:min(len(a.cols), 3)]) && pointsOnly(b.cols)
}

// penaltyPairs reports a penalty table with several code columns per skater.
func penaltyPairs(cols []headCol) bool {
	codes, skaters := 0, 0
	for _, c := range cols {
		switch c.field() {
		case FieldCode:
			codes++
		case FieldSkater:
			skaters++
		}
	}
	return codes >= 3 && codes >= 2*skaters
}
