package examples

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/quiz"
	"whistlecut/timeline"
)

// opened is the task on a simulated bout, shown in a window as wide as the panel
// is on a laptop.
func opened(t *testing.T, o tasktest.Options) (*tasktest.Desk, *Task) {
	t.Helper()
	d := tasktest.New(t, o)
	x := New(d)
	d.Task = x
	tasktest.Wear(t, look.DarkPalette, 1)
	d.Open(t, 416, 520)
	return d, x
}

// penalties are the bout's, as Find hands them over.
func penalties(d *tasktest.Desk) []timeline.Moment {
	return timeline.Find(d.Opened.Bout, d.Opened.Facts, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}})
}

// filled has an example of each of the first four penalties.
func filled(t *testing.T) (*tasktest.Desk, *Task) {
	t.Helper()
	d, x := opened(t, tasktest.Options{Seed: 3, Jams: 5})
	x.Collect(penalties(d)[:4])
	if len(x.bout.items) != 4 {
		t.Fatalf("%d examples, said %q, failed %v", len(x.bout.items), d.Said, d.Failed)
	}
	d.Said = nil
	return d, x
}

func undo(t *testing.T, d *tasktest.Desk) {
	t.Helper()
	if _, err := d.Opened.File.Undo(); err != nil {
		t.Fatal(err)
	}
	d.Changed()
}

func last(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[len(list)-1]
}

// typed writes into what has the keyboard and ends with a key.
func typed(t *testing.T, d *tasktest.Desk, text string, end fyne.KeyName) {
	t.Helper()
	f := d.Win.Canvas().Focused()
	if f == nil {
		t.Fatal("nothing has the keyboard")
	}
	if e, ok := f.(interface{ SetText(string) }); ok {
		e.SetText("")
	}
	for _, r := range text {
		f.TypedRune(r)
	}
	f.TypedKey(&fyne.KeyEvent{Name: end})
}

// dialogKeys gives keys to what has the keyboard in a dialog.
func dialogKeys(t *testing.T, d *tasktest.Desk, names ...fyne.KeyName) {
	t.Helper()
	for _, n := range names {
		f := d.Win.Canvas().Focused()
		if f == nil {
			t.Fatalf("nothing has the keyboard for %s", n)
		}
		f.TypedKey(&fyne.KeyEvent{Name: n})
	}
}

// lastSeen is where the film ends for those who must not know the call.
func lastSeen(i item) time.Duration {
	_, to := unsaid(i)
	return to
}

// TestCollected: penalties become examples with call, signal and code of the day,
// all as one action; a second time they are left as they are.
func TestCollected(t *testing.T) {
	d, x := filled(t)
	for i, m := range penalties(d)[:4] {
		e := x.bout.items[i].e
		if e.Ask != timeline.AskPenalty || e.Called.Choice != timeline.ChoiceYes || e.Called.Code != m.Code || e.Signal.IsZero() || len(e.Verdicts) != 0 {
			t.Errorf("example %d of %+v: %+v", i, m, e)
		}
	}
	if x.Waiting() != 4 {
		t.Errorf("%d wait", x.Waiting())
	}
	x.Collect(penalties(d)[:5])
	if len(x.bout.items) != 5 || !strings.Contains(last(d.Said), "1 example is new") || !strings.Contains(last(d.Said), "4 were some already") {
		t.Errorf("%d examples, said %q", len(x.bout.items), d.Said)
	}
	undo(t, d)
	undo(t, d)
	if len(x.bout.items) != 0 {
		t.Error("undo left examples")
	}
}

// TestHere: Q takes the moment shown; at a penalty's call it takes the penalty.
func TestHere(t *testing.T) {
	d, x := opened(t, tasktest.Options{Seed: 3, Jams: 5})
	call := penalties(d)[2].Film[0].From
	d.At(call + 700*time.Millisecond)
	d.Keys(t, "Q")
	if i, ok := x.bout.current(); !ok || i.e.Source != penalties(d)[2].Tags[0] {
		t.Fatalf("example %+v, said %q", i.e, d.Said)
	}
	var quiet time.Duration // far from any call
	for at := 20 * time.Second; ; at += time.Second {
		if !slices.ContainsFunc(penalties(d), func(m timeline.Moment) bool { return (m.Film[0].From - at).Abs() < 3*time.Second }) {
			quiet = at
			break
		}
	}
	d.At(quiet)
	d.Keys(t, "Q")
	i, ok := x.bout.current()
	if !ok || i.tag.Place.Film != quiet-leadIn || i.e.End.Film != quiet+leadOut || !i.e.Signal.IsZero() || i.e.Called.Choice != timeline.ChoiceNo {
		t.Errorf("example %+v at %v", i.e, i.tag.Place)
	}
}

