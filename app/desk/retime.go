package desk

import (
	"time"

	"whistlecut/app/desk/strip"
	"whistlecut/timeline"
)

// retimed are the changes that put one edge of a tag to a film time: the start of
// a jam is a hand-set mark, which moves its neighbours; all else is the tag's own
// place. It is empty for a tag that has no such edge.
func retimed(f timeline.Facts, id timeline.ID, edge strip.Edge, footage timeline.ID, film time.Duration) []timeline.Change {
	t, ok := f.Tags[id]
	if !ok {
		return nil
	}
	at := timeline.OnFilm(footage, film)
	if t.Kind == timeline.KindJam && edge == strip.Begin {
		return []timeline.Change{timeline.SetMark(timeline.SyncMark{
			ID:  timeline.ImportID("hand", string(id), string(timeline.EdgeStart), string(footage)),
			Jam: id, Edge: timeline.EdgeStart, Footage: footage, Film: film, Hand: true,
		})}
	}
	switch {
	case edge == strip.Moment:
		t.Place = at
	case t.Kind == timeline.KindJam && t.JamInfo != nil:
		i := *t.JamInfo
		i.End, t.JamInfo = at, &i
	case t.Kind == timeline.KindTrip && t.Trip != nil && edge == strip.Begin:
		i := *t.Trip
		i.Start, t.Trip = at, &i
	case t.Kind == timeline.KindBox && t.Box != nil && edge == strip.End:
		i := *t.Box
		i.Out, t.Box = at, &i
	case t.Kind == timeline.KindTimeout && t.Timeout != nil && edge == strip.End:
		i := *t.Timeout
		i.End, t.Timeout = at, &i
	case t.Kind == timeline.KindReview && t.Review != nil && edge == strip.End:
		i := *t.Review
		i.End, t.Review = at, &i
	case edge == strip.Begin && t.Kind != timeline.KindTrip, edge == strip.End && t.Kind == timeline.KindTrip:
		t.Place = at
	default:
		return nil
	}
	return []timeline.Change{timeline.SetTag(t)}
}
