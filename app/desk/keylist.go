package desk

import (
	"maps"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// showKeys lists every key, those of the task on the desk first. Enter takes the
// next key pressed for the chosen action; Delete gives back the usual one.
func (d *Desk) showKeys() {
	scopes := map[string]string{}
	for _, t := range d.all() {
		scopes[t.ID()] = t.Title()
	}
	list := slices.Clone(d.book.Actions())
	slices.SortStableFunc(list, func(a, b *keys.Action) int {
		rank := func(x *keys.Action) int {
			switch x.Scope {
			case d.shown:
				return 0
			case keys.Everywhere:
				return 1
			}
			return 2
		}
		return rank(a) - rank(b)
	})
	waiting := false
	rows := look.NewRows([]look.Column{{Width: 145}, {Width: 150}, {}}, func() int { return len(list) }, nil)
	rows.Row = func(i int) []look.Cell {
		a := list[i]
		group := a.Group
		if s := scopes[a.Scope]; s != "" && group == "" {
			group = s
		}
		key := look.Cell{Text: form.KeyNames(a.Keys, d.legend), Mono: true}
		if waiting && i == rows.Index() {
			key = look.Cell{Text: words.T("press a key"), Colour: look.Now.Accent}
		}
		return []look.Cell{{Text: group, Colour: look.Now.Quiet}, key, {Text: a.Title}}
	}
	learn := func() {
		waiting = rows.Index() >= 0
		rows.Refresh()
	}
	usual := func() {
		if i := rows.Index(); i >= 0 {
			own := maps.Clone(d.book.Own())
			delete(own, list[i].ID)
			d.set.Keys = own
			d.keep()
			d.build()
			d.Show(d.shown)
			d.showKeys()
		}
	}
	take := func(c keys.Chord) {
		waiting = false
		a := list[rows.Index()]
		if err := d.book.Rebind(a.ID, c); err != nil {
			d.Say(sentence(err))
		} else {
			d.set.Keys = maps.Clone(d.book.Own())
			d.keep()
			d.listen()
			d.Say(words.T("{.key} is now: {.what}", "key", form.KeyName(c, d.legend), "what", a.Title))
		}
		rows.Refresh()
	}
	key := func(p keys.Press) bool {
		if waiting {
			if p.Name == string(fyne.KeyEscape) {
				waiting = false
				rows.Refresh()
				return true
			}
			if modifierOnly(p.Name) {
				return true
			}
			c := keys.Chord{Key: p.Name, Ctrl: p.Ctrl, Shift: p.Shift, Alt: p.Alt}
			if at := keys.Position(p.Code); at != "" && !p.Ctrl && !p.Alt {
				c.Key = at
			}
			if c.Key != "" {
				take(c)
			}
			return true
		}
		switch p.Name {
		case string(fyne.KeyUp):
			rows.Advance(-1)
		case string(fyne.KeyDown):
			rows.Advance(1)
		case string(fyne.KeyPageUp):
			rows.Advance(-12)
		case string(fyne.KeyPageDown):
			rows.Advance(12)
		case string(fyne.KeyReturn), string(fyne.KeyEnter):
			learn()
		case string(fyne.KeyDelete):
			usual()
		default:
			return false
		}
		return true
	}
	d.openPage(words.T("All keys"), fyne.NewSize(720, 560), rows, key,
		look.NewButton(words.T("Another key"), words.T("Enter"), learn), look.NewButton(words.T("The usual key"), words.T("Del"), usual))
	rows.Mark(0)
}

func modifierOnly(name string) bool {
	switch fyne.KeyName(name) {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight, desktop.KeyControlLeft, desktop.KeyControlRight, desktop.KeyAltLeft,
		desktop.KeyAltRight, desktop.KeySuperLeft, desktop.KeySuperRight, desktop.KeyMenu, desktop.KeyCapsLock:
		return true
	}
	return false
}
