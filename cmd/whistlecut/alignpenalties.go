package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"whistlecut/app"
)

// penaltyCalls is one penalty of the sheet with its candidates; the JSON names are
// documented.
type penaltyCalls struct {
	Period int           `json:"period"`
	Jam    int           `json:"jam"`
	Side   string        `json:"side"`
	Skater string        `json:"skater"`
	Code   string        `json:"code"`
	Tag    string        `json:"tag,omitempty"` // that fits the row, when it is tagged
	Calls  []penaltyCall `json:"calls"`         // likeliest first
	Why    string        `json:"why,omitempty"` // there are none
}

type penaltyCall struct {
	Footage string  `json:"footage"`
	At      float64 `json:"at_s"`     // film time of the blast
	InJam   float64 `json:"in_jam_s"` // since the jam's start
	Chance  float64 `json:"chance"`
}

// shownCalls is how many candidates a line of the table holds.
const shownCalls = 3

func (c *alignCmd) penalties(e *env, s *app.Session, jams []alignedJam, notes []string) error {
	list, more, err := e.app.PenaltyCalls(e.ctx, s)
	if err != nil {
		return err
	}
	for _, n := range more {
		if !slices.Contains(notes, n) {
			notes = append(notes, n)
		}
	}
	for _, n := range notes {
		fmt.Fprintln(e.err, n)
	}
	out := []penaltyCalls{}
	rows := [][]string{{"jam", "penalty", "likely calls"}}
	for _, p := range list {
		x := penaltyCalls{
			Period: p.Period, Jam: p.Number, Side: p.Side.String(), Skater: string(p.Skater), Code: p.Code,
			Tag: string(p.Tag), Calls: []penaltyCall{}, Why: p.Why,
		}
		var words []string
		for i, k := range p.Calls {
			path := s.Facts.Footage[k.Footage].Path
			x.Calls = append(x.Calls, penaltyCall{path, k.Film.Seconds(), k.InJam.Seconds(), k.Chance})
			if i < shownCalls {
				words = append(words, fmt.Sprintf("%s %s (%.0f %%)", path, app.Clock(k.Film.Round(time.Millisecond)), 100*k.Chance))
			}
		}
		out = append(out, x)
		said := strings.Join(words, ", ")
		if said == "" {
			said = p.Why
		}
		rows = append(rows, []string{fmt.Sprintf("%d.%d", p.Period, p.Number), strings.TrimSpace(fmt.Sprintf("%s %s %s", p.Side, p.Skater, p.Code)), said})
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"jams": jams, "penalties": out, "notes": notes})
	}
	if len(list) > 0 {
		e.table(rows)
	}
	return nil
}
