package logging

import (
	"slices"
	"time"

	"whistlecut/timeline"
)

// Open says what of a tag is not settled.
type Open uint8

// What can be open.
const (
	Settled    Open = iota
	OpenValue       // the tag as a whole: points, lead...
	OpenSkater      // who
	OpenCode        // what for
	OpenJammer      // of a line-up
	OpenStar        // who got the star
)

// unsettled is the first thing of a tag that somebody has to look at again.
func unsettled(t timeline.Tag) Open {
	switch {
	case t.Seen != timeline.Sure:
		return OpenValue
	case (t.Kind == timeline.KindPenalty || t.Kind == timeline.KindBox) && (t.Who.Seen != timeline.Sure || t.Who.Number == ""):
		return OpenSkater
	case t.Penalty != nil && (t.Penalty.Code == "" || t.Penalty.Seen != timeline.Sure):
		return OpenCode
	case t.Lineup != nil && t.Lineup.Jammer.Seen != timeline.Sure:
		return OpenJammer
	case t.StarPass != nil && t.StarPass.Complete && t.StarPass.To.Seen != timeline.Sure:
		return OpenStar
	}
	return Settled
}

// Unsettled is one tag that waits to be looked at again.
type Unsettled struct {
	Tag  timeline.Tag
	Jam  int // index into Bout.Jams
	What Open
	At   time.Duration // jam time, when Timed
	// Timed: the tag has a moment.
	Timed bool
}

// Unsettled lists what is not settled, in the order of the bout.
func (v View) Unsettled() []Unsettled {
	var out []Unsettled
	for i := range v.Bout.Jams {
		for _, id := range v.Bout.Jams[i].Tags {
			t, ok := v.tag(id)
			if !ok || t.Kind == timeline.KindEvent {
				continue
			}
			what := unsettled(t)
			if what == OpenStar && v.Bout.Jams[i].Sides[t.Side.Index()].NewJammer != "" {
				continue // the line-up names the pivot
			}
			if what != Settled {
				at, timed := v.offset(i, t.Place)
				out = append(out, Unsettled{t, i, what, at, timed})
			}
		}
	}
	return out
}

// before is how much film is shown before a moment that is to be settled.
const before = 3 * time.Second

// settle goes to the next tag that is not settled (by -1: the one before), chooses
// it and asks for what it lacks.
func (m *Machine) settle(v View, by int) Outcome {
	list := v.Unsettled()
	if len(list) == 0 {
		m.unchoose()
		return refuse(NothingOpen)
	}
	i := slices.IndexFunc(list, func(u Unsettled) bool { return u.Tag.ID == m.chosen.Tag })
	next := 0
	if i >= 0 {
		next = (i + by + len(list)) % len(list)
	} else if s := v.Standing(); s.Jam >= 0 {
		// The first one from here on, else from the beginning.
		next = max(0, slices.IndexFunc(list, func(u Unsettled) bool {
			return u.Jam > s.Jam || u.Jam == s.Jam && (!u.Timed || u.At >= s.Offset)
		}))
	}
	return m.goTo(v, list[next])
}

// PickOpen goes to one entry of the list of what is not settled.
func (m *Machine) PickOpen(v View, u Unsettled) Outcome { return m.goTo(v, u) }

func (m *Machine) goTo(v View, u Unsettled) Outcome {
	m.prompts, m.typed = nil, ""
	m.chosen, m.held = Entry{Tag: u.Tag.ID}, v.Now.Film
	switch u.What {
	case OpenSkater, OpenStar:
		m.askAbout(u.Tag)
	case OpenJammer:
		m.ask(Prompt{Asks: AskJammer, Side: u.Tag.Side, Jam: v.Bout.Jams[u.Jam].ID})
	}
	o := Outcome{Say: Say{What: AtUnsettled}, Go: u.Tag.Place, Goes: true}
	// The jam has to be on show for the tag to be listed: not before its start.
	switch p := &o.Go; {
	case u.Timed:
		at := min(max(u.At-before, 0), u.At)
		if p.Footage != "" {
			p.Film = max(p.Film-(u.At-at), 0)
		} else {
			p.Offset = at
		}
	case p.Footage == "":
		*p = timeline.InJam(v.Bout.Jams[u.Jam].ID, 0)
	}
	return o
}
