package footage

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// scene is a view that never comes back: a slow zoom into a fractal and a tone
// that rises slowly, with noise over both.
func scene(seconds int) []string {
	return []string{
		"-f", "lavfi", "-i", fmt.Sprintf("mandelbrot=s=160x90:r=25:end_scale=0.01:end_pts=%d,trim=duration=%d,noise=alls=2:allf=t,format=yuv420p", 25*seconds, seconds),
		"-f", "lavfi", "-i", fmt.Sprintf("aevalsrc='0.3*sin(2*PI*(300+60*t)*t)+0.02*random(0)':s=48000:d=%d", seconds),
	}
}

// parts cuts a film into files by the given times, from and to in seconds, and
// opens them.
type part struct {
	name     string
	from, to string
}

func cutParts(t *testing.T, source string, parts []part) []*File {
	t.Helper()
	dir := t.TempDir()
	var files []*File
	for _, p := range parts {
		path := filepath.Join(dir, p.name)
		args := append([]string{"-ss", p.from, "-to", p.to, "-i", source, "-map_metadata", "-1"}, x264(25, 2, "")...)
		makeFilm(t, path, append(args, aac...)...)
		f, err := open(t.Context(), runner, path, filepath.Join(mediaDir, "cache"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	return files
}

// TestOrderByContent cuts one recording into files whose names sort wrongly and
// that carry no clock, without and with pauses between them.
func TestOrderByContent(t *testing.T) {
	source := filepath.Join(t.TempDir(), "scene.mkv")
	makeFilm(t, source, append(scene(8), "-c:v", "ffv1", "-c:a", "pcm_s16le")...)
	tests := []struct {
		name       string
		parts      []part // in the true order
		sure       bool
		continuous bool
	}{
		{"chapters without a gap", []part{
			{"clip-9.mp4", "0", "2"}, {"clip-10.mp4", "2", "4"}, {"b.mp4", "4", "6"}, {"a.mp4", "6", "8"},
		}, true, true},
		{"stopped in between", []part{
			{"z.mp4", "0", "2"}, {"m.mp4", "3", "5"}, {"a.mp4", "6", "8"},
		}, false, false},
		{"two chapters", []part{{"2.mp4", "0", "3"}, {"1.mp4", "3", "6"}}, true, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			files := cutParts(t, source, tt.parts)
			// The disk's clock must not help.
			sorted := slices.Clone(files)
			slices.SortFunc(sorted, func(a, b *File) int { return strings.Compare(a.Path, b.Path) })
			evidence := make([]ends, len(sorted))
			for i, f := range sorted {
				e, err := readEnds(t.Context(), f)
				if err != nil {
					t.Fatal(err)
				}
				e.written = time.Time{}
				evidence[i] = e
			}
			o := arrange(evidence)
			var got, want []string
			for _, i := range o.Order {
				got = append(got, filepath.Base(sorted[i].Path))
			}
			for _, p := range tt.parts {
				want = append(want, p.name)
			}
			if !slices.Equal(got, want) {
				t.Errorf("order %v, want %v: %s", got, want, strings.Join(o.Why, "; "))
			}
			if tt.sure && !o.Sure() {
				t.Errorf("not sure (%.3f): %s", o.Confidence, strings.Join(o.Why, "; "))
			}
			for _, j := range o.Joints {
				if j.Continuous != tt.continuous {
					t.Errorf("continuous %v: %v", j.Continuous, j.Why)
				}
			}
			t.Logf("confidence %.3f: %s", o.Confidence, strings.Join(o.Why, "; "))
		})
	}
}
