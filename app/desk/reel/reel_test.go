package reel

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// opened is the task on a simulated bout, shown in a window as wide as the panel
// is on a laptop.
func opened(t *testing.T, o tasktest.Options) (*tasktest.Desk, *Task) {
	t.Helper()
	d := tasktest.New(t, o)
	r := New(d)
	d.Task = r
	d.Staged.Size.X, d.Staged.Size.Y = 1280, 720
	tasktest.Wear(t, look.DarkPalette, 1)
	d.Open(t, 416, 520)
	return d, r
}

// penalties are the bout's, as Find hands them over.
func penalties(d *tasktest.Desk) []timeline.Moment {
	return timeline.Find(d.Opened.Bout, d.Opened.Facts, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}})
}

func filled(t *testing.T) (*tasktest.Desk, *Task) {
	t.Helper()
	d, r := opened(t, tasktest.Options{Seed: 3, Jams: 5})
	r.Collect(penalties(d)[:4])
	if len(r.parts()) != 4 {
		t.Fatalf("%d parts, said %q", len(r.parts()), d.Said)
	}
	return d, r
}

func shift(d *tasktest.Desk, t *testing.T, name string) {
	t.Helper()
	d.Press(t, keys.Press{Name: name, Shift: true})
}

func ids(list []timeline.Part) []timeline.ID {
	var out []timeline.ID
	for _, p := range list {
		out = append(out, p.ID)
	}
	return out
}

// undo takes the last action back as the desk does.
func undo(t *testing.T, d *tasktest.Desk) {
	t.Helper()
	if _, err := d.Opened.File.Undo(); err != nil {
		t.Fatal(err)
	}
	d.Changed()
}

// TestCollected: moments go behind the last part of the reel, one is made where
// there is none, and all of it is one action to undo.
func TestCollected(t *testing.T) {
	d, r := filled(t)
	if now, ok := r.current(); !ok || now.Name != "Reel 1" || !slices.Equal(now.Languages, []string{"en"}) {
		t.Errorf("reel %+v", now)
	}
	first := r.parts()[0]
	if first.Caption["en"] == "" || first.Clip.Before != 8*time.Second || first.Clip.After != 4*time.Second {
		t.Errorf("first part %+v", first.Clip)
	}
	r.Collect(penalties(d)[4:6])
	if n := len(r.parts()); n != 6 || r.chosen != r.parts()[4].ID {
		t.Errorf("%d parts, %s chosen", n, r.chosen)
	}
	undo(t, d)
	undo(t, d)
	if _, ok := r.current(); ok || len(d.Opened.Facts.Parts) != 0 {
		t.Error("undo left something")
	}
}

func TestMarks(t *testing.T) {
	d, r := opened(t, tasktest.Options{Seed: 3, NoTags: true})
	d.Keys(t, "A")
	if len(d.Said) != 1 {
		t.Errorf("said %q of no marks", d.Said)
	}
	for i, id := range []timeline.ID{"a", "b", "c"} {
		d.Apply("a mark", timeline.SetTag(timeline.Tag{ID: id, Kind: timeline.KindMark, Place: timeline.OnFilm(tasktest.FilmID, time.Duration(i+1)*30*time.Second), Note: "look " + string(id)}))
	}
	d.Keys(t, "A")
	if n := len(r.parts()); n != 3 || r.parts()[1].Caption["en"] != "Look b" {
		t.Fatalf("%d parts, %+v", n, r.parts())
	}
	d.Keys(t, "A")
	if n := len(r.parts()); n != 3 {
		t.Errorf("marks came twice: %d parts", n)
	}
	// The moment shown goes behind the chosen part; near a mark it is the mark's.
	r.choose(0)
	d.At(60*time.Second + 300*time.Millisecond)
	d.Keys(t, "K")
	d.At(100 * time.Second)
	d.Keys(t, "K")
	list := r.parts()
	if len(list) != 5 || list[1].Caption["en"] != "Look b" || list[2].Clip.Range.Start != 100*time.Second || len(list[2].Clip.Tags) != 0 {
		t.Errorf("parts %+v", list)
	}
	if r.chosen != list[2].ID {
		t.Error("the new part is not chosen")
	}
}

