package desk

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/settings"
	"whistlecut/export/demofilm"
	"whistlecut/timeline"
)

// soakPlan is how long the desk is used: rounds of so many actions, after each of
// which the bout is closed and everything is counted.
type soakPlan struct {
	rounds, actions int
	pause           time.Duration // for the film to come, after each action
	film            demofilm.Options
	width           int
}

// TestSoak uses the desk as somebody does in an hour, only faster: an action for
// each second of use. Short form: a few seconds of it.
func TestSoak(t *testing.T) {
	plan := soakPlan{
		rounds: 2, actions: 60, pause: 4 * time.Millisecond,
		film: demofilm.Options{FrameRate: demofilm.Fraction{Num: 5, Den: 1}, OneFile: true}, width: 128,
	}
	if os.Getenv("WHISTLECUT_SOAK") != "" {
		if os.Getenv("FYNE_CACHE") == "" {
			soakApart(t)
			return
		}
		plan = soakPlan{
			rounds: 20, actions: 180, pause: 15 * time.Millisecond,
			film: demofilm.Options{FrameRate: demofilm.Fraction{Num: 15, Den: 1}, Second: &demofilm.Second{FrameRate: demofilm.Fraction{Num: 10, Den: 1}}}, width: 320,
		}
	}
	u := newUser(t, plan)
	start := time.Now()
	var open, closed []figures
	for round := range plan.rounds {
		u.open()
		for range plan.actions {
			u.act(plan.pause)
		}
		u.escape()
		u.d.Pause()
		u.w.pump(200 * time.Millisecond)
		open = append(open, measured())
		u.close()
		closed = append(closed, measured())
		t.Logf("%4.0f s, %5d actions: open %v; closed %v", time.Since(start).Seconds(), (round+1)*plan.actions, open[round], closed[round])
		if t.Failed() {
			break
		}
	}
	t.Log(u.tally())
	u.d.player.Close()
	u.nothingLeft("the window is closed")
	if plan.rounds >= 10 {
		first := plan.rounds / 10
		for _, g := range grown(open[first-1:]) {
			t.Error("with the bout open, " + g)
		}
		for _, g := range grown(closed[first-1:]) {
			t.Error("with the bout closed, " + g)
		}
	}
}

// soakApart runs the long form in a process of its own in which Fyne forgets what
// is not drawn any more after seconds instead of a minute, so that what we leak is
// told from what it keeps. It reads that only when it starts.
func soakApart(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self, "-test.run=^TestSoak$", "-test.v", "-test.timeout=30m")
	c.Env = append(os.Environ(), "FYNE_CACHE=2s")
	c.Stdout, c.Stderr = os.Stdout, os.Stderr
	if err := c.Run(); err != nil {
		t.Errorf("the soak failed: %v", err)
	}
}

// user does one thing after the other at the desk.
type user struct {
	t    *testing.T
	w    *queued
	d    *Desk
	rng  *rand.Rand
	keep []byte // the bout file as staged
	path string
	done map[string]int
	took map[string]time.Duration
	n    int
}

func newUser(t *testing.T, plan soakPlan) *user {
	t.Helper()
	dir := t.TempDir()
	a := app.New("tester")
	staged, err := a.Stage(context.Background(), app.StageOptions{Dir: dir, Seed: 3, Jams: 2, Periods: 1, Width: plan.width, Height: plan.width * 9 / 16, Mistakes: 4, Events: true, Film: plan.film})
	if err != nil {
		t.Fatal(err)
	}
	set, err := settings.Load(filepath.Join(t.TempDir(), "settings.json"))
	if err != nil {
		t.Fatal(err)
	}
	u := &user{t: t, w: newQueued(test.NewTempApp(t)), rng: rand.New(rand.NewPCG(5, 7)), path: staged.Bout, done: map[string]int{}, took: map[string]time.Duration{}}
	if u.keep, err = os.ReadFile(staged.Bout); err != nil {
		t.Fatal(err)
	}
	u.d = New(u.w, a, set, false)
	u.d.win.Resize(fyne.NewSize(1280, 720))
	return u
}

