package skater

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// content is the page, top to bottom.
func (t *Task) content() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	if t.pg.Minor {
		out = append(out, ledger.Warning(t.say.T("A minor: not to be shared without what the safeguarding policy and the law ask for.")))
	}
	if t.pg.NoConsent {
		out = append(out, ledger.Warning(t.say.T("She does not want to be shared.")))
	}
	out = append(out, t.jams()...)
	out = append(out, t.penalties()...)
	out = append(out, t.patterns()...)
	out = append(out, t.beside()...)
	for _, x := range []struct {
		title string
		by    timeline.Author
	}{{t.say.T("In her own words"), timeline.BySkater}, {t.say.T("From the coach"), timeline.ByCoach}} {
		text := t.desk.Session().Facts.Remark(t.who, x.by)
		if text == "" {
			text = words.T("Nothing is written yet.")
		}
		// The row is there to be entered.
		out = append(out, ledger.Heading(x.title), ledger.NewTable([]ledger.Column{{Rest: true}}, ledger.Row{Under: text, Open: func() { t.write(x.by) }}))
	}
	if len(t.pg.Notes) > 0 {
		out = append(out, ledger.Heading(t.say.T("What to keep in mind")))
		for _, n := range t.pg.Notes {
			out = append(out, ledger.Text(t.say.Note(n)))
		}
	}
	return append(out, ledger.Text(words.T("This page is about one person: ask her before you share it.")))
}

// jams are her jams by role, and what she did as jammer.
func (t *Task) jams() []fyne.CanvasObject {
	r := t.pg.Record
	var rows []ledger.Row
	add := func(name string, s numbers.Stint, roles ...timeline.Role) {
		if s.Jams == 0 {
			return
		}
		sel := timeline.Selection{Kinds: []timeline.Kind{timeline.KindJam}, Skaters: []timeline.SkaterRef{t.who}, Roles: roles}
		rows = append(rows, ledger.Row{
			Cells:  ledger.Cells(t.say.T(name), fmt.Sprint(s.Jams), t.say.Range(s.For), t.say.Range(s.Against), t.say.Mean(s.PerJam)),
			Open:   func() { t.desk.Select(sel) },
			Strong: name == "all",
		})
	}
	add("all", r.All)
	add("jammer", r.Jammer, timeline.Jammer)
	add("pivot", r.Pivot, timeline.Pivot)
	add("blocker", r.Blocker, timeline.Blocker)
	if r.StarPass.Jams > 0 {
		add("jammer after a star pass", r.StarPass, timeline.Pivot)
	}
	out := []fyne.CanvasObject{ledger.NewTable([]ledger.Column{
		{Title: t.say.T("as"), Rest: true},
		{Title: t.say.T("jams"), Right: true},
		{Title: t.say.T("for"), Right: true},
		{Title: t.say.T("against"), Right: true},
		{Title: t.say.T("plus-minus per jam, 95 %"), Right: true},
	}, rows...)}
	facts := [][2]string{{t.say.T("points while on the track"), t.say.Points(r.OnTrackFor) + " : " + t.say.Points(r.OnTrackAgainst)}}
	if m := r.Jamming; m.Jams+m.StarPass > 0 {
		facts = append(facts,
			[2]string{t.say.T("lead as jammer"), t.say.Share(m.Lead, m.LeadKnown)},
			[2]string{t.say.T("points as jammer"), t.say.Range(m.Points)},
			[2]string{t.say.T("scoring trips"), fmt.Sprintf("%d (%s %d)", m.Trips, t.say.T("completed"), m.Completed)},
			[2]string{t.say.T("points per scoring trip"), t.say.PerTrip(m)})
	}
	out = append(out, pairs(facts))
	if len(t.pg.Bouts) < 2 {
		return out
	}
	rows = nil
	for _, b := range t.pg.Bouts {
		x := b.Record
		rows = append(rows, ledger.Row{Cells: ledger.Cells(strings.TrimSpace(b.Date+" "+b.Title), fmt.Sprint(x.All.Jams), t.say.Range(x.All.For), t.say.Range(x.All.Against),
			fmt.Sprint(x.Penalties), terms.Clock(x.BoxTime, 0), t.say.Mean(x.All.PerJam))})
	}
	return append(out, ledger.Heading(words.T("Bout by bout")), ledger.NewTable([]ledger.Column{
		{Title: t.say.T("bout"), Rest: true},
		{Title: t.say.T("jams"), Right: true},
		{Title: t.say.T("for"), Right: true},
		{Title: t.say.T("against"), Right: true},
		{Title: t.say.T("penalties"), Right: true},
		{Title: t.say.T("in the box"), Right: true},
		{Title: t.say.T("plus-minus per jam, 95 %"), Right: true},
	}, rows...))
}

