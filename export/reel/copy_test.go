package reel

import (
	"image/color"
	"os"
	"slices"
	"testing"
	"time"

	"whistlecut/timeline/footage/mp4"
)

// copied is a reel most of which can be copied, with all else between.
func copied(t testing.TB, path string, w, h int) (Reel, []int, []Method) {
	layer := Layer{Image: plate(40, 20, color.White), X: 240, Y: 120}
	from := func(a, b int) *Film {
		return &Film{Path: path, From: time.Duration(a) * 40 * ms, To: time.Duration(b+1) * 40 * ms}
	}
	drawn, held := from(90, 109), from(150, 159)
	drawn.Layers = []Layer{layer}
	held.Freezes = []Freeze{{At: 155 * 40 * ms, Length: 200 * ms}}
	return Reel{Sections: []Section{
		{Chapter: "card", Card: &Card{Image: plate(w, h, color.White), Length: 400 * ms}},
		{Film: from(25, 74)},
		{Film: from(33, 99)},
		{Chapter: "two", Card: &Card{Image: plate(w, h, color.Black), Length: 120 * ms}},
		{Film: drawn},
		{Film: from(3, 112)},
		{Film: from(112, 112)},
		{Film: held},
		{Film: from(60, 199)},
		{Card: &Card{Image: plate(w, h, color.White), Length: 40 * ms}},
		{Card: &Card{Image: plate(w, h, color.White), Length: 40 * ms}},
		{Film: from(100, 149)},
	}}, slices.Concat(
		span(-1, -1, 10), span(25, 74, 1), span(33, 99, 1), span(-1, -1, 3), span(90, 109, 1), span(3, 112, 1), span(112, 112, 1),
		span(150, 154, 1), span(155, 155, 6), span(156, 159, 1), span(60, 199, 1), span(-1, -1, 2), span(100, 149, 1),
	), []Method{Encoded, Copied, Edges, Encoded, Encoded, Edges, Encoded, Encoded, Edges, Encoded, Encoded, Copied}
}

// coding is a way in which films come.
type coding struct {
	name   string
	video  []string
	flawed bool // openh264 shows some of the film's own frames wrongly
}

func x264(more ...string) []string {
	return append([]string{"-c:v", "libx264", "-pix_fmt", "yuv420p", "-g", "25"}, more...)
}

var codings = []coding{
	{"B-frames", x264("-preset", "veryfast", "-bf", "3"), true},
	{"no B-frames", x264("-preset", "ultrafast", "-bf", "0"), false},
	{"baseline", x264("-preset", "ultrafast", "-profile:v", "baseline"), false},
	{"parameter sets repeated", x264("-preset", "veryfast", "-bf", "2", "-bsf:v", "dump_extra=freq=keyframe"), true},
}

func (c coding) film(t testing.TB) string {
	return film(t, spec{name: c.name + ".mp4", w: 320, h: 180, rate: "25", frames: 250, clicks: []float64{1.1, 2.3, 3.7, 5.2, 7.9}, video: c.video})
}

// TestCopiedReel reads every frame of reels that are mostly copied. One coding is
// read in every run, the others with WHISTLECUT_SOAK=1.
func TestCopiedReel(t *testing.T) {
	for i, c := range codings {
		if i > 0 && os.Getenv("WHISTLECUT_SOAK") != "1" {
			break
		}
		t.Run(c.name, func(t *testing.T) {
			r, want, methods := copied(t, c.film(t), 320, 180)
			res := make1(t, r)
			for i, s := range res.Sections {
				if m := methods[i]; s.Method != m && !(m == Copied && s.Method == Edges) || (s.Method == Encoded) != (s.Encoded == s.Frames) {
					t.Errorf("part %d: %d frames by %s (%s), %d encoded; want %s", i+1, s.Frames, s.Method, s.Why, s.Encoded, m)
				}
			}
			same(t, "frames", numbers(t, res.Out, 320, 180, res.Format.Whole())[0], want)
			f, err := mp4.Open(res.Out)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(f.Video().Entries); n != 1 {
				t.Errorf("%d sample descriptions", n)
			}
		})
	}
}
