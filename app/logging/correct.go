package logging

import (
	"slices"
	"time"

	"whistlecut/timeline"
)

// remove deletes the chosen tag. Trips behind it move down. A jam goes only when
// nothing is in it.
func (m *Machine) remove(v View) Outcome {
	e, ok := m.Chosen()
	t, there := v.tag(e.Tag)
	if !ok || !there {
		return refuse(NothingChosen)
	}
	next := v.beside(e)
	d := v.did(Removed, t)
	drop := timeline.DeleteTag(t.ID)
	switch {
	case e.End:
		info := *t.JamInfo
		info.End = timeline.Place{}
		t.JamInfo = &info
		m.chosen = next
		o := v.set(EndGone, t)
		return o
	case t.Kind == timeline.KindJam:
		jam := v.jamOf(t.ID)
		if jam < 0 || len(v.Bout.Jams[jam].Tags) > 0 {
			return refuse(JamInUse)
		}
		changes := []timeline.Change{drop}
		for id, mark := range v.Facts.Marks {
			if mark.Jam == t.ID {
				changes = append(changes, timeline.DeleteMark(id))
			}
		}
		m.unchoose()
		return Outcome{Changes: changes, Did: d}
	case t.Kind == timeline.KindTrip && t.Trip != nil:
		o := Outcome{Changes: []timeline.Change{drop}, Did: d}
		if jam := v.jamOf(t.ID); jam >= 0 && t.Trip.Number >= v.firstTrip(jam) {
			left := v.trips(jam, t.Side)
			left.remove(t.ID)
			_, more := left.changes(v, t.ID)
			o.Changes = append(o.Changes, more...)
		}
		m.chosen = next
		return o
	}
	m.unchoose()
	m.chosen = next
	return Outcome{Changes: []timeline.Change{drop}, Did: d}
}

// beside is the entry that is chosen once another one is gone.
func (v View) beside(e Entry) Entry {
	list := v.Recent()
	i := slices.IndexFunc(list, func(l Line) bool { return l.Entry == e })
	switch {
	case i < 0 || len(list) < 2:
		return Entry{}
	case i+1 < len(list):
		return list[i+1].Entry
	}
	return list[i-1].Entry
}

// moveHere moves the chosen tag to where the film stands.
func (m *Machine) moveHere(v View) Outcome {
	e, ok := m.Chosen()
	t, there := v.tag(e.Tag)
	if !ok || !there {
		return refuse(NothingChosen)
	}
	return m.moveTo(v, e, t, v.here())
}

// nudge moves the chosen tag by a little, usually one frame.
func (m *Machine) nudge(v View, by time.Duration) Outcome {
	e, ok := m.Chosen()
	t, there := v.tag(e.Tag)
	if !ok || !there {
		return refuse(NothingChosen)
	}
	p := t.Place
	if t.Kind == timeline.KindJam {
		p = v.Bout.Jams[v.jamOf(t.ID)].Start
		if e.End {
			p = t.JamInfo.End
		}
	}
	switch {
	case p.Footage != "":
		p.Film = max(p.Film+by, 0)
	case p.InJam:
		p.Offset += by
	default:
		return refuse(NotThat)
	}
	return m.moveTo(v, e, t, p)
}

func (m *Machine) moveTo(v View, e Entry, t timeline.Tag, p timeline.Place) Outcome {
	jam := v.jamOf(t.ID)
	switch {
	case jam < 0 && t.Kind == timeline.KindJam:
		return refuse(NotThat)
	case e.End:
		info := *t.JamInfo
		info.End = p
		t.JamInfo = &info
		return v.set(Moved, t)
	case t.Kind == timeline.KindJam:
		return v.moveStart(t, p)
	case t.Kind == timeline.KindLineup:
		return refuse(NotThat)
	case t.Kind == timeline.KindTrip && t.Trip != nil && jam >= 0 && t.Trip.Number >= v.firstTrip(jam):
		left := v.trips(jam, t.Side)
		left.remove(t.ID)
		to := jam
		if p.Footage != "" {
			t.Jam = ""
			if id, _, ok := v.Bout.Alignment.JamAt(p.Footage, p.Film); ok {
				to = v.index(id)
			}
		}
		t.Place = p
		return m.rehome(v, Moved, left, to, t)
	}
	if p.Footage != "" {
		t.Jam = ""
	}
	t.Place = p
	return v.set(Moved, t)
}

// moveStart moves the start of a jam: its own place on film, else the mark that
// pins it, which becomes one set by hand.
func (v View) moveStart(t timeline.Tag, p timeline.Place) Outcome {
	if p.Footage == "" {
		return refuse(NotThat)
	}
	if t.Place.Footage == p.Footage {
		t.Place, t.Source, t.Confidence = p, "", 0
		return v.set(Moved, t)
	}
	return Outcome{
		Changes: []timeline.Change{timeline.SetMark(timeline.SyncMark{
			ID: timeline.ImportID("hand", string(t.ID), string(timeline.EdgeStart), string(p.Footage)), Jam: t.ID,
			Edge: timeline.EdgeStart, Footage: p.Footage, Film: p.Film, Hand: true,
		})},
		Did: v.did(Moved, t),
	}
}
