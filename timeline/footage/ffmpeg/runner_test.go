package ffmpeg

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// testRunner returns a Runner and fails the test when ffmpeg is missing: these
// tests are about starting it.
func testRunner(t *testing.T) *Runner {
	t.Helper()
	r := &Runner{}
	for _, find := range []func() (string, error){r.Path, r.ProbePath} {
		if _, err := find(); err != nil {
			t.Fatalf("this test starts ffmpeg: %v", err)
		}
	}
	return r
}

// film makes a short film with sound.
func film(t *testing.T, r *Runner, seconds string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "film.mp4")
	err := r.WriteFile(t.Context(), path, func(temp string) Job {
		return Job{Args: []string{
			"-f", "lavfi", "-i", "testsrc2=s=160x90:r=25:d=" + seconds,
			"-f", "lavfi", "-i", "sine=d=" + seconds,
			"-c:v", "libx264", "-preset", "ultrafast", "-c:a", "aac", Local(temp),
		}, Doing: "make", Subject: path}
	})
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func TestRunReportsProgressToTheEnd(t *testing.T) {
	r := testRunner(t)
	for _, toStdout := range []bool{false, true} {
		var fractions []float64
		var dones []time.Duration
		var out bytes.Buffer
		job := Job{
			Args:  []string{"-f", "lavfi", "-i", "testsrc2=s=64x36:r=25:d=2", "-f", "null", "-"},
			Total: 2 * time.Second,
			Progress: func(done time.Duration, fraction float64) {
				dones = append(dones, done)
				fractions = append(fractions, fraction)
			},
		}
		if toStdout {
			job.Args = []string{"-f", "lavfi", "-i", "testsrc2=s=64x36:r=25:d=2", "-f", "rawvideo", "pipe:1"}
			job.Stdout = &out
		}
		if err := r.Run(t.Context(), job); err != nil {
			t.Fatal(err)
		}
		if len(dones) == 0 || fractions[len(fractions)-1] != 1 || dones[len(dones)-1] != 2*time.Second {
			t.Errorf("stdout %v: progress was %v %v, want the last one at 2s and 1", toStdout, dones, fractions)
		}
		if want := 50 * 64 * 36 * 3 / 2; toStdout && out.Len() != want {
			t.Errorf("got %d bytes of frames, want %d: progress must not mix with data", out.Len(), want)
		}
	}
}

func TestErrorsAreSentences(t *testing.T) {
	r := testRunner(t)
	dir := t.TempDir()
	text := filepath.Join(dir, "notes.mp4")
	writeTestFile(t, text, []byte(strings.Repeat("this is no film\n", 100)))
	whole, err := os.ReadFile(film(t, r, "1"))
	if err != nil {
		t.Fatal(err)
	}
	cut := filepath.Join(dir, "cut.mp4")
	writeTestFile(t, cut, whole[:len(whole)*2/3])

	tests := []struct {
		name string
		args []string
		kind Kind
		is   error
		want string // part of the sentence
	}{
		{"missing file", append(Input(filepath.Join(dir, "gone.mp4")), "-f", "null", "-"), NoFile, ErrNoFile, "no such file"},
		{"text named mp4", append(Input(text), "-f", "null", "-"), InvalidData, ErrInvalidData, "not a film"},
		{"truncated", append(Input(cut), "-f", "null", "-"), Truncated, ErrInvalidData, "no index"},
		{"encoder", []string{"-f", "lavfi", "-i", "testsrc2=d=1", "-c:v", "libnothing", "-f", "null", "-"}, LacksCodec, ErrLacksCodec, "lacks the encoder libnothing"},
		{"filter", []string{"-f", "lavfi", "-i", "testsrc2=d=1", "-vf", "nothingflip", "-f", "null", "-"}, LacksCodec, ErrLacksCodec, "lacks the filter nothingflip"},
		{"no sound", []string{"-f", "lavfi", "-i", "testsrc2=d=1", "-map", "0:a", "-f", "null", "-"}, NoStream, ErrNoStream, "not in it"},
		{"full disk", []string{"-f", "lavfi", "-i", "testsrc2=d=1", "-f", "rawvideo", "-y", "file:/dev/full"}, NoSpace, ErrNoSpace, "the disk is full"},
		{"unknown option", []string{"-nosuchoption", "1", "-f", "lavfi", "-i", "testsrc2=d=1", "-f", "null", "-"}, BadArguments, nil, "option"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, statErr := os.Stat("/dev/full"); tt.name == "full disk" && statErr != nil {
				t.Skip("this system has no /dev/full to stand for a full disk")
			}
			err := r.Run(t.Context(), Job{Args: tt.args, Doing: "read", Subject: "game.mp4"})
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v, want an *Error", err)
			}
			if e.Kind != tt.kind {
				t.Errorf("kind %d, want %d; log: %s", e.Kind, tt.kind, e.Tail)
			}
			if tt.is != nil && !errors.Is(err, tt.is) {
				t.Errorf("%v is not %v", err, tt.is)
			}
			if !strings.HasPrefix(err.Error(), "cannot read game.mp4: ") || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("sentence %q, want it to have %q", err, tt.want)
			}
		})
	}
}

