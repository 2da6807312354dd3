package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// jamTimes finds each jam's place, duration and bout time.
func (d *deriver) jamTimes() {
	a := d.bout.Alignment
	first := map[int]int{}
	for i := range d.bout.Jams {
		j := &d.bout.Jams[i]
		j.Confidence = a.Confidence(j.ID)
		if spots := a.Jams[j.ID]; j.Start.Footage == "" && len(spots) > 0 {
			// Placed by a mark rather than by its own tag.
			if f, film, ok := a.FilmOf(InJam(j.ID, 0)); ok {
				j.Start = OnFilm(f, film)
			}
		}
		d.jamEnd(j)
		if _, ok := first[j.Period]; !ok {
			first[j.Period] = i
		}
		if first[j.Period] == i {
			j.BoutTimeKnown = true
			continue
		}
		f, ok1 := a.Starts[d.bout.Jams[first[j.Period]].ID]
		g, ok2 := a.Starts[j.ID]
		if ok1 && ok2 && f.Group == g.Group {
			j.BoutTime, j.BoutTimeKnown = g.At-f.At, true
		}
	}
}

// jamEnd computes a jam's duration from its end place or marks.
func (d *deriver) jamEnd(j *Jam) {
	a := d.bout.Alignment
	end := j.End
	switch {
	case end.InJam && end.Jam == j.ID:
		j.Duration = end.Offset
	case end.Footage != "":
		if off, ok := a.OffsetIn(j.ID, end.Footage, end.Film); ok {
			j.Duration = off
		}
	}
	if g, ok := a.Ends[j.ID]; ok {
		if s, ok := a.Starts[j.ID]; ok && s.Group == g.Group && j.Duration == 0 {
			j.Duration = g.At - s.At
		}
	}
	if j.Duration < 0 {
		d.problem(Problem{Kind: ProblemAlignment, Jam: j.ID, Tags: []ID{j.ID}, Text: fmt.Sprintf("jam %s ends before it starts; its duration is taken as not known", j.Name())})
		j.Duration = 0
	}
	if j.Duration == 0 && j.Ended == EndTime {
		j.Duration = d.rules.JamLength
	}
	if j.End.IsZero() && j.Duration > 0 {
		j.End = InJam(j.ID, j.Duration)
	}
}

// assign finds the jam and the jam time of every tag.
func (d *deriver) assign() {
	for i := range d.tags {
		t := &d.tags[i]
		switch t.Kind {
		case KindJam, KindTimeout, KindReview:
			continue
		}
		jam, at, timed, why := d.locate(t)
		if jam < 0 {
			d.loose(t, why)
			continue
		}
		d.inJam[jam] = append(d.inJam[jam], placed{t, at, timed})
	}
	for i := range d.inJam {
		slices.SortStableFunc(d.inJam[i], func(x, y placed) int {
			if x.timed != y.timed {
				if x.timed {
					return -1
				}
				return 1
			}
			return cmp.Or(cmp.Compare(x.at, y.at), cmp.Compare(x.ID, y.ID))
		})
		j := &d.bout.Jams[i]
		if n := len(d.inJam[i]); n > 0 {
			j.Tags = make([]ID, 0, n)
		}
		for _, p := range d.inJam[i] {
			j.Tags = append(j.Tags, p.ID)
			if scoring(p.Kind) {
				j.Logged = true
			}
		}
	}
}

// locate finds a tag's jam: the one it names, else the one its place names, else
// the one its film time lies in.
func (d *deriver) locate(t *Tag) (jam int, at time.Duration, timed bool, why string) {
	named := t.Jam
	if named == "" {
		named = t.Place.Jam
	} else if t.Place.Jam != "" && t.Place.Jam != named {
		d.problem(Problem{
			Kind: ProblemContradict, Jam: t.Jam, Side: t.Side, Tags: []ID{t.ID},
			Text: fmt.Sprintf("%s tag %s names jam %s but is placed in jam %s; the jam it names is taken", t.Kind, t.ID, d.jamName(t.Jam), d.jamName(t.Place.Jam)),
		})
	}
	if named == "" {
		return d.locateFilm(t)
	}
	i, ok := d.jamIndex[named]
	if !ok {
		return -1, 0, false, fmt.Sprintf("it names jam %q, which is not there", named)
	}
	at, timed = d.timeIn(i, t.Place)
	return i, at, timed, ""
}

