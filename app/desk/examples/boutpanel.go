package examples

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	gather "whistlecut/app/examples"
	"whistlecut/timeline"
)

// boutPanel shows the examples of the open bout, and below them the chosen one.
type boutPanel struct {
	b    *boutShelf
	view *fyne.Container // whole, or an empty state

	whole             *fyne.Container
	scrolled          fyne.CanvasObject
	main              *container.Scroll
	pile, form, foot  *fyne.Container
	title             *canvas.Text
	ask, state, order *look.Chip
	rows              *look.Rows
	info, look2       *look.Paragraph

	question, impact, care     *look.Chip
	begin, signal, end         *look.Chip
	called, verdicts, judged   *look.Chip
	hard                       []*look.Chip
	opinions                   *look.Paragraph
	opinionsName               *canvas.Text
	asked, angle, reason       *form.Inline
	blind, compare, play, mark *look.Chip
	fair                       *look.Paragraph
}

func newBoutPanel(b *boutShelf) *boutPanel {
	p := &boutPanel{b: b, view: container.NewStack()}
	p.title = look.Title("")
	p.ask = look.NewChip("", "D", b.nextAsk)
	p.state = look.NewChip("", "R", b.nextState)
	p.order = look.NewChip("", "Y", b.nextSort)
	chips := container.New(&look.Flow{Gap: look.Tight}, p.ask, p.state, p.order)
	p.rows = look.NewRows([]look.Column{{Width: 12}, {Width: 40}, {Width: 6}, {Width: 84}, {Least: 100}, {Width: 60, Right: true}},
		func() int { return len(b.items) }, p.cells)
	p.rows.Chosen = b.choose
	p.rows.Opened = func(int) { b.enter() }
	p.info = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	p.look2 = look.NewParagraph("", look.Now.Unsure, look.NoteSize)
	p.buildForm()
	p.mark = look.NewLargeChip(words.T("mark here"), "Q", b.t.here)
	p.play = look.NewLargeChip(words.T("to the signal"), "P", b.playToSignal)
	p.blind = look.NewLargeChip(words.T("second opinion"), "O", b.askBlind)
	p.compare = look.NewLargeChip(words.T("compare"), "X", b.compare)
	p.foot = container.New(&look.Flow{Gap: look.Tight}, p.mark, p.play, p.blind, p.compare)
	p.fair = look.NewParagraph(fair(), look.Now.Quiet, look.NoteSize)
	p.pile = container.New(look.Pile{Fill: p.rows, Least: 5 * look.RowHeight(), Gap: look.Near},
		p.title, chips, p.rows, look.Rule(), p.info, p.look2, p.form, p.fair)
	p.scrolled, p.main = look.Scroll(p.pile)
	p.whole = container.New(look.Pile{Fill: p.scrolled, Least: 4 * look.RowHeight(), Gap: look.Near}, p.scrolled, p.foot)
	return p
}

// buildForm makes what is edited of the chosen example.
func (p *boutPanel) buildForm() {
	b := p.b
	flow := func(o ...fyne.CanvasObject) *fyne.Container { return container.New(&look.Flow{Gap: look.Tight}, o...) }
	p.question = look.NewChip("", "A", b.chooseAsk)
	p.asked = form.NewInline(words.T("your own question, in place of the usual one"), func(of, s string) {
		b.keepText(of, words.T("question"), s, func(e *timeline.Example, s string) { e.Asked = with(e.Asked, words.Code(), s) })
	})
	p.begin = look.NewChip("", "B", b.beginHere)
	p.signal = look.NewChip("", "S", b.signalHere)
	p.end = look.NewChip("", "E", b.endHere)
	p.called = look.NewChip("", "C", b.chooseCalled)
	p.verdicts = look.NewChip("", "V", b.chooseVerdicts)
	p.judged = look.NewChip("", "U", b.judgedNow)
	p.impact = look.NewChip("", "I", b.nextImpact)
	p.care = look.NewChip("", "H", b.toggleSensitive)
	hard := flow()
	for n := 1; n <= hardest; n++ {
		c := look.NewChip(strconv.Itoa(n), "", func() {
			if x, _ := b.current(); x.e.Difficulty == n {
				b.setDifficulty(0)
				return
			}
			b.setDifficulty(n)
		})
		p.hard = append(p.hard, c)
		hard.Add(c)
	}
	hard.Add(p.impact)
	hard.Add(p.care)
	p.angle = form.NewInline(words.T("where one looks from: inside, turn 2"), func(of, s string) {
		b.keepText(of, words.T("angle"), s, func(e *timeline.Example, s string) { e.Angle = s })
	})
	p.reason = form.NewInline(words.T("why, for the solution"), func(of, s string) {
		b.keepText(of, words.T("reasoning"), s, func(e *timeline.Example, s string) { e.Words = s })
	})
	p.opinions = look.NewParagraph("", look.Now.Text, look.RowSize)
	name := func(s, key string) *canvas.Text {
		if key != "" {
			s += "  " + key
		}
		return look.Line(s, look.Now.Quiet, look.NoteSize)
	}
	p.opinionsName = name(words.T("Opinions"), "")
	p.form = container.New(look.Pairs{},
		name(words.T("Moment"), ""), flow(p.begin, p.signal, p.end),
		name(words.T("Asked"), ""), flow(p.question),
		name(words.T("In words"), "T"), p.asked,
		name(words.T("Called"), ""), flow(p.called),
		name(words.T("Verdicts"), ""), flow(p.verdicts, p.judged),
		name(words.T("Reasoning"), "W"), p.reason,
		p.opinionsName, p.opinions,
		name(words.T("Difficulty"), "1–5"), hard,
		name(words.T("Angle"), "K"), p.angle)
}

