package align

import (
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Task is the Align task.
type Task struct {
	desk task.Desk
	now  task.Now

	film    *film
	sheet   *paper
	rosters *rosters
	listen  *listen
	calls   *calls
	fold    *fold // nil until the panel is built

	waiting int
	shown   bool
	working bool // listening or lining up goes on
	again   bool // a hand mark was set meanwhile
	frames  map[timeline.ID]time.Duration
	asked   map[timeline.ID]bool // files whose frame time is being read
}

var _ task.Task = (*Task)(nil)

// New makes the task for a desk.
func New(desk task.Desk) *Task {
	t := &Task{desk: desk, frames: map[timeline.ID]time.Duration{}, asked: map[timeline.ID]bool{}}
	t.film, t.sheet, t.rosters = &film{t: t}, &paper{t: t}, &rosters{t: t}
	t.listen, t.calls = &listen{t: t}, &calls{t: t}
	t.count()
	return t
}

// ID names the task.
func (t *Task) ID() string { return task.Align }

// Title is the task's name.
func (t *Task) Title() string { return words.T("Align") }

// Waiting is the number of doubtful jams.
func (t *Task) Waiting() int { return t.waiting }

// Panel builds the sections and opens the one in which there is something to do.
func (t *Task) Panel() fyne.CanvasObject {
	t.fold = newFold(t.film, t.sheet, t.rosters, t.listen, t.calls)
	t.fold.changed = func() {
		if t.shown {
			if t.fold.at != atListen {
				t.desk.Unloop() // the jam that was looked at before
			}
			t.open().shown()
		}
	}
	t.fold.show(t.first())
	return t.fold.box
}

// first is the section to begin with.
func (t *Task) first() int {
	s := t.desk.Session()
	switch {
	case s == nil || len(s.Facts.Footage) == 0:
		return atFilm
	case t.waiting > 0 || s.Facts.Sheet == nil || !t.listen.linedUp():
		return atListen
	case len(t.calls.open()) > 0:
		return atCalls
	}
	return atListen
}

// The sections in their order.
const (
	atFilm = iota
	atSheet
	atRosters
	atListen
	atCalls
)

// open is the open section.
func (t *Task) open() section { return t.fold.sections[t.fold.at] }

// Changed counts what waits, and shows the facts anew where they can be seen.
func (t *Task) Changed() {
	t.count()
	if t.fold != nil && t.shown {
		t.fold.refresh()
	}
}

// Shown is called when the task comes on the desk.
func (t *Task) Shown() {
	t.shown = true
	if t.fold == nil {
		return
	}
	t.count()
	t.fold.refresh()
	t.open().shown()
}

// Moved keeps where the film stands.
func (t *Task) Moved(n task.Now) { t.now = n }

func (t *Task) count() {
	t.waiting = 0
	if s := t.desk.Session(); s != nil {
		t.waiting = len(s.DoubtfulJams())
	}
}

// at is where the film stands.
func (t *Task) at() task.Now { return t.desk.Now() }

// Show opens a section when the task's panel is built; without a bout or panel it does nothing.
func (t *Task) show(section int) {
	if t.fold != nil {
		t.fold.show(section)
	}
}

// session is the open bout, and false with a sentence when there is none.
func (t *Task) session() (*app.Session, bool) {
	s := t.desk.Session()
	if s == nil {
		t.desk.Say(words.T("No bout is open. Open one, or start a new one."))
	}
	return s, s != nil
}