// timeIn is the jam time of a place in one given jam.
func (d *deriver) timeIn(jam int, p Place) (time.Duration, bool) {
	id := d.bout.Jams[jam].ID
	switch {
	case p.Footage != "":
		return d.bout.Alignment.OffsetIn(id, p.Footage, p.Film)
	case p.InJam && p.Jam == id:
		return p.Offset, true
	}
	return 0, false
}

func (d *deriver) locateFilm(t *Tag) (int, time.Duration, bool, string) {
	p := t.Place
	if p.Footage == "" {
		return -1, 0, false, "it has no place: neither a jam nor a film time"
	}
	if _, ok := d.bout.Alignment.Files[p.Footage]; !ok {
		return -1, 0, false, fmt.Sprintf("it is placed on film %q, which is not part of the bout", p.Footage)
	}
	id, off, ok := d.bout.Alignment.JamAt(p.Footage, p.Film)
	if !ok || t.lineup() && d.over(d.jamIndex[id], off) {
		// Between jams, who stands in the next line-up belongs to the next jam.
		if next, in, ok2 := d.bout.Alignment.NextJam(p.Footage, p.Film); ok2 && t.lineup() {
			return d.jamIndex[next], -in, true, ""
		}
	}
	if !ok {
		return -1, 0, false, "no jam is known to start before it on its film"
	}
	return d.jamIndex[id], off, true, ""
}

// lineup kinds belong, between two jams, to the jam to come; all others to the
// jam just over (penalties assessed between jams are written to that jam:
// common practice, no source).
func (t *Tag) lineup() bool {
	return t.Kind == KindLineup || t.Kind == KindBox || t.Kind == KindEvent
}

// over reports whether jam time at lies after the jam's end.
func (d *deriver) over(jam int, at time.Duration) bool {
	j := &d.bout.Jams[jam]
	if j.Duration > 0 {
		return at > j.Duration
	}
	return at > d.rules.JamLength+5*time.Second
}

// breaks finds the jam that each timeout and review follows.
func (d *deriver) breaks() {
	for i := range d.tags {
		t := &d.tags[i]
		if t.Kind != KindTimeout && t.Kind != KindReview {
			continue
		}
		after, clock := ID(""), time.Duration(0)
		switch {
		case t.Timeout != nil:
			after, clock = t.Timeout.AfterJam, t.Timeout.Clock
		case t.Review != nil:
			after, clock = t.Review.AfterJam, t.Review.Clock
		}
		b := Break{Tag: t.ID, Kind: t.Kind, Side: t.Side, Clock: clock, ClockKnown: clock > 0, ClockGiven: clock > 0}
		named := cmp.Or(after, t.Jam, t.Place.Jam)
		at, timed := time.Duration(0), false
		if named != "" {
			n, ok := d.jamIndex[named]
			if !ok {
				d.loose(t, fmt.Sprintf("it follows jam %q, which is not there", named))
				continue
			}
			b.AfterJam = n
			at, timed = d.timeIn(n, t.Place)
		} else {
			if n, _, ok := d.bout.Alignment.JamAt(t.Place.Footage, t.Place.Film); ok {
				b.AfterJam = d.jamIndex[n]
				at, timed = d.bout.Alignment.OffsetIn(n, t.Place.Footage, t.Place.Film)
			} else if _, _, ok := d.bout.Alignment.NextJam(t.Place.Footage, t.Place.Film); ok {
				b.AfterJam = -1
			} else {
				d.loose(t, "nothing says which jam it follows")
				continue
			}
		}
		if timed && b.AfterJam >= 0 {
			j := d.bout.Jams[b.AfterJam]
			b.Ends = j.Duration > 0 && at < j.Duration+time.Second && j.Ended == EndOfficial
		}
		d.bout.Breaks = append(d.bout.Breaks, b)
	}
	when := func(b Break) time.Duration {
		if g, ok := d.bout.Alignment.GroupAt(d.tag[b.Tag].Place.Footage, d.tag[b.Tag].Place.Film); ok {
			return g.At
		}
		return 0
	}
	slices.SortStableFunc(d.bout.Breaks, func(x, y Break) int {
		return cmp.Or(cmp.Compare(x.AfterJam, y.AfterJam), cmp.Compare(when(x), when(y)))
	})
	for _, b := range d.bout.Breaks {
		d.bout.Timeouts = append(d.bout.Timeouts, *d.tag[b.Tag])
	}
}
