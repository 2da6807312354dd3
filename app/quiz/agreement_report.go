package quiz

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"whistlecut/app/desk/words"
	"whistlecut/export/answers"
	"whistlecut/export/print"
	"whistlecut/timeline"
	"whistlecut/timeline/agreement"
)

// reporter puts an agreement into words of a language.
type reporter struct {
	a        Agreement
	p        Plan
	language string
}

func (r reporter) t(english string, pairs ...any) string {
	return words.In(r.language, english, pairs...)
}

// Report is the agreement as text and tables in a language: what is printed, shown
// and written to the terminal. People's own shares are in it only when named is true.
func (a Agreement) Report(p Plan, language string, named bool) print.Report {
	r := reporter{a, p, language}
	title := r.t("Agreement")
	if s := strings.TrimSpace(p.Title); s != "" {
		title += ": " + s
	}
	out := print.Report{
		Title:    title,
		Under:    fmt.Sprintf("%s  ·  %s  ·  %s", p.ID, r.t("Questions: {.n}", "n", len(p.Items)), r.t("By the rules of {.edition}", "edition", p.Edition)),
		Cautions: []string{r.t(TrainingNote)},
	}
	for _, g := range a.Groups {
		out.Parts = append(out.Parts, r.overview(g))
		if named {
			out.Parts = append(out.Parts, r.people(g))
		}
		out.Parts = append(out.Parts, r.questions(g), r.parts(g, r.t("By rule section"), r.t("section"), g.Sections))
		if len(g.Codes) > 0 {
			out.Parts = append(out.Parts, r.parts(g, r.t("By letter"), r.t("letter"), g.Codes))
		}
		if len(g.Asks) > 1 {
			out.Parts = append(out.Parts, r.parts(g, r.t("By what was asked"), r.t("question"), g.Asks))
		}
		if len(g.Confused) > 0 {
			out.Parts = append(out.Parts, r.confused(g), r.taken(g))
		}
	}
	if a.Training != nil {
		out.Parts = append(out.Parts, r.training()...)
	}
	out.Parts = append(out.Parts, r.sources())
	if len(a.Notes) > 0 {
		part := print.ReportPart{Heading: r.t("What was left out or changed")}
		for _, n := range a.Notes {
			part.Text = append(part.Text, n.String())
		}
		out.Parts = append(out.Parts, part)
	}
	return out
}

// groupName is a group as a heading.
func (r reporter) groupName(g string) string {
	switch g {
	case answers.Before:
		return r.t("Before the training")
	case answers.After:
		return r.t("After the training")
	case "":
		return r.t("The group")
	}
	return g
}

// under is a heading that says of which group it is, where there are several.
func (r reporter) under(g GroupAgreement, heading string) string {
	if len(r.a.Groups) < 2 {
		return heading
	}
	return heading + ": " + r.groupName(g.Group)
}

func (r reporter) overview(g GroupAgreement) print.ReportPart {
	part := print.ReportPart{Heading: r.groupName(g.Group)}
	add := func(s ...string) { part.Text = append(part.Text, s...) }
	add(r.t("People: {.n}", "n", len(g.People)))
	if g.Small {
		add(r.t("A small sample: under {.units} questions or {.people} people, most of this is chance.", "units", agreement.SmallUnits, "people", agreement.SmallPeople))
	}
	add(r.t("Answers that a verdict accepts: {.share}", "share", share(g.Right)), r.t("By the call alone, whatever the letter: {.share}", "share", share(g.RightCall)))
	add(r.measure(r.t("Agreement on the call"), g.Call)...)
	if g.Letter != nil {
		add(r.measure(r.t("Agreement on call and letter, penalties only"), *g.Letter)...)
	}
	if len(g.Dividing) > 0 {
		var list []string
		for _, n := range g.Dividing {
			list = append(list, strconv.Itoa(n))
		}
		add(r.t("Questions that split the room (under two in three gave the most frequent answer), the most divided first: {.list}", "list", strings.Join(list, ", ")))
	} else {
		add(r.t("No question splits the room: two in three or more gave the same answer to each."))
	}
	return part
}

