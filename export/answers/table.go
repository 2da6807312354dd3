package answers

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// tableMark begins the first row of every table of answers.
const tableMark = "Whistlecut answers"

// firstPerson is the column of the first person's answers, from 0.
const firstPerson = 2

// WriteCSV writes a blank table to fill: a row per question, a column per person, as
// many as one adds to the right. It begins with the byte order mark by which
// spreadsheet programs know UTF-8 (common practice, no source).
func (f Form) WriteCSV(w io.Writer) error {
	if err := f.Check(); err != nil {
		return fmt.Errorf("cannot write the table of answers: %w", err)
	}
	t := func(s string) string { return say(f.Language, s) }
	rows := [][]string{
		{tableMark, "quiz " + f.Quiz, "", f.Title},
		{t("Name"), t("A pseudonym will do; use the same one before and after."), ""},
		{t("Group"), t("before, after or any word"), ""},
		{t("Number"), t("Question"), t("Answer")},
	}
	for _, q := range f.Questions {
		rows = append(rows, []string{strconv.Itoa(q.Number), q.Text + " " + f.offered(q), ""})
	}
	rows = append(rows, []string{"", t("One column for each person. Write yes, no or warning; with a penalty its letter, too: yes B. Leave empty what is skipped.")})
	for _, c := range f.Codes() {
		rows = append(rows, []string{"", c.Letter + ": " + c.Name})
	}
	rows = append(rows, []string{"", FairnessIn(f.Language)})
	for _, r := range rows {
		for i := range r {
			r[i] = harmless(r[i])
		}
	}
	if _, err := io.WriteString(w, "\ufeff"); err != nil {
		return err
	}
	c := csv.NewWriter(w)
	c.UseCRLF = true
	return c.WriteAll(rows)
}

// offered says what the words stand for: "(yes = penalty, no = no penalty)".
func (f Form) offered(q Question) string {
	var list []string
	for _, c := range q.Choices {
		s := say(f.Language, string(c.Value))
		if !strings.EqualFold(s, c.Label) && c.Label != "" {
			s += " = " + c.Label
		}
		list = append(list, s)
	}
	return "(" + strings.Join(list, ", ") + ")"
}

// harmless keeps a spreadsheet program from taking a text for a formula.
func harmless(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}

// readTable reads a filled table: CSV, XLSX or ODS. Sheets that are sound are
// returned beside the error about the others. known is false when the file is no
// table of answers; text then holds all that stands in it.
func readTable(name string, data []byte) (out []Sheet, text string, known bool, err error) {
	book, err := sheet.ReadGrid(name, data)
	if err != nil {
		return nil, "", false, err
	}
	var all strings.Builder
	for _, g := range book.Tables {
		for r := range g.Cells {
			if strings.EqualFold(plain(g.At(r, 0)), tableMark) {
				out, err = readGrid(g, r)
				return out, "", true, err
			}
			all.WriteString(strings.Join(g.Cells[r], " "))
			all.WriteByte('\n')
		}
	}
	return nil, all.String(), false, nil
}

// readGrid reads the table whose mark stands in row top.
func readGrid(g sheet.Grid, top int) ([]Sheet, error) {
	quiz := strings.ToLower(plain(g.At(top, 1)))
	quiz = strings.TrimSpace(strings.TrimPrefix(quiz, "quiz"))
	if err := checkQuiz(quiz); err != nil {
		return nil, fmt.Errorf("cell %s: %w", sheet.CellName(top, 1), err)
	}
	rows := map[int]int{} // question by row
	seen := map[int]int{}
	for r := top + 1; r < len(g.Cells); r++ {
		text := plain(g.At(r, 0))
		n, err := strconv.Atoi(strings.TrimSuffix(text, ".0"))
		if err != nil {
			continue
		}
		if n < 1 || n > mostQuestions {
			return nil, fmt.Errorf("cell %s: %d is no number of a question; want 1 to %d", sheet.CellName(r, 0), n, mostQuestions)
		}
		if before, twice := seen[n]; twice {
			return nil, fmt.Errorf("cell %s: question %d stands in row %d already", sheet.CellName(r, 0), n, before+1)
		}
		if r < top+3 {
			return nil, fmt.Errorf("cell %s: a question stands where names and groups should; leave the first three rows of the table as they were", sheet.CellName(r, 0))
		}
		rows[r], seen[n] = n, r
	}
	if len(rows) == 0 {
		return nil, errors.New("no row has the number of a question in column A")
	}
	var out []Sheet
	var bad error
	for c := firstPerson; c < g.Width(); c++ {
		s, err := readColumn(g, top, c, quiz, rows)
		switch {
		case err != nil:
			bad = errors.Join(bad, err)
		case s != nil:
			out = append(out, *s)
		}
	}
	if len(out) == 0 && bad == nil {
		bad = errors.New("nobody has filled the table: names go beside Name, answers into the column below")
	}
	return out, bad
}

// readColumn reads one person's column; nil when nobody filled it.
func readColumn(g sheet.Grid, top, c int, quiz string, rows map[int]int) (*Sheet, error) {
	s := Sheet{Quiz: quiz, Person: plain(g.At(top+1, c)), Group: GroupOf(g.At(top+2, c)), Given: map[int]timeline.Answer{}}
	for r := top + 1; r < len(g.Cells); r++ {
		n, ok := rows[r]
		if !ok {
			continue
		}
		a, err := ParseAnswer(g.At(r, c))
		if err != nil {
			return nil, fmt.Errorf("cell %s, question %d: %w", sheet.CellName(r, c), n, err)
		}
		if !a.IsZero() {
			s.Given[n] = a
		}
	}
	switch {
	case s.Person == "" && len(s.Given) == 0:
		return nil, nil
	case s.Person == "":
		return nil, fmt.Errorf("cell %s is empty, but answers stand below it; write a name or a pseudonym there", sheet.CellName(top+1, c))
	}
	if err := s.Check(); err != nil {
		return nil, fmt.Errorf("column %s: %w", strings.Trim(sheet.CellName(0, c), "1"), err)
	}
	return &s, nil
}

// ParseAnswer reads an answer as people write it: yes, no or warning in any of the
// four languages, and the letter behind it ("yes B"). Nothing, a dash and "skip" are
// no answer. A letter alone is refused, since it may stand for a word.
func ParseAnswer(text string) (timeline.Answer, error) {
	text = plain(text)
	if skipWords[strings.ToLower(text)] {
		return timeline.Answer{}, nil
	}
	word, rest, _ := strings.Cut(strings.NewReplacer(",", " ", ";", " ", ":", " ", "/", " ").Replace(text), " ")
	choice, ok := choiceWords[strings.ToLower(word)]
	if !ok {
		return timeline.Answer{}, fmt.Errorf("%q is no answer; write yes, no or warning, and the letter of a penalty behind it, as in: yes B", shorten(text))
	}
	rest = strings.TrimSpace(rest)
	a := timeline.Answer{Choice: choice, Code: codeOf(rest)}
	if len(a.Code) != len(rest) {
		return timeline.Answer{}, fmt.Errorf("%q after %s is no letter of a penalty; write the letter alone, as in: yes B", shorten(rest), word)
	}
	return a, checkAnswer(a)
}
