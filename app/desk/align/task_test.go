package align

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline"
)

// opened is the task on a desk with a window, its panel at the size it has at
// 1280x720.
func opened(t *testing.T, o tasktest.Options) (*Task, *tasktest.Desk) {
	t.Helper()
	tasktest.Wear(t, look.DarkPalette, 1)
	d := tasktest.New(t, o)
	x := New(d)
	d.Task = x
	d.Open(t, 412, 504)
	return x, d
}

// press does what a key does: "Shift+Up".
func press(t *testing.T, d *tasktest.Desk, chord string) {
	t.Helper()
	c := keys.MustParse(chord)
	d.Press(t, keys.Press{Name: c.Key, Ctrl: c.Ctrl, Shift: c.Shift, Alt: c.Alt})
}

// doubt makes the marks of the first jams doubtful by the given confidences.
func doubt(t *testing.T, d *tasktest.Desk, confidences ...float64) {
	t.Helper()
	var changes []timeline.Change
	for i, c := range confidences {
		for _, m := range d.Opened.Facts.Marks {
			if m.Jam == d.Game.Truth.Jams[i].ID {
				m.Confidence = c
				changes = append(changes, timeline.SetMark(m))
			}
		}
	}
	if !d.Apply("doubt", changes...) {
		t.Fatal(d.Failed)
	}
}

// handMark is the hand mark of a jam's start.
func handMark(d *tasktest.Desk, jam timeline.ID) (timeline.SyncMark, bool) {
	for _, m := range d.Opened.Facts.Marks {
		if m.Hand && m.Jam == jam {
			return m, true
		}
	}
	return timeline.SyncMark{}, false
}

func TestKeysDoNotClash(t *testing.T) {
	x, _ := opened(t, tasktest.Options{Seed: 3})
	b := keys.NewBook(nil)
	b.Add(x.Actions()...)
	if c := b.Clashes(); len(c) > 0 {
		t.Errorf("one key for two actions: %v", c)
	}
	taken := " Space Left Right Shift+Left Shift+Right Up+Ctrl F L F1 F11 Home End Escape "
	for _, a := range x.Actions() {
		for _, c := range a.Keys {
			if strings.Contains(taken, " "+c.String()+" ") || c.Ctrl || c.Alt {
				t.Errorf("%s has %s, which the desk needs", a.ID, c)
			}
		}
		if a.Title == "" || a.Group == "" {
			t.Errorf("%s has no title or group", a.ID)
		}
	}
}

func TestDoubtfulQueue(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3})
	doubt(t, d, 0.7, 0.4, 0.6)
	if x.Waiting() != 3 {
		t.Fatalf("%d wait, want 3", x.Waiting())
	}
	x.show(atListen)
	x.Shown()
	first, second, third := d.Game.Truth.Jams[1], d.Game.Truth.Jams[2], d.Game.Truth.Jams[0]
	d.Picture(t, "listen")

	// The least sure jam is played a few seconds round its start.
	last := d.Loops[len(d.Loops)-1]
	if last.From != first.Start-runUp || last.To != first.Start+runPast {
		t.Errorf("plays %v to %v, the jam starts at %v", last.From, last.To, first.Start)
	}
	press(t, d, "Return")
	if m, ok := handMark(d, first.ID); !ok || m.Film != first.Start || m.Edge != timeline.EdgeStart {
		t.Errorf("accepted: %+v", m)
	}
	if x.Waiting() != 2 || x.listen.chosen != second.ID {
		t.Fatalf("%d wait, %s is looked at, want %s", x.Waiting(), x.listen.chosen, second.ID)
	}

	// Nudged by a frame and a tenth, kept by Enter.
	press(t, d, ".")
	press(t, d, "Shift+.")
	press(t, d, ",")
	press(t, d, ".")
	if _, ok := handMark(d, second.ID); ok {
		t.Error("a nudge alone stores nothing")
	}
	d.Picture(t, "listen-nudged")
	press(t, d, "Return")
	if m, _ := handMark(d, second.ID); m.Film != second.Start+usualFrame+100*time.Millisecond {
		t.Errorf("nudged to %v, was %v", m.Film, second.Start)
	}

	press(t, d, "Delete")
	for _, m := range d.Opened.Facts.Marks {
		if m.Jam == third.ID {
			t.Errorf("the refused jam keeps a mark: %+v", m)
		}
	}
	if x.Waiting() != 0 {
		t.Errorf("%d wait", x.Waiting())
	}
	d.Picture(t, "listen-done")

	// All jams; the refused one is set by hand after all.
	press(t, d, "V")
	if len(x.listen.queue) != len(d.Opened.Bout.Jams) {
		t.Fatalf("%d jams listed", len(x.listen.queue))
	}
	x.listen.list.Choose(0)
	d.At(third.Start + 40*time.Millisecond)
	press(t, d, "H")
	if m, ok := handMark(d, third.ID); !ok || m.Film != third.Start+40*time.Millisecond {
		t.Errorf("by hand: %+v", m)
	}
	d.Picture(t, "listen-all")
	if len(d.Failed) > 0 {
		t.Error(d.Failed)
	}
	// Each was one action that can be undone.
	if _, err := d.Opened.File.Undo(); err != nil {
		t.Fatal(err)
	}
	if d.Changed(); func() bool { _, ok := handMark(d, third.ID); return ok }() {
		t.Error("undo left the hand mark")
	}
}

