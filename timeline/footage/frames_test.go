package footage

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline/footage/ffmpeg"
)

var openFilms = map[string]*File{} // tests here run one after the other

// opened opens one of the films, past the user's cache.
func opened(t testing.TB, name string) *File {
	t.Helper()
	if f := openFilms[name]; f != nil {
		return f
	}
	f, err := open(t.Context(), runner, film(t, name), filepath.Join(mediaDir, "cache"))
	if err != nil {
		t.Fatal(err)
	}
	openFilms[name] = f
	return f
}

// hashes reads frames and returns a hash of each.
func hashes(t *testing.T, f *File, from, to int, p Picture) []uint64 {
	t.Helper()
	s, err := f.Frames(t.Context(), from, to, p)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	buf := make([]byte, s.Picture().Bytes())
	var list []uint64
	for want := from; ; want++ {
		n, err := s.Next(buf)
		if err == io.EOF {
			if want != to {
				t.Errorf("%d frames came, want %d", want-from, to-from)
			}
			return list
		}
		if err != nil {
			t.Fatalf("frame %d: %v", want, err)
		}
		if n != want {
			t.Fatalf("frame %d is called %d", want, n)
		}
		list = append(list, hashOf(buf))
	}
}

func hashOf(frame []byte) uint64 {
	h := fnv.New64a()
	h.Write(frame)
	return h.Sum64()
}

// plainHashes decodes the whole film with ffmpeg alone.
func plainHashes(t *testing.T, f *File, p Picture) []uint64 {
	t.Helper()
	out, err := runner.Output(t.Context(), ffmpeg.Job{Args: append(ffmpeg.Input(f.Path), "-map", "0:v:0", "-fps_mode", "passthrough",
		"-vf", fmt.Sprintf("scale=%d:%d:flags=bilinear", p.Width, p.Height), "-pix_fmt", string(p.Format), "-f", "rawvideo", "pipe:1")})
	if err != nil {
		t.Fatal(err)
	}
	var list []uint64
	for frame := range slices.Chunk(out, p.Bytes()) {
		list = append(list, hashOf(frame))
	}
	return list
}

// TestFramesAreExact seeks to frames of every kind of film and compares what
// comes with a decode of the whole film.
func TestFramesAreExact(t *testing.T) {
	for name := range films {
		if os.Getenv("WHISTLECUT_SOAK") == "" && slices.Contains(alikeToSeek, name) {
			continue
		}
		t.Run(name, func(t *testing.T) {
			f := opened(t, name)
			p := Picture{Width: 160, Height: 90, Format: Gray}
			all := plainHashes(t, f, p)
			n := f.Index.Len()
			if len(all) != n {
				t.Fatalf("ffmpeg shows %d frames, the index has %d", len(all), n)
			}
			for _, from := range seekTargets(f.Index) {
				to := min(n, from+40)
				if got := hashes(t, f, from, to, p); !slices.Equal(got, all[from:to]) {
					at := slices.Index(all, got[0])
					t.Errorf("asked for frame %d, got what is frame %d", from, at)
				}
			}
		})
	}
}

// alikeToSeek are films whose pictures are stored as in another one; they are
// tried in a soak.
var alikeToSeek = []string{"latesound", "mjpeg", "negative", "noedits", "opents", "rotated", "silent", "soundgap", "timecode"}

// seekTargets are frames where seeking goes wrong first; in a soak, all.
func seekTargets(x *Index) []int {
	n := x.Len()
	k := x.KeyAfter(1)
	targets := []int{k - 2, k - 1, k, n - 1}
	if os.Getenv("WHISTLECUT_SOAK") != "" {
		for i := range n {
			targets = append(targets, i)
		}
	}
	targets = slices.DeleteFunc(targets, func(i int) bool { return i < 0 || i >= n })
	slices.Sort(targets)
	return slices.Compact(targets)
}

