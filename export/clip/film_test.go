package clip

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"whistlecut/timeline/footage/ffmpeg"
)

// runner is ffmpeg; tests that need it are skipped where it is missing.
func runner(t testing.TB) *ffmpeg.Runner {
	t.Helper()
	r := ffmpeg.Default()
	if _, err := r.Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
	return r
}

var filmDir = sync.OnceValues(func() (string, error) { return os.MkdirTemp("", "whistlecut-clip-test-*") })

func TestMain(m *testing.M) {
	code := m.Run()
	if dir, err := filmDir(); err == nil {
		_ = os.RemoveAll(dir)
	}
	os.Exit(code)
}

var (
	filmMu sync.Mutex
	films  = map[string]string{}
	hashes = map[string][]string{}
)

// film makes a small test film once: moving bars and a tone, frame rate 25,
// 8 s, 160x90 unless said otherwise.
func film(t testing.TB, name string, args ...string) string {
	t.Helper()
	r := runner(t)
	filmMu.Lock()
	defer filmMu.Unlock()
	if p, ok := films[name]; ok {
		return p
	}
	dir, err := filmDir()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, name)
	full := []string{"-y", "-f", "lavfi", "-i", "testsrc2=s=160x90:r=25:d=8", "-f", "lavfi", "-i", "sine=f=440:d=8", "-shortest"}
	full = append(append(full, args...), path)
	if err := r.Run(context.Background(), ffmpeg.Job{Args: full}); err != nil {
		t.Fatal(err)
	}
	films[name] = path
	return path
}

// phone is as a phone films: closed groups of 25 frames, no B-frames.
func phone(t testing.TB) string {
	return film(t, "phone.mp4", "-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-g", "25", "-bf", "0", "-c:a", "aac")
}

// bframes has closed groups of 50 frames with B-frames.
func bframes(t testing.TB) string {
	return film(t, "bframes.mp4", "-c:v", "libx264", "-preset", "veryfast", "-pix_fmt", "yuv420p", "-g", "50", "-bf", "2", "-c:a", "aac")
}

// turned is the phone's film held upright.
func turned(t testing.TB) string {
	t.Helper()
	flat := phone(t)
	path := filepath.Join(t.TempDir(), "turned.mp4")
	if err := runner(t).Run(context.Background(), ffmpeg.Job{Args: []string{"-i", flat, "-c", "copy", "-metadata:s:v:0", "rotate=90", path}}); err != nil {
		t.Fatal(err)
	}
	return path
}

// filmHashes are hashesOf for films that are used again.
func filmHashes(t testing.TB, path string) []string {
	t.Helper()
	filmMu.Lock()
	list, ok := hashes[path]
	filmMu.Unlock()
	if !ok {
		list = hashesOf(t, path)
		filmMu.Lock()
		hashes[path] = list
		filmMu.Unlock()
	}
	return list
}

// hashesOf lists the hashes of a film's decoded frames.
func hashesOf(t testing.TB, path string) []string {
	t.Helper()
	var out bytes.Buffer
	err := runner(t).Run(context.Background(), ffmpeg.Job{
		Args: []string{
			"-xerror", "-err_detect", "explode", "-noautorotate", "-i", path, "-map", "0:v:0", "-fps_mode", "passthrough",
			"-f", "framehash", "-hash", "murmur3", "pipe:1",
		},
		Stdout: &out,
	})
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for line := range strings.Lines(out.String()) {
		if !strings.HasPrefix(line, "#") {
			cols := strings.Split(strings.TrimSpace(line), ",")
			list = append(list, cols[len(cols)-1])
		}
	}
	return list
}

func openFilm(t testing.TB, path string) *Source {
	t.Helper()
	s, err := Open(context.Background(), runner(t), path, Options{WorkDir: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// left lists what lies in a folder.
func left(t testing.TB, dir string) string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	return fmt.Sprint(names)
}
