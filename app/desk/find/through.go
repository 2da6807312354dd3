package find

import (
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// running is a play-through: each moment with what led to it, one after the other.
type running struct {
	list    []timeline.FilmStretch // with their margins
	keys    []string
	at      int
	arrived bool // the film has reached the moment
}

// playThrough plays all moments from the chosen one on, or stops.
func (t *Task) playThrough() {
	if t.run != nil {
		t.stop()
		t.desk.Pause()
		t.refresh()
		return
	}
	s := t.desk.Session()
	if s == nil {
		return
	}
	margins := app.MarginsOf(t.desk.Settings())
	run := &running{}
	reached := t.index() < 0
	for _, m := range t.moments {
		reached = reached || m.Key == t.chosen
		if t.without[m.Key] || !reached {
			continue
		}
		if f, ok := s.Shown(m, margins); ok {
			if d := s.Facts.Footage[f.Footage].Duration; d > 0 {
				f.To = min(f.To, d-fileEnd) // the last frame is shown before the file's end
			}
			run.list, run.keys = append(run.list, f), append(run.keys, m.Key)
		}
	}
	if len(run.list) == 0 {
		t.desk.Say(words.T("No film shows these moments."))
		return
	}
	t.open = noField
	t.fill()
	t.run = run
	t.playMoment()
}

// playMoment starts the moment whose turn it is.
func (t *Task) playMoment() {
	r := t.run
	f := r.list[r.at]
	t.chosen, r.arrived = r.keys[r.at], false
	t.desk.Unloop()
	t.desk.GoFilm(f.Footage, f.From)
	t.desk.Play()
	if r.at+1 < len(r.list) {
		next := r.list[r.at+1]
		t.desk.Ahead(timeline.OnFilm(next.Footage, next.From))
	}
	t.desk.Say(words.T("Moment {.n} of {.all}. P stops.", "n", r.at+1, "all", len(r.list)))
	t.refresh()
}

// How far outside a moment the film may stand before a person has taken it
// elsewhere, and how long before a file's end its last frame may be shown.
const (
	slackBefore = 1500 * time.Millisecond
	slackAfter  = 5 * time.Second // a busy machine tells late where the film is
	fileEnd     = 300 * time.Millisecond
)

// playOn goes to the next moment when the film has passed this one's end. When a
// person takes the film elsewhere, playing through ends.
func (t *Task) playOn(n task.Now) {
	r := t.run
	if r == nil {
		return
	}
	f := r.list[r.at]
	inside := n.Footage == f.Footage && n.Film >= f.From-slackBefore && n.Film <= f.To+slackAfter
	switch {
	case !inside && !r.arrived: // still on the way
	case !inside:
		t.stop()
		t.refresh()
	case n.Film < f.To:
		r.arrived = true
	case r.arrived && r.at+1 < len(r.list):
		r.at++
		t.playMoment()
	case r.arrived:
		t.stop()
		t.desk.Pause()
		t.desk.Say(words.T("All moments were played."))
		t.refresh()
	}
}

func (t *Task) stop() { t.run = nil }
