// Package reel is the task in which moments become a reel: clips in an order,
// with captions, slow motion, held pictures and drawings, played as they will be
// seen and shown to a team.
package reel

import (
	"context"
	"slices"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// Task makes reels.
type Task struct {
	desk   task.Desk
	shown  bool        // it is the task on the desk
	fresh  bool        // parts came while another task was shown
	reel   timeline.ID // worked on, "" for the first there is
	chosen timeline.ID // part, "" for none
	slow   slowing     // a stretch of slow motion that has begun and not ended
	run    *runner     // playing parts as they will be seen
	draw   *drawing    // drawing on the picture
	show   *showing    // in front of a team
	// sketches are the bout's drawings alone, which are looked through for each
	// picture shown.
	sketches timeline.Facts
	guests   map[string]guest // films of other bouts, by where they were
	invited  bool             // the desk knows some of them
	panel    *panel
	stage    *stage
	told     string // of the film made last
	// make makes the film; tests put another in its place.
	make func(ctx context.Context, a *app.App, s *app.Session, reel timeline.ID, o reels.MakeOptions) (reels.Made, error)
	// print prints the session sheet alone; tests put another in its place.
	print func(ctx context.Context, a *app.App, s *app.Session, reel timeline.ID, path string) error
	later waiter
}

// New makes the task; nothing is built until it is shown.
func New(d task.Desk) *Task {
	return &Task{desk: d, later: afterOnWindow, make: reels.Make, print: func(ctx context.Context, a *app.App, s *app.Session, reel timeline.ID, path string) error {
		return reels.Sheet(ctx, a, s, reel, nil, path)
	}}
}

// ID names the task and the scope of its keys.
func (t *Task) ID() string { return task.Reel }

// Title is the task's name.
func (t *Task) Title() string { return words.T("Reel") }

// Waiting is nothing: here a person makes something.
func (t *Task) Waiting() int { return 0 }

// Panel builds the panel.
func (t *Task) Panel() fyne.CanvasObject {
	if t.panel == nil {
		t.stage = newStage(t)
		t.panel = newPanel(t)
		t.refresh()
	}
	return t.panel.root
}

// Shown puts the task's cover over the picture.
func (t *Task) Shown() {
	t.shown = true
	t.welcome()
	t.desk.Cover(t.stage)
	t.desk.Grab(t.press)
	if t.fresh {
		t.fresh = false
		_, i := t.part()
		t.choose(i)
	}
	t.refresh()
}

// Leave gives back what was taken of the window.
func (t *Task) Leave() {
	t.shown = false
	t.leaveShow()
	t.leaveDrawing()
	t.stop()
	t.desk.Beside("")
	t.dismiss()
	t.desk.Cover(nil)
	t.desk.Grab(nil)
}

// Changed takes new facts in; while another task is shown that can wait.
func (t *Task) Changed() {
	if t.shown {
		t.refresh()
	}
}

// Moved follows the film.
func (t *Task) Moved(n task.Now) {
	if t.run != nil {
		t.run.moved(n)
	}
	if t.panel != nil {
		t.stage.refresh()
	}
}

func (t *Task) refresh() {
	t.welcome()
	t.sketches.Tags = map[timeline.ID]timeline.Tag{}
	for id, x := range t.facts().Tags {
		if x.Drawing != nil {
			t.sketches.Tags[id] = x
		}
	}
	if t.panel != nil {
		t.panel.refresh()
		t.stage.refresh()
	}
}

// facts are those of the open bout.
func (t *Task) facts() timeline.Facts {
	if s := t.desk.Session(); s != nil {
		return s.Facts
	}
	return timeline.Facts{}
}

// current is the reel worked on; ok is false when the bout has none.
func (t *Task) current() (timeline.Reel, bool) {
	f := t.facts()
	if r, ok := f.Reels[t.reel]; ok {
		return r, true
	}
	if all := f.ReelsInOrder(); len(all) > 0 {
		return all[0], true
	}
	return timeline.Reel{}, false
}

// parts are those of the reel worked on.
func (t *Task) parts() []timeline.Part {
	r, ok := t.current()
	if !ok {
		return nil
	}
	return t.facts().ReelParts(r.ID)
}

// part is the chosen part and its number from 0; -1 when there is none. Where the
// chosen one is gone the first takes its place.
func (t *Task) part() (timeline.Part, int) {
	list := t.parts()
	if len(list) == 0 {
		return timeline.Part{}, -1
	}
	i := max(slices.IndexFunc(list, func(p timeline.Part) bool { return p.ID == t.chosen }), 0)
	return list[i], i
}

// apply stores changes and reports whether it went well.
func (t *Task) apply(label string, changes ...timeline.Change) bool {
	return len(changes) > 0 && t.desk.Apply(label, changes...)
}

// languages are those in which a reel is worded, two at most.
func languages(r timeline.Reel) []string {
	if len(r.Languages) == 0 {
		return []string{""}
	}
	return r.Languages[:min(len(r.Languages), 2)]
}

// advance chooses the part so many further on.
func (t *Task) advance(by int) {
	if t.draw != nil {
		t.draw.advance(by)
		return
	}
	if list := t.parts(); len(list) > 0 {
		_, i := t.part()
		t.choose(min(max(i+by, 0), len(list)-1))
	}
}

// choose takes part i; the film goes to its moment.
func (t *Task) choose(i int) {
	list := t.parts()
	if i < 0 || i >= len(list) {
		return
	}
	t.stop()
	p := list[i]
	if p.ID != t.chosen {
		t.slow = slowing{}
	}
	t.chosen = p.ID
	if t.draw != nil {
		t.draw.chosen = ""
	}
	if l, ok := t.local(p); !ok {
		t.missing(p)
	} else if l.Clip != nil {
		t.desk.Beside(l.Clip.Beside)
		t.desk.GoFilm(l.Clip.Footage, l.Clip.Range.Start)
	}
	var ahead []timeline.Place
	for _, x := range list[i+1:] {
		if l, ok := t.local(x); ok && l.Clip != nil && len(ahead) < 2 {
			ahead = append(ahead, timeline.OnFilm(l.Clip.Footage, l.Clip.Range.Start))
		}
	}
	t.desk.Ahead(ahead...)
	t.refresh()
}

// move puts the chosen part so many places further on.
func (t *Task) move(by int) {
	list := t.parts()
	_, i := t.part()
	if i < 0 || i+by < 0 || i+by >= len(list) {
		return
	}
	t.put(i, i+by)
}

// put moves part from to the place that part to has now.
func (t *Task) put(from, to int) {
	list := t.parts()
	if from == to || from < 0 || from >= len(list) || to < 0 || to >= len(list) {
		return
	}
	before := timeline.ID("")
	if to < from {
		before = list[to].ID
	} else if to+1 < len(list) {
		before = list[to+1].ID
	}
	t.chosen = list[from].ID
	t.apply(words.T("part {.n} moved to {.to}", "n", from+1, "to", to+1), reels.Move(t.facts(), list[from].ID, before)...)
}

// remove takes the chosen part out; the next one is chosen.
func (t *Task) remove() {
	if t.draw != nil {
		t.draw.remove()
		return
	}
	p, i := t.part()
	if i < 0 {
		return
	}
	t.stop()
	list := t.parts()
	if n := i + 1; n < len(list) {
		t.chosen = list[n].ID
	} else if i > 0 {
		t.chosen = list[i-1].ID
	}
	t.apply(words.T("part {.n} taken out", "n", i+1), timeline.DeletePart(p.ID))
}
