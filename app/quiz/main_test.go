package quiz

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"whistlecut/app"
	"whistlecut/app/examples"
	"whistlecut/export/demofilm"
	"whistlecut/timeline/footage/ffmpeg"
)

// stages are small staged bouts with examples, filmed once for all tests.
var stages struct {
	once  sync.Once
	dir   string
	bouts []string
	err   error
}

func TestMain(m *testing.M) {
	code := m.Run()
	if stages.dir != "" {
		_ = os.RemoveAll(stages.dir)
	}
	os.Exit(code)
}

// Size and rate of the staged films: small, and every frame carries its number.
const wide, high, rate = 320, 180, 10

// filmed stages the bouts; tests that need film are skipped without ffmpeg.
func filmed(t testing.TB) []string {
	t.Helper()
	if _, err := ffmpeg.Default().Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
	stages.once.Do(func() {
		stages.dir, stages.err = os.MkdirTemp("", "whistlecut-quiz-test-*")
		for i, seed := range []uint64{1, 2} {
			dir := filepath.Join(stages.dir, fmt.Sprintf("bout %d", i+1))
			path, err := stage(dir, seed, 2)
			if err != nil {
				stages.err = err
				return
			}
			stages.bouts = append(stages.bouts, path)
		}
	})
	if stages.err != nil {
		t.Fatal(stages.err)
	}
	return stages.bouts
}

func stage(dir string, seed uint64, jams int) (string, error) {
	a := app.New("Trainer")
	out, err := a.Stage(context.Background(), app.StageOptions{
		Dir: dir, Seed: seed, Jams: jams, Periods: 1, Width: wide, Height: high,
		Film: demofilm.Options{Code: true, OneFile: true, FrameRate: demofilm.Fraction{Num: rate, Den: 1}},
	})
	if err != nil {
		return "", err
	}
	s, err := a.Open(out.Bout, false)
	if err != nil {
		return "", err
	}
	defer s.Close()
	return out.Bout, s.Apply("examples", examples.Staged(s)...)
}
