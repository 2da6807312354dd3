package sheet

import (
	"sort"
	"strings"

	"whistlecut/timeline"
)

// headCol is one column under a heading with all its readings.
type headCol struct {
	index   int
	heading string // its own text, the lowest of the heading rows
	upper   string // the group text above it
	side    timeline.Side
	label   string // a group text or own text that is no field: perhaps a team's name
	period  int
	cands   []candidate
	ev      evidence
}

// field is the surest reading, FieldKeep without one.
func (c headCol) field() Field {
	if len(c.cands) == 0 {
		return FieldKeep
	}
	return c.cands[0].field
}

func (c headCol) reading(f Field) (candidate, bool) {
	for _, x := range c.cands {
		if x.field == f {
			return x, true
		}
	}
	return candidate{}, false
}

// columns gathers the columns of a zone: own text, group text, readings and evidence.
func (h *headingReader) columns(g Grid, z zone) []headCol {
	width := 0
	for r := z.top; r <= z.last && r < len(g.Cells); r++ {
		width = max(width, len(g.Cells[r]))
	}
	var cols []headCol
	for c := range width {
		col := headCol{index: c, ev: gather(g, c, z.first, z.last)}
		var uppers []string
		for r := z.bottom; r >= z.top; r-- {
			s := strings.TrimSpace(g.At(r, c))
			switch {
			case s != "" && col.heading == "":
				col.heading = s
			case s != "":
				uppers = append(uppers, s)
			case r < z.bottom && (col.heading != "" || col.ev.filled > 0):
				if s := leftText(g, r, c, z); s != "" {
					uppers = append(uppers, s)
				}
			}
		}
		if col.heading == "" && col.ev.filled == 0 {
			continue
		}
		h.readColumn(&col, uppers)
		cols = append(cols, col)
	}
	return cols
}

// leftText is the group text that reaches from the left over column c in row r:
// it ends at a wholly empty column.
func leftText(g Grid, r, c int, z zone) string {
	for i := c - 1; i >= 0; i-- {
		if s := g.At(r, i); s != "" {
			return s
		}
		empty := true
		for k := z.top; k <= min(z.last, z.top+12) && empty; k++ {
			empty = g.At(k, i) == ""
		}
		if empty {
			return ""
		}
	}
	return ""
}

// readColumn reads the column's own text, alone and together with its group text.
func (h *headingReader) readColumn(col *headCol, uppers []string) {
	best := map[Field]candidate{}
	take := func(cs []candidate, weight float64, suffix string) {
		for _, c := range cs {
			c.sure *= weight
			c.reason += suffix
			if old, ok := best[c.field]; !ok || c.sure > old.sure {
				best[c.field] = c
			}
		}
	}
	take(h.read(col.heading), 1, "")
	col.side, col.period = sideOf(col.heading), periodOf(col.heading)
	for _, u := range uppers {
		if col.upper == "" {
			col.upper = u
		}
		if s := sideOf(u); s != timeline.NoSide && col.side == timeline.NoSide {
			col.side = s
		}
		if p := periodOf(u); p != 0 {
			if col.period == 0 {
				col.period = p
			}
			continue
		}
		up := h.read(u)
		if len(up) == 0 || up[0].sure < 0.55 {
			if col.label == "" {
				col.label = u
			}
			continue
		}
		if up[0].field == FieldTeam {
			continue
		}
		if col.heading == "" {
			take(up, 0.5, " of the group")
			continue
		}
		joined := h.read(u + " " + col.heading)
		if _, n := wholeNumber(col.heading); n || len(h.read(col.heading)) == 0 {
			take(joined, 0.97, " with its group")
		} else {
			take(joined, 0.9, " with its group")
			// A group text says what a column of "No." or "1" belongs to.
			if c, ok := best[FieldSkater]; ok && c.sure > 0.5 {
				for _, x := range up {
					switch x.field {
					case FieldJammer, FieldPivot, FieldBlocker:
						take([]candidate{{field: x.field, n: x.n, sure: 0.97, reason: x.reason}}, 1, " of the group")
					}
				}
			}
		}
	}
	if len(best) == 0 && col.label == "" && hasLetter(col.heading) {
		col.label = col.heading
	}
	for _, c := range best {
		col.cands = append(col.cands, c)
	}
	for i, c := range col.cands {
		col.cands[i].base = c.sure
		col.cands[i].sure = clamp(c.sure+weigh(c.field, col.ev.fits(c.field)), 0, 1)
	}
	sort.SliceStable(col.cands, func(i, j int) bool {
		a, b := col.cands[i], col.cands[j]
		if a.sure != b.sure {
			return a.sure > b.sure
		}
		return a.field < b.field
	})
}

// weigh is how far the cells move a reading: jam numbers are told by counting up.
func weigh(f Field, fit float64) float64 {
	switch {
	case f != FieldJam:
		return 0.12 * fit
	case fit > 0:
		return 0.25 * fit
	}
	return 0.5 * fit
}

func clamp(v, low, high float64) float64 { return max(low, min(high, v)) }
