package strip

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
)

func sec(x float64) time.Duration { return time.Duration(x * float64(time.Second)) }

// twoFiles is 100 s of one file from its second 10 on, a gap, and 200 s of
// another, in 1000 pixels from pixel 40 on.
func twoFiles() *Axis {
	a := NewAxis([]Piece{
		{Footage: "a", Film: timeline.TimeRange{Start: sec(10), End: sec(110)}},
		{Footage: "b", Film: timeline.TimeRange{End: sec(200)}},
	})
	a.SetView(40, 1000, 1)
	return a
}

func TestStripTimeOfFilm(t *testing.T) {
	gap := gapLength(sec(300))
	for _, c := range []struct {
		name    string
		footage timeline.ID
		film    time.Duration
		want    time.Duration
		ok      bool
	}{
		{"first frame of the range", "a", sec(10), 0, true},
		{"inside", "a", sec(60), sec(50), true},
		{"before the range", "a", sec(9), 0, false},
		{"after the range", "a", sec(111), 0, false},
		{"second file after the gap", "b", 0, sec(100) + gap, true},
		{"last frame", "b", sec(200), sec(300) + gap, true},
		{"another camera's file", "c", sec(5), 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := twoFiles().Strip(c.footage, c.film)
			if got != c.want || ok != c.ok {
				t.Errorf("strip time %v, %v; want %v, %v", got, ok, c.want, c.ok)
			}
		})
	}
}

func TestFilmOfStripTime(t *testing.T) {
	gap := gapLength(sec(300))
	for _, c := range []struct {
		name    string
		at      time.Duration
		footage timeline.ID
		film    time.Duration
		ok      bool
	}{
		{"start", 0, "a", sec(10), true},
		{"inside", sec(50), "a", sec(60), true},
		{"early in the gap", sec(100) + gap/4, "a", sec(110), false},
		{"late in the gap", sec(100) + gap*3/4, "b", 0, false},
		{"second file", sec(110) + gap, "b", sec(10), true},
		{"before everything", -sec(1), "a", sec(10), false},
		{"after everything", sec(400), "b", sec(200), false},
	} {
		t.Run(c.name, func(t *testing.T) {
			footage, film, ok := twoFiles().Film(c.at)
			if footage != c.footage || film != c.film || ok != c.ok {
				t.Errorf("%s %v %v, want %s %v %v", footage, film, ok, c.footage, c.film, c.ok)
			}
		})
	}
}

func TestJoinedFilesHaveNoGap(t *testing.T) {
	a := NewAxis([]Piece{
		{Footage: "a", Film: timeline.TimeRange{End: sec(100)}},
		{Footage: "b", Film: timeline.TimeRange{End: sec(50)}, Joined: true},
		{Footage: "none", Film: timeline.TimeRange{}},
		{Footage: "a", Film: timeline.TimeRange{End: sec(7)}},
	})
	if a.Total() != sec(150) || len(a.Gaps()) != 0 || len(a.Pieces()) != 2 {
		t.Errorf("total %v, gaps %v, pieces %v", a.Total(), a.Gaps(), a.Pieces())
	}
	if f, film, ok := a.Film(sec(100)); f != "b" || film != 0 || !ok {
		t.Errorf("where the files meet: %s %v %v, want the later one's start", f, film, ok)
	}
}

func TestAnEmptyAxisStandsStill(t *testing.T) {
	a := NewAxis(nil)
	a.SetView(40, 1000, 1)
	a.Zoom(2, 500)
	a.Pan(100)
	a.Show(sec(1), sec(2))
	a.Reveal(sec(5))
	if x := a.X(sec(10)); math.IsNaN(x) || a.At(500) != 0 || a.Total() != 0 {
		t.Errorf("x %v, at %v, total %v", x, a.At(500), a.Total())
	}
	if f, _, ok := a.Film(0); f != "" || ok {
		t.Errorf("film %q %v on an empty axis", f, ok)
	}
}

