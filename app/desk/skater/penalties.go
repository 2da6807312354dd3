package skater

import (
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// penalties are her penalties, each with its place on film and what it cost.
func (t *Task) penalties() []fyne.CanvasObject {
	r := t.pg.Record
	out := []fyne.CanvasObject{
		ledger.Heading(fmt.Sprintf("%s: %d", t.say.T("Penalties"), r.Penalties)),
		pairs([][2]string{
			{t.say.T("jam time in the box"), terms.Clock(r.BoxTime, 0)},
			{t.say.T("conceded while sitting"), fmt.Sprintf("%s (%s)", t.say.Points(r.Conceded), t.say.Basis(r.Conceded.Basis))},
		}),
	}
	if len(t.pg.Penalties) == 0 {
		return out
	}
	var rows []ledger.Row
	shared := false
	for i, x := range t.pg.Penalties {
		clock := terms.Unknown
		if x.ClockKnown {
			clock = terms.Clock(x.Clock, 0)
		}
		where := fmt.Sprintf("%d.%d", x.Period, x.Number)
		if len(t.pg.Bouts) > 1 {
			where = fmt.Sprintf("%d: %s", x.Bout+1, where)
		}
		cost := t.say.Points(x.Conceded)
		if x.Shared {
			cost += " †"
			shared = true
		}
		rows = append(rows, ledger.Row{
			Cells: ledger.Cells(where, t.code(x.Code), cost, t.say.T(x.Role.String()), t.say.Range(x.Score[0])+" : "+t.say.Range(x.Score[1]), clock),
			Under: t.under(x),
			Open:  func() { t.film(i, true) },
		})
	}
	out = append(out, ledger.NewTable([]ledger.Column{
		{Title: t.say.T("jam")},
		{Title: t.say.T("code"), Rest: true},
		{Title: t.say.T("conceded"), Right: true},
		{Title: t.say.T("as")},
		{Title: t.say.T("score"), Right: true},
		{Title: t.say.T("clock"), Right: true},
	}, rows...))
	if shared {
		out = append(out, ledger.Text("† "+t.say.T("served together with another; the points are those of the whole stay")))
	}
	out = append(out, ledger.Text(words.T("Enter shows the act where it was tagged, else the call; A shows the call.")))
	for _, b := range t.pg.Bouts {
		if text := t.foulOut(b); text != "" {
			out = append(out, ledger.Text(text))
		}
	}
	return out
}

// under is where a penalty is on film, where she sat and by what its points are
// counted.
func (t *Task) under(x numbers.Penalty) string {
	var parts []string
	film := func(name string, list []timeline.FilmSpot) {
		if len(list) > 0 {
			parts = append(parts, t.say.T(name)+" "+filepath.Base(t.pg.FilmName(x.Bout, list[0].Footage))+" "+terms.Clock(list[0].Film, 1))
		}
	}
	film("act on film", x.Act)
	film("call on film", x.Call)
	if len(parts) == 0 {
		parts = append(parts, words.T("not on film"))
	}
	if len(x.Sittings) > 0 {
		parts = append(parts, t.say.T("sat in")+" "+t.say.Sat(t.pg.Page, x))
	} else {
		parts = append(parts, words.T("nobody tagged where she sat"))
	}
	if x.Conceded.Known() && len(x.Sittings) > 0 {
		parts = append(parts, t.say.T("conceded")+" ("+t.say.Basis(x.Conceded.Basis)+")")
	}
	return strings.Join(parts, "  |  ")
}

// foulOut says how near she came to fouling out.
func (t *Task) foulOut(b numbers.PageBout) string {
	f := b.FoulOut
	if f.Nearest < 0 || f.Nearest >= len(t.pg.Penalties) {
		return ""
	}
	x := t.pg.Penalties[f.Nearest]
	at := fmt.Sprintf("%s %d.%d", t.say.T("jam"), x.Period, x.Number)
	if x.ClockKnown {
		at += ", " + t.say.T("clock") + " " + terms.Clock(x.Clock, 0)
	}
	text := fmt.Sprintf(t.say.T("%d of %d that foul out, the last in %s"), f.Penalties, f.Limit, at)
	if f.FouledOut {
		text = fmt.Sprintf(t.say.T("Fouled out in %s"), at)
	}
	if f.Expelled {
		text += "; " + t.say.T("expelled")
	}
	if len(t.pg.Bouts) > 1 {
		text = b.Title + ": " + text
	}
	return text
}

// code is a penalty's letter with its name.
func (t *Task) code(letter string) string {
	if letter == "" {
		return "?  " + t.say.T("not seen")
	}
	name := ""
	for _, c := range t.pg.Codes {
		if c.Code == letter {
			name = terms.Penalty(c.Name)
		}
	}
	return strings.TrimSpace(letter + "  " + name)
}

// film shows penalty i: its act where that is tagged and wanted, else its call.
func (t *Task) film(i int, act bool) {
	x := t.pg.Penalties[i]
	if !t.here(x.Bout) {
		t.desk.Say(words.T("This is of another bout, {.title}; its film is not open here. Her reel has it.", "title", t.pg.Bouts[x.Bout].Title))
		return
	}
	spots := x.Call
	if act && len(x.Act) > 0 || len(spots) == 0 {
		spots = x.Act
	}
	if len(spots) == 0 {
		t.desk.Say(words.T("No film shows this penalty."))
		return
	}
	t.desk.GoFilm(spots[0].Footage, spots[0].Film)
	var ahead []timeline.Place
	for _, y := range t.pg.Penalties[i+1:] {
		if len(y.Call) > 0 && t.here(y.Bout) && len(ahead) < 2 {
			ahead = append(ahead, timeline.OnFilm(y.Call[0].Footage, y.Call[0].Film))
		}
	}
	t.desk.Ahead(ahead...)
}

// call shows the call of the chosen penalty.
func (t *Task) call() {
	row := t.page.Chosen()
	if row == nil {
		return
	}
	if i := t.penalty(row); i >= 0 {
		t.film(i, false)
	}
}

// penalty is which penalty a row of the page is, -1 for another row.
func (t *Task) penalty(row *ledger.Row) int {
	for i, x := range t.pg.Penalties {
		if t.under(x) == row.Under {
			return i
		}
	}
	return -1
}
