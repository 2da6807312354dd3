package reel

import (
	"context"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// makeForm is the dialog that asks where the film shall be.
type makeForm struct {
	t         *Task
	reel      timeline.Reel
	dialog    *form.Dialog
	folder    *form.Entry
	subtitles *widget.Check
	sheet     *widget.Check
	alone     *widget.Check // the session sheet and no film
}

// askMake asks for what the film of the reel needs.
func (t *Task) askMake() {
	s := t.desk.Session()
	r, ok := t.current()
	if s == nil || !ok || len(t.parts()) == 0 {
		t.desk.Say(words.T("This reel has no part yet."))
		return
	}
	t.leaveDrawing()
	t.stop()
	t.refresh()
	f := &makeForm{t: t, reel: r, dialog: form.New(t.desk.Window(), words.T("Film of the reel {.reel}", "reel", r.Name), fyne.NewSize(look.Size(460), look.Size(330)))}
	dir := t.desk.Settings().ClipDir
	if dir == "" {
		dir = filepath.Join(filepath.Dir(s.Path), "reels")
	}
	f.folder = f.dialog.Entry(dir, words.T("folder for the film"))
	pick := look.NewButton(words.T("Browse"), "", func() { form.Folder(t.desk.Window(), f.folder.SetText) })
	f.subtitles = widget.NewCheck(words.T("captions as files beside the film, too"), nil)
	f.subtitles.Checked = true
	f.sheet = widget.NewCheck(words.T("session sheet as PDF: stills, captions, talking points"), nil)
	f.alone = widget.NewCheck(words.T("the session sheet alone, without the film"), func(on bool) {
		for _, c := range []*widget.Check{f.subtitles, f.sheet} {
			if on {
				c.Disable()
			} else {
				c.Enable()
			}
		}
	})
	f.sheet.Checked = true
	says := look.NewParagraph(words.T("{.length} of film. It goes on in the background; a making that was stopped goes on when it is asked for again.", "length", terms.Clock(reels.Length(t.parts()), 0)), look.Now.Quiet, look.NoteSize)
	content := container.New(look.Pile{Gap: look.Near},
		form.Field(words.T("Folder"), container.NewBorder(nil, nil, nil, pick, f.folder)), f.subtitles, f.sheet, f.alone, says)
	f.dialog.Accept = f.accept
	f.dialog.Show(container.NewVScroll(content), f.folder,
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Make the film"), words.T("Enter"), f.accept).Strong())
	t.panel.asking, t.panel.making = f.dialog, f
}

// accept reads the form and starts the work.
func (f *makeForm) accept() {
	dir := strings.TrimSpace(f.folder.Text)
	if dir == "" {
		f.dialog.Say(words.T("Name a folder for the film."))
		return
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		f.dialog.Say(words.T("That folder cannot be made: {.why}", "why", err))
		return
	}
	f.dialog.Close()
	t := f.t
	set := t.desk.Settings()
	set.ClipDir = dir
	t.desk.Fail(set.Save())
	if f.alone.Checked {
		f.printAlone(dir)
		return
	}
	var made reels.Made
	o := reels.MakeOptions{Dir: dir, Subtitles: f.subtitles.Checked, Sheet: f.sheet.Checked}
	t.desk.Work(words.T("Making the film"), func(ctx context.Context, a *app.App, s *app.Session) (err error) {
		made, err = t.make(ctx, a, s, f.reel.ID, o)
		return err
	}, func(err error) {
		if err == nil {
			t.told = madeText(made)
			t.desk.Say(t.told)
		}
		t.refresh()
	})
}

// printAlone prints the session sheet into a folder.
func (f *makeForm) printAlone(dir string) {
	t, path := f.t, filepath.Join(dir, reels.FileName(f.reel.Name)+".pdf")
	t.desk.Work(words.T("Printing the session sheet"), func(ctx context.Context, a *app.App, s *app.Session) error {
		return t.print(ctx, a, s, f.reel.ID, path)
	}, func(err error) {
		if err == nil {
			t.told = words.T("The session sheet is {.file}", "file", path)
			t.desk.Say(t.told)
		}
		t.refresh()
	})
}

// madeText says where the film is, and what is to be known of it.
func madeText(m reels.Made) string {
	parts := []string{words.T("The film is {.file}, {.length} long.", "file", m.Out, "length", terms.Clock(m.Length, 0))}
	if n := len(m.Subtitles); n > 0 {
		parts = append(parts, words.N(n, "{.n} caption file is beside it.", "{.n} caption files are beside it."))
	}
	if m.Sheet != "" {
		parts = append(parts, words.T("The session sheet is {.file}", "file", filepath.Base(m.Sheet))+".")
	}
	for _, n := range m.Notes {
		parts = append(parts, n+".")
	}
	return strings.Join(parts, " ")
}
