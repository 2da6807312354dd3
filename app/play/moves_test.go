package play

import (
	"testing"
	"time"

	"whistlecut/timeline"
)

func TestNewestSeekWins(t *testing.T) {
	w := newWatched(t, Options{}, "plain")
	w.frame("plain", 0)
	x := truth(t, "plain")
	for i := range 40 {
		w.Seek("plain", x.Time((i*37)%150))
	}
	w.Seek("plain", x.Time(77))
	w.frame("plain", 77)
	mark := w.mark()
	// A seek after it must not be answered by one of those before it.
	w.Seek("plain", x.Time(20))
	w.frame("plain", 20)
	for _, s := range w.since(mark) {
		if s.Index != 77 && s.Index != 20 {
			t.Errorf("frame %d was shown after a newer wish was met", s.Index)
		}
	}
}

func TestStepsGoOverFileEdges(t *testing.T) {
	w := newWatched(t, Options{}, "plain", "second")
	w.frame("plain", 0)
	w.Step(-1) // stays
	x := truth(t, "plain")
	w.Seek("plain", x.Time(148))
	w.frame("plain", 148)
	type at struct {
		id timeline.ID
		n  int
	}
	for _, c := range []struct {
		step int
		want at
	}{{1, at{"plain", 149}}, {1, at{"second", 0}}, {1, at{"second", 1}}, {-1, at{"second", 0}}, {-1, at{"plain", 149}}, {-3, at{"plain", 146}}, {500, at{"second", 59}}} {
		w.Step(c.step)
		w.frame(c.want.id, c.want.n)
	}
	// Many at once are one.
	for range 30 {
		w.Step(-1)
	}
	w.frame("second", 29)
}

func TestPlaysToTheEndInOrder(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	for _, c := range []struct {
		name string
		rate float64
		o    Options
	}{
		{"without sound", 1, Options{}},
		{"with sound", 1, Options{Sound: true, Sink: &fakeSink{}}},
		{"at double speed with sound", 2, Options{Sound: true, Sink: &fakeSink{}}},
		{"slowly", 0.4, Options{Sound: true, Sink: &fakeSink{}}},
		{"four times as fast", 4, Options{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			w := newWatched(t, c.o, "silent", "second")
			w.SetRate(c.rate)
			w.Seek("silent", 1500*time.Millisecond)
			w.frame("silent", 45)
			mark := w.mark()
			w.Play()
			w.until("the end", func(s Shown) bool { return s.State == Ended && s.Footage == "second" && s.Index == 59 })
			last := -1
			for _, s := range w.since(mark) {
				n := s.Index
				if s.Footage == "second" {
					n += 60
				}
				if n < last {
					t.Errorf("frame %d was shown after frame %d", n, last)
				}
				if s.Rate != c.rate {
					t.Errorf("rate %g", s.Rate)
				}
				last = n
			}
			w.Play() // anew
			w.until("the start", func(s Shown) bool { return s.State == Playing && s.Footage == "silent" && s.Index < 30 })
			w.Pause()
			w.until("a pause", func(s Shown) bool { return s.State == Paused })
		})
	}
}

func TestSeekAndRateWhilePlaying(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	w := newWatched(t, Options{Sound: true, Sink: &fakeSink{}}, "plain")
	w.frame("plain", 0)
	w.Play()
	w.until("playing", func(s Shown) bool { return s.State == Playing && s.Index > 2 })
	w.SetRate(0.7)
	w.until("another rate", func(s Shown) bool { return s.Rate == 0.7 && s.Index > 5 })
	w.Seek("plain", 4*time.Second)
	w.until("playing there", func(s Shown) bool { return s.State == Playing && s.Index > 121 })
	w.Step(0)
	w.Step(-1)
	s := w.until("a pause", func(s Shown) bool { return s.State == Paused })
	w.Step(1)
	w.frame("plain", s.Index+1)
}

func TestLoopGoesRound(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	for _, sound := range []bool{false, true} {
		o := Options{Sound: sound}
		if sound {
			o.Sink = &fakeSink{}
		}
		w := newWatched(t, o, "plain")
		w.frame("plain", 0)
		x := truth(t, "plain")
		w.Loop("plain", x.Time(60), x.Time(70))
		w.frame("plain", 60)
		mark := w.mark()
		w.Play()
		turns, last := 0, 60
		w.until("three turns", func(s Shown) bool {
			if s.Index < last {
				turns++
			}
			last = s.Index
			return turns == 3
		})
		for _, s := range w.since(mark) {
			if s.Index < 60 || s.Index >= 70 {
				t.Errorf("frame %d is not in the loop", s.Index)
			}
		}
		w.Unloop()
		w.until("what comes after", func(s Shown) bool { return s.Index >= 75 })
		w.Close()
	}
}

func TestOnlyTheBoutIsPlayed(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	w := newWatched(t, Options{})
	if s := w.Shown(); s.State != Empty || s.Index != -1 {
		t.Errorf("without film: %+v", s)
	}
	w.number["plain"] = recipes["plain"]
	x := truth(t, "plain")
	w.Load([]Film{{ID: "plain", Path: film(t, "plain"), From: x.Time(50), To: x.Time(80)}})
	w.frame("plain", 50)
	w.Seek("plain", 0)
	w.Step(-5)
	w.Seek("plain", x.Time(100))
	w.frame("plain", 79)
	w.Step(-10)
	w.frame("plain", 69)
	w.Play()
	w.until("the end", func(s Shown) bool { return s.State == Ended && s.Index == 79 })
	w.Load(nil)
	w.until("nothing", func(s Shown) bool { return s.State == Empty && s.Image == nil })
}

func TestSizeChangesThePicture(t *testing.T) {
	w := newWatched(t, Options{}, "plain")
	if b := w.frame("plain", 0).Image.Rect; b.Dx() != filmW || b.Dy() != filmH {
		t.Errorf("%v", b)
	}
	w.SetSize(96, 400)
	w.until("a small picture", func(s Shown) bool { return s.Index == 0 && s.Image.Rect.Dx() == 96 && s.Image.Rect.Dy() == 54 })
	w.SetSize(4000, 4000)
	w.until("the film's size", func(s Shown) bool { return s.Index == 0 && s.Image.Rect.Dx() == filmW })
}