// measure says what a measure is and how to read it.
func (r reporter) measure(name string, m Measure) []string {
	text := name + ": " + r.coefficient("alpha", m.Alpha)
	if m.Interval.Defined() {
		text += fmt.Sprintf(" (95 %%: %.2f … %.2f)", m.Interval.Low, m.Interval.High)
	}
	out := []string{text + ". " + r.t(m.Reading.Text)}
	text = r.coefficient("kappa", m.Kappa) + ". " + r.t(m.KappaReading.Text)
	if m.Kappa.Defined() && m.Kappa.LeftOut > 0 {
		text += " " + r.t("Questions left out because somebody skipped them: {.n}.", "n", m.Kappa.LeftOut)
	}
	return append(out, text)
}

// sources says once where the bounds of the readings are from.
func (r reporter) sources() print.ReportPart {
	return print.ReportPart{Heading: r.t("How to read the measures"), Text: []string{
		r.t("1 is full agreement, 0 what chance would give. Agreement is not being right: a room may agree on an answer that no verdict accepts."),
		"Krippendorff's alpha: " + agreement.SourceAlpha,
		"Fleiss' kappa: " + agreement.SourceKappa,
	}}
}

func (r reporter) coefficient(name string, c agreement.Coefficient) string {
	full := map[string]string{"alpha": "Krippendorff's alpha", "kappa": "Fleiss' kappa"}[name]
	if !c.Defined() {
		return full + " " + r.t("not defined")
	}
	return fmt.Sprintf("%s %.3f", full, c.Value)
}

// share writes "7 of 10, 70 % (40 … 89)".
func share(s agreement.Share) string {
	v, ok := s.Value()
	if !ok {
		return "–"
	}
	return fmt.Sprintf("%d/%d, %.0f %% (%.0f … %.0f)", s.Right, s.Of, 100*v, 100*s.Low, 100*s.High)
}

func (r reporter) people(g GroupAgreement) print.ReportPart {
	part := print.ReportPart{
		Heading: r.under(g, r.t("People, for the trainer alone")),
		Head:    []string{r.t("name"), r.t("accepted (95 %)")}, Right: map[int]bool{1: true},
	}
	for _, x := range g.People {
		part.Rows = append(part.Rows, []string{x.Person, share(x.Right)})
	}
	return part
}

// answer is an answer in short: "penalty B".
func (r reporter) answer(ask timeline.Question, a timeline.Answer) string {
	return AnswerText(ask, timeline.Answer{Choice: a.Choice, Code: a.Code}, nil, r.language)
}

// answerOf is the answer of a key.
func answerOf(key string) timeline.Answer {
	choice, code, _ := strings.Cut(key, " ")
	return timeline.Answer{Choice: timeline.Choice(choice), Code: code}
}

func (r reporter) questions(g GroupAgreement) print.ReportPart {
	part := print.ReportPart{
		Heading: r.under(g, r.t("Questions")),
		Head:    []string{r.t("no."), r.t("verdicts"), r.t("accepted (95 %)"), r.t("answers given"), r.t("skipped"), r.t("splits")},
		Right:   map[int]bool{0: true, 2: true, 4: true},
	}
	for _, q := range g.Questions {
		var accepted, given []string
		for _, v := range q.Accepted {
			accepted = append(accepted, r.answer(q.Ask, v))
		}
		for _, k := range byCount(q.Split.Counts) {
			given = append(given, fmt.Sprintf("%s %d", r.answer(q.Ask, answerOf(k)), q.Split.Counts[k]))
		}
		splits := ""
		if q.Split.Divides {
			splits = r.t("splits")
		}
		part.Rows = append(part.Rows, []string{strconv.Itoa(q.Number), strings.Join(accepted, "; "), share(q.Right), strings.Join(given, ", "), strconv.Itoa(q.Skipped), splits})
	}
	return part
}

// byCount are the answers, the most frequent first.
func byCount(counts map[string]int) []string {
	var out []string
	for k := range counts {
		out = append(out, k)
	}
	slices.SortFunc(out, func(a, b string) int {
		if counts[a] != counts[b] {
			return counts[b] - counts[a]
		}
		return strings.Compare(a, b)
	})
	return out
}

// partName is a part's name as a cell.
func (r reporter) partName(name, title string) string {
	switch {
	case slices.Contains(timeline.Questions(), timeline.Question(name)):
		return r.t(questions[timeline.Question(name)])
	case name == "":
		return "–"
	case title != "":
		return name + ", " + r.t(title)
	}
	return name
}

