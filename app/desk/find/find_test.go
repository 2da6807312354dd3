package find

import (
	"context"
	"errors"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/export/clip"
	"whistlecut/timeline"
)

// opened is the task on a simulated bout, shown in a window as wide as the panel
// is on a laptop.
func opened(t *testing.T, o tasktest.Options) (*tasktest.Desk, *Task) {
	t.Helper()
	d := tasktest.New(t, o)
	f := New(d)
	d.Task = f
	tasktest.Wear(t, look.DarkPalette, 1)
	d.Open(t, 416, 520)
	return d, f
}

// pick toggles the open field's option with that text.
func pick(t *testing.T, d *tasktest.Desk, f *Task, text string) {
	t.Helper()
	for i, o := range f.options {
		if o.text == text {
			d.Keys(t, slices.Repeat([]string{"Up"}, len(f.options))...)
			d.Keys(t, slices.Repeat([]string{"Down"}, i)...)
			d.Keys(t, "Return")
			return
		}
	}
	t.Fatalf("no option %q", text)
}

func found(d *tasktest.Desk, sel timeline.Selection) []string {
	var out []string
	for _, m := range timeline.Find(d.Opened.Bout, d.Opened.Facts, sel) {
		out = append(out, m.Key)
	}
	return out
}

func listed(f *Task) []string {
	var out []string
	for _, m := range f.moments {
		out = append(out, m.Key)
	}
	return out
}

// TestChoices: what is chosen by keys finds what the same selection finds.
func TestChoices(t *testing.T) {
	d, f := opened(t, tasktest.Options{Seed: 3, Jams: 5})
	who := timeline.SkaterRef{Side: timeline.Home, Number: d.Opened.Bout.Teams[0].Roster[2].Number}
	for _, x := range []struct {
		name string
		do   func()
		want timeline.Selection
	}{
		{"nothing: every jam", func() {}, timeline.Selection{}},
		{"penalties", func() { d.Keys(t, "K"); pick(t, d, f, "penalty"); d.Keys(t, "K") }, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}}},
		{"two kinds", func() { d.Keys(t, "K"); pick(t, d, f, "penalty"); pick(t, d, f, "trip") }, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty, timeline.KindTrip}}},
		{"a skater as a role", func() {
			d.Keys(t, "S")
			pick(t, d, f, skaterText(d.Opened, who))
			d.Keys(t, "R")
			pick(t, d, f, "blocker")
		}, timeline.Selection{Skaters: []timeline.SkaterRef{who}, Roles: []timeline.Role{timeline.Blocker}}},
		{"a side in a period", func() {
			d.Keys(t, "K")
			pick(t, d, f, "trip")
			d.Keys(t, "S", "Down", "Return", "T")
			pick(t, d, f, "period 2")
		}, timeline.Selection{Kinds: []timeline.Kind{timeline.KindTrip}, Side: timeline.Away, Periods: []int{2}}},
		{"a situation", func() { d.Keys(t, "I"); pick(t, d, f, "no lead") }, timeline.Selection{Situations: []timeline.SituationKind{timeline.SitNoLead}}},
		{"a code", func() { d.Keys(t, "D"); pick(t, d, f, "X  cut") }, timeline.Selection{Codes: []string{"X"}}},
		{"a score state on film", func() { d.Keys(t, "B"); pick(t, d, f, "away leads"); d.Keys(t, "M") }, timeline.Selection{Score: &timeline.ScoreState{Side: timeline.Away, State: timeline.Leading}, OnFilm: true}},
		{"taken back", func() { d.Keys(t, "K"); pick(t, d, f, "trip"); d.Keys(t, "M", "BackSpace") }, timeline.Selection{Kinds: []timeline.Kind{timeline.KindTrip}}},
		{"the start of power jams", func() { d.Keys(t, "1") }, timeline.Selection{Situations: []timeline.SituationKind{timeline.SitPowerJam}}},
		{"the start of star passes", func() { d.Keys(t, "2") }, timeline.Selection{Kinds: []timeline.Kind{timeline.KindStarPass}}},
		{"penalties of a skater", func() { d.Keys(t, "3"); pick(t, d, f, skaterText(d.Opened, who)) }, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}, Skaters: []timeline.SkaterRef{who}}},
	} {
		t.Run(x.name, func(t *testing.T) {
			f.open = noField
			d.Keys(t, "Escape")
			x.do()
			if !reflect.DeepEqual(f.sel, x.want) {
				t.Errorf("chose %+v, want %+v", f.sel, x.want)
			}
			if got, want := listed(f), found(d, x.want); !slices.Equal(got, want) {
				t.Errorf("listed %v, want %v", got, want)
			}
			f.open = noField
			f.refresh()
			want := words.N(len(f.moments), "{.n} moment", "{.n} moments")
			if f.panel.title.Text != want {
				t.Errorf("the heading says %q, want %q", f.panel.title.Text, want)
			}
		})
	}
}

