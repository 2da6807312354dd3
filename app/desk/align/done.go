package align

import (
	"fyne.io/fyne/v2"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
)

// nothingLeft is what stands in place of the list of doubtful jams when there is none:
// how the jams lie, and what comes next.
type nothingLeft struct {
	t      *Task
	box    fyne.CanvasObject
	says   *look.Paragraph
	next   *look.Button
	onward func()
}

func newNothingLeft(t *Task) *nothingLeft {
	n := &nothingLeft{t: t, says: look.NewParagraph("", look.Now.Text, look.TextSize)}
	n.next = look.NewButton("", "", func() { n.onward() }).Strong()
	n.box = look.Empty(words.T("Nothing is doubtful"), "", n.says, newFlow(
		n.next, t.button(words.T("All jams"), "V", doAll), t.button(words.T("Listen again"), "G", "listen"),
	))
	return n
}

// set says how the jams lie and offers the next step: the calls of the penalties
// while some are open, else the findings, else tagging.
func (n *nothingLeft) set(count string, notes []string) {
	text, open := count, len(n.t.calls.open())
	if len(notes) > 0 {
		text += " " + notes[0]
	}
	d := n.t.desk
	switch {
	case open > 0:
		text += " " + words.N(open, "{.n} penalty of the sheet has no call on film yet.", "{.n} penalties of the sheet have no call on film yet.")
		n.next.SetText(words.T("Calls of penalties") + "  " + words.T("PgDn"))
		n.onward = func() { n.t.show(atCalls) }
	case d.Report() != nil && len(d.Report().Open()) > 0:
		f := len(d.Report().Open())
		text += " " + words.N(f, "{.n} finding of the sheet waits in Check.", "{.n} findings of the sheet wait in Check.")
		n.next.SetText(words.T("Check") + "  " + form.Ctrl("3"))
		n.onward = func() { d.Show(task.Check) }
	default:
		text += " " + words.T("The bout can be tagged in Log now.")
		n.next.SetText(words.T("Tag in Log") + "  " + form.Ctrl("2"))
		n.onward = func() { d.Show(task.Log) }
	}
	n.says.Set(text)
}
