package examples

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// possible are the answers that a question takes in an edition, the plain ones first.
func possible(r timeline.RuleSet, q timeline.Question) []timeline.Answer {
	var out []timeline.Answer
	for _, c := range q.Choices() {
		out = append(out, timeline.Answer{Choice: c})
	}
	if q == timeline.AskPenalty {
		for _, c := range r.Codes {
			out = append(out, timeline.Answer{Choice: timeline.ChoiceYes, Code: c.Letter, Section: c.Section})
		}
		for _, c := range r.Codes {
			out = append(out, timeline.Answer{Choice: timeline.ChoiceWarning, Code: c.Letter, Section: c.Section})
		}
	}
	return out
}

// sameAnswer compares answers but for the section.
func sameAnswer(a, b timeline.Answer) bool { return a.Choice == b.Choice && a.Code == b.Code }

// optionText is an answer in a list to choose from, with its section.
func optionText(r timeline.RuleSet, q timeline.Question, a timeline.Answer) string {
	if q == timeline.AskPenalty && a.Choice == timeline.ChoiceYes && a.Code == "" {
		return words.T("penalty, any code")
	}
	return cited(r, q, a)
}

// chooseAsk asks what is asked.
func (b *boutShelf) chooseAsk() {
	x, ok := b.current()
	if !ok {
		return
	}
	var texts []string
	for _, q := range timeline.Questions() {
		texts = append(texts, askName(q)+": "+asking(q, nil))
	}
	b.t.panel.asking = form.Choose(b.t.desk.Window(), words.T("What is asked"), texts, slices.Index(timeline.Questions(), x.e.Ask), func(i int) {
		b.setAsk(timeline.Questions()[i])
	})
}

// chooseCalled asks what was called on the day.
func (b *boutShelf) chooseCalled() {
	x, ok := b.current()
	s := b.t.desk.Session()
	if !ok || s == nil {
		return
	}
	r := rulesOf(s, x.e.Edition)
	list := append([]timeline.Answer{{}}, possible(r, x.e.Ask)...)
	var texts []string
	at := 0
	for i, a := range list {
		texts = append(texts, optionText(r, x.e.Ask, a))
		if sameAnswer(a, x.e.Called) {
			at = i
		}
	}
	b.t.panel.asking = form.Choose(b.t.desk.Window(), words.T("What was called on the day"), texts, at, func(i int) {
		b.changeOf(x.tag.ID, words.T("call"), func(_ *timeline.Tag, e *timeline.Example) { e.Called = list[i] })
	})
}

// verdictForm is the dialog in which the accepted answers are chosen.
type verdictForm struct {
	b       *boutShelf
	id      timeline.ID
	ask     timeline.Question
	rules   timeline.RuleSet
	list    []timeline.Answer // accepted, the preferred one first
	options []timeline.Answer
	shown   []int // options that the typed text leaves
	dialog  *form.Dialog
	find    *form.Entry
	section *form.Entry
	rows    *look.Rows
	says    *look.Paragraph
}

// chooseVerdicts opens the dialog.
func (b *boutShelf) chooseVerdicts() {
	x, ok := b.current()
	s := b.t.desk.Session()
	if !ok || s == nil {
		return
	}
	f := &verdictForm{b: b, id: x.tag.ID, ask: x.e.Ask, rules: rulesOf(s, x.e.Edition), list: slices.Clone(x.e.Verdicts)}
	f.options = possible(f.rules, f.ask)
	for _, v := range f.list { // with a letter that the edition does not have
		if !slices.ContainsFunc(f.options, func(o timeline.Answer) bool { return sameAnswer(o, v) }) {
			f.options = append(f.options, v)
		}
	}
	f.dialog = form.New(b.t.desk.Window(), words.T("Verdicts accepted, by the rules of {.edition}", "edition", x.e.Edition), fyne.NewSize(look.Size(460), look.Size(470)))
	f.rows = look.NewRows([]look.Column{{Width: 18, Right: true}, {}}, func() int { return len(f.shown) }, f.cells)
	f.rows.Opened = func(int) { f.toggle() }
	f.rows.Chosen = func(int) { f.follow() }
	f.find = f.dialog.Entry("", words.T("type to narrow; Enter takes or gives back"))
	f.find.OnChanged = func(string) { f.narrow() }
	f.find.Keys = f.keys
	f.section = f.dialog.Entry("", words.T("as 4.1.1; Enter keeps it"))
	f.section.Keys = func(k fyne.KeyName) bool {
		if k == fyne.KeyReturn || k == fyne.KeyEnter {
			f.cite()
			f.dialog.Focus(f.find)
			return true
		}
		return false
	}
	f.says = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	f.dialog.Accept = f.keep
	f.narrow()
	f.dialog.Show(container.NewBorder(f.find, container.New(look.Pile{Gap: look.Near}, f.says, form.Field(words.T("Section of the rules"), f.section)), nil, nil, f.rows), f.find,
		f.dialog.Button(words.T("Prefer"), words.T("F2"), f.prefer),
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Keep"), form.CtrlEnter(), f.keep).Strong())
	if len(f.list) > 0 {
		f.mark(f.list[0])
	}
	f.follow()
	b.t.panel.asking, b.t.panel.verdicts = f.dialog, f
}

// keys are those of the line to type in.
func (f *verdictForm) keys(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyReturn, fyne.KeyEnter:
		f.toggle()
	case fyne.KeyF2:
		f.prefer()
	default:
		return f.rows.Steer(k, 8)
	}
	return true
}