// TestHereManyTimes: a moment put between the same two again and again always
// finds its place.
func TestHereManyTimes(t *testing.T) {
	d, r, _ := staged(t)
	first, last := r.parts()[0].ID, r.parts()[1].ID
	r.choose(0)
	for i := range 70 {
		d.At(time.Duration(i+1) * time.Second)
		d.Keys(t, "K")
	}
	list := ids(r.parts())
	if list[0] != first || list[71] != last || len(list) != 73 {
		t.Errorf("first at %d, next at %d of %d", slices.Index(list, first), slices.Index(list, last), len(list))
	}
	for i, p := range r.parts()[1:71] {
		if p.Clip.Range.Start != time.Duration(i+1)*time.Second {
			t.Fatalf("part %d is at %v", i+2, p.Clip.Range.Start)
		}
	}
}

func TestOrder(t *testing.T) {
	d, r := filled(t) // one for all: each case is undone
	for _, x := range []struct {
		name string
		do   func(*tasktest.Desk, *Task)
		want []int
	}{
		{"later", func(d *tasktest.Desk, r *Task) { shift(d, t, "Down") }, []int{1, 0, 2, 3}},
		{"to the end", func(d *tasktest.Desk, r *Task) { shift(d, t, "Down"); shift(d, t, "Down"); shift(d, t, "Down") }, []int{1, 2, 3, 0}},
		{"beyond the end", func(d *tasktest.Desk, r *Task) { r.choose(3); shift(d, t, "Down") }, []int{0, 1, 2, 3}},
		{"earlier", func(d *tasktest.Desk, r *Task) { d.Keys(t, "Down", "Down"); shift(d, t, "Up") }, []int{0, 2, 1, 3}},
		{"to the front by drag", func(d *tasktest.Desk, r *Task) { r.panel.list.drag(3, 2); r.panel.list.drop() }, []int{3, 0, 1, 2}},
		{"down by drag", func(d *tasktest.Desk, r *Task) { r.panel.list.drag(0, 2.1*look.RowHeight()); r.panel.list.drop() }, []int{1, 0, 2, 3}},
		{"to the end by drag", func(d *tasktest.Desk, r *Task) { r.panel.list.drag(1, 900); r.panel.list.drop() }, []int{0, 2, 3, 1}},
		{"nowhere by drag", func(d *tasktest.Desk, r *Task) { r.panel.list.drag(1, 1.2*look.RowHeight()); r.panel.list.drop() }, []int{0, 1, 2, 3}},
	} {
		t.Run(x.name, func(t *testing.T) {
			r.choose(0)
			before, edits := ids(r.parts()), len(d.Labels)
			x.do(d, r)
			var want []timeline.ID
			for _, i := range x.want {
				want = append(want, before[i])
			}
			if got := ids(r.parts()); !slices.Equal(got, want) {
				t.Errorf("got %v, want %v of %v", got, want, before)
			}
			for range d.Labels[edits:] {
				undo(t, d)
			}
			if !slices.Equal(ids(r.parts()), before) {
				t.Error("undo did not bring the order back")
			}
		})
	}
}

