package skater

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// wordsForm is the dialog in which somebody writes on the page.
type wordsForm struct {
	dialog *form.Dialog
	text   *form.Entry
}

// write asks for her words or the coach's; they are kept in the bout.
func (t *Task) write(by timeline.Author) {
	if !t.ready() {
		return
	}
	title, label := t.say.T("In her own words"), words.T("words of {.who}", "who", t.name())
	if by == timeline.ByCoach {
		title, label = t.say.T("From the coach"), words.T("the coach's words on {.who}", "who", t.name())
	}
	f := &wordsForm{dialog: form.New(t.desk.Window(), title, fyne.NewSize(look.Size(480), look.Size(300)))}
	who, was := t.who, t.desk.Session().Facts.Remark(t.who, by)
	f.text = f.dialog.Lines(was, words.T("what was learned, what comes next"), 7)
	f.text.Wrapping = fyne.TextWrapWord
	f.dialog.Accept = func() {
		text := strings.TrimSpace(f.text.Text)
		f.dialog.Close()
		if text != was {
			t.desk.Apply(label, timeline.SetRemark(who, by, text))
		}
	}
	f.dialog.Show(container.NewStack(f.text), f.text,
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Keep"), form.CtrlEnter(), func() { f.dialog.Accept() }).Strong())
	t.wrote = f
}
