package sheet

import (
	"fmt"
	"sort"
)

// kinds in the order they are looked for.
var kinds = [...]Kind{KindScore, KindLineups, KindPenalties, KindBox, KindTimeouts, KindClock, KindRoster}

// weights say how much a field speaks for a kind of table.
var weights = map[Kind]map[Field]float64{
	KindScore: {
		FieldJam: 0.5, FieldPeriod: 0.1, FieldTeam: 0.1, FieldJammer: 1, FieldLost: 1, FieldLead: 1, FieldCall: 0.8, FieldInj: 0.5,
		FieldNI: 1, FieldTrip: 1.5, FieldTrips: 1, FieldMarks: 0.5, FieldJamTotal: 1.2, FieldGameTotal: 1.2, FieldStarPass: 0.5,
	},
	KindLineups: {
		FieldJam: 0.5, FieldPeriod: 0.1, FieldTeam: 0.1, FieldNoPivot: 1, FieldJammer: 0.7, FieldPivot: 1.5, FieldBlocker: 1.5,
		FieldBox: 0.6, FieldStarPass: 0.2, FieldRole: 1.2, FieldSkater: 0.4,
	},
	KindPenalties: {
		FieldJam: 0.3, FieldPeriod: 0.1, FieldTeam: 0.1, FieldSkater: 0.8, FieldName: 0.1, FieldCode: 1.5, FieldPenalty: 1.5,
		FieldPenaltyJam: 1, FieldOut: 1,
	},
	KindBox: {
		FieldJam: 0.3, FieldPeriod: 0.1, FieldTeam: 0.1, FieldSkater: 0.5, FieldRole: 0.4, FieldIn: 1.2, FieldStand: 1.4, FieldDone: 1.2,
		FieldOutJam: 0.6, FieldBetween: 1,
	},
	KindTimeouts: {
		FieldJam: 0.2, FieldPeriod: 0.2, FieldTeam: 0.5, FieldType: 1.4, FieldClock: 0.9, FieldDuration: 0.4, FieldRetained: 1.6,
	},
	KindClock: {
		FieldJam: 0.6, FieldPeriod: 0.2, FieldDuration: 1.6, FieldClock: 0.9, FieldClockEnd: 0.9,
	},
	KindRoster: {FieldTeam: 0.1, FieldSkater: 1.1, FieldName: 1.2},
}

// needs are the fields without one of which (each group) a kind can't be.
var needs = map[Kind][][]Field{
	KindScore:     {{FieldJam}, {FieldTrip, FieldTrips, FieldJamTotal, FieldGameTotal, FieldLead, FieldNI, FieldLost}},
	KindLineups:   {{FieldJam}, {FieldPivot, FieldBlocker, FieldRole}},
	KindPenalties: {{FieldSkater}, {FieldCode, FieldPenalty, FieldOut}},
	KindBox:       {{FieldSkater}, {FieldIn, FieldStand, FieldDone}},
	KindTimeouts:  {{FieldType, FieldRetained, FieldTeam}, {FieldClock, FieldJam, FieldRetained, FieldDuration, FieldPeriod}},
	KindClock:     {{FieldJam}, {FieldDuration, FieldClock, FieldClockEnd}},
	KindRoster:    {{FieldSkater}, {FieldName}},
}

// threshold is the least weight a kind needs; a title that names it halves it.
const threshold = 1.9

// scoreThreshold is lower: jam and points alone are a score table.
const scoreThreshold = 1.2

// blocksOf turns one segment into blocks: usually one; two where one table is
// both score and line-ups, or a second table stands beside the first.
func blocksOf(seg segment, z zone, hint Kind) []Block {
	var cols []headCol
	for _, c := range seg.shared {
		own := false // a jam column of its own goes before a neighbour's
		for _, x := range seg.cols {
			own = own || x.field() == c.field() && x.ev.fits(c.field()) > 0.5 && (c.field() == FieldJam || c.field() == FieldPeriod)
		}
		if !own {
			cols = append(cols, c)
		}
	}
	cols = append(cols, seg.cols...)
	sort.SliceStable(cols, func(i, j int) bool { return cols[i].index < cols[j].index })
	type try struct {
		kind   Kind
		weight float64
		cols   []Column
	}
	var tries []try
	for _, k := range kinds {
		cs, w := assign(cols, k)
		if !meets(cs, needs[k]) {
			continue
		}
		if k == hint {
			w = w*1.5 + 1
		} else if hint != KindNone && w < 4 {
			w *= 0.7
		}
		if w >= threshold || k == KindScore && w >= scoreThreshold {
			tries = append(tries, try{k, w, cs})
		}
	}
	sort.SliceStable(tries, func(i, j int) bool { return tries[i].weight > tries[j].weight })
	var out []Block
	used := map[int]bool{}
	for n, t := range tries {
		// A further kind must bring key columns that no other block uses.
		if n > 0 {
			fresh := 0.0
			for _, c := range t.cols {
				if !used[c.Index] {
					fresh += weights[t.kind][c.Field]
				}
			}
			if fresh < 1.8 || t.kind == KindPenalties && out[0].Kind == KindRoster {
				continue
			}
			if !freshKey(t.cols, used, t.kind) {
				continue
			}
		}
		b := Block{Kind: t.kind, Side: seg.side, Period: seg.period, Label: seg.label, Head: z.bottom, First: z.first, Last: z.last, Columns: t.cols}
		for _, c := range t.cols {
			if c.Field != FieldJam && c.Field != FieldPeriod && c.Field != FieldTeam {
				used[c.Index] = true
			}
		}
		b.Certainty = clamp(0.45+t.weight/9, 0, 0.99)
		b.Reason = fmt.Sprintf("%d headings of a %s table", named(t.cols), t.kind)
		out = append(out, b)
	}
	if len(out) > 0 {
		keepRest(&out[0], seg.cols, used)
	}
	return out
}

