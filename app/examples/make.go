package examples

import (
	"errors"
	"fmt"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/whistle"
)

// Options say how examples are made.
type Options struct {
	By string // who marks them; "" the author of the session's edits
	// Heard are the whistles of each footage file, if they are known: see [Heard].
	Heard map[timeline.ID]whistle.Result
}

// ErrMade says that a tag has an example already.
var ErrMade = errors.New("there is an example of it already")

// How long before what is tagged a moment begins where nobody said (common
// practice, no source): officials call within seconds of the act.
const (
	beforeCall = 3 * time.Second
	beforeTrip = 5 * time.Second // the pass that ends a trip is its last seconds
	beforeLead = 4 * time.Second
)

// OfPenalty makes an example of a penalty: the moment goes from the act to the call,
// and the call or the first long whistle from the act on is the signal, whichever
// comes first. The trainer's verdict stays open. The changes store it.
func OfPenalty(s *app.Session, tag timeline.ID, o Options) (timeline.Tag, []timeline.Change, error) {
	t, ok := s.Facts.Tags[tag]
	if !ok || t.Penalty == nil {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of %s: it is no penalty of this bout", tag)
	}
	call, ok := shownAt(s, t.Place)
	if !ok {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of the penalty %s: %w", tag, notShown(t.Place))
	}
	from, ok := onFile(s, call.Footage, t.Penalty.Act)
	if !ok || from > call.Film {
		from = call.Film - beforeCall
	}
	from = max(from, 0)
	x := begin(s, timeline.AskPenalty, o)
	x.End = timeline.OnFilm(call.Footage, call.Film)
	signal := firstLong(o.Heard[call.Footage], from, call.Film)
	// She may be tagged as sitting before the call is, when that was tagged late.
	for _, v := range s.Bout.Visits {
		for _, id := range v.Penalties {
			if id != tag {
				continue
			}
			if sat, ok := onFile(s, call.Footage, s.Facts.Tags[v.Tag].Place); ok && sat >= from {
				signal = min(signal, sat)
			}
		}
	}
	x.Signal = timeline.OnFilm(call.Footage, signal)
	x.Called = timeline.Answer{Choice: timeline.ChoiceYes}
	if t.Penalty.Seen != timeline.NotSeen {
		x.Called.Code = t.Penalty.Code
		if c, ok := s.Bout.Rules.Code(t.Penalty.Code); ok {
			x.Called.Section = c.Section
		}
	}
	x.Words = t.Penalty.Words
	return store(s, t, timeline.OnFilm(call.Footage, from), x)
}

// firstLong is when the first long whistle from a film time on begins, at most to.
// Pairs (lead) and fours (the jam's end) tell of no penalty.
func firstLong(heard whistle.Result, from, to time.Duration) time.Duration {
	for _, x := range heard.Series {
		if (x.Kind == whistle.Long || x.Kind == whistle.Unclear) && x.Start > from && x.Start < to {
			to = x.Start
		}
	}
	return to
}

// OfTrip asks whether the pass that ends a trip was earned: yes when the trip
// scored, no when it scored nothing, open when only a range of points is known.
func OfTrip(s *app.Session, tag timeline.ID, o Options) (timeline.Tag, []timeline.Change, error) {
	t, ok := s.Facts.Tags[tag]
	if !ok || t.Trip == nil {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of %s: it is no trip of this bout", tag)
	}
	end, ok := shownAt(s, t.Place)
	if !ok {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of the trip %s: %w", tag, notShown(t.Place))
	}
	from := end.Film - beforeTrip
	if start, ok := onFile(s, end.Footage, t.Trip.Start); ok {
		from = max(from, start)
	}
	from = min(max(from, 0), end.Film)
	x := begin(s, timeline.AskPass, o)
	// The points are shown once the trip has ended.
	x.End, x.Signal = timeline.OnFilm(end.Footage, end.Film), timeline.OnFilm(end.Footage, end.Film)
	switch {
	case t.Seen == timeline.NotSeen:
	case t.Trip.Points > 0:
		x.Called.Choice = timeline.ChoiceYes
	default:
		x.Called.Choice = timeline.ChoiceNo
	}
	return store(s, t, timeline.OnFilm(end.Footage, from), x)
}

// OfJam asks whether a jammer is lead: where lead was given, that is the signal;
// where nobody was lead, the end of the first initial trip is the moment.
func OfJam(s *app.Session, jam timeline.ID, o Options) (timeline.Tag, []timeline.Change, error) {
	j, ok := s.Bout.Jam(jam)
	t := s.Facts.Tags[jam]
	if !ok || t.JamInfo == nil {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of %s: it is no jam of this bout", jam)
	}
	x := begin(s, timeline.AskLead, o)
	at, lead, known := time.Duration(0), false, false
	for _, side := range j.Sides {
		if side.LeadTimed && side.Lead {
			at, lead, known = side.LeadAt, true, true
		}
	}
	for _, side := range j.Sides {
		for _, trip := range side.Trips {
			if !lead && trip.Number == 1 && trip.Timed && !trip.Open && (!known || trip.End < at) {
				at, known = trip.End, true
			}
		}
	}
	if !known {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of jam %s: nobody tagged when lead was given or an initial trip ended", j.Name())
	}
	end, ok := shownAt(s, timeline.InJam(jam, at))
	if !ok {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of jam %s: %w", j.Name(), notShown(timeline.InJam(jam, at)))
	}
	x.End = timeline.OnFilm(end.Footage, end.Film)
	x.Called.Choice = timeline.ChoiceNo
	if lead {
		x.Called.Choice, x.Signal = timeline.ChoiceYes, x.End
	}
	return store(s, t, timeline.OnFilm(end.Footage, max(end.Film-beforeLead, 0)), x)
}