// TestOptionCounts: the number beside a choice is what is found with it.
func TestOptionCounts(t *testing.T) {
	d, f := opened(t, tasktest.Options{Seed: 3})
	d.Keys(t, "K")
	for i, o := range f.options {
		if got, want := f.count(i), len(found(d, o.toggled)); got != want {
			t.Errorf("%s: %d, want %d", o.text, got, want)
		}
	}
}

func TestWords(t *testing.T) {
	d, f := opened(t, tasktest.Options{Seed: 3})
	d.Apply("a note", timeline.SetTag(timeline.Tag{ID: "n", Kind: timeline.KindNote, Place: timeline.OnFilm(tasktest.FilmID, time.Minute), Note: "Lovely bridge"}))
	d.Keys(t, "W")
	test.Type(f.panel.entry, "bridge")
	f.panel.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if !slices.Equal(listed(f), []string{"n"}) || f.panel.entry.Visible() {
		t.Errorf("listed %v", listed(f))
	}
	d.Keys(t, "Escape")
	if f.chosenSome() {
		t.Error("Escape left something chosen")
	}
}

// TestLooked: Down leads the film, Enter loops with what led to it.
func TestLooked(t *testing.T) {
	d, f := opened(t, tasktest.Options{Seed: 3, Jams: 5})
	d.Keys(t, "K")
	pick(t, d, f, "penalty")
	d.Keys(t, "Escape")
	d.Went = nil
	d.Keys(t, "Down")
	m := f.moments[1]
	if len(d.Went) != 1 || d.Went[0] != timeline.OnFilm(tasktest.FilmID, m.Film[0].From) {
		t.Errorf("film went to %v, want %v", d.Went, m.Film)
	}
	d.Keys(t, "Return")
	want := tasktest.LoopAsked{Footage: tasktest.FilmID, From: m.Film[0].From - 8*time.Second, To: m.Film[0].To + 4*time.Second}
	if len(d.Loops) != 1 || d.Loops[0] != want {
		t.Errorf("loops %v, want %v", d.Loops, want)
	}
}

// TestPlayedThrough: each moment that is not left out is played with its margins,
// and a person who takes the film elsewhere ends it.
func TestPlayedThrough(t *testing.T) {
	d, f := opened(t, tasktest.Options{Seed: 3, Jams: 5})
	d.Keys(t, "K")
	pick(t, d, f, "penalty")
	d.Keys(t, "Escape")
	n := len(f.moments)
	if n < 4 {
		t.Fatalf("%d penalties", n)
	}
	left := f.moments[1].Key
	f.chosen = left
	d.Keys(t, "X")
	f.chosen = f.moments[0].Key
	d.Keys(t, "P")
	var played []string
	for range 10 * n {
		if f.run == nil {
			break
		}
		played = append(played, f.chosen)
		s := f.run.list[f.run.at]
		d.At(s.From)
		d.At((s.From + s.To) / 2)
		d.At(s.To)
	}
	want := slices.DeleteFunc(listed(f), func(k string) bool { return k == left })
	if !slices.Equal(played, want) {
		t.Errorf("played %v, want %v", played, want)
	}
	if d.Where.Playing {
		t.Error("the film runs on after the last moment")
	}
	f.chosen = f.moments[0].Key
	d.Keys(t, "P")
	d.At(f.run.list[0].From)
	d.At(f.run.list[0].To + time.Minute)
	if f.run != nil {
		t.Error("playing went on after the film was taken elsewhere")
	}
}

// TestCut: the cutter gets the moments that are not left out, the folder and the
// margins of the form; then it says where the clips are.
func TestCut(t *testing.T) {
	d, f := opened(t, tasktest.Options{Seed: 3, Jams: 5})
	d.Keys(t, "K")
	pick(t, d, f, "penalty")
	d.Keys(t, "Escape")
	left := f.moments[0].Key
	f.chosen = left
	d.Keys(t, "X")
	var got []timeline.Moment
	var with app.CutOptions
	fail := error(nil)
	f.cut = func(_ context.Context, _ *app.App, s *app.Session, m []timeline.Moment, o app.CutOptions) (app.CutReport, error) {
		if s != d.Opened {
			t.Error("another bout was cut")
		}
		got, with = m, o
		rep := app.CutReport{NotShot: m[:1]}
		for range m[1:] {
			rep.Clips = append(rep.Clips, clip.Clip{Result: clip.Result{Out: "x.mp4"}})
		}
		return rep, fail
	}
	d.Keys(t, "C")
	form := f.panel.asking
	if form == nil || !form.dialog.IsOpen() {
		t.Fatal("no form")
	}
	d.Picture(t, "find-cut")
	dir := filepath.Join(t.TempDir(), "clips of ours")
	form.folder.SetText("")
	form.accept()
	if form.dialog.Said() == "" || got != nil {
		t.Error("a form without a folder was taken")
	}
	form.folder.SetText(dir)
	form.before["penalty"].SetText("soon")
	form.accept()
	if !strings.Contains(form.dialog.Said(), "penalty") || got != nil {
		t.Errorf("said %q", form.dialog.Said())
	}
	form.before["penalty"].SetText("2,5")
	form.after["penalty"].SetText("7")
	form.captions.SetChecked(true)
	form.accept()
	if form.dialog.IsOpen() || len(got) != len(f.moments)-1 || slices.ContainsFunc(got, func(m timeline.Moment) bool { return m.Key == left }) {
		t.Fatalf("%d moments of %d were cut", len(got), len(f.moments))
	}
	if with.Dir != dir || !with.Captions || with.Margins.Of("penalty") != (clip.Margin{Before: 2500 * time.Millisecond, After: 7 * time.Second}) {
		t.Errorf("cut with %+v", with)
	}
	if d.Set.ClipDir != dir {
		t.Errorf("kept folder %q", d.Set.ClipDir)
	}
	if said := d.Said[len(d.Said)-1]; !strings.Contains(said, dir) || !strings.Contains(said, "not on film") || f.panel.full.Text() != said {
		t.Errorf("said %q", said)
	}
	fail = errors.New("the disk is full")
	d.Keys(t, "C")
	f.panel.asking.accept()
	if len(d.Failed) != 1 || !strings.Contains(f.told, "goes on with them") {
		t.Errorf("failed %v, said %q", d.Failed, f.told)
	}
}

