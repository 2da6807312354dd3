package examples

import (
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/collection"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// allPanel shows the search over all bouts.
type allPanel struct {
	a    *allShelf
	view *fyne.Container

	whole    *fyne.Container
	scrolled fyne.CanvasObject
	main     *container.Scroll
	pile     *fyne.Container
	title    *canvas.Text
	entry    *form.Inline
	chips    [9]*look.Chip
	rows     *look.Rows
	still    *canvas.Image
	shown    string // file of the still
	says     *look.Paragraph
	chosen   *fyne.Container
	foot     *fyne.Container
	order    *look.Chip
}

func newAllPanel(a *allShelf) *allPanel {
	p := &allPanel{a: a, view: container.NewStack()}
	p.title = look.Title("")
	p.entry = form.NewInline(words.T("words; Enter searches"), func(_, s string) {
		a.ask(func(q *collection.Query) { q.Words = s })
	})
	for i, c := range []struct {
		key string
		do  func()
	}{
		{"K", a.nextKind},
		{"A", a.chooseAsk},
		{"C", a.chooseCode},
		{"V", a.nextVerdict},
		{"D", a.nextDifficulty},
		{"E", a.nextEdition},
		{"I", a.toggleDiffering},
		{"R", a.toggleOutdated},
		{"H", a.toggleSensitive},
	} {
		p.chips[i] = look.NewChip("", c.key, c.do)
	}
	chips := container.New(&look.Flow{Gap: look.Tight})
	for _, c := range p.chips {
		chips.Add(c)
	}
	p.rows = look.NewRows([]look.Column{{Width: 12}, {Width: dateWidth}, {Width: 40}, {Least: 150}, {Width: boutWidth}, {Width: 60, Right: true}},
		func() int { return len(a.found) }, p.cells)
	p.rows.Chosen = a.choose
	p.rows.Opened = func(int) { a.enter() }
	p.still = canvas.NewImageFromResource(nil)
	p.still.FillMode = canvas.ImageFillContain
	p.still.SetMinSize(fyne.NewSize(look.Size(144), look.Size(81)))
	p.says = look.NewParagraph("", look.Now.Text, look.NoteSize)
	p.chosen = container.NewBorder(nil, nil, p.still, nil, container.New(look.Inset{Side: look.Near}, p.says))
	open := look.NewLargeChip(words.T("go there"), words.T("Enter"), a.enter)
	p.order = look.NewLargeChip("", "O", a.nextSort)
	update := look.NewLargeChip(words.T("look again"), "U", a.update)
	add := look.NewLargeChip(words.T("add a folder"), "N", a.addFolder)
	p.foot = container.New(&look.Flow{Gap: look.Tight}, open, p.order, update, add)
	p.pile = container.New(look.Pile{Fill: p.rows, Least: 5 * look.RowHeight(), Gap: look.Near}, p.title, p.entry, chips, p.rows, look.Rule(), p.chosen)
	p.scrolled, p.main = look.Scroll(p.pile)
	p.whole = container.New(look.Pile{Fill: p.scrolled, Least: 4 * look.RowHeight(), Gap: look.Near}, p.scrolled, p.foot)
	return p
}

func (p *allPanel) refresh() {
	a := p.a
	if e := p.empty(); e != nil {
		p.view.Objects = []fyne.CanvasObject{e}
		p.view.Refresh()
		return
	}
	p.title.Text = words.T("{.n} found", "n", a.count)
	p.title.Text += " " + words.N(len(a.bouts), "in {.n} bout", "in {.n} bouts")
	if len(a.found) < a.count {
		p.title.Text += ", " + words.T("the first {.n} are listed", "n", len(a.found))
	}
	p.entry.Set("", a.query.Words)
	for i, x := range p.choices() {
		p.chips[i].Set(x.text, x.on)
	}
	p.order.Set(sortName(a.query.Sort), false)
	p.columns()
	p.rows.Mark(a.chosen)
	e, ok := a.current()
	if ok {
		p.says.Set(entryText(a.rules(e), e))
	} else {
		p.says.Set(words.T("Nothing of that is in the bouts that are known. X or Esc clears the search, U looks at the bouts again, N adds bouts."))
	}
	p.picture(e)
	p.view.Objects = []fyne.CanvasObject{p.whole}
	p.view.Refresh()
	p.whole.Refresh()
	p.pile.Refresh()
	p.chosen.Refresh()
	p.main.Refresh()
}

// How wide a date and a bout's name are, before text scale.
const (
	dateWidth = 66
	boutWidth = 130
)

// columns leaves out what says nothing: dates nobody gave, and the bout where there
// is one.
func (p *allPanel) columns() {
	date, bout := float32(1), float32(1)
	for _, e := range p.a.found {
		if e.Date != "" {
			date = dateWidth
		}
		if e.Bout != p.a.found[0].Bout {
			bout = boutWidth
		}
	}
	p.rows.Columns[1].Width, p.rows.Columns[4].Width = date, bout
}

// picture shows the still of an entry, where there is one.
func (p *allPanel) picture(e collection.Entry) {
	look.Show(p.still, e.Still != "")
	if e.Still != p.shown {
		p.shown = e.Still
		p.still.File = e.Still
		p.still.Refresh()
	}
}

// empty says what to do where no bout is known yet.
func (p *allPanel) empty() fyne.CanvasObject {
	a := p.a
	switch {
	case a.why != nil:
		return look.Empty(words.T("The collection cannot be opened"), a.why.Error())
	case a.index == nil:
		return look.Empty(words.T("The collection is not open"), words.T("M opens it."))
	case len(a.bouts) > 0:
		return nil
	}
	return look.Empty(words.T("No bout is in the collection yet"),
		words.T("The collection is one list over all your bouts, to be searched by words, question, code, verdict and difficulty. It is made of the bout files and changes nothing in them."),
		container.New(&look.Flow{Gap: look.Near},
			look.NewButton(words.T("Take in the bouts opened last"), "U", a.update).Strong(),
			look.NewButton(words.T("Add a folder of bouts"), "N", a.addFolder)))
}

// choice is what a chip says.
type choice struct {
	text string
	on   bool
}

// choices are the nine things that narrow the search.
func (p *allPanel) choices() [9]choice {
	a, q := p.a, p.a.query
	kind := map[kinds]string{justExamples: words.T("examples"), penaltiesToo: words.T("examples and penalties"), everything: words.T("everything")}[a.kind]
	ask, code, edition, hard := words.T("all questions"), words.T("all codes"), words.T("all rules"), words.T("any difficulty")
	if len(q.Asks) > 0 {
		ask = askName(q.Asks[0])
	}
	if s := a.t.desk.Session(); len(q.Codes) > 0 && s != nil {
		code = codeText(s.Bout.Rules, q.Codes[0])
	}
	if len(q.Editions) > 0 {
		edition = words.T("rules {.edition}", "edition", q.Editions[0])
	}
	if q.Easiest > 0 {
		hard = words.T("difficulty {.n}", "n", q.Easiest)
	}
	care := map[collection.Sensitive]string{
		collection.SensitiveOut: words.T("without sensitive"), collection.SensitiveIn: words.T("sensitive, too"), collection.SensitiveOnly: words.T("sensitive only"),
	}[q.Sensitive]
	return [9]choice{
		{kind, a.kind != justExamples},
		{ask, len(q.Asks) > 0},
		{code, len(q.Codes) > 0},
		{a.verdictName(), len(q.Verdicts) > 0},
		{hard, q.Easiest > 0},
		{edition, len(q.Editions) > 0},
		{words.T("called otherwise"), q.Differing},
		{words.T("needs another look"), q.Outdated},
		{care, q.Sensitive != collection.SensitiveOut},
	}
}

// rules are the edition of an entry's letters.
func (a *allShelf) rules(e collection.Entry) timeline.RuleSet {
	if s := a.t.desk.Session(); s != nil {
		return rulesOf(s, e.Edition)
	}
	r, _ := timeline.Edition(e.Edition)
	return r
}

// shortText is what an entry is, in a row.
func shortText(r timeline.RuleSet, e collection.Entry) string {
	switch {
	case e.IsExample() && len(e.Verdicts) == 0 && !e.Called.IsZero():
		return words.T("undecided") + ", " + words.T("called: {.answer}", "answer", answerText(r, e.Ask, e.Called))
	case e.IsExample() && len(e.Verdicts) == 0:
		return askName(e.Ask) + ": " + words.T("undecided")
	case e.IsExample():
		return askName(e.Ask) + ": " + answersText(r, e.Ask, e.Verdicts)
	}
	parts := []string{kindName(e)}
	if e.Code != "" {
		parts = append(parts, codeText(r, e.Code))
	}
	if who := strings.TrimSpace(string(e.Number) + " " + e.Name); who != "" {
		parts = append(parts, who)
	}
	if e.Note != "" {
		parts = append(parts, e.Note)
	}
	return strings.Join(parts, ", ")
}

// entryText says all that is known of the chosen entry.
func entryText(r timeline.RuleSet, e collection.Entry) string {
	parts := []string{boutName(e)}
	if e.Date != "" {
		parts[0] += ", " + e.Date
	}
	if e.Jam > 0 {
		parts = append(parts, words.T("P{.period} J{.jam}", "period", e.Period, "jam", e.Jam))
	}
	parts = append(parts, shortText(r, e))
	if e.IsExample() {
		if !e.Called.IsZero() && len(e.Verdicts) > 0 {
			parts = append(parts, words.T("called: {.answer}", "answer", answerText(r, e.Ask, e.Called)))
		}
		if e.Impact != timeline.ImpactUnknown {
			parts = append(parts, impactText(e.Impact))
		}
		if e.Difficulty > 0 {
			parts = append(parts, words.T("difficulty {.n}", "n", e.Difficulty))
		}
		if e.Edition != "" {
			parts = append(parts, words.T("rules {.edition}", "edition", e.Edition))
		}
		if e.Opinions > 0 {
			parts = append(parts, words.N(e.Opinions, "{.n} second opinion", "{.n} second opinions"))
		}
		if e.Sensitive {
			parts = append(parts, words.T("sensitive"))
		}
	} else if e.Examples > 0 {
		parts = append(parts, words.N(e.Examples, "{.n} example of it", "{.n} examples of it"))
	}
	if e.Words != "" {
		parts = append(parts, "“"+e.Words+"”")
	}
	switch e.State {
	case collection.Away:
		parts = append(parts, words.T("the file {.file} is not there now", "file", filepath.Base(e.Bout)))
	case collection.Unreadable:
		parts = append(parts, words.T("the file {.file} cannot be read now", "file", filepath.Base(e.Bout)))
	}
	if e.Film == "" {
		parts = append(parts, words.T("not on film"))
	}
	return strings.Join(parts, "; ")
}

// kindName names a tag or a situation.
func kindName(e collection.Entry) string {
	if e.Situation != "" {
		return terms.Situation(e.Situation)
	}
	return terms.Kind(e.Kind)
}

// cells draws an entry as a row.
func (p *allPanel) cells(i int) []look.Cell {
	a := p.a
	if i >= len(a.found) {
		return nil
	}
	e := a.found[i]
	mark := look.Cell{}
	switch {
	case e.State != collection.Here:
		mark.Shape = look.Ring
	case e.IsExample() && len(e.Verdicts) == 0:
		mark.Shape = look.Triangle
	case e.IsExample() && e.Differing:
		mark.Shape = look.Diamond
	case e.IsExample():
		mark.Shape = look.Tick
	}
	place := ""
	if e.Jam > 0 {
		place = words.T("P{.period} J{.jam}", "period", e.Period, "jam", e.Jam)
	}
	end := look.Cell{Text: dots(e.Difficulty), Colour: look.Now.Quiet}
	if !e.IsExample() && e.Examples > 0 {
		end = look.Cell{Text: strconv.Itoa(e.Examples), Colour: look.Now.Quiet}
	}
	return []look.Cell{mark, {Text: dated(e.Date), Colour: look.Now.Quiet}, {Text: place, Colour: look.Now.Quiet}, {Text: shortText(a.rules(e), e)}, {Text: boutName(e), Colour: look.Now.Quiet}, end}
}
