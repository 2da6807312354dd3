package timeline

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"
)

// How anchors are weighed. All common practice, no source.
const (
	anchorSpread   = 100 * time.Millisecond // a hand on a whistle blast
	driftSpread    = 50e-6                  // crystal clocks of cameras against each other
	anchorOutlier  = time.Second            // farther from the rest: left out and reported
	anchorConflict = 250 * time.Millisecond // two hand marks of one edge may differ by this
)

type anchor struct {
	jam     ID
	edge    Edge
	stretch int
	at      time.Duration // stretch time
	conf    float64
	from    ID
}

type anchorKey struct {
	jam     ID
	edge    Edge
	stretch int
}

// align builds the alignment from footage, marks and the jams' own film places.
func (d *deriver) align() {
	a := &d.bout.Alignment
	a.Files = map[ID]FileSpot{}
	a.Jams = map[ID][]JamSpot{}
	a.Starts = map[ID]GroupTime{}
	a.Ends = map[ID]GroupTime{}
	d.layStretches()
	anchors := d.anchors()
	d.placeStretches(anchors)
	d.spotJams(anchors)
	d.checkFilmOrder()
}

func (d *deriver) layStretches() {
	a := &d.bout.Alignment
	files := d.facts.FootageInOrder()
	for i, f := range files {
		from := time.Duration(0)
		n := len(a.Stretches) - 1
		if i > 0 && f.Joined && files[i-1].Camera == f.Camera && files[i-1].Duration > 0 {
			from = a.Files[files[i-1].ID].From + files[i-1].Duration
			a.Stretches[n].Files = append(a.Stretches[n].Files, f.ID)
		} else {
			a.Stretches = append(a.Stretches, Stretch{Camera: f.Camera, Files: []ID{f.ID}, Group: -1, Scale: 1})
			n++
		}
		a.Files[f.ID] = FileSpot{Stretch: n, From: from, Length: max(f.Duration, 0), Range: f.Range}
	}
}

// anchors collects the best anchor per jam edge and stretch: hand marks before
// the jam tag's own place before what was heard.
func (d *deriver) anchors() []anchor {
	a := &d.bout.Alignment
	best := map[anchorKey]anchor{}
	rank := map[anchorKey]int{}
	add := func(jam ID, edge Edge, footage ID, film time.Duration, conf float64, r int, from ID) {
		f, ok := a.Files[footage]
		if !ok {
			d.problem(Problem{
				Kind: ProblemDangling, Jam: jam, Tags: []ID{from},
				Text: fmt.Sprintf("the %s of jam %s is placed on film %q, which is not part of the bout", edge, d.jamName(jam), footage),
			})
			return
		}
		k := anchorKey{jam, edge, f.Stretch}
		n := anchor{jam, edge, f.Stretch, f.From + film, conf, from}
		o, had := best[k]
		if had && r >= 1 && rank[k] >= 1 && absDuration(o.at-n.at) > anchorConflict {
			d.problem(Problem{
				Kind: ProblemAlignment, Jam: jam, Tags: []ID{o.from, from},
				Text: fmt.Sprintf("two hand-set marks put the %s of jam %s %.2f s apart on one film; %s is taken", edge, d.jamName(jam), absDuration(o.at-n.at).Seconds(), o.from),
			})
		}
		if !had || r > rank[k] || r == rank[k] && conf > o.conf {
			best[k], rank[k] = n, r
		}
	}
	marks := make([]SyncMark, 0, len(d.facts.Marks))
	for id, m := range d.facts.Marks {
		m.ID = id
		marks = append(marks, m)
	}
	slices.SortFunc(marks, func(x, y SyncMark) int { return cmp.Compare(x.ID, y.ID) })
	for _, m := range marks {
		if _, ok := d.jamIndex[m.Jam]; !ok {
			d.problem(Problem{Kind: ProblemDangling, Tags: []ID{m.ID}, Text: fmt.Sprintf("alignment mark %s is for jam %q, which is not there", m.ID, m.Jam)})
			continue
		}
		if m.Edge != EdgeStart && m.Edge != EdgeEnd {
			d.problem(Problem{Kind: ProblemEmpty, Jam: m.Jam, Tags: []ID{m.ID}, Text: fmt.Sprintf("alignment mark %s says neither start nor end", m.ID)})
			continue
		}
		if m.Hand {
			add(m.Jam, m.Edge, m.Footage, m.Film, 1, 2, m.ID)
		} else {
			add(m.Jam, m.Edge, m.Footage, m.Film, clamp01(m.Confidence), 0, m.ID)
		}
	}
	for _, t := range d.jamTag {
		conf, r := 1.0, 1
		if t.Source == "listener" {
			conf, r = clamp01(t.Confidence), 0
		}
		if t.Place.Footage != "" {
			add(t.ID, EdgeStart, t.Place.Footage, t.Place.Film, conf, r, t.ID)
		}
		if t.JamInfo.End.Footage != "" {
			add(t.ID, EdgeEnd, t.JamInfo.End.Footage, t.JamInfo.End.Film, conf, r, t.ID)
		}
	}
	out := make([]anchor, 0, len(best))
	for _, x := range best {
		out = append(out, x)
	}
	slices.SortFunc(out, func(x, y anchor) int {
		return cmp.Or(cmp.Compare(x.stretch, y.stretch), cmp.Compare(x.at, y.at), cmp.Compare(x.jam, y.jam), cmp.Compare(x.edge, y.edge))
	})
	return out
}

