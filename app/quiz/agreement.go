package quiz

import (
	"slices"
	"strings"

	"whistlecut/export/answers"
	"whistlecut/timeline"
	"whistlecut/timeline/agreement"
)

// Agreement is what the answers of a group say: how far it agrees, how often it gave
// an answer that the trainer accepts, and what a training changed.
type Agreement struct {
	Quiz    string `json:"quiz"`
	Title   string `json:"title"`
	Edition string `json:"edition"`
	// Note says what the verdicts are.
	Note string `json:"note"`
	// Seed of the intervals that are drawn by chance.
	Seed   uint64           `json:"seed"`
	Groups []GroupAgreement `json:"groups"`
	// Training compares before with after; nil without people who answered both.
	Training *Training `json:"training,omitempty"`
	Notes    []Note    `json:"notes,omitempty"`
}

// TrainingNote stands on every page of results.
const TrainingNote = "The verdicts are training opinions. They are never corrections of the officials who made the calls."

// GroupAgreement is one group: those who answered before, after, or as they call it.
type GroupAgreement struct {
	Group  string        `json:"group"` // "" when none was named
	People []PersonShare `json:"people,omitempty"`
	// Small: under 10 questions or 5 people, so that all of it is mostly chance.
	Small bool `json:"small_sample"`
	// Call is the agreement on the choice alone (yes, no, warning) over all questions,
	// whatever they ask: were "yes, earned" and "yes, a penalty" two answers, questions of
	// different kinds would look like agreement.
	//
	// Letter on choice and letter together, over the questions about penalties, nil when
	// there is none.
	Call   Measure  `json:"call"`
	Letter *Measure `json:"letter,omitempty"`
	// Right are answers a verdict accepts, its letter included; RightCall counts the
	// choice alone.
	Right     agreement.Share `json:"right"`
	RightCall agreement.Share `json:"right_call"`

	Questions []QuestionAgreement `json:"questions"` // in the order shown
	// Dividing are the numbers of the questions that split the room, the most divided
	// first.
	Dividing []int `json:"dividing"`
	// Asks, Sections and Codes are the same questions by what was asked, by the rule
	// section of the preferred verdict and by its letter.
	Asks     []PartAgreement `json:"by_question"`
	Sections []PartAgreement `json:"by_section"`
	Codes    []PartAgreement `json:"by_code"`
	// Confused are pairs of answers given to the same question about a penalty.
	Confused []agreement.Pair `json:"confused"`
	// Taken says, for questions about penalties, what was given where the preferred
	// verdict was something.
	Taken []agreement.Taken `json:"taken"`
}

// Measure is how far a group agrees.
type Measure struct {
	Alpha    agreement.Coefficient `json:"alpha"`
	Interval agreement.Interval    `json:"alpha_interval"`
	Reading  agreement.Reading     `json:"alpha_reading"`
	Kappa    agreement.Coefficient `json:"kappa"`
	// KappaReading is that of kappa, which leaves out questions somebody skipped.
	KappaReading agreement.Reading `json:"kappa_reading"`
}

// PersonShare is one person's share right. It is for the person and the trainer.
type PersonShare struct {
	Person string          `json:"person"`
	Right  agreement.Share `json:"right"`
}

// QuestionAgreement is one question.
type QuestionAgreement struct {
	Number     int               `json:"number"`
	Ask        timeline.Question `json:"ask"`
	Section    string            `json:"section,omitempty"`
	Accepted   []timeline.Answer `json:"accepted"`
	Difficulty int               `json:"difficulty,omitempty"`
	Right      agreement.Share   `json:"right"`
	RightCall  agreement.Share   `json:"right_call"`
	Skipped    int               `json:"skipped"`
	// Split is how the room divided, letters included; answers are named as by Key.
	Split agreement.Split `json:"split"`
}

// PartAgreement is a part of the questions.
type PartAgreement struct {
	Name      string                `json:"name"` // what was asked, a section, a letter; "" where none is known
	Title     string                `json:"title,omitempty"`
	Questions []int                 `json:"questions"` // their numbers
	Right     agreement.Share       `json:"right"`
	Alpha     agreement.Coefficient `json:"alpha"` // of the choice alone
}

