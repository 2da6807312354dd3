package numbers

import (
	"cmp"
	"slices"

	"whistlecut/timeline"
)

// PenaltyTable counts a side's penalties by letter and period.
type PenaltyTable struct {
	Total   int           `json:"total"`
	Periods []int         `json:"periods"` // period numbers, the columns of ByCode
	ByCode  []PenaltyLine `json:"by_code"` // most frequent first
	// FouledOut and Expelled name the skaters whose bout ended early (4.5).
	FouledOut []timeline.Number `json:"fouled_out,omitempty"`
	Expelled  []timeline.Number `json:"expelled,omitempty"`
}

// PenaltyLine is one letter's line.
type PenaltyLine struct {
	Count
	ByPeriod []int `json:"by_period"` // parallel to Periods
}

// penaltyTable counts the penalties of a side, of skaters not seen, too.
func penaltyTable(src Source, side timeline.Side) PenaltyTable {
	b := src.Bout
	t := PenaltyTable{ByCode: []PenaltyLine{}}
	for _, p := range b.Periods {
		t.Periods = append(t.Periods, p.Number)
	}
	for i := range b.Jams {
		j := &b.Jams[i]
		col := slices.Index(t.Periods, j.Period)
		for _, id := range j.Sides[side.Index()].Penalties {
			tag := src.Facts.Tags[id]
			c := Count{}
			if tag.Penalty != nil && tag.Penalty.Seen != timeline.NotSeen {
				c.Code = tag.Penalty.Code
				rule, _ := b.Rules.Code(c.Code)
				c.Name = rule.Name
			}
			k := slices.IndexFunc(t.ByCode, func(l PenaltyLine) bool { return l.Code == c.Code })
			if k < 0 {
				k = len(t.ByCode)
				t.ByCode = append(t.ByCode, PenaltyLine{c, make([]int, len(t.Periods))})
			}
			t.Total++
			t.ByCode[k].N++
			t.ByCode[k].ByPeriod[col]++
		}
	}
	slices.SortStableFunc(t.ByCode, func(x, y PenaltyLine) int { return cmp.Or(cmp.Compare(y.N, x.N), cmp.Compare(x.Code, y.Code)) })
	for _, f := range b.Fouls {
		if f.Skater.Side != side {
			continue
		}
		if f.FouledOut != "" {
			t.FouledOut = append(t.FouledOut, f.Skater.Number)
		}
		if f.Expelled != "" {
			t.Expelled = append(t.Expelled, f.Skater.Number)
		}
	}
	return t
}