// placeStretches relates stretches to each other through the jam edges they
// share. The first of a group runs at scale 1 and is its clock.
func (d *deriver) placeStretches(anchors []anchor) {
	a := &d.bout.Alignment
	by := make([][]anchor, len(a.Stretches))
	for _, x := range anchors {
		by[x.stretch] = append(by[x.stretch], x)
	}
	located := func(x anchor) (GroupTime, bool) {
		if x.edge == EdgeStart {
			g, ok := a.Starts[x.jam]
			return g, ok
		}
		g, ok := a.Ends[x.jam]
		return g, ok
	}
	settle := func(i int) {
		s := &a.Stretches[i]
		s.Anchors = len(by[i])
		for _, x := range by[i] {
			g := GroupTime{s.Group, s.group(x.at)}
			if _, ok := located(x); ok {
				continue
			}
			if x.edge == EdgeStart {
				a.Starts[x.jam] = g
			} else {
				a.Ends[x.jam] = g
			}
		}
	}
	for group := 0; ; group++ {
		first := -1
		for i := range a.Stretches {
			if a.Stretches[i].Group < 0 && len(by[i]) > 0 && (first < 0 || len(by[i]) > len(by[first])) {
				first = i
			}
		}
		if first < 0 {
			return
		}
		a.Stretches[first].Group = group
		settle(first)
		for {
			next, most := -1, 0
			for i := range a.Stretches {
				if a.Stretches[i].Group >= 0 {
					continue
				}
				n := 0
				for _, x := range by[i] {
					if g, ok := located(x); ok && g.Group == group {
						n++
					}
				}
				if n > most {
					next, most = i, n
				}
			}
			if next < 0 {
				break
			}
			var pairs []fitPair
			for _, x := range by[next] {
				if g, ok := located(x); ok && g.Group == group {
					pairs = append(pairs, fitPair{x, g.At})
				}
			}
			d.fit(&a.Stretches[next], pairs)
			a.Stretches[next].Group = group
			settle(next)
		}
	}
}

type fitPair struct {
	anchor
	group time.Duration
}