// freshKey reports that the group of fields that make the kind stands in unused columns.
func freshKey(cols []Column, used map[int]bool, k Kind) bool {
	groups := needs[k]
	for _, f := range groups[len(groups)-1] {
		for _, c := range cols {
			if c.Field == f && !used[c.Index] {
				return true
			}
		}
	}
	return false
}

// keepRest adds the columns nobody claimed, so that what stands there is kept.
func keepRest(b *Block, cols []headCol, used map[int]bool) {
	for _, c := range cols {
		in := used[c.index]
		for _, x := range b.Columns {
			in = in || x.Index == c.index
		}
		if !in && c.ev.filled > 0 {
			b.Columns = append(b.Columns, Column{Index: c.index, Heading: c.heading, Field: FieldKeep, Certainty: 0.2, Reason: "not recognised"})
		}
	}
	sort.SliceStable(b.Columns, func(i, j int) bool { return b.Columns[i].Index < b.Columns[j].Index })
}

func meets(cols []Column, groups [][]Field) bool {
	for _, g := range groups {
		ok := false
		for _, f := range g {
			for _, c := range cols {
				ok = ok || c.Field == f
			}
		}
		if !ok {
			return false
		}
	}
	return true
}

func named(cols []Column) int {
	n := 0
	for _, c := range cols {
		if c.Heading != "" && c.Field != FieldKeep {
			n++
		}
	}
	return n
}

// assign gives every column its field under the assumption that the table is of
// one kind, and weighs how much speaks for it.
func assign(cols []headCol, k Kind) ([]Column, float64) {
	allowed := weights[k]
	chosen := make([]Column, len(cols))
	type bid struct {
		col  int
		cand candidate
	}
	var bids []bid
	for i, c := range cols {
		chosen[i] = Column{Index: c.index, Heading: c.heading, Field: FieldKeep}
		for _, x := range c.cands {
			f := x.field
			if k == KindScore && f == FieldSkater {
				f, x.sure = FieldJammer, x.sure*0.8
			}
			if (k == KindPenalties || k == KindBox || k == KindRoster) && f == FieldJammer {
				continue
			}
			if f == FieldJam && k != KindScore && k != KindLineups && k != KindClock {
				x.sure = max(x.sure, x.base-0.1) // lists by skater do not count up
			}
			if k == KindPenalties && f == FieldTrip && x.n > 0 {
				f, x.sure = FieldPenalty, x.sure*0.95
			}
			if _, ok := allowed[f]; !ok {
				continue
			}
			x.field = f
			bids = append(bids, bid{i, x})
		}
	}
	sort.SliceStable(bids, func(i, j int) bool { return bids[i].cand.sure > bids[j].cand.sure })
	taken := map[Field]int{}
	trips := map[int]bool{}
	for _, b := range bids {
		c := &chosen[b.col]
		if c.Field != FieldKeep || b.cand.sure < 0.3 {
			continue
		}
		f := b.cand.field
		many := repeats[f] || k == KindPenalties && (f == FieldCode || f == FieldJam)
		if taken[f] > 0 && !many || f == FieldTrip && trips[b.cand.n] {
			continue
		}
		taken[f]++
		if f == FieldTrip {
			trips[b.cand.n] = true
		}
		c.Field, c.N, c.Certainty, c.Reason = f, b.cand.n, round2(b.cand.sure), b.cand.reason
	}
	spread(k, cols, chosen)
	if k == KindScore {
		fillScore(cols, chosen)
	} else if chosenIndex(chosen, FieldJam) < 0 && allowed[FieldJam] > 0 {
		fillJam(cols, chosen)
	}
	var out []Column
	weight, counted := 0.0, map[Field]bool{}
	for _, c := range chosen {
		if c.Field == FieldKeep {
			continue
		}
		out = append(out, c)
		if !counted[c.Field] {
			weight += allowed[c.Field] * c.Certainty
		}
		counted[c.Field] = true
	}
	return out, weight
}

func round2(v float64) float64 { return float64(int(v*100+0.5)) / 100 }
