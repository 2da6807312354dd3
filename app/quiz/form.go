package quiz

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"whistlecut/app/desk/words"
	"whistlecut/export/answers"
	"whistlecut/export/print"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
)

// FormOf is what the group is asked: the questions of a plan in its languages, and
// nothing of what stands behind them. The form's own words are in the main language.
func FormOf(p Plan) answers.Form {
	f := answers.Form{Quiz: p.ID, Title: strings.TrimSpace(p.Title), Language: p.main(), Edition: p.Edition}
	if f.Title == "" {
		f.Title = "Quiz"
	}
	both := func(say func(language string) string) string {
		var out []string
		for _, l := range p.Languages {
			if s := say(l); !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
		return strings.Join(out, " / ")
	}
	for _, x := range p.Items {
		q := answers.Question{Number: x.Number, Ask: x.Ask, Text: both(func(l string) string { return Asking(x.Ask, x.Asked, l) })}
		for _, c := range x.Ask.Choices() {
			q.Choices = append(q.Choices, answers.Choice{
				Value: c,
				Label: both(func(l string) string { return AnswerText(x.Ask, timeline.Answer{Choice: c}, nil, l) }),
			})
		}
		if x.Ask == timeline.AskPenalty {
			for _, c := range x.Codes {
				q.Codes = append(q.Codes, timeline.PenaltyCode{Letter: c.Letter, Name: both(func(l string) string { return words.In(l, c.Name) }), Section: c.Section})
			}
		}
		f.Questions = append(f.Questions, q)
	}
	return f
}

// The files a group answers on.
const (
	FormPageName  = "answers.html"
	FormTableName = "answers.csv"
	FormPaperName = "answers.pdf"
)

// writeForms writes what the group answers on; at gives a name its path.
func writeForms(p Plan, at func(name string) string) error {
	f := FormOf(p)
	for _, x := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{FormPageName, f.WritePage},
		{FormTableName, f.WriteCSV},
		{FormPaperName, func(w io.Writer) error {
			return print.WriteAnswerSheet(w, f, print.Options{Language: f.Language, Made: p.Made})
		}},
	} {
		if err := whole(at(x.name), x.write); err != nil {
			return fmt.Errorf("cannot write %s: %w", x.name, err)
		}
	}
	return nil
}

// whole makes a file of what write writes: all of it, or nothing.
func whole(path string, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	return ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, b.Bytes(), 0o644) })
}
