package form

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// Entry is a text entry of a dialog: Enter accepts the dialog (where the entry has
// one line), Escape closes it.
type Entry struct {
	widget.Entry
	d *Dialog
	// Keys sees each key first and reports whether it used it.
	Keys func(fyne.KeyName) bool
}

// Entry makes a one-line entry with a text in it and a hint for when it is empty.
func (d *Dialog) Entry(text, hint string) *Entry {
	e := &Entry{d: d}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder(hint)
	e.SetText(text)
	return e
}

// Lines makes an entry of several lines, shown with so many of them.
func (d *Dialog) Lines(text, hint string, rows int) *Entry {
	e := &Entry{d: d}
	e.MultiLine = true
	e.Wrapping = fyne.TextWrapOff
	e.ExtendBaseWidget(e)
	e.SetMinRowsVisible(rows)
	e.SetPlaceHolder(hint)
	e.SetText(text)
	return e
}

// TypedKey hands keys to the dialog that the entry has no use for.
func (e *Entry) TypedKey(k *fyne.KeyEvent) {
	if e.Keys != nil && e.Keys(k.Name) {
		return
	}
	switch k.Name {
	case fyne.KeyEscape:
		e.d.press(k.Name)
		return
	case fyne.KeyReturn, fyne.KeyEnter:
		if !e.MultiLine {
			e.d.press(k.Name)
			return
		}
	}
	e.Entry.TypedKey(k)
}

// AcceptsTab leaves Tab to move between entries, in those of several lines, too.
func (e *Entry) AcceptsTab() bool { return false }

// TypedShortcut accepts the dialog on Ctrl+Enter, since in an entry of several
// lines Enter begins a line.
func (e *Entry) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*desktop.CustomShortcut); ok && c.Modifier == fyne.KeyModifierControl && (c.KeyName == fyne.KeyReturn || c.KeyName == fyne.KeyEnter) {
		e.d.press(c.KeyName)
		return
	}
	e.Entry.TypedShortcut(s)
}

// Ctrl is the hint of a button that Ctrl with a key presses.
func Ctrl(key string) string { return words.T("Ctrl") + "+" + key }

// CtrlEnter is the hint of a button that Ctrl+Enter presses.
func CtrlEnter() string { return words.T("Ctrl") + "+↵" }

// Field is a name above what it names.
func Field(name string, o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewVBox(look.Line(name, look.Now.Quiet, look.NoteSize), o)
}

// Fill is a name above something that takes the height that is left.
func Fill(name string, o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewBorder(look.Line(name, look.Now.Quiet, look.NoteSize), nil, nil, nil, o)
}