func TestEmptyStates(t *testing.T) {
	t.Run("no tags", func(t *testing.T) {
		d, f := opened(t, tasktest.Options{Seed: 3, NoTags: true})
		golden(t, d, "empty_no_tags")
		d.Keys(t, "Down", "Return", "K", "Escape", "P", "C", "X", "1", "W", "Escape", "BackSpace")
		if len(d.Failed) != 0 || len(f.moments) != 0 {
			t.Errorf("failed %v, found %v", d.Failed, f.moments)
		}
	})
	t.Run("nothing found", func(t *testing.T) {
		d, f := opened(t, tasktest.Options{Seed: 3})
		f.choose(timeline.Selection{Words: "nobody wrote this"})
		if len(f.moments) != 0 || f.panel.title.Text != "0 moments" || !strings.Contains(f.panel.full.Text(), "Nothing of that") {
			t.Errorf("%d found, %q, %q", len(f.moments), f.panel.title.Text, f.panel.full.Text())
		}
		golden(t, d, "empty_nothing_found")
	})
}

// golden compares the panel with its kept markup.
func golden(t *testing.T, d *tasktest.Desk, name string) {
	t.Helper()
	d.Picture(t, "find-"+name)
	test.AssertRendersToMarkup(t, name+".xml", d.Win.Canvas())
}

func TestPanels(t *testing.T) {
	d, f := opened(t, tasktest.Options{Seed: 3})
	golden(t, d, "panel_start")
	d.Keys(t, "3", "Escape")
	f.chosen = f.moments[1].Key
	d.Keys(t, "X")
	golden(t, d, "panel_penalties")
	d.Keys(t, "S", "Down", "Down")
	golden(t, d, "panel_skaters")
}

// TestPictures draws panels in other sizes, themes and languages; tasktest.EnvPictures
// keeps them, to be looked at.
func TestPictures(t *testing.T) {
	for _, x := range []struct {
		name, lang string
		scale      float64
		w, h       float32
		light      bool
	}{
		{"find-laptop", "en", 1, 416, 520, false},
		{"find-small", "de", 1, 372, 390, false},
		{"find-large", "en", 1.5, 558, 488, false},
		{"find-es", "es", 1, 416, 520, true},
		{"find-fr", "fr", 1, 416, 520, false},
	} {
		d, _ := opened(t, tasktest.Options{Seed: 5, Jams: 8})
		words.Set(x.lang)
		p := look.DarkPalette
		if x.light {
			p = look.LightPalette
		}
		tasktest.Wear(t, p, x.scale)
		f := New(d)
		d.Task = f
		d.Open(t, x.w, x.h)
		d.Keys(t, "1")
		d.Keys(t, "K")
		d.Keys(t, "Down", "Down", "Down", "Down", "Down", "Down", "Return", "K", "Escape")
		d.Picture(t, x.name)
		d.Keys(t, "Escape")
		d.Keys(t, "3", "Escape", "Down", "Down")
		d.Picture(t, x.name+"-2")
	}
	words.Set("en")
	look.Use(look.DarkPalette, 1)
}

// TestToExamples: the chosen moment becomes an example, or all that are not left out.
func TestToExamples(t *testing.T) {
	d, f := opened(t, tasktest.Options{Seed: 3, Jams: 5})
	f.choose(timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}})
	d.Keys(t, "Down", "Q")
	if got := d.Staged.Examples; len(got) != 1 || got[0].Key != f.moments[1].Key {
		t.Fatalf("examples %+v", got)
	}
	d.Staged.Examples = nil
	d.Keys(t, "X")
	f.allToExamples()
	if n := len(d.Staged.Examples); n != len(f.moments)-1 {
		t.Errorf("%d of %d moments", n, len(f.moments))
	}
}
