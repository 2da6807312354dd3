package clip

import (
	"context"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// cutFilm cuts and reads back.
func cutFilm(t *testing.T, s *Source, q Request) (Result, []string) {
	t.Helper()
	q.Out = filepath.Join(t.TempDir(), "clip.mp4")
	r, err := s.Cut(context.Background(), q)
	if err != nil {
		t.Fatal(err)
	}
	return r, hashesOf(t, q.Out)
}

// TestCut checks the method and, by hashes, that copied frames are the film's
// frames in their places. What encoded frames show is measured by the program's
// own bench, which reads numbers in the pictures.
func TestCut(t *testing.T) {
	for _, c := range []struct {
		name        string
		film        func(testing.TB) string
		first, last int
		method      Method
		encoded     int
		why         string
	}{
		{"whole film", phone, 0, 199, Copied, 0, ""},
		{"from a key frame, no B-frames", phone, 50, 110, Copied, 0, ""},
		{"between key frames with B-frames", bframes, 50, 149, Copied, 0, ""},
		{"head", phone, 60, 180, Edges, 15, ""},
		{"head and tail", bframes, 40, 162, Edges, 12, ""},
		{"one key frame", phone, 75, 75, Copied, 0, ""},
		{"one other frame", phone, 76, 76, Reencoded, 1, "no key frame"},
		{"inside a group", phone, 51, 70, Reencoded, 20, "no key frame"},
		{"mostly head", phone, 51, 80, Reencoded, 30, "only 6 copied"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := c.film(t)
			s := openFilm(t, path)
			all := filmHashes(t, path)
			r, got := cutFilm(t, s, Request{First: c.first, Last: c.last})
			if r.Method != c.method || !strings.Contains(r.Why, c.why) || r.Encoded != c.encoded {
				t.Errorf("made by %s (%s), %d encoded", r.Method, r.Why, r.Encoded)
			}
			if len(got) != c.last-c.first+1 {
				t.Fatalf("%d frames, want %d", len(got), c.last-c.first+1)
			}
			same := 0
			for i, h := range got {
				if h == all[c.first+i] {
					same++
				}
			}
			if want := len(got) - c.encoded; same < want {
				t.Errorf("%d frames are the film's, want %d", same, want)
			}
			if want := time.Duration(c.first) * 40 * time.Millisecond; r.FirstTime != want || r.End != time.Duration(c.last+1)*40*time.Millisecond {
				t.Errorf("from %v to %v", r.FirstTime, r.End)
			}
		})
	}
}

// TestCutWithTwoSequenceSets takes the way for films under whose parameters no
// other pictures can stand.
func TestCutWithTwoSequenceSets(t *testing.T) {
	path := bframes(t)
	s := openFilm(t, path)
	s.codec.(*avc).seq.scaling = true
	r, got := cutFilm(t, s, Request{First: 40, Last: 162})
	if r.Method != Edges || r.Encoded != 12 {
		t.Fatalf("made by %s (%s), %d encoded", r.Method, r.Why, r.Encoded)
	}
	all, same := filmHashes(t, path), 0
	for i, h := range got {
		if h == all[40+i] {
			same++
		}
	}
	if len(got) != 123 || same < 111 {
		t.Errorf("%d frames, %d of them the film's", len(got), same)
	}
	film, err := mp4.Open(r.Out)
	if err != nil {
		t.Fatal(err)
	}
	c, err := parseAVC(film.Video().Entries[0].Config("avcC"))
	if err != nil || len(c.sps) != 2 || len(c.pps) != 2 {
		t.Errorf("%+v, %v", c, err)
	}
}

// TestSeamThatDiffersIsNotTrusted encodes where the comparison with the film
// fails.
func TestSeamThatDiffersIsNotTrusted(t *testing.T) {
	s := openFilm(t, phone(t))
	s.checked, s.seamBad = true, "frames behind the seam differ from the film"
	r, got := cutFilm(t, s, Request{First: 60, Last: 180})
	if r.Method != Reencoded || r.Why != s.seamBad || len(got) != 121 {
		t.Errorf("%+v, %d frames", r, len(got))
	}
}

