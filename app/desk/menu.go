package desk

import (
	"context"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// showMenu lists what can be done with the bout as a whole.
func (d *Desk) showMenu() {
	item := func(text, action string, do func()) *fyne.MenuItem {
		if a := d.book.Action(action); a != nil && len(a.Keys) > 0 {
			text += "   " + form.KeyName(a.Keys[0], d.legend)
		}
		return fyne.NewMenuItem(text, do)
	}
	items := []*fyne.MenuItem{
		item(words.T("New bout"), "bout.new", d.newBout),
		item(words.T("Open a bout"), "bout.open", d.askOpen),
	}
	if d.session != nil {
		items = append(items,
			fyne.NewMenuItemSeparator(),
			item(words.T("History"), "bout.history", d.showHistory),
			item(words.T("The bout in numbers"), "bout.numbers", d.showNumbers),
			item(words.T("Skater's page"), "bout.skater", d.showSkater),
			item(words.T("Rules of this bout"), "", d.showRules),
			item(words.T("Bring in a colleague's copy"), "", d.askMerge),
			item(words.T("Find missing film"), "", d.askMissing),
			item(words.T("Copy the bout file"), "", d.askCopy),
			fyne.NewMenuItemSeparator(),
			item(words.T("Close the bout"), "bout.close", d.askClose),
		)
	}
	items = append(items,
		fyne.NewMenuItemSeparator(),
		item(words.T("All keys"), "bout.keys", d.showKeys),
		item(words.T("Tour of the desk"), "bout.tour", d.showTour),
		item(words.T("Preferences"), "bout.preferences", d.showPreferences),
		item(words.T("Quit"), "bout.quit", d.Quit),
	)
	c := d.win.Canvas()
	m := widget.NewPopUpMenu(fyne.NewMenu("", items...), c)
	m.ShowAtPosition(fyne.NewPos(c.Size().Width-m.MinSize().Width-look.Near, look.Size(40)))
	c.Focus(m)
}

// askMerge takes over what a colleague did in her copy of the bout.
func (d *Desk) askMerge() {
	f := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil || r == nil {
			d.Fail(err)
			return
		}
		path := r.URI().Path()
		r.Close()
		var said string
		d.Work(words.T("Bringing in {.file}", "file", filepath.Base(path)), func(_ context.Context, _ *app.App, s *app.Session) error {
			rep, err := s.File.Merge(path)
			if err == nil {
				said = words.N(rep.Added, "{.n} change taken over.", "{.n} changes taken over.")
				if n := len(s.File.Log().Conflicts()); n > 0 {
					said += " " + words.N(n, "{.n} record was changed by both; the later one stands, and History shows who did what.",
						"{.n} records were changed by both; the later ones stand, and History shows who did what.")
				}
			}
			return err
		}, func(err error) {
			if err == nil {
				d.Say(said)
			}
		})
	}, d.win)
	f.SetFilter(storage.NewExtensionFileFilter([]string{app.Ext}))
	f.Resize(fyne.NewSize(760, 480))
	f.Show()
}

// askMissing looks in a folder for films that are not where they were.
func (d *Desk) askMissing() {
	f := dialog.NewFolderOpen(func(dir fyne.ListableURI, err error) {
		if err != nil || dir == nil {
			d.Fail(err)
			return
		}
		var found, still int
		d.Work(words.T("Looking for missing film"), func(ctx context.Context, a *app.App, s *app.Session) error {
			var err error
			found, still, err = findMissing(ctx, a, s, dir.Path())
			return err
		}, func(err error) {
			if err != nil {
				return
			}
			d.playing = nil // the player looks for the files again
			d.Changed()
			said := words.N(found, "{.n} film found.", "{.n} films found.")
			if still > 0 {
				said += " " + words.N(still, "{.n} is still missing.", "{.n} are still missing.")
			}
			d.Say(said)
		})
	}, d.win)
	f.Resize(fyne.NewSize(760, 480))
	f.Show()
}

// askCopy writes a copy of the bout file for a colleague or for safety.
func (d *Desk) askCopy() {
	f := dialog.NewFileSave(func(w fyne.URIWriteCloser, err error) {
		if err != nil || w == nil {
			d.Fail(err)
			return
		}
		path := w.URI().Path()
		w.Close()
		if !strings.EqualFold(filepath.Ext(path), app.Ext) {
			path += app.Ext
		}
		d.Work(words.T("Copying the bout file"), func(_ context.Context, _ *app.App, s *app.Session) error {
			return backup(s, path)
		}, func(err error) {
			if err == nil {
				d.Say(words.T("The copy is {.path}", "path", path))
			}
		})
	}, d.win)
	f.SetFileName(strings.TrimSuffix(filepath.Base(d.session.Path), app.Ext) + " " + words.T("copy") + app.Ext)
	f.Resize(fyne.NewSize(760, 480))
	f.Show()
}
