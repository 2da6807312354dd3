package quiz

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"whistlecut/export/answers"
	"whistlecut/timeline"
)

// Collected are the answers that were found for a plan.
type Collected struct {
	// Sheets fit the plan, one for each person and group, by group and name.
	Sheets []answers.Sheet
	// Notes say what was left out or changed, and why, in the order met.
	Notes []Note
}

// Note is something a trainer should know about an answer file.
type Note struct {
	File string `json:"file"` // its name, or "code" for one that was given itself
	Text string `json:"text"`
}

func (n Note) String() string { return n.File + ": " + n.Text }

// CollectAnswers reads the answers at those places: files, folders (their files, not
// the folders within) and text codes themselves. Answers of other quizzes, of questions
// the plan has not and of no known kind are left out, and a person's older answers of
// the same group give way to the newest; Notes say so. It is an error only when nothing
// at all is left.
func CollectAnswers(p Plan, places []string) (Collected, error) {
	c := collector{plan: p}
	for _, place := range places {
		if err := c.place(place); err != nil {
			return Collected{}, err
		}
	}
	out := c.settle()
	if len(out.Sheets) == 0 {
		err := fmt.Errorf("no answers to the quiz %s were found", p.ID)
		if len(out.Notes) > 0 {
			var list []string
			for i, n := range out.Notes {
				if i == 5 {
					list = append(list, fmt.Sprintf("and %d more", len(out.Notes)-i))
					break
				}
				list = append(list, n.String())
			}
			err = fmt.Errorf("%w; %s", err, strings.Join(list, "; "))
		}
		return out, err
	}
	return out, nil
}

// collector gathers sheets with where they are from.
type collector struct {
	plan  Plan
	found []foundSheet
	notes []Note
}

type foundSheet struct {
	answers.Sheet
	file string
	// at is when the answers were given or, where they do not say, the file was
	// changed last.
	at time.Time
}

func (c *collector) note(file, format string, args ...any) {
	c.notes = append(c.notes, Note{file, fmt.Sprintf(format, args...)})
}

// codeFile names a code that was given itself.
const codeFile = "code"