func TestEdits(t *testing.T) {
	d, r := filled(t) // one for all: each case is undone
	at := func(r *Task, d time.Duration) time.Duration { return r.parts()[0].Clip.Range.Start + d }
	for _, x := range []struct {
		name string
		do   func(*tasktest.Desk, *Task)
		ok   func(timeline.Part, *Task) bool
	}{
		{"a second more before", func(d *tasktest.Desk, r *Task) { d.Keys(t, "B") }, func(p timeline.Part, _ *Task) bool { return p.Clip.Before == 9*time.Second }},
		{"less after", func(d *tasktest.Desk, r *Task) { shift(d, t, "E") }, func(p timeline.Part, _ *Task) bool { return p.Clip.After == 3*time.Second }},
		{"begins here", func(d *tasktest.Desk, r *Task) { d.At(at(r, -2*time.Second)); d.Keys(t, "Ctrl+B") }, func(p timeline.Part, _ *Task) bool { return p.Clip.Before == 2*time.Second }},
		{"begins after its moment", func(d *tasktest.Desk, r *Task) { d.At(at(r, time.Second)); d.Keys(t, "Ctrl+B") }, func(p timeline.Part, _ *Task) bool {
			return p.Clip.Before == 0 && p.Clip.After == 3*time.Second && p.Clip.Shown().Duration() == 3*time.Second
		}},
		{"ends here", func(d *tasktest.Desk, r *Task) { d.At(at(r, 1500*time.Millisecond)); d.Keys(t, "Ctrl+E") }, func(p timeline.Part, _ *Task) bool { return p.Clip.After == 1500*time.Millisecond }},
		{"no clip ends before it begins", func(d *tasktest.Desk, r *Task) { d.At(at(r, -9*time.Second)); d.Keys(t, "Ctrl+E") }, func(p timeline.Part, _ *Task) bool {
			return p.Clip.After == 4*time.Second && p.Clip.Before == 8*time.Second
		}},
		{"slow motion", func(d *tasktest.Desk, r *Task) {
			d.At(at(r, -time.Second))
			d.Keys(t, "S")
			d.At(at(r, time.Second))
			d.Keys(t, "S")
		}, func(p timeline.Part, _ *Task) bool {
			return len(p.Clip.Speeds) == 1 && p.Clip.Speeds[0].Rate == 0.5 && p.Length() == 14*time.Second
		}},
		{"slower still", func(d *tasktest.Desk, r *Task) {
			d.At(at(r, time.Second))
			d.Keys(t, "S")
			d.At(at(r, -time.Second))
			d.Keys(t, "S")
			shift(d, t, "S")
		}, func(p timeline.Part, _ *Task) bool {
			return p.Clip.Speeds[0].Rate == 0.25 && p.Length() == 18*time.Second
		}},
		{"usual speed again", func(d *tasktest.Desk, r *Task) {
			d.At(at(r, 0))
			d.Keys(t, "S")
			d.At(at(r, time.Second))
			d.Keys(t, "S")
			for range rates {
				shift(d, t, "S")
			}
		}, func(p timeline.Part, _ *Task) bool { return len(p.Clip.Speeds) == 0 }},
		{"held, longer, shorter", func(d *tasktest.Desk, r *Task) {
			d.At(at(r, 0))
			d.Keys(t, "H", "H", "H")
			shift(d, t, "H")
		}, func(p timeline.Part, _ *Task) bool {
			return len(p.Clip.Freezes) == 1 && p.Clip.Freezes[0].Length == 4*time.Second && p.Length() == 16*time.Second
		}},
		{"not held any more", func(d *tasktest.Desk, r *Task) {
			d.At(at(r, 0))
			d.Keys(t, "H")
			shift(d, t, "H")
		}, func(p timeline.Part, _ *Task) bool { return len(p.Clip.Freezes) == 0 }},
		{"nothing is held outside", func(d *tasktest.Desk, r *Task) { d.At(at(r, time.Minute)); d.Keys(t, "H") }, func(p timeline.Part, _ *Task) bool { return len(p.Clip.Freezes) == 0 }},
		{"no sound", func(d *tasktest.Desk, r *Task) { d.Keys(t, "M") }, func(p timeline.Part, _ *Task) bool { return p.Clip.Mute }},
		{"one camera only", func(d *tasktest.Desk, r *Task) { d.Keys(t, "W") }, func(p timeline.Part, _ *Task) bool { return p.Clip.Beside == "" }},
		{"twice", func(d *tasktest.Desk, r *Task) { d.Keys(t, "U") }, func(p timeline.Part, r *Task) bool {
			l := r.parts()
			return len(l) == 5 && l[1].ID == r.chosen && l[1].Caption["en"] == l[0].Caption["en"] && l[1].ID != l[0].ID
		}},
		{"a card", func(d *tasktest.Desk, r *Task) { d.Keys(t, "X"); r.panel.fields[0].leave(); d.Keys(t, "E") }, func(_ timeline.Part, r *Task) bool {
			l := r.parts()
			return len(l) == 5 && l[1].Card != nil && l[1].Card.Length == reels.CardLength+time.Second
		}},
		{"taken out", func(d *tasktest.Desk, r *Task) { d.Keys(t, "Delete") }, func(_ timeline.Part, r *Task) bool { return len(r.parts()) == 3 && r.chosen == r.parts()[0].ID }},
	} {
		t.Run(x.name, func(t *testing.T) {
			r.choose(0)
			d.Said, d.Failed, d.Where.Playing = nil, nil, false
			instant := r.parts()[0]
			instant.Clip.Range.End = instant.Clip.Range.Start // so that lengths are whole seconds
			d.Apply("an instant", timeline.SetPart(instant))
			edits := len(d.Labels)
			before := d.Opened.Facts.ReelParts(r.parts()[0].Reel)
			x.do(d, r)
			p := r.parts()[0]
			if !x.ok(p, r) {
				t.Errorf("part %+v, clip %+v; said %q", p, p.Clip, d.Said)
			}
			if len(d.Failed) > 0 {
				t.Errorf("failed: %v", d.Failed)
			}
			for _, p := range r.parts() {
				if err := timeline.CheckPart(p); err != nil {
					t.Errorf("a part that nobody would take in: %v", err)
				}
			}
			for range d.Labels[edits:] {
				undo(t, d)
			}
			if got := d.Opened.Facts.ReelParts(before[0].Reel); len(got) != 4 || got[0].Length() != before[0].Length() {
				t.Error("undo did not bring all back")
			}
		})
	}
}

