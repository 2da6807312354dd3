package logging

import (
	"slices"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// Now is where the film stands.
type Now struct {
	Footage timeline.ID // "" when no film is open
	Film    time.Duration
}

// View is what a key is judged by: the bout as it is and where the film stands.
type View struct {
	Facts timeline.Facts
	Bout  timeline.Bout
	Now   Now
	// Sheet is the official sheet in guided logging; nil in blind logging, which
	// must not know it.
	Sheet *sheet.Sheet
}

// State says how the film stands to the jams.
type State uint8

// NotStarted: no jam has started yet on this film.
const (
	NotStarted State = iota
	Running
	Over // the last jam has ended, the next one has not started
)

// Standing is where the film stands among the jams.
type Standing struct {
	State  State
	Jam    int           // index into Bout.Jams of the last jam that started on this film; -1: none
	Offset time.Duration // jam time in it
	// After is the jam before the place, also where another file of the camera shows
	// it; -1: none. Unknown: other cameras show jams, and nothing relates this one to them.
	After   int
	Unknown bool
}

// endSlack is how long after the full length a jam without an end counts as over:
// the last blasts take a moment (common practice, no source).
const endSlack = 5 * time.Second

// Standing finds the jam that the film shows.
func (v View) Standing() Standing {
	a := v.Bout.Alignment
	s := Standing{Jam: -1, After: -1}
	if id, off, ok := a.JamAt(v.Now.Footage, v.Now.Film); ok {
		s.Jam, s.Offset = v.index(id), off
		s.After = s.Jam
		if s.Jam < 0 {
			return s
		}
		j := v.Bout.Jams[s.Jam]
		s.State = Running
		if j.Duration > 0 && off >= j.Duration || j.Duration == 0 && off > v.Bout.Rules.JamLength+endSlack {
			s.State = Over
		}
		return s
	}
	file, ok := a.Files[v.Now.Footage]
	if !ok {
		return s
	}
	own := a.Stretches[file.Stretch]
	same := false
	for i, st := range a.Stretches {
		if st.Camera != own.Camera {
			continue
		}
		for _, j := range st.Jams {
			same = true
			if i < file.Stretch {
				s.After = max(s.After, v.index(j.Jam))
			}
		}
	}
	s.Unknown = !same && len(a.Jams) > 0
	return s
}

func (v View) index(jam timeline.ID) int {
	return slices.IndexFunc(v.Bout.Jams, func(j timeline.Jam) bool { return j.ID == jam })
}

// tag returns a stored tag.
func (v View) tag(id timeline.ID) (timeline.Tag, bool) {
	t, ok := v.Facts.Tags[id]
	t.ID = id
	return t, ok
}

// jamOf is the index of the jam that holds a tag, -1 for none.
func (v View) jamOf(id timeline.ID) int {
	for i := range v.Bout.Jams {
		if v.Bout.Jams[i].ID == id || slices.Contains(v.Bout.Jams[i].Tags, id) {
			return i
		}
	}
	return -1
}

// offset is the jam time of a place in a jam.
func (v View) offset(jam int, p timeline.Place) (time.Duration, bool) {
	id := v.Bout.Jams[jam].ID
	switch {
	case p.Footage != "":
		return v.Bout.Alignment.OffsetIn(id, p.Footage, p.Film)
	case p.InJam && p.Jam == id:
		return p.Offset, true
	}
	return 0, false
}

// filmTime is where a tag is on the film that is shown; 0 when it is not on it.
func (v View) filmTime(id timeline.ID) time.Duration {
	t, ok := v.tag(id)
	if !ok {
		return 0
	}
	for _, s := range v.Bout.Alignment.Films(t.Place) {
		if s.Footage == v.Now.Footage {
			return s.Film
		}
	}
	return 0
}

// here is the place that the film shows.
func (v View) here() timeline.Place { return timeline.OnFilm(v.Now.Footage, v.Now.Film) }

// moment is the place for what happens in play: here, or the jam's end when the
// film has run past it.
func (v View) moment(s Standing) timeline.Place {
	j := v.Bout.Jams[s.Jam]
	if s.State != Over || j.Duration == 0 {
		return v.here()
	}
	if j.End.Footage != "" {
		return j.End
	}
	return timeline.InJam(j.ID, j.Duration)
}

// tags lists one side's tags of a kind in a jam, by time. NoSide is any side.
func (v View) tags(jam int, side timeline.Side, kind timeline.Kind) []timeline.Tag {
	var out []timeline.Tag
	for _, id := range v.Bout.Jams[jam].Tags {
		if t, ok := v.tag(id); ok && t.Kind == kind && (side == timeline.NoSide || t.Side == side) {
			out = append(out, t)
		}
	}
	return out
}