// TestEdits: each key changes what it says, and undo brings back what was.
func TestEdits(t *testing.T) {
	d, x := filled(t)
	begin := func() time.Duration { return x.bout.items[0].tag.Place.Film }
	signal := func() time.Duration { return x.bout.items[0].e.Signal.Film }
	for _, c := range []struct {
		name string
		do   func()
		ok   func(item) bool
	}{
		{"begins here", func() { d.At(begin() - time.Second); d.Keys(t, "B") }, func(i item) bool { return i.tag.Place.Film == d.Where.Film && endOf(i) > i.tag.Place.Film }},
		{"begins behind its signal", func() { d.At(signal() + time.Second); d.Keys(t, "B") }, func(i item) bool { return i.tag.Place.Film < d.Where.Film }},
		{"ends here", func() { d.At(begin() + 9*time.Second); d.Keys(t, "E") }, func(i item) bool { return i.e.End.Film == d.Where.Film }},
		{"ends before it begins", func() { d.At(begin() - time.Second); d.Keys(t, "E") }, func(i item) bool { return i.e.End.Film > i.tag.Place.Film }},
		{"signal here", func() { d.At(begin() + 500*time.Millisecond); d.Keys(t, "S") }, func(i item) bool {
			return i.e.Signal.Film == d.Where.Film && lastSeen(i) == d.Where.Film-quiz.SignalMargin
		}},
		{"no signal", func() { d.At(signal()); d.Keys(t, "S") }, func(i item) bool { return i.e.Signal.IsZero() && lastSeen(i) == endOf(i) }},
		{"impact", func() { d.Keys(t, "I", "I") }, func(i item) bool { return i.e.Impact == timeline.ImpactNone }},
		{"difficulty", func() { d.Keys(t, "4", "4") }, func(i item) bool { return i.e.Difficulty == 4 }},
		{"difficulty not said", func() { d.Keys(t, "4", "0") }, func(i item) bool { return i.e.Difficulty == 0 }},
		{"sensitive", func() { d.Keys(t, "H") }, func(i item) bool { return i.e.Sensitive }},
		{"angle", func() { d.Keys(t, "K"); typed(t, d, "inside, turn 2", fyne.KeyReturn) }, func(i item) bool { return i.e.Angle == "inside, turn 2" }},
		{"reasoning", func() { d.Keys(t, "W"); typed(t, d, "she lost her place", fyne.KeyReturn) }, func(i item) bool { return i.e.Words == "she lost her place" }},
		{"reasoning not kept", func() { d.Keys(t, "W"); typed(t, d, "nothing", fyne.KeyEscape) }, func(i item) bool { return i.e.Words != "nothing" }},
		{"question in words", func() { d.Keys(t, "T"); typed(t, d, "What do you see?", fyne.KeyReturn) }, func(i item) bool { return i.e.Asked["en"] == "What do you see?" }},
		{"another question", func() { d.Keys(t, "A"); typed(t, d, "earned", fyne.KeyReturn) }, func(i item) bool { return i.e.Ask == timeline.AskPass && i.e.Called.Code == "" }},
		{"no penalty called", func() { d.Keys(t, "C"); typed(t, d, "no penalty", fyne.KeyReturn) }, func(i item) bool { return i.e.Called == timeline.Answer{Choice: timeline.ChoiceNo} }},
		{"deleted", func() { d.Keys(t, "Delete") }, func(i item) bool { return len(x.bout.items) == 3 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			x.bout.choose(0)
			d.Failed = nil
			before, edits := x.bout.items[0].tag, len(d.Labels)
			c.do()
			if len(d.Failed) > 0 {
				t.Errorf("failed: %v", d.Failed)
			}
			if !c.ok(x.bout.items[0]) {
				t.Errorf("place %v, example %+v; said %q", x.bout.items[0].tag.Place, x.bout.items[0].e, d.Said)
			}
			for range d.Labels[edits:] {
				undo(t, d)
			}
			x.bout.choose(0)
			if got := x.bout.items[0].tag; len(x.bout.items) != 4 || got.ID != before.ID || got.Place != before.Place || got.Example.Signal != before.Example.Signal {
				t.Errorf("undo brought back %+v", got)
			}
		})
	}
}

