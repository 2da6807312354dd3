package reel

import (
	"image/color"
	"math"
	"os"
	"runtime"
	"testing"
	"time"
)

// TestHundredClips makes a reel of a hundred clips at a rate that no number of
// samples fits, 30000/1001, once encoded and once copied. The sound must be in
// step at its end, and neither memory nor open files may grow on the way.
func TestHundredClips(t *testing.T) {
	clips := 100
	if os.Getenv("WHISTLECUT_SOAK") != "1" {
		t.Skip("a hundred clips are for WHISTLECUT_SOAK=1, as in make soak")
	}
	path := film(t, spec{
		name: "ntsc.mp4", w: 320, h: 180, rate: "30000/1001", frames: 300, clicks: []float64{0.5, 1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5, 8.5, 9.5},
		video: []string{"-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-g", "15", "-bf", "0"},
	})
	frame := 1001 * time.Second / 30000
	for _, encode := range []bool{false, true} {
		t.Run(map[bool]string{false: "copied", true: "encoded"}[encode], func(t *testing.T) {
			r := Reel{Reencode: encode, Sections: []Section{{Card: &Card{Image: plate(320, 180, color.Black), Length: 500 * ms}}}}
			var want []int
			for i := range clips {
				a := 4 + i%7*15
				n := 23 + i%5 // frames
				r.Sections = append(r.Sections, Section{Chapter: "clip", Film: &Film{Path: path, From: time.Duration(a) * frame, To: time.Duration(a+n) * frame}})
				want = append(want, span(a, a+n-1, 1)...)
			}
			type use struct {
				at    int
				heap  uint64
				files int
			}
			var used []use
			r.Progress = func(p Progress) {
				if p.Finished%25 == 1 && (len(used) == 0 || used[len(used)-1].at != p.Finished) {
					runtime.GC()
					var m runtime.MemStats
					runtime.ReadMemStats(&m)
					open, _ := os.ReadDir("/proc/self/fd")
					used = append(used, use{p.Finished, m.HeapAlloc, len(open)})
				}
			}
			res := make1(t, r)
			for _, u := range used {
				t.Logf("after %3d sections: %.1f MB, %d open files", u.at, float64(u.heap)/1e6, u.files)
			}
			first, last := used[0], used[len(used)-1]
			if last.heap > first.heap+8<<20 || last.files > first.files+8 {
				t.Errorf("it grew: %+v", used)
			}
			card := res.Sections[0].Frames
			same(t, "frames", numbers(t, res.Out, 320, 180, res.Format.Whole())[0][card:], want)
			// The clicks as the frames say.
			var clicks []float64
			for i, s := range res.Sections[1:] {
				a := float64(4+i%7*15) * frame.Seconds()
				for k := 0.5; k < a+s.Length.Seconds()-0.01; k++ {
					if k > a+0.005 {
						clicks = append(clicks, s.Start.Seconds()+k-a)
					}
				}
			}
			got := clicksOf(t, res.Out)
			worst := 0.0
			for _, w := range clicks {
				best := math.Inf(1)
				for _, g := range got {
					if math.Abs(g-w) < math.Abs(best) {
						best = g - w
					}
				}
				if math.Abs(best) > math.Abs(worst) {
					worst = best
				}
			}
			t.Logf("%d clicks in %v, the last at %.3f s; worst %.2f ms", len(clicks), res.Length, clicks[len(clicks)-1], 1000*worst)
			if math.Abs(worst) > 0.02 || len(clicks) < 50 {
				t.Errorf("sound is off by %.1f ms", 1000*worst)
			}
		})
	}
}