// TestWords: a field keeps what is typed on Enter and when it is left, and
// nothing on Escape; each language has its own.
func TestWords(t *testing.T) {
	d, r := filled(t)
	now, _ := r.current()
	now.Languages = []string{"en", "es"}
	d.Apply("two languages", timeline.SetReel(now))
	if len(r.panel.fields) != 4 {
		t.Fatalf("%d fields", len(r.panel.fields))
	}
	write := func(key keys.Press, text string, end fyne.KeyName) {
		d.Press(t, key)
		f, ok := d.Win.Canvas().Focused().(*field)
		if !ok {
			t.Fatalf("%v opened no field", key)
		}
		f.SetText("")
		test.Type(f, text)
		f.TypedKey(&fyne.KeyEvent{Name: end})
		if d.Win.Canvas().Focused() != nil {
			t.Error("the field kept the keyboard")
		}
	}
	write(keys.Press{Name: "C"}, "Watch the inside line", fyne.KeyReturn)
	write(keys.Press{Name: "C", Shift: true}, "Mira la línea", fyne.KeyReturn)
	write(keys.Press{Name: "T"}, "Who sees the jammer?", fyne.KeyReturn)
	write(keys.Press{Name: "N"}, "be kind", fyne.KeyReturn)
	write(keys.Press{Name: "N"}, "never mind", fyne.KeyEscape)
	p := r.parts()[0]
	if p.Caption["en"] != "Watch the inside line" || p.Caption["es"] != "Mira la línea" || p.Point != "Who sees the jammer?" || p.Private != "be kind" {
		t.Errorf("part %+v", p)
	}
	// A click on another part keeps what was typed, for the part it was typed for.
	d.Keys(t, "N")
	test.Type(r.panel.fields[3], "!")
	d.Win.Canvas().Unfocus()
	r.choose(1)
	if a, b := r.parts()[0].Private, r.parts()[1].Private; a != "be kind!" || b != "" || r.panel.fields[3].Text != "" {
		t.Errorf("first %q, second %q", a, b)
	}
	undo(t, d)
	r.choose(0)
	if r.panel.fields[3].Text != "be kind" {
		t.Errorf("after undo the field says %q", r.panel.fields[3].Text)
	}
}

