package sheet

import (
	"strings"

	"whistlecut/timeline"
)

// penaltyCol is the n-th penalty of a skater: its code column and, where it has
// one, its jam column.
type penaltyCol struct{ code, jam int }

// penalties reads a list (one penalty per row) or a table with one skater per
// row and a column per penalty; there the jam stands in the same cell, in a
// column beside it, or in the row below.
func (r *reader) penalties() {
	cols := r.penaltyCols()
	if len(cols) == 0 || len(cols) == 1 && r.blk.has(FieldCode) && (r.blk.has(FieldJam) || r.blk.has(FieldPenaltyJam)) {
		r.penaltyList(cols)
		return
	}
	r.penaltyTable(cols)
}

func (r *reader) penaltyCols() []penaltyCol {
	var out []penaltyCol
	single := 0
	for _, c := range r.blk.Columns {
		if c.Field == FieldCode || c.Field == FieldPenalty {
			single++
		}
	}
	for i, c := range r.blk.Columns {
		if c.Field != FieldCode && c.Field != FieldPenalty {
			continue
		}
		p := penaltyCol{code: c.Index, jam: -1}
		for _, d := range r.blk.Columns[i+1:] {
			if d.Field == FieldCode || d.Field == FieldPenalty {
				break
			}
			if d.Field == FieldPenaltyJam || d.Field == FieldJam {
				p.jam = d.Index
				break
			}
		}
		if p.jam < 0 && single == 1 {
			if p.jam = r.blk.column(FieldPenaltyJam, 0); p.jam < 0 {
				p.jam = r.blk.column(FieldJam, 0)
			}
		}
		out = append(out, p)
	}
	return out
}

// penaltyList reads one penalty per row.
func (r *reader) penaltyList(cols []penaltyCol) {
	skater, period, out := r.blk.column(FieldSkater, 0), r.blk.column(FieldPeriod, 0), r.blk.column(FieldOut, 0)
	last := timeline.Cell[timeline.Number]{}
	r.rows(func() {
		side := r.side()
		if side == timeline.NoSide || isTotalLine(r.g.At(r.row, r.blk.Columns[0].Index)) {
			return
		}
		p := Penalty{Side: side, Skater: r.skater(skater)}
		if p.Skater.State == timeline.CellBlank && last.State == timeline.CellKnown {
			p.Skater = last // the number is written once over several rows
		}
		last = p.Skater
		if len(cols) > 0 {
			p.Code, p.Jam = r.code(cols[0].code), r.number(cols[0].jam, "a jam number")
		}
		if per, _, ok := parseJam(r.text(max(cols0jam(cols), 0))); ok && per > 0 {
			p.Period = timeline.Cell[int]{State: timeline.CellKnown, Value: per, From: r.ref(cols0jam(cols))}
		} else {
			p.Period = r.period(period)
		}
		if out >= 0 && r.text(out) != "" {
			r.out(side, p.Skater, out, p.Period, p.Jam)
		}
		switch {
		case isOut(p.Code.Value):
			r.s.Outs = append(r.s.Outs, Out{Side: side, Skater: p.Skater, Kind: outCell(p.Code), Period: p.Period, Jam: p.Jam})
		case p.Code.State == timeline.CellKnown || p.Code.State == timeline.CellUnread || p.Jam.State == timeline.CellKnown && p.Skater.State == timeline.CellKnown:
			r.s.Penalties = append(r.s.Penalties, p)
		}
	})
}

func cols0jam(cols []penaltyCol) int {
	if len(cols) == 0 {
		return -1
	}
	return cols[0].jam
}

// period is a penalty's period: its column's, else the block's.
func (r *reader) period(col int) timeline.Cell[int] {
	if col >= 0 {
		return cellOf(r, col, "a period", func(s string) (int, bool) { n := periodCell(s); return n, n > 0 })
	}
	if r.blk.Period > 0 {
		return timeline.Known(r.blk.Period)
	}
	return timeline.Cell[int]{}
}

func (r *reader) code(c int) timeline.Cell[string] {
	return cellOf(r, c, "a penalty code", func(s string) (string, bool) {
		code := strings.ToUpper(strings.TrimSpace(s))
		if i := strings.IndexAny(code, " -–:("); i > 0 && i <= 2 {
			code = code[:i] // "B - back block"
		}
		return code, code != "" && !isDash(code)
	})
}

