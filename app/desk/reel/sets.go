package reel

import (
	"slices"
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

// work takes another reel to work on.
func (t *Task) work(id timeline.ID) {
	t.stop()
	t.leaveDrawing()
	t.reel, t.chosen, t.slow, t.told = id, "", slowing{}, ""
	t.refresh()
}

// chooseReel lists the reels of the bout, to go to one.
func (t *Task) chooseReel() {
	f := t.facts()
	all := f.ReelsInOrder()
	if len(all) == 0 {
		t.newReel()
		return
	}
	now, _ := t.current()
	var texts []string
	for _, r := range all {
		parts := f.ReelParts(r.ID)
		texts = append(texts, r.Name+"  |  "+words.N(len(parts), "{.n} part", "{.n} parts")+", "+terms.Clock(reels.Length(parts), 0))
	}
	texts = append(texts, words.T("A new reel"))
	at := slices.IndexFunc(all, func(r timeline.Reel) bool { return r.ID == now.ID })
	t.panel.asking = form.Choose(t.desk.Window(), words.T("Reels of this bout"), texts, at, func(i int) {
		if i < len(all) {
			t.work(all[i].ID)
			return
		}
		t.newReel()
	})
}

// newReel asks for the properties of a new reel.
func (t *Task) newReel() {
	if s := t.desk.Session(); s != nil {
		r, _ := reels.New(s, t.newName(), words.Code())
		t.askReel(r, true)
	}
}

// properties asks for those of the reel worked on.
func (t *Task) properties() {
	if r, ok := t.current(); ok {
		t.askReel(r, false)
	}
}

// reelForm is the dialog of a reel's properties.
type reelForm struct {
	dialog              *form.Dialog
	name, target, langs *form.Entry
	burned, bar         *widget.Check
	accept              func()
}

func (t *Task) askReel(r timeline.Reel, fresh bool) {
	title, ok := words.T("Reel"), words.T("Keep")
	if fresh {
		title, ok = words.T("A new reel"), words.T("Make it")
	}
	f := &reelForm{dialog: form.New(t.desk.Window(), title, fyne.NewSize(look.Size(440), look.Size(330)))}
	f.name = f.dialog.Entry(r.Name, words.T("what the reel is called"))
	length := ""
	if r.Target > 0 {
		length = terms.Clock(r.Target, 0)
	}
	f.target = f.dialog.Entry(length, words.T("as 5:00; empty for no limit"))
	f.langs = f.dialog.Entry(strings.Join(r.Languages, ", "), words.T("as en, es; the main one first"))
	f.burned = widget.NewCheck(words.T("captions in the picture"), nil)
	f.bar = widget.NewCheck(words.T("bar with jam, clock, score and skater"), nil)
	f.burned.Checked, f.bar.Checked = r.Burned, r.Bar
	f.accept = func() {
		x := r
		if x.Name = strings.TrimSpace(f.name.Text); x.Name == "" {
			f.dialog.Say(words.T("Give the reel a name."))
			return
		}
		if slices.ContainsFunc(t.facts().ReelsInOrder(), func(o timeline.Reel) bool { return o.ID != x.ID && strings.EqualFold(o.Name, x.Name) }) {
			f.dialog.Say(words.T("Another reel of this bout is called that already."))
			return
		}
		x.Target = 0
		if text := strings.TrimSpace(f.target.Text); text != "" {
			d, err := app.ParseClock(text)
			if err != nil || d <= 0 {
				f.dialog.Say(words.T("The length wanted is a time, as 5:00."))
				return
			}
			x.Target = d
		}
		x.Languages = nil
		for _, l := range strings.FieldsFunc(strings.ToLower(f.langs.Text), func(c rune) bool { return c == ',' || c == ' ' || c == ';' }) {
			if !slices.Contains(x.Languages, l) {
				x.Languages = append(x.Languages, l)
			}
		}
		x.Burned, x.Bar = f.burned.Checked, f.bar.Checked
		if len(x.Languages) > 2 {
			f.dialog.Say(words.T("Captions are in one or two languages."))
			return
		}
		if err := timeline.CheckReel(x); err != nil {
			f.dialog.Say(words.T("Languages are codes of two letters, as en or es."))
			return
		}
		f.dialog.Close()
		if t.apply(words.T("reel {.reel}", "reel", x.Name), timeline.SetReel(x)) {
			if fresh {
				t.work(x.ID)
			}
			t.refresh()
		}
	}
	content := container.New(look.Pile{Gap: look.Near},
		form.Field(words.T("Name"), f.name),
		container.NewGridWithColumns(2, form.Field(words.T("Length wanted"), f.target), form.Field(words.T("Languages of captions"), f.langs)),
		f.burned, f.bar)
	f.dialog.Accept = f.accept
	buttons := []fyne.CanvasObject{look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(ok, words.T("Enter"), f.accept).Strong()}
	if !fresh {
		buttons = append([]fyne.CanvasObject{look.NewButton(words.T("Delete the reel"), "", func() {
			f.dialog.Close()
			t.deleteReel()
		})}, buttons...)
	}
	f.dialog.Show(container.NewVScroll(content), f.name, buttons...)
	t.panel.asking, t.panel.form = f.dialog, f
}

// deleteReel takes the reel worked on out of the bout; undo brings it back.
func (t *Task) deleteReel() {
	r, ok := t.current()
	if !ok {
		return
	}
	t.stop()
	t.leaveDrawing()
	if t.apply(words.T("reel {.reel} deleted", "reel", r.Name), reels.Delete(t.facts(), r.ID)...) {
		t.work("")
		t.desk.Say(words.T("The reel {.reel} is deleted. Ctrl+Z brings it back.", "reel", r.Name))
	}
}
