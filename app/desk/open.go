package desk

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"whistlecut/app"
	"whistlecut/app/boutfile"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Open opens a bout file on the desk; the one open before is closed first. Where
// it is open elsewhere, the person decides what to do.
func (d *Desk) Open(path string) {
	if d.work != nil {
		d.askCancelWork(func() { d.Open(path) })
		return
	}
	s, err := d.app.Open(path, false)
	switch {
	case err == nil:
		d.take(s)
		return
	case errors.Is(err, boutfile.ErrInUse):
		d.askInUse(path, err)
		return
	case !errors.Is(err, boutfile.ErrDamaged):
		// A medium or folder that cannot be written can be looked at all the same.
		if s, err2 := d.app.Open(path, true); err2 == nil {
			d.take(s)
			d.Say(words.T("Only to look at: {.why}", "why", sentence(err)))
			return
		}
	}
	d.forget(path)
	d.Fail(err)
}

// adopt takes an open session as the desk's bout.
func (d *Desk) adopt(s *app.Session) {
	d.life, d.end = context.WithCancel(context.Background())
	d.session = s
	d.heard = map[timeline.ID]app.Listened{}
	d.camera, d.other, d.playing, d.loop = "", "", nil, false
	d.proxy = proxies{}
	d.set.Opened(s.Path)
	d.keep()
	d.build()
	d.Show(d.firstTask())
}

// firstTask is where a bout's work begins: lining up until there are jams.
func (d *Desk) firstTask() string {
	if len(d.session.Bout.Jams) == 0 || len(d.session.Facts.Footage) == 0 {
		return task.Align
	}
	return task.Log
}

// closeBout puts the open bout away; nothing of it goes on after.
func (d *Desk) closeBout() {
	d.Fail(d.release())
	// Panels show a bout: none may be drawn again, as a new theme would, without one.
	d.stack.Objects, d.panels = nil, map[string]fyne.CanvasObject{}
}

// release ends all that goes on for the open bout and closes its file. It touches
// nothing that is shown, since it is also called when the window is gone.
func (d *Desk) release() error {
	d.end()
	d.line.hush()
	if d.work != nil {
		d.work.cancel()
		<-d.work.done
		d.work = nil
	}
	d.setSecond("")
	d.player.Load(nil)
	d.latest.Store(nil)
	d.behind.Wait()
	s := d.session
	d.session, d.report, d.paper = nil, nil, nil
	d.check = checker{}
	if s == nil {
		return nil
	}
	return s.Close()
}

// askClose goes back to the first page.
func (d *Desk) askClose() {
	if d.session == nil {
		return
	}
	if d.work != nil {
		d.askCancelWork(d.askClose)
		return
	}
	d.full = false
	d.closeBout()
	d.build()
}

// askOpen lets a person choose a bout file.
func (d *Desk) askOpen() {
	f := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			d.Fail(err)
			return
		}
		if r == nil {
			return
		}
		path := r.URI().Path()
		r.Close()
		d.Open(path)
	}, d.win)
	f.SetFilter(storage.NewExtensionFileFilter([]string{app.Ext}))
	if dir := d.lastDir(); dir != nil {
		f.SetLocation(dir)
	}
	f.Resize(fyne.NewSize(760, 480))
	f.Show()
}

// lastDir is the folder of the bout opened last.
func (d *Desk) lastDir() fyne.ListableURI {
	for _, p := range d.set.Recent {
		dir := filepath.Dir(p)
		if st, err := os.Stat(dir); err == nil && st.IsDir() {
			if l, err := storage.ListerForURI(storage.NewFileURI(dir)); err == nil {
				return l
			}
		}
	}
	return nil
}

// forget takes a file that is not there any more off the recent bouts.
func (d *Desk) forget(path string) {
	if _, err := os.Stat(path); err == nil {
		return
	}
	kept := d.set.Recent[:0]
	for _, p := range d.set.Recent {
		if p != path {
			kept = append(kept, p)
		}
	}
	d.set.Recent = kept
	d.keep()
}

// dropped is called with files dragged onto the window: a bout file is opened,
// films and sheets go to Align, or to a new bout when none is open.
func (d *Desk) dropped(_ fyne.Position, uris []fyne.URI) {
	var paths []string
	for _, u := range uris {
		paths = append(paths, u.Path())
	}
	if len(paths) == 1 && strings.EqualFold(filepath.Ext(paths[0]), app.Ext) {
		d.Open(paths[0])
		return
	}
	if d.session == nil {
		d.newBoutFrom(paths)
		return
	}
	d.Show(task.Align)
	if t, ok := d.current().(interface{ Drop(paths []string) }); ok {
		t.Drop(paths)
	}
}
