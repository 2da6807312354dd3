package quiz

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"whistlecut/app"
	"whistlecut/export/reel"
)

// The files of a quiz. Their names tell nothing, and are the same for every quiz.
const (
	FilmName     = "quiz.mp4"
	TrainerDir   = "trainer" // never given to those who answer
	PlanName     = "plan.json"
	SolutionName = "solution.mp4"
	PaperName    = "solution.pdf"
)

// MakeOptions say what is made of a plan.
type MakeOptions struct {
	FilmOptions
	NoSolution bool // no solution film; the solution is printed in any case
}

// Made says what lies where.
type Made struct {
	Dir      string
	Group    []string // files for those who answer
	Trainer  []string // files for the trainer alone
	Film     reel.Result
	Solution reel.Result // zero without a film of the solution
}

// Make writes the folder of a quiz: the film and the sheets for the group, and in
// its folder trainer the plan and the solution. The folder must not be there, or be
// empty; it appears when everything in it is whole.
func Make(ctx context.Context, a *app.App, b *Bouts, p Plan, dir string, o MakeOptions) (made Made, err error) {
	if err := free(dir); err != nil {
		return made, err
	}
	dir = filepath.Clean(dir)
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return made, fmt.Errorf("cannot make the quiz: %w; choose another place", err)
	}
	temp, err := os.MkdirTemp(filepath.Dir(dir), ".quiz-*")
	if err != nil {
		return made, fmt.Errorf("cannot make the quiz: %w; choose another place", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(temp)) }()
	trainer := filepath.Join(temp, TrainerDir)
	if err := errors.Join(os.Chmod(temp, 0o755), os.Mkdir(trainer, 0o755)); err != nil {
		return made, fmt.Errorf("cannot make the quiz: %w", err)
	}
	made.Dir = dir
	group := func(name string) string {
		made.Group = append(made.Group, filepath.Join(dir, name))
		return filepath.Join(temp, name)
	}
	own := func(name string) string {
		made.Trainer = append(made.Trainer, filepath.Join(dir, TrainerDir, name))
		return filepath.Join(trainer, name)
	}
	if err := p.WriteFile(own(PlanName)); err != nil {
		return made, err
	}
	if made.Film, err = Film(ctx, a, b, p, group(FilmName), o.FilmOptions); err != nil {
		return made, err
	}
	if err := writeForms(p, group); err != nil {
		return made, err
	}
	if !o.NoSolution {
		if made.Solution, err = SolutionFilm(ctx, a, b, p, own(SolutionName), o.FilmOptions); err != nil {
			return made, err
		}
	}
	if err := SolutionPaper(ctx, a, b, p, made.Solution.Sections, own(PaperName)); err != nil {
		return made, err
	}
	if err := alike(temp, p.Made); err != nil {
		return made, err
	}
	// An empty folder of that name makes way; one that was filled meanwhile does not.
	if err := os.Remove(dir); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return made, fmt.Errorf("cannot put the quiz into %s: %w", dir, err)
	}
	if err := os.Rename(temp, dir); err != nil {
		return made, fmt.Errorf("cannot put the quiz into %s: %w", dir, err)
	}
	return made, nil
}

// free reports whether a quiz can be made in a folder.
func free(dir string) error {
	if dir == "" {
		return errors.New("say in which folder to make the quiz")
	}
	list, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("cannot make the quiz in %s: %w; choose another folder", dir, err)
	case len(list) > 0:
		return fmt.Errorf("cannot make the quiz in %s: the folder is not empty; choose another one, so that no quiz is mixed with another", dir)
	}
	return nil
}

// alike gives every file the same time, that of the quiz.
func alike(dir string, at time.Time) error {
	return filepath.WalkDir(dir, func(path string, _ fs.DirEntry, err error) error {
		if err == nil && !at.IsZero() {
			err = os.Chtimes(path, at, at)
		}
		return err
	})
}