// TestVerdicts: several answers are accepted, one is preferred, each with its
// section; what is not kept changes nothing.
func TestVerdicts(t *testing.T) {
	d, x := filled(t)
	d.Keys(t, "V")
	typed(t, d, "no penalty", fyne.KeyReturn)
	f := x.panel.verdicts
	f.find.SetText("back block")
	dialogKeys(t, d, fyne.KeyReturn) // the penalty stands before the warning
	f.section.SetText("4.1.1")
	f.cite()
	f.prefer()
	if len(x.bout.items[0].e.Verdicts) != 0 {
		t.Fatal("verdicts were stored before they were kept")
	}
	f.keep()
	want := []timeline.Answer{{Choice: timeline.ChoiceYes, Code: "B", Section: "4.1.1"}, {Choice: timeline.ChoiceNo}}
	if got := x.bout.items[0].e.Verdicts; !slices.Equal(got, want) {
		t.Errorf("verdicts %+v", got)
	}
	d.Keys(t, "V")
	typed(t, d, "no penalty", fyne.KeyReturn) // given back
	dialogKeys(t, d, fyne.KeyEscape)
	if got := x.bout.items[0].e.Verdicts; !slices.Equal(got, want) {
		t.Errorf("a form that was left changed the verdicts to %+v", got)
	}
	if x.Waiting() != 3 {
		t.Errorf("%d wait", x.Waiting())
	}
}

// TestList: the list is narrowed and sorted, Enter plays the moment and P what a
// group sees.
func TestList(t *testing.T) {
	d, x := filled(t)
	d.Keys(t, "V")
	typed(t, d, "no penalty", fyne.KeyReturn)
	x.panel.verdicts.keep()
	d.Keys(t, "R")
	if x.bout.state != undecided || len(x.bout.items) != 3 {
		t.Errorf("%d undecided", len(x.bout.items))
	}
	for x.bout.state != differing {
		d.Keys(t, "R")
	}
	if len(x.bout.items) != 1 {
		t.Errorf("%d called otherwise", len(x.bout.items))
	}
	d.Keys(t, "D", "D")
	if x.bout.ask != timeline.AskPass || len(x.bout.items) != 0 {
		t.Errorf("%q: %d", x.bout.ask, len(x.bout.items))
	}
	d.Keys(t, "Escape")
	if len(x.bout.items) != 4 {
		t.Errorf("Escape left %d", len(x.bout.items))
	}
	d.Keys(t, "Down", "3", "Y", "Y")
	if x.bout.items[0].e.Difficulty != 3 {
		t.Error("not by difficulty")
	}
	x.bout.choose(0)
	d.Keys(t, "Return", "P")
	i := x.bout.items[0]
	if n := len(d.Loops); n != 2 || d.Loops[0].To < i.e.Signal.Film || d.Loops[1].To > i.e.Signal.Film-quiz.SignalMargin || d.Loops[1].To-d.Loops[1].From != quiz.ClipLength {
		t.Errorf("loops %+v of %+v", d.Loops, i.e)
	}
}

