package skater

import (
	"context"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// packForm is the dialog that asks how her clips are to be packed.
type packForm struct {
	dialog        *form.Dialog
	folder, limit *form.Entry
	single, mute  *widget.Check
	anyway        *widget.Check // nil where nothing stands in the way
}

// askPack asks for what her pack needs.
func (t *Task) askPack() {
	if !t.ready() {
		return
	}
	s, who := t.desk.Session(), t.who
	list := shown(reels.PackMoments(s, who))
	if len(list) == 0 {
		t.desk.Say(words.T("Nothing of her is on film: no penalty and no jam as jammer."))
		return
	}
	f := &packForm{dialog: form.New(t.desk.Window(), words.T("Pack of {.who}", "who", t.name()), fyne.NewSize(look.Size(500), look.Size(380)))}
	f.folder = f.dialog.Entry(filepath.Join(filepath.Dir(s.Path), "packs"), words.T("folder for the pack"))
	pick := look.NewButton(words.T("Browse"), "", func() { form.Folder(t.desk.Window(), f.folder.SetText) })
	f.limit = f.dialog.Entry("64 MB", words.T("as 64 MB; empty for no limit"))
	f.single = widget.NewCheck(words.T("one file that holds everything"), nil)
	f.mute = widget.NewCheck(words.T("without sound"), nil)
	content := container.New(look.Pile{Gap: look.Near},
		form.Field(words.T("Folder"), container.NewBorder(nil, nil, nil, pick, f.folder)),
		form.Field(words.T("Size at most"), f.limit), f.single, f.mute,
		look.NewParagraph(words.N(len(list), "{.n} clip: her penalties and the jams she jammed, of this bout, with a page that plays them on a phone without a network.",
			"{.n} clips: her penalties and the jams she jammed, of this bout, with a page that plays them on a phone without a network."), look.Now.Quiet, look.NoteSize))
	if k, _ := s.Facts.Teams[who.Side.Index()].Find(who.Number); k.Minor || k.NoConsent {
		why := words.T("The roster says that she is a minor.")
		if !k.Minor {
			why = words.T("The roster says that she has not agreed to be shown.")
		}
		f.anyway = widget.NewCheck(words.T("She, and who answers for her, was asked: make it anyway"), nil)
		content.Add(look.NewParagraph(why+" "+words.T("A pack is made only when that is settled by the league's safeguarding policy and the law."), look.Now.Differs, look.RowSize))
		content.Add(f.anyway)
	}
	f.dialog.Accept = func() { t.acceptPack(f, who) }
	f.dialog.Show(container.NewVScroll(content), f.folder,
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Make the pack"), words.T("Enter"), f.dialog.Accept).Strong())
	t.packed = f
}

// acceptPack reads the form and starts the work.
func (t *Task) acceptPack(f *packForm, who timeline.SkaterRef) {
	dir := strings.TrimSpace(f.folder.Text)
	limit, err := app.ParseSize(f.limit.Text)
	switch {
	case dir == "":
		f.dialog.Say(words.T("Name a folder for the pack."))
		return
	case err != nil:
		f.dialog.Say(words.T("The size is a number of megabytes, as 64 MB."))
		return
	case f.anyway != nil && !f.anyway.Checked:
		f.dialog.Say(words.T("No pack is made of her unless you say that she was asked."))
		return
	}
	f.dialog.Close()
	o := reels.PackOptions{
		Dir: reels.PackDir(dir, who), Language: words.Code(), Margins: app.MarginsOf(t.desk.Settings()), Limit: limit,
		Single: f.single.Checked, Mute: f.mute.Checked, Numbers: true, Anyway: f.anyway != nil && f.anyway.Checked,
	}
	var made reels.Packed
	t.desk.Work(words.T("Packing"), func(ctx context.Context, a *app.App, s *app.Session) (err error) {
		made, err = t.pack(ctx, a, s, who, o)
		return err
	}, func(err error) {
		if err == nil {
			t.notice = strings.Join(append([]string{words.N(len(made.Clips), "The pack has {.n} clip and {.size}: {.path}", "The pack has {.n} clips and {.size}: {.path}",
				"size", app.SizeText(made.Bytes), "path", made.Page)}, made.Reminders...), "\n")
			t.desk.Say(words.T("The pack is made."))
		}
		t.refresh()
	})
}
