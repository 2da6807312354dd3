package desk

import (
	"slices"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// showHistory lists every action of the bout, the latest first. Enter takes the
// bout back to just before the chosen one, as far as it is one's own work; redo
// brings it forward again.
func (d *Desk) showHistory() {
	if d.session == nil {
		return
	}
	var list []timeline.Action
	load := func() {
		list = d.session.File.Log().History()
		list = slices.DeleteFunc(list, func(a timeline.Action) bool { return a.Undoes != "" || a.Redoes != "" })
		slices.Reverse(list)
	}
	load()
	if len(list) == 0 {
		d.Say(words.T("Nothing was done in this bout yet."))
		return
	}
	var pg *page
	rows := look.NewRows([]look.Column{{Width: 18}, {Width: 120}, {Width: 130}, {}}, func() int { return len(list) }, func(i int) []look.Cell {
		a := list[i]
		quiet := look.Now.Quiet
		label := look.Cell{Text: a.Label}
		shape := look.Cell{Text: ""}
		if a.Undone {
			label.Colour, label.Text = quiet, words.T("{.what} (undone)", "what", a.Label)
			shape = look.Cell{Shape: look.Ring}
		}
		return []look.Cell{shape, {Text: a.At.Local().Format("2006-01-02 15:04"), Mono: true, Colour: quiet}, {Text: a.Author, Colour: quiet}, label}
	})
	back := func() {
		i := rows.Index()
		if i < 0 || i >= len(list) || list[i].Undone {
			return
		}
		d.undoTo(list[i].Group)
		load()
		rows.Mark(i)
	}
	redo := func() { d.Redo(); load(); rows.Mark(rows.Index()) }
	key := func(p keys.Press) bool {
		switch {
		case p.Name == string(fyne.KeyUp):
			rows.Advance(-1)
		case p.Name == string(fyne.KeyDown):
			rows.Advance(1)
		case p.Name == string(fyne.KeyReturn) || p.Name == string(fyne.KeyEnter):
			back()
		case p.Ctrl && p.Name == "Y" || p.Ctrl && p.Shift && p.Name == "Z":
			redo()
		default:
			return false
		}
		return true
	}
	pg = d.openPage(words.T("History"), fyne.NewSize(760, 460), rows, key,
		look.NewButton(words.T("Undo back to here"), words.T("Enter"), back), look.NewButton(words.T("Do again"), "Ctrl+Y", redo))
	_ = pg
	rows.Mark(0)
}

// undoTo takes back one's own actions, the latest first, until the given one is
// taken back, too.
func (d *Desk) undoTo(group timeline.ID) {
	n := 0
	for {
		step, err := d.session.File.Undo()
		if err != nil {
			d.Fail(err)
			break
		}
		if len(step.Edits) == 0 {
			break
		}
		if n++; step.Of == group {
			break
		}
	}
	d.Changed()
	d.Say(words.N(n, "{.n} action undone. Ctrl+Y does it again.", "{.n} actions undone. Ctrl+Y does them again."))
}
