package logging

import "whistlecut/timeline"

// first is the tag of a side's initial trip.
func (v View) first(jam int, side timeline.Side) (timeline.Tag, bool) {
	for _, t := range v.tags(jam, side, timeline.KindTrip) {
		if t.Trip != nil && t.Trip.Number == 1 {
			return t, true
		}
	}
	return timeline.Tag{}, false
}

// initial logs the initial trip where neither lead nor a scoring trip tells of
// it: first that it was completed (once the jam is over: that it was not), then
// that it was not (NI), then nothing.
func (m *Machine) initial(v View, side timeline.Side) Outcome {
	s, j, ok := v.jamHere()
	if !ok {
		return refuse(NoJam)
	}
	t, has := v.first(s.Jam, side)
	switch {
	case !has:
		return m.log(v, timeline.Tag{
			Kind: timeline.KindTrip, Place: v.moment(s), Side: side,
			Trip: &timeline.TripInfo{Number: 1, Open: s.State == Over},
		})
	case t.Trip.Open && !j.Overtime:
		return Outcome{Changes: []timeline.Change{timeline.DeleteTag(t.ID)}, Did: v.did(Removed, t)}
	}
	info := *t.Trip
	info.Open = !info.Open
	t.Trip = &info
	return v.set(Changed, t)
}
