package reel

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/phrase"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// source is a list of another bout that clips are taken from: moments, or the parts
// of one of its reels.
type source struct {
	text    string
	moments []timeline.Moment
	parts   []timeline.Part
}

// fromOther asks for another bout file, to take clips from it.
func (t *Task) fromOther() {
	if t.desk.Session() != nil {
		t.leaveDrawing()
		t.stop()
		form.File(t.desk.Window(), []string{app.Ext}, t.openOther)
	}
}

// openOther reads another bout and asks which of its lists is wanted.
func (t *Task) openOther(path string) {
	a, err1 := filepath.Abs(t.desk.Session().Path)
	b, err2 := filepath.Abs(path)
	if err1 == nil && err2 == nil && a == b {
		t.desk.Say(words.T("That is this bout: choose its moments in Find."))
		return
	}
	of, err := t.desk.App().Open(path, true)
	if err != nil {
		t.desk.Fail(err)
		return
	}
	defer of.Close() // what was read of it stays
	list := sources(of)
	if len(list) == 0 {
		t.desk.Say(words.T("Nothing in that bout is on film as far as its jams are placed."))
		return
	}
	var texts []string
	for _, s := range list {
		texts = append(texts, s.text)
	}
	t.panel.asking = form.Choose(t.desk.Window(), words.T("Clips of {.bout}", "bout", bout(of)), texts, 0, func(i int) { t.pickOther(of, list[i]) })
}

// bout names a bout: its title, its teams, or its file.
func bout(s *app.Session) string {
	f := s.Facts
	switch {
	case f.Info.Title != "":
		return f.Info.Title
	case f.Teams[0].Name != "" && f.Teams[1].Name != "":
		return f.Teams[0].Name + " – " + f.Teams[1].Name
	}
	return filepath.Base(s.Path)
}

// sources are the lists of a bout that have something on film.
func sources(s *app.Session) []source {
	var out []source
	add := func(name string, sel timeline.Selection) {
		sel.OnFilm = true
		list := slices.DeleteFunc(timeline.Find(s.Bout, s.Facts, sel), func(m timeline.Moment) bool { return len(m.Film) == 0 })
		if len(list) > 0 {
			out = append(out, source{text: name + "  |  " + words.N(len(list), "{.n} moment", "{.n} moments"), moments: list})
		}
	}
	kind := func(k timeline.Kind) timeline.Selection { return timeline.Selection{Kinds: []timeline.Kind{k}} }
	add(words.T("marks"), kind(timeline.KindMark))
	add(words.T("power jams"), timeline.Selection{Situations: []timeline.SituationKind{timeline.SitPowerJam}})
	add(words.T("star passes"), kind(timeline.KindStarPass))
	add(words.T("penalties"), kind(timeline.KindPenalty))
	add(words.T("lead changes in the score"), timeline.Selection{Situations: []timeline.SituationKind{timeline.SitLeadChange}})
	add(words.T("jams"), kind(timeline.KindJam))
	for _, r := range s.Facts.ReelsInOrder() {
		if parts := s.Facts.ReelParts(r.ID); len(parts) > 0 {
			out = append(out, source{text: words.T("reel {.reel}", "reel", r.Name) + "  |  " + words.N(len(parts), "{.n} part", "{.n} parts"), parts: parts})
		}
	}
	return out
}

// rows are what a list holds, a row each.
func (s source) rows(of *app.Session) []string {
	var out []string
	for _, m := range s.moments {
		place := phrase.Place(m, words.Code())
		if place == "" && len(m.Film) > 0 {
			place = clock(m.Film[0].From)
		}
		out = append(out, place+":  "+phrase.Moment(of, m, words.Code()))
	}
	for _, p := range s.parts {
		text := p.Caption.In(words.Code())
		if p.Card != nil {
			text = words.T("card") + ":  " + strings.TrimSpace(p.Card.Title.In(words.Code())+" "+text)
		} else if text == "" {
			l := reels.LabelsOf(of, *p.Clip)
			text = strings.TrimSpace(l["kind"] + " " + l["skater"])
		}
		out = append(out, terms.Clock(p.Length(), 0)+"  "+text)
	}
	return out
}