// TestBlind: another trainer sees nothing that tells the call, her opinion is
// stored, and the comparison names it.
func TestBlind(t *testing.T) {
	d, x := filled(t)
	d.Keys(t, "V")
	typed(t, d, "no penalty", fyne.KeyReturn)
	x.panel.verdicts.keep()
	d.Keys(t, "O")
	typed(t, d, "", fyne.KeyReturn)
	if x.blind != nil || x.panel.opinion.dialog.Said() == "" {
		t.Error("an opinion of nobody")
	}
	typed(t, d, "Ana", fyne.KeyReturn)
	if x.blind == nil || !d.Staged.Full || d.Staged.Cover == nil {
		t.Fatal("the film is not alone on the screen")
	}
	w := test.NewTempWindow(t, x.blind.cover)
	w.Resize(fyne.NewSize(1024, 600))
	for _, i := range x.blind.list {
		if !i.e.Called.IsZero() || len(i.e.Verdicts) > 0 || i.e.Words != "" || i.tag.Who.Number != "" || len(i.opinions) > 0 || i.moment.Who != "" {
			t.Errorf("it tells %+v", i)
		}
	}
	for _, l := range d.Loops {
		if l.To > x.bout.items[0].e.Signal.Film {
			t.Errorf("the film is shown to %v, the signal is at %v", l.To, x.bout.items[0].e.Signal.Film)
		}
	}
	first := x.bout.items[0].tag.ID
	d.Keys(t, "1", "B", "Return")
	if x.blind.at != 1 || x.blind.given != 1 {
		t.Fatalf("example %d, %d given, failed %v", x.blind.at, x.blind.given, d.Failed)
	}
	d.Keys(t, "2", "BackSpace", "0") // thinks again and has none
	d.Keys(t, "Escape")
	if x.blind != nil || d.Staged.Full || d.Staged.Cover != nil || d.Staged.Taking != nil {
		t.Error("the window was not given back")
	}
	x.bout.selectID(first)
	i, _ := x.bout.current()
	if len(i.opinions) != 1 || i.opinions[0].By != "Ana" || i.opinions[0].Answer.Code != "B" || !i.has(disputed) {
		t.Errorf("opinions %+v", i.opinions)
	}
	d.Keys(t, "X")
	if x.panel.asking == nil || !x.panel.asking.IsOpen() {
		t.Error("no comparison")
	}
	x.panel.asking.Close()
	// All but the first were left without an opinion; she is not asked that one again.
	x.bout.choose(0)
	d.Keys(t, "O")
	typed(t, d, "Ana", fyne.KeyReturn)
	if x.blind == nil || len(x.blind.list) != 3 {
		t.Error("she is asked again")
	}
	d.Press(t, keys.Press{Name: "Escape"})
}

// TestOtherEdition: an example judged by other rules needs another look, and what
// its letters become is the same penalty, never the same letter.
func TestOtherEdition(t *testing.T) {
	d, x := filled(t)
	old, _ := timeline.Edition("2014")
	i := x.bout.items[0]
	e := i.e
	e.Edition = old.Edition
	e.Called = timeline.Answer{Choice: timeline.ChoiceYes, Code: old.Codes[0].Letter}
	e.Verdicts = []timeline.Answer{e.Called}
	tag := i.tag
	tag.Example = &e
	d.Apply("old", timeline.SetTag(tag))
	x.bout.selectID(tag.ID)
	if i, _ = x.bout.current(); !i.outdated || !i.has(outOfDate) || i.has(settled) {
		t.Fatalf("%+v", i)
	}
	if said := x.bout.view.look2.Text(); !x.bout.view.look2.Visible() || said == "" {
		t.Error("nothing says that it needs another look")
	}
	d.Keys(t, "U")
	i, _ = x.bout.current()
	now := d.Opened.Bout.Rules
	c, known := now.Code(i.e.Verdicts[0].Code)
	if i.outdated || known && c.Name != old.Codes[0].Name {
		t.Errorf("verdict %+v is %+v, it was %+v", i.e.Verdicts[0], c, old.Codes[0])
	}
}

// TestPictures holds what the panel shows, and leaves pictures for eyes.
func TestPictures(t *testing.T) {
	d, x := filled(t)
	d.Keys(t, "V")
	typed(t, d, "no penalty", fyne.KeyReturn)
	x.panel.verdicts.keep()
	d.Keys(t, "3", "W")
	typed(t, d, "she kept her place in the pack", fyne.KeyReturn)
	d.Picture(t, "bout")
	test.AssertRendersToMarkup(t, "bout.xml", d.Win.Canvas())
}
