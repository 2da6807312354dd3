package find

import (
	"context"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/export/clip"
	"whistlecut/timeline"
)

// cutForm is the dialog that asks how the clips shall be.
type cutForm struct {
	t        *Task
	dialog   *form.Dialog
	moments  []timeline.Moment
	folder   *form.Entry
	kinds    []string
	before   map[string]*form.Entry
	after    map[string]*form.Entry
	captions *look.Check
}

// askCut opens the dialog.
func (t *Task) askCut() {
	s := t.desk.Session()
	if s == nil {
		return
	}
	moments := t.wanted()
	if len(moments) == 0 {
		t.desk.Say(words.T("There is nothing to cut: choose moments first."))
		return
	}
	margins := app.MarginsOf(t.desk.Settings())
	f := &cutForm{t: t, moments: moments, before: map[string]*form.Entry{}, after: map[string]*form.Entry{}}
	for _, m := range moments {
		if k := app.MarginKind(m); !slices.Contains(f.kinds, k) {
			f.kinds = append(f.kinds, k)
		}
	}
	high := look.Size(270) + look.Size(34)*float32(min(len(f.kinds), 5))
	f.dialog = form.New(t.desk.Window(), words.N(len(moments), "Cut {.n} moment into clips", "Cut {.n} moments into clips"), fyne.NewSize(look.Size(460), high))
	dir := t.desk.Settings().ClipDir
	if dir == "" {
		dir = filepath.Join(filepath.Dir(s.Path), "clips")
	}
	f.folder = f.dialog.Entry(dir, words.T("folder for the clips"))
	pick := look.NewButton(words.T("Browse"), "", func() { form.Folder(t.desk.Window(), f.folder.SetText) })
	f.captions = look.NewCheck(words.T("captions in the picture (jam, clock, score, skater)"), nil)
	grid := container.NewGridWithColumns(3, look.Line(words.T("seconds shown"), look.Now.Quiet, look.NoteSize),
		look.Line(words.T("before"), look.Now.Quiet, look.NoteSize), look.Line(words.T("after"), look.Now.Quiet, look.NoteSize))
	for _, k := range f.kinds {
		x := margins.Of(k)
		f.before[k] = f.dialog.Entry(trim(x.Before.Seconds()), "0")
		f.after[k] = f.dialog.Entry(trim(x.After.Seconds()), "0")
		grid.Add(container.NewVBox(layout.NewSpacer(), look.Line(kindName(k), look.Now.Text, look.RowSize), layout.NewSpacer()))
		grid.Add(f.before[k])
		grid.Add(f.after[k])
	}
	length := look.NewParagraph(words.T("{.length} of film. What overlaps becomes one clip; first and last frame are exact.", "length", terms.Clock(s.FilmLength(moments, margins), 0)), look.Now.Quiet, look.NoteSize)
	content := container.New(look.Pile{Gap: look.Near},
		form.Field(words.T("Folder"), container.NewBorder(nil, nil, nil, pick, f.folder)), grid, f.captions, length)
	f.dialog.Accept = f.accept
	f.dialog.Show(container.NewVScroll(content), f.folder,
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Cut"), words.T("Enter"), f.accept).Strong())
	t.panel.asking = f
}

// kindName names what a margin is for.
func kindName(k string) string {
	if slices.Contains(timeline.SituationKinds(), timeline.SituationKind(k)) && !slices.Contains(timeline.Kinds(), timeline.Kind(k)) {
		return terms.Situation(timeline.SituationKind(k))
	}
	return terms.Kind(timeline.Kind(k))
}

// accept reads the form and starts the work.
func (f *cutForm) accept() {
	dir := strings.TrimSpace(f.folder.Text)
	if dir == "" {
		f.dialog.Say(words.T("Name a folder for the clips."))
		return
	}
	o := app.CutOptions{Dir: dir, Captions: f.captions.Checked, Margins: app.MarginsOf(f.t.desk.Settings())}
	o.Margins.ByKind = maps.Clone(o.Margins.ByKind)
	for _, k := range f.kinds {
		b, err1 := app.ParseClock(f.before[k].Text)
		a, err2 := app.ParseClock(f.after[k].Text)
		if err1 != nil || err2 != nil {
			f.dialog.Say(words.T("{.kind}: seconds before and after are numbers, as 5 or 2.5.", "kind", kindName(k)))
			return
		}
		o.Margins.ByKind[k] = clip.Margin{Before: b, After: a}
	}
	f.dialog.Close()
	f.t.cutNow(f.moments, o)
}

// cutNow cuts in the background and says where the clips are.
func (t *Task) cutNow(moments []timeline.Moment, o app.CutOptions) {
	set := t.desk.Settings()
	set.ClipDir = o.Dir
	t.desk.Fail(set.Save())
	var rep app.CutReport
	t.desk.Work(words.T("Cutting clips"), func(ctx context.Context, a *app.App, s *app.Session) (err error) {
		rep, err = t.cut(ctx, a, s, moments, o)
		return err
	}, func(err error) {
		t.told = cutText(rep, o.Dir, err)
		t.desk.Say(t.told)
		t.refresh()
	})
}

// cutText says what came of it.
func cutText(rep app.CutReport, dir string, err error) string {
	made := 0
	for _, c := range rep.Clips {
		if c.Err == nil && c.Result.Out != "" {
			made++
		}
	}
	var parts []string
	switch {
	case made > 0:
		parts = append(parts, words.N(made, "{.n} clip is in {.folder}.", "{.n} clips are in {.folder}.", "folder", dir))
	default:
		parts = append(parts, words.T("No clip was made."))
	}
	if err != nil && made > 0 {
		parts = append(parts, words.T("The others could not be made; cutting again goes on with them."))
	}
	if n := len(rep.NotShot); n > 0 {
		parts = append(parts, words.N(n, "{.n} moment is not on film.", "{.n} moments are not on film."))
	}
	return strings.Join(parts, " ")
}