// with are the words with the text of one language changed; an empty one is no text.
func with(w timeline.Words, code, s string) timeline.Words {
	if w == nil {
		w = timeline.Words{}
	}
	if w[code] = s; s == "" {
		delete(w, code)
		delete(w, "") // it would be shown in its place
	}
	if len(w) == 0 {
		return nil
	}
	return w
}

func (p *boutPanel) refresh() {
	b := p.b
	if e := p.empty(); e != nil {
		p.view.Objects = []fyne.CanvasObject{e}
		p.view.Refresh()
		return
	}
	p.title.Text = words.N(b.count, "{.n} example", "{.n} examples")
	if n := b.t.Waiting(); n > 0 {
		p.title.Text += ", " + words.T("{.n} to decide", "n", n)
	}
	if len(b.items) != b.count {
		p.title.Text += ", " + words.T("{.n} listed", "n", len(b.items))
	}
	ask := words.T("all questions")
	if b.ask != "" {
		ask = askName(b.ask)
	}
	p.ask.Set(ask, b.ask != "")
	p.state.Set(b.state.name(), b.state != anyState)
	p.order.Set(map[order]string{byPlace: words.T("bout order"), byVerdict: words.T("by verdict"), byDifficulty: words.T("by difficulty")}[b.sort], b.sort != byPlace)
	p.rows.Mark(b.index())
	x, ok := b.current()
	look.Show(p.form, ok)
	look.Show(p.look2, false)
	if ok {
		p.edit(x)
	} else {
		p.info.Set(words.T("Nothing is left with this choice: D and R widen it, Esc shows all."))
	}
	p.view.Objects = []fyne.CanvasObject{p.whole}
	p.view.Refresh()
	p.whole.Refresh()
	p.pile.Refresh()
	p.main.Refresh()
}

// empty says what to do where there is no example yet.
func (p *boutPanel) empty() fyne.CanvasObject {
	b := p.b
	if b.count > 0 {
		return nil
	}
	s := b.t.desk.Session()
	if s == nil {
		return nil
	}
	var buttons []fyne.CanvasObject
	if b.t.desk.Now().Footage != "" {
		buttons = append(buttons, look.NewButton(words.T("Take the moment shown"), "Q", b.t.here).Strong())
	}
	buttons = append(buttons,
		look.NewButton(words.T("Choose in Find"), form.Ctrl("4"), func() { b.t.desk.Show(task.Find) }),
		look.NewButton(words.T("Search all bouts"), "M", func() { b.t.show(ofAll) }))
	return look.Empty(words.T("No example in this bout yet"),
		words.T("An example is a moment that officials learn from: it asks something, and you say which answers you accept. Q takes the moment the film shows, as an example. In Find, Q takes the moments chosen, in Check the finding. Other trainers judge it blind, and a quiz shows it to a group up to the signal."),
		container.New(&look.Flow{Gap: look.Near}, buttons...), look.NewParagraph(fair(), look.Now.Quiet, look.NoteSize))
}

// edit shows the chosen example.
func (p *boutPanel) edit(x item) {
	s := p.b.t.desk.Session()
	e, id := x.e, string(x.tag.ID)
	r := rulesOf(s, e.Edition)
	p.info.Set(p.infoText(x))
	if x.outdated {
		var list []string
		for _, c := range gather.Changes(e, s.Bout.Rules) {
			list = append(list, changeText(c))
		}
		p.look2.Set(words.T("Needs another look: {.why}. U says that it holds by the rules of this bout.", "why", strings.Join(list, "; ")))
		look.Show(p.look2, true)
	}
	p.question.Set(asking(e.Ask, nil), false)
	p.asked.Set(id, stored(e.Asked))
	p.begin.Set(words.T("begin {.time}", "time", clock(x.tag.Place.Film)), false)
	signal := words.T("no signal")
	if !e.Signal.IsZero() {
		signal = words.T("signal {.time}", "time", clock(e.Signal.Film))
	}
	p.signal.Set(signal, !e.Signal.IsZero())
	p.end.Set(words.T("end {.time}", "time", clock(endOf(x))), false)
	called := words.T("not known")
	if !e.Called.IsZero() {
		called = cited(r, e.Ask, e.Called)
	}
	p.called.Set(called, false)
	verdicts := words.T("undecided")
	if len(e.Verdicts) > 0 {
		var list []string
		for _, v := range e.Verdicts {
			list = append(list, cited(r, e.Ask, v))
		}
		verdicts = strings.Join(list, " / ")
	}
	p.verdicts.Shape = look.NoShape
	if len(e.Verdicts) == 0 {
		p.verdicts.Shape = look.Triangle
	}
	p.verdicts.Set(verdicts, false)
	p.verdicts.Refresh()
	p.judged.Set(words.T("rules {.edition}", "edition", e.Edition), x.outdated)
	p.reason.Set(id, e.Words)
	p.opinions.Set(opinionsText(r, x))
	look.Show(p.opinions, len(x.opinions) > 0)
	for i, c := range p.hard {
		c.Set(c.Text, i+1 == e.Difficulty)
	}
	p.impact.Set(impactText(e.Impact), e.Impact != timeline.ImpactUnknown)
	care := words.T("not sensitive")
	if e.Sensitive {
		care = words.T("sensitive")
	}
	p.care.Set(care, e.Sensitive)
	p.angle.Set(id, e.Angle)
	look.Show(p.compare, len(p.b.compared()) > 0)
	p.form.Refresh()
	p.foot.Refresh()
}