func TestUpAndDownPlay(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 5})
	doubt(t, d, 0.5, 0.4)
	x.show(atListen)
	x.Shown()
	n := len(d.Loops)
	press(t, d, "Down")
	if len(d.Loops) == n || d.Loops[len(d.Loops)-1].From != d.Game.Truth.Jams[0].Start-runUp {
		t.Errorf("Down played %+v", d.Loops[n:])
	}
	press(t, d, "Up")
	if d.Loops[len(d.Loops)-1].From != d.Game.Truth.Jams[1].Start-runUp {
		t.Error("Up did not play the jam before")
	}
}

func TestEmptyStates(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3, NoFilm: true, NoTags: true})
	if x.fold.at != atFilm || !x.film.page.empty.Visible() {
		t.Error("without film the film section asks for it")
	}
	d.Picture(t, "empty-film")
	for name, at := range map[string]int{"empty-sheet": atSheet, "empty-listen": atListen, "empty-calls": atCalls} {
		x.show(at)
		d.Picture(t, name)
	}
	if !x.sheet.page.empty.Visible() || !x.listen.page.empty.Visible() || !x.calls.page.empty.Visible() {
		t.Error("an empty section says what to do first")
	}
	press(t, d, "G")
	if x.fold.at != atFilm || len(d.Said) == 0 {
		t.Error("listening without film leads to the film section and says why")
	}
}

func TestSectionsByKey(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3})
	x.show(atFilm)
	for range 6 {
		press(t, d, "Next")
	}
	if x.fold.at != atCalls {
		t.Errorf("section %d", x.fold.at)
	}
	press(t, d, "Prior")
	if x.fold.at != atListen {
		t.Errorf("section %d", x.fold.at)
	}
}

func TestNothingOpen(t *testing.T) {
	a := test.NewTempApp(t)
	a.Settings().SetTheme(look.Use(look.DarkPalette, 1))
	d := &nobody{Desk: tasktest.New(t, tasktest.Options{Seed: 1})}
	x := New(d)
	w := test.NewTempWindow(t, x.Panel())
	w.Resize(fyne.NewSize(412, 504))
	x.Shown()
	for at := range 5 {
		x.show(at)
		for _, k := range x.Actions() {
			k.Run()
		}
	}
	x.Drop([]string{"/nowhere/x.mp4"})
	if len(d.Said) == 0 {
		t.Error("nothing was said")
	}
}

// counting is a desk that counts how often a loop is ended.
type counting struct {
	*tasktest.Desk
	ended int
}

func (c *counting) Unloop() { c.ended++ }

// TestSectionsEndTheLoop: the jam that was looked at does not go on behind another
// section.
func TestSectionsEndTheLoop(t *testing.T) {
	d := &counting{Desk: tasktest.New(t, tasktest.Options{Seed: 3, Jams: 3})}
	a := New(d)
	a.Panel()
	a.Shown()
	a.show(atListen)
	was := d.ended
	a.show(atCalls)
	if d.ended == was {
		t.Error("the penalties are shown and the jam before still loops")
	}
}

// TestNothingDoubtful: an empty list of doubtful jams says what comes next, and all
// jams are a key away.
func TestNothingDoubtful(t *testing.T) {
	d := tasktest.New(t, tasktest.Options{Seed: 3, Jams: 3})
	a := New(d)
	a.Panel()
	a.Shown()
	a.show(atListen)
	if a.waiting > 0 {
		t.Fatalf("%d jams are doubtful in the staged bout", a.waiting)
	}
	l := a.listen
	if !l.done.box.Visible() || l.done.says.Text() == "" || l.done.next.Text == "" {
		t.Errorf("shown %v, says %q, offers %q", l.done.box.Visible(), l.done.says.Text(), l.done.next.Text)
	}
	a.press(doAll)
	if l.done.box.Visible() || len(l.queue) == 0 {
		t.Error("V does not list all jams")
	}
	a.press(doAll)
	l.done.next.OnTapped()
	if len(d.Shows) == 0 && a.fold.at != atCalls {
		t.Error("the next step goes nowhere")
	}
}
