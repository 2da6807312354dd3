package print

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"whistlecut/export/answers"
	"whistlecut/timeline"
)

// askedForm is a form of that many questions, some of them long.
func askedForm(t *testing.T, language string, questions int) answers.Form {
	t.Helper()
	edition, ok := timeline.Edition("2025")
	if !ok {
		t.Fatal("the edition of 2025 is gone")
	}
	f := answers.Form{Quiz: "0a1b2c3d4e5f", Title: "Tuesday: Ñandú 😀 Αθήνα", Language: language, Edition: edition.Edition}
	for n := range questions {
		q := answers.Question{Number: n + 1, Ask: timeline.AskPenalty, Text: "Penalty or no penalty?", Codes: edition.Codes, Choices: []answers.Choice{
			{Value: timeline.ChoiceYes, Label: "penalty"}, {Value: timeline.ChoiceNo, Label: "no penalty"}, {Value: timeline.ChoiceWarning, Label: "warning"},
		}}
		switch n % 3 {
		case 1:
			q.Ask, q.Codes, q.Text = timeline.AskPass, nil, strings.Repeat("Was the pass earned, or was it not, once one looks at both of them? ", 3)
			q.Choices = q.Choices[:2]
		case 2:
			q.Choices[0].Label = strings.Repeat("a penalty of some kind ", 5)
		}
		f.Questions = append(f.Questions, q)
	}
	return f
}

func TestAnswerSheet(t *testing.T) {
	for language, words := range map[string][]string{
		"en": {"Name", "before the training", "nobody is graded here", "Date"},
		"es": {"Nombre", "antes de la formación", "nadie es evaluado", "Fecha"},
		"fr": {"Nom", "avant la formation", "personne n'est noté"},
		"de": {"Name", "vor der Schulung", "niemand wird hier benotet", "Datum"},
	} {
		t.Run(language, func(t *testing.T) {
			f := askedForm(t, language, 20)
			data, text := printed(t, "answers-"+language, func(b *bytes.Buffer) error {
				return WriteAnswerSheet(b, f, Options{Language: "xx", Made: fixed})
			})
			again, _ := printed(t, "answers-"+language, func(b *bytes.Buffer) error {
				return WriteAnswerSheet(b, f, Options{Made: fixed})
			})
			if !bytes.Equal(data, again) {
				t.Error("the same sheet gave other bytes")
			}
			holds(t, text, append(words, "Quiz 0a1b2c3d4e5f", "B back block", "G misconduct", "(2025)")...)
			for n := range 20 {
				if text != "" && !strings.Contains(text, fmt.Sprintf("\n%d ", n+1)) && !strings.Contains(text, fmt.Sprintf("\f%d ", n+1)) {
					t.Errorf("question %d is not on the sheet", n+1)
				}
			}
		})
	}
	var b bytes.Buffer
	if err := WriteAnswerSheet(&b, answers.Form{}, Options{}); err == nil || b.Len() > 0 {
		t.Errorf("an empty form: %v, %d bytes", err, b.Len())
	}
}
