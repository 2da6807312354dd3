// Package examples is the task in which a trainer of officials gathers moments
// to learn from: she says what each asks and which answers she accepts, lets
// other trainers judge it blind, finds examples in all her bouts, and makes
// quizzes of them whose answers come back here.
package examples

import (
	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// view is one of the three things the panel shows.
type view int

const (
	ofBout view = iota // the open bout's examples
	ofAll              // what is found in all bouts
	ofQuiz             // quizzes and their answers
	views
)

// shelf is what each view can do with the keys that all share.
type shelf interface {
	// panel is what it shows; it is built once.
	panel() fyne.CanvasObject
	// refresh shows its state anew.
	refresh()
	// shown is called when a person comes to it.
	shown()
	advance(by int)
	enter()
	// escape goes a step back; false when there is none.
	escape() bool
}

// Task gathers examples.
type Task struct {
	desk  task.Desk
	is    bool // it is the task on the desk
	view  view
	bout  *boutShelf
	all   *allShelf
	quiz  *quizShelf
	blind *blind // a second opinion is being given
	panel *panel
}

// New makes the task; nothing is built until it is shown.
func New(d task.Desk) *Task {
	t := &Task{desk: d}
	t.bout, t.all, t.quiz = newBoutShelf(t), newAllShelf(t), newQuizShelf(t)
	return t
}

// ID names the task and the scope of its keys.
func (t *Task) ID() string { return task.Examples }

// Title is the task's name.
func (t *Task) Title() string { return words.T("Examples") }

// Waiting counts the examples that nobody has decided, or that were judged by
// other rules than the bout's.
func (t *Task) Waiting() int {
	n := 0
	if s := t.desk.Session(); s != nil {
		for _, x := range s.Facts.Tags {
			if x.Example != nil && (len(x.Example.Verdicts) == 0 || outdated(s, *x.Example)) {
				n++
			}
		}
	}
	return n
}

// Panel builds the panel.
func (t *Task) Panel() fyne.CanvasObject {
	if t.panel == nil {
		t.panel = newPanel(t)
		t.bout.list()
		t.refresh()
	}
	return t.panel.root
}

// Shown brings the list up to date.
func (t *Task) Shown() {
	t.is = true
	t.bout.list()
	t.shelf().shown()
	t.refresh()
}

// Leave gives back what was taken of the window.
func (t *Task) Leave() {
	t.is = false
	t.leaveBlind()
	t.all.leave()
}

// Changed takes new facts in; while another task is shown that can wait.
func (t *Task) Changed() {
	if t.is {
		t.bout.list()
		t.refresh()
	}
}

// Moved follows the film.
func (t *Task) Moved(task.Now) {}

func (t *Task) refresh() {
	if t.panel != nil {
		t.panel.refresh()
	}
	if t.blind != nil {
		t.blind.refresh()
	}
}

// shelf is the one shown.
func (t *Task) shelf() shelf {
	switch t.view {
	case ofAll:
		return t.all
	case ofQuiz:
		return t.quiz
	}
	return t.bout
}

// show goes to a view; where it is there already, back to the bout.
func (t *Task) show(v view) {
	if t.desk.Session() == nil {
		return
	}
	if t.view == v {
		v = ofBout
	}
	t.view = v
	t.shelf().shown()
	t.refresh()
}

// escape goes one step back: in the view, then to the bout's examples.
func (t *Task) escape() {
	switch {
	case t.shelf().escape():
	case t.view != ofBout:
		t.show(ofBout)
	default:
		t.desk.Unloop()
	}
	t.refresh()
}

// facts are those of the open bout.
func (t *Task) facts() timeline.Facts {
	if s := t.desk.Session(); s != nil {
		return s.Facts
	}
	return timeline.Facts{}
}

// apply stores changes and reports whether it went well.
func (t *Task) apply(label string, changes ...timeline.Change) bool {
	return len(changes) > 0 && t.desk.Apply(label, changes...)
}

// outdated reports whether an example was judged by another edition than the
// bout was played by.
func outdated(s *app.Session, e timeline.Example) bool { return e.Edition != s.Bout.Rules.Edition }
