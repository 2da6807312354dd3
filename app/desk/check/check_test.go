package check

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
)

// opened is the task on a simulated bout whose sheet has planted mistakes, shown
// in a window as wide as the panel is on a laptop.
func opened(t *testing.T, o tasktest.Options, mistakes int, classes ...sheet.Cause) (*tasktest.Desk, *Task) {
	t.Helper()
	d := tasktest.New(t, o)
	c := New(d)
	d.Task = c
	if mistakes >= 0 {
		paper, planted := plant.Plant(plant.Sheet(d.Game), o.Seed, mistakes, classes...)
		if len(planted) < mistakes {
			t.Fatalf("%d mistakes planted, want %d", len(planted), mistakes)
		}
		d.SetPaper(paper)
	}
	tasktest.Wear(t, look.DarkPalette, d.Set.TextScale())
	d.Open(t, 416, 520)
	return d, c
}

func find(t *testing.T, c *Task, cause sheet.Cause) sheet.Finding {
	t.Helper()
	for n, i := range c.items {
		if i.finding != nil && i.finding.Cause == cause {
			c.choose(n)
			return *i.finding
		}
	}
	t.Fatalf("no finding with cause %q among %d rows", cause, len(c.items))
	return sheet.Finding{}
}

// still reports that a finding is there, or that tags and sheet differ anywhere:
// what the sheet contradicts itself in may show after a correction.
func still(d *tasktest.Desk, f sheet.Finding) bool {
	return slices.ContainsFunc(d.Report().Findings, func(x sheet.Finding) bool {
		return x.Key == f.Key || x.State == sheet.StateDiffers && x.Cause != sheet.CauseRunning && x.Cause != sheet.CauseJamTotal
	})
}

// TestCorrected: a tag that was wrong is changed as the sheet says, in one step
// that undo takes back.
func TestCorrected(t *testing.T) {
	d, c := opened(t, tasktest.Options{Seed: 3, Jams: 5}, 1, sheet.CauseTripDigit)
	f := find(t, c, sheet.CauseTripDigit)
	before := d.Opened.Facts.Tags[f.TagID[0]].Trip.Points
	if c.Waiting() != 1 {
		t.Fatalf("%d wait", c.Waiting())
	}
	d.Keys(t, "1")
	tag := d.Opened.Facts.Tags[f.TagID[0]]
	if got := number(tag.Trip.Points); got != f.Sheet || tag.Trip.Points == before {
		t.Errorf("the trip has %s points, the sheet %s", got, f.Sheet)
	}
	if r := d.Opened.Facts.Resolutions[timeline.ID(f.Key)]; r.Verdict != timeline.VerdictTagWrong {
		t.Errorf("kept %+v", r)
	}
	if still(d, f) || len(d.Shows) != 0 {
		t.Errorf("findings %v, shown %v", d.Report().Findings, d.Shows)
	}
	if _, err := d.Opened.File.Undo(); err != nil {
		t.Fatal(err)
	}
	d.Changed()
	if got := d.Opened.Facts.Tags[f.TagID[0]].Trip.Points; got != before || c.Waiting() != 1 || len(d.Opened.Facts.Resolutions) != 0 {
		t.Errorf("after undo the trip has %d points, %d wait, kept %v", got, c.Waiting(), d.Opened.Facts.Resolutions)
	}
}

// TestCorrectable: what one change of tags settles is settled by it, without new
// findings; what more than one could settle goes to Log and stays open.
func TestCorrectable(t *testing.T) {
	for _, x := range []struct {
		cause sheet.Cause
		one   bool
	}{
		{sheet.CauseTripDigit, true},
		{sheet.CauseLead, true},
		{sheet.CausePenCode, true},
		{sheet.CausePenMissing, true},
		{sheet.CauseMissingRow, false},
		{sheet.CauseRunning, false},
	} {
		t.Run(string(x.cause), func(t *testing.T) {
			d, c := opened(t, tasktest.Options{Seed: 4, Jams: 5}, 1, x.cause)
			f := find(t, c, x.cause)
			d.Keys(t, "1")
			kept := d.Opened.Facts.Resolutions[timeline.ID(f.Key)].Verdict
			if kept != timeline.VerdictTagWrong {
				t.Errorf("kept %q", kept)
			}
			if x.one && (still(d, f) || len(d.Shows) != 0) {
				t.Errorf("findings %v, shown %v", d.Report().Findings, d.Shows)
			}
			if !x.one && (c.Waiting() != 1 || !slices.Equal(d.Shows, []string{task.Log}) || len(d.Went) == 0) {
				t.Errorf("%d wait, shown %v, film went to %v", c.Waiting(), d.Shows, d.Went)
			}
		})
	}
}

