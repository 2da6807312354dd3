package logging

import (
	"time"

	"whistlecut/timeline"
)

// longestStop is how far behind its call a timeout or review may end by the same
// key; what lies further on is the next one (common practice, no source).
const longestStop = 10 * time.Minute

// stop is the key of timeouts (act Timeout) and official reviews (act Review). It
// ends the one that runs; of a chosen or just ended review it says whether the
// team kept it; else it asks whose the new one is.
func (m *Machine) stop(v View, act Act) Outcome {
	kind := timeline.KindTimeout
	if act == Review {
		kind = timeline.KindReview
	}
	if t, ok := m.correcting(v, kind); ok {
		return m.stopAgain(v, t)
	}
	if t, ok := v.tag(v.lastStop(kind)); ok {
		since := v.Now.Film - t.Place.Film
		open := endOf(t).IsZero() && since >= edgeNear && since < longestStop
		if t.Place.Footage == v.Now.Footage && (open || kind == timeline.KindReview && !endOf(t).IsZero() && v.recent(endOf(t))) {
			return m.stopAgain(v, t)
		}
	}
	switch s := v.Standing(); {
	case s.Unknown:
		return refuse(OtherCamera)
	case s.Jam < 0 && s.After < 0:
		if _, _, ok := v.Bout.Alignment.NextJam(v.Now.Footage, v.Now.Film); !ok {
			return refuse(NoJam) // nothing would say when in the bout it was
		}
	}
	m.asking = act
	if act == Review {
		return refuse(WhoseReview)
	}
	return refuse(WhoseTimeout)
}

// stopped logs a timeout or review of a side; NoSide is an official timeout. The
// jam it follows is where the film stands.
func (m *Machine) stopped(v View, act Act, side timeline.Side) Outcome {
	s := v.Standing()
	t := timeline.Tag{Kind: timeline.KindTimeout, Place: v.here(), Side: side, Timeout: &timeline.TimeoutInfo{}}
	if act == Review {
		t.Kind, t.Timeout, t.Review = timeline.KindReview, nil, &timeline.ReviewInfo{}
	}
	if s.Jam < 0 && s.After >= 0 { // another file shows the jam it follows
		if id := v.Bout.Jams[s.After].ID; t.Review != nil {
			t.Review.AfterJam = id
		} else {
			t.Timeout.AfterJam = id
		}
	}
	m.armed = false // a call is heard or not: there is nothing of it to have missed
	return m.log(v, t)
}

// stopAgain sets the end of a timeout or review; of a review that has ended it
// turns whether it was retained.
func (m *Machine) stopAgain(v View, t timeline.Tag) Outcome {
	switch {
	case t.Timeout != nil:
		info := *t.Timeout
		info.End = v.here()
		t.Timeout = &info
	case t.Review != nil:
		info := *t.Review
		if info.End.IsZero() {
			info.End = v.here()
		} else {
			info.Retained = !info.Retained
		}
		t.Review = &info
	}
	return v.set(Changed, t)
}

// endOf is where a timeout or review ends, zero while nobody has said.
func endOf(t timeline.Tag) timeline.Place {
	switch {
	case t.Timeout != nil:
		return t.Timeout.End
	case t.Review != nil:
		return t.Review.End
	}
	return timeline.Place{}
}

// stops are the timeouts and reviews that follow a jam; -1 is before the first.
func (v View) stops(jam int) []timeline.ID {
	var out []timeline.ID
	for _, b := range v.Bout.Breaks {
		if b.AfterJam == jam {
			out = append(out, b.Tag)
		}
	}
	return out
}

// lastStop is the last one of a kind after this jam that was called before the
// place on film; "" for none.
func (v View) lastStop(kind timeline.Kind) timeline.ID {
	last := timeline.ID("")
	for _, id := range v.stops(v.Standing().Jam) {
		t, ok := v.tag(id)
		if ok && t.Kind == kind && t.Place.Footage == v.Now.Footage && t.Place.Film <= v.Now.Film {
			last = id
		}
	}
	return last
}