// pairs are names with what they are.
func pairs(list [][2]string) fyne.CanvasObject {
	var rows []ledger.Row
	for _, x := range list {
		rows = append(rows, ledger.Row{Cells: ledger.Cells(x[0], x[1])})
	}
	return ledger.NewTable([]ledger.Column{{}, {Rest: true}}, rows...)
}

// patterns are what repeats in her penalties.
func (t *Task) patterns() []fyne.CanvasObject {
	if len(t.pg.Patterns) == 0 {
		return nil
	}
	var rows []ledger.Row
	for _, x := range t.pg.Patterns {
		key := t.say.T(x.Key)
		if x.Kind == numbers.PatternCode {
			key = t.code(x.Key)
		}
		base := terms.Unknown
		if x.Fielded > 0 {
			base = fmt.Sprintf("%d / %d", x.Jams, x.Fielded)
		}
		rows = append(rows, ledger.Row{
			Cells: ledger.Cells(t.say.T(x.Kind), key, fmt.Sprintf("%d / %d", len(x.Penalties), x.Of), base),
			Open:  func() { t.find(x.Penalties) },
		})
	}
	return []fyne.CanvasObject{ledger.Heading(t.say.T("What repeats")), ledger.NewTable([]ledger.Column{
		{}, {Rest: true}, {Title: t.say.T("penalties"), Right: true}, {Title: t.say.T("of her jams"), Right: true},
	}, rows...)}
}

// find brings Find with some of her penalties, those of the open bout.
func (t *Task) find(list []int) {
	var ids []timeline.ID
	for _, i := range list {
		if x := t.pg.Penalties[i]; t.here(x.Bout) {
			ids = append(ids, x.ID)
		}
	}
	if len(ids) == 0 {
		t.desk.Say(words.T("These are of another bout; its film is not open here."))
		return
	}
	t.desk.Select(timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}, Tags: ids})
}

// here reports whether a bout of the page is the open one, which comes first.
func (t *Task) here(bout int) bool { return bout == 0 }

// beside is her comparison with the team's average.
func (t *Task) beside() []fyne.CanvasObject {
	var rows []ledger.Row
	add := func(name string, c numbers.Compared, digits int) {
		if !c.Known {
			return
		}
		d := fmt.Sprintf("%+.*f", digits, c.Difference)
		if c.Small {
			d += " *"
		}
		rows = append(rows, ledger.Row{Cells: ledger.Cells(t.say.T(name), fmt.Sprintf("%.*f", digits, c.Hers), fmt.Sprintf("%.*f", digits, c.Team), d, fmt.Sprint(c.N))})
	}
	add("plus-minus per jam", t.pg.Against.PlusMinus, 1)
	add("penalties per jam", t.pg.Against.Penalties, 2)
	add("box seconds per jam", t.pg.Against.BoxPerJam, 1)
	add("lead rate", t.pg.Against.LeadRate, 2)
	add("points per scoring trip", t.pg.Against.PerTrip, 2)
	if len(rows) == 0 {
		return nil
	}
	return []fyne.CanvasObject{
		ledger.Heading(t.say.T("Beside the team's average")),
		ledger.NewTable([]ledger.Column{
			{Rest: true},
			{Title: t.say.T("hers"), Right: true},
			{Title: t.say.T("team"), Right: true},
			{Title: t.say.T("difference"), Right: true},
			{Title: t.say.T("jams or trips"), Right: true},
		}, rows...),
		ledger.Text(t.say.Small()),
	}
}