// TestKept: the other two ways keep the tags, with a note, and go on to the next
// open finding; 0 opens again.
func TestKept(t *testing.T) {
	for key, verdict := range map[string]string{"2": timeline.VerdictSheetDiffers, "3": timeline.VerdictUnclear} {
		t.Run(verdict, func(t *testing.T) {
			d, c := opened(t, tasktest.Options{Seed: 3, Jams: 7}, 5)
			n, tags := c.Waiting(), len(d.Opened.Facts.Tags)
			c.choose(1)
			first, next := c.items[1].key(), c.items[2].key()
			d.Keys(t, "N")
			if c.panel.detail.entry.Hidden {
				t.Fatal("no field for a note")
			}
			test.Type(c.panel.detail.entry, "seen twice ")
			c.panel.detail.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
			d.Keys(t, key)
			want := timeline.Resolution{ID: timeline.ID(first), Verdict: verdict, Note: "seen twice"}
			if got := d.Opened.Facts.Resolutions[timeline.ID(first)]; got != want {
				t.Errorf("kept %+v, want %+v", got, want)
			}
			if c.Waiting() != n-1 || len(d.Opened.Facts.Tags) != tags || c.chosen != next {
				t.Errorf("%d wait of %d, %d tags of %d, at %s, want %s", c.Waiting(), n, len(d.Opened.Facts.Tags), tags, c.chosen, next)
			}
			d.Keys(t, "O")
			for i := range c.items {
				if c.items[i].key() == first {
					c.choose(i)
				}
			}
			d.Keys(t, "0")
			if c.Waiting() != n || len(d.Opened.Facts.Resolutions) != 0 {
				t.Errorf("%d wait of %d after opening again", c.Waiting(), n)
			}
		})
	}
}

func TestSorted(t *testing.T) {
	d, c := opened(t, tasktest.Options{Seed: 3, Jams: 7}, 9)
	for _, x := range []struct {
		sort sorting
		less func(a, b item) bool // b may not stand above a
	}{
		{byStake, func(a, b item) bool {
			return b.finding != nil && (a.finding == nil || b.points() > a.points())
		}},
		{byBout, func(a, b item) bool {
			return b.period() > 0 && (a.period() == 0 || b.period() < a.period() || b.period() == a.period() && b.jam() < a.jam())
		}},
		{byCause, func(a, b item) bool {
			return b.finding != nil && (a.finding == nil || cause(b) < cause(a))
		}},
	} {
		if c.sort != x.sort {
			t.Fatalf("sorted by %d, want %d", c.sort, x.sort)
		}
		for i := 1; i < len(c.items); i++ {
			if x.less(c.items[i-1], c.items[i]) {
				t.Errorf("sort %d: row %d is out of order", x.sort, i)
			}
		}
		d.Keys(t, "S")
	}
	if c.sort != byStake {
		t.Error("the sorts do not come round")
	}
}

func TestFiltered(t *testing.T) {
	d, c := opened(t, tasktest.Options{Seed: 3, Jams: 7}, 9)
	all := len(d.Report().Findings) + len(d.Report().Unchecked)
	if len(c.items) != all {
		t.Fatalf("%d rows, want %d", len(c.items), all)
	}
	d.Keys(t, "T")
	if len(c.items) == 0 || len(c.items) == all {
		t.Errorf("%d rows of %d for home", len(c.items), all)
	}
	for _, i := range c.items {
		if i.side() == timeline.Away {
			t.Error("an away row is left")
		}
	}
	d.Keys(t, "T", "T", "P")
	for _, i := range c.items {
		if i.period() > 1 {
			t.Error("a row of period 2 is left")
		}
	}
	d.Keys(t, "P", "P")
	if c.show.period != 0 || len(c.items) != all {
		t.Errorf("period %d, %d rows of %d", c.show.period, len(c.items), all)
	}
	if n := len(d.Report().Unchecked); n > 0 {
		d.Keys(t, "U")
		if len(c.items) != all-n {
			t.Errorf("%d rows without the unchecked, want %d", len(c.items), all-n)
		}
	}
}

// TestWalked: Up and Down lead the film, Enter loops the moment, and the next
// place is asked for ahead.
func TestWalked(t *testing.T) {
	d, c := opened(t, tasktest.Options{Seed: 3, Jams: 7}, 6)
	d.Went = nil
	d.Keys(t, "Down")
	want, ok := c.place(c.items[1])
	if c.index() != 1 || !ok || len(d.Went) != 1 || d.Went[0] != want {
		t.Errorf("at row %d, film went to %v, want %v", c.index(), d.Went, want)
	}
	if ahead, ok := c.place(c.items[2]); ok && (len(d.Wanted) == 0 || d.Wanted[0] != ahead) {
		t.Errorf("asked ahead for %v, want %v", d.Wanted, ahead)
	}
	d.Keys(t, "Return")
	_, at, _ := d.Opened.Bout.Alignment.FilmOf(want)
	if len(d.Loops) != 1 || d.Loops[0].From >= at && at > 0 || d.Loops[0].To <= at {
		t.Errorf("loops %v round %v", d.Loops, at)
	}
}

