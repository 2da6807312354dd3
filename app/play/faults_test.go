package play

import (
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
)

// copyOf copies a test film so that it can be harmed.
func copyOf(t *testing.T, name string, part float64) string {
	t.Helper()
	data, err := os.ReadFile(film(t, name))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "copy of "+filepath.Base(film(t, name)))
	if err := os.WriteFile(path, data[:int(float64(len(data))*part)], 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestFilmThatVanishesWhilePlaying(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	w := newWatched(t, Options{})
	w.number["plain"] = recipes["plain"]
	path := copyOf(t, "plain", 1)
	w.Load([]Film{{ID: "plain", Path: path}})
	w.frame("plain", 0)
	w.SetRate(0.1)
	w.Play()
	w.until("playing", func(s Shown) bool { return s.State == Playing && s.Index > 0 })
	aside := path + ".aside"
	if err := os.Rename(path, aside); err != nil {
		t.Fatal(err)
	}
	s := w.until("the film missing", func(s Shown) bool { return s.State == Missing })
	if s.Image == nil || s.Index < 1 || !strings.Contains(s.Note, filepath.Base(path)) || !strings.Contains(s.Note, filepath.Dir(path)) {
		t.Errorf("frame %d, %v, %q", s.Index, s.Image != nil, s.Note)
	}
	w.Play()
	w.Step(1)
	w.Seek("plain", time.Second)
	if s := w.until("still missing", func(s Shown) bool { return s.Film == time.Second }); s.State != Missing {
		t.Errorf("%+v", s)
	}
	if err := os.Rename(aside, path); err != nil {
		t.Fatal(err)
	}
	w.until("the film back", func(s Shown) bool { return s.State != Missing && s.State != Loading })
	w.Seek("plain", time.Second)
	w.frame("plain", 30)
}

// TestJumpWhileTheFilmIsMissing: when it is back, the wanted frame comes by
// itself and playing needs nothing but Play.
func TestJumpWhileTheFilmIsMissing(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	for _, c := range []struct {
		name string
		jump bool
		at   int
	}{{"after a jump", true, 90}, {"without one", false, 0}} {
		t.Run(c.name, func(t *testing.T) {
			w := newWatched(t, Options{})
			w.number["plain"] = recipes["plain"]
			path := copyOf(t, "plain", 1)
			w.Load([]Film{{ID: "plain", Path: path}})
			w.frame("plain", 0)
			if err := os.Rename(path, path+".aside"); err != nil {
				t.Fatal(err)
			}
			w.until("the film missing", func(s Shown) bool { return s.State == Missing })
			if c.jump {
				w.Seek("plain", 3*time.Second)
				w.until("a jump into nothing", func(s Shown) bool { return s.State == Missing && s.Film == 3*time.Second })
			}
			w.Toggle()
			if err := os.Rename(path+".aside", path); err != nil {
				t.Fatal(err)
			}
			w.frame("plain", c.at)
			w.Toggle()
			w.until("playing on", func(s Shown) bool { return s.State == Playing && s.Index > c.at+3 })
		})
	}
}

func TestFilmsThatAreNoFilms(t *testing.T) {
	w := newWatched(t, Options{})
	w.number["silent"] = recipes["silent"]
	text := filepath.Join(t.TempDir(), "notes.mp4")
	if err := os.WriteFile(text, []byte("no film"), 0o600); err != nil {
		t.Fatal(err)
	}
	w.Load([]Film{{ID: "gone", Path: filepath.Join(t.TempDir(), "gone.mp4")}, {ID: "silent", Path: film(t, "silent")}, {ID: "text", Path: text}})
	w.until("a missing film", func(s Shown) bool { return s.State == Missing && strings.Contains(s.Note, "gone.mp4") })
	w.Seek("silent", time.Hour)
	w.frame("silent", 59)
	w.Step(1)
	w.Play()
	s := w.until("what stands after the film", func(s Shown) bool { return s.State == Broken })
	if s.Footage != "text" || !strings.Contains(s.Note, "notes.mp4") {
		t.Errorf("%+v", s)
	}
	w.Seek("nobody", 0)
	w.Seek("silent", 0)
	w.frame("silent", 0)
}

func TestFilmThatBreaksOff(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	w := newWatched(t, Options{})
	w.number["plain"] = recipes["plain"]
	// The index first, so that it survives.
	front := filepath.Join(t.TempDir(), "front.mp4")
	remux(t, film(t, "plain"), front)
	data, err := os.ReadFile(front)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(front, data[:len(data)*6/10], 0o600); err != nil {
		t.Fatal(err)
	}
	w.Load([]Film{{ID: "plain", Path: front}})
	w.frame("plain", 0)
	w.SetRate(2)
	w.Play()
	s := w.until("the break", func(s Shown) bool { return s.State == Broken })
	s = w.until("the last frame before it", func(n Shown) bool { return n.State == Broken && n.Index >= s.Index && n.Index > 5 })
	if s.Index >= 140 || s.Image == nil || !strings.Contains(s.Note, "front.mp4") || !strings.Contains(s.Note, "0:0") {
		t.Errorf("%d %q", s.Index, s.Note)
	}
	w.Seek("plain", 4900*time.Millisecond)
	s = w.until("the break again", func(n Shown) bool { return n.State == Broken && n.Index == s.Index })
	w.Step(-1)
	w.frame("plain", s.Index-1)
}

func TestSoundThatStops(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	sink := &fakeSink{}
	w := newWatched(t, Options{Sound: true, Sink: sink}, "plain")
	w.frame("plain", 0)
	w.SetRate(0.5)
	w.SetSoundOffset(-200 * time.Millisecond)
	w.SetVolume(0.3)
	w.Play()
	heard := func() bool { sink.mu.Lock(); defer sink.mu.Unlock(); return sink.bytes > 0 }
	for !heard() {
		time.Sleep(10 * time.Millisecond)
	}
	sink.pullOut()
	s := w.until("a word about it", func(s Shown) bool { return s.Note != "" })
	if s.State != Playing || !strings.Contains(s.Note, "pulled out") {
		t.Errorf("%+v", s)
	}
	w.SetRate(2)
	w.until("the picture going on", func(n Shown) bool { return n.State == Ended })
	sink.mu.Lock()
	defer sink.mu.Unlock()
	if sink.voices != 0 {
		t.Errorf("%d voices are left", sink.voices)
	}
}

// TestNoDevice plays on the machine's own device, which test machines lack.
func TestNoDevice(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	w := newWatched(t, Options{Sound: true}, "second")
	w.frame("second", 0)
	w.SetRate(2)
	w.Play()
	w.until("the end", func(s Shown) bool { return s.State == Ended })
}

// children lists the processes that this one has started.
func childrenOf(t *testing.T) (pids []string) {
	t.Helper()
	stats, err := filepath.Glob("/proc/[0-9]*/stat")
	if err != nil || len(stats) == 0 {
		t.Skip("no process list here")
	}
	for _, path := range stats {
		data, err := os.ReadFile(path)
		if err != nil {
			continue // it has ended
		}
		name, rest, _ := strings.Cut(string(data), ") ")
		if f := strings.Fields(rest); len(f) > 1 && f[1] == strconv.Itoa(os.Getpid()) {
			pids = append(pids, name)
		}
	}
	return pids
}

func TestCloseLeavesNothing(t *testing.T) {
	film(t, "plain")
	truth(t, "plain")
	// The sound device of other tests has goroutines for the whole process.
	before, had := runtime.NumGoroutine(), len(childrenOf(t))
	for _, moment := range []string{"at once", "while loading", "while decoding", "while playing", "while decoding ahead"} {
		sink := &fakeSink{}
		w := newWatched(t, Options{Sound: true, Sink: sink}, "plain")
		switch moment {
		case "while loading":
			w.until("loading", func(s Shown) bool { return s.State == Loading })
		case "while decoding":
			w.frame("plain", 0)
			w.Seek("plain", 3*time.Second)
			w.Ahead([]Spot{{"plain", time.Second}})
		case "while playing":
			w.Play()
			w.until("playing", func(s Shown) bool { return s.State == Playing && s.Index > 1 })
		case "while decoding ahead":
			w.Seek("plain", 3*time.Second)
			w.frame("plain", 90)
			for len(childrenOf(t)) < had+1 {
				time.Sleep(5 * time.Millisecond)
			}
		}
		w.Close()
		w.Close()
		w.Seek("plain", 0)
		if now := childrenOf(t); len(now) != had {
			t.Errorf("%s: processes are left: %v", moment, now)
		}
	}
	// Goroutines that have returned are counted until they are gone.
	for range 400 {
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	buf := make([]byte, 1<<16)
	t.Errorf("%d goroutines before, %d after\n%s", before, runtime.NumGoroutine(), buf[:runtime.Stack(buf, true)])
}