func list(numbers []int) string {
	var out []string
	for _, n := range numbers {
		out = append(out, strconv.Itoa(n))
	}
	return strings.Join(out, ", ")
}

// leastForAlpha is how many questions a part needs for its alpha to be shown (common
// practice, no source); of fewer, chance cannot be told from the answers.
const leastForAlpha = 5

func (r reporter) parts(g GroupAgreement, heading, name string, parts []PartAgreement) print.ReportPart {
	part := print.ReportPart{
		Heading: r.under(g, heading),
		Head:    []string{name, r.t("questions"), r.t("accepted (95 %)"), r.t("pairs that agree on the call"), r.t("alpha of the call")},
		Right:   map[int]bool{2: true, 3: true, 4: true},
	}
	for _, x := range parts {
		pairs, alpha := "–", "–"
		if x.Alpha.Units > 0 {
			pairs = fmt.Sprintf("%.0f %%", 100*(1-x.Alpha.Observed))
		}
		if x.Alpha.Defined() && x.Alpha.Units >= leastForAlpha {
			alpha = fmt.Sprintf("%.2f", x.Alpha.Value)
		}
		part.Rows = append(part.Rows, []string{r.partName(x.Name, x.Title), list(x.Questions), share(x.Right), pairs, alpha})
	}
	return part
}

// mostConfused is how many pairs are listed.
const mostConfused = 10

func (r reporter) confused(g GroupAgreement) print.ReportPart {
	part := print.ReportPart{
		Heading: r.under(g, r.t("What stood against what, penalties only")),
		Head:    []string{r.t("one said"), r.t("another said"), r.t("pairs of people"), r.t("questions")}, Right: map[int]bool{2: true, 3: true},
	}
	for _, x := range g.Confused[:min(mostConfused, len(g.Confused))] {
		part.Rows = append(part.Rows, []string{r.answer(timeline.AskPenalty, answerOf(x.A)), r.answer(timeline.AskPenalty, answerOf(x.B)), strconv.Itoa(x.Pairs), strconv.Itoa(x.Units)})
	}
	return part
}

func (r reporter) taken(g GroupAgreement) print.ReportPart {
	part := print.ReportPart{
		Heading: r.under(g, r.t("What was given for what, penalties only")),
		Head:    []string{r.t("preferred verdict"), r.t("answers given")},
	}
	for i, x := range g.Taken {
		text := fmt.Sprintf("%s %d", r.answer(timeline.AskPenalty, answerOf(x.Given)), x.N)
		if i > 0 && g.Taken[i-1].Want == x.Want {
			last := part.Rows[len(part.Rows)-1]
			last[1] += ", " + text
			continue
		}
		part.Rows = append(part.Rows, []string{r.answer(timeline.AskPenalty, answerOf(x.Want)), text})
	}
	return part
}

func (r reporter) training() []print.ReportPart {
	all := r.a.Training.All
	part := print.ReportPart{Heading: r.t("What the training changed")}
	add := func(s string) { part.Text = append(part.Text, s) }
	add(r.t("People who answered both times: {.n}; only the questions they answered twice count.", "n", all.People))
	add(r.t("Accepted before: {.before}; after: {.after}", "before", share(all.Before), "after", share(all.After)))
	add(r.t("A person's own share changed by {.change} on average.", "change", r.change(all)) + " " + r.verdictOf(all))
	add(r.t("Answers that became accepted: {.gained}, that no longer are: {.lost}", "gained", all.Gained, "lost", all.Lost))
	if all.AlphaBefore.Defined() && all.AlphaAfter.Defined() {
		text := r.t("Their alpha before: {.before}, after: {.after}", "before", fmt.Sprintf("%.3f", all.AlphaBefore.Value), "after", fmt.Sprintf("%.3f", all.AlphaAfter.Value))
		if all.Alpha.Defined() {
			text += fmt.Sprintf(" (95 %%: %+.2f … %+.2f)", all.Alpha.Low, all.Alpha.High)
		}
		add(text)
	}
	if all.Small {
		add(r.t("A small sample: under {.units} questions or {.people} people, most of this is chance.", "units", agreement.SmallUnits, "people", agreement.SmallPeople))
	}
	add(r.t("Without a group that had no training, nobody can say what the training itself did: the questions were known the second time."))
	out := []print.ReportPart{part}
	table := func(heading, name string, parts []TrainingPart) {
		p := print.ReportPart{Heading: heading, Head: []string{name, r.t("questions"), r.t("before"), r.t("after"), r.t("change (95 %)")}, Right: map[int]bool{2: true, 3: true, 4: true}}
		for _, x := range parts {
			p.Rows = append(p.Rows, []string{r.partName(x.Name, x.Title), list(x.Questions), share(x.Change.Before), share(x.Change.After), r.change(x.Change)})
		}
		if len(p.Rows) > 0 {
			out = append(out, p)
		}
	}
	table(r.t("Change by rule section"), r.t("section"), r.a.Training.Sections)
	table(r.t("Change by letter"), r.t("letter"), r.a.Training.Codes)
	// One question is too little for an interval: it says who changed.
	each := print.ReportPart{
		Heading: r.t("Change by question"),
		Head:    []string{r.t("no."), r.t("before"), r.t("after"), r.t("became accepted"), r.t("no longer accepted")}, Right: map[int]bool{0: true, 1: true, 2: true, 3: true, 4: true},
	}
	for _, q := range r.a.Training.Questions {
		if q.Before.Of > 0 {
			each.Rows = append(each.Rows, []string{strconv.Itoa(q.Number), share(q.Before), share(q.After), strconv.Itoa(q.Gained), strconv.Itoa(q.Lost)})
		}
	}
	out = append(out, each)
	return out
}