// open opens the bout as it was staged: what edits add to a file is not a leak.
func (u *user) open() {
	u.t.Helper()
	for _, end := range []string{"-wal", "-shm"} {
		_ = os.Remove(u.path + end)
	}
	if err := os.WriteFile(u.path, u.keep, 0o644); err != nil {
		u.t.Fatal(err)
	}
	u.d.Open(u.path)
	if u.d.session == nil {
		u.t.Fatal("the bout did not open")
	}
}

// close closes the bout and looks whether anything of it goes on.
func (u *user) close() {
	u.t.Helper()
	u.escape()
	u.d.closeBout()
	u.d.build()
	u.draw()
	// The player's own two stay as long as the window.
	u.nothingLeft("the bout is closed", "play.(*Player)")
}

func (u *user) nothingLeft(when string, but ...string) {
	u.t.Helper()
	var left, procs []string
	for range 100 {
		u.w.pump(50 * time.Millisecond)
		if left, procs = ours(but...), children(); len(left)+len(procs) == 0 {
			return
		}
	}
	u.t.Errorf("%s, and there are still processes %v and goroutines:\n%s", when, procs, strings.Join(left, "\n\n"))
}

// draw paints the window.
func (u *user) draw() { u.d.win.Canvas().Capture() }

func (u *user) press(name string, mods ...string) {
	p := keys.Press{Name: name}
	for _, m := range mods {
		p.Ctrl, p.Shift, p.Alt = p.Ctrl || m == "ctrl", p.Shift || m == "shift", p.Alt || m == "alt"
	}
	u.d.press(p)
}

// escape closes whatever lies over the desk.
func (u *user) escape() {
	for range 20 {
		if u.d.win.Canvas().Overlays().Top() == nil {
			break
		}
		u.press("Escape")
	}
	if top := u.d.win.Canvas().Overlays().Top(); top != nil {
		u.t.Fatalf("Escape does not close %T", top)
	}
	u.d.win.Canvas().Unfocus()
	if u.d.full {
		u.d.fullScreen()
	}
}

// act does one thing, the likelier the more often people do it.
func (u *user) act(pause time.Duration) {
	list := u.things()
	sum := 0
	for _, x := range list {
		sum += x.often
	}
	at := u.rng.IntN(sum)
	for _, x := range list {
		if at -= x.often; at < 0 {
			u.done[x.name]++
			start := time.Now()
			x.do()
			u.took[x.name] += time.Since(start)
			break
		}
	}
	u.w.pump(pause)
	if u.n++; u.n%30 == 0 {
		u.draw()
	}
}

