package logging

import "whistlecut/timeline"

// notSeen says that something was not seen, the nearest thing first: the number
// asked for when its digits are begun or nothing else was logged since, the
// chosen tag, what was logged a moment ago. Else the next entry will be not seen;
// a second press takes that back.
func (m *Machine) notSeen(v View) Outcome {
	if t, ok := v.tag(m.chosen.Tag); ok && !m.chosen.End {
		return m.blind(v, t)
	}
	if n := len(m.prompts); n > 0 {
		p := m.prompts[n-1]
		if t, ok := v.tag(m.last); m.typed != "" || !ok || p.Tag == m.last || !v.recent(t.Place) || t.Seen == timeline.NotSeen {
			return m.answer(v, p, timeline.Who{Seen: timeline.NotSeen})
		}
	}
	if t, ok := v.tag(m.last); ok && v.recent(t.Place) && t.Seen != timeline.NotSeen && values(t.Kind) {
		return m.blind(v, t)
	}
	m.armed = !m.armed
	if m.armed {
		return refuse(NextNotSeen)
	}
	return refuse(NextSeen)
}

// values are the kinds that can be not seen as a whole.
func values(k timeline.Kind) bool {
	switch k {
	case timeline.KindTrip, timeline.KindLead, timeline.KindLost, timeline.KindCall, timeline.KindStarPass:
		return true
	}
	return false
}

// blind takes the value of a tag back.
func (m *Machine) blind(v View, t timeline.Tag) Outcome {
	switch t.Kind {
	case timeline.KindPenalty, timeline.KindBox:
		t.Who = timeline.Who{Seen: timeline.NotSeen}
		m.answered(t.ID)
	case timeline.KindLineup:
		info := *t.Lineup
		info.Jammer = timeline.Who{Seen: timeline.NotSeen}
		t.Lineup = &info
	case timeline.KindTrip:
		info := *t.Trip
		info.Points = 0
		t.Trip, t.Seen = &info, timeline.NotSeen
	default:
		if !values(t.Kind) {
			return refuse(NotThat)
		}
		t.Seen = timeline.NotSeen
	}
	return v.set(Changed, t)
}

// unsure marks what is chosen, or was just logged, as to be looked at again;
// again: as sure.
func (m *Machine) unsure(v View) Outcome {
	t, ok := v.tag(m.chosen.Tag)
	if !ok || m.chosen.End {
		if t, ok = v.tag(m.last); !ok || !v.recent(t.Place) {
			return refuse(NothingRecent)
		}
	}
	turn := func(s timeline.Seen) timeline.Seen {
		if s == timeline.Sure {
			return timeline.Unsure
		}
		return timeline.Sure
	}
	switch t.Kind {
	case timeline.KindPenalty, timeline.KindBox:
		if t.Who.Number == "" {
			return refuse(NotThat)
		}
		t.Who.Seen = turn(t.Who.Seen)
	default:
		if !values(t.Kind) || t.Seen == timeline.NotSeen {
			return refuse(NotThat)
		}
		t.Seen = turn(t.Seen)
	}
	return v.set(Changed, t)
}
