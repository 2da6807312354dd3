package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// away is a stretch of one jam that a skater could not play for a penalty: off
// to the box, in it, until released.
type away struct {
	who  Number
	span TimeRange // jam time
	why  Reason
}

// spreadAway lists for each jam and side who was away, from the call where it is
// known and else from sitting down (the rules end a jammer's scoring with the
// penalty, 3.4 and 4.2.2; the tags may only know the box).
func (d *deriver) spreadAway() {
	d.away = make([][2][]away, len(d.bout.Jams))
	visited := map[ID]bool{}
	for n := range d.bout.Visits {
		v := &d.bout.Visits[n]
		if v.Skater.Number == "" {
			continue
		}
		start, byCall := moment{v.InJam, v.In, v.InTimed}, false
		ids := []ID{v.Tag}
		for _, id := range v.Penalties {
			visited[id] = true
			m := d.momentOf(id)
			if d.tag[id].Who.Number == v.Skater.Number && m.timed && (m.before(start) || !start.timed && m.jam <= start.jam) {
				start, byCall = m, true
				ids = append(ids, id)
			}
		}
		last := v.OutJam
		if last < 0 {
			last = v.InJam // after it, nobody knows whether she was still in
		}
		for i := start.jam; i <= last; i++ {
			if a, ok := d.awayFor(v, i, start, byCall, ids); ok {
				at := &d.away[i][v.Skater.Side.Index()]
				*at = append(*at, a)
			}
		}
	}
	for _, p := range d.penalties {
		length := d.length(p.jam)
		if visited[p.ID] || !p.timed || p.at > length || p.serves.Number != p.Who.Number {
			continue
		}
		start := max(p.at, 0)
		a := away{who: p.Who.Number, span: TimeRange{start, min(length, start+d.rules.PenaltyTime)}}
		until := "to the end of the jam"
		if a.span.End < length {
			until = "for the length of a penalty at least; no box visit is tagged"
		}
		if a.span.End <= a.span.Start {
			continue
		}
		a.why = Reason{Text: fmt.Sprintf("%s %s is penalised from the call %s", p.Side, p.Who.Number, until), Section: "4.4", Tags: []ID{p.ID}}
		at := &d.away[p.jam][p.Side.Index()]
		*at = append(*at, a)
	}
	for i := range d.away {
		for n := range d.away[i] {
			slices.SortStableFunc(d.away[i][n], func(x, y away) int {
				return cmp.Or(cmp.Compare(x.span.Start, y.span.Start), cmp.Compare(x.who, y.who))
			})
		}
	}
}

// length is a jam's duration, or the full length where it is not known.
func (d *deriver) length(jam int) time.Duration {
	if l := d.bout.Jams[jam].Duration; l > 0 {
		return l
	}
	return d.rules.JamLength
}

// awayFor is the part of one absence that falls in jam i.
func (d *deriver) awayFor(v *Visit, i int, start moment, byCall bool, ids []ID) (away, bool) {
	length := d.length(i)
	a := away{who: v.Skater.Number, span: TimeRange{0, length}}
	from, until := "from sitting down", "to the end of the jam"
	if byCall {
		from = "from the call"
	}
	if start.jam == i {
		if !start.timed {
			return a, false
		}
		a.span.Start = max(start.at, 0)
	}
	switch {
	case v.OutJam == i && v.OutTimed:
		a.span.End = min(v.Out, length)
		until = "to her release"
		if v.Computed {
			until = "to her release as the rules have it"
		}
	case v.OutJam == i:
		until = "to some moment of the jam that is not known; the end of the jam is taken"
	case v.OutJam < 0 && v.InJam == i && v.InTimed:
		// Not known when she got out, but no penalty is shorter than its time.
		if end := max(v.In, 0) + d.rules.PenaltyTime; end < length {
			a.span.End = end
			until = "for the length of a penalty at least; her release is not known"
		}
	}
	a.why = Reason{Text: fmt.Sprintf("%s %s is penalised %s %s", v.Skater.Side, v.Skater.Number, from, until), Section: "4.4", Tags: ids}
	return a, a.span.End > a.span.Start
}

// jammersAway are those stretches in which the absent skater had the jammer's
// position.
func jammersAway(side *JamSide, list []away) []away {
	var out []away
	for _, a := range list {
		for _, held := range []struct {
			who  Number
			span TimeRange
		}{
			{side.Jammer.Number, side.firstSpan()},
			{side.NewJammer, side.secondSpan()},
		} {
			if held.who != a.who || held.who == "" {
				continue
			}
			x := a
			x.span = TimeRange{max(a.span.Start, held.span.Start), min(a.span.End, held.span.End)}
			if x.span.End > x.span.Start {
				out = append(out, x)
			}
		}
	}
	return out
}

