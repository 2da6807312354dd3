package answers

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"whistlecut/timeline"
)

// Sheet is one person's answers to a quiz.
type Sheet struct {
	Quiz   string
	Person string // a name or a pseudonym
	Group  string // Before, After, "" or any words
	// Made is when the answers were given, whole seconds UTC; the zero time when that
	// is not known, as in a table.
	Made  time.Time
	Given map[int]timeline.Answer // by question number; who skipped has none
}

// The groups a training is measured by.
const (
	Before = "before"
	After  = "after"
)

// Numbers are the questions answered, in order.
func (s Sheet) Numbers() []int { return slices.Sorted(maps.Keys(s.Given)) }

// Check reports the first thing wrong with a sheet that comes from outside.
func (s Sheet) Check() error {
	if err := checkQuiz(s.Quiz); err != nil {
		return err
	}
	if s.Person == "" {
		return errors.New("the name is missing; a pseudonym will do, but the same one before and after")
	}
	for what, text := range map[string]string{"name": s.Person, "group": s.Group} {
		if n := utf8.RuneCountInString(text); n > longestName {
			return fmt.Errorf("the %s has %d letters, at most %d are kept", what, n, longestName)
		}
		if text != plain(text) {
			return fmt.Errorf("the %s holds characters that cannot be written on a line", what)
		}
	}
	for _, n := range s.Numbers() {
		if n < 1 || n > mostQuestions {
			return fmt.Errorf("question %d: there are only questions 1 to %d", n, mostQuestions)
		}
		if err := checkAnswer(s.Given[n]); err != nil {
			return fmt.Errorf("question %d: %w", n, err)
		}
	}
	return nil
}

func checkAnswer(a timeline.Answer) error {
	switch {
	case !isChoice(a.Choice):
		return fmt.Errorf("%q is no answer; want yes, no or warning", shorten(string(a.Choice)))
	case a.Code != "" && a.Choice == timeline.ChoiceNo:
		return fmt.Errorf("the letter %s goes with yes or warning, not with no", shorten(a.Code))
	case a.Code != codeOf(a.Code) || len(a.Code) > longestCode:
		return fmt.Errorf("%q is no letter of a penalty", shorten(a.Code))
	case len(a.Section) > mostSection || a.Section != plain(a.Section):
		return fmt.Errorf("%q is no section of the rules", shorten(a.Section))
	}
	return nil
}

// codeOf is a letter as it is kept: capitals and digits alone.
func codeOf(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' {
			return r
		}
		if r >= 'a' && r <= 'z' {
			return r - 'a' + 'A'
		}
		return -1
	}, s)
}

// plain is a text on one line: without control characters, line ends and half
// characters, no blanks around it and one at most between words. Marks of writing
// direction stay only where letters need them (zero-width joiners do, overrides that
// turn the rest of the line around do not).
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == utf8.RuneError, unicode.IsControl(r), r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0xfeff:
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}
