package reel

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strconv"
	"time"

	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// slowing is a stretch of slow motion that was begun at a film time.
type slowing struct {
	begun bool
	from  time.Duration
}

// rates of slow motion, in the order they are offered.
var rates = []float64{0.5, 0.25, 0.1, 2}

const (
	holdLength = 2 * time.Second // of a held picture, and by how much it grows
	longest    = 10 * time.Minute
	shortCard  = time.Second
	tiny       = 40 * time.Millisecond // less than a frame
)

// clip is the chosen part when it is a clip whose film is there; else it says so.
func (t *Task) clip() (timeline.Part, timeline.Clip, bool) {
	p, i := t.part()
	switch {
	case i < 0:
	case p.Clip == nil:
		t.desk.Say(words.T("That is a card; this is for clips."))
	case t.on(*p.Clip) == "":
		t.missing(p)
	default:
		c := *p.Clip
		c.Speeds, c.Freezes = slices.Clone(c.Speeds), slices.Clone(c.Freezes)
		return p, c, true
	}
	return p, timeline.Clip{}, false
}

// store keeps a part whose clip was changed.
func (t *Task) store(label string, p timeline.Part, c timeline.Clip) {
	p.Clip = &c
	if t.run != nil {
		t.stop()
	}
	t.apply(label, timeline.SetPart(p))
}

// inClip is the film time when the film stands in the chosen clip; else it says so.
func (t *Task) inClip(c timeline.Clip) (time.Duration, bool) {
	n := t.desk.Now()
	if shown := c.Shown(); n.Footage != t.on(c) || n.Film < shown.Start || n.Film >= shown.End {
		t.desk.Say(words.T("The film does not stand in this clip: the arrow keys choose it again."))
		return 0, false
	}
	return n.Film, true
}

// margins makes the film before and after the moment longer or shorter; of a card
// its time.
func (t *Task) margins(before, after time.Duration) {
	p, i := t.part()
	if i >= 0 && p.Card != nil {
		c := *p.Card
		c.Length = min(max(c.Length+before+after, shortCard), longest)
		p.Card = &c
		t.apply(words.T("length of card {.n}", "n", i+1), timeline.SetPart(p))
		return
	}
	p, c, ok := t.clip()
	if !ok {
		return
	}
	c.Before = min(max(c.Before+before, 0), c.Range.Start)
	c.After = min(max(c.After+after, 0), longest)
	if d := t.long(c); d > 0 {
		c.After = min(c.After, max(d-c.Range.End, 0))
	}
	if c.Before == p.Clip.Before && c.After == p.Clip.After {
		t.desk.Say(words.T("There is no more film there."))
		return
	}
	t.store(words.T("margins of part {.n}", "n", i+1), p, c)
}

// edge makes the clip begin or end at the frame shown; of a drawing when it comes
// or goes.
func (t *Task) edge(end bool) {
	if t.draw != nil {
		t.draw.edge(end)
		return
	}
	p, c, ok := t.clip()
	n := t.desk.Now()
	if !ok {
		return
	}
	if n.Footage != t.on(c) {
		t.desk.Say(words.T("The film does not stand in this clip: the arrow keys choose it again."))
		return
	}
	shown := c.Shown()
	if end {
		shown.End = n.Film
	} else {
		shown.Start = n.Film
	}
	if shown.End-shown.Start < tiny {
		t.desk.Say(words.T("A clip begins before it ends: go to another frame first."))
		return
	}
	// The moment itself stays in the clip.
	c.Range.Start = min(max(c.Range.Start, shown.Start), shown.End)
	c.Range.End = min(max(c.Range.End, c.Range.Start), shown.End)
	c.Before, c.After = c.Range.Start-shown.Start, shown.End-c.Range.End
	t.store(words.T("edges of part {.n}", "n", t.number(p.ID)), p, c)
}

// slower begins a stretch of slow motion at the film's place, and ends it there
// when it was begun.
func (t *Task) slower() {
	p, c, ok := t.clip()
	if !ok {
		return
	}
	at, ok := t.inClip(c)
	if !ok {
		return
	}
	if !t.slow.begun {
		t.slow = slowing{true, at}
		t.desk.Say(words.T("Slow motion from here: go to its end and press {.key} again.", "key", "S"))
		t.refresh()
		return
	}
	from, to := min(t.slow.from, at), max(t.slow.from, at)
	t.slow = slowing{}
	if to-from < tiny {
		t.desk.Say(words.T("Slow motion needs a beginning and a later end."))
		t.refresh()
		return
	}
	c.Speeds = slices.DeleteFunc(c.Speeds, func(s timeline.Speed) bool { return s.Range.Start < to && s.Range.End > from })
	c.Speeds = append(c.Speeds, timeline.Speed{Range: timeline.TimeRange{Start: from, End: to}, Rate: rates[0]})
	slices.SortFunc(c.Speeds, func(a, b timeline.Speed) int { return cmp.Compare(a.Range.Start, b.Range.Start) })
	t.store(words.T("slow motion in part {.n}", "n", t.number(p.ID)), p, c)
}

// nextRate gives the stretch at the film's place its next speed; after the last it
// is gone.
func (t *Task) nextRate() {
	if p, c, ok := t.clip(); ok {
		at := t.desk.Now().Film
		i := slices.IndexFunc(c.Speeds, func(s timeline.Speed) bool { return at >= s.Range.Start && at <= s.Range.End })
		if i < 0 {
			t.desk.Say(words.T("There is no slow motion here."))
			return
		}
		t.rateOf(p, c, i)
	}
}

