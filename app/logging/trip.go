package logging

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// trip logs the end of a trip with its points. Its number follows from the trips
// of the jam and side that ended before it: the first one is trip 2, since the
// initial trip scores nothing; in overtime it is trip 1 (Rules 1.5.1, 3.2). A
// trip logged between two others moves the later ones up.
//
// Once the jam is over, the key says what the trip scored that its end closed;
// there is one such trip at most, so a second press corrects it.
func (m *Machine) trip(v View, side timeline.Side, points int) Outcome {
	if points > v.Bout.Rules.PointsPerTrip {
		return refuse(TooMany)
	}
	if t, ok := m.correcting(v, timeline.KindTrip); ok {
		return m.retell(v, t, side, points)
	}
	s, j, ok := v.jamHere()
	if !ok {
		return refuse(NoJam)
	}
	if s.State == Over {
		for _, t := range v.tags(s.Jam, side, timeline.KindTrip) {
			if t.Trip != nil && t.Trip.Open && t.Trip.Number >= v.firstTrip(s.Jam) && !m.armed {
				return m.retell(v, t, side, points)
			}
		}
	}
	t := timeline.Tag{
		ID: m.newID(), Kind: timeline.KindTrip, Place: v.moment(s), Side: side,
		Trip: &timeline.TripInfo{Points: points, Open: s.State == Over},
	}
	if m.takeArmed() {
		t.Seen, t.Trip.Points = timeline.NotSeen, 0
	}
	after := v.trips(s.Jam, side)
	after.insert(v, s.Jam, t)
	m.last = t.ID
	m.unchoose()
	own, changes := after.changes(v, t.ID)
	return Outcome{Changes: changes, Did: Did{What: Logged, Tag: own, Jam: j.Number, Period: j.Period}}
}

// retell gives a trip other points, or hands it to the other side.
func (m *Machine) retell(v View, t timeline.Tag, side timeline.Side, points int) Outcome {
	info := *t.Trip
	info.Points = points
	t.Trip, t.Seen = &info, timeline.Sure
	if t.Side == side {
		return v.set(Changed, t)
	}
	jam := v.jamOf(t.ID)
	if jam < 0 {
		return refuse(NotThat)
	}
	left := v.trips(jam, t.Side)
	left.remove(t.ID)
	t.Side = side
	return m.rehome(v, Changed, left, jam, t)
}

// rehome puts a trip into a side of a jam, after it was taken out of another place.
func (m *Machine) rehome(v View, what What, left trips, jam int, t timeline.Tag) Outcome {
	into := v.trips(jam, t.Side)
	if len(left) > 0 && left.has(into) {
		into = left
	}
	into.remove(t.ID)
	into.insert(v, jam, t)
	own, changes := into.changes(v, t.ID)
	_, more := left.changes(v, t.ID)
	for _, c := range more {
		if !slices.ContainsFunc(changes, func(x timeline.Change) bool { return x.Record == c.Record }) {
			changes = append(changes, c)
		}
	}
	return Outcome{Changes: changes, Did: v.did(what, own)}
}

// firstTrip is the number of the first trip that scores.
func (v View) firstTrip(jam int) int {
	if v.Bout.Jams[jam].Overtime {
		return 1
	}
	return 2
}

// trips are the scoring trips of one side of a jam, in their order.
type trips []timed

type timed struct {
	timeline.Tag
	at    time.Duration
	timed bool
}

func (v View) trips(jam int, side timeline.Side) trips {
	var out trips
	for _, t := range v.tags(jam, side, timeline.KindTrip) {
		if t.Trip == nil || t.Trip.Number < v.firstTrip(jam) {
			continue
		}
		at, ok := v.offset(jam, t.Place)
		out = append(out, timed{t, at, ok})
	}
	slices.SortStableFunc(out, func(x, y timed) int { return cmp.Compare(x.Trip.Number, y.Trip.Number) })
	return out
}

func (l trips) has(o trips) bool {
	return len(o) > 0 && slices.ContainsFunc(l, func(x timed) bool { return x.ID == o[0].ID })
}

// insert gives a trip its number by its time, and moves later ones up where they
// stand in the way; a gap that somebody left is filled.
func (l *trips) insert(v View, jam int, t timeline.Tag) {
	at, known := v.offset(jam, t.Place)
	n := v.firstTrip(jam)
	for _, x := range *l {
		if !x.timed || !known || x.at <= at {
			n = max(n, x.Trip.Number+1)
		}
	}
	info := *t.Trip
	info.Number = n
	t.Trip = &info
	for i := range *l {
		x := &(*l)[i]
		if x.Trip.Number == n && x.timed && known && x.at > at {
			up := *x.Trip
			n++
			up.Number = n
			x.Trip = &up
		}
	}
	*l = append(*l, timed{t, at, known})
	slices.SortStableFunc(*l, func(x, y timed) int { return cmp.Compare(x.Trip.Number, y.Trip.Number) })
}

// remove takes a trip out and closes the gap behind it, unless another tag
// claims its number, too.
func (l *trips) remove(id timeline.ID) {
	i := slices.IndexFunc(*l, func(x timed) bool { return x.ID == id })
	if i < 0 {
		return
	}
	n := (*l)[i].Trip.Number
	*l = slices.Delete(*l, i, i+1)
	if slices.ContainsFunc(*l, func(x timed) bool { return x.Trip.Number == n }) {
		return
	}
	for i := range *l {
		if x := &(*l)[i]; x.Trip.Number > n {
			down := *x.Trip
			down.Number--
			x.Trip = &down
		}
	}
}

// changes stores what differs from the bout's facts, and returns one of the trips.
func (l trips) changes(v View, id timeline.ID) (own timeline.Tag, out []timeline.Change) {
	for _, x := range l {
		if x.ID == id {
			own = x.Tag
		}
		was, ok := v.tag(x.ID)
		if !ok || was.Trip == nil || *was.Trip != *x.Trip || was.Side != x.Side || was.Place != x.Place || was.Jam != x.Jam || was.Seen != x.Seen {
			out = append(out, timeline.SetTag(x.Tag))
		}
	}
	return own, out
}
