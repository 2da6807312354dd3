package sheet

import (
	"sort"
	"strings"

	"whistlecut/timeline"
)

// lineups reads line-ups: one row per jam with a column per place, or one row
// per skater with a role.
func (r *reader) lineups() {
	jamCol := r.blk.column(FieldJam, 0)
	if jamCol < 0 {
		return
	}
	if r.blk.has(FieldRole) && r.blk.has(FieldSkater) && !r.blk.has(FieldPivot) {
		r.longLineups(jamCol)
		return
	}
	r.rows(func() {
		if r.periodLine(jamCol) || isTotalLine(r.text(jamCol)) {
			return
		}
		side := r.side()
		if side == timeline.NoSide || !r.anySlot() {
			return
		}
		l := Lineup{Side: side}
		if !r.lineupJam(&l, jamCol) {
			return
		}
		r.slots(&l)
		r.s.Lineups = append(r.s.Lineups, l)
	})
}

// anySlot reports that at least one place is filled: forms print jam numbers ahead.
func (r *reader) anySlot() bool {
	for _, c := range r.blk.Columns {
		switch c.Field {
		case FieldJammer, FieldPivot, FieldBlocker, FieldNoPivot:
			if s := r.text(c.Index); s != "" && !isDash(s) {
				return true
			}
		}
	}
	return false
}

// lineupJam sets the jam of a line-up row; a star-pass row belongs to the jam above.
func (r *reader) lineupJam(l *Lineup, jamCol int) bool {
	text := r.text(jamCol)
	c := r.count(l.Side)
	period, jam, ok := parseJam(text)
	switch {
	case starRow(text) != notStar && c.jam > 0, text == "" && c.jam > 0:
		l.StarPass = true
	case ok:
		sp := r.blk.column(FieldStarPass, 0)
		if sp >= 0 && jam == c.jam {
			if v, is := parseMark(r.text(sp)); is && v {
				l.StarPass = true
				break
			}
		}
		c = r.step(l.Side, period, jam)
	case overtimeText(text):
		c = r.step(l.Side, 0, c.jam+1)
	default:
		r.problem(jamCol, "%q is no jam number; the row was left out", text)
		return false
	}
	l.Period, l.Jam = c.period, c.jam
	return true
}

// slots reads the places of a line-up row with the box marks after each.
func (r *reader) slots(l *Lineup) {
	l.NoPivot = r.mark(r.blk.column(FieldNoPivot, 0))
	cols := append([]Column(nil), r.blk.Columns...)
	sort.SliceStable(cols, func(i, j int) bool { return cols[i].Index < cols[j].Index })
	var last *Slot
	l.Blockers = make([]Slot, 0, 8) // room, so that last stays valid
	for _, c := range cols {
		switch c.Field {
		case FieldJammer:
			l.Jammer = r.slot(c.Index)
			last = &l.Jammer
		case FieldPivot:
			l.Pivot = r.slot(c.Index)
			last = &l.Pivot
		case FieldBlocker:
			if len(l.Blockers) == cap(l.Blockers) {
				continue
			}
			l.Blockers = append(l.Blockers, r.slot(c.Index))
			last = &l.Blockers[len(l.Blockers)-1]
		case FieldBox:
			if last != nil && r.text(c.Index) != "" {
				for _, w := range splitMarks(r.text(c.Index)) {
					last.Box = append(last.Box, r.boxMark(c.Index, w))
				}
			}
		}
	}
	for n := len(l.Blockers); n > 0; n-- {
		s := l.Blockers[n-1]
		if s.Skater.State != timeline.CellBlank || len(s.Box) > 0 {
			break
		}
		l.Blockers = l.Blockers[:n-1]
	}
	if len(l.Blockers) == 0 {
		l.Blockers = nil
	}
}

func (r *reader) boxMark(c int, w string) timeline.Cell[BoxMark] {
	if m, ok := parseBoxMark(w); ok {
		return timeline.Cell[BoxMark]{State: timeline.CellKnown, Value: m, From: r.ref(c)}
	}
	r.unread(c)
	return timeline.Cell[BoxMark]{State: timeline.CellUnread, From: r.ref(c)}
}

// splitMarks splits "S $" or "-+" into single symbols.
func splitMarks(s string) []string {
	var out []string
	for _, w := range strings.Fields(s) {
		if len(w) > 1 && strings.Trim(strings.ToUpper(w), "-+S$X–—") == "" {
			for _, x := range w {
				out = append(out, string(x))
			}
			continue
		}
		out = append(out, w)
	}
	return out
}

// slot reads one place: a number, perhaps with box symbols behind it: "23 S", "23-".
func (r *reader) slot(c int) Slot {
	s := strings.TrimSpace(r.text(c))
	number := strings.TrimLeft(s, "# ")
	i := 0
	for i < len(number) && (number[i] >= '0' && number[i] <= '9' || number[i] >= 'a' && number[i] <= 'z' || number[i] >= 'A' && number[i] <= 'Z') {
		i++
	}
	tail := strings.TrimSpace(strings.Trim(number[i:], "()[] "))
	if i > 0 && tail != "" && numberShaped(number[:i]) && strings.Trim(strings.ToUpper(tail), "-+S$X–— ") == "" {
		out := Slot{Skater: timeline.Cell[timeline.Number]{State: timeline.CellKnown, Value: timeline.Number(number[:i]), From: r.ref(c)}}
		for _, w := range splitMarks(tail) {
			out.Box = append(out.Box, r.boxMark(c, w))
		}
		return out
	}
	return Slot{Skater: r.skater(c)}
}

// longLineups groups rows of one skater each by jam and side.
func (r *reader) longLineups(jamCol int) {
	skater, role, box := r.blk.column(FieldSkater, 0), r.blk.column(FieldRole, 0), r.blk.column(FieldBox, 0)
	index := map[[3]int]int{}
	r.rows(func() {
		side := r.side()
		period, jam, ok := parseJam(r.text(jamCol))
		if side == timeline.NoSide || !ok || r.text(skater) == "" {
			return
		}
		c := r.step(side, period, jam)
		k := [3]int{c.period, c.jam, side.Index()}
		i, have := index[k]
		if !have {
			i = len(r.s.Lineups)
			index[k] = i
			r.s.Lineups = append(r.s.Lineups, Lineup{Period: c.period, Jam: c.jam, Side: side})
		}
		l := &r.s.Lineups[i]
		slot := r.slot(skater)
		if box >= 0 {
			for _, w := range splitMarks(r.text(box)) {
				slot.Box = append(slot.Box, r.boxMark(box, w))
			}
		}
		what, ok := parseRole(r.text(role))
		switch {
		case !ok:
			r.problem(role, "%q is no role (jammer, pivot, blocker)", r.text(role))
		case what == timeline.Jammer && l.Jammer.Skater.State == timeline.CellAbsent:
			l.Jammer = slot
		case what == timeline.Pivot && l.Pivot.Skater.State == timeline.CellAbsent:
			l.Pivot = slot
		default:
			l.Blockers = append(l.Blockers, slot)
		}
	})
}
