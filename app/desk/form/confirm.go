package form

import (
	"fyne.io/fyne/v2"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// Confirm asks before something is done: Enter does it, Escape does not.
func Confirm(w fyne.Window, title, text, ok string, do func()) *Dialog {
	d := New(w, title, fyne.NewSize(look.Size(440), look.Size(200)))
	d.Accept = func() {
		d.Close()
		do()
	}
	d.Show(look.NewParagraph(text, look.Now.Text, look.TextSize), nil,
		look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(ok, words.T("Enter"), d.Accept).Strong())
	return d
}