func (c *collector) place(place string) error {
	info, err := os.Stat(place)
	switch {
	case err == nil && info.IsDir():
		return c.folder(place)
	case err == nil:
		return c.file(place, info.ModTime(), true)
	case strings.Contains(strings.ToUpper(place), "WCA1") && (errors.Is(err, fs.ErrNotExist) || !strings.ContainsAny(place, `/\`)):
		list, err := answers.Read(codeFile, []byte(place))
		c.add(codeFile, time.Time{}, list, err)
		return nil
	}
	return fmt.Errorf("cannot read answers: %w; give a file, a folder or a code that begins with WCA1", err)
}

// endings are those of files in a folder that may hold answers.
var endings = []string{".json", ".csv", ".tsv", ".txt", ".xlsx", ".ods"}

func (c *collector) folder(dir string) error {
	list, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("cannot read answers in %s: %w", dir, err)
	}
	for _, f := range list {
		if f.IsDir() || strings.HasPrefix(f.Name(), ".") || !slices.Contains(endings, strings.ToLower(filepath.Ext(f.Name()))) {
			continue
		}
		info, err := f.Info()
		if err != nil {
			c.note(f.Name(), "it cannot be read (%v)", err)
			continue
		}
		if err := c.file(filepath.Join(dir, f.Name()), info.ModTime(), false); err != nil {
			c.note(f.Name(), "%v", err)
		}
	}
	return nil
}

// file reads one file; only one that was named itself must be readable.
func (c *collector) file(path string, changed time.Time, named bool) error {
	info, err := os.Stat(path)
	if err == nil && info.Size() > answers.MostBytes {
		err = fmt.Errorf("it has %d MB, answers have %d at most", info.Size()>>20, answers.MostBytes>>20)
	}
	var data []byte
	if err == nil {
		data, err = os.ReadFile(path)
	}
	if err != nil {
		if named {
			return fmt.Errorf("cannot read answers: %w", err)
		}
		c.note(filepath.Base(path), "it cannot be read (%v)", err)
		return nil
	}
	list, err := answers.Read(path, data)
	c.add(filepath.Base(path), changed, list, err)
	return nil
}

// add takes in what was read from a file and notes what could not be.
func (c *collector) add(file string, changed time.Time, list []answers.Sheet, err error) {
	for _, e := range parts(err) {
		c.note(file, "%v", e)
	}
	for _, s := range list {
		if s.Quiz != c.plan.ID {
			c.note(file, "the answers of %s are to another quiz (%s, not %s); they are left out", s.Person, s.Quiz, c.plan.ID)
			continue
		}
		c.fit(file, &s)
		at := s.Made
		if at.IsZero() {
			at = changed
		}
		c.found = append(c.found, foundSheet{s, file, at})
	}
}

// parts are the errors of a joined one.
func parts(err error) []error {
	if err == nil {
		return nil
	}
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range j.Unwrap() {
			out = append(out, parts(e)...)
		}
		return out
	}
	return []error{err}
}

// fit takes out of a sheet what does not answer the plan's questions.
func (c *collector) fit(file string, s *answers.Sheet) {
	for _, n := range s.Numbers() {
		a := s.Given[n]
		x, ok := c.plan.Item(n)
		if !ok {
			c.note(file, "%s answered question %d, which the quiz does not have; it is left out", s.Person, n)
			delete(s.Given, n)
			continue
		}
		// In a table people write "warning" where a warning is asked for.
		if x.Ask == timeline.AskWarning && a.Choice == timeline.ChoiceWarning {
			a.Choice = timeline.ChoiceYes
		}
		if !slices.Contains(x.Ask.Choices(), a.Choice) {
			c.note(file, "%s answered %q to question %d, where only %q can be answered; it is left out", s.Person, a.Choice, n, x.Ask.Choices())
			delete(s.Given, n)
			continue
		}
		if x.Ask != timeline.AskPenalty {
			a.Code = ""
		} else if a.Code != "" && !slices.ContainsFunc(x.Codes, func(k timeline.PenaltyCode) bool { return k.Letter == a.Code }) {
			c.note(file, "%s gave the letter %s to question %d, which is none of the edition %s; it is kept", s.Person, a.Code, n, x.Edition)
		}
		s.Given[n] = a
	}
}

// personKey is a name as it is compared: without case and ways of writing accents.
func personKey(name string) string {
	return cases.Fold().String(norm.NFKC.String(strings.TrimSpace(name)))
}

// settle keeps the newest sheet of every person and group.
func (c *collector) settle() Collected {
	slices.SortStableFunc(c.found, func(a, b foundSheet) int { return a.at.Compare(b.at) })
	newest := map[[2]string]foundSheet{}
	var order [][2]string
	for _, f := range c.found {
		k := [2]string{personKey(f.Group), personKey(f.Person)}
		old, twice := newest[k]
		if !twice {
			order = append(order, k)
		} else {
			same := ""
			if equalGiven(old.Given, f.Given) {
				same = ", with the same answers"
			}
			c.note(f.file, "%s answered twice%s%s; the newer answers count and those of %s are left out", f.Person, inGroup(f.Group), same, old.file)
		}
		newest[k] = f
	}
	slices.SortFunc(order, func(a, b [2]string) int {
		if d := groupOrder(a[0]) - groupOrder(b[0]); d != 0 {
			return d
		}
		return slices.Compare(a[:], b[:])
	})
	out := Collected{Notes: c.notes}
	for _, k := range order {
		if f := newest[k]; len(f.Given) > 0 {
			out.Sheets = append(out.Sheets, f.Sheet)
		} else {
			out.Notes = append(out.Notes, Note{f.file, f.Person + " answered no question; the sheet is left out"})
		}
	}
	return out
}

func equalGiven(a, b map[int]timeline.Answer) bool {
	if len(a) != len(b) {
		return false
	}
	for n, x := range a {
		if y, ok := b[n]; !ok || x.Choice != y.Choice || x.Code != y.Code {
			return false
		}
	}
	return true
}

func inGroup(g string) string {
	if g == "" {
		return ""
	}
	return fmt.Sprintf(" (%s)", g)
}

// groupOrder puts before in front of after, and both in front of other groups.
func groupOrder(g string) int {
	switch g {
	case answers.Before:
		return 0
	case answers.After:
		return 1
	}
	return 2
}