// Training compares the answers of the same people before and after.
type Training struct {
	All      agreement.Change `json:"all"`
	Sections []TrainingPart   `json:"by_section"`
	Codes    []TrainingPart   `json:"by_code"`
	// Questions are gained and lost by number.
	Questions []TrainingQuestion `json:"questions"`
}

// TrainingPart is the change in a part of the questions.
type TrainingPart struct {
	Name      string           `json:"name"`
	Title     string           `json:"title,omitempty"`
	Questions []int            `json:"questions"`
	Change    agreement.Change `json:"change"`
}

// TrainingQuestion is the change in one question.
type TrainingQuestion struct {
	Number int             `json:"number"`
	Before agreement.Share `json:"before"` // of people who answered it both times
	After  agreement.Share `json:"after"`
	Gained int             `json:"gained"`
	Lost   int             `json:"lost"`
}

// Key names an answer where answers are counted: "yes B", "no", "warning".
func Key(a timeline.Answer) string {
	return strings.TrimSpace(string(a.Choice) + " " + a.Code)
}

// MeasureAgreement works out what collected answers say about a plan. Equal seeds give
// equal intervals.
func MeasureAgreement(p Plan, c Collected, seed uint64) (out Agreement, err error) {
	out = Agreement{Quiz: p.ID, Title: p.Title, Edition: p.Edition, Note: TrainingNote, Seed: seed, Notes: c.Notes}
	groups := map[string][]answers.Sheet{}
	var order []string
	for _, s := range c.Sheets {
		k := personKey(s.Group)
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], s)
	}
	for _, k := range order {
		out.Groups = append(out.Groups, newTally(p, groups[k]).group(groups[k][0].Group, seed))
	}
	out.Training, err = trainingOf(p, groups[answers.Before], groups[answers.After], seed)
	return out, err
}

// tally are the sheets of one group as tables.
type tally struct {
	plan        Plan
	call, full  agreement.Table
	marks       agreement.Marks // of choice and letter
	callMarks   agreement.Marks // of the choice alone
	skipped     []int
	sectionOf   []string
	preferredOf []timeline.Answer
}

func newTally(p Plan, sheets []answers.Sheet) tally {
	var units, raters []string
	for _, x := range p.Items {
		units = append(units, Heading(x.Number, "en"))
	}
	for _, s := range sheets {
		raters = append(raters, s.Person)
	}
	t := tally{plan: p, call: agreement.NewTable(units, raters), full: agreement.NewTable(units, raters)}
	for i, x := range p.Items {
		right, call := make([]agreement.Mark, len(sheets)), make([]agreement.Mark, len(sheets))
		skipped := 0
		for j, s := range sheets {
			a, ok := s.Given[x.Number]
			if !ok {
				skipped++
				continue
			}
			t.call.Answers[i][j], t.full.Answers[i][j] = string(a.Choice), Key(a)
			right[j], call[j] = mark(x.Accepts(a)), mark(slices.ContainsFunc(x.Verdicts, func(v timeline.Answer) bool { return v.Choice == a.Choice }))
		}
		t.marks, t.callMarks = append(t.marks, right), append(t.callMarks, call)
		t.skipped = append(t.skipped, skipped)
		t.sectionOf = append(t.sectionOf, x.section())
		t.preferredOf = append(t.preferredOf, x.Verdicts[0])
	}
	return t
}

func mark(right bool) agreement.Mark {
	if right {
		return agreement.Right
	}
	return agreement.Wrong
}

// section is the rule section of the preferred verdict: the one cited, else that of
// its letter; "" when neither is there.
func (x Item) section() string {
	v := x.Verdicts[0]
	if v.Section != "" {
		return v.Section
	}
	for _, c := range x.Codes {
		if c.Letter == v.Code {
			return c.Section
		}
	}
	return ""
}

