package numbers

import (
	"fmt"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	tally "whistlecut/timeline/numbers"
)

// mostGroups is how many line-ups and pairs are shown, as on the printed page.
const mostGroups = 15

// lineups are the blockers that skated together; Enter finds their jams.
func (t *Task) lineups() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, x := range t.report.Sides {
		out = append(out, t.groups(x.Side, t.say.T("four blockers together"), x.Groups)...)
		out = append(out, t.groups(x.Side, t.say.T("pairs of blockers"), x.Pairs)...)
		if x.GroupsUnknown > 0 {
			out = append(out, ledger.Text(fmt.Sprintf(t.say.T("Jams whose four blockers are not all known: %d."), x.GroupsUnknown)))
		}
	}
	return append(out, t.intervals()...)
}

func (t *Task) groups(side timeline.Side, title string, list []tally.Group) []fyne.CanvasObject {
	if len(list) == 0 {
		return nil
	}
	var rows []ledger.Row
	for _, g := range list[:min(len(list), mostGroups)] {
		rows = append(rows, ledger.Row{
			Cells: ledger.Cells(g.Key(), fmt.Sprint(g.Stint.Jams), t.say.Range(g.Stint.For), t.say.Range(g.Stint.Against), t.say.Mean(g.Stint.PerJam)),
			Open:  func() { t.together(side, g) },
		})
	}
	out := []fyne.CanvasObject{ledger.TeamHeading(t.team(side)+": "+title, side), ledger.NewTable([]ledger.Column{
		{Title: t.say.T("numbers"), Rest: true},
		{Title: t.say.T("jams"), Right: true},
		{Title: t.say.T("for"), Right: true},
		{Title: t.say.T("against"), Right: true},
		{Title: t.say.T("plus-minus per jam, 95 %"), Right: true},
	}, rows...)}
	if n := len(list) - mostGroups; n > 0 {
		out = append(out, ledger.Text(fmt.Sprintf(t.say.T("and %d more that skated no more jams together"), n)))
	}
	return out
}

// together finds the jams in which a group was lined up as blockers.
func (t *Task) together(side timeline.Side, g tally.Group) {
	var jams []timeline.ID
	for _, j := range t.desk.Session().Bout.Jams {
		all := true
		for _, n := range g.Skaters {
			role := j.Sides[side.Index()].Lineup[n]
			all = all && (role == timeline.Pivot || role == timeline.Blocker)
		}
		if all {
			jams = append(jams, j.ID)
		}
	}
	t.desk.Select(timeline.Selection{Kinds: []timeline.Kind{timeline.KindJam}, Jams: jams})
	t.desk.Say(words.T("Jams in which {.who} blocked together.", "who", g.Key()))
}
