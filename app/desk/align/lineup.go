package align

import (
	"context"
	"errors"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// LineUp listens to all film and places the jams on it, then shows what is
// doubtful. It says what is missing where it can't.
func (t *Task) LineUp() {
	s, ok := t.session()
	if !ok {
		return
	}
	if len(s.Facts.Footage) == 0 {
		t.show(atFilm)
		t.desk.Say(words.T("There is no film to listen to yet; add some first."))
		return
	}
	t.show(atListen)
	t.run(words.T("Listening for the whistles"), func(err error, rep app.AlignReport) {
		switch {
		case err != nil:
			return
		case len(rep.Jams) == 0 && len(rep.Notes) > 0:
			t.desk.Say(words.T("No jam could be placed: {.why}", "why", rep.Notes[0]))
		case rep.Proposed:
			t.desk.Say(words.N(len(rep.Jams), "{.n} jam proposed by ear.", "{.n} jams proposed by ear."))
		case t.waiting > 0:
			t.desk.Say(words.N(t.waiting, "Lined up. {.n} jam is doubtful.", "Lined up. {.n} jams are doubtful."))
		default:
			t.desk.Say(words.T("Lined up; no jam is doubtful."))
		}
		if t.fold != nil && t.shown && t.waiting > 0 {
			t.listen.play()
		}
	})
}

// lineUpAgain places the other jams anew after one was set by hand. While that
// goes on a further hand mark waits for its turn.
func (t *Task) lineUpAgain() {
	if t.working {
		t.again = true
		return
	}
	t.run(words.T("Lining up again"), nil)
}

// run listens and lines up, and looks for the calls of the sheet's penalties.
func (t *Task) run(title string, done func(error, app.AlignReport)) {
	if t.working {
		t.desk.Say(words.T("Lining up is under way already."))
		return
	}
	t.working = true
	var rep app.AlignReport
	var calls []app.PenaltyCalls
	t.desk.Work(title, func(ctx context.Context, a *app.App, s *app.Session) error {
		var err error
		if rep, err = a.Align(ctx, s, app.AlignOptions{}); err != nil {
			return err
		}
		calls, _, err = a.PenaltyCalls(ctx, s)
		return err
	}, func(err error) {
		t.working = false
		if err == nil {
			t.listen.notes, t.calls.found, t.calls.looked = rep.Notes, calls, true
		}
		t.Changed()
		if done != nil {
			done(err, rep)
		}
		if t.again && !errors.Is(err, context.Canceled) {
			t.again = false
			t.run(title, nil)
		}
	})
}

// usualFrame is a frame's time until a film's own is known.
const usualFrame = time.Second / 30

// frameOf is how long a frame of a film lasts. It is read in the background when
// asked for first.
func (t *Task) frameOf(id timeline.ID) time.Duration {
	if d, ok := t.frames[id]; ok {
		return d
	}
	s := t.desk.Session()
	if s == nil || t.asked[id] {
		return usualFrame
	}
	t.asked[id] = true
	path, err := s.Film(id)
	if err != nil {
		return usualFrame
	}
	a := t.desk.App()
	go func() {
		d, err := a.FrameTime(context.Background(), path)
		if err != nil || d <= 0 {
			return
		}
		fyne.Do(func() { t.frames[id] = d })
	}()
	return usualFrame
}