func (u *user) tally() string {
	var out []string
	for n, c := range u.done {
		out = append(out, fmt.Sprintf("%s %d (%d ms each)", n, c, u.took[n].Milliseconds()/int64(c)))
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

type thing struct {
	name  string
	often int
	do    func()
}

func (u *user) pick(of ...string) string { return of[u.rng.IntN(len(of))] }

func (u *user) things() []thing {
	d := u.d
	either := func(a, b string, mods ...string) func() { return func() { u.press(u.pick(a, b), mods...) } }
	card := func(key string, mods ...string) func() {
		return func() {
			u.press(key, mods...)
			for range u.rng.IntN(4) {
				u.press(u.pick("Up", "Down"))
			}
			u.w.pump(5 * time.Millisecond)
			u.draw()
			u.escape()
		}
	}
	return []thing{
		{"seek", 220, u.seek},
		{"frame", 160, either("Left", "Right")},
		{"second", 60, either("Left", "Right", "shift")},
		{"jam", 50, either("Left", "Right", "ctrl")},
		{"play", 40, func() {
			u.press("Space")
			u.w.pump(time.Duration(u.rng.IntN(150)) * time.Millisecond)
			d.Pause()
		}},
		{"speed", 15, either("Up", "Down", "ctrl")},
		{"loop", 20, func() { u.press("L"); u.w.pump(30 * time.Millisecond); d.Unloop(); d.Pause() }},
		{"camera", 10, either("F6", "F7")},
		{"task", 50, func() { u.press(u.pick("1", "2", "3", "4"), "ctrl") }},
		{"key of the task", 120, u.taskKey},
		{"note", 40, u.note},
		{"mark", 20, func() { u.press("F") }},
		{"undo", 50, func() { u.press("Z", "ctrl") }},
		{"redo", 25, func() { u.press("Y", "ctrl") }},
		{"strip zoom", 40, either("Up", "Down", "alt")},
		{"strip move", 20, either("Left", "Right", "alt")},
		{"strip whole", 8, either("Home", "End")},
		{"strip pointer", 40, u.pointer},
		{"marks", 8, card("F8")},
		{"history", 5, card("H", "ctrl")},
		{"keys", 4, card("F1")},
		{"preferences", 4, card(",", "ctrl")},
		{"menu", 4, card("F10")},
		{"tour", 2, card("F1", "shift")},
		{"rules", 2, func() { d.showRules(); u.draw(); u.escape() }},
		{"full screen", 3, func() { u.press("F11"); u.w.pump(5 * time.Millisecond); u.escape() }},
		{"look", 8, u.look},
		{"size", 4, func() { d.win.Resize(fyne.NewSize(float32(1024+u.rng.IntN(800)), float32(600+u.rng.IntN(400)))) }},
		{"close and open", 8, func() {
			start := time.Now()
			u.press("W", "ctrl")
			u.done["of it to close"]++
			u.took["of it to close"] += time.Since(start)
			u.escape()
			u.w.pump(5 * time.Millisecond)
			d.Open(u.path)
			if d.session == nil {
				u.t.Fatal("the bout did not open again")
			}
		}},
	}
}

func (u *user) seek() {
	var list []timeline.Footage
	for _, f := range u.d.session.Facts.Footage {
		list = append(list, f)
	}
	if len(list) == 0 {
		return
	}
	slices.SortFunc(list, func(a, b timeline.Footage) int { return strings.Compare(string(a.ID), string(b.ID)) })
	f := list[u.rng.IntN(len(list))]
	u.d.GoFilm(f.ID, time.Duration(u.rng.Int64N(int64(f.Duration)+1)))
}

func (u *user) note() {
	jams := u.d.session.Bout.Jams
	if len(jams) == 0 {
		return
	}
	id := u.d.session.File.Log().NewID()
	u.d.Apply("a note", timeline.SetTag(timeline.Tag{ID: id, Kind: timeline.KindNote, Place: timeline.InJam(jams[u.rng.IntN(len(jams))].ID, time.Duration(u.rng.IntN(60))*time.Second), Note: "look"}))
}

// taskKey does one of the actions of the task on the desk, other than cutting,
// which is measured elsewhere and takes its time.
func (u *user) taskKey() {
	var list []*keys.Action
	for _, a := range u.d.book.Actions() {
		if a.Scope == u.d.shown && a.ID != "find.cut" && a.ID != "align.listen" {
			list = append(list, a)
		}
	}
	if len(list) == 0 {
		return
	}
	list[u.rng.IntN(len(list))].Run()
	u.w.pump(2 * time.Millisecond)
	u.escape()
}

func (u *user) pointer() {
	s := u.d.strip
	size := s.Size()
	at := fyne.NewPos(u.rng.Float32()*size.Width, u.rng.Float32()*size.Height)
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at, AbsolutePosition: at}, Button: desktop.MouseButtonPrimary}
	switch u.rng.IntN(3) {
	case 0:
		s.Scrolled(&fyne.ScrollEvent{PointEvent: e.PointEvent, Scrolled: fyne.Delta{DY: float32(u.rng.IntN(60) - 30)}})
	case 1:
		s.MouseMoved(e)
	default:
		s.MouseDown(e)
		s.MouseUp(e)
	}
}

// look changes language, theme, size or colours.
func (u *user) look() {
	set := u.d.set
	set.Language, set.Theme = u.pick("en", "es", "fr", "de"), u.pick("", "light")
	set.Scale = []float64{1, 1.3}[u.rng.IntN(2)]
	set.SafeColours = u.rng.IntN(2) == 0
	u.d.build()
	u.d.Show(u.pick(task.Align, task.Log, task.Check, task.Find))
}
