package desk

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/keys"
)

// cardEntry is a text field on a card: Escape closes the card, as it does
// everywhere else on it.
type cardEntry struct {
	widget.Entry
	d *Desk
}

func (d *Desk) newCardEntry(text string) *cardEntry {
	e := &cardEntry{d: d}
	e.ExtendBaseWidget(e)
	e.SetText(text)
	return e
}

// TypedKey hands Escape to the card.
func (e *cardEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.d.press(keys.Press{Name: string(k.Name)})
		return
	}
	e.Entry.TypedKey(k)
}