func (t *Task) rateOf(p timeline.Part, c timeline.Clip, i int) {
	n := t.number(p.ID)
	k := slices.Index(rates, c.Speeds[i].Rate) + 1
	if k < len(rates) {
		c.Speeds[i].Rate = rates[k]
		t.store(words.T("speed in part {.n}", "n", n), p, c)
		return
	}
	c.Speeds = slices.Delete(c.Speeds, i, i+1)
	t.store(words.T("usual speed in part {.n}", "n", n), p, c)
}

// hold holds the picture shown, or a held one for longer; of a drawing it says
// that it is seen on the held picture only. less makes it shorter.
func (t *Task) hold(less bool) {
	if t.draw != nil && !less {
		t.draw.frozenOnly()
		return
	}
	p, c, ok := t.clip()
	if !ok {
		return
	}
	at, ok := t.inClip(c)
	if !ok {
		return
	}
	n := t.number(p.ID)
	i := slices.IndexFunc(c.Freezes, func(f timeline.Freeze) bool { d := f.At - at; return d.Abs() < tiny/2 })
	switch {
	case i < 0 && less:
		t.desk.Say(words.T("No picture is held here."))
		return
	case i < 0:
		c.Freezes = append(c.Freezes, timeline.Freeze{At: at, Length: holdLength})
		slices.SortFunc(c.Freezes, func(a, b timeline.Freeze) int { return cmp.Compare(a.At, b.At) })
	case less && c.Freezes[i].Length <= holdLength:
		c.Freezes = slices.Delete(c.Freezes, i, i+1)
	case less:
		c.Freezes[i].Length -= holdLength
	default:
		c.Freezes[i].Length = min(c.Freezes[i].Length+holdLength, longest)
	}
	t.store(words.T("held picture in part {.n}", "n", n), p, c)
}

// mute takes the clip's sound away, or gives it back.
func (t *Task) mute() {
	if p, c, ok := t.clip(); ok {
		c.Mute = !c.Mute
		t.store(words.T("sound of part {.n}", "n", t.number(p.ID)), p, c)
	}
}

// beside puts the next other camera beside the clip, and after the last none.
func (t *Task) beside() {
	p, c, ok := t.clip()
	if !ok {
		return
	}
	if c.Other != nil {
		t.desk.Say(words.T("A clip of another bout is shown by one camera."))
		return
	}
	f := t.facts()
	list := []timeline.ID{""}
	s := t.desk.Session()
	seen := map[string]bool{f.Footage[c.Footage].Camera: true}
	jam, offset, placed := s.Bout.Alignment.JamAt(c.Footage, c.Range.Start)
	for _, x := range f.FootageInOrder() {
		if seen[x.Camera] || !placed {
			continue
		}
		seen[x.Camera] = true
		if id, _, ok := s.Bout.Alignment.FilmOn(x.Camera, timeline.InJam(jam, offset)); ok {
			list = append(list, id)
		}
	}
	if len(list) == 1 {
		t.desk.Say(words.T("No other camera shows this moment, or its film is not lined up."))
		return
	}
	c.Beside = list[(slices.Index(list, c.Beside)+1)%len(list)]
	t.store(words.T("second camera of part {.n}", "n", t.number(p.ID)), p, c)
	t.desk.Beside(c.Beside)
}

// nextPoint goes to the next point of the clip: its beginning, the moment, slow
// motion, held pictures, its end.
func (t *Task) nextPoint() {
	_, c, ok := t.clip()
	if !ok {
		return
	}
	shown := c.Shown()
	list := []time.Duration{shown.Start, c.Range.Start, max(shown.End-tiny, shown.Start)}
	for _, s := range c.Speeds {
		list = append(list, s.Range.Start, s.Range.End)
	}
	for _, f := range c.Freezes {
		list = append(list, f.At)
	}
	slices.Sort(list)
	n := t.desk.Now()
	at := list[0]
	for _, x := range list {
		if n.Footage == t.on(c) && x > n.Film+tiny/2 {
			at = x
			break
		}
	}
	t.stop()
	t.desk.GoFilm(t.on(c), at)
}

// card puts a title card behind the chosen part.
func (t *Task) card() {
	s := t.desk.Session()
	if s == nil {
		return
	}
	r, changes := t.target(s)
	p, put := t.behind(timeline.Part{
		ID: s.File.Log().NewID(), Reel: r.ID,
		Card: &timeline.Card{Title: timeline.Words{}, Length: reels.CardLength},
	})
	if t.apply(words.T("card in the reel {.reel}", "reel", r.Name), append(changes, put...)...) {
		t.reel, t.chosen = r.ID, p.ID
		t.refresh()
		t.write(0)
	}
}

// twice puts a copy of the chosen part behind it.
func (t *Task) twice() {
	s := t.desk.Session()
	p, i := t.part()
	if s == nil || i < 0 {
		return
	}
	p = copied(p)
	p.ID = s.File.Log().NewID()
	p, put := t.behind(p)
	if t.apply(words.T("part {.n} twice", "n", i+1), put...) {
		t.chosen = p.ID
		t.refresh()
	}
}

// copied shares nothing with the part that it was made of.
func copied(p timeline.Part) timeline.Part {
	p.Caption = maps.Clone(p.Caption)
	if p.Card != nil {
		c := *p.Card
		c.Title = maps.Clone(c.Title)
		p.Card = &c
	}
	if p.Clip != nil {
		c := *p.Clip
		c.Speeds, c.Freezes, c.Tags, c.Skaters = slices.Clone(c.Speeds), slices.Clone(c.Freezes), slices.Clone(c.Tags), slices.Clone(c.Skaters)
		p.Clip = &c
	}
	return p
}

// seconds writes a time as seconds with at most two decimals.
func seconds(d time.Duration) string {
	return words.T("{.n} s", "n", strconv.FormatFloat(math.Round(d.Seconds()*100)/100, 'f', -1, 64))
}