// stored is the question of one's own in the language spoken.
func stored(w timeline.Words) string {
	if s, ok := w[words.Code()]; ok {
		return s
	}
	return w[""]
}

// infoText says where the moment is and how long it is shown.
func (p *boutPanel) infoText(x item) string {
	s := p.b.t.desk.Session()
	parts := []string{placeText(x.moment)}
	if x.moment.Timed && x.moment.Number > 0 {
		parts[0] += " " + terms.Clock(x.moment.Range.Start, 0)
	}
	if who := strings.TrimSpace(string(x.moment.Who) + " " + x.moment.Name); who != "" {
		parts = append(parts, who)
	}
	if f, ok := s.Facts.Footage[x.tag.Place.Footage]; ok {
		parts = append(parts, f.Camera)
	}
	parts = append(parts, words.T("{.seconds} s long", "seconds", seconds(endOf(x)-x.tag.Place.Film)))
	if from, to := unsaid(x); !x.e.Signal.IsZero() {
		parts = append(parts, words.T("a group sees {.seconds} s", "seconds", seconds(to-from)))
	}
	if x.e.By != "" {
		parts = append(parts, words.T("by {.who}", "who", x.e.By))
	}
	return strings.Join(parts, ", ")
}

// cells draws an example as a row.
func (p *boutPanel) cells(i int) []look.Cell {
	s := p.b.t.desk.Session()
	if s == nil || i >= len(p.b.items) {
		return nil
	}
	x := p.b.items[i]
	side := look.Cell{}
	if x.tag.Side != timeline.NoSide {
		side = look.Cell{Shape: look.Bar, Colour: look.Now.Of(x.tag.Side)}
	}
	r := rulesOf(s, x.e.Edition)
	verdict := look.Cell{Text: answersText(r, x.e.Ask, x.e.Verdicts)}
	if len(x.e.Verdicts) == 0 {
		verdict = look.Cell{Text: words.T("undecided"), Colour: look.Now.Quiet}
	}
	if x.has(differing) || len(x.e.Verdicts) == 0 && !x.e.Called.IsZero() {
		verdict.Text += " (" + words.T("called: {.answer}", "answer", answerText(r, x.e.Ask, x.e.Called)) + ")"
	}
	return []look.Cell{{Shape: shapeOf(x)}, {Text: placeText(x.moment)}, side, {Text: askName(x.e.Ask), Colour: look.Now.Quiet}, verdict, {Text: dots(x.e.Difficulty), Colour: look.Now.Quiet}}
}

// shapeOf is how an example stands, as a shape.
func shapeOf(x item) look.Shape {
	switch {
	case x.has(undecided):
		return look.Triangle
	case x.outdated:
		return look.Ring
	case x.has(disputed):
		return look.Diamond
	}
	return look.Tick
}

// write puts the cursor into a field and scrolls to it.
func (p *boutPanel) write(f *form.Inline) {
	if !p.form.Visible() {
		return
	}
	y := p.form.Position().Y + f.Position().Y
	switch {
	case y+f.Size().Height > p.main.Offset.Y+p.main.Size().Height:
		p.main.ScrollToOffset(fyne.NewPos(0, y+f.Size().Height-p.main.Size().Height))
	case y < p.main.Offset.Y:
		p.main.ScrollToOffset(fyne.NewPos(0, y))
	}
	f.Write()
}

func (b *boutShelf) writeAsked() { b.write(func(p *boutPanel) *form.Inline { return p.asked }) }
func (b *boutShelf) writeAngle() { b.write(func(p *boutPanel) *form.Inline { return p.angle }) }
func (b *boutShelf) writeWords() { b.write(func(p *boutPanel) *form.Inline { return p.reason }) }

func (b *boutShelf) write(which func(*boutPanel) *form.Inline) {
	if _, ok := b.current(); ok && b.view != nil {
		b.view.write(which(b.view))
	}
}
