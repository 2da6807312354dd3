package app

import (
	"cmp"
	"context"
	"slices"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/align"
	"whistlecut/timeline/sheet"
)

// PenaltyCalls is one penalty of the official sheet with the long blasts on film
// that may be its call.
type PenaltyCalls struct {
	Row    int // of the sheet's penalties, counted from 0
	Jam    timeline.ID
	Period int
	Number int // of the jam
	Side   timeline.Side
	Skater timeline.Number
	Code   string
	// Tag is a penalty tag of this jam that fits the row; empty when there is none.
	Tag timeline.ID
	// Calls are likeliest first. All penalties of a jam have the same: nothing heard
	// tells which skater is meant. Why says why there are none.
	Calls []PenaltyCall
	Why   string
}

// PenaltyCall is one place on film at which a penalty may have been called.
type PenaltyCall struct {
	Camera  string
	Footage timeline.ID
	Film    time.Duration // film time of the blast's beginning
	InJam   time.Duration // jam time
	// Chance that this is the call of one given penalty of the jam: 0..1.
	Chance float64
}

// PenaltyCalls lists, by jam, for every penalty of the bout's sheet the long blasts of its
// jam as they lie on film, so that a person can step through them. The jams have
// to be placed (Align). Sound heard before is not heard again. Notes say what
// could not be heard.
func (a *App) PenaltyCalls(ctx context.Context, s *Session) (list []PenaltyCalls, notes []string, err error) {
	paper, have, err := s.StoredSheet()
	if err != nil {
		return nil, nil, err
	}
	if !have || len(paper.Sheet.Penalties) == 0 {
		return nil, []string{"the bout has no penalty sheet; put one in with: whistlecut sheet FILE --into BOUT"}, nil
	}
	cameras, notes, err := a.listenToAll(ctx, s)
	if err != nil {
		return nil, notes, err
	}
	jams := map[jamKey]*timeline.Jam{}
	for i := range s.Bout.Jams {
		j := &s.Bout.Jams[i]
		jams[jamKey{j.Period, j.Number}] = j
	}
	count := map[jamKey]int{}
	for _, p := range paper.Sheet.Penalties {
		count[keyOf(p)]++
	}
	calls := map[jamKey][]PenaltyCall{}
	used := map[timeline.ID]bool{}
	for i, p := range paper.Sheet.Penalties {
		key := keyOf(p)
		x := PenaltyCalls{Row: i, Period: key.period, Number: key.number, Side: p.Side, Skater: p.Skater.Value, Code: p.Code.Value}
		j := jams[key]
		switch {
		case p.Jam.State != timeline.CellKnown:
			x.Why = "the sheet does not say in which jam"
		case j == nil:
			x.Why = "the bout has no such jam"
		default:
			x.Jam, x.Tag = j.ID, s.penaltyTag(j, p, used)
			if _, done := calls[key]; !done {
				calls[key] = s.callsIn(j, cameras, count[key])
			}
			x.Calls = calls[key]
			if _, _, shown := s.Bout.Alignment.FilmOf(timeline.InJam(j.ID, 0)); len(x.Calls) == 0 && shown {
				x.Why = "no long blast was heard in the jam"
			} else if len(x.Calls) == 0 {
				x.Why = "the jam is not placed on film"
			}
		}
		list = append(list, x)
	}
	slices.SortStableFunc(list, func(x, y PenaltyCalls) int {
		return cmp.Or(cmp.Compare(x.Period, y.Period), cmp.Compare(x.Number, y.Number))
	})
	return list, notes, nil
}

func keyOf(p sheet.Penalty) jamKey { return jamKey{max(p.Period.Value, 1), p.Jam.Value} }

// penaltyTag is a tag of the jam that names the row's skater and, where both do,
// its code; each tag is taken once.
func (s *Session) penaltyTag(j *timeline.Jam, p sheet.Penalty, used map[timeline.ID]bool) timeline.ID {
	for _, id := range j.Tags {
		t := s.Facts.Tags[id]
		if t.Kind != timeline.KindPenalty || t.Penalty == nil || used[id] || t.Side != p.Side || t.Who.Number != p.Skater.Value {
			continue
		}
		if t.Penalty.Code != "" && p.Code.Value != "" && t.Penalty.Code != p.Code.Value {
			continue
		}
		used[id] = true
		return id
	}
	return ""
}

// callsIn are the candidates of one jam on the best placed camera that has any.
func (s *Session) callsIn(j *timeline.Jam, cameras []camera, count int) []PenaltyCall {
	length := j.Duration
	if length <= 0 {
		length = max(s.Bout.Rules.JamLength, time.Second)
	}
	// An official may call a moment after the jam's end.
	parts, _ := s.Bout.Alignment.FilmRange(j.ID, timeline.TimeRange{End: length + align.CalledAfter})
	var out []PenaltyCall
	on := ""
	for _, part := range parts {
		if len(out) > 0 && part.Camera != on {
			break // another camera's view of the same
		}
		film, ok := filmIn(cameras, part.Footage)
		start, known := s.Bout.Alignment.OffsetIn(j.ID, part.Footage, part.From)
		if !ok || !known {
			continue
		}
		// The jam on this file's clock; it may have begun on the file before.
		p := align.Placed{Footage: part.Footage, Start: part.From - start, EndFootage: part.Footage, StartSeries: -1, EndSeries: -1}
		p.End = p.Start + length
		p.StartSeries, p.EndSeries = edgesOf(film, p)
		on = part.Camera
		for _, c := range align.Candidates(film, p, count) {
			out = append(out, PenaltyCall{Camera: part.Camera, Footage: part.Footage, Film: c.At, InJam: c.At - p.Start, Chance: c.Chance})
		}
	}
	slices.SortStableFunc(out, func(x, y PenaltyCall) int { return cmp.Compare(y.Chance, x.Chance) })
	return out
}

func filmIn(cameras []camera, id timeline.ID) (align.Film, bool) {
	for _, c := range cameras {
		for _, f := range c.films {
			if f.Footage == id {
				return f, true
			}
		}
	}
	return align.Film{}, false
}

// edgesOf finds the series that are the jam's start and end, -1: those nearest to
// its edges.
func edgesOf(f align.Film, p align.Placed) (start, end int) {
	const near = 400 * time.Millisecond
	start, end = -1, -1
	fromStart, fromEnd := near, near
	for i, x := range f.Series {
		if d := (x.Start - p.Start).Abs(); d < fromStart {
			start, fromStart = i, d
		}
		if d := (x.End - p.End).Abs(); d < fromEnd && i != start {
			end, fromEnd = i, d
		}
	}
	return start, end
}
