package examples

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// panel is what the task shows: which of its three views, and that one.
type panel struct {
	t    *Task
	root *fyne.Container
	all  *fyne.Container
	tabs [views]*look.Chip
	body *fyne.Container

	asking   *form.Dialog // opened last
	verdicts *verdictForm
	making   *makeForm
	opinion  *opinionForm
	typed    *typedForm
	code     *codeForm
}

func newPanel(t *Task) *panel {
	p := &panel{t: t, root: container.NewStack(), body: container.NewStack()}
	p.tabs[ofBout] = look.NewChip(words.T("this bout"), words.T("Esc"), func() { t.show(ofBout) })
	p.tabs[ofAll] = look.NewChip(words.T("all bouts"), "M", func() { t.show(ofAll) })
	p.tabs[ofQuiz] = look.NewChip(words.T("quizzes"), "G", func() { t.show(ofQuiz) })
	tabs := container.New(&look.Flow{Gap: look.Tight}, p.tabs[ofBout], p.tabs[ofAll], p.tabs[ofQuiz])
	p.all = container.New(look.Pile{Fill: p.body, Gap: look.Near}, tabs, p.body)
	return p
}

// refresh shows the view that is chosen.
func (p *panel) refresh() {
	t := p.t
	if t.desk.Session() == nil {
		p.root.Objects = []fyne.CanvasObject{look.Empty(words.T("No bout is open"), words.T("Open a bout, and examples for officials are gathered from it here."))}
		p.root.Refresh()
		return
	}
	for v, c := range p.tabs {
		c.Set(c.Text, view(v) == t.view)
	}
	s := t.shelf()
	p.body.Objects = []fyne.CanvasObject{s.panel()}
	s.refresh()
	p.root.Objects = []fyne.CanvasObject{p.all}
	p.root.Refresh()
	p.all.Refresh()
}
