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

// powerJams are each team's power jams and star passes; Enter goes to the film.
func (t *Task) powerJams() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, x := range t.report.Sides {
		against := t.report.Sides[x.Side.Other().Index()].PowerJams
		sum := func(name string, p tally.PowerJams, scored, conceded tally.Points, side timeline.Side) ledger.Row {
			length := terms.Clock(p.Time, 0)
			if !p.TimeKnown {
				length = "≈ " + length
			}
			return ledger.Row{
				Cells: ledger.Cells(name, fmt.Sprint(p.N), t.say.Points(scored), t.say.Points(conceded), length, t.say.Basis(scored.Plus(conceded).Basis)),
				Open:  t.sel(timeline.Selection{Situations: []timeline.SituationKind{timeline.SitPowerJam}, Side: side}),
			}
		}
		passes := t.sel(timeline.Selection{Kinds: []timeline.Kind{timeline.KindStarPass}, Side: x.Side})
		out = append(out, ledger.TeamHeading(t.team(x.Side)+": "+t.say.T("power jams and star passes"), x.Side), ledger.NewTable([]ledger.Column{
			{Rest: true},
			{Title: t.say.T("number"), Right: true},
			{Title: t.say.T("for"), Right: true},
			{Title: t.say.T("against"), Right: true},
			{Title: t.say.T("time"), Right: true},
			{Title: t.say.T("counted")},
		},
			sum(t.say.T("power jams"), x.PowerJams, x.PowerJams.Scored, x.PowerJams.Conceded, x.Side),
			sum(t.say.T("power jams against"), against, against.Conceded, against.Scored, x.Side.Other()),
			ledger.Row{Cells: ledger.Cells(t.say.T("star passes completed"), fmt.Sprint(x.StarPass.Completed), t.say.Range(x.StarPass.Jams.For), t.say.Range(x.StarPass.Jams.Against), terms.Unknown, t.say.T("by whole jams")), Open: passes},
			ledger.Row{Cells: ledger.Cells(t.say.T("star passes not completed"), fmt.Sprint(x.StarPass.Failed), terms.Unknown, terms.Unknown, terms.Unknown, ""), Open: passes},
		))
		if len(x.PowerJams.List) == 0 {
			continue
		}
		var rows []ledger.Row
		for _, p := range x.PowerJams.List {
			rows = append(rows, ledger.Row{
				Cells: ledger.Cells(jam(p.Period, p.Number), t.who(p.Boxed), t.say.Points(p.Scored), t.say.Points(p.Conceded),
					terms.Clock(p.Range.Start, 0)+" – "+terms.Clock(p.Range.End, 0)),
				Open: t.goTo(timeline.InJam(p.Jam, p.Range.Start)),
			})
		}
		out = append(out, ledger.NewTable([]ledger.Column{
			{Title: t.say.T("jam")},
			{Title: words.T("jammer in the box"), Rest: true},
			{Title: t.say.T("for"), Right: true},
			{Title: t.say.T("against"), Right: true},
			{Title: t.say.T("jam time"), Right: true},
		}, rows...))
	}
	return out
}

// who is a skater's number and name.
func (t *Task) who(r timeline.SkaterRef) string {
	if r.IsZero() || r.Side == timeline.NoSide {
		return terms.Unknown
	}
	k, _ := t.desk.Session().Bout.Teams[r.Side.Index()].Find(r.Number)
	return strings.TrimSpace(string(r.Number) + " " + k.Name)
}
