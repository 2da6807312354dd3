package newbout

import (
	"context"
	"errors"
	"path/filepath"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline/footage"
)

// making is what stands in the dialog while the bout is made: reading many files
// takes a while. Cancel goes back to the questions, with all answers kept.
type making struct {
	view   fyne.CanvasObject
	what   *look.Paragraph
	bar    *widget.ProgressBar
	cancel context.CancelFunc // nil when nothing is made
	parts  int                // cameras to be read
	part   int
	last   float64 // fraction of this camera
}

func newMaking() *making {
	m := &making{what: look.NewParagraph("", look.Now.Text, look.TextSize), bar: widget.NewProgressBar()}
	m.view = container.NewBorder(container.New(look.Pile{Gap: look.Near}, look.Gap(look.Near), m.what, m.bar), nil, nil, nil)
	return m
}

// begin shows that so many files of so many cameras are read.
func (m *making) begin(files, cameras int) {
	m.parts, m.part, m.last = max(cameras, 1), 0, 0
	m.what.Set(words.N(files, "Reading {.n} film file and the sheet. The film itself is not copied.", "Reading {.n} film files and the sheet. The film itself is not copied."))
	m.bar.SetValue(0)
}

// step takes the progress of one camera into that of all.
func (m *making) step(fraction float64) {
	if fraction < m.last {
		m.part = min(m.part+1, m.parts-1)
	}
	m.last = fraction
	m.bar.SetValue(min((float64(m.part)+fraction)/float64(m.parts), 1))
}

// create makes the bout file in the background, opens it and lines it up. What goes
// wrong is said in the dialog, whose answers stay.
func (f *Flow) create() {
	o := f.options()
	if len(o.Cameras) == 0 && o.Sheet == "" {
		f.turn(0)
		f.refuse(words.T("Name at least one film, or one sheet in the next step."))
		return
	}
	files := 0
	for _, c := range o.Cameras {
		files += len(c.Files)
	}
	var made app.NewReport
	var failed error
	var stopped atomic.Bool
	f.desk.Work(words.T("Making the bout"), func(ctx context.Context, a *app.App, _ *app.Session) error {
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		fyne.Do(func() {
			f.making.begin(files, len(o.Cameras))
			f.making.cancel = func() {
				stopped.Store(true)
				cancel()
			}
			f.working(true)
		})
		mine := *a
		mine.Progress = func(p app.Progress) {
			if a.Progress != nil {
				a.Progress(p)
			}
			fyne.Do(func() { f.making.step(p.Fraction) })
		}
		made, failed = mine.NewBout(ctx, o)
		return nil // what went wrong is said where the answers are
	}, func(err error) {
		f.working(false)
		switch {
		case failed == nil && made.Path != "":
			f.d.Close()
			f.show(made, len(o.Cameras) > 0)
		case stopped.Load() || err != nil:
			f.d.Say(words.T("Cancelled; nothing was left behind."))
		case failed != nil:
			f.failed(failed)
		}
	})
}

// working shows the progress in place of the questions, or the questions again.
func (f *Flow) working(on bool) {
	if !on {
		f.making.cancel = nil
	}
	for i, o := range f.stack.Objects {
		visible(o, !on && i == f.at)
	}
	visible(f.making.view, on)
	for _, b := range []*look.Button{f.back, f.next, f.start} {
		visible(b, !on)
	}
	if on {
		f.d.Retitle(words.T("Making the bout"))
		f.d.Say("")
		f.d.Focus(nil)
	} else {
		f.turn(f.at)
	}
}

// leave is Cancel and Escape: out of the making, else out of the dialog.
func (f *Flow) leave() {
	if f.making.cancel != nil {
		f.making.what.Set(words.T("Cancelling…"))
		f.making.cancel()
		return
	}
	f.d.Close()
}

func visible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// show opens the bout that was made.
func (f *Flow) show(made app.NewReport, film bool) {
	if !f.open(made.Path) {
		return
	}
	f.desk.Show(task.Align)
	if film && f.lineUp != nil {
		f.lineUp()
	}
}

// failed says why the bout was not made, at the question that it is about.
func (f *Flow) failed(err error) {
	var bad *footage.Error
	if errors.As(err, &bad) {
		f.turn(0)
		f.refuse(filmRefusal(err, bad.Path))
		return
	}
	f.desk.Fail(err)
}

// filmRefusal says in the language spoken what is wrong with a film.
func filmRefusal(err error, path string) string {
	file := filepath.Base(path)
	switch {
	case errors.Is(err, footage.ErrMissing):
		return words.T("There is no file {.path}; check the name.", "path", path)
	case errors.Is(err, footage.ErrNotFilm):
		return words.T("{.file} is no film that can be read. Choose the file as the camera wrote it.", "file", file)
	case errors.Is(err, footage.ErrTruncated):
		return words.T("{.file} is cut off: the end of it is missing. Copy it from the camera again.", "file", file)
	case errors.Is(err, footage.ErrNoPicture):
		return words.T("{.file} has sound but no picture. Choose the film itself.", "file", file)
	}
	return words.T("{.file} cannot be read as film. Copy it from the camera again, or play it in another program to see whether it is whole.", "file", file)
}

// sheetRefusal says in the language spoken what is wrong with a sheet.
func sheetRefusal(err error, path string) string {
	file := filepath.Base(path)
	switch {
	case !exists(path):
		return words.T("There is no file {.path}; check the name.", "path", path)
	case errors.Is(err, app.ErrNoTables):
		return words.T("{.file} holds no table of scores, penalties or line-ups that is recognised. Choose the sheet of this bout, or name its columns by the trade's words (jam, jammer, lead, trip 2, total).", "file", file)
	}
	return words.T("{.file} cannot be read as a sheet: it may be damaged, protected by a password, or no spreadsheet at all. Open it in a spreadsheet program, save it as XLSX and choose that.", "file", file)
}