// measure makes the measures of a table.
func measure(t agreement.Table, seed uint64) Measure {
	m := Measure{Alpha: agreement.Alpha(t), Interval: agreement.AlphaInterval(t, seed), Kappa: agreement.Kappa(t)}
	m.Reading, m.KappaReading = agreement.ReadAlpha(m.Alpha), agreement.ReadKappa(m.Kappa)
	return m
}

func (t tally) group(name string, seed uint64) GroupAgreement {
	g := GroupAgreement{
		Group: name, Small: agreement.SmallSample(t.call), Call: measure(t.call, seed),
		Right: t.marks.Total(nil), RightCall: t.callMarks.Total(nil), Dividing: []int{},
	}
	for j, who := range t.call.Raters {
		g.People = append(g.People, PersonShare{who, t.marks.Person(j)})
	}
	for i, x := range t.plan.Items {
		g.Questions = append(g.Questions, QuestionAgreement{
			Number: x.Number, Ask: x.Ask, Section: t.sectionOf[i], Accepted: x.Verdicts, Difficulty: x.Difficulty,
			Right: t.marks.Share(i), RightCall: t.callMarks.Share(i), Skipped: t.skipped[i], Split: agreement.SplitOf(t.full, i),
		})
	}
	for _, s := range agreement.Splits(t.full) {
		if s.Divides {
			g.Dividing = append(g.Dividing, t.plan.Items[s.Unit].Number)
		}
	}
	g.Asks = t.parts(t.asks())
	g.Sections = t.parts(t.sections())
	g.Codes = t.parts(t.codes())
	penalties := t.places(func(i int) bool { return t.plan.Items[i].Ask == timeline.AskPenalty })
	if len(penalties) > 0 {
		only := t.full.Only(penalties)
		m := measure(only, seed)
		g.Letter = &m
		g.Confused = agreement.Confusions(only)
		var want []string
		for _, i := range penalties {
			want = append(want, Key(t.preferredOf[i]))
		}
		g.Taken = agreement.TakenFor(only, want)
	}
	return g
}

// part is a part of the questions, by their places.
type part struct {
	name, title string
	places      []int
}

func (t tally) places(keep func(i int) bool) (out []int) {
	for i := range t.plan.Items {
		if keep(i) {
			out = append(out, i)
		}
	}
	return out
}

// by groups the questions by a name, in the order of first.
func (t tally) by(name func(i int) (name, title string, ok bool)) []part {
	at := map[string]int{}
	var out []part
	for i := range t.plan.Items {
		n, title, ok := name(i)
		if !ok {
			continue
		}
		if _, seen := at[n]; !seen {
			at[n] = len(out)
			out = append(out, part{name: n, title: title})
		}
		out[at[n]].places = append(out[at[n]].places, i)
	}
	return out
}

func (t tally) asks() []part {
	return t.by(func(i int) (string, string, bool) { return string(t.plan.Items[i].Ask), "", true })
}

func (t tally) sections() []part {
	list := t.by(func(i int) (string, string, bool) { return t.sectionOf[i], "", true })
	slices.SortFunc(list, func(a, b part) int { return strings.Compare(a.name, b.name) })
	return list
}

func (t tally) codes() []part {
	list := t.by(func(i int) (string, string, bool) {
		code := t.preferredOf[i].Code
		for _, c := range t.plan.Items[i].Codes {
			if c.Letter == code {
				return code, c.Name, true
			}
		}
		return code, "", code != ""
	})
	slices.SortFunc(list, func(a, b part) int { return strings.Compare(a.name, b.name) })
	return list
}

func (t tally) numbers(places []int) (out []int) {
	for _, i := range places {
		out = append(out, t.plan.Items[i].Number)
	}
	return out
}

func (t tally) parts(list []part) []PartAgreement {
	out := []PartAgreement{}
	for _, p := range list {
		out = append(out, PartAgreement{p.name, p.title, t.numbers(p.places), t.marks.Total(p.places), agreement.Alpha(t.call.Only(p.places))})
	}
	return out
}
