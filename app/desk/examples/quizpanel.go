package examples

import (
	"cmp"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// quizPanel shows a quiz and what its answers say.
type quizPanel struct {
	q    *quizShelf
	view *fyne.Container

	whole       *fyne.Container
	scrolled    fyne.CanvasObject
	main        *container.Scroll
	pile        *fyne.Container
	title       *canvas.Text
	info        *look.Paragraph
	page, group *look.Chip
	rows        *look.Rows
	note, told  *look.Paragraph
	summary     *look.Paragraph
	foot        *fyne.Container
	after       []*look.Chip // those that need a quiz
	save        *look.Chip
	fair        *look.Paragraph
}

func newQuizPanel(q *quizShelf) *quizPanel {
	p := &quizPanel{q: q, view: container.NewStack()}
	p.title = look.Title("")
	p.info = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	p.page = look.NewChip("", "R", q.nextPage)
	p.group = look.NewChip("", "B", q.nextGroup)
	chips := container.New(&look.Flow{Gap: look.Tight}, p.page, p.group)
	p.summary = look.NewParagraph("", look.Now.Text, look.NoteSize)
	p.rows = look.NewRows([]look.Column{{Width: 12}, {Width: 22, Right: true}, {Least: 150}, {Width: 64, Right: true}}, func() int { return len(q.rows) }, p.cells)
	p.rows.Chosen = q.pick
	p.rows.Opened = func(int) { q.enter() }
	p.note = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	p.told = look.NewParagraph("", look.Now.Text, look.NoteSize)
	p.fair = look.NewParagraph(fair(), look.Now.Quiet, look.NoteSize)
	chip := look.NewLargeChip
	p.save = chip(words.T("save the report"), "S", q.askSave)
	p.after = []*look.Chip{chip(words.T("answers"), "A", q.answerFiles), chip(words.T("code"), "C", q.answerCode), chip(words.T("type in"), "T", q.askTyped)}
	p.foot = container.New(&look.Flow{Gap: look.Tight}, chip(words.T("new quiz"), "N", q.askMake), chip(words.T("open"), "O", q.choose))
	for _, c := range p.after {
		p.foot.Add(c)
	}
	p.foot.Add(p.save)
	p.pile = container.New(look.Pile{Fill: p.rows, Least: 5 * look.RowHeight(), Gap: look.Near},
		p.title, p.info, p.told, p.summary, chips, p.rows, look.Rule(), p.note, p.fair)
	p.scrolled, p.main = look.Scroll(p.pile)
	p.whole = container.New(look.Pile{Fill: p.scrolled, Least: 4 * look.RowHeight(), Gap: look.Near}, p.scrolled, p.foot)
	return p
}

func (p *quizPanel) refresh() {
	q := p.q
	if e := p.empty(); e != nil {
		p.view.Objects = []fyne.CanvasObject{e}
		p.view.Refresh()
		return
	}
	p.title.Text = cmp.Or(q.plan.Title, words.T("Quiz"))
	p.info.Set(words.N(len(q.plan.Items), "{.n} question by the rules of {.edition}, in {.folder}", "{.n} questions by the rules of {.edition}, in {.folder}",
		"edition", q.plan.Edition, "folder", filepath.Base(q.dir)))
	p.told.Set(q.told)
	look.Show(p.told, q.told != "")
	g := q.answered()
	if g == nil {
		p.summary.Set(words.T("Nobody has answered yet. Show quiz.mp4 to the group and let it answer on the page answers.html, the paper or the table; then A takes the files in, C a code, and T types in what stands on paper. Keep the folder trainer to yourself."))
	} else {
		p.summary.Set(q.summary())
	}
	p.page.Set(q.page.name(), q.page != pageQuestions)
	p.group.Set(groupText(q.group), false)
	look.Show(p.page, g != nil)
	look.Show(p.group, len(q.says.Groups) > 1)
	look.Show(p.save, g != nil)
	p.rows.Mark(q.chosen)
	note := ""
	if q.chosen < len(q.rows) {
		note = q.rows[q.chosen].note
	} else if g != nil {
		note = words.T("Nothing of that is in these answers. R goes on.")
	}
	p.note.Set(note)
	look.Show(p.note, note != "")
	p.view.Objects = []fyne.CanvasObject{p.whole}
	p.view.Refresh()
	p.whole.Refresh()
	p.foot.Refresh()
	p.pile.Refresh()
	p.main.Refresh()
}

// name is what the list of a page shows.
func (p page) name() string {
	switch p {
	case pageDividing:
		return words.T("what splits the room")
	case pageParts:
		return words.T("by section and letter")
	case pageConfused:
		return words.T("what is confused")
	case pagePeople:
		return words.T("people")
	case pageTraining:
		return words.T("before and after")
	}
	return words.T("questions")
}

// empty says what to do where no quiz is open.
func (p *quizPanel) empty() fyne.CanvasObject {
	q := p.q
	make := look.NewButton(words.T("Make a quiz"), "N", q.askMake)
	open := look.NewButton(words.T("Open a quiz"), "O", q.choose)
	switch {
	case q.why != nil:
		return look.Empty(words.T("This quiz cannot be read"), q.why.Error(), container.New(&look.Flow{Gap: look.Near}, open.Strong(), make))
	case q.dir != "":
		return nil
	}
	told := look.NewParagraph(q.told, look.Now.Text, look.NoteSize)
	return look.Empty(words.T("No quiz yet"),
		words.T("A quiz is a film of examples, each shown up to its signal, with a page, a paper and a table to answer on. Nothing in them tells the answers. When the answers come back, this page says how far the group agrees and what splits it."),
		container.New(&look.Flow{Gap: look.Near}, make.Strong(), open), told, look.NewParagraph(fair(), look.Now.Quiet, look.NoteSize))
}

// cells draws a row of the report.
func (p *quizPanel) cells(i int) []look.Cell {
	if i >= len(p.q.rows) {
		return nil
	}
	r := p.q.rows[i]
	return []look.Cell{{Shape: r.shape}, {Text: r.first, Colour: look.Now.Quiet}, {Text: r.text}, {Text: r.right}}
}
