package newbout

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline/footage/ffmpeg"
)

type made struct {
	paths  []string
	listen int
}

// begun is the flow on a window of the least size the desk is made for.
func begun(t *testing.T) (*Flow, *tasktest.Desk, *made) {
	t.Helper()
	tasktest.Wear(t, look.DarkPalette, 1)
	d := tasktest.New(t, tasktest.Options{Seed: 1, NoFilm: true, NoTags: true})
	d.Win = test.NewTempWindow(t, nil)
	d.Win.SetPadded(false)
	d.Win.Resize(fyne.NewSize(1024, 600))
	m := &made{}
	f := New(d, func(path string) bool { m.paths = append(m.paths, path); return true }, func() { m.listen++ })
	f.Show()
	return f, d, m
}

// tinyFilm makes two seconds of film with sound.
func tinyFilm(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "hall.mp4")
	err := ffmpeg.Default().Run(t.Context(), ffmpeg.Job{Args: []string{
		"-f", "lavfi", "-i", "testsrc2=s=64x48:r=10:d=2", "-f", "lavfi", "-i", "sine=d=2", "-pix_fmt", "yuv420p", "-y", path,
	}, Doing: "make", Subject: path})
	if err != nil {
		t.Fatal(err)
	}
	return path
}

const score = "Whistlecut sheet,1\n[Teams]\nTeam,Name\nhome,Harbour Lanterns\naway,Quarry Larks\n" +
	"[Score]\nPeriod,Jam,Team,Jammer,Trip 2,Jam total,Game total\n1,1,home,73,4,4,4\n1,1,away,19,,0,0\n"

func write(t *testing.T, name, text string) string {
	t.Helper()
	p := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return p
}

func TestFilmAlone(t *testing.T) {
	film := tinyFilm(t)
	f, d, m := begun(t)
	f.Drop([]string{film})
	f.now()
	if len(d.Failed) > 0 || len(m.paths) != 1 || m.listen != 1 {
		t.Fatalf("made %v, lined up %d times, failed %v, said %q", m.paths, m.listen, d.Failed, f.d.Said())
	}
	if filepath.Dir(m.paths[0]) != filepath.Dir(film) {
		t.Errorf("%s does not lie beside the film", m.paths[0])
	}
	s, err := d.Program.Open(m.paths[0], true)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if len(s.Facts.Footage) != 1 || s.Facts.Sheet != nil || s.Facts.Rules.Edition != editions()[0].Edition || s.Facts.Info.Date == "" {
		t.Errorf("%d films, edition %q, date %q", len(s.Facts.Footage), s.Facts.Rules.Edition, s.Facts.Info.Date)
	}
	if len(d.Shows) == 0 || d.Shows[len(d.Shows)-1] != "align" {
		t.Errorf("ends with %v", d.Shows)
	}
}

func TestStepByStep(t *testing.T) {
	f, d, m := begun(t)
	d.Picture(t, "new-film")
	next := func(step int) {
		t.Helper()
		f.forward()
		if f.at != step {
			t.Fatalf("step %d, want %d: %s", f.at, step, f.d.Said())
		}
	}
	next(1) // no film: a sheet alone will do
	sheet := write(t, "score.csv", score)
	test.Type(d.Win.Canvas().Focused(), sheet)
	next(2)
	if f.names.home.Text != "Harbour Lanterns" || f.names.away.Text != "Quarry Larks" {
		t.Errorf("names of the sheet: %q, %q", f.names.home.Text, f.names.away.Text)
	}
	f.names.date.SetText("14 March")
	f.forward()
	if f.at != 2 || f.d.Said() == "" {
		t.Fatal("a date that is none was taken")
	}
	d.Picture(t, "new-names")
	f.names.date.SetText("2026-03-14")
	f.names.rules.SetSelected("2017")
	next(3)
	want := filepath.Join(filepath.Dir(sheet), "2026-03-14 Harbour Lanterns – Quarry Larks.bout")
	if f.place.file() != want {
		t.Errorf("goes to %s, want %s", f.place.file(), want)
	}
	d.Picture(t, "new-place")
	f.turn(1)
	d.Picture(t, "new-sheet")
	f.turn(3)
	f.forward()
	if len(m.paths) != 1 || m.paths[0] != want || m.listen != 0 {
		t.Fatalf("made %v, listened %d times, %v", m.paths, m.listen, d.Failed)
	}
	s, err := d.Program.Open(want, true)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if s.Facts.Rules.Edition != "2017" || s.Facts.Teams[1].Name != "Quarry Larks" || len(s.Bout.Jams) != 1 || s.Facts.Info.Date != "2026-03-14" {
		t.Errorf("%s, %s, %d jams", s.Facts.Rules.Edition, s.Facts.Teams[1].Name, len(s.Bout.Jams))
	}
	// The name is taken now.
	f.Show(sheet)
	f.now()
	if len(m.paths) != 2 || m.paths[1] == want {
		t.Errorf("made %v", m.paths)
	}
}

func TestRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		film, sheet, place string
		step               int
		say                string
	}{
		"nothing":           {step: 0, say: "at least one film"},
		"no such film":      {film: "/nowhere/a.mp4", step: 0, say: "/nowhere/a.mp4"},
		"film named twice":  {film: "TWICE", step: 0, say: "twice"},
		"no such sheet":     {sheet: "/nowhere/s.xlsx", step: 1, say: "/nowhere/s.xlsx"},
		"a sheet of noise":  {sheet: "NOISE", step: 1, say: "noise.csv"},
		"no such folder":    {sheet: "GOOD", place: "/nowhere/x.bout", step: 3, say: "/nowhere"},
		"the name is taken": {sheet: "GOOD", place: "TAKEN", step: 3, say: "already"},
	} {
		t.Run(name, func(t *testing.T) {
			f, _, m := begun(t)
			switch c.sheet {
			case "NOISE":
				c.sheet = write(t, "noise.csv", "a,b\nc,d\n")
			case "GOOD":
				c.sheet = write(t, "score.csv", score)
			}
			if c.film == "TWICE" {
				p := write(t, "a.mp4", "x")
				c.film = p + "\n" + p
			}
			if c.place == "TAKEN" {
				c.place = write(t, "old.bout", "x")
			}
			f.film.cameras[0].SetText(c.film)
			f.paper.path.SetText(c.sheet)
			f.place.path.SetText(c.place)
			f.now()
			if len(m.paths) != 0 || f.at != c.step || !strings.Contains(f.d.Said(), c.say) {
				t.Errorf("step %d, said %q, made %v", f.at, f.d.Said(), m.paths)
			}
		})
	}
}

func TestABrokenFilmLeavesNothing(t *testing.T) {
	f, d, m := begun(t)
	film := write(t, "a.mp4", "no film")
	f.film.cameras[0].SetText(film)
	f.now()
	if len(d.Failed) != 0 || len(m.paths) != 0 || !f.d.IsOpen() || f.at != 0 || !strings.Contains(f.d.Said(), "a.mp4") {
		t.Fatalf("made %v, failed %v, step %d says %q", m.paths, d.Failed, f.at, f.d.Said())
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(film), "*")); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

// TestPaperworkAsFilm: a sheet among the films is recognised before anything is
// read, and one button takes it as the sheet.
func TestPaperworkAsFilm(t *testing.T) {
	f, _, m := begun(t)
	sheet := write(t, "score.csv", score)
	f.film.cameras[0].SetText(sheet)
	f.forward()
	if f.at != 0 || !strings.Contains(f.d.Said(), "score.csv") || !f.film.take.Visible() || len(m.paths) > 0 {
		t.Fatalf("step %d says %q, offers %v", f.at, f.d.Said(), f.film.take.Visible())
	}
	f.film.take.OnTapped()
	if f.at != 1 || f.paper.file() != sheet || f.film.cameras[0].Text != "" || f.film.take.Visible() || f.d.Said() != "" {
		t.Errorf("step %d, sheet %q, film %q, says %q", f.at, f.paper.file(), f.film.cameras[0].Text, f.d.Said())
	}
	f.forward()
	if f.names.home.Text != "Harbour Lanterns" {
		t.Errorf("the sheet was not read: %q", f.names.home.Text)
	}
}

// later is a desk whose long work waits for the test.
type later struct {
	*tasktest.Desk
	do   func() error
	done func(error)
}

func (l *later) Work(_ string, do func(context.Context, *app.App, *app.Session) error, done func(error)) {
	l.do = func() error { return do(context.Background(), l.Program, nil) }
	l.done = done
}

// TestCancelWhileMaking: progress and a way out are shown while the bout is made;
// after cancelling nothing is left behind, and all answers are still there.
func TestCancelWhileMaking(t *testing.T) {
	f, d, m := begun(t)
	f.d.Close()
	l := &later{Desk: d}
	f.desk = l
	f.Show()
	film := tinyFilm(t)
	both := film + "\n" + tinyFilm(t)
	f.film.cameras[0].SetText(both)
	f.now()
	// Escape comes when the first file has been read.
	var once sync.Once
	d.Program.Progress = func(app.Progress) { once.Do(func() { f.d.Keys(fyne.KeyEscape) }) }
	f.making.step(0.5)
	if f.making.bar.Value == 0 {
		t.Error("no progress is shown")
	}
	_ = l.do()
	if !f.making.view.Visible() || f.next.Visible() {
		t.Error("the questions are shown while the bout is made")
	}
	l.done(nil)
	if !f.d.IsOpen() || f.making.view.Visible() || !strings.Contains(f.d.Said(), "Cancelled") || f.film.cameras[0].Text != both {
		t.Errorf("open %v, says %q, film %q", f.d.IsOpen(), f.d.Said(), f.film.cameras[0].Text)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(film), "*")); len(left) != 1 || len(m.paths) > 0 {
		t.Errorf("left behind: %v, made %v", left, m.paths)
	}
}

func TestEscapeCloses(t *testing.T) {
	f, d, _ := begun(t)
	d.Win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if f.d.IsOpen() || d.Win.Canvas().Overlays().Top() != nil {
		t.Error("it is still open")
	}
}
