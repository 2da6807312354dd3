package align

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline"
)

// entry is the entry that has the keyboard.
func entry(t *testing.T, d *tasktest.Desk) *form.Entry {
	t.Helper()
	e, ok := d.Win.Canvas().Focused().(*form.Entry)
	if !ok {
		t.Fatalf("%T has the keyboard, want an entry", d.Win.Canvas().Focused())
	}
	return e
}

// fill types into the entry with the keyboard, after taking out what is there.
func fill(t *testing.T, d *tasktest.Desk, text string) {
	t.Helper()
	e := entry(t, d)
	e.SetText("")
	test.Type(e, text)
}

func enter(t *testing.T, d *tasktest.Desk) {
	t.Helper()
	entry(t, d).TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

func TestRoster(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3})
	d.Win.Resize(fyne.NewSize(640, 600))
	x.show(atRosters)
	home := func() timeline.Team { return d.Opened.Facts.Teams[0] }
	before := home()

	press(t, d, "A")
	d.Picture(t, "roster-add")
	fill(t, d, "0909")
	test.FocusNext(d.Win.Canvas())
	fill(t, d, "Ada Example")
	enter(t, d)
	if k, ok := home().Find("0909"); !ok || k.Name != "Ada Example" || len(home().Roster) != len(before.Roster)+1 {
		t.Fatalf("added: %+v", home().Roster)
	}
	// "909" is another skater than "0909"; a second "0909" is refused with a sentence.
	press(t, d, "A")
	fill(t, d, "0909")
	enter(t, d)
	if d.Win.Canvas().Overlays().Top() == nil || len(home().Roster) != len(before.Roster)+1 {
		t.Fatal("a number was taken twice")
	}
	fill(t, d, "909")
	enter(t, d)
	if len(home().Roster) != len(before.Roster)+2 {
		t.Fatal("909 was not added")
	}
	// The one added is chosen: changed, then taken off.
	press(t, d, "Return")
	fill(t, d, "9909")
	enter(t, d)
	if _, ok := home().Find("909"); ok {
		t.Error("the number was not changed")
	}
	press(t, d, "Delete")
	if _, ok := home().Find("9909"); ok || len(home().Roster) != len(before.Roster)+1 {
		t.Error("not taken off")
	}

	press(t, d, "E")
	fill(t, d, "Harbour Lanterns")
	test.FocusNext(d.Win.Canvas())
	fill(t, d, "blue")
	enter(t, d)
	if d.Win.Canvas().Overlays().Top() == nil || home().Colour == "blue" {
		t.Fatal("a word was taken as a colour")
	}
	fill(t, d, "1040c0")
	d.Picture(t, "roster-colour")
	enter(t, d)
	if home().Name != "Harbour Lanterns" || home().Colour != "#1040C0" {
		t.Errorf("%q %q", home().Name, home().Colour)
	}
	d.Win.Resize(fyne.NewSize(412, 504))
	d.Picture(t, "roster")
}

func TestPasteRoster(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3})
	x.show(atRosters)
	k := d.Opened.Facts.Teams[0].Roster[0]
	n := len(d.Opened.Facts.Teams[0].Roster)
	press(t, d, "P")
	entry(t, d).SetText(string(k.Number) + "\tNew Name\n\n#007;Bo Example\n")
	x.deskAccept(t, d)
	team := d.Opened.Facts.Teams[0]
	if a, _ := team.Find(k.Number); a.Name != "New Name" || a.Captain != k.Captain {
		t.Errorf("%+v", a)
	}
	if b, ok := team.Find("007"); !ok || b.Name != "Bo Example" || len(team.Roster) != n+1 {
		t.Errorf("%+v", team.Roster)
	}
}

// deskAccept clicks the strong button of the dialog that is open.
func (x *Task) deskAccept(t *testing.T, d *tasktest.Desk) {
	t.Helper()
	for _, o := range test.LaidOutObjects(d.Win.Canvas().Overlays().Top()) {
		if b, ok := o.(interface {
			fyne.Tappable
			fyne.Disableable
		}); ok && strong(o) {
			b.Tapped(&fyne.PointEvent{})
			return
		}
	}
	t.Fatal("the dialog has no button to go on with")
}

func TestReadRoster(t *testing.T) {
	for name, c := range map[string]struct {
		text  string
		n     int
		wrong string
	}{
		"empty":           {"\n \n", 0, ""},
		"number alone":    {"73", 1, ""},
		"tabs and quotes": {"\"73\"\t\"Ann, Example\"\n0,Bo\n00 Cy", 3, ""},
		"name first":      {"Ann 73", 0, "Ann 73"},
		"twice":           {"73 A\n73 B", 0, "73 B"},
		"too long":        {"1234567890123 A", 0, "1234567890123 A"},
	} {
		list, wrong := ReadRoster(c.text)
		if len(list) != c.n || wrong != c.wrong {
			t.Errorf("%s: %d skaters, wrong %q", name, len(list), wrong)
		}
	}
}