func TestNotInstalledSaysHow(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	r := &Runner{}
	err := r.Run(t.Context(), Job{Args: []string{"-version"}})
	if !errors.Is(err, ErrNotInstalled) || !strings.Contains(err.Error(), "install") || !strings.Contains(err.Error(), EnvFFmpeg) {
		t.Errorf("got %v", err)
	}
	if _, err := r.Probe(t.Context(), "x.mp4"); !errors.Is(err, ErrNotInstalled) || !strings.Contains(err.Error(), EnvFFprobe) {
		t.Errorf("got %v", err)
	}
	t.Setenv(EnvFFmpeg, filepath.Join(t.TempDir(), "nowhere"))
	if _, err := r.Path(); err == nil || !strings.Contains(err.Error(), "nowhere") {
		t.Errorf("got %v, want the path from the environment in it", err)
	}
}

func TestCancelInterruptsAndLeavesNothing(t *testing.T) {
	r := testRunner(t)
	dir := t.TempDir()
	target := filepath.Join(dir, "long.mp4")
	writeTestFile(t, target, []byte("the older film"))
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	var once sync.Once
	err := r.WriteFile(ctx, target, func(temp string) Job {
		return Job{
			Args:     []string{"-re", "-f", "lavfi", "-i", "testsrc2=s=64x36:r=25", "-c:v", "libx264", Local(temp)},
			Progress: func(time.Duration, float64) { once.Do(cancel) },
		}
	})
	if !errors.Is(err, context.Canceled) || !strings.Contains(err.Error(), "cancelled") {
		t.Errorf("got %v, want a cancel", err)
	}
	if got, _ := os.ReadFile(target); string(got) != "the older film" {
		t.Errorf("the older film was touched: %q", got)
	}
	if names := list(t, dir); len(names) != 1 {
		t.Errorf("left behind: %v", names)
	}
}

func TestWriteFileFailureLeavesNothing(t *testing.T) {
	r := testRunner(t)
	dir := t.TempDir()
	err := r.WriteFile(t.Context(), filepath.Join(dir, "clip.mp4"), func(temp string) Job {
		return Job{Args: append(Input(filepath.Join(dir, "gone.mp4")), "-c", "copy", Local(temp))}
	})
	if !errors.Is(err, ErrNoFile) {
		t.Errorf("got %v", err)
	}
	if names := list(t, dir); len(names) != 0 {
		t.Errorf("left behind: %v", names)
	}
	err = r.WriteFile(t.Context(), filepath.Join(dir, "no folder", "clip.mp4"), func(string) Job { return Job{} })
	if !errors.Is(err, ErrNoFile) || !strings.Contains(err.Error(), "folder does not exist") {
		t.Errorf("got %v", err)
	}
}

func TestWriteFileRefusesItsOwnSource(t *testing.T) {
	r := testRunner(t)
	source := film(t, r, "1")
	before, _ := os.ReadFile(source)
	err := r.WriteFile(t.Context(), source, func(temp string) Job {
		return Job{Args: append(Input(source), "-c", "copy", Local(temp))}
	})
	if err == nil || !strings.Contains(err.Error(), "replace its own source") {
		t.Errorf("got %v", err)
	}
	if after, _ := os.ReadFile(source); !bytes.Equal(before, after) {
		t.Error("the source was changed")
	}
}

