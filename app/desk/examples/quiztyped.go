package examples

import (
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/app/quiz"
	"whistlecut/export/answers"
	"whistlecut/timeline"
)

// typedForm is the dialog in which the answers of a paper are typed: a name, a
// group, then one key a question.
type typedForm struct {
	q      *quizShelf
	dialog *form.Dialog
	name   *form.Entry
	group  *form.Entry
	rows   *look.Rows
	given  map[int]timeline.Answer
	says   *look.Paragraph
}

// askTyped opens the dialog.
func (q *quizShelf) askTyped() {
	if !q.ready() {
		return
	}
	f := &typedForm{q: q, given: map[int]timeline.Answer{}, dialog: form.New(q.t.desk.Window(), words.T("Answers of a person"), fyne.NewSize(look.Size(520), look.Size(480)))}
	d := f.dialog
	f.name = d.Entry("", words.T("a name or a pseudonym"))
	f.group = d.Entry(q.group, words.T("before, after, or any word"))
	f.name.OnSubmitted = nil
	toRows := func(k fyne.KeyName) bool {
		if k == fyne.KeyReturn || k == fyne.KeyEnter || k == fyne.KeyDown {
			d.Focus(nil)
			return true
		}
		return false
	}
	f.name.Keys, f.group.Keys = toRows, toRows
	f.rows = look.NewRows([]look.Column{{Width: 26, Right: true}, {}, {Width: 190}}, func() int { return len(q.plan.Items) }, f.cells)
	f.rows.Mark(0)
	f.rows.Chosen = func(int) { f.follow() }
	f.says = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	d.Keys = f.key
	d.Accept = f.keep
	f.follow()
	d.Show(container.NewBorder(
		container.NewGridWithColumns(2, form.Field(words.T("Name"), f.name), form.Field(words.T("Group"), f.group)), f.says, nil, nil, f.rows), f.name,
		look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Keep"), words.T("Enter"), f.keep).Strong())
	q.t.panel.asking, q.t.panel.typed = d, f
}

// item is the question that is typed.
func (f *typedForm) item() (quiz.Item, bool) {
	if i := f.rows.Index(); i >= 0 && i < len(f.q.plan.Items) {
		return f.q.plan.Items[i], true
	}
	return quiz.Item{}, false
}

// key is a key while no field is written in: a number answers, a letter names the
// penalty, and the next question comes.
func (f *typedForm) key(k fyne.KeyName) bool {
	x, ok := f.item()
	if !ok {
		return false
	}
	if f.rows.Steer(k, 8) {
		return true
	}
	switch k {
	case fyne.KeyBackspace, fyne.KeyDelete:
		delete(f.given, x.Number)
		f.follow()
	case fyne.KeySpace, "0":
		delete(f.given, x.Number)
		f.on()
	default:
		for i, c := range x.Ask.Choices() {
			if string(k) == ordinalKey(i) {
				f.given[x.Number] = timeline.Answer{Choice: c}
				f.on()
				return true
			}
		}
		if _, known := planRules(x).Code(string(k)); known && x.Ask == timeline.AskPenalty {
			f.given[x.Number] = timeline.Answer{Choice: timeline.ChoiceYes, Code: string(k)}
			f.on()
			return true
		}
		return false
	}
	return true
}

// on goes to the next question.
func (f *typedForm) on() {
	if f.rows.Index()+1 < len(f.q.plan.Items) {
		f.rows.Advance(1)
		return
	}
	f.follow()
}

// follow says which keys answer the question shown.
func (f *typedForm) follow() {
	x, ok := f.item()
	if !ok {
		return
	}
	var parts []string
	for i, c := range x.Ask.Choices() {
		parts = append(parts, ordinalKey(i)+" "+choiceText(x.Ask, c))
	}
	if x.Ask == timeline.AskPenalty {
		var letters []string
		for _, c := range x.Codes {
			letters = append(letters, c.Letter)
		}
		parts = append(parts, words.T("a letter names the penalty: {.letters}", "letters", strings.Join(letters, " ")))
	}
	f.says.Set(words.T("Question {.n}: {.keys}; 0 none; Backspace takes back; Enter keeps all.", "n", x.Number, "keys", strings.Join(parts, ", ")))
	f.rows.Refresh()
	f.dialog.Relay()
}

func (f *typedForm) cells(i int) []look.Cell {
	if i >= len(f.q.plan.Items) {
		return nil
	}
	x := f.q.plan.Items[i]
	given := look.Cell{Text: "–", Colour: look.Now.Quiet}
	if a, ok := f.given[x.Number]; ok {
		given = look.Cell{Text: answerText(planRules(x), x.Ask, a), Bold: true}
	}
	return []look.Cell{{Text: strconv.Itoa(x.Number), Colour: look.Now.Quiet}, {Text: asking(x.Ask, x.Asked)}, given}
}

// keep stores the sheet.
func (f *typedForm) keep() {
	s := answers.Sheet{
		Quiz: f.q.plan.ID, Person: strings.TrimSpace(f.name.Text), Group: answers.GroupOf(f.group.Text),
		Made: time.Now().UTC().Truncate(time.Second), Given: f.given,
	}
	switch {
	case s.Person == "":
		f.dialog.Say(words.T("Give a name or a pseudonym; the same one before and after a training."))
		f.dialog.Focus(f.name)
		return
	case len(s.Given) == 0:
		f.dialog.Say(words.T("No question is answered yet."))
		return
	}
	if err := s.Check(); err != nil {
		f.dialog.Say(sentence(err.Error()))
		return
	}
	f.dialog.Close()
	f.q.take(quiz.Collected{Sheets: []answers.Sheet{s}})
}
