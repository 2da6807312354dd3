package log

import (
	"cmp"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline/sheet/plant"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// text is what the window shows as text, line by line from the top.
func text(d *tasktest.Desk) string {
	type word struct {
		at   fyne.Position
		text string
	}
	var all []word
	var walk func(o fyne.CanvasObject, at fyne.Position)
	walk = func(o fyne.CanvasObject, at fyne.Position) {
		if !o.Visible() {
			return
		}
		at = at.Add(o.Position())
		switch x := o.(type) {
		case *canvas.Text:
			if x.Text != "" {
				all = append(all, word{at, x.Text})
			}
		case *canvas.Image:
			if x.Resource != nil {
				all = append(all, word{at, "<" + strings.SplitN(x.Resource.Name(), "-", 2)[0] + ">"})
			}
		case *fyne.Container:
			for _, c := range x.Objects {
				walk(c, at)
			}
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(x).Objects() {
				walk(c, at)
			}
		}
	}
	walk(d.Win.Content(), fyne.NewPos(0, 0))
	slices.SortStableFunc(all, func(a, b word) int { return cmp.Compare(a.at.Y, b.at.Y) })
	var lines [][]word
	for _, w := range all {
		if n := len(lines); n > 0 && w.at.Y-lines[n-1][0].at.Y < 9 {
			lines[n-1] = append(lines[n-1], w)
			continue
		}
		lines = append(lines, []word{w})
	}
	out := ""
	for _, l := range lines {
		slices.SortStableFunc(l, func(a, b word) int { return cmp.Compare(a.at.X, b.at.X) })
		for i, w := range l {
			if i > 0 {
				out += "  "
			}
			out += w.text
		}
		out += "\n"
	}
	return strings.TrimSpace(out) + "\n"
}

// TestGolden holds what the panel says of a running jam.
func TestGolden(t *testing.T) {
	d, _ := opened(t, tasktest.Options{Seed: 2, Jams: 3, NoTags: true})
	paper := plant.Sheet(d.Game)
	d.SetPaper(paper)
	s := d.Game.Truth.Jams[0].Start
	step := func(at time.Duration, do func()) {
		d.At(s + at)
		do()
	}
	step(0, func() { press(t, d, name("Return"), name("G"), name("`")) })
	step(9*time.Second, func() { press(t, d, upper(1)) })
	step(22*time.Second, func() { press(t, d, upper(8)) })
	step(31*time.Second, func() { press(t, d, lower(6), name("`")) })
	step(40*time.Second, func() { press(t, d, lower(10), shifted("X")) })
	got := text(d)
	press(t, d, ctrl("U"), name("Down"))
	got += "\n== not settled\n" + text(d)
	press(t, d, ctrl("U"), name("Escape"))
	d.Set.Blind = true
	d.Changed()
	got += "\n== blind\n" + text(d)
	file := filepath.Join("testdata", "panel.golden")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the panel says:\n%s\nwant:\n%s", got, want)
	}
}

// TestUnsettledList: the list leads through what is open, and settling empties it.
func TestUnsettledList(t *testing.T) {
	d, l := opened(t, tasktest.Options{Seed: 2, Jams: 3, NoTags: true})
	s := d.Game.Truth.Jams[0].Start
	d.At(s)
	press(t, d, name("Return"), name("`"), name("`"))
	d.At(s + 20*time.Second)
	press(t, d, upper(7), name("`"))
	d.At(s + 60*time.Second)
	press(t, d, name("Return"))
	if n := l.Waiting(); n != 3 {
		t.Fatalf("%d things wait, want 3", n)
	}
	d.At(s + 10*time.Minute)
	press(t, d, ctrl("U"))
	for i := range 3 {
		press(t, d, name("Down"))
		e, _ := l.m.Chosen()
		if tag := d.Opened.Facts.Tags[e.Tag]; tag.Trip != nil {
			press(t, d, upper(6))
		} else {
			side := tag.Side.Index()
			number(t, d, l, d.Game.Truth.Jams[0].Sides[side].Jammer)
		}
		if n := l.Waiting(); n != 2-i {
			t.Fatalf("after %d: %d wait", i+1, n)
		}
	}
	if l.panel.open {
		t.Error("the list is still open with nothing in it")
	}
	if p := d.Opened.Bout.Jams[0].Sides[0].Points; !p.Sure() || p.Low != 2 {
		t.Errorf("points %v", p)
	}
}

// TestMouse: what keys do, clicks do as well, and the keyboard stays with the desk.
func TestMouse(t *testing.T) {
	d, l := opened(t, tasktest.Options{Seed: 2, Jams: 3, NoTags: true})
	d.At(d.Game.Truth.Jams[0].Start)
	press(t, d, name("Return"))
	d.At(d.Game.Truth.Jams[0].Start + 20*time.Second)
	test.Tap(l.panel.ids["log.home.trip3"])
	if got := d.Opened.Bout.Jams[0].Sides[0].Points; got.Low != 3 {
		t.Errorf("a click on the key logged %v", got)
	}
	if !l.panel.ids["log.home.trip3"].Lit {
		t.Error("the clicked key is not lit")
	}
	l.panel.rows.Select(0)
	if e, ok := l.m.Chosen(); !ok || d.Opened.Facts.Tags[e.Tag].Trip == nil {
		t.Errorf("a click on the first line chose %+v", e)
	}
	test.Tap(l.panel.blind)
	if l.guided() {
		t.Error("a click on blind did nothing")
	}
	if f := d.Win.Canvas().Focused(); f != nil {
		t.Errorf("%T has the keyboard", f)
	}
}
