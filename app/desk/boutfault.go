package desk

import (
	"errors"
	"io/fs"
	"log/slog"
	"path/filepath"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/boutfile"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// boutFault is what is wrong with a bout file in the person's language: what, of
// which file, and what to do. What the database said goes to the log.
func boutFault(err error) (string, bool) {
	var f *boutfile.Fault
	if !errors.As(err, &f) {
		return "", false
	}
	if raw := f.Raw(); raw != "" {
		slog.Error("the bout file", "path", f.Path, "doing", f.Doing, "database", raw)
	}
	file, folder := filepath.Base(f.Path), filepath.Dir(f.Path)
	switch {
	case errors.Is(err, boutfile.ErrDamaged):
		return words.T("{.file} in {.folder} is damaged and cannot be read safely. Nothing of it was changed. Open a backup copy, or take in an export of it; in a terminal, “whistlecut doctor” with the file's name says what was found.", "file", file, "folder", folder), true
	case errors.Is(err, boutfile.ErrNotBout):
		return words.T("{.file} in {.folder} is no bout file. Choose a file that Whistlecut made.", "file", file, "folder", folder), true
	case errors.Is(err, boutfile.ErrNewer):
		return words.T("{.file} was written by a newer version of Whistlecut. Open it with that one.", "file", file), true
	case errors.Is(err, boutfile.ErrInUse):
		return words.T("{.file} in {.folder} is open elsewhere ({.who}).", "file", file, "folder", folder, "who", holder(f)), true
	case errors.Is(err, boutfile.ErrFull):
		return words.T("The disk with {.folder} is full. Make room and try again; nothing was changed and the work so far is safe.", "folder", folder), true
	case errors.Is(err, boutfile.ErrReadOnly):
		return words.T("{.file} is open only to look at; nothing can be changed in it.", "file", file), true
	case errors.Is(err, fs.ErrNotExist):
		return words.T("There is no {.file} in {.folder} any more. It may have been moved or renamed.", "file", file, "folder", folder), true
	case errors.Is(err, fs.ErrPermission):
		return words.T("{.file} in {.folder} may not be read or written by you. Check the permissions of the file and its folder.", "file", file, "folder", folder), true
	}
	return "", false
}

// holder says who has a bout open, as its lock tells.
func holder(f *boutfile.Fault) string {
	if f.Cause == nil || f.Raw() != "" {
		return words.T("another program")
	}
	return f.Cause.Error()
}

// askInUse says that a bout is open elsewhere and asks what to do: try again, look
// at it without changing it, or open another.
func (d *Desk) askInUse(path string, err error) {
	text, _ := boutFault(err)
	text += " " + words.T("Only one window can work on a bout at a time. Close it there and try again; or look at it here, where nothing can be changed then.")
	box := form.New(d.win, words.T("This bout is open elsewhere"), fyne.NewSize(look.Size(560), look.Size(230)))
	then := func(do func()) func() {
		return func() { box.Close(); do() }
	}
	again := then(func() { d.Open(path) })
	box.Accept = again
	box.Show(look.Prose(text), nil,
		look.NewButton(words.T("Cancel"), words.T("Esc"), box.Close),
		look.NewButton(words.T("Open another"), "", then(d.askOpen)),
		look.NewButton(words.T("Only look at it"), "", then(func() { d.lookAt(path) })),
		look.NewButton(words.T("Try again"), words.T("Enter"), again).Strong())
}

// lookAt opens a bout to look at, while somebody else writes it.
func (d *Desk) lookAt(path string) {
	s, err := d.app.Open(path, true)
	if err != nil {
		d.Fail(err)
		return
	}
	d.take(s)
	d.Say(words.T("Only to look at: nothing can be changed."))
}

// take puts an open session in the place of the bout before.
func (d *Desk) take(s *app.Session) {
	for len(d.pages) > 0 {
		d.pages[len(d.pages)-1].close() // a card of the bout before; a file may be dropped while one is open
	}
	d.closeBout()
	d.adopt(s)
}
