package check

import (
	"strconv"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// scoreLines are the sheet's and the tags' rows of a place, in pairs, with the
// cells boxed that differ. f is the finding they are of, nil for something that
// could not be checked.
func scoreLines(paper *sheet.Sheet, b *timeline.Bout, i item, jam timeline.ID) []look.ScoreLine {
	sides := []timeline.Side{i.side()}
	if i.side() == timeline.NoSide {
		sides = timeline.Sides[:]
	}
	var out []look.ScoreLine
	for _, s := range sides {
		onPaper := paperRows(paper, i.period(), i.jam(), s)
		if i.finding != nil && i.finding.Cause == sheet.CauseMissingRow {
			onPaper = nil // a row of that number, if there is one, is another jam's
		}
		tagged := tagRows(b, jam, s)
		for n := range max(len(onPaper), len(tagged), 1) {
			p, t := rowAt(onPaper, n), rowAt(tagged, n)
			pb, tb := map[string]bool{}, map[string]bool{}
			if i.finding != nil && i.finding.Cause != sheet.CauseMissingRow {
				pb = differing(p, t, *i.finding, n)
				tb = pb
			}
			out = append(out,
				look.ScoreLine{Head: words.T("sheet"), Side: s, Row: p, Box: pb},
				look.ScoreLine{Head: words.T("tags"), Side: s, Row: t, Box: tb})
		}
	}
	return out
}

func paperRows(paper *sheet.Sheet, period, jam int, s timeline.Side) []timeline.JamRow {
	var out []timeline.JamRow
	if paper == nil {
		return nil
	}
	for _, r := range paper.Rows {
		if r.Side == s && r.Period == period && r.Jam == jam && !r.Spacer && len(out) < 3 {
			out = append(out, r)
		}
	}
	return out
}

func tagRows(b *timeline.Bout, jam timeline.ID, s timeline.Side) []timeline.JamRow {
	j, ok := b.Jam(jam)
	if !ok {
		return nil
	}
	var out []timeline.JamRow
	for _, r := range j.Sides[s.Index()].Rows {
		if !r.Spacer {
			out = append(out, r)
		}
	}
	return out
}

func rowAt(rows []timeline.JamRow, n int) timeline.JamRow {
	if n < len(rows) {
		return rows[n]
	}
	return timeline.JamRow{}
}

// differing names the cells that surely differ in two rows. A total that only
// carries on what an earlier row did is not among them; the finding's own column
// is, even if both rows read alike.
func differing(p, t timeline.JamRow, f sheet.Finding, n int) map[string]bool {
	box := map[string]bool{}
	if p.Jammer.State == timeline.CellKnown && t.Jammer.State == timeline.CellKnown && p.Jammer.Value != t.Jammer.Value {
		box["jammer"] = true
	}
	for k, c := range map[string][2]timeline.Cell[bool]{
		"lost": {p.Lost, t.Lost}, "lead": {p.Lead, t.Lead}, "call": {p.Call, t.Call}, "inj": {p.Inj, t.Inj}, "ni": {p.NI, t.NI},
	} {
		if c[1].State == timeline.CellKnown && c[0].State != timeline.CellUnread && c[0].State != timeline.CellAbsent &&
			(c[0].State == timeline.CellKnown && c[0].Value) != c[1].Value {
			box[k] = true
		}
	}
	for i := range max(len(p.Trips), len(t.Trips)) {
		a, oka := tripOf(p, i)
		b, okb := tripOf(t, i)
		if oka && okb && (a.Low > b.High || a.High < b.Low) {
			box["trip "+strconv.Itoa(i+2)] = true
		}
	}
	if apart(p.JamTotal, t.JamTotal) {
		box["jam"] = true
	}
	staked := f.Side != timeline.NoSide && f.Stake[f.Side.Index()] != 0
	if apart(p.GameTotal, t.GameTotal) && (staked || f.Column == sheet.FieldGameTotal) {
		box["game"] = true
	}
	if n == 0 {
		if k := boxKey(f); k != "" {
			box[k] = true
		}
	}
	return box
}

// boxKey is the cell of a finding's own column, "" when no single one is.
func boxKey(f sheet.Finding) string {
	switch f.Column {
	case sheet.FieldTrip:
		if f.N > 1 {
			return "trip " + strconv.Itoa(f.N)
		}
	case sheet.FieldJamTotal:
		return "jam"
	case sheet.FieldGameTotal:
		return "game"
	case sheet.FieldJammer, sheet.FieldLost, sheet.FieldLead, sheet.FieldCall, sheet.FieldInj, sheet.FieldNI:
		return string(f.Column)
	}
	return ""
}

// tripOf is a trip's points; an empty cell is 0, as sheets differ in writing the
// last trip. ok is false when it cannot be read.
func tripOf(r timeline.JamRow, i int) (timeline.Range, bool) {
	if i >= len(r.Trips) {
		return timeline.Range{}, true
	}
	return spanOf(r.Trips[i])
}

func spanOf(c timeline.Cell[int]) (timeline.Range, bool) {
	switch c.State {
	case timeline.CellKnown:
		return timeline.Exactly(c.Value), true
	case timeline.CellRange:
		return timeline.Range{Low: c.Low, High: c.High}, true
	case timeline.CellUnread:
		return timeline.Range{}, false
	}
	return timeline.Range{}, true
}

// apart reports two totals that are both there and cannot be the same.
func apart(a, b timeline.Cell[int]) bool {
	if a.State < timeline.CellKnown || b.State < timeline.CellKnown {
		return false
	}
	x, okx := spanOf(a)
	y, oky := spanOf(b)
	return okx && oky && (x.Low > y.High || x.High < y.Low)
}
