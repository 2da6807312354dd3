package align

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// ask asks for the files of one camera; paths are there to begin with.
func (f *film) ask(paths []string) {
	s, ok := f.t.session()
	if !ok {
		return
	}
	camera := "1"
	if r, ok := f.chosen(); ok {
		camera = r.camera
	} else if len(f.rows) > 0 {
		camera = f.rows[0].camera
	}
	d := form.New(f.t.desk.Window(), words.T("Add film"), fyne.NewSize(620, 380))
	name := d.Entry(camera, words.T("1, or the name of who filmed"))
	files := d.Lines(strings.Join(paths, "\n"), words.T("One file a line"), 6)
	more := func(list ...string) {
		if old := strings.TrimSpace(files.Text); old != "" {
			list = slices.Insert(list, 0, old)
		}
		files.SetText(strings.Join(list, "\n"))
	}
	d.Accept = func() {
		list := form.SplitLines(files.Text)
		switch {
		case len(list) == 0:
			d.Say(words.T("Name at least one file."))
		case strings.TrimSpace(name.Text) == "":
			d.Say(words.T("The camera needs a name, so that its files stay together."))
		default:
			d.Close()
			f.add(strings.TrimSpace(name.Text), list)
		}
	}
	browse := container.NewHBox(
		d.Button(words.T("File…"), "", func() { form.File(f.t.desk.Window(), form.FilmEndings, func(p string) { more(p) }) }),
		d.Button(words.T("All films of a folder…"), "", func() {
			form.Folder(f.t.desk.Window(), func(p string) { more(form.In(p, form.FilmEndings)...) })
		}),
		layout.NewSpacer(),
	)
	hint := look.Note(words.T("Files of one camera are put in order by what they show. Give another name for a second camera."))
	if len(s.Facts.Footage) == 0 {
		hint = look.Note(words.T("Files of one camera are put in order by what they show. A second camera can be added later."))
	}
	d.Show(container.NewBorder(form.Field(words.T("Camera"), name), container.NewVBox(browse, hint), nil, nil,
		form.Fill(words.T("Files"), files)), files,
		look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Add"), form.CtrlEnter(), func() { d.Accept() }).Strong())
}

// add probes the files and puts them into the bout.
func (f *film) add(camera string, paths []string) {
	var added app.AddedFootage
	f.t.desk.Work(words.T("Reading the film"), func(ctx context.Context, a *app.App, s *app.Session) error {
		var err error
		added, err = a.AddFootage(ctx, s, camera, paths, false)
		return err
	}, func(err error) {
		next := f.sheet
		f.sheet = ""
		if err != nil {
			return
		}
		if next != "" {
			defer f.t.sheet.add(next)
		}
		if len(added.Files) > 1 && added.Confidence < 0.8 {
			f.t.desk.Say(words.T("The order of the files is a guess; look whether it is right."))
		} else if n := len(added.Files); n > 0 {
			f.t.desk.Say(words.N(n, "{.n} file added: {.first}", "{.n} files added: {.first} and more", "first", filepath.Base(added.Files[0].Path)))
		}
		if n := len(added.Files); n > 0 {
			f.t.desk.GoFilm(added.Files[0].ID, 0)
			f.refresh()
			f.mark(added.Files[0].ID)
		}
	})
}

// Drop takes dropped files: films and sheets go where they belong.
func (t *Task) Drop(paths []string) {
	s, ok := t.session()
	if !ok {
		return
	}
	sorted := form.Sort(paths)
	if len(sorted.Others)+len(sorted.Bouts) > 0 && len(sorted.Films)+len(sorted.Sheets)+len(sorted.Photos) == 0 {
		t.desk.Say(words.T("{.file} is neither a film nor a sheet that can be read.", "file", filepath.Base(append(sorted.Others, sorted.Bouts...)[0])))
		return
	}
	if len(sorted.Films) > 0 {
		t.show(atFilm)
		if len(s.Facts.Footage) == 0 {
			t.film.add("1", sorted.Films)
		} else {
			t.film.ask(sorted.Films)
		}
	}
	switch {
	case len(sorted.Sheets) > 0 && len(sorted.Films) > 0:
		t.film.sheet = sorted.Sheets[0] // read once the film is in
	case len(sorted.Sheets) > 0:
		t.show(atSheet)
		t.sheet.add(sorted.Sheets[0])
	case len(sorted.Photos) > 0 && len(sorted.Films) == 0:
		t.show(atSheet)
		t.sheet.typeIn(sorted.Photos[0])
	}
}
