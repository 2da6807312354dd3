package form

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Inline is a text of something chosen, edited where it stands in a panel. Enter,
// Tab and a click elsewhere keep it, Escape brings back what was there.
type Inline struct {
	widget.Entry
	of   string // what the text belongs to
	was  string
	keep func(of, text string)
}

// NewInline makes one; keep stores a text that was changed, of what it was shown for.
func NewInline(hint string, keep func(of, text string)) *Inline {
	e := &Inline{keep: keep}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder(hint)
	e.OnSubmitted = func(string) { e.leave() }
	return e
}

// Set shows the text of something, unless somebody is writing in it.
func (e *Inline) Set(of, text string) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil && c.Focused() == fyne.Focusable(e) && e.of == of {
		return
	}
	e.of, e.was = of, text
	if e.Text != text {
		e.SetText(text)
	}
}

// Write puts the cursor behind the text.
func (e *Inline) Write() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil {
		c.Focus(e)
		e.CursorColumn = len([]rune(e.Text))
		e.Entry.Refresh()
	}
}

// FocusLost keeps the text.
func (e *Inline) FocusLost() {
	e.Entry.FocusLost()
	if s := strings.TrimSpace(e.Text); s != e.was {
		e.was = s
		e.keep(e.of, s)
	}
}

// TypedKey leaves the field on Escape.
func (e *Inline) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.SetText(e.was)
		e.leave()
		return
	}
	e.Entry.TypedKey(k)
}

func (e *Inline) leave() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil && c.Focused() == fyne.Focusable(e) {
		c.Unfocus()
	}
}
