package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// TestWindow uses the real window as a person would: under a virtual screen, with
// keys sent from outside, on film that runs at real speed. It logs a whole jam of
// both teams, confirms a doubtful jam, walks and resolves a finding, cuts clips,
// kills the program and finds everything in the file again.
func TestWindow(t *testing.T) {
	if testing.Short() {
		t.Skip("plays a jam at real speed")
	}
	for _, tool := range []string{"Xvfb", "xdotool"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed; make test installs it", tool)
		}
	}
	dir := t.TempDir()
	game, seed := shortJam(t)
	path := stagePlain(t, dir, seed, game)
	w := newWindow(t, dir)
	w.start(path)

	first, second := game.Truth.Jams[0], game.Truth.Jams[1]
	w.keys("Home", "ctrl+2", "ctrl+Right")
	tries := 0
	w.until("a mark at the jam's start", func(f timeline.Facts, b timeline.Bout) bool {
		if tries%5 == 0 { // the frame may still be on its way
			w.key("f")
		}
		tries++
		want, film, ok := b.Alignment.FilmOf(timeline.InJam(first.ID, 0))
		return ok && slices.ContainsFunc(markPlaces(f), func(m timeline.Place) bool {
			return m.Footage == want && abs(m.Film-film) < 40*time.Millisecond
		})
	})

	// The jammers are asked for as the jam comes up; then the film runs.
	for _, s := range first.Sides {
		for _, digit := range string(s.Jammer) {
			w.key(string(digit))
		}
		w.key("Return")
	}
	began := time.Now()
	w.key("space")
	for _, k := range jamKeys(first) {
		// A person is late by a tenth of a second or so.
		time.Sleep(time.Until(began.Add(k.at + 120*time.Millisecond)))
		w.key(k.key)
	}
	w.key("space")
	w.until("the jam as it was played", func(_ timeline.Facts, b timeline.Bout) bool { return sameJam(b, game, first) == "" },
		func(_ timeline.Facts, b timeline.Bout) string { return sameJam(b, game, first) })

	w.keys("ctrl+1")
	time.Sleep(300 * time.Millisecond)
	w.keys("Down", "Return")
	w.until("the doubtful jam confirmed", func(f timeline.Facts, _ timeline.Bout) bool {
		for _, m := range f.Marks {
			if m.Jam == second.ID && m.Hand {
				return true
			}
		}
		return false
	})

	w.keys("ctrl+3")
	time.Sleep(time.Second)
	w.keys("Down", "Return")
	time.Sleep(500 * time.Millisecond)
	w.key("2")
	facts := w.until("a finding resolved", func(f timeline.Facts, _ timeline.Bout) bool { return len(f.Resolutions) > 0 })
	for _, r := range facts.Resolutions {
		if r.Verdict != timeline.VerdictSheetDiffers {
			t.Errorf("the finding was resolved as %q", r.Verdict)
		}
	}

	clips := func() []string {
		list, _ := filepath.Glob(filepath.Join(dir, "clips", "*.mp4"))
		return list
	}
	w.key("ctrl+4")
	for range 5 { // the machine may be busy: a key can come before the dialog is up
		time.Sleep(time.Second)
		w.key("c")
		time.Sleep(1500 * time.Millisecond)
		w.key("Return")
		for range 50 {
			if len(clips()) == 0 {
				time.Sleep(200 * time.Millisecond)
			}
		}
		if len(clips()) > 0 {
			break
		}
	}
	if len(clips()) == 0 {
		w.picture("no clip")
		t.Error("no clip was cut")
	}

	for i := 0; i < 150 && len(unfinished(dir)) > 0; i++ {
		time.Sleep(200 * time.Millisecond) // the second clip
	}

	before := w.facts()
	w.kill()
	after := w.facts()
	if a, b := plain(t, before), plain(t, after); a != b {
		t.Error("after the kill the bout is another")
	}
	w.start(path)
	w.stop()
	for _, f := range unfinished(dir) {
		t.Errorf("left behind: %s", f)
	}
}