const forever = time.Duration(1<<63 - 1)

func (s *JamSide) firstSpan() TimeRange {
	if s.StarPass && s.StarPassTimed {
		return TimeRange{0, s.StarPassAt}
	}
	return TimeRange{0, forever}
}

func (s *JamSide) secondSpan() TimeRange {
	if s.StarPass && s.StarPassTimed {
		return TimeRange{s.StarPassAt, forever}
	}
	return TimeRange{}
}

// powerJams: exactly one jammer can score and the other is penalised.
func (d *deriver) powerJams(i int, add func(Situation)) {
	j := &d.bout.Jams[i]
	var off [2][]away
	for _, s := range Sides {
		off[s.Index()] = jammersAway(&j.Sides[s.Index()], d.away[i][s.Index()])
	}
	for _, s := range Sides {
		mine, theirs := off[s.Index()], off[s.Other().Index()]
		var blocked []TimeRange
		for _, a := range mine {
			blocked = append(blocked, a.span)
		}
		var last *Situation
		var found []Situation
		for _, a := range theirs {
			for _, r := range minus(a.span, blocked) {
				why := a.why
				if last != nil && r.Start <= last.Range.End && last.Who == a.who {
					// A second penalty of the same jammer goes on where the first ends.
					last.Range.End = max(last.Range.End, r.End)
					last.Why = append(last.Why, why)
					continue
				}
				found = append(found, Situation{Kind: SitPowerJam, Side: s, Who: a.who, Range: r, Why: []Reason{why}})
				last = &found[len(found)-1]
			}
		}
		for _, f := range found {
			if j.Duration == 0 {
				f.Why = append(f.Why, Reason{Text: "the jam's length is not known; its full length is taken", Section: "1.1"})
			}
			add(f)
		}
	}
}

// minus is what is left of a range outside others.
func minus(r TimeRange, others []TimeRange) []TimeRange {
	left := []TimeRange{r}
	for _, o := range others {
		var next []TimeRange
		for _, x := range left {
			if !x.Overlaps(o) {
				next = append(next, x)
				continue
			}
			if x.Start < o.Start {
				next = append(next, TimeRange{x.Start, o.Start})
			}
			if o.End < x.End {
				next = append(next, TimeRange{o.End, x.End})
			}
		}
		left = next
	}
	return left
}

// shortHanded: one side has fewer blockers on the track than the other, because
// more of them are penalised. N is by how many.
func (d *deriver) shortHanded(i int, add func(Situation)) {
	j := &d.bout.Jams[i]
	var off [2][]away
	edges := map[time.Duration]bool{}
	for _, s := range Sides {
		side := &j.Sides[s.Index()]
		for _, a := range d.away[i][s.Index()] {
			spans := []TimeRange{a.span}
			for _, x := range jammersAway(side, []away{a}) {
				spans = minus(a.span, []TimeRange{x.span})
			}
			for _, sp := range spans {
				x := a
				x.span = sp
				off[s.Index()] = append(off[s.Index()], x)
				edges[sp.Start], edges[sp.End] = true, true
			}
		}
	}
	if len(edges) == 0 {
		return
	}
	at := make([]time.Duration, 0, len(edges))
	for e := range edges {
		at = append(at, e)
	}
	slices.Sort(at)
	var gone []away // reused
	goneAt := func(n int, t time.Duration) []away {
		gone = gone[:0]
		for _, a := range off[n] {
			if a.span.Contains(t) && !slices.ContainsFunc(gone, func(x away) bool { return x.who == a.who }) {
				gone = append(gone, a)
			}
		}
		return gone
	}
	for _, s := range Sides {
		var open *Situation
		flush := func() {
			if open != nil {
				add(*open)
				open = nil
			}
		}
		for k := 0; k+1 < len(at); k++ {
			n := -len(goneAt(s.Other().Index(), at[k]))
			mine := goneAt(s.Index(), at[k])
			n += len(mine)
			if n <= 0 {
				flush()
				continue
			}
			if open != nil && open.N == n && open.Range.End == at[k] {
				open.Range.End = at[k+1]
				continue
			}
			flush()
			open = &Situation{Kind: SitShort, Side: s, N: n, Range: TimeRange{at[k], at[k+1]}}
			for _, a := range mine {
				open.Why = append(open.Why, a.why)
			}
		}
		flush()
	}
}
