package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Button is a button that gives the keyboard back after a click, so that the
// desk's keys go on working. The Tab key still reaches it.
type Button struct {
	widget.Button
}

// NewButton makes a button; hint is the key that does the same ("" for none).
func NewButton(text, hint string, tapped func()) *Button {
	b := &Button{}
	if hint != "" {
		text += "  " + hint
	}
	b.Text, b.OnTapped = text, tapped
	b.ExtendBaseWidget(b)
	return b
}

// Strong marks the one button of a panel that is the next thing to do.
func (b *Button) Strong() *Button {
	b.Importance = widget.HighImportance
	return b
}

// Escape is what the Escape key does while a button has the focus. The desk sets it.
var Escape = func() {}

// TypedKey presses the button on Enter, too, once the Tab key has reached it, and
// leaves on Escape.
func (b *Button) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		Escape()
	case fyne.KeyReturn, fyne.KeyEnter:
		if !b.Disabled() {
			b.Tapped(&fyne.PointEvent{})
		}
	default:
		b.Button.TypedKey(k)
	}
}

// Tapped acts and gives the focus back.
func (b *Button) Tapped(e *fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
		c.Unfocus()
	}
	b.Button.Tapped(e)
}