func TestHostileNames(t *testing.T) {
	r := testRunner(t)
	source := film(t, r, "1")
	for _, name := range []string{"-y.mp4", "a:b.mp4", "it's 100%d [x];,=.mp4", "http:x.mp4", " lead.mp4"} {
		path := filepath.Join(t.TempDir(), name)
		err := r.WriteFile(t.Context(), path, func(temp string) Job {
			return Job{Args: append(Input(source), "-c", "copy", Local(temp))}
		})
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		if _, err := r.Probe(t.Context(), "-show_format", Local(path)); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
}

func TestPlaylistInDisguiseOpensNothingElse(t *testing.T) {
	r := testRunner(t)
	path := filepath.Join(t.TempDir(), "game.mp4")
	writeTestFile(t, path, []byte("#EXTM3U\n#EXT-X-TARGETDURATION:5\n#EXTINF:5,\nhttp://127.0.0.1:9/a.ts\n#EXT-X-ENDLIST\n"))
	err := r.Run(t.Context(), Job{Args: append(append([]string{"-f", "hls"}, Input(path)...), "-f", "null", "-"), Doing: "read", Subject: path})
	if err == nil {
		t.Fatal("a playlist with an address was accepted")
	}
}

func TestStreamReadsToTheEndAndCloses(t *testing.T) {
	r := testRunner(t)
	frames := Job{Args: []string{"-f", "lavfi", "-i", "testsrc2=s=64x36:r=25:d=2", "-f", "rawvideo", "-pix_fmt", "rgba", "pipe:1"}}
	s, err := r.Start(t.Context(), frames)
	if err != nil {
		t.Fatal(err)
	}
	n, err := io.Copy(io.Discard, s)
	if err != nil || n != 50*64*36*4 {
		t.Errorf("got %d bytes, %v", n, err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}

	// Endless, closed early, with the pipe full and ffmpeg blocked on it.
	s, err = r.Start(t.Context(), Job{Args: []string{"-f", "lavfi", "-i", "testsrc2=s=64x36:r=25", "-f", "rawvideo", "pipe:1"}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(s, make([]byte, 1000)); err != nil {
		t.Fatal(err)
	}
	s.Close()
	s.Close()
	if _, err := s.Read(make([]byte, 10)); err != io.ErrClosedPipe {
		t.Errorf("read after close: %v", err)
	}
	if s.child.cmd.ProcessState == nil {
		t.Error("the child was not waited for")
	}
}

func TestStreamReportsFailure(t *testing.T) {
	r := testRunner(t)
	s, err := r.Start(t.Context(), Job{Args: append(Input(filepath.Join(t.TempDir(), "gone.mp4")), "-f", "rawvideo", "pipe:1")})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if _, err := io.ReadAll(s); !errors.Is(err, ErrNoFile) {
		t.Errorf("got %v", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	s2, err := r.Start(ctx, Job{Args: []string{"-f", "lavfi", "-i", "testsrc2=s=64x36:r=25", "-f", "rawvideo", "pipe:1"}})
	if err != nil {
		t.Fatal(err)
	}
	defer s2.Close()
	cancel()
	if _, err := io.Copy(io.Discard, s2); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want a cancel", err)
	}
}

func TestParallelJobsAreLimited(t *testing.T) {
	r := testRunner(t)
	r.Parallel = 1
	first := make(chan struct{})
	leave := make(chan struct{})
	done := make(chan error, 1)
	go func() {
		var once sync.Once
		done <- r.Run(context.Background(), Job{
			Args: []string{"-f", "lavfi", "-i", "testsrc2=s=64x36:r=25:d=1", "-f", "null", "-"},
			Progress: func(time.Duration, float64) {
				once.Do(func() { close(first) })
				<-leave
			},
		})
	}()
	<-first
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	err := r.Run(ctx, Job{Args: []string{"-version"}})
	if !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a second job got a slot: %v", err)
	}
	close(leave)
	if err := <-done; err != nil {
		t.Error(err)
	}
	if err := r.Run(t.Context(), Job{Args: []string{"-version"}}); err != nil {
		t.Errorf("the slot was not given back: %v", err)
	}
}

func TestProbe(t *testing.T) {
	r := testRunner(t)
	out, err := r.Probe(t.Context(), "-show_entries", "format=format_name", "-of", "csv=p=0", Local(film(t, r, "1")))
	if err != nil || !strings.Contains(string(out), "mp4") {
		t.Errorf("got %q, %v", out, err)
	}
	_, err = r.Probe(t.Context(), Local(filepath.Join(t.TempDir(), "gone.mp4")))
	if !errors.Is(err, ErrNoFile) || !strings.Contains(err.Error(), "cannot read the properties of gone.mp4") {
		t.Errorf("got %v", err)
	}
}

func writeTestFile(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func list(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func readTestFile(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