// OfMark makes an example of a mark, a note or any other tag that is no call: nobody
// called anything, so the call of the day is no, and there is no signal. What was
// noted becomes the trainer's words.
func OfMark(s *app.Session, tag timeline.ID, o Options) (timeline.Tag, []timeline.Change, error) {
	t, ok := s.Facts.Tags[tag]
	if !ok {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of %s: it is no tag of this bout", tag)
	}
	at, ok := shownAt(s, t.Place)
	if !ok {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example of the %s %s: %w", t.Kind, tag, notShown(t.Place))
	}
	x := uncalled(s, o)
	x.Words = t.Note
	return store(s, t, timeline.OnFilm(at.Footage, at.Film), x)
}

// OfPlace makes an example of a place on film that has no tag: nobody called
// anything there. to is where the moment ends, the same as from for an instant.
func OfPlace(s *app.Session, footage timeline.ID, from, to time.Duration, o Options) (timeline.Tag, []timeline.Change, error) {
	f, ok := s.Facts.Footage[footage]
	if !ok {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example: %s is no footage of this bout", footage)
	}
	if from < 0 || to < from || f.Duration > 0 && to > f.Duration {
		return timeline.Tag{}, nil, fmt.Errorf("cannot make an example: %s to %s is not on the film, which is %s long", app.Clock(from), app.Clock(to), app.Clock(f.Duration))
	}
	x := uncalled(s, o)
	if to > from {
		x.End = timeline.OnFilm(footage, to)
	}
	t := timeline.Tag{}
	if jam, offset, ok := s.Bout.Alignment.JamAt(footage, from); ok {
		if j, ok := s.Bout.Jam(jam); ok && (j.Duration == 0 || offset <= j.Duration) {
			t.Jam = jam
		}
	}
	return store(s, t, timeline.OnFilm(footage, from), x)
}

// OfMoment makes an example of a moment that was found: of a penalty, a trip, a jam
// or a lead as such; of anything else as of a moment that nobody called.
func OfMoment(s *app.Session, m timeline.Moment, o Options) (timeline.Tag, []timeline.Change, error) {
	switch {
	case m.Kind == timeline.KindPenalty && len(m.Tags) > 0:
		return OfPenalty(s, m.Tags[0], o)
	case m.Kind == timeline.KindTrip && len(m.Tags) > 0:
		return OfTrip(s, m.Tags[0], o)
	case m.Kind == timeline.KindJam, m.Kind == timeline.KindLead, m.Kind == timeline.KindLost,
		m.Situation == timeline.SitNoLead, m.Situation == timeline.SitLeadLost:
		return OfJam(s, m.Jam, o)
	case m.Kind == timeline.KindExample:
		return timeline.Tag{}, nil, ErrMade
	case m.Kind != "" && len(m.Tags) > 0:
		return OfMark(s, m.Tags[0], o)
	case len(m.Film) > 0:
		f := m.Film[0]
		return OfPlace(s, f.Footage, f.From, max(f.From, f.To), o)
	}
	return timeline.Tag{}, nil, errors.New("cannot make an example of it: no film shows the moment")
}

// begin is an example with what is the same for all.
func begin(s *app.Session, ask timeline.Question, o Options) timeline.Example {
	by := o.By
	if by == "" {
		by = s.File.Log().Author()
	}
	return timeline.Example{Ask: ask, Edition: s.Bout.Rules.Edition, By: by}
}

func uncalled(s *app.Session, o Options) timeline.Example {
	x := begin(s, timeline.AskPenalty, o)
	x.Called.Choice = timeline.ChoiceNo
	return x
}

// store is the tag of an example made of another tag (or of none), checked.
func store(s *app.Session, of timeline.Tag, at timeline.Place, x timeline.Example) (timeline.Tag, []timeline.Change, error) {
	if of.ID != "" {
		if made, ok := Made(s.Facts, of.ID); ok {
			return made, nil, ErrMade
		}
	}
	x.Source = of.ID
	t := timeline.Tag{
		ID: s.File.Log().NewID(), Kind: timeline.KindExample, Place: at, Side: of.Side, Who: of.Who, Jam: of.Jam, Example: &x,
	}
	if of.JamInfo != nil {
		t.Jam = of.ID
	}
	if err := timeline.CheckTag(t); err != nil {
		return t, nil, fmt.Errorf("cannot make an example: %w", err)
	}
	return t, []timeline.Change{timeline.SetTag(t)}, nil
}

// Made is the example that was made of a tag, if any; of several the first by ID.
func Made(f timeline.Facts, source timeline.ID) (timeline.Tag, bool) {
	var found timeline.Tag
	for _, t := range f.Tags {
		if t.Example != nil && t.Example.Source == source && (found.ID == "" || t.ID < found.ID) {
			found = t
		}
	}
	return found, found.ID != ""
}
