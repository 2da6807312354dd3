package reel

import (
	"context"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"
)

const ms = time.Millisecond

// home is the film that most of the reels come from: 25 frames a second,
// numbered from 0, clicks.
func home(t testing.TB) string {
	return film(t, spec{name: "home.mp4", w: 320, h: 180, rate: "25", frames: 250, clicks: []float64{1.1, 2.3, 3.7, 5.2, 7.9}})
}

// away has another size and rate, numbered from 1000.
func away(t testing.TB) string {
	return film(t, spec{name: "away.mp4", w: 400, h: 300, rate: "50", frames: 300, from: 1000, clicks: []float64{0.7, 2.9}})
}

// span lists numbers from a to b, each n times.
func span(a, b, n int) []int {
	var out []int
	for k := a; k <= b; k++ {
		for range n {
			out = append(out, k)
		}
	}
	return out
}

func make1(t testing.TB, r Reel) Result {
	t.Helper()
	if r.Out == "" {
		r.Out = filepath.Join(t.TempDir(), "reel.mp4")
	}
	res, err := r.Make(context.Background(), runner(t))
	if err != nil {
		t.Fatal(err)
	}
	if left := others(t, r.Out); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	return res
}

// others lists what lies beside a reel.
func others(t testing.TB, out string) []string {
	t.Helper()
	list, err := os.ReadDir(filepath.Dir(out))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range list {
		if e.Name() != filepath.Base(out) {
			names = append(names, e.Name())
		}
	}
	return names
}

// same says where two lists differ.
func same(t testing.TB, what string, got, want []int) {
	t.Helper()
	if slices.Equal(got, want) {
		return
	}
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Errorf("%s: %d frames, want %d; place %d shows %d, want %d\n%v\n%v", what, len(got), len(want), i, got[i], want[i], got, want)
			return
		}
	}
	t.Errorf("%s: %d frames, want %d", what, len(got), len(want))
}

func near(t testing.TB, what string, got []float64, want ...float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %.3f, want %.3f", what, got, want)
		return
	}
	for i := range got {
		if math.Abs(got[i]-want[i]) > 0.02 {
			t.Errorf("%s: %.3f, want %.3f", what, got, want)
			return
		}
	}
}

// TestReel has everything in one reel and reads it back frame by frame.
func TestReel(t *testing.T) {
	w, h := 320, 180
	r := Reel{
		Title: "Reel – Übung",
		Sections: []Section{
			{Chapter: "Titel \"1\": 'x'", Card: &Card{Image: plate(w, h, color.White), Length: 1000 * ms}},
			{Film: &Film{Path: home(t), From: 1000 * ms, To: 2500 * ms}}, // 25..62
			{Chapter: "عودة – 復帰 🛼", Film: &Film{
				Path: home(t), From: 2000 * ms, To: 4000 * ms, // 50..99
				Speeds: []Speed{{From: 2400 * ms, To: 2800 * ms, Rate: 0.5}}, Freezes: []Freeze{{At: 3000 * ms, Length: 400 * ms}},
				Layers: []Layer{{Image: plate(40, 20, color.White), X: 240, Y: 120, Freeze: 1}, {Image: plate(40, 20, color.White), X: 200, Y: 150, From: 2200 * ms, To: 2440 * ms}},
			}},
			{Film: &Film{Path: away(t), From: 500 * ms, To: 1500 * ms}},
			{Chapter: "beside", Film: &Film{Path: home(t), From: 5000 * ms, To: 6000 * ms, Beside: &Beside{Path: away(t), From: 2000 * ms}}},
		},
	}
	res := make1(t, r)
	t.Logf("%+v", res)
	form := res.Format
	if form.Width != w || form.Height != h || form.Rate.String() != "25" {
		t.Fatalf("format %+v", form)
	}
	left, right := form.Halves()
	fitted := Fit(400, 300, form.Whole())
	got := numbers(t, res.Out, w, h, form.Whole(), fitted, Fit(320, 180, left), Fit(400, 300, right))
	want := slices.Concat(
		span(-1, -1, 25), span(25, 62, 1),
		span(50, 59, 1), span(60, 69, 2), span(70, 74, 1), span(75, 75, 10), span(75, 99, 1),
	)
	same(t, "card and home", got[0][:len(want)], want)
	n := len(want)
	var every2 []int
	for k := 1025; k < 1075; k += 2 {
		every2 = append(every2, k)
	}
	same(t, "away", got[1][n:n+25], every2)
	n += 25
	same(t, "left", got[2][n:], span(125, 149, 1))
	every2 = nil
	for k := 1100; k < 1150; k += 2 {
		every2 = append(every2, k)
	}
	same(t, "right", got[3][n:], every2)

	// Clicks: home's at 1.1, 2.3 in the first clip; 2.3 | slow | 3.7; away's 0.7; home's 5.2.
	near(t, "clicks", clicksOf(t, res.Out), 1.1, 2.3, 2.52+0.3, 2.52+1.7+0.4+0.4, 2.52+2.8+0.2, 2.52+2.8+1+0.2)

	p := probe(t, res.Out)
	if len(p.Streams) < 2 || p.Streams[0].CodecName != "h264" || p.Streams[0].Profile != "High" || p.Streams[0].PixFmt != "yuv420p" ||
		p.Streams[0].Frames != strconv.Itoa(res.Frames) || p.Streams[0].RealRate != "25/1" || p.Streams[0].AverageRate != "25/1" || p.Streams[1].CodecName != "aac" {
		t.Errorf("streams: %+v", p.Streams)
	}
	if len(p.Chapters) != 3 || p.Chapters[0].Tags["title"] != "Titel \"1\": 'x'" || p.Chapters[1].Tags["title"] != "عودة – 復帰 🛼" || p.Chapters[1].StartTime != "2.520000" || p.Format.Tags["title"] != r.Title {
		t.Errorf("chapters: %+v %v", p.Chapters, p.Format.Tags)
	}
}