// TestUncheckedIsItsOwnState: what nobody logged stands in the list as a ring and
// is never settled nor counted as agreeing.
func TestUncheckedIsItsOwnState(t *testing.T) {
	d, c := opened(t, tasktest.Options{Seed: 3}, 0)
	var gone []timeline.Change
	j := d.Opened.Bout.Jams[1]
	for _, id := range j.Tags {
		if k := d.Opened.Facts.Tags[id].Kind; k != timeline.KindJam {
			gone = append(gone, timeline.DeleteTag(id))
		}
	}
	agreed := d.Report().Agreed
	if !d.Apply("one jam is not logged", gone...) {
		t.Fatal(d.Failed)
	}
	if len(d.Report().Unchecked) == 0 || d.Report().Agreed >= agreed {
		t.Fatalf("%d unchecked, %d agree of %d before", len(d.Report().Unchecked), d.Report().Agreed, agreed)
	}
	rings := 0
	for n, i := range c.items {
		if i.unchecked == nil {
			continue
		}
		row := cells(i)
		if s := row[0].Shape; s != look.Ring && s != look.Triangle {
			t.Errorf("row %d has shape %q", n, s)
		}
		rings++
		c.choose(n)
		d.Keys(t, "2")
	}
	if rings != len(d.Report().Unchecked) || len(d.Opened.Facts.Resolutions) != 0 {
		t.Errorf("%d rows of %d, kept %v", rings, len(d.Report().Unchecked), d.Opened.Facts.Resolutions)
	}
}

func TestEmptyStates(t *testing.T) {
	says := func(d *tasktest.Desk, what string) bool {
		return strings.Contains(test.RenderToMarkup(d.Win.Canvas()), what)
	}
	t.Run("no sheet", func(t *testing.T) {
		d, c := opened(t, tasktest.Options{Seed: 3}, -1)
		if !says(d, "No official sheet yet") || c.Waiting() != 0 {
			t.Error("it does not say what is missing")
		}
		tap(t, c.panel.root, "Add the sheet in Align  Ctrl+1")
		if !slices.Equal(d.Shows, []string{task.Align}) {
			t.Errorf("shown %v", d.Shows)
		}
		d.Keys(t, "Down", "Return", "1", "0", "N", "S", "P")
		golden(t, d, "empty_no_sheet")
	})
	t.Run("no tags", func(t *testing.T) {
		d, _ := opened(t, tasktest.Options{Seed: 3, NoTags: true}, 0)
		if !says(d, "Nothing is tagged yet") {
			t.Error("it does not say what is missing")
		}
		golden(t, d, "empty_no_tags")
	})
	t.Run("no findings", func(t *testing.T) {
		d, c := opened(t, tasktest.Options{Seed: 3}, 0)
		if !strings.Contains(c.panel.infoText(), number(d.Report().Compared)+" cells were compared") {
			t.Errorf("it says %q", c.panel.infoText())
		}
		golden(t, d, "empty_no_findings")
	})
}

// golden compares the panel with its kept markup.
func golden(t *testing.T, d *tasktest.Desk, name string) {
	t.Helper()
	d.Picture(t, name)
	test.AssertRendersToMarkup(t, name+".xml", d.Win.Canvas())
}

func tap(t *testing.T, root fyne.CanvasObject, text string) {
	t.Helper()
	var walk func(o fyne.CanvasObject) bool
	walk = func(o fyne.CanvasObject) bool {
		switch x := o.(type) {
		case *look.Button:
			if x.Text == text {
				test.Tap(x)
				return true
			}
		case *fyne.Container:
			return slices.ContainsFunc(x.Objects, walk)
		case *container.Scroll:
			return walk(x.Content)
		}
		return false
	}
	if !walk(root) {
		t.Fatalf("no button %q", text)
	}
}

func TestPanels(t *testing.T) {
	t.Run("trip", func(t *testing.T) {
		d, c := opened(t, tasktest.Options{Seed: 3, Jams: 5}, 1, sheet.CauseTripDigit)
		find(t, c, sheet.CauseTripDigit)
		golden(t, d, "panel_trip")
	})
	t.Run("penalty", func(t *testing.T) {
		d, c := opened(t, tasktest.Options{Seed: 3, Jams: 5}, 2, sheet.CausePenCode)
		find(t, c, sheet.CausePenCode)
		golden(t, d, "panel_penalty")
	})
	t.Run("line-up", func(t *testing.T) {
		d, c := opened(t, tasktest.Options{Seed: 3, Jams: 7}, 1, sheet.CauseBoxedMissing)
		find(t, c, sheet.CauseBoxedMissing)
		golden(t, d, "panel_lineup")
	})
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
		{"check-laptop", "en", 1, 416, 520, false},
		{"check-small", "de", 1, 372, 400, false},
		{"check-large", "en", 1.5, 558, 488, false},
		{"check-es", "es", 1, 416, 520, true},
		{"check-fr", "fr", 1, 416, 520, false},
	} {
		d, _ := opened(t, tasktest.Options{Seed: 5, Jams: 14}, 9)
		words.Set(x.lang)
		defer words.Set("en")
		p := look.DarkPalette
		if x.light {
			p = look.LightPalette
		}
		tasktest.Wear(t, p, x.scale)
		d.Task = New(d)
		d.Open(t, x.w, x.h)
		d.Keys(t, "2", "3", "Down")
		d.Keys(t, "O")
		d.Picture(t, x.name)
	}
	look.Use(look.DarkPalette, 1)
}
