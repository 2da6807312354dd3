package strip

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/whistle"
)

// Input is what a model is built from.
type Input struct {
	Facts    timeline.Facts
	Bout     timeline.Bout // Derive of Facts
	Camera   string
	Heard    []Heard
	Findings []Finding
	Words    Words
}

// Heard is one series of whistles on one file.
type Heard struct {
	Footage    timeline.ID
	Kind       whistle.Kind
	Blasts     []timeline.TimeRange // film time
	Confidence float64              // 0..1
}

// Finding is one finding to show. Place says where; without a time it is shown
// in the middle of the jam.
type Finding struct {
	Key   timeline.ID
	Place timeline.Place
	Side  timeline.Side
	State State
	Text  string
}

// builder collects the items of one camera.
type builder struct {
	Input
	axis  *Axis
	items []Item
	off   int
	jams  []timeline.TimeRange // by index into Bout.Jams; zero: not on this camera
	jamOf map[timeline.ID]int  // of jams and of the tags in them
	have  map[status]bool      // status tagged by a person
}

// status is one kind of tag of one side in one jam.
type status struct {
	jam  int
	side timeline.Side
	kind timeline.Kind
}

// Build makes the model of one camera. The axis gives the strip times; only its
// pieces count, not its window.
func Build(in Input, axis *Axis) *Model {
	b := &builder{Input: in, axis: axis, jamOf: map[timeline.ID]int{}, have: map[status]bool{}}
	b.jams = make([]timeline.TimeRange, len(in.Bout.Jams))
	for n, j := range in.Bout.Jams {
		b.jamOf[j.ID] = n
		for _, id := range j.Tags {
			b.jamOf[id] = n
		}
		b.jam(n)
	}
	for n := range in.Bout.Jams {
		b.trips(n)
	}
	for _, v := range in.Bout.Visits {
		b.visit(v)
	}
	ids := make([]timeline.ID, 0, len(in.Facts.Tags))
	for id := range in.Facts.Tags {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		t := in.Facts.Tags[id]
		t.ID = id
		b.tag(t)
	}
	b.derivedStatus()
	for _, h := range in.Heard {
		b.heard(h)
	}
	for _, f := range in.Findings {
		b.finding(f)
	}
	m := newModel(b.items, b.margins())
	m.Off = b.off
	return m
}

// at is the strip time of a place on this camera.
func (b *builder) at(p timeline.Place) (time.Duration, bool) {
	if p.Footage != "" { // mostly the film is this camera's own
		if t, ok := b.axis.Strip(p.Footage, p.Film); ok {
			return t, true
		}
	}
	if !p.HasTime() {
		return 0, false
	}
	footage, film, ok := b.Bout.Alignment.FilmOn(b.Camera, p)
	if !ok {
		return 0, false
	}
	return b.axis.Strip(footage, film)
}

// span is the strip time between two places. Where one of them is not on film
// the other and the length tell, as far as the film goes.
func (b *builder) span(from, to timeline.Place, length time.Duration) (timeline.TimeRange, bool) {
	f, fOK := b.at(from)
	t, tOK := b.at(to)
	switch {
	case !fOK && !tOK:
		return timeline.TimeRange{}, false
	case !tOK:
		t = b.axis.within(f+length, f)
	case !fOK:
		f = b.axis.within(t-length, t)
	}
	return timeline.TimeRange{Start: f, End: max(f, t)}, true
}

// inJam is the strip time of a jam time, limited to the film that shows the jam.
func (b *builder) inJam(n int, at time.Duration) (time.Duration, bool) {
	if t, ok := b.at(timeline.InJam(b.Bout.Jams[n].ID, at)); ok {
		return t, true
	}
	on := b.jams[n]
	if on == (timeline.TimeRange{}) {
		return 0, false
	}
	if at <= 0 {
		return on.Start, true
	}
	return on.End, true
}

func (b *builder) jam(n int) {
	j := b.Bout.Jams[n]
	end := j.End
	if j.Duration > 0 {
		end = timeline.InJam(j.ID, j.Duration)
	}
	length := cmp.Or(j.Duration, b.Bout.Rules.JamLength)
	on, ok := b.span(timeline.InJam(j.ID, 0), end, length)
	if !ok {
		b.off++
		return
	}
	b.jams[n] = on
	score := [2]timeline.Range{}
	for s := range score {
		score[s] = j.Sides[s].GameBefore.Add(j.Sides[s].Points)
	}
	b.items = append(b.items, Item{
		ID: j.ID, Kind: KindJam, From: on.Start, To: on.End,
		Label: b.Words.Jam(j.Period, j.Number), Short: itoa(j.Number),
		Note: b.scoreText(n, score),
		Tip:  b.Words.JamTip(j.Period, j.Number, score[0], score[1], j.Duration),
		Open: j.Confidence < sureStart, Drag: edges(Begin, End),
	})
}

// sureStart is the confidence from which a jam's place on film is drawn as firm.
const sureStart = 0.9

