package numbers

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/export/chart"
	"whistlecut/timeline"
)

// mostRuns is how many runs are shown, as on the printed page.
const mostRuns = 5

// score is how the score went: the two charts, lead changes, runs and every jam.
func (t *Task) score() []fyne.CanvasObject {
	r := t.report
	out := []fyne.CanvasObject{t.standing()}
	for _, s := range timeline.Sides {
		if n := r.Unlogged[s.Index()]; n > 0 {
			out = append(out, ledger.Warning(fmt.Sprintf(t.say.T("Nobody logged the points of %s in so many jams: %d. They are left out."), t.team(s), n)))
		}
	}
	out = append(out,
		ledger.Heading(t.say.T("Margin along the bout")), t.chart(chart.Margin(r)),
		ledger.Heading(t.say.T("Points per jam")), t.chart(chart.PerJam(r)),
		ledger.Heading(fmt.Sprintf("%s: %d", t.say.T("Lead changes in the score"), len(r.LeadChanges))))
	var rows []ledger.Row
	for _, x := range r.LeadChanges {
		rows = append(rows, ledger.Row{
			Cells: append([]look.Cell{t.bar(x.To)}, ledger.Cells(jam(x.Period, x.Number), jamTime(x.At, x.Timed), t.team(x.To))...),
			Open:  t.goTo(place(x.Jam, x.At, x.Timed)),
		})
	}
	if len(rows) > 0 {
		out = append(out, ledger.NewTable([]ledger.Column{{}, {Title: t.say.T("jam")}, {Title: t.say.T("jam time"), Right: true}, {Title: t.say.T("leads from then on"), Rest: true}}, rows...))
	}
	if len(r.Runs) > 0 {
		rows = nil
		for _, x := range r.Runs[:min(len(r.Runs), mostRuns)] {
			pts := t.say.Range(x.Points)
			if !x.Sure {
				pts = fmt.Sprintf(t.say.T("%s at least"), pts)
			}
			rows = append(rows, ledger.Row{
				Cells: append([]look.Cell{t.bar(x.Side)}, ledger.Cells(pts, jam(x.First.Period, x.First.Number)+" – "+jam(x.Last.Period, x.Last.Number), t.team(x.Side))...),
				Open:  t.goTo(place(x.First.Jam, x.First.At, x.First.Timed)),
			})
		}
		out = append(out, ledger.Heading(t.say.T("Longest runs of points")),
			ledger.NewTable([]ledger.Column{{}, {Title: t.say.T("points"), Right: true}, {Title: t.say.T("jams")}, {Title: t.say.T("team"), Rest: true}}, rows...))
	}
	rows = nil
	for _, j := range r.PerJam {
		pts := [2]string{t.say.Range(j.Points[0]), t.say.Range(j.Points[1])}
		for i := range pts {
			if !j.Logged[i] {
				pts[i] = terms.Unknown
			}
		}
		rows = append(rows, ledger.Row{
			Cells: append(ledger.Cells(jam(j.Period, j.Number), pts[0], pts[1], t.say.Range(j.Score[0])+" : "+t.say.Range(j.Score[1])), t.lead(j.Lead), look.Cell{Text: long(j.Duration)}),
			Open:  t.goTo(timeline.InJam(j.Jam, 0)),
		})
	}
	return append(out, ledger.Heading(t.say.T("Jams")), ledger.NewTable([]ledger.Column{
		{Title: t.say.T("jam")},
		{Title: t.say.T("home"), Right: true},
		{Title: t.say.T("away"), Right: true},
		{Title: t.say.T("score"), Right: true},
		{Title: t.say.T("lead"), Rest: true},
		{Title: t.say.T("time"), Right: true},
	}, rows...))
}

// standing is the end of the bout in one line.
func (t *Task) standing() fyne.CanvasObject {
	r := t.report
	cells := []look.Cell{t.bar(timeline.Home), {Text: t.team(timeline.Home)}, {Text: t.say.Range(r.Score[0]), Bold: true}}
	away := []look.Cell{t.bar(timeline.Away), {Text: t.team(timeline.Away)}, {Text: t.say.Range(r.Score[1]), Bold: true}}
	return ledger.NewTable([]ledger.Column{{}, {Rest: true}, {Title: words.N(r.Jams, "{.n} jam", "{.n} jams"), Right: true}}, ledger.Row{Cells: cells}, ledger.Row{Cells: away})
}

// chart shows a chart; a click on it goes to a jam.
func (t *Task) chart(c chart.Chart) *ledger.Chart {
	x, jams := ledger.NewChart(c), t.report.PerJam
	x.Label = func(i int) string { return jam(jams[i].Period, jams[i].Number) }
	x.Split = func(i int) bool { return i > 0 && jams[i].Period != jams[i-1].Period }
	x.Jam = func(i int) { t.desk.Go(timeline.InJam(jams[i].Jam, 0)) }
	t.charts = append(t.charts, x)
	return x
}

func (t *Task) lead(s timeline.Side) look.Cell {
	if s == timeline.NoSide {
		return look.Cell{Text: terms.Unknown, Colour: look.Now.Quiet}
	}
	return look.Cell{Text: terms.Side(s), Colour: look.Now.Of(s)}
}

// bar is the sign of a side.
func (t *Task) bar(s timeline.Side) look.Cell {
	return look.Cell{Shape: look.Bar, Colour: look.Now.Of(s)}
}

// jam is a jam as the paperwork counts it.
func jam(period, number int) string { return fmt.Sprintf("%d.%d", period, number) }

func jamTime(at time.Duration, timed bool) string {
	if !timed {
		return terms.Unknown
	}
	return terms.Clock(at, 0)
}

func long(d time.Duration) string { return jamTime(d, d > 0) }

func place(id timeline.ID, at time.Duration, timed bool) timeline.Place {
	if !timed {
		return timeline.InJam(id, 0)
	}
	return timeline.InJam(id, at)
}