// fit places one stretch on its group's clock: weighted least squares for the
// offset and the drift, the drift held towards none by what camera clocks do, so
// that two blasts a minute apart do not invent one. Pairs far from the weighted
// median are left out and reported.
func (d *deriver) fit(s *Stretch, pairs []fitPair) {
	order := slices.Clone(pairs)
	slices.SortFunc(order, func(x, y fitPair) int {
		return cmp.Or(cmp.Compare(x.group-x.at, y.group-y.at), cmp.Compare(x.from, y.from))
	})
	total := 0.0
	for _, p := range order {
		total += weight(p.conf)
	}
	median, run := order[0].group-order[0].at, 0.0
	for _, p := range order {
		run += weight(p.conf)
		if run >= total/2 {
			median = p.group - p.at
			break
		}
	}
	kept := pairs[:0:0]
	for _, p := range pairs {
		if absDuration(p.group-p.at-median) > anchorOutlier {
			d.problem(Problem{
				Kind: ProblemAlignment, Jam: p.jam, Tags: []ID{p.from},
				Text: fmt.Sprintf("the %s of jam %s on camera %q is %.1f s off from what the other marks say", p.edge, d.jamName(p.jam), s.Camera, (p.group - p.at - median).Seconds()),
			})
			continue
		}
		kept = append(kept, p)
	}
	var sw, sx, sy float64
	for _, p := range kept {
		w := weight(p.conf)
		sw += w
		sx += w * p.at.Seconds()
		sy += w * (p.group - p.at - median).Seconds()
	}
	mx, my := sx/sw, sy/sw
	var sxx, sxy float64
	for _, p := range kept {
		w := weight(p.conf)
		x := p.at.Seconds() - mx
		sxx += w * x * x
		sxy += w * x * ((p.group - p.at - median).Seconds() - my)
	}
	v := anchorSpread.Seconds() * anchorSpread.Seconds()
	drift := sxy / (sxx + v/(driftSpread*driftSpread))
	s.Scale = 1 + drift
	s.Offset = median + time.Duration((my-drift*mx)*float64(time.Second))
	var sq float64
	for _, p := range kept {
		r := (p.group - s.group(p.at)).Seconds()
		sq += weight(p.conf) * r * r
	}
	s.Residual = time.Duration(math.Sqrt(sq/sw) * float64(time.Second))
}

func weight(conf float64) float64 { return max(conf, 0.01) }

// spotJams says for each stretch where each jam of its group lies on it.
func (d *deriver) spotJams(anchors []anchor) {
	a := &d.bout.Alignment
	direct := map[anchorKey]anchor{}
	for _, x := range anchors {
		direct[anchorKey{x.jam, x.edge, x.stretch}] = x
	}
	for i := range d.bout.Jams {
		jam := d.bout.Jams[i].ID
		g, ok := a.Starts[jam]
		if !ok {
			continue
		}
		var spots []JamSpot
		for n := range a.Stretches {
			s := &a.Stretches[n]
			if s.Group != g.Group {
				continue
			}
			spot := JamSpot{Stretch: n, Start: s.own(g.At)}
			if x, ok := direct[anchorKey{jam, EdgeStart, n}]; ok {
				spot.Start, spot.Direct, spot.Confidence = x.at, true, x.conf
			}
			spots = append(spots, spot)
			s.Jams = append(s.Jams, StretchJam{jam, spot.Start, spot.Direct, spot.Confidence})
		}
		slices.SortStableFunc(spots, func(x, y JamSpot) int {
			if x.Direct != y.Direct {
				if x.Direct {
					return -1
				}
				return 1
			}
			return cmp.Compare(y.Confidence, x.Confidence)
		})
		a.Jams[jam] = spots
	}
	for n := range a.Stretches {
		slices.SortStableFunc(a.Stretches[n].Jams, func(x, y StretchJam) int { return cmp.Compare(x.Start, y.Start) })
	}
}

// checkFilmOrder reports jams whose film places contradict their order.
func (d *deriver) checkFilmOrder() {
	for i := 1; i < len(d.bout.Jams); i++ {
		x, y := &d.bout.Jams[i-1], &d.bout.Jams[i]
		gx, ok1 := d.bout.Alignment.Starts[x.ID]
		gy, ok2 := d.bout.Alignment.Starts[y.ID]
		if ok1 && ok2 && gx.Group == gy.Group && gy.At <= gx.At {
			d.problem(Problem{
				Kind: ProblemAlignment, Jam: y.ID, Tags: []ID{x.ID, y.ID},
				Text: fmt.Sprintf("jam %s starts on film before jam %s, which comes before it", d.jamName(y.ID), d.jamName(x.ID)),
			})
		}
	}
}

func clamp01(x float64) float64 {
	if !(x > 0) { // NaN counts as nothing known
		return 0
	}
	return min(x, 1)
}

func absDuration(x time.Duration) time.Duration {
	if x < 0 {
		return -x
	}
	return x
}