// scoreText is the score after jam n: "12+" where it is that or more, "–" where
// nobody tagged points of the side yet.
func (b *builder) scoreText(n int, s [2]timeline.Range) string {
	side := func(i int) string {
		tagged := func(j timeline.Jam) bool { return j.Sides[i].Logged }
		switch {
		case !slices.ContainsFunc(b.Bout.Jams[:n+1], tagged):
			return "–"
		case s[i].Sure() && b.Bout.Jams[n].Sides[i].GameKnown:
			return itoa(s[i].Low)
		}
		return itoa(s[i].Low) + "+"
	}
	return side(0) + " : " + side(1)
}

func (b *builder) trips(n int) {
	j := b.Bout.Jams[n]
	for s, side := range timeline.Sides {
		for _, t := range j.Sides[s].Trips {
			if !t.Timed {
				continue
			}
			from, ok := b.inJam(n, t.Start)
			to, ok2 := b.inJam(n, t.End)
			if !ok || !ok2 {
				continue
			}
			i := Item{
				ID: b.tripTag(t), Kind: KindTrip, Side: side, From: from, To: max(from, to),
				Label: itoa(t.Points.Low), Open: !t.Points.Sure(), Drag: edges(Begin, End),
				Tip: b.Words.Trip(string(t.Jammer), t.Number, t.Points, t.Open),
			}
			switch {
			case i.Open:
				i.Label = b.Words.NotSeen
			case t.Number == 1:
				i.Label, i.Faint = "", true
			case t.Open:
				i.Faint = t.Points.High == 0
			}
			if t.Open {
				i.Drag = edges(Begin) // its end is the jam's
			}
			if i.ID == "" {
				i.Drag = 0
			}
			b.items = append(b.items, i)
		}
	}
}

// tripTag is the tag that says the trip, "" for a trip counted from passes.
func (b *builder) tripTag(t timeline.Trip) timeline.ID {
	for _, id := range t.Tags {
		if b.Facts.Tags[id].Kind == timeline.KindTrip {
			return id
		}
	}
	return ""
}

func (b *builder) visit(v timeline.Visit) {
	if v.InJam < 0 || !v.InTimed {
		return
	}
	from, ok := b.inJam(v.InJam, v.In)
	if !ok {
		return
	}
	to := b.axis.Total()
	switch {
	case v.OutJam >= 0 && v.OutTimed:
		if t, ok := b.inJam(v.OutJam, v.Out); ok {
			to = t
		}
	case v.OutJam >= 0 && b.jams[v.OutJam].End > 0:
		to = b.jams[v.OutJam].End
	default:
		to = max(b.jams[len(b.jams)-1].End, from)
	}
	number := string(v.Skater.Number)
	i := Item{
		ID: v.Tag, Kind: KindBox, Side: v.Skater.Side, From: from, To: max(from, to),
		Label: b.Words.InBox(number), Short: number, Open: !v.OutTimed, Drag: edges(Begin, End),
		Tip: b.Words.BoxTip(number, v.Served, v.Computed),
	}
	if i.ID == "" {
		i.Drag = 0
	}
	b.items = append(b.items, i)
}

func (b *builder) heard(h Heard) {
	if len(h.Blasts) == 0 {
		return
	}
	i := Item{Kind: KindSeries, sound: soundOf(h.Kind), Tip: b.Words.Series(h.Kind, h.Confidence), Faint: h.Confidence < 0.5}
	for _, x := range h.Blasts {
		f, ok := b.axis.Strip(h.Footage, x.Start)
		if !ok {
			continue
		}
		i.blasts = append(i.blasts, timeline.TimeRange{Start: f, End: f + x.Duration()})
	}
	if len(i.blasts) == 0 {
		return
	}
	i.From, i.To = i.blasts[0].Start, i.blasts[len(i.blasts)-1].End
	b.items = append(b.items, i)
}

func (b *builder) finding(f Finding) {
	at, ok := b.at(f.Place)
	if n, known := b.jamOf[f.Place.Jam]; !ok && known && b.jams[n] != (timeline.TimeRange{}) {
		at, ok = b.jams[n].Start+b.jams[n].Duration()/2, true
	}
	if !ok {
		b.off++
		return
	}
	b.items = append(b.items, Item{ID: f.Key, Kind: KindFinding, Side: f.Side, From: at, To: at, State: f.State, Tip: f.Text})
}

// margins is the running margin. Each jam begins at the score before it, so that
// points nobody can place do not get lost.
func (b *builder) margins() []step {
	var out []step
	for n, j := range b.Bout.Jams {
		on := b.jams[n]
		if on == (timeline.TimeRange{}) {
			continue
		}
		before := [2]timeline.Range{j.Sides[0].GameBefore, j.Sides[1].GameBefore}
		low, high := before[0].Low-before[1].High, before[0].High-before[1].Low
		out = append(out, step{on.Start, low, high})
		var changes []change
		for s, sign := range [2]int{1, -1} {
			for _, t := range j.Sides[s].Trips {
				at := on.End
				if x, ok := b.inJam(n, t.End); ok && t.Timed {
					at = x
				}
				c := change{at, t.Points.Low, t.Points.High}
				if sign < 0 {
					c.low, c.high = -t.Points.High, -t.Points.Low
				}
				changes = append(changes, c)
			}
		}
		out = append(out, sumUp(low, high, changes)...)
	}
	slices.SortStableFunc(out, func(a, b step) int { return cmp.Compare(a.at, b.at) })
	return out
}
