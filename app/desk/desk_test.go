package desk

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/strip"
	"whistlecut/app/desk/task"
	"whistlecut/app/settings"
	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "whistlecut-desk-")
	if err != nil {
		panic(err)
	}
	os.Setenv("XDG_CACHE_HOME", dir)
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// opened is a desk on a simulated bout without film, in Fyne's test window.
func opened(t *testing.T) (*Desk, *simulate.Game) {
	t.Helper()
	f := newQueued(test.NewTempApp(t)) // what comes from the background waits, as in a real window
	a := app.New("tester")
	set, err := settings.Load(filepath.Join(t.TempDir(), "settings.json"))
	if err != nil {
		t.Fatal(err)
	}
	set.Language = "en" // the system's may be what a test before has set
	game := simulate.Play(7, simulate.Options{Jams: 2})
	path := filepath.Join(t.TempDir(), "game"+app.Ext)
	s, err := a.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Apply("the game", timeline.FactsChanges(game.Facts())...); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	d := New(f, a, set, false)
	d.win.Resize(fyne.NewSize(1280, 720))
	t.Cleanup(func() {
		d.closeBout()
		d.player.Close()
	})
	d.Open(path)
	if d.session == nil {
		t.Fatal("the bout did not open")
	}
	return d, game
}

func TestUndoByKeys(t *testing.T) {
	d, _ := opened(t)
	tags := len(d.session.Facts.Tags)
	id := timeline.ID("note")
	d.Apply("a note", timeline.SetTag(timeline.Tag{ID: id, Kind: timeline.KindNote, Place: timeline.JamAlone(d.session.Bout.Jams[0].ID), Note: "look"}))
	if len(d.session.Facts.Tags) != tags+1 {
		t.Fatal("the note is not there")
	}
	d.press(keys.Press{Name: "Z", Ctrl: true})
	if len(d.session.Facts.Tags) != tags {
		t.Error("undo did not take the note back")
	}
	d.press(keys.Press{Name: "Y", Ctrl: true})
	if _, ok := d.session.Facts.Tags[id]; !ok {
		t.Error("the note did not come again")
	}
}

// TestNoClashes: no press means two things.
func TestNoClashes(t *testing.T) {
	d, _ := opened(t)
	for _, c := range d.book.Clashes() {
		t.Errorf("one key means %s and %s", c[0], c[1])
	}
	seen := map[string]bool{}
	for _, a := range d.book.Actions() {
		if seen[a.ID] {
			t.Errorf("two actions are called %s", a.ID)
		}
		seen[a.ID] = true
		if a.Title == "" || a.Run == nil || len(a.Keys) == 0 {
			t.Errorf("action %q has no title, no key or does nothing", a.ID)
		}
	}
}

// TestEveryTask shows each task by its key and in each language and theme.
func TestEveryTask(t *testing.T) {
	d, _ := opened(t)
	for _, lang := range []string{"en", "es", "fr", "de"} {
		for _, theme := range []string{"", "light"} {
			d.set.Language, d.set.Theme = lang, theme
			d.build()
			for i, x := range d.tasks {
				d.press(keys.Press{Name: string(rune('1' + i)), Ctrl: true})
				if d.shown != x.ID() || d.panels[x.ID()] == nil {
					t.Errorf("%s: Ctrl+%d shows %s, want %s", lang, i+1, d.shown, x.ID())
				}
			}
		}
	}
}

// TestReachable: on a small window each part of the desk has room and lies inside.
func TestReachable(t *testing.T) {
	for _, size := range []fyne.Size{fyne.NewSize(1024, 600), fyne.NewSize(1280, 720), fyne.NewSize(1920, 1080)} {
		d, _ := opened(t)
		d.win.Resize(size)
		origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(d.win.Content())
		for name, o := range map[string]fyne.CanvasObject{"bar": d.bar.view, "panel": d.middle.host, "screen": d.screen, "strip": d.strip, "line": d.line.view} {
			at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o).Subtract(origin)
			s := o.Size()
			if s.Width < 60 || s.Height < 20 || at.X < 0 || at.Y < 0 || at.X+s.Width > size.Width+0.5 || at.Y+s.Height > size.Height+0.5 {
				t.Errorf("%v: %s lies at %v with %v", size, name, at, s)
			}
		}
	}
}

