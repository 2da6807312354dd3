package examples

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/app/quiz"
	"whistlecut/timeline"
	"whistlecut/timeline/agreement"
)

// reportRow is one line of the report.
type reportRow struct {
	number int    // of the question, 0 for none
	person string // whose it is, on the page of people
	shape  look.Shape
	first  string // number, letter or name
	text   string
	right  string
	note   string // said below when it is chosen
}

// percent is a share in whole per cent. Nothing stands before the sign, at which a
// line could break.
func percent(v float64) string { return strconv.Itoa(int(math.Round(100*v))) + "%" }

// shareText is "4 of 5", or a dash where nobody answered.
func shareText(s agreement.Share) string {
	if s.Of == 0 {
		return "–"
	}
	return words.T("{.n} of {.all}", "n", s.Right, "all", s.Of)
}

// shareFull is a share with its interval.
func shareFull(s agreement.Share) string {
	v, ok := s.Value()
	if !ok {
		return words.T("no answers")
	}
	return words.T("{.share} ({.low} to {.high})", "share", percent(v), "low", percent(s.Low), "high", percent(s.High))
}

// coefficient is a measure with two decimals, or a dash where it has no value.
func coefficient(c agreement.Coefficient) string {
	if !c.Defined() {
		return "–"
	}
	return fmt.Sprintf("%.2f", c.Value)
}

// readingText says in plain words what a measure means.
func readingText(r agreement.Reading) string { return words.In(words.Code(), r.Text) }

// keyText is an answer as it is counted ("yes B"), in words.
func keyText(p quiz.Plan, key string) string {
	choice, code, _ := strings.Cut(key, " ")
	r := timeline.RuleSet{}
	for _, x := range p.Items {
		if len(x.Codes) > 0 {
			r = planRules(x)
			break
		}
	}
	if key == "" {
		return words.T("no answer")
	}
	return answerText(r, timeline.AskPenalty, timeline.Answer{Choice: timeline.Choice(choice), Code: code})
}

// keyTextOf is keyText for an answer to one question.
func keyTextOf(x quiz.Item, key string) string {
	choice, code, _ := strings.Cut(key, " ")
	return answerText(planRules(x), x.Ask, timeline.Answer{Choice: timeline.Choice(choice), Code: code})
}

// list makes the rows of the page shown.
func (q *quizShelf) list() {
	q.rows = nil
	g := q.answered()
	switch {
	case g == nil:
		for _, x := range q.plan.Items {
			q.rows = append(q.rows, reportRow{number: x.Number, first: strconv.Itoa(x.Number), text: askName(x.Ask) + ": " + answersText(planRules(x), x.Ask, x.Verdicts), right: dots(x.Difficulty), note: x.Source})
		}
	case q.page == pageQuestions:
		for _, x := range g.Questions {
			q.rows = append(q.rows, q.questionRow(x))
		}
	case q.page == pageDividing:
		for _, x := range slices.SortedStableFunc(slices.Values(g.Questions), func(a, b quiz.QuestionAgreement) int {
			switch {
			case a.Split.Differ > b.Split.Differ:
				return -1
			case a.Split.Differ < b.Split.Differ:
				return 1
			}
			return 0
		}) {
			q.rows = append(q.rows, q.questionRow(x))
		}
	case q.page == pageParts:
		q.rows = q.partRows(g)
	case q.page == pageConfused:
		q.rows = q.confusedRows(g)
	case q.page == pagePeople:
		for _, p := range g.People {
			q.rows = append(q.rows, reportRow{
				person: p.Person, text: p.Person, right: shareText(p.Right),
				note: words.T("{.share} as a verdict accepts. This is for the person and the trainer alone.", "share", shareFull(p.Right)),
			})
		}
	case q.page == pageTraining && q.says.Training != nil:
		q.rows = q.trainingRows(q.says.Training)
	}
	q.chosen = min(q.chosen, max(len(q.rows)-1, 0))
}