func TestFramesAreCountedAsFootageDoes(t *testing.T) {
	for _, path := range []string{phone(t), bframes(t)} {
		f, err := footage.Open(context.Background(), runner(t), path)
		if err != nil {
			t.Fatal(err)
		}
		s := openFilm(t, path)
		if s.Frames() != f.Index.Len() {
			t.Fatalf("%d frames, footage says %d", s.Frames(), f.Index.Len())
		}
		for k := range s.Frames() {
			if s.Time(k) != f.Index.Time(k) || s.FrameAt(s.Time(k)) != k {
				t.Fatalf("frame %d is at %v, footage says %v; there is frame %d", k, s.Time(k), f.Index.Time(k), s.FrameAt(s.Time(k)))
			}
		}
	}
}

func TestWindow(t *testing.T) {
	s := openFilm(t, phone(t))
	ms := time.Millisecond
	for _, c := range []struct {
		name        string
		from, to    time.Duration
		first, last int
	}{
		{"on frames", 1000 * ms, 2000 * ms, 25, 49},
		{"between frames", 1010 * ms, 1990 * ms, 25, 49},
		{"just past a frame", 1000 * ms, 2001 * ms, 25, 50},
		{"rounded down", 999999 * time.Microsecond, 2000 * ms, 25, 49},
		{"before the film", -3000 * ms, 100 * ms, 0, 2},
		{"behind the film", 7900 * ms, 20000 * ms, 197, 199},
		{"nothing", 1000 * ms, 1000 * ms, 25, 25},
	} {
		t.Run(c.name, func(t *testing.T) {
			if first, last := s.Window(c.from, c.to); first != c.first || last != c.last {
				t.Errorf("frames %d to %d, want %d to %d", first, last, c.first, c.last)
			}
		})
	}
}

func TestCutClampsAndSaysSo(t *testing.T) {
	s := openFilm(t, phone(t))
	r, got := cutFilm(t, s, Request{First: -20, Last: 30})
	if !r.Clamped || r.FirstFrame != 0 || r.LastFrame != 30 || len(got) != 31 {
		t.Errorf("%+v, %d frames", r, len(got))
	}
	r, got = cutFilm(t, s, Request{First: 180, Last: 500})
	if !r.Clamped || r.LastFrame != 199 || len(got) != 20 {
		t.Errorf("%+v, %d frames", r, len(got))
	}
}

func TestCutRefuses(t *testing.T) {
	path := phone(t)
	s := openFilm(t, path)
	dir := t.TempDir()
	for _, c := range []struct {
		name string
		q    Request
		says string
	}{
		{"last before first", Request{First: 10, Last: 5, Out: filepath.Join(dir, "a.mp4")}, "before its first"},
		{"outside", Request{First: 300, Last: 400, Out: filepath.Join(dir, "a.mp4")}, "outside the film"},
		{"over the film itself", Request{First: 0, Last: 5, Out: path}, "would replace the film"},
		{"no name", Request{First: 0, Last: 5}, "no name"},
		{"folder missing", Request{First: 0, Last: 5, Out: filepath.Join(dir, "no", "a.mp4")}, "no such file"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := s.Cut(context.Background(), c.q)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v", err)
			}
			if got := left(t, dir); got != "[]" {
				t.Errorf("left behind: %s", got)
			}
		})
	}
}

func TestCutStoppedLeavesNothing(t *testing.T) {
	s := openFilm(t, phone(t))
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	out := filepath.Join(dir, "clip.mp4")
	_, err := s.Cut(ctx, Request{First: 3, Last: 190, Out: out, Reencode: true, Progress: func(float64) { cancel() }})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	if got := left(t, dir); got != "[]" {
		t.Errorf("left behind: %s", got)
	}
}

func TestCutKeepsAnOlderClipOnFailure(t *testing.T) {
	s := openFilm(t, phone(t))
	out := filepath.Join(t.TempDir(), "clip.mp4")
	if err := os.WriteFile(out, []byte("older"), 0o666); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := s.Cut(ctx, Request{First: 3, Last: 190, Out: out}); err == nil {
		t.Fatal("no error")
	}
	if got, _ := os.ReadFile(out); string(got) != "older" {
		t.Error("the older clip is gone")
	}
}

