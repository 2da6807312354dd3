package footage

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"testing"

	"whistlecut/timeline/footage/ffmpeg"
)

// shownTimes asks ffmpeg itself which frames it shows and when, in ticks, and
// which of them it calls key frames.
func shownTimes(t *testing.T, path string) (pts []int64, keys []bool) {
	t.Helper()
	var log bytes.Buffer
	err := runner.Run(t.Context(), ffmpeg.Job{
		Args: append(append([]string{"-copyts", "-noautorotate"}, ffmpeg.Input(path)...),
			"-map", "0:v:0", "-fps_mode", "passthrough", "-vf", "showinfo=checksum=0", "-f", "null", "-"),
		Log: &log, LogLevel: "info",
	})
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.SplitSeq(log.String(), "\n") {
		_, rest, found := strings.Cut(line, " pts:")
		if !found || !strings.Contains(line, "showinfo") {
			continue
		}
		n, err := strconv.ParseInt(strings.Fields(rest)[0], 10, 64)
		if err != nil {
			t.Fatalf("%v in %q", err, line)
		}
		pts = append(pts, n)
		keys = append(keys, strings.Contains(line, "iskey:1"))
	}
	return pts, keys
}

// TestIndexIsWhatFFmpegShows compares the index of every kind of film with the
// frames that ffmpeg gives out: number, times, key flags.
func TestIndexIsWhatFFmpegShows(t *testing.T) {
	for name := range films {
		t.Run(name, func(t *testing.T) {
			path := film(t, name)
			info, err := Probe(t.Context(), runner, path)
			if err != nil {
				t.Fatal(err)
			}
			x, err := ReadIndex(t.Context(), runner, path, info)
			if err != nil {
				t.Fatal(err)
			}
			pts, keys := shownTimes(t, path)
			if x.Base() != info.Video.Base {
				t.Errorf("time base %v, want ffprobe's %v", x.Base(), info.Video.Base)
			}
			if !slices.Equal(x.pts, pts) {
				t.Errorf("%d frames\n%v\nffmpeg shows %d\n%v", x.Len(), x.pts, len(pts), pts)
			}
			if !slices.Equal(x.key, keys) {
				t.Errorf("key frames %v\nffmpeg says  %v", trues(x.key), trues(keys))
			}
			if x.Playable() != x.Len() {
				t.Errorf("playable %d of %d", x.Playable(), x.Len())
			}
		})
	}
}

// TestTablesAndPacketsAgree reads the same MP4 both ways.
func TestTablesAndPacketsAgree(t *testing.T) {
	for name, recipe := range films {
		if name == "fragmented" || !strings.HasSuffix(recipe.file, ".mp4") && !strings.HasSuffix(recipe.file, ".mov") {
			continue
		}
		t.Run(name, func(t *testing.T) {
			path := film(t, name)
			info, err := Probe(t.Context(), runner, path)
			if err != nil {
				t.Fatal(err)
			}
			a, err := indexFromTables(path, info.Video)
			if err != nil {
				t.Fatal(err)
			}
			b, err := indexFromPackets(t.Context(), runner, path, info.Video)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(a.pts, b.pts) || !slices.Equal(a.key, b.key) || a.base != b.base {
				t.Errorf("tables %v\npackets %v", a, b)
			}
			if d := a.end - b.end; d < -1 || d > 1 {
				t.Errorf("end %d by the tables, %d by the packets", a.end, b.end)
			}
			// Packets that ffmpeg drops before the edit have no place in its
			// list, so decode order may differ by a constant only.
			shift := a.decode[0] - b.decode[0]
			for i := range a.decode {
				if a.decode[i]-b.decode[i] != shift {
					t.Fatalf("decode order of frame %d: %d and %d, but %d apart at the start", i, a.decode[i], b.decode[i], shift)
				}
			}
		})
	}
}

func trues(list []bool) []int {
	var at []int
	for i, b := range list {
		if b {
			at = append(at, i)
		}
	}
	return at
}
