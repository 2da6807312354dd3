package numbers

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/ledger"
	"whistlecut/timeline"
)

// jammers are both teams' jammers; Enter finds the jams of one.
func (t *Task) jammers() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, x := range t.report.Sides {
		var rows []ledger.Row
		for _, j := range x.Jammers {
			rows = append(rows, ledger.Row{
				Cells: ledger.Cells(
					strings.TrimSpace(string(j.Skater.Number)+" "+j.Name), fmt.Sprint(j.Jamming.Jams), t.say.Mean(j.Stint.PerJam), t.say.Share(j.Jamming.Lead, x.Jamming.LeadKnown),
					t.say.Range(j.Jamming.Points), t.say.PerTrip(j.Jamming), fmt.Sprint(j.Jamming.Trips), fmt.Sprint(j.Jamming.StarPass)),
				Open: t.sel(timeline.Selection{Kinds: []timeline.Kind{timeline.KindJam}, Skaters: []timeline.SkaterRef{j.Skater}, Roles: []timeline.Role{timeline.Jammer}}),
			})
		}
		out = append(out, ledger.TeamHeading(t.team(x.Side)+": "+t.say.T("jammers"), x.Side), ledger.NewTable([]ledger.Column{
			{Title: t.say.T("jammer"), Rest: true},
			{Title: t.say.T("jams"), Right: true},
			{Title: t.say.T("plus-minus per jam, 95 %"), Right: true},
			{Title: t.say.T("lead"), Right: true},
			{Title: t.say.T("points"), Right: true},
			{Title: t.say.T("per trip"), Right: true},
			{Title: t.say.T("trips"), Right: true},
			{Title: t.say.T("star pass"), Right: true},
		}, rows...))
	}
	return append(out, t.intervals()...)
}

// intervals explain the star and the brackets.
func (t *Task) intervals() []fyne.CanvasObject {
	return []fyne.CanvasObject{ledger.Text(t.say.Small() + " " + t.say.T("Intervals hold the true mean in 95 of 100 cases (Student's t); jams are taken for independent."))}
}
