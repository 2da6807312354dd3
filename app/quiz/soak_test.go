package quiz

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"whistlecut/app"
)

// TestSoakTwentyQuestions makes the whole of a quiz of twenty questions from several
// staged bouts and reads all of it back. It takes minutes: WHISTLECUT_SOAK=1.
func TestSoakTwentyQuestions(t *testing.T) {
	if os.Getenv("WHISTLECUT_SOAK") == "" {
		t.Skip("WHISTLECUT_SOAK is not set")
	}
	dir := t.TempDir()
	var paths []string
	for seed := range uint64(4) {
		path, err := stage(filepath.Join(dir, fmt.Sprint(seed)), seed, 6)
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	a := app.New("Trainer")
	b, err := OpenBouts(a, paths)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	for seed := range uint64(3) {
		got, err := Draw(b, Options{Questions: 20, Seed: seed, Languages: []string{"en"}})
		if err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(dir, fmt.Sprintf("quiz %d", seed))
		made, err := Make(context.Background(), a, b, got.Plan, out, MakeOptions{FilmOptions: FilmOptions{Think: 10 * time.Second, Once: true}, NoSolution: seed > 0})
		if err != nil {
			t.Fatal(err)
		}
		sameForAll(t, got.Plan)
		readBack(t, out, secretsOf(t, b, got.Plan))
		f := watch(t, filepath.Join(out, FilmName))
		f.checkLengths(t, made, got.Plan)
		f.checkFrames(t, b, made, got.Plan)
		f.checkSound(t, b, made, got.Plan)
	}
}