// otherForm is the dialog in which clips of another bout are ticked.
type otherForm struct {
	dialog *form.Dialog
	rows   *look.Rows
	ticked []bool
}

// pickOther lists moments or parts of another bout, to be ticked and taken.
func (t *Task) pickOther(of *app.Session, s source) {
	texts := s.rows(of)
	f := &otherForm{dialog: form.New(t.desk.Window(), words.T("Clips of {.bout}", "bout", bout(of)), fyne.NewSize(look.Size(560), look.Size(440))), ticked: make([]bool, len(texts))}
	f.rows = look.NewRows([]look.Column{{Width: 16}, {}}, func() int { return len(texts) }, func(i int) []look.Cell {
		mark := look.Cell{Shape: look.Ring, Colour: look.Now.Quiet}
		if f.ticked[i] {
			mark = look.Cell{Shape: look.Tick}
		}
		return []look.Cell{mark, {Text: texts[i]}}
	})
	tick := func(i int) {
		if i >= 0 && i < len(f.ticked) {
			f.ticked[i] = !f.ticked[i]
			f.rows.Refresh()
		}
	}
	all := func() {
		on := slices.Contains(f.ticked, false)
		for i := range f.ticked {
			f.ticked[i] = on
		}
		f.rows.Refresh()
	}
	f.rows.Chosen, f.rows.Opened = tick, tick
	f.dialog.Keys = func(k fyne.KeyName) bool {
		step := map[fyne.KeyName]int{fyne.KeyUp: -1, fyne.KeyDown: 1, fyne.KeyPageUp: -10, fyne.KeyPageDown: 10}
		switch by, ok := step[k]; {
		case ok:
			f.rows.Mark(min(max(f.rows.Index()+by, 0), len(texts)-1))
		case k == fyne.KeySpace:
			tick(f.rows.Index())
		case k == fyne.KeyA:
			all()
		default:
			return false
		}
		return true
	}
	f.dialog.Accept = func() { t.takeOther(of, s, f) }
	f.dialog.Show(f.rows, nil,
		f.dialog.Button(words.T("Tick all"), "A", all), look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close),
		look.NewButton(words.T("Take what is ticked"), words.T("Enter"), f.dialog.Accept).Strong())
	f.rows.Mark(0)
	f.dialog.Focus(nil)
	t.panel.asking, t.panel.other = f.dialog, f
}

// takeOther puts what is ticked behind the last part of the reel.
func (t *Task) takeOther(of *app.Session, s source, f *otherForm) {
	var pick source
	for i, on := range f.ticked {
		switch {
		case on && i < len(s.moments):
			pick.moments = append(pick.moments, s.moments[i])
		case on:
			pick.parts = append(pick.parts, s.parts[i-len(s.moments)])
		}
	}
	if len(pick.moments)+len(pick.parts) == 0 {
		f.dialog.Say(words.T("Tick what you want: Space ticks the row."))
		return
	}
	here := t.desk.Session()
	r, changes := t.target(here)
	var got reels.Collected
	if len(pick.moments) > 0 {
		got = reels.CollectFrom(here, of, r, pick.moments, reels.CollectOptions{Margins: app.MarginsOf(t.desk.Settings()), Captions: true})
	} else {
		var err error
		if got, err = reels.TakeParts(here, of, r, pick.parts); err != nil {
			f.dialog.Say(err.Error())
			return
		}
	}
	f.dialog.Close()
	n := len(got.Parts)
	if n == 0 {
		t.desk.Say(words.T("No film shows these moments."))
		return
	}
	if t.apply(words.N(n, "{.n} clip of another bout into the reel {.reel}", "{.n} clips of another bout into the reel {.reel}", "reel", r.Name), append(changes, got.Changes...)...) {
		t.reel, t.chosen = r.ID, got.Parts[0].ID
		t.desk.Say(words.N(n, "{.n} clip of {.bout} was put into the reel.", "{.n} clips of {.bout} were put into the reel.", "bout", bout(of)))
		t.refresh()
		_, i := t.part()
		t.choose(i)
	}
}