// shortJam looks for a game whose first jam is short, called off, and has lead and
// points in it, so that the test takes a minute and not three.
func shortJam(t *testing.T) (*simulate.Game, uint64) {
	t.Helper()
	for seed := uint64(1); seed < 400; seed++ {
		g := simulate.Play(seed, simulate.Options{Jams: 2, Periods: 1})
		j := g.Truth.Jams[0]
		long := j.Duration()
		ok := j.Ended == timeline.EndCalled && long > 20*time.Second && long < 40*time.Second && g.Duration() < 150*time.Second
		points := 0
		for _, s := range j.Sides {
			ok = ok && len(s.StarPasses) == 0 && !s.NI[0] && !s.Lost && len(s.Jammer) > 0
			points += s.Points
		}
		if ok && points > 0 && j.Sides[0].Points+j.Sides[1].Points == points {
			return g, seed
		}
	}
	t.Fatal("no game with a short first jam")
	return nil, 0
}

// stagePlain stages the game with film and sheet, takes the tags of the first jam
// away, and makes the second jam's place a doubtful one.
func stagePlain(t *testing.T, dir string, seed uint64, game *simulate.Game) string {
	t.Helper()
	a := app.New("stager")
	out, err := a.Stage(context.Background(), app.StageOptions{
		Dir: filepath.Join(dir, "demo"), Seed: seed, Jams: 2, Periods: 1, Width: 640, Height: 360, Mistakes: 3,
	})
	if err != nil {
		t.Fatal(err)
	}
	s, err := a.Open(out.Bout, false)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	first, second := game.Truth.Jams[0], game.Truth.Jams[1]
	var changes []timeline.Change
	for id, x := range s.Facts.Tags {
		in := x.Jam == first.ID || x.Place.Jam == first.ID
		switch x.Kind {
		case timeline.KindLead, timeline.KindLost, timeline.KindCall, timeline.KindTrip, timeline.KindLineup:
			if in {
				changes = append(changes, timeline.DeleteTag(id))
			}
		case timeline.KindJam:
			if in {
				i := *x.JamInfo
				i.End, i.Ended = timeline.Place{}, timeline.EndUnknown
				x.JamInfo = &i
				changes = append(changes, timeline.SetTag(x))
			}
		}
	}
	for _, m := range s.Facts.Marks {
		if m.Jam == second.ID {
			m.Hand, m.Confidence = false, 0.4
			changes = append(changes, timeline.SetMark(m))
		}
	}
	if err := s.Apply("the first jam is not logged yet", changes...); err != nil {
		t.Fatal(err)
	}
	return out.Bout
}

// stroke is a key at a jam time.
type stroke struct {
	at  time.Duration
	key string
}

// jamKeys are the keys of a jam: home on the upper letter row, away on the lower.
func jamKeys(j *simulate.Jam) []stroke {
	rows := [2][]string{{"q", "r", "t", "y", "u", "i"}, {"z", "v", "b", "n", "m", "comma"}}
	initial := [2]string{"s", "j"}
	var out []stroke
	for n, s := range j.Sides {
		if s.Lead {
			out = append(out, stroke{s.LeadAt, rows[n][0]})
		}
		for i, trip := range s.Trips {
			at := trip.End
			if trip.Open {
				at = j.Duration() + 200*time.Millisecond
			}
			if i == 0 {
				out = append(out, stroke{at, initial[n]})
			} else {
				out = append(out, stroke{at, rows[n][1+len(trip.Points)]})
			}
		}
		if s.Called {
			out = append(out, stroke{min(s.CalledAt, j.Duration()-300*time.Millisecond), "Escape"})
		}
	}
	out = append(out, stroke{j.Duration(), "Return"})
	slices.SortStableFunc(out, func(a, b stroke) int { return int(a.at - b.at) })
	return out
}

