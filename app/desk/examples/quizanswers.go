package examples

import (
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/app/quiz"
)

// answerEndings are those of files that answers come in.
var answerEndings = []string{".json", ".csv", ".tsv", ".txt", ".xlsx", ".ods"}

// codeForm is a dialog whose lines are answers: paths of files, or codes.
type codeForm struct {
	dialog *form.Dialog
	text   *form.Entry
	named  *look.Check // people's own shares go into a report
	accept func()
}

// answerFiles asks for the files that came back.
func (q *quizShelf) answerFiles() {
	if !q.ready() {
		return
	}
	f := &codeForm{dialog: form.New(q.t.desk.Window(), words.T("Answers from files"), fyne.NewSize(look.Size(520), look.Size(330)))}
	f.text = f.dialog.Lines("", words.T("one file or folder a line"), 5)
	add := func(path string) {
		f.text.SetText(strings.TrimLeft(strings.TrimRight(f.text.Text, "\n")+"\n"+path+"\n", "\n"))
	}
	w := q.t.desk.Window()
	buttons := container.NewHBox(
		look.NewButton(words.T("Add a file"), "", func() { form.File(w, answerEndings, add) }),
		look.NewButton(words.T("Add a folder"), "", func() { form.Folder(w, add) }))
	f.accept = func() { q.takeFrom(f, form.SplitLines(f.text.Text)) }
	f.dialog.Accept = f.accept
	f.dialog.Show(container.New(look.Pile{Gap: look.Near}, f.text, buttons,
		look.NewParagraph(words.T("Files that the answer page saved, filled tables (CSV, XLSX, ODS) and texts with codes are read. Of a person's answers in a group the newest count."), look.Now.Quiet, look.NoteSize)), f.text,
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Take them in"), form.CtrlEnter(), f.accept).Strong())
	q.t.panel.asking, q.t.panel.code = f.dialog, f
}

// answerCode asks for codes that were sent or read out.
func (q *quizShelf) answerCode() {
	if !q.ready() {
		return
	}
	f := &codeForm{dialog: form.New(q.t.desk.Window(), words.T("An answer code"), fyne.NewSize(look.Size(520), look.Size(290)))}
	f.text = f.dialog.Lines("", "WCA1-…", 6)
	f.text.Wrapping = fyne.TextWrapBreak
	f.accept = func() {
		if text := strings.TrimSpace(f.text.Text); text != "" {
			q.takeFrom(f, []string{text})
		} else {
			f.dialog.Say(words.T("Paste or type a code; it begins with WCA1."))
		}
	}
	f.dialog.Accept = f.accept
	f.dialog.Show(container.New(look.Pile{Gap: look.Near}, f.text,
		look.NewParagraph(words.T("The code stands on the answer page once a person has answered. Several may be pasted at once; a typing error is noticed."), look.Now.Quiet, look.NoteSize)), f.text,
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Take them in"), form.CtrlEnter(), f.accept).Strong())
	q.t.panel.asking, q.t.panel.code = f.dialog, f
}

// takeFrom reads answers at some places; what is wrong is said in the dialog, which
// stays.
func (q *quizShelf) takeFrom(f *codeForm, places []string) {
	if len(places) == 0 {
		f.dialog.Say(words.T("Name a file or a folder with answers."))
		return
	}
	c, err := quiz.CollectAnswers(q.plan, places)
	if err != nil {
		f.dialog.Say(sentence(err.Error()))
		return
	}
	for i := range c.Sheets {
		if c.Sheets[i].Made.IsZero() { // a table does not say when: it counts as given now
			c.Sheets[i].Made = time.Now().UTC().Truncate(time.Second)
		}
	}
	f.dialog.Close()
	q.take(c)
}

// sentence begins with a capital letter and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// askSave asks where the report shall be.
func (q *quizShelf) askSave() {
	if !q.ready() || q.answered() == nil {
		q.t.desk.Say(words.T("There are no answers to report yet."))
		return
	}
	f := &codeForm{dialog: form.New(q.t.desk.Window(), words.T("Save the report"), fyne.NewSize(look.Size(500), look.Size(240)))}
	f.text = f.dialog.Entry(filepath.Join(q.dir, quiz.TrainerDir), words.T("a folder"))
	pick := look.NewButton(words.T("Browse"), "", func() { form.Folder(q.t.desk.Window(), f.text.SetText) })
	f.named = look.NewCheck(words.T("each person's own share, for you alone"), nil)
	f.accept = func() {
		dir := strings.TrimSpace(f.text.Text)
		if dir == "" {
			f.dialog.Say(words.T("Name a folder for the report."))
			return
		}
		if err := os.MkdirAll(dir, 0o755); err != nil {
			f.dialog.Say(words.T("That folder cannot be made: {.why}", "why", err))
			return
		}
		list, err := q.save(dir, f.named.Checked)
		if err != nil {
			f.dialog.Say(sentence(err.Error()))
			return
		}
		f.dialog.Close()
		for i := range list {
			list[i] = filepath.Base(list[i])
		}
		q.told = words.T("The report is in {.folder}: {.files}.", "folder", dir, "files", strings.Join(list, ", "))
		q.t.desk.Say(q.told)
		q.t.refresh()
	}
	f.dialog.Accept = f.accept
	f.dialog.Show(container.New(look.Pile{Gap: look.Near}, form.Field(words.T("Folder"), container.NewBorder(nil, nil, nil, pick, f.text)), f.named,
		look.NewParagraph(words.T("A paper (PDF) and a table (CSV) of the questions; the table holds no names."), look.Now.Quiet, look.NoteSize)), f.text,
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Save"), words.T("Enter"), f.accept).Strong())
	q.t.panel.asking, q.t.panel.code = f.dialog, f
}
