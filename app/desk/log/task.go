// Package log is the task Log: the panel by which a person logs a running bout
// with single keys. What the keys mean to the bout is in package logging; here
// they are bound, worded and shown.
package log

import (
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/logging"
	"whistlecut/timeline"
)

// Task is the task Log.
type Task struct {
	desk  task.Desk
	m     *logging.Machine
	now   task.Now
	panel *panel
	say   logging.Say
	// frame is how long a frame of the film is, learned from steps.
	frame   time.Duration
	seen    seen
	actions []keys.Action
}

// seen is what the panel shows of where the film stands; it is drawn anew when
// this changes, not at every frame.
type seen struct {
	footage timeline.ID
	state   logging.State
	jam     int
}

// New makes the task for a desk.
func New(d task.Desk) *Task {
	t := &Task{desk: d, m: &logging.Machine{}, frame: time.Second / 30}
	t.m.NewID = func() timeline.ID { return d.Session().File.Log().NewID() }
	return t
}

// ID is task.Log.
func (t *Task) ID() string { return task.Log }

// Title is the task's name.
func (t *Task) Title() string { return words.T("Log") }

// Waiting counts what is not settled.
func (t *Task) Waiting() int {
	if t.desk.Session() == nil {
		return 0
	}
	return len(t.view().Unsettled())
}

// Panel is the task's panel.
func (t *Task) Panel() fyne.CanvasObject {
	if t.panel == nil {
		t.panel = newPanel(t)
		t.refresh()
	}
	return t.panel.root
}

// Changed follows the bout.
func (t *Task) Changed() {
	if t.desk.Session() == nil {
		t.m = &logging.Machine{NewID: t.m.NewID}
		t.say = logging.Say{}
	}
	t.refresh()
}

// Shown follows the film.
func (t *Task) Shown() { t.Moved(t.desk.Now()) }

// Moved follows the film.
func (t *Task) Moved(n task.Now) {
	if d := (n.Film - t.now.Film).Abs(); !n.Playing && n.Footage == t.now.Footage && d > 2*time.Millisecond && d < 70*time.Millisecond {
		t.frame = d
	}
	t.now = n
	if t.desk.Session() == nil {
		return
	}
	v := t.view()
	s := v.Standing()
	is := seen{n.Footage, s.State, s.Jam}
	if t.m.Moved(v) || is != t.seen {
		t.refresh()
	}
}

// Pressed lights the key of an action.
func (t *Task) Pressed(action string) {
	if t.panel != nil {
		t.panel.light(action)
	}
}

// view is the bout as the keys are judged by. In blind logging it has no sheet,
// and the desk is not asked for one.
func (t *Task) view() logging.View {
	s := t.desk.Session()
	v := logging.View{Facts: s.Facts, Bout: s.Bout, Now: logging.Now{Footage: t.now.Footage, Film: t.now.Film}}
	if t.guided() {
		v.Sheet = t.desk.Sheet()
	}
	return v
}

func (t *Task) guided() bool { return !t.desk.Settings().Blind }

// setBlind chooses between blind and guided logging and keeps the choice.
func (t *Task) setBlind(blind bool) {
	t.desk.Settings().Blind = blind
	t.desk.Fail(t.desk.Settings().Save())
	t.refresh()
}

// press hands a key to the machine and does what comes of it.
func (t *Task) press(k logging.Key) {
	if t.desk.Session() == nil {
		return
	}
	t.now = t.desk.Now()
	t.done(t.m.Press(t.view(), k))
}

// done does what comes of a key or a click.
func (t *Task) done(o logging.Outcome) {
	t.say = o.Say
	if o.Goes {
		t.desk.Go(o.Go)
	}
	if len(o.Changes) == 0 || !t.desk.Apply(label(o.Did, t.view()), o.Changes...) {
		t.refresh()
	}
}

// choose moves the choice in the list on show.
func (t *Task) choose(by int) {
	if t.panel != nil && t.panel.open {
		t.press(logging.Key{Act: logging.Settle, N: by})
		return
	}
	t.press(logging.Key{Act: logging.Choose, N: by})
}

// toggleOpen lists what is not settled in the whole bout instead of the last tags.
func (t *Task) toggleOpen() {
	if t.panel != nil {
		t.panel.open = !t.panel.open
		t.refresh()
	}
}

// showChosen shows the chosen tag's moment on film.
func (t *Task) showChosen() {
	if t.desk.Session() == nil {
		return
	}
	e, ok := t.m.Chosen()
	tag, there := t.desk.Session().Facts.Tags[e.Tag]
	if !ok || !there {
		t.say = logging.Say{What: logging.NothingChosen}
		t.refresh()
		return
	}
	p := tag.Place
	if e.End && tag.JamInfo != nil {
		p = tag.JamInfo.End
	} else if tag.Kind == timeline.KindJam {
		p = timeline.InJam(e.Tag, 0)
	}
	t.desk.Go(p)
}

func (t *Task) refresh() {
	if t.panel == nil {
		return
	}
	if t.desk.Session() == nil {
		t.panel.nothing()
		return
	}
	v := t.view()
	t.m.Moved(v)
	s := v.Standing()
	t.seen = seen{v.Now.Footage, s.State, s.Jam}
	t.panel.show(v, s)
}

var (
	_ task.Task    = (*Task)(nil)
	_ task.Pressed = (*Task)(nil)
)
