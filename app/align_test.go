package app

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/adrg/xdg"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
	"whistlecut/timeline/simulate"
)

// soak says whether the heavy forms are asked for.
func soak() bool { return os.Getenv("WHISTLECUT_SOAK") != "" }

// ownCaches keeps what is heard here out of the caches of the person who runs the
// tests, and what was heard before out of the test.
func ownCaches(t *testing.T) {
	t.Helper()
	saved := xdg.CacheHome
	xdg.CacheHome = t.TempDir()
	t.Cleanup(func() { xdg.CacheHome = saved })
}

// filmOfSound makes a film with the sound of a stretch of a schedule and a picture
// that hardly costs anything.
func filmOfSound(t *testing.T, path string, s sound.Schedule, o sound.Options) {
	t.Helper()
	st, err := sound.New(s, o)
	if err != nil {
		t.Fatal(err)
	}
	picture := fmt.Sprintf("color=c=gray:s=64x48:r=5:d=%.3f", st.Duration().Seconds())
	err = ffmpeg.Default().Run(t.Context(), ffmpeg.Job{
		Args: []string{
			"-f", "lavfi", "-i", picture,
			"-f", "s16le", "-ar", fmt.Sprint(st.Rate()), "-ac", fmt.Sprint(st.Channels()), "-i", "pipe:0",
			"-c:v", "libx264", "-preset", "ultrafast", "-g", "50", "-c:a", "aac", "-b:a", "128k", "-y", path,
		},
		Doing: "make", Subject: path, Stdin: st.PCM(),
	})
	if err != nil {
		t.Fatal(err)
	}
}

// stretch is the part of a game that one file shows.
type stretch struct{ from, to time.Duration }

// heardBout is a bout file of a game's sheet and the films of some stretches.
func heardBout(t *testing.T, a *App, g *simulate.Game, o sound.Options, stretches ...stretch) *Session {
	t.Helper()
	dir := t.TempDir()
	schedule := sound.NewSchedule(g.Whistles(), g.Duration()+10*time.Second)
	var films []string
	for i, x := range stretches {
		o.Start, o.Length = x.from, min(x.to, schedule.Length)-x.from
		films = append(films, filepath.Join(dir, fmt.Sprintf("part %d.mp4", i+1)))
		filmOfSound(t, films[i], schedule, o)
	}
	return boutOf(t, a, filepath.Join(dir, "bout"+Ext), g, Camera{Name: "stand", Files: films})
}