// change writes "+12 (-3 … +27) points" of a hundred.
func (r reporter) change(c agreement.Change) string {
	if c.People == 0 {
		return "–"
	}
	text := fmt.Sprintf("%+.0f", 100*c.Mean)
	if c.HasInterval {
		text += fmt.Sprintf(" (%+.0f … %+.0f)", 100*c.Low, 100*c.High)
	}
	return r.t("{.change} points", "change", text)
}

// verdictOf says whether a change can be chance.
func (r reporter) verdictOf(c agreement.Change) string {
	switch {
	case !c.HasInterval:
		return r.t("There is no interval: it is one person, or all changed alike.")
	case c.Low > 0:
		return r.t("That is more than chance would give.")
	case c.High < 0:
		return r.t("That is worse by more than chance would give.")
	}
	return r.t("That may be chance.")
}

// AgreementPDF prints the report into a file.
func AgreementPDF(path string, in print.Report, language string, made time.Time) error {
	return whole(path, func(w io.Writer) error {
		return print.WriteReport(w, in, print.Options{Language: language, Made: made})
	})
}

// AgreementCSV writes a row for each question of each group into a file. It holds no
// names.
func AgreementCSV(path string, a Agreement) error {
	return whole(path, func(w io.Writer) error { return print.WriteCSV(w, a.Table()) })
}

// Table is the agreement as data, a row for each question of each group. Its words are
// English, as the headings of data are.
func (a Agreement) Table() print.Table {
	t := print.Table{Name: "Agreement", Head: []string{
		"Group", "Question", "Asked", "Section", "Verdicts", "Difficulty", "Answers", "Skipped", "Accepted", "Accepted share", "95 % from", "95 % to",
		"Call accepted", "Most given", "Most given share", "Pairs that differ", "Entropy in bits", "Splits the room", "Given",
	}}
	for _, g := range a.Groups {
		for _, q := range g.Questions {
			var verdicts, given []string
			for _, v := range q.Accepted {
				verdicts = append(verdicts, Key(v))
			}
			for _, k := range byCount(q.Split.Counts) {
				given = append(given, fmt.Sprintf("%s: %d", k, q.Split.Counts[k]))
			}
			row := []any{g.Group, q.Number, string(q.Ask), q.Section, strings.Join(verdicts, "; "), nil, q.Split.Given, q.Skipped, q.Right.Right, nil, nil, nil, q.RightCall.Right, nil, nil, nil, nil, "", strings.Join(given, "; ")}
			if q.Difficulty > 0 {
				row[5] = q.Difficulty
			}
			if v, ok := q.Right.Value(); ok {
				row[9], row[10], row[11] = v, q.Right.Low, q.Right.High
				row[13], row[14], row[15], row[16] = q.Split.Top, q.Split.TopShare, q.Split.Differ, q.Split.Entropy
			}
			if q.Split.Divides {
				row[17] = "x"
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}