// questionRow is one question with how it was answered.
func (q *quizShelf) questionRow(x quiz.QuestionAgreement) reportRow {
	i, _ := q.plan.Item(x.Number)
	r := reportRow{number: x.Number, first: strconv.Itoa(x.Number), right: shareText(x.Right)}
	r.text = askName(x.Ask) + ": " + answersText(planRules(i), i.Ask, i.Verdicts)
	switch {
	case x.Split.Divides:
		r.shape = look.Diamond
	case x.Right.Of > 0 && x.Right.Right == x.Right.Of:
		r.shape = look.Tick
	}
	var given []string
	for _, k := range byCount(x.Split.Counts) {
		given = append(given, keyTextOf(i, k)+" ×"+strconv.Itoa(x.Split.Counts[k]))
	}
	parts := []string{words.T("right {.share}", "share", shareFull(x.Right))}
	if x.Ask == timeline.AskPenalty && x.RightCall != x.Right {
		parts = append(parts, words.T("without the letter {.share}", "share", shareFull(x.RightCall)))
	}
	if len(given) > 0 {
		parts = append(parts, strings.Join(given, ", "))
	}
	if x.Skipped > 0 {
		parts = append(parts, words.T("{.n} without an answer", "n", x.Skipped))
	}
	if x.Split.Divides {
		parts = append(parts, words.T("it splits the room"))
	}
	if i.Source != "" {
		parts = append(parts, i.Source)
	}
	r.note = strings.Join(parts, "; ")
	return r
}

