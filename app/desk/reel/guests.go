package reel

import (
	"slices"
	"time"

	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// guest is the film of clips of another bout: where it lies, or why it cannot be
// shown.
type guest struct {
	path string
	note string // another file lies there now
	err  error
}

// welcome makes the films of other bouts that the reel shows known to the desk.
func (t *Task) welcome() {
	s := t.desk.Session()
	if s == nil || !t.shown {
		return
	}
	var paths []string
	for _, p := range t.parts() {
		if p.Clip == nil || p.Clip.Other == nil {
			continue
		}
		g := t.guest(*p.Clip.Other)
		if g.err == nil && !slices.Contains(paths, g.path) {
			paths = append(paths, g.path)
		}
	}
	if len(paths) > 0 || t.invited {
		t.invited = len(paths) > 0
		t.desk.Guests(paths...)
	}
}

// dismiss gives the desk its own films back.
func (t *Task) dismiss() {
	if t.invited {
		t.desk.Guests()
	}
	t.invited, t.guests = false, nil
}

// guest looks once where a film lies.
func (t *Task) guest(o timeline.OtherBout) guest {
	g, ok := t.guests[o.Film]
	if !ok {
		g.path, g.note, g.err = reels.OtherFilm(t.desk.Session(), o)
		if t.guests == nil {
			t.guests = map[string]guest{}
		}
		t.guests[o.Film] = g
	}
	return g
}

// local is a part as the desk shows it: a clip of another bout is one of a guest.
// It is false where its film is missing.
func (t *Task) local(p timeline.Part) (timeline.Part, bool) {
	if p.Clip == nil || p.Clip.Other == nil {
		return p, true
	}
	g := t.guest(*p.Clip.Other)
	if g.err != nil {
		return p, false
	}
	c := *p.Clip
	c.Footage, c.Other = task.GuestID(g.path), nil
	p.Clip = &c
	return p, true
}

// on is the footage that the desk shows a clip by, "" where its film is missing.
func (t *Task) on(c timeline.Clip) timeline.ID {
	p, ok := t.local(timeline.Part{Clip: &c})
	if !ok {
		return ""
	}
	return p.Clip.Footage
}

// long is how long the film of a clip is, 0 where that is not known.
func (t *Task) long(c timeline.Clip) time.Duration {
	if c.Other != nil {
		return c.Other.Length
	}
	return t.facts().Footage[c.Footage].Duration
}

// missing says that the film of another bout's clip is not there.
func (t *Task) missing(p timeline.Part) {
	if o := p.Clip.Other; o != nil {
		t.desk.Say(words.T("The film {.film} of {.title} is missing: put it back, or beside this bout.", "film", o.Film, "title", o.Title))
	}
}

// away reports whether the film shown is of another bout.
func (t *Task) away() bool {
	_, ok := t.facts().Footage[t.desk.Now().Footage]
	return !ok && t.desk.Now().Footage != ""
}

// sketched are the drawings over the film that is shown, and the footage they are
// on: a guest has those that its clip brought along.
func (t *Task) sketched(n task.Now) (timeline.Facts, timeline.ID) {
	if _, ok := t.facts().Footage[n.Footage]; ok {
		return t.sketches, n.Footage
	}
	p, i := t.part()
	if t.run != nil {
		p, i = t.run.part(), 0
	}
	if i >= 0 && p.Clip != nil && p.Clip.Other != nil && t.on(*p.Clip) == n.Footage {
		return reels.Sketches(t.facts(), *p.Clip), p.Clip.Footage
	}
	return timeline.Facts{}, n.Footage
}
