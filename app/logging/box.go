package logging

import (
	"time"

	"whistlecut/timeline"
)

// pen logs the call of a penalty; who and what for can come at once or later. On
// a chosen penalty it says that the act happened here: the call and the act are
// two places.
func (m *Machine) pen(v View, side timeline.Side) Outcome {
	if t, ok := m.correcting(v, timeline.KindPenalty); ok && t.Penalty != nil {
		if t.Side != side {
			t.Side = side
			return v.set(Changed, t)
		}
		if t.Place.Footage == v.Now.Footage && v.Now.Film > t.Place.Film {
			return refuse(ActAfterCall)
		}
		info := *t.Penalty
		info.Act = v.here()
		t.Penalty = &info
		return v.set(Changed, t)
	}
	if _, _, ok := v.jamHere(); !ok {
		return refuse(NoJam)
	}
	m.armed = false
	o := m.log(v, timeline.Tag{
		Kind: timeline.KindPenalty, Place: v.here(), Side: side, Who: timeline.Who{Seen: timeline.NotSeen},
		Penalty: &timeline.PenaltyInfo{Seen: timeline.NotSeen},
	})
	m.penalty = m.last
	m.ask(Prompt{Asks: AskPenalised, Side: side, Tag: m.last})
	return o
}

// code gives a penalty its code: the one whose skater is asked for, the chosen
// one, else the last one logged.
func (m *Machine) code(v View, letter string) Outcome {
	if _, ok := v.Bout.Rules.Code(letter); !ok && len(v.Bout.Rules.Codes) > 0 {
		return Outcome{Say: Say{What: NoSuchCode, Text: letter}}
	}
	id := m.penalty
	if n := len(m.prompts); n > 0 && m.prompts[n-1].Asks == AskPenalised {
		id = m.prompts[n-1].Tag
	}
	if t, ok := m.correcting(v, timeline.KindPenalty); ok {
		id = t.ID
	}
	t, ok := v.tag(id)
	if !ok || t.Penalty == nil {
		return refuse(NoPenalty)
	}
	info := *t.Penalty
	info.Code, info.Seen = letter, timeline.Sure
	t.Penalty = &info
	return v.set(Changed, t)
}

// box logs that a skater sits down. On a chosen visit it says that she stands
// here, then that she leaves.
func (m *Machine) box(v View, side timeline.Side) Outcome {
	if t, ok := m.correcting(v, timeline.KindBox); ok && t.Box != nil {
		if t.Side != side {
			t.Side = side
			return v.set(Changed, t)
		}
		return v.set(Changed, rise(t, v.here()))
	}
	if _, _, ok := v.jamHere(); !ok {
		return refuse(NoJam)
	}
	m.armed = false
	o := m.log(v, timeline.Tag{
		Kind: timeline.KindBox, Place: v.here(), Side: side, Who: timeline.Who{Seen: timeline.NotSeen}, Box: &timeline.BoxInfo{},
	})
	m.ask(Prompt{Asks: AskBox, Side: side, Tag: m.last})
	return o
}

// rise says that a skater in the box stands at a place, or leaves if she stood.
func rise(t timeline.Tag, p timeline.Place) timeline.Tag {
	info := *t.Box
	if info.Stand.IsZero() && info.Out.IsZero() {
		info.Stand = p
	} else {
		info.Out = p
	}
	t.Box = &info
	return t
}

// stands: the number typed after the box key is that of a skater who sits there
// already, so that the key did not mean a new visit but that she stands or leaves.
func (m *Machine) stands(v View, fresh timeline.Tag, n timeline.Number) (Outcome, bool) {
	open, ok := v.seated(timeline.SkaterRef{Side: fresh.Side, Number: n}, fresh.ID)
	if !ok {
		return Outcome{}, false
	}
	t := rise(open, fresh.Place)
	if timeline.CheckTag(t) != nil { // on a place before that, it is another visit
		return Outcome{}, false
	}
	m.last = t.ID
	o := v.set(Changed, t, timeline.DeleteTag(fresh.ID))
	return o, true
}

// seated is the visit of a skater who is not known to have left the box: by a
// tag, or by the rules' arithmetic where nobody tagged it.
func (v View) seated(who timeline.SkaterRef, but timeline.ID) (timeline.Tag, bool) {
	s := v.Standing()
	for i := len(v.Bout.Visits) - 1; i >= 0; i-- {
		x := v.Bout.Visits[i]
		if x.Skater != who || x.Tag == but || x.InJam > s.Jam {
			continue
		}
		gone := x.OutJam >= 0 && x.OutTimed && (x.OutJam < s.Jam || x.OutJam == s.Jam && x.Out+boxSlack < s.Offset)
		t, ok := v.tag(x.Tag)
		if gone || !ok || t.Box == nil || !t.Box.Out.IsZero() {
			return timeline.Tag{}, false
		}
		return t, true
	}
	return timeline.Tag{}, false
}

// boxSlack is how far the person at the keys may lag behind the box clock.
const boxSlack = 5 * time.Second
