package footage

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// TestRewrapKeepsFramesAndTimes rewraps transport streams and Matroska and
// compares film times, pictures and clicks with the source.
func TestRewrapKeepsFramesAndTimes(t *testing.T) {
	for _, name := range []string{"ts", "mkv", "tail", "soundgap"} {
		t.Run(name, func(t *testing.T) {
			source := opened(t, name)
			if !source.Info.NeedsRewrap() {
				t.Error("it should need rewrapping")
			}
			dst := filepath.Join(t.TempDir(), "rewrapped.mp4")
			if err := Rewrap(t.Context(), runner, source.Path, source.Info, dst, RewrapOptions{}); err != nil {
				t.Fatal(err)
			}
			f, err := open(t.Context(), runner, dst, t.TempDir())
			if err != nil {
				t.Fatal(err)
			}
			if f.Info.NeedsRewrap() {
				t.Error("the copy still needs rewrapping")
			}
			if f.Index.Len() != source.Index.Len() {
				t.Fatalf("%d frames became %d", source.Index.Len(), f.Index.Len())
			}
			for i := range f.Index.Len() {
				if d := f.Index.Time(i) - source.Index.Time(i); d.Abs() > time.Microsecond {
					t.Fatalf("frame %d moved by %v", i, d)
				}
			}
			p := Picture{Width: 64, Height: 36, Format: Gray}
			if !slices.Equal(hashes(t, f, 0, f.Index.Len(), p), hashes(t, source, 0, f.Index.Len(), p)) {
				t.Error("pictures changed")
			}
			was, _ := clickTimes(t, source, 0, 0)
			is, _ := clickTimes(t, f, 0, 0)
			if len(was) != len(is) {
				t.Fatalf("clicks at %.3f became %.3f", was, is)
			}
			for i := range was {
				if math.Abs(was[i]-is[i]) > 0.002 {
					t.Errorf("clicks at %.4f became %.4f", was, is)
				}
			}
		})
	}
}

func TestRewrapRefusalsLeaveNothing(t *testing.T) {
	dir := t.TempDir()
	odd := opened(t, "odd")
	err := Rewrap(t.Context(), runner, odd.Path, odd.Info, filepath.Join(dir, "a.mp4"), RewrapOptions{})
	if err == nil || !strings.Contains(err.Error(), "ffv1") {
		t.Errorf("a picture that MP4 can't hold: %v", err)
	}
	ts := opened(t, "ts")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := Rewrap(ctx, runner, ts.Path, ts.Info, filepath.Join(dir, "b.mp4"), RewrapOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if err := Rewrap(t.Context(), runner, ts.Path, ts.Info, ts.Path, RewrapOptions{}); err == nil {
		t.Error("a film was allowed to replace itself")
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 0 {
		t.Errorf("left behind: %v", entries)
	}
}

func TestRewrapArguments(t *testing.T) {
	info := Info{
		Video: Video{Index: 1, Codec: "hevc", Base: Rational{1, 1000}},
		Audio: []Audio{{Index: 2, Codec: "aac"}, {Index: 0, Codec: "pcm_s24le"}},
	}
	want := []string{
		"-fflags", "+genpts", "-protocol_whitelist", "file,pipe", "-i", "file:-game.mkv",
		"-map", "0:1", "-map", "0:2", "-map", "0:0", "-map_metadata", "0", "-c", "copy", "-c:a:1", "aac", "-b:a:1", "192k",
		"-tag:v", "hvc1", "-video_track_timescale", "90000", "-f", "mp4", "file:out.mp4",
	}
	if d := cmp.Diff(want, rewrapArgs("-game.mkv", info, "out.mp4")); d != "" {
		t.Error(d)
	}
}