// sameJam says how the recount of a jam differs from what was played; "" when it
// does not.
func sameJam(b timeline.Bout, g *simulate.Game, j *simulate.Jam) string {
	got, ok := b.Jam(j.ID)
	if !ok {
		return "the jam is gone"
	}
	for _, w := range g.Rows() {
		if w.Period != j.Period || w.Jam != j.Number || w.StarPass || w.Spacer {
			continue
		}
		s := got.Sides[w.Side.Index()]
		if len(s.Rows) == 0 {
			return fmt.Sprintf("%s has no row", w.Side)
		}
		r := s.Rows[0]
		trips := func(cells []timeline.Cell[int]) (out []int) {
			for _, c := range cells {
				if c.State == timeline.CellKnown {
					out = append(out, c.Value)
				}
			}
			return out
		}
		switch {
		case r.Jammer.Value != w.Jammer.Value:
			return fmt.Sprintf("%s: jammer %s, played %s", w.Side, r.Jammer.Value, w.Jammer.Value)
		case r.Lead.Value != w.Lead.Value:
			return fmt.Sprintf("%s: lead %v, played %v", w.Side, r.Lead.Value, w.Lead.Value)
		case r.Call.Value != w.Call.Value:
			return fmt.Sprintf("%s: call %v, played %v", w.Side, r.Call.Value, w.Call.Value)
		case !slices.Equal(trips(r.Trips), trips(w.Trips)):
			return fmt.Sprintf("%s: trips %v, played %v", w.Side, trips(r.Trips), trips(w.Trips))
		case s.Points != timeline.Exactly(j.Sides[w.Side.Index()].Points):
			return fmt.Sprintf("%s: %v points, played %d", w.Side, s.Points, j.Sides[w.Side.Index()].Points)
		}
	}
	return ""
}

func markPlaces(f timeline.Facts) (out []timeline.Place) {
	for _, x := range f.Tags {
		if x.Kind == timeline.KindMark {
			out = append(out, x.Place)
		}
	}
	return out
}

func abs(d time.Duration) time.Duration { return max(d, -d) }

func plain(t *testing.T, f timeline.Facts) string {
	t.Helper()
	b, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// unfinished lists files in a folder that a program left half-written.
func unfinished(dir string) (out []string) {
	_ = filepath.WalkDir(dir, func(p string, _ os.DirEntry, _ error) error {
		if strings.Contains(filepath.Base(p), ".part-") {
			out = append(out, p)
		}
		return nil
	})
	return out
}

// window is the program in a window on a screen of its own.
type window struct {
	t       *testing.T
	dir     string
	display string
	bout    string
	run     *exec.Cmd
}

func newWindow(t *testing.T, dir string) *window {
	t.Helper()
	w := &window{t: t, dir: dir}
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	x := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1280x720x24", "-nolisten", "tcp")
	x.ExtraFiles = []*os.File{write}
	if err := x.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		w.stop()
		_ = x.Process.Kill()
		_ = x.Wait()
	})
	write.Close()
	var n int
	if _, err := fmt.Fscan(read, &n); err != nil {
		t.Fatal("the virtual screen did not start: ", err)
	}
	w.display = fmt.Sprintf(":%d", n)
	// The tour is for people, and clips go where the test looks.
	set := fmt.Sprintf(`{"tour_seen": true, "language": "en", "clip_dir": %q, "proxy_bytes": -1}`, filepath.Join(dir, "clips"))
	if err := os.WriteFile(filepath.Join(dir, "settings.json"), []byte(set), 0o644); err != nil {
		t.Fatal(err)
	}
	return w
}