func TestHistoryUndoesBack(t *testing.T) {
	d, _ := opened(t)
	jam := d.session.Bout.Jams[0].ID
	for _, n := range []timeline.ID{"a", "b", "c"} {
		d.Apply("note "+string(n), timeline.SetTag(timeline.Tag{ID: n, Kind: timeline.KindNote, Place: timeline.JamAlone(jam)}))
	}
	h := d.session.File.Log().History()
	d.undoTo(h[len(h)-2].Group)
	for n, want := range map[timeline.ID]bool{"a": true, "b": false, "c": false} {
		if _, ok := d.session.Facts.Tags[n]; ok != want {
			t.Errorf("note %s there: %v", n, ok)
		}
	}
}

// TestClosingLeavesNothing: after a bout is closed no goroutine of it goes on.
func TestClosingLeavesNothing(t *testing.T) {
	d, _ := opened(t)
	d.Work("waiting", func(ctx context.Context, _ *app.App, _ *app.Session) error {
		<-ctx.Done()
		return ctx.Err()
	}, nil)
	d.closeBout()
	if d.session != nil || d.work != nil {
		t.Error("the bout is still open")
	}
	var stacks []string
	for range 50 {
		buf := make([]byte, 1<<20)
		all := string(buf[:runtime.Stack(buf, true)])
		stacks = stacks[:0]
		for _, g := range strings.Split(all, "\n\n") {
			if strings.Contains(g, "whistlecut/app/desk.(*Desk)") && !strings.Contains(g, "TestClosingLeavesNothing") {
				stacks = append(stacks, g)
			}
		}
		if len(stacks) == 0 {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("still running:\n%s", strings.Join(stacks, "\n\n"))
}

func TestRetimed(t *testing.T) {
	at := func(s int) time.Duration { return time.Duration(s) * time.Second }
	jam := timeline.ID("j")
	f := timeline.Facts{Tags: map[timeline.ID]timeline.Tag{
		"j":    {ID: "j", Kind: timeline.KindJam, Place: timeline.JamAlone("j"), JamInfo: &timeline.JamInfo{Period: 1}},
		"trip": {ID: "trip", Kind: timeline.KindTrip, Place: timeline.InJam(jam, at(30)), Trip: &timeline.TripInfo{Number: 2, Points: 4}},
		"box":  {ID: "box", Kind: timeline.KindBox, Place: timeline.InJam(jam, at(10)), Box: &timeline.BoxInfo{}},
		"lead": {ID: "lead", Kind: timeline.KindLead, Place: timeline.InJam(jam, at(9))},
	}}
	for _, c := range []struct {
		name string
		id   timeline.ID
		edge strip.Edge
		got  func(timeline.Facts) timeline.Place
	}{
		{"jam end", "j", strip.End, func(f timeline.Facts) timeline.Place { return f.Tags["j"].JamInfo.End }},
		{"trip end", "trip", strip.End, func(f timeline.Facts) timeline.Place { return f.Tags["trip"].Place }},
		{"trip start", "trip", strip.Begin, func(f timeline.Facts) timeline.Place { return f.Tags["trip"].Trip.Start }},
		{"sitting down", "box", strip.Begin, func(f timeline.Facts) timeline.Place { return f.Tags["box"].Place }},
		{"leaving the box", "box", strip.End, func(f timeline.Facts) timeline.Place { return f.Tags["box"].Box.Out }},
		{"lead", "lead", strip.Moment, func(f timeline.Facts) timeline.Place { return f.Tags["lead"].Place }},
		{"jam start", "j", strip.Begin, func(f timeline.Facts) timeline.Place {
			for _, m := range f.Marks {
				if m.Hand && m.Jam == jam {
					return timeline.OnFilm(m.Footage, m.Film)
				}
			}
			return timeline.Place{}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := timeline.NewLog("tester", "s")
			if _, _, err := l.Apply("facts", timeline.FactsChanges(f)...); err != nil {
				t.Fatal(err)
			}
			if _, _, err := l.Apply("moved", retimed(f, c.id, c.edge, "film", at(77))...); err != nil {
				t.Fatal(err)
			}
			if got := c.got(l.Facts()); got != timeline.OnFilm("film", at(77)) {
				t.Errorf("now at %+v", got)
			}
			if before := c.got(f); before == timeline.OnFilm("film", at(77)) {
				t.Error("the facts given were changed")
			}
		})
	}
	if n := len(retimed(f, "nobody", strip.Moment, "film", 0)); n != 0 {
		t.Errorf("an unknown tag gave %d changes", n)
	}
}

var _ task.Desk = (*Desk)(nil)
