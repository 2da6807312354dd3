package form

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// Choose lets a person pick one of some texts: typing narrows the list, the arrows
// move, Enter picks. chosen is marked to begin with.
func Choose(w fyne.Window, title string, texts []string, chosen int, pick func(i int)) *Dialog {
	d := New(w, title, fyne.NewSize(look.Size(340), look.Size(420)))
	shown := make([]int, 0, len(texts))
	rows := look.NewRows([]look.Column{{}}, func() int { return len(shown) }, func(i int) []look.Cell {
		return []look.Cell{{Text: texts[shown[i]]}}
	})
	find := d.Entry("", words.T("Type to narrow the list"))
	narrow := func(part string) {
		shown = shown[:0]
		at := 0
		for i, t := range texts {
			if strings.Contains(strings.ToLower(t), strings.ToLower(strings.TrimSpace(part))) {
				if i == chosen {
					at = len(shown)
				}
				shown = append(shown, i)
			}
		}
		if len(shown) == 0 {
			at = -1
		}
		rows.Mark(at)
	}
	find.OnChanged = narrow
	narrow("")
	d.Accept = func() {
		if i := rows.Index(); i >= 0 && i < len(shown) {
			d.Close()
			pick(shown[i])
		}
	}
	find.Keys = func(k fyne.KeyName) bool { return rows.Steer(k, 10) }
	rows.Opened = func(int) { d.Accept() }
	d.Show(container.NewBorder(find, nil, nil, nil, rows), find,
		look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Choose"), words.T("Enter"), d.Accept).Strong())
	rows.Mark(rows.Index()) // now that it has its size, scroll to what is chosen
	return d
}