// byCount are answers, the most frequent first, of equal ones by name.
func byCount(counts map[string]int) []string {
	var keys []string
	for k := range counts {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int {
		if d := counts[b] - counts[a]; d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	return keys
}

// partRows are the questions by what was asked, by rule section and by letter.
func (q *quizShelf) partRows(g *quiz.GroupAgreement) (out []reportRow) {
	add := func(first, text string, p quiz.PartAgreement) {
		var list []string
		for _, n := range p.Questions {
			list = append(list, strconv.Itoa(n))
		}
		row := reportRow{first: first, text: text, right: shareText(p.Right)}
		if len(p.Questions) == 1 {
			row.number = p.Questions[0]
		}
		row.note = words.T("right {.share}", "share", shareFull(p.Right)) + "; " + words.T("alpha {.alpha}", "alpha", coefficient(p.Alpha)) + "; " +
			words.T("questions {.list}", "list", strings.Join(list, ", "))
		out = append(out, row)
	}
	for _, p := range g.Asks {
		add("", askName(timeline.Question(p.Name)), p)
	}
	for _, p := range g.Sections {
		text := words.T("section {.section}", "section", p.Name)
		if p.Name == "" {
			text = words.T("no section said")
		}
		add("§", text, p)
	}
	for _, p := range g.Codes {
		add(p.Name, keyText(q.plan, strings.TrimSpace(string(timeline.ChoiceYes)+" "+p.Name)), p)
	}
	return out
}

// confusedRows are answers that stood against each other, then what was given for
// what was expected.
func (q *quizShelf) confusedRows(g *quiz.GroupAgreement) (out []reportRow) {
	for _, p := range g.Confused {
		out = append(out, reportRow{
			shape: look.Diamond, text: words.T("{.a} against {.b}", "a", keyText(q.plan, p.A), "b", keyText(q.plan, p.B)), right: strconv.Itoa(p.Pairs),
			note: words.N(p.Units, "{.pairs} pairs of people, in {.n} question; neither is taken for right here", "{.pairs} pairs of people, in {.n} questions; neither is taken for right here", "pairs", p.Pairs),
		})
	}
	for _, t := range g.Taken {
		if t.Want == t.Given {
			continue
		}
		out = append(out, reportRow{
			text: words.T("{.given} where the verdict is {.want}", "given", keyText(q.plan, t.Given), "want", keyText(q.plan, t.Want)), right: strconv.Itoa(t.N),
			note: words.T("answers that named another one than the preferred verdict; another accepted verdict may allow it"),
		})
	}
	return out
}

// trainingRows compare before and after, question by question, then by letter.
func (q *quizShelf) trainingRows(t *quiz.Training) (out []reportRow) {
	change := func(before, after agreement.Share) (shape look.Shape, text string) {
		switch {
		case after.Right > before.Right:
			shape = look.Tick
		case after.Right < before.Right:
			shape = look.Diamond
		}
		if before.Of == 0 {
			return shape, "–"
		}
		return shape, words.T("{.before}, then {.after} of {.all}", "before", before.Right, "after", after.Right, "all", before.Of)
	}
	for _, x := range t.Questions {
		i, _ := q.plan.Item(x.Number)
		shape, text := change(x.Before, x.After)
		out = append(out, reportRow{
			number: x.Number, shape: shape, first: strconv.Itoa(x.Number), text: askName(i.Ask) + ": " + answersText(planRules(i), i.Ask, i.Verdicts), right: text,
			note: words.T("right before {.before}; after {.after}", "before", shareFull(x.Before), "after", shareFull(x.After)),
		})
	}
	for _, p := range t.Codes {
		shape, text := change(p.Change.Before, p.Change.After)
		out = append(out, reportRow{shape: shape, first: p.Name, text: keyText(q.plan, strings.TrimSpace(string(timeline.ChoiceYes)+" "+p.Name)), right: text})
	}
	return out
}

// signed is a change in per cent with its sign.
func signed(v float64) string {
	n := int(math.Round(100 * v))
	if n > 0 {
		return "+" + strconv.Itoa(n)
	}
	return strconv.Itoa(n)
}

// summary says what the group's answers come to.
func (q *quizShelf) summary() string {
	g := q.answered()
	if g == nil {
		return ""
	}
	right := []string{
		words.N(len(g.People), "{.n} person answered ({.group}).", "{.n} people answered ({.group}).", "group", groupText(g.Group)),
		words.T("Right, the letter included: {.share}.", "share", shareFull(g.Right)),
	}
	if g.Letter != nil {
		right = append(right, words.T("Without the letter: {.share}.", "share", shareFull(g.RightCall)))
	}
	alpha := words.T("Agreement on the call: alpha {.alpha}", "alpha", coefficient(g.Call.Alpha))
	if g.Call.Interval.Defined() {
		alpha += " " + words.T("({.low} to {.high})", "low", fmt.Sprintf("%.2f", g.Call.Interval.Low), "high", fmt.Sprintf("%.2f", g.Call.Interval.High))
	}
	agree := []string{alpha + ", " + words.T("kappa {.kappa}.", "kappa", coefficient(g.Call.Kappa)), readingText(g.Call.Reading)}
	if g.Letter != nil && g.Letter.Alpha.Defined() {
		agree = append(agree, words.T("On penalties with their letter: alpha {.alpha}.", "alpha", coefficient(g.Letter.Alpha)))
	}
	var rest []string
	if n := len(g.Dividing); n > 0 {
		rest = append(rest, words.N(n, "{.n} question splits the room.", "{.n} questions split the room."))
	}
	if g.Small {
		rest = append(rest, words.T("This is a small group or quiz: most of it may be chance."))
	}
	lines := []string{strings.Join(right, " "), strings.Join(agree, " "), strings.Join(rest, " ")}
	if t := q.says.Training; t != nil {
		text := words.N(t.All.People, "{.n} person answered before and after: {.before} then {.after}", "{.n} people answered before and after: {.before} then {.after}", "before", shareFull(t.All.Before), "after", shareFull(t.All.After))
		if t.All.HasInterval {
			text += ", " + words.T("a change of {.change} points ({.low} to {.high})", "change", signed(t.All.Mean), "low", signed(t.All.Low), "high", signed(t.All.High))
		}
		lines = append(lines, text+".")
	}
	return strings.Join(slices.DeleteFunc(lines, func(l string) bool { return l == "" }), "\n")
}
