package logging

import "whistlecut/timeline"

// log stores a new tag and remembers it as the last entry.
func (m *Machine) log(v View, t timeline.Tag, more ...timeline.Change) Outcome {
	t.ID = m.newID()
	if m.takeArmed() {
		t.Seen = timeline.NotSeen
		if t.Trip != nil {
			t.Trip.Points = 0
		}
	}
	m.last = t.ID
	m.unchoose()
	return v.set(Logged, t, more...)
}

// jamHere is the jam that a key of play belongs to.
func (v View) jamHere() (Standing, *timeline.Jam, bool) {
	s := v.Standing()
	if s.Jam < 0 {
		return s, nil, false
	}
	return s, &v.Bout.Jams[s.Jam], true
}

// lead logs lead; of the second side only that the initial trip is completed,
// since one side at most has lead (Rules 2.2.2).
func (m *Machine) lead(v View, side timeline.Side) Outcome {
	if t, ok := m.correcting(v, timeline.KindLead); ok {
		if t.Side == side && t.Seen == timeline.Sure {
			return Outcome{Say: Say{What: AlreadyLead, Side: side}}
		}
		t.Side, t.Seen = side, timeline.Sure
		return v.set(Changed, t)
	}
	s, j, ok := v.jamHere()
	if !ok {
		return refuse(NoJam)
	}
	if list := v.tags(s.Jam, side, timeline.KindLead); len(list) > 0 {
		return Outcome{Say: Say{What: AlreadyLead, Side: side}}
	}
	if j.Sides[side.Other().Index()].Lead {
		if _, has := v.first(s.Jam, side); has {
			return Outcome{Say: Say{What: AlreadyLead, Side: side.Other()}}
		}
		o := m.initial(v, side)
		o.Say = Say{What: ThroughOnly, Side: side}
		return o
	}
	return m.log(v, timeline.Tag{Kind: timeline.KindLead, Place: v.moment(s), Side: side})
}

func (m *Machine) lost(v View, side timeline.Side) Outcome {
	if t, ok := m.correcting(v, timeline.KindLost); ok {
		t.Side, t.Seen = side, timeline.Sure
		return v.set(Changed, t)
	}
	s, _, ok := v.jamHere()
	if !ok {
		return refuse(NoJam)
	}
	if len(v.tags(s.Jam, side, timeline.KindLost)) > 0 {
		return Outcome{Say: Say{What: AlreadyLost, Side: side}}
	}
	return m.log(v, timeline.Tag{Kind: timeline.KindLost, Place: v.moment(s), Side: side})
}

// callOff logs that the jam is called off by the side with lead; where that is
// not clear it asks.
func (m *Machine) callOff(v View) Outcome {
	s, j, ok := v.jamHere()
	if !ok {
		return refuse(NoJam)
	}
	if list := v.tags(s.Jam, timeline.NoSide, timeline.KindCall); len(list) > 0 {
		return Outcome{Say: Say{What: AlreadyCalled, Side: list[0].Side}}
	}
	var can []timeline.Side
	for _, side := range timeline.Sides {
		if x := j.Sides[side.Index()]; (x.Lead || x.LeadUnknown) && !x.Lost {
			can = append(can, side)
		}
	}
	if len(can) != 1 {
		m.asking = CallOff
		return refuse(WhoCalled)
	}
	return m.called(v, can[0])
}

func (m *Machine) called(v View, side timeline.Side) Outcome {
	s, _, ok := v.jamHere()
	if !ok {
		return refuse(NoJam)
	}
	return m.log(v, timeline.Tag{Kind: timeline.KindCall, Place: v.moment(s), Side: side})
}

// star logs a star pass at its release, as completed: that is what most are. The
// same key again says that this one was not. After one that was not, the key logs
// the next try. Only one can be completed in a jam (Rules 2.2.4).
func (m *Machine) star(v View, side timeline.Side) Outcome {
	t, ok := m.correcting(v, timeline.KindStarPass)
	if !ok {
		s, _, in := v.jamHere()
		if !in {
			return refuse(NoJam)
		}
		for _, x := range v.tags(s.Jam, side, timeline.KindStarPass) {
			if x.StarPass != nil && x.StarPass.Complete {
				t, ok = x, true
			}
		}
		if !ok {
			o := m.log(v, timeline.Tag{
				Kind: timeline.KindStarPass, Place: v.moment(s), Side: side,
				StarPass: &timeline.StarPassInfo{Complete: true, To: timeline.Who{Seen: timeline.NotSeen}},
			})
			m.ask(Prompt{Asks: AskNewJammer, Side: side, Tag: m.last})
			return o
		}
	}
	info := *t.StarPass
	info.Complete = !info.Complete
	if t.Side != side {
		info.Complete = t.StarPass.Complete
	}
	t.StarPass, t.Side, t.Seen = &info, side, timeline.Sure
	if !info.Complete {
		m.answered(t.ID)
	}
	return v.set(Changed, t)
}

func (m *Machine) injury(v View) Outcome {
	s, _, ok := v.jamHere()
	if !ok {
		return refuse(NoJam)
	}
	if len(v.tags(s.Jam, timeline.NoSide, timeline.KindInjury)) > 0 {
		return refuse(AlreadyInjury)
	}
	m.armed = false
	return m.log(v, timeline.Tag{Kind: timeline.KindInjury, Place: v.moment(s)})
}

// correcting returns the chosen tag when it is of a kind.
func (m *Machine) correcting(v View, kind timeline.Kind) (timeline.Tag, bool) {
	t, ok := v.tag(m.chosen.Tag)
	if !ok || t.Kind != kind || m.chosen.End {
		return timeline.Tag{}, false
	}
	return t, true
}
