package numbers

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// opened is the page on a simulated bout, in a window as wide as the panel is on a
// laptop.
func opened(t *testing.T, o tasktest.Options, w, h float32) (*tasktest.Desk, *Task) {
	t.Helper()
	words.Set("en")
	t.Cleanup(func() { words.Set("en") })
	d := tasktest.New(t, o)
	n := New(d)
	d.Task = n
	tasktest.Wear(t, look.DarkPalette, 1)
	d.Open(t, w, h)
	return d, n
}

// TestSections: each key shows its part, with what the report says.
func TestSections(t *testing.T) {
	d, n := opened(t, tasktest.Options{Seed: 3, Jams: 4}, 640, 520)
	r := n.report
	for _, c := range []struct {
		key  string
		want []string
	}{
		{"1", []string{"Margin along the bout", "Points per jam", n.team(timeline.Home), n.say.Range(r.Score[0]), "Lead changes in the score"}},
		{"2", []string{string(r.Sides[0].Jammers[0].Skater.Number), n.say.Mean(r.Sides[0].Jammers[0].Stint.PerJam)}},
		{"3", []string{r.Sides[1].Groups[0].Key(), r.Sides[0].Pairs[0].Key()}},
		{"4", []string{"power jams against", "star passes completed"}},
		{"5", []string{"penalties", "period 1", "period 2"}},
	} {
		d.Keys(t, c.key)
		text := d.Text()
		for _, w := range c.want {
			if !strings.Contains(text, w) {
				t.Errorf("%s lacks %q", c.key, w)
			}
		}
		d.Picture(t, "numbers-"+c.key)
	}
	if len(n.charts) != 0 {
		t.Error("charts of another section are kept")
	}
}

// TestRowsLead: rows lead to film, to Find and to a skater's page.
func TestRowsLead(t *testing.T) {
	d, n := opened(t, tasktest.Options{Seed: 3, Jams: 4}, 640, 520)
	d.Keys(t, "Down", "Return")
	if len(d.Went) != 1 {
		t.Fatalf("the first row goes to %v", d.Went)
	}
	d.Keys(t, "2", "Down", "Return")
	j := n.report.Sides[0].Jammers[0].Skater
	if got := d.Linked.Selected; len(got) != 1 || !slices.Equal(got[0].Skaters, []timeline.SkaterRef{j}) || !slices.Equal(got[0].Roles, []timeline.Role{timeline.Jammer}) {
		t.Errorf("a jammer leads to %+v", got)
	}
	d.Keys(t, "3", "Down", "Return")
	g := n.report.Sides[0].Groups[0]
	if got := d.Linked.Selected; len(got) != 2 || len(got[1].Jams) != g.Stint.Jams {
		t.Errorf("a line-up of %d jams leads to %+v", g.Stint.Jams, got[len(got)-1])
	}
	d.Keys(t, "5")
	for range 200 {
		d.Keys(t, "Down")
	}
	d.Keys(t, "Return", "Escape")
	if len(d.Linked.Skaters) != 1 || d.Linked.Skaters[0].Side != timeline.Away || d.Linked.Backs != 1 {
		t.Errorf("the last row leads to %v", d.Linked.Skaters)
	}
}

// TestFollowsFilm: the chart marks the jam that the film shows, and a click goes to
// a jam.
func TestFollowsFilm(t *testing.T) {
	d, n := opened(t, tasktest.Options{Seed: 3, Jams: 4}, 640, 520)
	d.At(d.Game.Truth.Jams[2].Start + 1)
	if d.Where.Jam != n.report.PerJam[2].Jam {
		t.Fatal("the film stands elsewhere")
	}
	c := n.charts[0]
	test.TapAt(c, fyne.NewPos(c.Size().Width-6, 20))
	if last := d.Went[len(d.Went)-1]; last.Jam != n.report.PerJam[len(n.report.PerJam)-1].Jam {
		t.Errorf("a click at the right goes to %+v", last)
	}
}

// TestSave: all three forms are written where they are wanted.
func TestSave(t *testing.T) {
	d, n := opened(t, tasktest.Options{Seed: 3, Jams: 3}, 640, 520)
	dir := t.TempDir()
	for i, want := range []string{"a.pdf", "b.xlsx", "c"} {
		d.Keys(t, "S")
		n.saving.Path.SetText(filepath.Join(dir, "x.pdf"))
		n.saving.Dialog.Close()
		f := n.saving
		f.Path.SetText(filepath.Join(dir, want))
		f.Choose(i)
		f.Path.SetText(filepath.Join(dir, want))
		f.Dialog.Accept()
		if st, err := os.Stat(filepath.Join(dir, want)); err != nil || !st.IsDir() && st.Size() < 1000 {
			t.Errorf("%s: %v", want, err)
		}
	}
	if !strings.Contains(n.told.Text(), dir) {
		t.Errorf("it is told %q", n.told.Text())
	}
}

func TestNothingYet(t *testing.T) {
	d, _ := opened(t, tasktest.Options{Seed: 3, NoTags: true}, 640, 520)
	if !strings.Contains(d.Text(), "No jam is tagged yet") {
		t.Error("an empty bout shows numbers")
	}
	d.Keys(t, "Down", "2", "S", "Return", "Next")
}

// TestMasters: the pages as they are drawn, also in a low and narrow window.
func TestMasters(t *testing.T) {
	for _, c := range []struct {
		name, key string
		w, h      float32
	}{{"score", "1", 640, 520}, {"jammers_narrow", "2", 512, 420}, {"penalties", "5", 640, 520}} {
		d, _ := opened(t, tasktest.Options{Seed: 3, Jams: 3}, c.w, c.h)
		d.Keys(t, c.key, "Down")
		test.AssertRendersToMarkup(t, c.name+".xml", d.Win.Canvas())
	}
}
