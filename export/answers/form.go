package answers

import (
	"errors"
	"fmt"
	"strings"

	"whistlecut/timeline"
)

// Form is what a group is asked. It holds no verdict.
type Form struct {
	Quiz     string // 12 hexadecimal digits, which the answers carry, too
	Title    string
	Language string // of the page, ISO 639-1: en, es, fr or de; anything else is English
	// Edition of the rules the codes are of, for the legend.
	Edition   string
	Questions []Question
}

// Question is one question of a form.
type Question struct {
	Number  int // as shown on the film's card
	Ask     timeline.Question
	Text    string // in the form's language
	Choices []Choice
	// Codes are the letters offered; none: no letter is asked for. They go with any
	// choice but no.
	Codes []timeline.PenaltyCode
}

// Choice is an answer one can tick.
type Choice struct {
	Value timeline.Choice
	Label string // in the form's language
}

// Bounds of forms and sheets: they only keep out what cannot be meant.
const (
	mostQuestions = 500
	longestName   = 60 // letters of a person's or a group's name; 240 bytes at most, so that a byte counts them
	longestCode   = 8
	mostSection   = 40
	quizDigits    = 12
)

// Check reports the first thing wrong with a form.
func (f Form) Check() error {
	if err := checkQuiz(f.Quiz); err != nil {
		return err
	}
	if len(f.Questions) == 0 {
		return errors.New("the form has no question")
	}
	seen := map[int]bool{}
	for _, q := range f.Questions {
		switch {
		case q.Number < 1 || q.Number > mostQuestions:
			return fmt.Errorf("a question has the number %d; want 1 to %d", q.Number, mostQuestions)
		case seen[q.Number]:
			return fmt.Errorf("two questions have the number %d", q.Number)
		case len(q.Choices) < 2:
			return fmt.Errorf("question %d has %d answers to choose from; want two at least", q.Number, len(q.Choices))
		}
		seen[q.Number] = true
		for _, c := range q.Choices {
			if !isChoice(c.Value) {
				return fmt.Errorf("question %d offers the answer %q; want yes, no or warning", q.Number, c.Value)
			}
		}
	}
	return nil
}

// Codes are the letters any question offers, in order, each once.
func (f Form) Codes() []timeline.PenaltyCode {
	var out []timeline.PenaltyCode
	seen := map[string]bool{}
	for _, q := range f.Questions {
		for _, c := range q.Codes {
			if !seen[c.Letter] {
				seen[c.Letter] = true
				out = append(out, c)
			}
		}
	}
	return out
}

func isChoice(c timeline.Choice) bool {
	return c == timeline.ChoiceYes || c == timeline.ChoiceNo || c == timeline.ChoiceWarning
}

// checkQuiz reports a name that no quiz has.
func checkQuiz(id string) error {
	if len(id) != quizDigits || strings.Trim(id, "0123456789abcdef") != "" {
		return fmt.Errorf("%q is no name of a quiz; want %d digits and letters a to f, as they stand on sheet and page", shorten(id), quizDigits)
	}
	return nil
}

// shorten cuts what somebody wrote for a message.
func shorten(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
