package logging

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// Entry is one line of the list of last tags: a tag, or the end of a jam.
type Entry struct {
	Tag timeline.ID
	End bool
}

// Line is an entry as it is shown.
type Line struct {
	Entry
	What timeline.Tag
	// At is jam time, when Timed.
	At    time.Duration
	Timed bool
	// Jammer is who it was, where the tag does not say: the jammer then.
	Jammer timeline.Number
	// Open: something of it is not known.
	Open bool
}

// Recent lists the tags of the jam that the film shows, the latest first.
func (v View) Recent() []Line {
	s := v.Standing()
	if s.Jam < 0 {
		return nil // what is before the first jam is in the lists of History and Find
	}
	j := v.Bout.Jams[s.Jam]
	var out []Line
	add := func(e Entry, t timeline.Tag, p timeline.Place) {
		l := Line{Entry: e, What: t, Open: unsettled(t) != Settled}
		l.At, l.Timed = v.offset(s.Jam, p)
		if t.Side != timeline.NoSide && t.Timeout == nil && t.Review == nil {
			x := j.Sides[t.Side.Index()]
			l.Jammer = x.Jammer.Number
			if x.StarPass && x.StarPassTimed && l.Timed && l.At > x.StarPassAt {
				l.Jammer = x.NewJammer
			}
		}
		out = append(out, l)
	}
	if t, ok := v.tag(j.ID); ok && t.JamInfo != nil {
		add(Entry{Tag: j.ID}, t, timeline.InJam(j.ID, 0))
		if !t.JamInfo.End.IsZero() {
			add(Entry{Tag: j.ID, End: true}, t, t.JamInfo.End)
		}
	}
	for _, id := range j.Tags {
		if t, ok := v.tag(id); ok && t.Kind != timeline.KindEvent {
			add(Entry{Tag: id}, t, t.Place)
		}
	}
	for _, id := range v.stops(s.Jam) {
		if t, ok := v.tag(id); ok {
			add(Entry{Tag: id}, t, t.Place)
		}
	}
	slices.SortStableFunc(out, func(x, y Line) int {
		return cmp.Or(cmp.Compare(y.At, x.At), rank(x)-rank(y), cmp.Compare(x.Tag, y.Tag))
	})
	return out
}

// rank puts a jam's end before and its start behind what happened at the same time.
func rank(l Line) int {
	switch {
	case l.End:
		return -1
	case l.What.Kind == timeline.KindJam:
		return 2
	case l.What.Kind == timeline.KindLineup:
		return 1
	}
	return 0
}

// Chosen is the entry that keys correct; ok is false when none is chosen.
func (m *Machine) Chosen() (Entry, bool) { return m.chosen, m.chosen.Tag != "" }

// Pick chooses an entry, as a click on its line does.
func (m *Machine) Pick(v View, e Entry) {
	m.unchoose()
	m.chosen, m.typed = e, ""
	m.hold(v)
}

func (m *Machine) hold(v View) {
	if m.chosen.Tag != "" {
		m.held = v.Now.Film
	}
}

func (m *Machine) unchoose() {
	if m.chosen.Tag != "" {
		id := m.chosen.Tag
		m.prompts = slices.DeleteFunc(m.prompts, func(p Prompt) bool { return p.Asks == AskOther && p.Tag == id })
	}
	m.chosen = Entry{}
}

// choose moves the choice down the list; the first press takes the latest entry,
// and one above it lets go.
func (m *Machine) choose(v View, by int) Outcome {
	list := v.Recent()
	if len(list) == 0 {
		return refuse(NoJam)
	}
	i := slices.IndexFunc(list, func(l Line) bool { return l.Entry == m.chosen })
	switch {
	case i < 0:
		i = 0
	case i+by < 0:
		m.unchoose()
		return Outcome{}
	default:
		i = min(i+by, len(list)-1)
	}
	m.Pick(v, list[i].Entry)
	return Outcome{}
}