func TestFramesTurnAndScale(t *testing.T) {
	f := opened(t, "rotated")
	if f.Info.Video.Rotation == 0 || f.Info.Video.Width != 180 || f.Info.Video.Height != 320 {
		t.Fatalf("shown %dx%d turned by %d, want 180x320 turned", f.Info.Video.Width, f.Info.Video.Height, f.Info.Video.Rotation)
	}
	s, err := f.Frames(t.Context(), 0, 1, Picture{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if p := s.Picture(); p != (Picture{180, 320, RGBA}) || p.Bytes() != 180*320*4 {
		t.Errorf("got %+v", p)
	}
	got := make([]byte, s.Picture().Bytes())
	if _, err := s.Next(got); err != nil {
		t.Fatal(err)
	}
	upright, err := runner.Output(t.Context(), ffmpeg.Job{Args: append(ffmpeg.Input(film(t, "closed")),
		"-vf", "transpose=clock", "-frames:v", "1", "-pix_fmt", "rgba", "-f", "rawvideo", "pipe:1")})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, upright) {
		t.Errorf("the picture is not turned clockwise")
	}
	if _, err := s.Next(make([]byte, 3)); err == nil {
		t.Error("a buffer of the wrong size was taken")
	}
}

func TestFramesRefuseNonsense(t *testing.T) {
	f := opened(t, "silent")
	n := f.Index.Len()
	for _, r := range [][2]int{{-1, 1}, {0, 0}, {5, 4}, {0, n + 1}} {
		if _, err := f.Frames(t.Context(), r[0], r[1], Picture{}); err == nil {
			t.Errorf("frames %v were accepted", r)
		}
	}
	for _, p := range []Picture{{Width: -1, Height: 5}, {Width: 5}, {Width: 1 << 20, Height: 1 << 20}} {
		if _, err := f.Frames(t.Context(), 0, 1, p); err == nil {
			t.Errorf("picture %v was accepted", p)
		}
	}
}

func TestFramesSayWhereAFilmBreaksOff(t *testing.T) {
	// The index stands first in the file, so a broken copy still has it.
	path := filepath.Join(t.TempDir(), "broken.mp4")
	makeFilm(t, path, append([]string{"-i", film(t, "closed"), "-movflags", "+faststart"}, copyAll...)...)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data[:len(data)*6/10], 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := open(t.Context(), runner, path, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if p := f.Index.Playable(); p <= 0 || p >= f.Index.Len() {
		t.Errorf("%d of %d frames playable, want some missing", p, f.Index.Len())
	}
	s, err := f.Frames(t.Context(), 0, f.Index.Len(), Picture{Width: 32, Height: 18, Format: Gray})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	buf := make([]byte, s.Picture().Bytes())
	last := -1
	for {
		n, err := s.Next(buf)
		if err == nil {
			last = n
			continue
		}
		if !errors.Is(err, ErrTruncated) || !strings.Contains(err.Error(), fmt.Sprintf("frame %d of 120", last+1)) {
			t.Errorf("got %v after frame %d", err, last)
		}
		break
	}
	// A frame cut in half is shown in part.
	if d := last + 1 - f.Index.Playable(); d < 0 || d > 1 {
		t.Errorf("%d frames came, the index says %d", last+1, f.Index.Playable())
	}
}

func TestFramesStopWithTheirContext(t *testing.T) {
	f := opened(t, "closed")
	ctx, cancel := context.WithCancel(t.Context())
	s, err := f.Frames(ctx, 0, f.Index.Len(), Picture{Width: 640, Height: 360})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	buf := make([]byte, s.Picture().Bytes())
	if _, err := s.Next(buf); err != nil {
		t.Fatal(err)
	}
	cancel()
	for range f.Index.Len() {
		if _, err = s.Next(buf); err != nil {
			break
		}
	}
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestFramesArguments(t *testing.T) {
	var list []frame
	for i := range 60 {
		list = append(list, frame{1001 + int64(i)*1001, int32(i), i%30 == 0})
	}
	x := newIndex(Rational{1, 30000}, list, 0)
	f := &File{Path: "game.mp4", Index: x, Info: Info{Container: "mov,mp4", Start: 10_000_000, Video: Video{Index: 1}}}
	p := Picture{Width: 960, Height: 540, Format: RGBA}
	tail := []string{
		"-map", "[s0]", "-c:v", "rawvideo", "-enc_time_base", "-1", "-f", "nut", "-flush_packets", "1", "-fps_mode", "passthrough",
		"-frames:v", "1", "-pix_fmt", "rgba", "-write_index", "0", "pipe:1",
	}
	tests := []struct {
		name      string
		container string
		from      int
		want      []string
	}{
		{"the first frame needs no seek", "mov,mp4", 0, []string{
			"-copyts", "-protocol_whitelist", "file,pipe", "-xerror", "-i", "file:game.mp4",
			"-filter_complex", "[0:1]scale=flags=bilinear:h=540:w=960[s0]",
		}},
		// Frame 2 is shown at 3003/30000 s, less the film's start of 10 ms and
		// less half a millisecond.
		{"half a millisecond early in an MP4", "mov,mp4", 2, []string{
			"-copyts", "-protocol_whitelist", "file,pipe", "-ss", "0.089600", "-xerror", "-i", "file:game.mp4",
			"-filter_complex", "[0:1]scale=flags=bilinear:h=540:w=960[s0]",
		}},
		// Frame 30 is a key frame.
		{"at a key frame", "mov,mp4", 30, []string{
			"-copyts", "-noaccurate_seek", "-protocol_whitelist", "file,pipe", "-ss", "1.024866", "-xerror", "-i", "file:game.mp4",
			"-filter_complex", "[0:1]trim=start_pts=31031[s0];[s0]scale=flags=bilinear:h=540:w=960[s1]",
		}},
		// 16 frames earlier still, as key frame 30 follows closely.
		{"by exact time before a key frame", "mov,mp4", 28, []string{
			"-copyts", "-noaccurate_seek", "-protocol_whitelist", "file,pipe", "-ss", "0.423266", "-xerror", "-i", "file:game.mp4",
			"-filter_complex", "[0:1]trim=start_pts=29029[s0];[s0]scale=flags=bilinear:h=540:w=960[s1]",
		}},
		{"by exact time elsewhere", "mpegts", 2, []string{
			"-copyts", "-noaccurate_seek", "-protocol_whitelist", "file,pipe", "-xerror", "-i", "file:game.mp4",
			"-filter_complex", "[0:1]trim=start_pts=3003[s0];[s0]scale=flags=bilinear:h=540:w=960[s1]",
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f.Info.Container = tt.container
			got, err := framesArgs(f, tt.from, tt.from+1, p)
			if err != nil {
				t.Fatal(err)
			}
			want := append(slices.Clone(tt.want), tail...)
			if strings.Contains(strings.Join(tt.want, " "), "[s1]") {
				want[slices.Index(want, "[s0]")] = "[s1]"
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Error(d)
			}
		})
	}
}
