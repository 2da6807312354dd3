package desk

import (
	"crypto/sha256"
	"sync/atomic"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// Apply stores changes as one undoable action.
func (d *Desk) Apply(label string, changes ...timeline.Change) bool {
	if d.session == nil || len(changes) == 0 {
		return false
	}
	if err := d.session.Apply(label, changes...); err != nil {
		d.Fail(err)
		return false
	}
	d.refreshed()
	return true
}

// Changed derives the bout anew and tells everybody.
func (d *Desk) Changed() {
	if d.session == nil {
		return
	}
	d.session.Refresh()
	d.learnHeard()
	d.refreshed()
}

// refreshed tells everybody of facts that are new.
func (d *Desk) refreshed() {
	d.loadFilm()
	d.checkAgain()
	d.tell()
}

// tell makes all that is shown follow.
func (d *Desk) tell() {
	for _, t := range d.all() {
		t.Changed()
	}
	d.bar.refresh()
	d.line.refresh()
	d.refreshStrip()
}

// Undo takes back the last action and says which.
func (d *Desk) Undo() {
	if d.session == nil {
		return
	}
	step, err := d.session.File.Undo()
	d.stepped(step, err, words.T("Nothing to undo."), words.T("Undone: {.what}", "what", step.Label))
}

// Redo does again what was undone last.
func (d *Desk) Redo() {
	if d.session == nil {
		return
	}
	step, err := d.session.File.Redo()
	d.stepped(step, err, words.T("Nothing to do again."), words.T("Done again: {.what}", "what", step.Label))
}

func (d *Desk) stepped(step timeline.Step, err error, nothing, said string) {
	switch {
	case err != nil:
		d.Fail(err)
	case len(step.Edits) == 0:
		d.Say(nothing)
	default:
		d.Changed()
		d.Say(said)
	}
}

// checker runs the cross-check in the background; only the newest result counts.
type checker struct {
	asked atomic.Int64
	data  [sha256.Size]byte // of the sheet as read
	read  bool
	paper sheet.Sheet
}

// checkAgain compares sheet and tags anew, off the window's goroutine.
func (d *Desk) checkAgain() {
	n := d.check.asked.Add(1)
	view := &app.Session{File: d.session.File, Path: d.session.Path, Facts: d.session.Facts, Bout: d.session.Bout}
	if view.Facts.Sheet == nil {
		d.paper, d.report, d.check.read = nil, nil, false
		return
	}
	key := sha256.Sum256(append(append([]byte{}, view.Facts.Sheet.Data...), view.Facts.Sheet.Mapping...))
	known, paper := d.check.read && key == d.check.data, d.check.paper
	d.behind.Add(1)
	go func() {
		defer d.behind.Done()
		var rep sheet.Report
		err := safely(func() error {
			if !known {
				r, _, err := view.StoredSheet()
				if err != nil {
					return err
				}
				paper = r.Sheet
			}
			rep = sheet.Check(paper, view.Bout, view.Facts)
			return nil
		})
		d.later(func() {
			if d.check.asked.Load() != n || d.session == nil || d.session.Path != view.Path {
				return
			}
			if err != nil {
				d.paper, d.report = nil, nil
				d.Fail(err)
			} else {
				d.check.data, d.check.paper, d.check.read = key, paper, true
				d.paper, d.report = &paper, &rep
			}
			d.tell()
		})
	}()
}

// learnHeard takes what the listener heard earlier in the bout's films.
func (d *Desk) learnHeard() {
	type wanted struct {
		id   timeline.ID
		path string
	}
	var list []wanted
	for id := range d.session.Facts.Footage {
		if _, ok := d.heard[id]; ok {
			continue
		}
		if p, err := d.session.Film(id); err == nil {
			list = append(list, wanted{id, p})
		}
	}
	if len(list) == 0 {
		return
	}
	of := d.session
	d.behind.Add(1)
	go func() {
		defer d.behind.Done()
		got := map[timeline.ID]app.Listened{}
		for _, w := range list {
			if l, ok := d.app.Heard(w.path); ok {
				got[w.id] = l
			}
		}
		if len(got) == 0 {
			return
		}
		d.later(func() {
			if d.session != of {
				return
			}
			for id, l := range got {
				d.heard[id] = l
			}
			d.tell()
		})
	}()
}
