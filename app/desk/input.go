package desk

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
)

// listen connects the window's keys with the book. What a text field or a button
// has the focus of stays its own, but for chords with Ctrl or Alt.
func (d *Desk) listen() {
	look.Escape = d.leave
	c := d.win.Canvas()
	if held, ok := c.(desktop.Canvas); ok {
		// Fyne does not say whether a key was pressed or is held: only a press is
		// told here before it is typed.
		held.SetOnKeyDown(func(e *fyne.KeyEvent) { d.fresh = true })
	}
	c.SetOnTypedKey(func(e *fyne.KeyEvent) {
		shift := false
		if drv, ok := d.fyne.Driver().(desktop.Driver); ok {
			shift = drv.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
		}
		p := keys.Press{Name: string(e.Name), Code: e.Physical.ScanCode, Shift: shift, Held: !d.fresh}
		d.fresh = false
		// The letter of the key comes after it: a field that the key opens must not
		// be there yet, or the letter is typed into it.
		d.later(func() { d.press(p) })
	})
	for _, chord := range d.book.With() {
		var m fyne.KeyModifier
		if chord.Ctrl {
			m |= fyne.KeyModifierShortcutDefault
		}
		if chord.Alt {
			m |= fyne.KeyModifierAlt
		}
		if chord.Shift {
			m |= fyne.KeyModifierShift
		}
		p := keys.Press{Name: chord.Key, Ctrl: chord.Ctrl, Alt: chord.Alt, Shift: chord.Shift}
		c.AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyName(chord.Key), Modifier: m}, func(fyne.Shortcut) { d.press(p) })
	}
	// Fyne turns these chords into shortcuts of its own kind.
	c.AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { d.press(keys.Press{Name: "Z", Ctrl: true}) })
	c.AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { d.press(keys.Press{Name: "Y", Ctrl: true}) })
}

// press does what a key means on the desk as it stands.
func (d *Desk) press(p keys.Press) {
	if top := d.win.Canvas().Overlays().Top(); top != nil {
		// An open card or dialog has the keyboard.
		switch pg := d.topPage(); {
		case pg != nil && pg.key != nil && pg.key(p):
		case pg != nil && p.Name == string(fyne.KeyEscape):
			pg.close()
		case form.Press(top, fyne.KeyName(p.Name)):
		case p.Name == string(fyne.KeyEscape):
			d.closeOverlay()
		}
		return
	}
	if d.legend.Heard(p) {
		if t := d.current(); t != nil {
			t.Changed() // the letters of its legend
		}
	}
	if d.stage.grab != nil && d.stage.grab(p) {
		return
	}
	if d.full && p.Name == string(fyne.KeyEscape) && d.shown != task.Log {
		d.fullScreen()
		return
	}
	a, ok := d.book.Find(d.shown, p)
	if !ok || a.Run == nil || p.Held && !a.Repeats {
		return
	}
	if d.session == nil && a.Scope != keys.Everywhere {
		return
	}
	a.Run()
	if l, ok := d.current().(task.Pressed); ok && a.Scope == d.shown {
		l.Pressed(a.ID)
	}
}

// leave is Escape while a button or a choice has the focus, which Fyne leaves to
// them: the card or dialog on top closes, else only the focus goes.
func (d *Desk) leave() {
	if d.win.Canvas().Overlays().Top() == nil {
		d.win.Canvas().Unfocus()
		return
	}
	d.press(keys.Press{Name: string(fyne.KeyEscape)})
}

// closeOverlay closes the dialog on top.
func (d *Desk) closeOverlay() {
	o := d.win.Canvas().Overlays()
	if top := o.Top(); top != nil {
		if h, ok := top.(interface{ Hide() }); ok {
			h.Hide()
		}
		o.Remove(top)
	}
}
