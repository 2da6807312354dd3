package desk

import (
	"context"
	"errors"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"whistlecut/app"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// running is the long work that goes on.
type running struct {
	title  string
	cancel context.CancelFunc
	done   chan struct{}
}

// Work runs long work in the background with its own view of the open bout.
func (d *Desk) Work(title string, do func(ctx context.Context, a *app.App, s *app.Session) error, done func(err error)) {
	if d.work != nil {
		d.Say(words.T("Something else is still running: {.what}. Wait for it or cancel it.", "what", d.work.title))
		return
	}
	ctx, cancel := context.WithCancel(d.life)
	r := &running{title: title, cancel: cancel, done: make(chan struct{})}
	d.work = r
	d.line.begin(title)
	var fraction atomic.Pointer[app.Progress]
	var pending atomic.Bool
	a := *d.app
	a.Progress = func(p app.Progress) {
		fraction.Store(&p)
		if !pending.Swap(true) {
			d.later(func() {
				pending.Store(false)
				d.line.progress(title, *fraction.Load())
			})
		}
	}
	var view *app.Session
	if d.session != nil {
		view = &app.Session{File: d.session.File, Path: d.session.Path}
		view.Refresh()
	}
	of := d.session
	go func() {
		err := safely(func() error { return do(ctx, &a, view) })
		cancelled := ctx.Err() != nil
		cancel()
		close(r.done)
		d.later(func() {
			if d.work == r {
				d.work = nil
				d.line.over()
			}
			if d.session != of {
				return // the bout was closed meanwhile
			}
			if d.session != nil {
				d.Changed()
			}
			switch {
			case cancelled && (err == nil || errors.Is(err, context.Canceled)):
				d.Say(words.T("Cancelled: {.what}", "what", title))
				err = context.Canceled
			case err != nil:
				d.Fail(err)
			}
			if done != nil {
				done(err)
			}
		})
	}()
}

// later runs f on the window's goroutine, as long as there is a window: after it
// Fyne would run it right here.
func (d *Desk) later(f func()) {
	if !d.gone.Load() {
		fyne.Do(f)
	}
}

// cancelWork stops the long work.
func (d *Desk) cancelWork() {
	if d.work != nil {
		d.work.cancel()
	}
}

// askCancelWork asks before long work is stopped, then goes on.
func (d *Desk) askCancelWork(next func()) {
	w := d.work
	dialog.ShowConfirm(words.T("Still running"), words.T("{.what} is not finished. Cancel it?", "what", w.title), func(yes bool) {
		if !yes {
			return
		}
		w.cancel()
		go func() {
			<-w.done
			d.later(next)
		}()
	}, d.win)
}

// safely turns a panic of long work into an error: the desk and the bout stay.
func safely(do func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = panicked(p)
		}
	}()
	return do()
}

func (s *status) begin(title string) {
	s.doing.Text = look.Fit(title, look.Size(220), s.doing.TextSize, s.doing.TextStyle) + "  "
	s.bar.SetValue(0)
	s.busy.Show()
	s.rest.Hide()
	s.view.Refresh()
}

func (s *status) progress(_ string, p app.Progress) {
	s.bar.SetValue(min(max(p.Fraction, 0), 1))
}

func (s *status) over() {
	s.busy.Hide()
	s.rest.Show()
	s.view.Refresh()
}
