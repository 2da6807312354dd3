package reel

import (
	"slices"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// Collect puts moments behind the last part of the reel worked on; one is made
// where there is none. It may be called while another task is shown.
func (t *Task) Collect(moments []timeline.Moment) {
	s := t.desk.Session()
	if s == nil || len(moments) == 0 {
		return
	}
	r, changes := t.target(s)
	got := reels.Collect(s, r, moments, reels.CollectOptions{Margins: app.MarginsOf(t.desk.Settings()), Captions: true})
	if len(got.Parts) == 0 {
		t.desk.Say(words.T("No film shows these moments."))
		return
	}
	n := len(got.Parts)
	label := words.N(n, "{.n} moment into the reel {.reel}", "{.n} moments into the reel {.reel}", "reel", r.Name)
	if !t.apply(label, append(changes, got.Changes...)...) {
		return
	}
	t.reel, t.chosen, t.fresh = r.ID, got.Parts[0].ID, !t.shown
	said := words.N(n, "{.n} moment was put into the reel {.reel}.", "{.n} moments were put into the reel {.reel}.", "reel", r.Name)
	if k := len(got.NotShot); k > 0 {
		said += " " + words.N(k, "{.n} moment is not on film.", "{.n} moments are not on film.")
	}
	t.desk.Say(said)
	t.refresh()
}

// target is the reel that moments go to, and the change that makes it where there
// is none.
func (t *Task) target(s *app.Session) (timeline.Reel, []timeline.Change) {
	if r, ok := t.current(); ok {
		return r, nil
	}
	r, c := reels.New(s, t.newName(), words.Code())
	return r, []timeline.Change{c}
}

// newName is a name no reel of the bout has.
func (t *Task) newName() string {
	all := t.facts().ReelsInOrder()
	for n := len(all) + 1; ; n++ {
		name := words.T("Reel {.n}", "n", n)
		if !slices.ContainsFunc(all, func(r timeline.Reel) bool { return strings.EqualFold(r.Name, name) }) {
			return name
		}
	}
}

// allMarks puts every mark of the bout that is not in the reel yet into it.
func (t *Task) allMarks() {
	s := t.desk.Session()
	if s == nil {
		return
	}
	marks := reels.FromMarks(s)
	if len(marks) == 0 {
		t.desk.Say(words.T("There is no mark yet: F marks the moment shown."))
		return
	}
	in := map[timeline.ID]bool{}
	for _, p := range t.parts() {
		if p.Clip != nil {
			for _, id := range p.Clip.Tags {
				in[id] = true
			}
		}
	}
	marks = slices.DeleteFunc(marks, func(m timeline.Moment) bool {
		return slices.ContainsFunc(m.Tags, func(id timeline.ID) bool { return in[id] })
	})
	if len(marks) == 0 {
		t.desk.Say(words.T("All marks are in this reel already."))
		return
	}
	t.Collect(marks)
}

// nearMark is how far the film may stand from a mark that is meant.
const nearMark = time.Second

// here puts the moment where the film stands into the reel, after the chosen part:
// the mark there, else the place itself.
func (t *Task) here() {
	s := t.desk.Session()
	n := t.desk.Now()
	if t.away() {
		t.desk.Say(words.T("This film is of another bout: O takes moments from there."))
		return
	}
	if s == nil || n.Footage == "" {
		t.desk.Say(words.T("No film is shown whose moment could be taken."))
		return
	}
	m := timeline.Moment{Kind: timeline.KindMark, Jam: n.Jam, Place: n.Place()}
	if j, ok := s.Bout.Jam(n.Jam); ok && n.InJam {
		m.Period, m.Number = j.Period, j.Number
	} else {
		m.Jam = ""
	}
	for _, x := range reels.FromMarks(s) {
		for _, f := range x.Film {
			if d := f.From - n.Film; f.Footage == n.Footage && d.Abs() <= nearMark {
				m = x
			}
		}
	}
	m.Film = []timeline.FilmStretch{{Camera: s.Facts.Footage[n.Footage].Camera, Footage: n.Footage, From: n.Film, To: n.Film}}
	r, changes := t.target(s)
	got := reels.Collect(s, r, []timeline.Moment{m}, reels.CollectOptions{Margins: app.MarginsOf(t.desk.Settings()), Captions: m.Note != ""})
	if len(got.Parts) == 0 {
		return
	}
	p, put := t.behind(got.Parts[0])
	if t.apply(words.T("moment at {.time} into the reel {.reel}", "time", clock(n.Film), "reel", r.Name), append(changes, put...)...) {
		t.reel, t.chosen = r.ID, p.ID
		t.desk.Say(words.T("The moment is part {.n} of the reel {.reel}.", "n", t.number(p.ID), "reel", r.Name))
		t.refresh()
	}
}

// behind gives a new part its place after the chosen one and lists the changes
// that store it. Where the numbers between two neighbours are used up, all are
// numbered anew.
func (t *Task) behind(p timeline.Part) (timeline.Part, []timeline.Change) {
	list := t.parts()
	_, i := t.part()
	switch {
	case i < 0:
		p.Order = 1
		return p, []timeline.Change{timeline.SetPart(p)}
	case i+1 == len(list):
		p.Order = list[i].Order + 1
		return p, []timeline.Change{timeline.SetPart(p)}
	}
	low, high := list[i].Order, list[i+1].Order
	if p.Order = low + (high-low)/2; p.Order > low && p.Order < high {
		return p, []timeline.Change{timeline.SetPart(p)}
	}
	var out []timeline.Change
	list = slices.Insert(list, i+1, p)
	for k := range list {
		list[k].Order = float64(k + 1)
		out = append(out, timeline.SetPart(list[k]))
	}
	return list[i+1], out
}

// number is a part's number from 1.
func (t *Task) number(id timeline.ID) int {
	return slices.IndexFunc(t.parts(), func(p timeline.Part) bool { return p.ID == id }) + 1
}

// clock is a film time to tenths of a second.
func clock(d time.Duration) string { return terms.Clock(d, 1) }
