package desk

import (
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"strings"
	"unicode"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// panicked is a mistake of the program in long work, as an error.
func panicked(p any) error {
	slog.Error("a mistake in the program", "panic", p, "stack", string(debug.Stack()))
	return fmt.Errorf("the program made a mistake here (%v); the bout is safe, and what was done before is kept", p)
}

// Fail shows an error as a sentence; nil does nothing. A short one stands in the
// line under the screen, a long one in a dialog.
func (d *Desk) Fail(err error) {
	if err == nil {
		return
	}
	text := sentence(err)
	if d.session != nil && !d.full && utf8.RuneCountInString(text) < 90 && !strings.Contains(text, "\n") {
		d.line.speak(text, look.Now.Differs)
		return
	}
	label := look.Prose(text)
	box := dialog.NewCustom(words.T("That did not work"), words.T("Close"), container.NewVScroll(label), d.win)
	box.Resize(fyne.NewSize(520, 220))
	box.Show()
}

// sentence is an error as a person reads it: a capital, a full stop.
func sentence(err error) string {
	if text, ok := boutFault(err); ok {
		return text
	}
	t := strings.TrimSpace(err.Error())
	var joined interface{ Unwrap() []error }
	if errors.As(err, &joined) {
		t = strings.ReplaceAll(t, "\n", "; ")
	}
	r, n := utf8.DecodeRuneInString(t)
	if n > 0 && !strings.ContainsAny(strings.SplitN(t, " ", 2)[0], "/\\.") {
		t = string(unicode.ToUpper(r)) + t[n:]
	}
	if t != "" && !strings.HasSuffix(t, ".") {
		t += "."
	}
	return t
}
