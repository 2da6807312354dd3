package reel

import (
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// playThrough plays the reel from the chosen part on, or stops.
func (t *Task) playThrough() {
	if t.run != nil {
		t.stop()
		t.refresh()
		return
	}
	list := t.parts()
	_, i := t.part()
	if i < 0 {
		return
	}
	t.leaveDrawing()
	t.play(list, i, false)
}

// enter plays the chosen part again and again; while a shape is drawn it finishes
// it.
func (t *Task) enter() {
	if t.draw != nil {
		t.draw.enter()
		return
	}
	p, i := t.part()
	if i < 0 {
		return
	}
	t.stop()
	c := p.Clip
	switch {
	case c == nil:
		t.play([]timeline.Part{p}, 0, false)
	case t.on(*c) == "":
		t.missing(p)
	case len(c.Speeds)+len(c.Freezes) > 0 || c.Mute:
		t.play([]timeline.Part{p}, 0, true)
	default:
		shown := c.Shown()
		t.desk.Beside(c.Beside)
		t.desk.Loop(t.on(*c), shown.Start, shown.End)
	}
}

func (t *Task) play(list []timeline.Part, from int, loop bool) {
	r := &runner{desk: t.desk, later: t.later, local: t.local, parts: list, loop: loop}
	r.changed = func() {
		t.chosen = r.part().ID
		t.refresh()
	}
	r.ended = func(finished bool) {
		t.run = nil
		if finished {
			t.desk.Say(words.T("The reel was played."))
		}
		t.refresh()
	}
	t.run = r
	if !loop && len(list) > 1 {
		t.desk.Say(words.T("The reel is played. P stops."))
	}
	r.start(from)
}

// stop ends playing.
func (t *Task) stop() {
	if r := t.run; r != nil {
		t.run = nil
		r.stop()
	}
}
