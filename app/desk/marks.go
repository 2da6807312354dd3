package desk

import (
	"cmp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// marks lists the marked moments by film.
func (d *Desk) marks() []timeline.Tag {
	var out []timeline.Tag
	for _, t := range d.session.Facts.Tags {
		if t.Kind == timeline.KindMark || t.Kind == timeline.KindNote {
			out = append(out, t)
		}
	}
	order := func(t timeline.Tag) float64 { return d.session.Facts.Footage[t.Place.Footage].Order }
	slices.SortFunc(out, func(a, b timeline.Tag) int {
		return cmp.Or(cmp.Compare(order(a), order(b)), cmp.Compare(a.Place.Film, b.Place.Film), cmp.Compare(a.ID, b.ID))
	})
	return out
}

// showMarks lists the marks: Enter goes there, W writes words, Delete removes.
func (d *Desk) showMarks() {
	if d.session == nil {
		return
	}
	list := d.marks()
	if len(list) == 0 {
		d.Say(words.T("No marks yet. F marks the moment shown; the words can come later."))
		return
	}
	text := d.newCardEntry("")
	text.SetPlaceHolder(words.T("Words for this mark (W), Enter keeps them"))
	var pg *page
	var rows *look.Rows
	again := func() {
		list = d.marks()
		rows.Mark(rows.Index())
		if len(list) == 0 {
			pg.close()
		}
	}
	rows = look.NewRows([]look.Column{{Width: 18}, {Width: 170}, {}}, func() int { return len(list) }, func(i int) []look.Cell {
		t := list[i]
		note := look.Cell{Text: t.Note}
		if t.Note == "" {
			note = look.Cell{Text: words.T("no words yet"), Colour: look.Now.Quiet}
		}
		return []look.Cell{{Shape: look.Square, Colour: look.Now.Text}, {Text: d.placeText(t.Place), Mono: true}, note}
	})
	rows.Chosen = func(i int) {
		text.SetText(list[i].Note)
		d.Go(list[i].Place)
	}
	rows.Opened = func(int) { pg.close() }
	text.OnSubmitted = func(s string) {
		i := rows.Index()
		if i < 0 || i >= len(list) {
			return
		}
		t := list[i]
		t.Note = strings.TrimSpace(s)
		d.Apply(words.T("words of a mark"), timeline.SetTag(t))
		d.win.Canvas().Unfocus()
		again()
	}
	remove := func() {
		if i := rows.Index(); i >= 0 && i < len(list) {
			if d.Apply(words.T("mark removed"), timeline.DeleteTag(list[i].ID)) {
				d.Say(words.T("Mark removed. Ctrl+Z brings it back."))
			}
			again()
		}
	}
	write := func() { d.win.Canvas().Focus(text) }
	key := func(p keys.Press) bool {
		switch p.Name {
		case string(fyne.KeyUp):
			rows.Advance(-1)
		case string(fyne.KeyDown):
			rows.Advance(1)
		case string(fyne.KeyReturn), string(fyne.KeyEnter):
			pg.close()
		case string(fyne.KeyDelete):
			remove()
		case "W":
			write()
		default:
			return false
		}
		return true
	}
	pg = d.openPage(words.N(len(list), "{.n} mark", "{.n} marks"), fyne.NewSize(620, 420),
		container.NewBorder(nil, text, nil, nil, rows), key,
		look.NewButton(words.T("Words"), "W", write), look.NewButton(words.T("Remove"), words.T("Del"), remove))
	rows.Choose(d.nearestMark(list))
}

// nearestMark is the last mark at or before the film shown.
func (d *Desk) nearestMark(list []timeline.Tag) int {
	now := d.Now()
	best := 0
	for i, t := range list {
		if t.Place.Footage == now.Footage && t.Place.Film <= now.Film {
			best = i
		}
	}
	return best
}

// placeText is a place as people say it: the jam and its time, or the film time.
func (d *Desk) placeText(p timeline.Place) string {
	a := d.session.Bout.Alignment
	jam, at, ok := p.Jam, p.Offset, p.InJam
	if p.Footage != "" {
		jam, at, ok = a.JamAt(p.Footage, p.Film)
	}
	if j, found := d.session.Bout.Jam(jam); found {
		name := words.T("P{.period} jam {.jam}", "period", j.Period, "jam", j.Number)
		if ok {
			name += "  " + clockText(at)
		}
		return name
	}
	return clockText(p.Film)
}