// penaltyTable reads one skater per row (or pair of rows).
func (r *reader) penaltyTable(cols []penaltyCol) {
	skaterCol, outCol := r.blk.column(FieldSkater, 0), r.blk.column(FieldOut, 0)
	pair := r.pairedRows(cols, skaterCol)
	r.rows(func() {
		side := r.side()
		skater := r.skater(skaterCol)
		if side == timeline.NoSide || skater.State != timeline.CellKnown {
			return
		}
		lastJam, period, first := 0, 1, len(r.s.Penalties)
		for _, c := range cols {
			text := r.text(c.code)
			if text == "" || isDash(text) {
				continue
			}
			code, per, jam := splitCode(text)
			from := r.ref(c.code)
			jamFrom := from
			switch {
			case c.jam >= 0:
				if p, n, ok := parseJam(r.text(c.jam)); ok {
					per, jam, jamFrom = max(per, p), n, r.ref(c.jam)
				}
			case pair:
				if p, n, ok := parseJam(r.g.At(r.row+1, c.code)); ok {
					per, jam = max(per, p), n
					r.row++
					jamFrom = r.ref(c.code)
					r.row--
				}
			}
			if isOut(code) {
				r.s.Outs = append(r.s.Outs, Out{
					Side: side, Skater: skater, Kind: outCell(timeline.Cell[string]{State: timeline.CellKnown, Value: code, From: from}),
					Period: r.period(-1), Jam: known(jam, jamFrom),
				})
				continue
			}
			p := Penalty{Side: side, Skater: skater, Jam: known(jam, jamFrom)}
			switch {
			case code == "":
				r.unread(c.code)
				p.Code = timeline.Cell[string]{State: timeline.CellUnread, From: from}
			default:
				p.Code = timeline.Cell[string]{State: timeline.CellKnown, Value: code, From: from}
			}
			if jam > 0 && jam < lastJam {
				period++ // numbers begin anew: the next period
			}
			lastJam = max(jam, 0)
			switch {
			case per > 0:
				p.Period = known(per, from)
			case r.blk.Period > 0:
				p.Period = timeline.Known(r.blk.Period)
			case r.blk.has(FieldPeriod):
				p.Period = r.period(r.blk.column(FieldPeriod, 0))
			case period > 1:
				p.Period = known(period, from)
			}
			r.s.Penalties = append(r.s.Penalties, p)
		}
		if period > 1 {
			for i := first; i < len(r.s.Penalties); i++ {
				if p := &r.s.Penalties[i]; p.Period.State == timeline.CellAbsent {
					p.Period = known(1, p.Code.From)
				}
			}
		}
		if outCol >= 0 && r.text(outCol) != "" && !isDash(r.text(outCol)) {
			r.out(side, skater, outCol, r.period(r.blk.column(FieldPeriod, 0)), timeline.Cell[int]{})
		}
		if pair {
			r.row++
		}
	})
}

func known(n int, from string) timeline.Cell[int] {
	if n == 0 {
		return timeline.Cell[int]{State: timeline.CellBlank, From: from}
	}
	return timeline.Cell[int]{State: timeline.CellKnown, Value: n, From: from}
}

// pairedRows reports that jams stand in the row below their codes.
func (r *reader) pairedRows(cols []penaltyCol, skaterCol int) bool {
	codes, below := 0, 0
	for row := r.blk.First; row <= r.blk.Last && row+1 < len(r.g.Cells)+1; row++ {
		for _, c := range cols {
			s := r.g.At(row, c.code)
			if s == "" || !hasLetter(s) || strings.ContainsAny(s, "0123456789") {
				continue
			}
			codes++
			_, _, ok := parseJam(r.g.At(row+1, c.code))
			next := r.g.At(row+1, skaterCol)
			if ok && (next == "" || next == r.g.At(row, skaterCol)) {
				below++
			}
		}
	}
	return codes > 0 && 2*below > codes
}

func isOut(code string) bool {
	switch strings.ToUpper(code) {
	case "FO", "EXP", "EX", "EXPULSION", "FOULOUT":
		return true
	}
	return false
}

// outCell reads FO or EXP.
func outCell(c timeline.Cell[string]) timeline.Cell[string] {
	if strings.HasPrefix(strings.ToUpper(c.Value), "E") {
		c.Value = OutExpelled
	} else {
		c.Value = OutFoul
	}
	return c
}

// out reads a cell of the FO/EXP column: "FO", "EXP", "FO 12", a tick, or the code.
func (r *reader) out(side timeline.Side, skater timeline.Cell[timeline.Number], col int, period, jam timeline.Cell[int]) {
	s := r.text(col)
	if v, ok := parseMark(s); ok && !v {
		return
	}
	code, per, j := splitCode(s)
	o := Out{Side: side, Skater: skater, Period: period, Jam: jam}
	o.Kind = outCell(timeline.Cell[string]{State: timeline.CellKnown, Value: code, From: r.ref(col)})
	if j > 0 {
		o.Jam = known(j, r.ref(col))
	}
	if per > 0 {
		o.Period = known(per, r.ref(col))
	}
	r.s.Outs = append(r.s.Outs, o)
}
