package numbers

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	tally "whistlecut/timeline/numbers"
)

// penalties are each team's by letter and period, and all skaters; Enter finds the
// penalties, or turns to the skater's page.
func (t *Task) penalties() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, x := range t.report.Sides {
		out = append(out, ledger.TeamHeading(fmt.Sprintf("%s: %s, %d", t.team(x.Side), t.say.T("penalties"), x.Penalties.Total), x.Side))
		cols := []ledger.Column{{Title: t.say.T("code"), Rest: true}}
		for _, n := range x.Penalties.Periods {
			cols = append(cols, ledger.Column{Title: fmt.Sprintf("%s %d", t.say.T("period"), n), Right: true})
		}
		var rows []ledger.Row
		for _, l := range x.Penalties.ByCode {
			sel := timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}, Side: x.Side, Codes: []string{l.Code}}
			code := strings.TrimSpace(l.Code + "  " + terms.Penalty(l.Name))
			if l.Code == "" {
				code, sel.Codes = t.say.T("not seen"), nil
			}
			texts := []string{code}
			for _, n := range l.ByPeriod {
				texts = append(texts, fmt.Sprint(n))
			}
			rows = append(rows, ledger.Row{Cells: ledger.Cells(append(texts, fmt.Sprint(l.N))...), Open: t.sel(sel)})
		}
		if len(rows) > 0 {
			out = append(out, ledger.NewTable(append(cols, ledger.Column{Title: t.say.T("all"), Right: true}), rows...))
		}
		box := terms.Clock(x.BoxTime, 0)
		if !x.BoxKnown {
			box = fmt.Sprintf(t.say.T("%s at least"), box)
		}
		said := t.say.T("jam time in the box") + ": " + box
		if len(x.Penalties.FouledOut) > 0 {
			var who []string
			for _, n := range x.Penalties.FouledOut {
				who = append(who, string(n))
			}
			said += "  |  " + t.say.T("fouled out") + ": " + strings.Join(who, ", ")
		}
		out = append(out, ledger.Text(said), t.skaters(x))
	}
	return append(out, t.intervals()...)
}

// skaters are all of a team in one table.
func (t *Task) skaters(x tally.TeamReport) fyne.CanvasObject {
	var rows []ledger.Row
	for _, k := range x.Skaters {
		r := k.Record
		rows = append(rows, ledger.Row{
			Cells: ledger.Cells(strings.TrimSpace(string(k.Skater.Number)+" "+k.Name), fmt.Sprint(r.All.Jams), fmt.Sprint(r.Penalties), terms.Clock(r.BoxTime, 0),
				t.say.Points(r.Conceded), t.say.Mean(r.All.PerJam)),
			Open: func() { t.desk.Skater(k.Skater) },
		})
	}
	return ledger.NewTable([]ledger.Column{
		{Title: words.T("skater"), Rest: true},
		{Title: t.say.T("jams"), Right: true},
		{Title: t.say.T("penalties"), Right: true},
		{Title: t.say.T("in the box"), Right: true},
		{Title: t.say.T("conceded"), Right: true},
		{Title: t.say.T("plus-minus per jam, 95 %"), Right: true},
	}, rows...)
}