func TestTheWindowStaysInTheBout(t *testing.T) {
	total := twoFiles().Total()
	for _, c := range []struct {
		name     string
		do       func(a *Axis)
		from, to time.Duration
	}{
		{"whole bout", func(a *Axis) { a.Show(sec(1), sec(2)); a.ShowAll() }, 0, total},
		{"zoomed out too far", func(a *Axis) { a.Zoom(0.01, 300) }, 0, total},
		{"panned before the start", func(a *Axis) { a.Show(sec(50), sec(60)); a.Pan(-1e9) }, 0, sec(10)},
		{"panned beyond the end", func(a *Axis) { a.Show(sec(50), sec(60)); a.Pan(1e9) }, total - sec(10), total},
		{"zoomed in to frames", func(a *Axis) { a.Show(0, sec(10)); a.Zoom(1e9, 40) }, 0, time.Second / 30 * 1000 / frameWidth},
		{"a moment shown is frames round it", func(a *Axis) { a.Show(sec(50), sec(50)) }, sec(50) - time.Second/30*500/frameWidth, sec(50) + time.Second/30*500/frameWidth},
		{"page turned", func(a *Axis) { a.Show(0, sec(80)); a.Reveal(sec(75)) }, sec(65), sec(145)},
		{"page not turned", func(a *Axis) { a.Show(0, sec(80)); a.Reveal(sec(69)) }, 0, sec(80)},
		{"nonsense factor", func(a *Axis) { a.Show(0, sec(80)); a.Zoom(math.NaN(), 40); a.Zoom(-1, 40) }, 0, sec(80)},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := twoFiles()
			c.do(a)
			from, to := a.Window()
			if (from-c.from).Abs() > time.Microsecond || (to-c.to).Abs() > time.Microsecond {
				t.Errorf("window %v to %v, want %v to %v", from, to, c.from, c.to)
			}
		})
	}
}

// anyAxis is an axis over some files with some window.
func anyAxis(t *rapid.T) *Axis {
	var pieces []Piece
	for n := range rapid.IntRange(1, 6).Draw(t, "files") {
		start := time.Duration(rapid.Int64Range(0, int64(time.Hour)).Draw(t, "start"))
		length := time.Duration(rapid.Int64Range(int64(time.Second), int64(2*time.Hour)).Draw(t, "length"))
		pieces = append(pieces, Piece{
			Footage: timeline.ID(rune('a' + n)), Film: timeline.TimeRange{Start: start, End: start + length},
			Joined: rapid.Bool().Draw(t, "joined"),
		})
	}
	a := NewAxis(pieces)
	a.SetView(rapid.Float64Range(0, 100).Draw(t, "left"), rapid.Float64Range(100, 4000).Draw(t, "width"), rapid.SampledFrom([]float64{1, 1.25, 2}).Draw(t, "scale"))
	for range rapid.IntRange(0, 5).Draw(t, "zooms") {
		a.Zoom(rapid.Float64Range(0.3, 30).Draw(t, "factor"), rapid.Float64Range(0, 4000).Draw(t, "at"))
	}
	return a
}

func TestPixelsAndTimesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAxis(t)
		x := rapid.Float64Range(a.left, a.left+a.width).Draw(t, "x")
		if back := a.X(a.At(x)); math.Abs(back-x) > 0.001 {
			t.Errorf("pixel %v comes back as %v", x, back)
		}
		from, to := a.Window()
		at := time.Duration(rapid.Int64Range(int64(from), int64(to)).Draw(t, "time"))
		if back := a.At(a.X(at)); (back - at).Abs() > 10*time.Nanosecond {
			t.Errorf("%v comes back as %v", at, back)
		}
		p := rapid.IntRange(0, len(a.Pieces())-1).Draw(t, "piece")
		film := time.Duration(rapid.Int64Range(int64(a.Pieces()[p].Film.Start), int64(a.Pieces()[p].Film.End)-1).Draw(t, "film"))
		strip, ok := a.Strip(a.Pieces()[p].Footage, film)
		footage, back, ok2 := a.Film(strip)
		if !ok || !ok2 || footage != a.Pieces()[p].Footage || (back-film).Abs() > time.Nanosecond {
			t.Errorf("%s %v is strip time %v is %s %v", a.Pieces()[p].Footage, film, strip, footage, back)
		}
	})
}

func TestZoomKeepsItsAnchor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAxis(t)
		x := rapid.Float64Range(a.left, a.left+a.width).Draw(t, "x")
		before := a.ns(x)
		factor := rapid.Float64Range(0.2, 5).Draw(t, "factor")
		a.Zoom(factor, x)
		if a.from < 0 || a.from+a.span > a.total+1 || a.span > a.total+1 {
			t.Errorf("window %v + %v leaves the bout of %v", a.from, a.span, a.total)
		}
		held := a.from == 0 || math.Abs(a.from+a.span-a.total) < 1
		if got := a.left + (before-a.from)/a.span*a.width; !held && math.Abs(got-x) > 0.001 {
			t.Errorf("the anchor went from pixel %v to %v", x, got)
		}
		if factor < 1 {
			return
		}
		if got := a.left + (before-a.from)/a.span*a.width; math.Abs(got-x) > 0.001 {
			t.Errorf("zooming in moved the anchor from pixel %v to %v", x, got)
		}
	})
}
