package play

import (
	"os"
	"testing"
	"time"

	"whistlecut/timeline"
)

func TestSeekShowsTheExactFrame(t *testing.T) {
	for _, name := range []string{"plain", "fast", "variable", "hevc", "rotated", "stream"} {
		t.Run(name, func(t *testing.T) {
			w := newWatched(t, Options{}, name)
			x, id := truth(t, name), timeline.ID(name)
			w.frame(id, 0)
			n := x.Len()
			if name == "stream" && n != recipes[name].frames {
				t.Fatalf("%d frames", n)
			}
			targets := []int{n / 2, x.KeyAfter(1) - 1}
			if os.Getenv("WHISTLECUT_SOAK") != "" {
				for i := range n {
					targets = append(targets, (i*37)%n)
				}
			}
			for _, i := range targets {
				w.Seek(id, x.Time(i))
				if s := w.frame(id, i); s.Film != x.Time(i) {
					t.Errorf("frame %d is said to be at %v, it is at %v", i, s.Film, x.Time(i))
				}
			}
			// Between two frames the earlier one is on the screen.
			w.Seek(id, x.Time(41)-time.Nanosecond)
			w.frame(id, 40)
			w.Seek(id, time.Hour)
			w.frame(id, n-1)
		})
	}
}