// TestReels: reels are made, renamed, gone between and deleted, and undo brings
// one back with its parts.
func TestReels(t *testing.T) {
	d, r := filled(t)
	d.Keys(t, "Y")
	f := r.panel.form
	f.name.SetText("Reel 1")
	f.accept()
	if !f.dialog.IsOpen() || f.dialog.Said() == "" {
		t.Error("two reels may not have one name")
	}
	f.name.SetText("Saturday")
	f.target.SetText("soon")
	f.accept()
	if !f.dialog.IsOpen() {
		t.Error("soon is no length")
	}
	f.target.SetText("5:00")
	f.langs.SetText("en, es, fr")
	f.accept()
	if !f.dialog.IsOpen() {
		t.Error("three languages are too many")
	}
	f.langs.SetText("EN; es")
	f.accept()
	now, _ := r.current()
	if now.Name != "Saturday" || now.Target != 5*time.Minute || !slices.Equal(now.Languages, []string{"en", "es"}) || len(r.parts()) != 0 {
		t.Errorf("reel %+v", now)
	}
	d.Keys(t, "R")
	if r.panel.asking == nil || !r.panel.asking.IsOpen() {
		t.Fatal("no list of reels")
	}
	r.panel.asking.Close()
	all := d.Opened.Facts.ReelsInOrder()
	r.work(all[0].ID)
	if len(r.parts()) != 4 {
		t.Error("the first reel lost its parts")
	}
	d.Keys(t, "F2")
	r.panel.form.name.SetText("First")
	r.panel.form.accept()
	if now, _ := r.current(); now.Name != "First" {
		t.Errorf("reel %+v", now)
	}
	r.deleteReel()
	if n := len(d.Opened.Facts.Reels); n != 1 || len(d.Opened.Facts.Parts) != 0 {
		t.Errorf("%d reels, %d parts", n, len(d.Opened.Facts.Parts))
	}
	undo(t, d)
	r.work(all[0].ID)
	if len(r.parts()) != 4 {
		t.Error("undo did not bring the parts back")
	}
}

// TestFilm: the film is made of the reel worked on, in the folder asked for, and
// the panel says where it is.
func TestFilm(t *testing.T) {
	d, r := filled(t)
	now, _ := r.current()
	dir := t.TempDir()
	var got reels.MakeOptions
	var of timeline.ID
	fail := error(nil)
	r.make = func(_ context.Context, _ *app.App, s *app.Session, id timeline.ID, o reels.MakeOptions) (reels.Made, error) {
		got, of = o, id
		out := reels.Made{Reel: now, Subtitles: []string{"a.vtt", "a.srt"}}
		out.Out, out.Length = filepath.Join(o.Dir, "x.mp4"), time.Minute
		return out, fail
	}
	d.Keys(t, "G")
	f := r.panel.making
	if f == nil || !f.dialog.IsOpen() {
		t.Fatal("no form")
	}
	f.folder.SetText(" ")
	f.accept()
	if f.dialog.Said() == "" || of != "" {
		t.Error("a form without a folder was taken")
	}
	f.folder.SetText(filepath.Join(dir, "film night"))
	f.accept()
	if of != now.ID || got.Dir != filepath.Join(dir, "film night") || !got.Subtitles {
		t.Errorf("made %s with %+v", of, got)
	}
	if said := r.panel.told.Text(); !strings.Contains(said, "x.mp4, 1:00 long") || !strings.Contains(said, "2 caption files") {
		t.Errorf("said %q", said)
	}
	fail = errors.New("the disk is full")
	r.told = ""
	d.Keys(t, "G")
	r.panel.making.accept()
	if len(d.Failed) != 1 || r.panel.told.Text() != "" {
		t.Errorf("failed %v, said %q", d.Failed, r.told)
	}
}