// boutOf makes a bout of a game's sheet and cameras.
func boutOf(t *testing.T, a *App, path string, g *simulate.Game, cameras ...Camera) *Session {
	t.Helper()
	var paper bytes.Buffer
	if err := sheet.WriteXLSX(&paper, plant.Sheet(g)); err != nil {
		t.Fatal(err)
	}
	name := path + ".xlsx"
	if err := os.WriteFile(name, paper.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := a.NewBout(t.Context(), NewOptions{Path: path, Cameras: cameras, Sheet: name, KeepOrder: true}); err != nil {
		t.Fatal(err)
	}
	s, err := a.Open(path, false)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// memory watches the program's memory while it works, in thirds of the work.
type memory struct {
	sync.Mutex
	third [3]float64 // highest, MB
}

func (m *memory) note(done float64) {
	m.Lock()
	defer m.Unlock()
	i := min(max(int(3*done), 0), 2)
	m.third[i] = max(m.third[i], residentMB())
}

// residentMB is the memory that the system holds for this process; what the
// runtime has from the system where that is not told.
func residentMB() float64 {
	if b, err := os.ReadFile("/proc/self/status"); err == nil {
		for line := range strings.Lines(string(b)) {
			kb := 0.0
			if _, err := fmt.Sscanf(line, "VmRSS: %f kB", &kb); err == nil {
				return kb / 1024
			}
		}
	}
	var s runtime.MemStats
	runtime.ReadMemStats(&s)
	return float64(s.Sys) / (1 << 20)
}

// TestBoutInThreeFiles hears a bout in three files with gaps between them and
// lines it up with its sheet. The soak form is a full bout of 75 minutes of film.
func TestBoutInThreeFiles(t *testing.T) {
	ownCaches(t)
	g := simulate.Play(301, simulate.Options{Periods: 1, Jams: 3, LeadIn: 10 * time.Second})
	o := sound.Graded(sound.Easy, sound.Tuning, 301)
	// The camera is off for some seconds in every break.
	var cuts []stretch
	from := time.Duration(0)
	for _, j := range g.Truth.Jams {
		cuts = append(cuts, stretch{from, j.End + 8*time.Second})
		from = j.End + 15*time.Second
	}
	if soak() {
		g, o = simulate.Play(301, simulate.Options{}), sound.Graded(sound.Middle, sound.Tuning, 301)
		cuts = []stretch{{0, 25 * time.Minute}, {25*time.Minute + 40*time.Second, 50*time.Minute + 40*time.Second}, {52 * time.Minute, 77 * time.Minute}}
	}
	o.Rate = 32000
	a := New("tester")
	s := heardBout(t, a, g, o, cuts...)
	debug.FreeOSMemory() // what making the films took
	var used memory
	at, file := "", -1
	a.Progress = func(p Progress) {
		if p.Doing != at && strings.HasPrefix(p.Doing, "listening") {
			at, file = p.Doing, file+1
		}
		used.note((float64(max(file, 0)) + min(p.Fraction, 0.999)) / float64(len(cuts)))
	}
	began := time.Now()
	rep, err := a.Align(t.Context(), s, AlignOptions{})
	took := time.Since(began)
	if err != nil {
		t.Fatal(err)
	}
	on, quarter, second, sureWrong := 0, 0, 0, 0
	var length time.Duration
	for i, c := range cuts {
		length += min(c.to, g.Duration()+10*time.Second) - c.from
		id := s.Facts.FootageInOrder()[i].ID
		for _, j := range g.Truth.Jams {
			if j.Start < c.from || j.Start >= c.to {
				continue
			}
			on++
			for _, p := range rep.Jams {
				if p.Period != j.Period || p.Number != j.Number {
					continue
				}
				off := (p.Start - (j.Start - c.from)).Abs()
				if p.Footage != id || off > time.Second {
					sureWrong += boolInt(p.Confidence >= 0.9)
					t.Logf("jam %d.%d: on %s at %v, %.2f sure, true at %v of file %d", p.Period, p.Number, p.Footage, p.Start, p.Confidence, j.Start-c.from, i+1)
					continue
				}
				second++
				quarter += boolInt(off <= 250*time.Millisecond)
			}
		}
	}
	t.Logf("%v of film in %d files heard and lined up in %.1f s; memory %.0f, %.0f, %.0f MB in its thirds; of %d jams %d within 0.25 s, %d within 1 s",
		length.Round(time.Second), len(cuts), took.Seconds(), used.third[0], used.third[1], used.third[2], on, quarter, second)
	if on == 0 || float64(quarter) < 0.9*float64(on) {
		t.Errorf("%d of %d jams within 0.25 s", quarter, on)
	}
	if sureWrong > 0 {
		t.Errorf("%d jams are said to be sure and are wrong", sureWrong)
	}
	if soak() && used.third[2] > used.third[0]+64 {
		t.Errorf("memory grows with the film: %.0f MB in the first third, %.0f MB in the last", used.third[0], used.third[2])
	}
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// TestSecondCamera: another camera of the same bout, started later and further
// along the stand, is put in step by sound, and its film shows every jam's start to
// two frames of where it is.
func TestSecondCamera(t *testing.T) {
	ownCaches(t)
	const frame = time.Second / 30
	// Whole blocks of the staged sound: only these start with the same crowd.
	const later = 57 * 4096 * time.Second / 32000
	g := simulate.Play(303, simulate.Options{Periods: 1, Jams: 3, LeadIn: 20 * time.Second})
	schedule := sound.NewSchedule(g.Whistles(), g.Duration()+10*time.Second)
	dir := t.TempDir()
	first, second := filepath.Join(dir, "stand.mp4"), filepath.Join(dir, "phone.mp4")
	o := sound.Graded(sound.Easy, sound.Tuning, 303)
	o.Rate, o.Reverb = 32000, 600*time.Millisecond
	filmOfSound(t, first, schedule, o)
	o.Start, o.Mic = later, &sound.Mic{X: 12, Y: -64, Z: 9}
	o.Length = schedule.Length - later
	filmOfSound(t, second, schedule, o)
	a := New("tester")
	s := boutOf(t, a, filepath.Join(dir, "bout"+Ext), g, Camera{"stand", []string{first}}, Camera{"phone", []string{second}})
	rep, err := a.Align(t.Context(), s, AlignOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(rep.Steps) != 1 || !rep.Steps[0].Found {
		t.Fatalf("the cameras were not put in step: %+v", rep.Steps)
	}
	// Either may be the one that hears best and is gone by.
	want := later
	if rep.Steps[0].Camera == "stand" {
		want = -later
	}
	if d := (rep.Steps[0].Offset - want).Abs(); d > frame {
		t.Errorf("in step by %v, want %v", rep.Steps[0].Offset, want)
	}
	for _, j := range s.Bout.Jams {
		truth := g.Truth.Jams[j.Number-1].Start
		for camera, at := range map[string]time.Duration{"stand": truth, "phone": truth - later} {
			_, film, ok := s.Bout.Alignment.FilmOn(camera, timeline.InJam(j.ID, 0))
			t.Logf("jam %d on %s: %v off", j.Number, camera, (film - at).Round(time.Millisecond))
			if d := (film - at).Abs(); !ok || d > 2*frame {
				t.Errorf("jam %d starts at %v of %s, is placed at %v", j.Number, at, camera, film)
			}
		}
		// What tells of the step: both cameras' places of one jam agree to a frame.
		_, x, okX := s.Bout.Alignment.FilmOn("stand", timeline.InJam(j.ID, 0))
		_, y, okY := s.Bout.Alignment.FilmOn("phone", timeline.InJam(j.ID, 0))
		if d := (x - later - y).Abs(); !okX || !okY || d > frame {
			t.Errorf("jam %d: the cameras' places are %v apart", j.Number, d)
		}
	}
}

// TestMusicAlone hears a hall with music and no bout: no jam may be believed. Two
// hours of it in the soak form.
func TestMusicAlone(t *testing.T) {
	ownCaches(t)
	length := 4 * time.Minute
	if soak() {
		length = 2 * time.Hour
	}
	o := sound.Graded(sound.Middle, sound.Tuning, 302)
	o.Rate, o.Music, o.Announcer, o.Skates = 32000, 1, 0, 0
	o.Fingers, o.Squeaks = 0, 0
	dir := t.TempDir()
	film := filepath.Join(dir, "disco.mp4")
	filmOfSound(t, film, sound.NewSchedule(nil, length), o)
	a := New("tester")
	for _, bySheet := range []bool{false, true} {
		t.Run(fmt.Sprintf("sheet %v", bySheet), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "disco"+Ext)
			var s *Session
			if bySheet {
				s = boutOf(t, a, path, simulate.Play(302, simulate.Options{Periods: 1, Jams: 6}), Camera{Name: "stand", Files: []string{film}})
			} else {
				if _, err := a.NewBout(t.Context(), NewOptions{Path: path, Cameras: []Camera{{Name: "stand", Files: []string{film}}}}); err != nil {
					t.Fatal(err)
				}
				var err error
				if s, err = a.Open(path, false); err != nil {
					t.Fatal(err)
				}
				defer s.Close()
			}
			rep, err := a.Align(t.Context(), s, AlignOptions{DryRun: true})
			if err != nil {
				t.Fatal(err)
			}
			most := 0.0
			for _, p := range rep.Jams {
				most = max(most, p.Confidence)
			}
			heard, err := a.Listen(t.Context(), film)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%v of music: %d blasts, %d jams, surest %.2f", length, len(heard.Blasts), len(rep.Jams), most)
			if most > 0.3 {
				t.Errorf("a jam is claimed with a confidence of %.2f", most)
			}
		})
	}
}