// start opens the bout in the window and waits until its film answers to a key.
func (w *window) start(bout string) {
	w.t.Helper()
	w.bout = bout
	self, err := os.Executable()
	if err != nil {
		w.t.Fatal(err)
	}
	w.run = exec.Command(self, "desk", bout)
	w.run.Args[0] = "whistlecut" // the test program takes this name for the command line
	w.run.Env = append(os.Environ(), "DISPLAY="+w.display, "LANG=en_GB.UTF-8", "WHISTLECUT_AUTHOR=Tester",
		"WHISTLECUT_SETTINGS="+filepath.Join(w.dir, "settings.json"), "XDG_CACHE_HOME="+filepath.Join(w.dir, "cache"), "WHISTLECUT_TRACE=1")
	log, err := os.Create(filepath.Join(w.dir, "desk.log"))
	if err != nil {
		w.t.Fatal(err)
	}
	w.run.Stdout, w.run.Stderr = log, log
	if err := w.run.Start(); err != nil {
		w.t.Fatal(err)
	}
	log.Close()
	marks := len(markPlaces(w.facts()))
	deadline := time.Now().Add(90 * time.Second)
	for time.Now().Before(deadline) {
		time.Sleep(700 * time.Millisecond)
		w.key("f")
		if len(markPlaces(w.facts())) > marks {
			return
		}
	}
	w.picture("start")
	w.t.Fatalf("the window never answered a key\n%s", w.log())
}

func (w *window) log() string {
	b, _ := os.ReadFile(filepath.Join(w.dir, "desk.log"))
	var keep []string
	for _, l := range strings.Split(string(b), "\n") {
		if !strings.HasPrefix(l, "ALSA lib") {
			keep = append(keep, l)
		}
	}
	return strings.Join(keep, "\n")
}

func (w *window) key(k string) {
	w.t.Helper()
	c := exec.Command("xdotool", "key", "--clearmodifiers", k)
	c.Env = append(os.Environ(), "DISPLAY="+w.display)
	if out, err := c.CombinedOutput(); err != nil {
		w.t.Fatalf("key %s: %v\n%s\n%s", k, err, out, w.log())
	}
}

// keys presses keys one after the other, as fast as a person would.
func (w *window) keys(list ...string) {
	w.t.Helper()
	for _, k := range list {
		w.key(k)
		time.Sleep(250 * time.Millisecond)
	}
}

// facts reads the bout from the file, beside the running program.
func (w *window) facts() timeline.Facts {
	w.t.Helper()
	s, err := app.New("reader").Open(w.bout, true)
	if err != nil {
		w.t.Fatal(err)
	}
	defer s.Close()
	return s.Facts
}

// until waits until the bout file says so, and fails the test when it does not;
// say tells what it was instead.
func (w *window) until(what string, ok func(timeline.Facts, timeline.Bout) bool, say ...func(timeline.Facts, timeline.Bout) string) timeline.Facts {
	w.t.Helper()
	var f timeline.Facts
	var b timeline.Bout
	for range 100 {
		f = w.facts()
		b = timeline.Derive(f)
		if ok(f, b) {
			return f
		}
		time.Sleep(200 * time.Millisecond)
	}
	w.picture(what)
	text := ""
	for _, s := range say {
		text += ": " + s(f, b)
	}
	w.t.Fatalf("never came: %s%s\n%s", what, text, w.log())
	return f
}

// picture keeps what the screen shows, for whoever looks into a failure.
func (w *window) picture(name string) {
	dir := os.Getenv("WHISTLECUT_PICTURES")
	if dir == "" {
		return
	}
	c := exec.Command("ffmpeg", "-loglevel", "error", "-y", "-f", "x11grab", "-i", w.display, "-frames:v", "1", filepath.Join(dir, strings.ReplaceAll(name, " ", "-")+".png"))
	_ = c.Run()
}

// kill ends the program as a power cut would.
func (w *window) kill() {
	w.t.Helper()
	_ = w.run.Process.Signal(syscall.SIGKILL)
	_ = w.run.Wait()
	w.run = nil
}

// stop closes the window by its key and expects the program to end by itself.
func (w *window) stop() {
	if w.run == nil {
		return
	}
	ended := make(chan error, 1)
	run := w.run
	w.run = nil
	go func() { ended <- run.Wait() }()
	c := exec.Command("xdotool", "key", "ctrl+q")
	c.Env = append(os.Environ(), "DISPLAY="+w.display)
	_ = c.Run()
	select {
	case err := <-ended:
		if err != nil {
			w.t.Errorf("the program ended with %v\n%s", err, w.log())
		}
	case <-time.After(20 * time.Second):
		_ = run.Process.Kill()
		<-ended
		w.t.Error("the program did not end")
	}
}
