package timeline

import (
	"testing"
	"time"
)

// The period clock starts at 30:00 with jam 1 at film 100 s, runs between jams,
// stops at the timeout and restarts with the next jam:
//
//	jam 1  film 100            clock 30:00
//	jam 2  film 220   +120 s   clock 28:00
//	timeout film 300  +80 s    clock 26:40
//	jam 3  film 420            clock 26:40
//	jam 4  film 530   +110 s   clock 24:50
func clockBout() *boutMaker {
	m := newBout()
	m.f.Footage["a"] = Footage{Camera: "stand", Duration: sec(2000)}
	for i, at := range []float64{100, 220, 420, 530} {
		id := ID("j" + string(rune('1'+i)))
		m.add(Tag{ID: id, Kind: KindJam, Place: OnFilm("a", sec(at)), JamInfo: &JamInfo{Period: 1, Order: float64(i), End: OnFilm("a", sec(at+70))}})
	}
	m.add(Tag{ID: "to", Kind: KindTimeout, Side: Home, Place: OnFilm("a", sec(300)), Timeout: &TimeoutInfo{}})
	return m
}

func TestPeriodClock(t *testing.T) {
	b := Derive(clockBout().f)
	for i, want := range []time.Duration{30 * time.Minute, 28 * time.Minute, sec(1600), sec(1490)} {
		j := b.Jams[i]
		if !j.ClockKnown || j.ClockAtStart != want || j.ClockWhy.Section == "" {
			t.Errorf("jam %d starts at %v (%v), want %v", i+1, j.ClockAtStart, j.ClockKnown, want)
		}
	}
	if len(b.Breaks) != 1 || b.Breaks[0].AfterJam != 1 || b.Breaks[0].Clock != sec(1600) || b.Breaks[0].ClockGiven {
		t.Errorf("breaks %+v", b.Breaks)
	}
	tests := []struct {
		name    string
		film    float64
		left    time.Duration
		running bool
		ok      bool
	}{
		{"in jam 1", 130, sec(1770), true, true},
		{"between jams", 210, sec(1690), true, true},
		{"just before the timeout", 299, sec(1601), true, true},
		{"in the timeout", 350, sec(1600), false, true},
		{"in jam 4", 540, sec(1480), true, true},
		{"before the first jam", 50, 0, false, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, ok := b.ClockAt("a", sec(tt.film))
			if ok != tt.ok || c.Left != tt.left || c.Running != tt.running {
				t.Errorf("clock %+v %v, want %v", c, ok, tt.left)
			}
		})
	}
}

func TestClockGivenAndUnknown(t *testing.T) {
	t.Run("timeout without a time", func(t *testing.T) {
		m := clockBout()
		m.add(Tag{ID: "to", Kind: KindTimeout, Side: Home, Timeout: &TimeoutInfo{AfterJam: "j2"}})
		b := Derive(m.f)
		if !b.Jams[1].ClockKnown || b.Jams[2].ClockKnown || b.Jams[3].ClockKnown {
			t.Errorf("jam 2 known %v; jams 3, 4 known %v %v, though nobody knows when the timeout was", b.Jams[1].ClockKnown, b.Jams[2].ClockKnown, b.Jams[3].ClockKnown)
		}
		if _, ok := b.ClockAt("a", sec(400)); ok {
			t.Error("the clock in a timeout without a time is read off")
		}
	})
	t.Run("clock written down takes over", func(t *testing.T) {
		m := clockBout()
		m.add(Tag{ID: "to", Kind: KindTimeout, Side: Home, Timeout: &TimeoutInfo{AfterJam: "j2", Clock: sec(1602)}})
		b := Derive(m.f)
		if b.Jams[2].ClockAtStart != sec(1602) || b.Jams[3].ClockAtStart != sec(1492) {
			t.Errorf("jams 3, 4 at %v, %v", b.Jams[2].ClockAtStart, b.Jams[3].ClockAtStart)
		}
	})
	t.Run("written down and film differ", func(t *testing.T) {
		m := clockBout()
		m.add(Tag{ID: "to", Kind: KindTimeout, Side: Home, Place: OnFilm("a", sec(300)), Timeout: &TimeoutInfo{Clock: sec(1500)}})
		if b := Derive(m.f); !hasProblem(b, ProblemClock, "j2") || b.Jams[2].ClockAtStart != sec(1500) {
			t.Errorf("problems %+v, clock %v", b.Problems, b.Jams[2].ClockAtStart)
		}
	})
	t.Run("a timeout is missing", func(t *testing.T) {
		m := clockBout()
		m.add(Tag{ID: "late", Kind: KindJam, Place: OnFilm("a", sec(1950)), JamInfo: &JamInfo{Period: 1, Order: 9}})
		m.f.Rules.PeriodLength = 20 * time.Minute
		// By the film: 16:40 left after jam 2's timeout, jam 5 starts 25:30 after jam 3.
		if b := Derive(m.f); !hasProblem(b, ProblemClock, "late") || b.Jams[4].ClockKnown {
			t.Errorf("problems %+v, known %v", b.Problems, b.Jams[4].ClockKnown)
		}
	})
}