// narrow lists the options that hold what is typed.
func (f *verdictForm) narrow() {
	part := strings.ToLower(strings.TrimSpace(f.find.Text))
	f.shown = f.shown[:0]
	for i, o := range f.options {
		if strings.Contains(strings.ToLower(optionText(f.rules, f.ask, o)), part) {
			f.shown = append(f.shown, i)
		}
	}
	f.rows.Mark(min(0, len(f.shown)-1))
	f.follow()
}

// option is the marked one.
func (f *verdictForm) option() (timeline.Answer, bool) {
	if i := f.rows.Index(); i >= 0 && i < len(f.shown) {
		return f.options[f.shown[i]], true
	}
	return timeline.Answer{}, false
}

func (f *verdictForm) at(a timeline.Answer) int {
	return slices.IndexFunc(f.list, func(v timeline.Answer) bool { return sameAnswer(v, a) })
}

// mark goes to the row of an answer.
func (f *verdictForm) mark(a timeline.Answer) {
	for row, i := range f.shown {
		if sameAnswer(f.options[i], a) {
			f.rows.Mark(row)
		}
	}
}

// toggle accepts the marked answer, or does not any more.
func (f *verdictForm) toggle() {
	o, ok := f.option()
	if !ok {
		return
	}
	if i := f.at(o); i >= 0 {
		f.list = slices.Delete(f.list, i, i+1)
	} else {
		f.list = append(f.list, o)
	}
	f.follow()
}

// prefer puts the marked answer first.
func (f *verdictForm) prefer() {
	o, ok := f.option()
	if !ok {
		return
	}
	if i := f.at(o); i >= 0 {
		o = f.list[i]
		f.list = slices.Delete(f.list, i, i+1)
	}
	f.list = slices.Insert(f.list, 0, o)
	f.follow()
}

// cite keeps the section typed for the marked answer, which it accepts.
func (f *verdictForm) cite() {
	o, ok := f.option()
	if !ok {
		return
	}
	i := f.at(o)
	if i < 0 {
		f.list = append(f.list, o)
		i = len(f.list) - 1
	}
	f.list[i].Section = strings.TrimSpace(f.section.Text)
	f.follow()
}

// follow shows what is accepted now.
func (f *verdictForm) follow() {
	o, ok := f.option()
	section := o.Section
	if i := f.at(o); ok && i >= 0 {
		section = f.list[i].Section
	}
	f.section.SetText(section)
	if len(f.list) == 0 {
		f.says.Set(words.T("Nothing is accepted yet: it stays undecided and is drawn for no quiz."))
	} else {
		f.says.Set(words.T("Accepted: {.answers}. The first one is preferred; F2 puts the marked one first.", "answers", answersText(f.rules, f.ask, f.list)))
	}
	f.rows.Refresh()
	f.dialog.Relay()
}

func (f *verdictForm) cells(row int) []look.Cell {
	if row >= len(f.shown) {
		return nil
	}
	o := f.options[f.shown[row]]
	number := look.Cell{}
	if i := f.at(o); i >= 0 {
		o = f.list[i]
		number = look.Cell{Shape: look.Tick}
		if len(f.list) > 1 {
			number = look.Cell{Text: ordinal(i + 1), Bold: true}
		}
	}
	return []look.Cell{number, {Text: optionText(f.rules, f.ask, o)}}
}

// keep stores the verdicts.
func (f *verdictForm) keep() {
	for _, v := range f.list {
		if len([]rune(v.Section)) > longestSection {
			f.dialog.Say(words.T("A section is short, as 4.1.1."))
			return
		}
	}
	f.dialog.Close()
	f.b.changeOf(f.id, words.T("verdict"), func(_ *timeline.Tag, e *timeline.Example) {
		e.Verdicts = f.list
		if e.By == "" {
			e.By = f.b.t.desk.App().Author
		}
	})
}

// longestSection is how long a section may be.
const longestSection = 40
