package reel

import (
	"image/color"
	"os"
	"path/filepath"
	"testing"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// sources are films as they come off different cameras, 2 s long and with a click
// at half a second where they have sound.
func sources(t testing.TB) []spec {
	click := []float64{0.5}
	base := func(name string, s spec) spec {
		s.name = name
		if s.w == 0 {
			s.w, s.h = 320, 180
		}
		if s.rate == "" {
			s.rate, s.frames = "25", 50
		}
		if !s.silent {
			s.clicks = click
		}
		return s
	}
	return []spec{
		base("plain.mp4", spec{}),
		base("ten bit \"quoted\": 'x' 🛼 שלום.mp4", spec{video: []string{"-c:v", "libx265", "-preset", "ultrafast", "-pix_fmt", "yuv420p10le", "-tag:v", "hvc1", "-x265-params", "log-level=error:keyint=25"}}),
		base("turned.mp4", spec{w: 180, h: 320, output: []string{"-metadata:s:v:0", "rotate=90"}}),
		base("no sound.mp4", spec{silent: true}),
		base("mono.mov", spec{w: 400, h: 300, rate: "30000/1001", frames: 60, sound: []string{"-ac", "1", "-ar", "44100", "-c:a", "pcm_s16le"}}),
		base("five and one.mkv", spec{rate: "50", frames: 100, sound: []string{"-af", "pan=5.1|FL=c0|FR=c0|FC=c0|LFE=c0|BL=c0|BR=c0", "-c:a", "ac3"}}),
		base("stream.ts", spec{w: 640, h: 360}),
		base("uneven.mp4", spec{
			filter: "settb=1/90000,setpts='(N+0.3*sin(N*1.7))/25/TB'", output: []string{"-fps_mode", "passthrough", "-enc_time_base", "1/90000", "-video_track_timescale", "90000"},
		}),
	}
}

// TestMixedSources joins one second of every kind. What each shows in the middle
// of its section, the place of its click and its frames are read back. The whole
// list is for WHISTLECUT_SOAK=1.
func TestMixedSources(t *testing.T) {
	list := sources(t)
	if os.Getenv("WHISTLECUT_SOAK") != "1" {
		list = list[:3]
	}
	r := Reel{Out: filepath.Join(t.TempDir(), "a 'reel': \"mixed\" 🛼 فيلم.mp4"), Width: 320, Height: 180, Sections: []Section{{Card: &Card{Image: plate(64, 64, color.White), Length: 400 * ms}}}}
	r.Rate.Num, r.Rate.Den = 25, 1
	var want []float64
	at := 0.4
	for _, s := range list {
		path := film(t, s)
		if s.name == "turned.mp4" {
			// The turn is written by copying: encoders apply it.
			upright := path
			path = filepath.Join(t.TempDir(), s.name)
			if err := runner(t).Run(t.Context(), ffmpeg.Job{Args: []string{"-i", upright, "-c", "copy", "-metadata:s:v:0", "rotate=90", path}}); err != nil {
				t.Fatal(err)
			}
		}
		r.Sections = append(r.Sections, Section{Chapter: s.name, Film: &Film{Path: path, From: 0, To: time.Second}})
		if !s.silent {
			want = append(want, at+0.5)
		}
		at++
	}
	res := make1(t, r)
	if res.Frames != 10+25*len(list) {
		t.Errorf("%d frames", res.Frames)
	}
	for i, s := range res.Sections[1:] {
		if s.Frames != 25 || s.Start != 400*ms+time.Duration(i)*time.Second {
			t.Errorf("%s: %+v", list[i].name, s)
		}
	}
	near(t, "clicks", clicksOf(t, res.Out), want...)
	p := probe(t, res.Out)
	if len(p.Chapters) != len(list)+1 || p.Chapters[2].Tags["title"] != list[1].name {
		t.Errorf("chapters: %+v", p.Chapters)
	}
	for i, s := range list {
		if s.name == "turned.mp4" {
			continue // its number lies on its side
		}
		fit := Fit(s.w, s.h, res.Format.Whole())
		got := numbers(t, res.Out, 320, 180, fit)[0][10+25*i : 35+25*i]
		step := rateOfText(s.rate) / 25
		for n, k := range got {
			if w := int(float64(n)*step + 0.25); k != w {
				t.Errorf("%s: place %d shows frame %d, want %d\n%v", s.name, n, k, w, got)
				break
			}
		}
	}
}