func TestCutOtherSources(t *testing.T) {
	x264 := []string{"-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-g", "25", "-c:a", "aac"}
	with := func(more ...string) []string { return append(append([]string{}, x264...), more...) }
	for _, c := range []struct {
		name, file string
		args       []string
		method     Method
		why, note  string
	}{
		{"transport stream", "s.ts", with("-bf", "2"), Edges, "", "rewrapped"},
		{"fragmented", "f.mp4", with("-movflags", "frag_keyframe+empty_moov"), Edges, "", "fragmented MP4"},
		{"Matroska", "m.mkv", x264, Edges, "", "rewrapped"},
		{"open groups", "o.mp4", with("-bf", "2", "-x264-params", "open-gop=1"), Reencoded, "groups of its frames are open", ""},
		{"interlaced", "i.mp4", with("-flags", "+ilme+ildct", "-vf", "scale=160:96,setfield=tff"), Reencoded, "interlaced", ""},
		{"MPEG-4 part 2", "p.mp4", []string{"-c:v", "mpeg4", "-g", "25", "-c:a", "aac"}, Reencoded, "from key frame to key frame only", ""},
		{"Motion JPEG, uncompressed sound", "j.mov", []string{"-c:v", "mjpeg", "-pix_fmt", "yuvj420p", "-c:a", "pcm_s16le"}, Copied, "", ""},
		{"time code track", "t.mp4", with("-timecode", "01:00:00:00"), Edges, "", ""},
		{"no sound", "n.mp4", with("-an"), Edges, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := film(t, c.file, c.args...)
			s := openFilm(t, path)
			r, got := cutFilm(t, s, Request{First: 30, Last: 140})
			if r.Method != c.method || !strings.Contains(r.Why, c.why) || !strings.Contains(r.Note, c.note) {
				t.Errorf("made by %s (%s), note %q", r.Method, r.Why, r.Note)
			}
			if len(got) != 111 {
				t.Errorf("%d frames, want 111", len(got))
			}
			if c.file == "t.mp4" && (len(r.Dropped) != 1 || r.Dropped[0] != "time code (tmcd)") {
				t.Errorf("dropped %v", r.Dropped)
			}
		})
	}
}

func TestCutRewrapLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	s, err := Open(context.Background(), runner(t), film(t, "s.ts", "-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-g", "25", "-bf", "2", "-c:a", "aac"), Options{WorkDir: dir})
	if err != nil {
		t.Fatal(err)
	}
	if got := left(t, dir); got == "[]" {
		t.Error("nothing was rewrapped")
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if got := left(t, dir); got != "[]" {
		t.Errorf("left behind: %s", got)
	}
}

// TestOverlayIsDrawnOverItsFramesOnly reads the corner of the picture back.
func TestOverlayIsDrawnOverItsFramesOnly(t *testing.T) {
	for _, c := range []struct {
		name string
		film func(testing.TB) string
		w, h int // of the film as shown
	}{
		{"upright", phone, 160, 90},
		{"turned", turned, 90, 160},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := openFilm(t, c.film(t))
			if w, h := s.Size(); w != c.w || h != c.h {
				t.Fatalf("size %dx%d", w, h)
			}
			img := image.NewRGBA(image.Rect(0, 0, c.w, 32))
			draw.Draw(img, img.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
			out := filepath.Join(t.TempDir(), "clip.mp4")
			r, err := s.Cut(context.Background(), Request{First: 30, Last: 59, Out: out, Overlays: []Overlay{{Image: img, Y: c.h - 32, First: 40, Last: 49}}})
			if err != nil {
				t.Fatal(err)
			}
			if r.Method != Reencoded || r.Why != "a caption is drawn" {
				t.Errorf("%+v", r)
			}
			// Grey frames as shown, without the file's turn if it has one.
			raw, err := runner(t).Output(context.Background(), ffmpeg.Job{Args: []string{"-i", out, "-map", "0:v", "-fps_mode", "passthrough", "-pix_fmt", "gray", "-f", "rawvideo", "pipe:1"}})
			if err != nil {
				t.Fatal(err)
			}
			if len(raw) != 30*c.w*c.h {
				t.Fatalf("%d bytes instead of 30 frames of %dx%d", len(raw), c.w, c.h)
			}
			for k := range 30 {
				frame := raw[k*c.w*c.h:]
				sum := 0
				for y := c.h - 24; y < c.h-8; y++ {
					for x := range c.w {
						sum += int(frame[y*c.w+x])
					}
				}
				white := sum/(16*c.w) > 240
				if want := k >= 10 && k <= 19; white != want {
					t.Errorf("frame %d of the clip: caption %v, want %v", k, white, want)
				}
			}
		})
	}
}
