package quiz

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"whistlecut/export/answers"
)

// AnswersDir is where answers that were taken in are kept, in the trainer's folder
// of a quiz. They are files like those that people hand in, numbered in the order
// they came.
const AnswersDir = "answers"

// PlanPath is where the plan of a quiz lies in its folder.
func PlanPath(dir string) string { return filepath.Join(dir, TrainerDir, PlanName) }

// AnswersPath is where the answers of a quiz are kept in its folder.
func AnswersPath(dir string) string { return filepath.Join(dir, TrainerDir, AnswersDir) }

// Kept reads the plan of a quiz in a folder and the answers kept there. Without
// answers Collected is empty; that is no error.
func Kept(dir string) (Plan, Collected, error) {
	p, err := ReadPlanFile(PlanPath(dir))
	if err != nil {
		return p, Collected{}, err
	}
	if list, err := os.ReadDir(AnswersPath(dir)); errors.Is(err, fs.ErrNotExist) || err == nil && len(list) == 0 {
		return p, Collected{}, nil
	}
	c, err := CollectAnswers(p, []string{AnswersPath(dir)})
	if len(c.Sheets) == 0 && len(c.Notes) > 0 {
		err = nil // the notes say why nothing counts
	}
	return p, c, err
}

// Keep stores sheets beside those that were kept before, a file each. A person's
// newer answers of the same group count; the older ones stay in their file.
func Keep(dir string, sheets ...answers.Sheet) error {
	for _, s := range sheets {
		if err := s.Check(); err != nil {
			return fmt.Errorf("cannot keep the answers of %s: %w", s.Person, err)
		}
	}
	to := AnswersPath(dir)
	if err := os.MkdirAll(to, 0o755); err != nil {
		return fmt.Errorf("cannot keep the answers: %w", err)
	}
	n := 1
	for _, s := range sheets {
		path := ""
		for ; ; n++ {
			path = filepath.Join(to, fmt.Sprintf("%03d.json", n))
			if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
				break
			}
		}
		if err := whole(path, func(w io.Writer) error { return s.WriteJSON(w) }); err != nil {
			return fmt.Errorf("cannot keep the answers of %s: %w", s.Person, err)
		}
	}
	return nil
}

// Drop takes a person's answers of a group out of those kept and says how many files
// that were. Files that hold answers of others, too, are left as they are.
func Drop(dir, person, group string) (n int, err error) {
	list, err := os.ReadDir(AnswersPath(dir))
	if err != nil {
		return 0, fmt.Errorf("cannot take the answers out: %w", err)
	}
	for _, f := range list {
		path := filepath.Join(AnswersPath(dir), f.Name())
		if f.IsDir() || !strings.EqualFold(filepath.Ext(path), ".json") {
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return n, fmt.Errorf("cannot take the answers out: %w", err)
		}
		sheets, err := answers.Read(path, data)
		if err != nil || len(sheets) != 1 || personKey(sheets[0].Person) != personKey(person) || personKey(sheets[0].Group) != personKey(group) {
			continue
		}
		if err := os.Remove(path); err != nil {
			return n, fmt.Errorf("cannot take the answers out: %w", err)
		}
		n++
	}
	return n, nil
}
