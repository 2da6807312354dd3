package find

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// trim writes seconds without needless digits.
func trim(s float64) string { return strconv.FormatFloat(s, 'f', -1, 64) }

// panel is what the task shows.
type panel struct {
	t    *Task
	root *fyne.Container

	view          fyne.CanvasObject // main with its bar
	main          *container.Scroll
	pile          *fyne.Container
	title, length *canvas.Text
	fields        *fyne.Container
	field         [fields]*look.Chip
	film, write   *look.Chip
	active        *fyne.Container // what is chosen, or where to start
	entry         *wordsEntry
	list          *fyne.Container
	rows, picks   *look.Rows
	full          *look.Paragraph
	foot          *fyne.Container
	play, cut     *look.Chip
	leave         *look.Chip
	asking        *cutForm // the dialog opened last
}

func newPanel(t *Task) *panel {
	p := &panel{t: t, root: container.NewStack()}
	p.title = look.Title("")
	p.length = look.Line("", look.Now.Quiet, look.NoteSize)
	head := container.New(&look.Flow{Gap: look.Near, Ends: true}, p.title, p.length)
	p.fields = container.New(&look.Flow{Gap: look.Tight})
	for f := range fields {
		p.field[f] = look.NewChip(f.name(), letters[f], func() { t.openField(f) })
		p.fields.Add(p.field[f])
	}
	p.write = look.NewChip(words.T("words"), "W", t.writeWords)
	p.film = look.NewChip(words.T("on film only"), "M", t.toggleFilm)
	p.fields.Add(p.write)
	p.fields.Add(p.film)
	p.active = container.New(&look.Flow{Gap: look.Tight})
	p.entry = newWordsEntry(p)
	p.rows = look.NewRows([]look.Column{{Width: 8}, {Width: 48}, {Width: 6}, {Width: 108}, {Least: 120}, {Width: 32, Right: true}, {Width: 12}},
		func() int { return len(t.moments) }, p.cells)
	p.rows.Chosen = t.show
	p.rows.Opened = func(int) { t.enter() }
	p.picks = look.NewRows([]look.Column{{Width: 12}, {Width: 6}, {}, {Width: 44, Right: true}},
		func() int { return len(t.options) }, p.optionCells)
	p.picks.Chosen = t.toggle
	p.picks.Opened = t.toggle
	p.list = container.NewStack(p.rows)
	p.full = look.NewParagraph("", look.Now.Quiet, look.RowSize)
	p.play = look.NewLargeChip("", "P", t.playThrough)
	p.cut = look.NewLargeChip("", "C", t.askCut)
	p.leave = look.NewLargeChip("", "X", t.leaveOut)
	p.foot = container.New(&look.Flow{Gap: look.Tight}, p.play, p.cut, p.leave)
	p.pile = container.New(look.Pile{Fill: p.list, Least: 5 * look.RowHeight(), Gap: look.Near},
		head, p.fields, p.entry, p.active, look.Rule(), p.list, p.full, p.foot)
	p.view, p.main = look.Scroll(p.pile)
	return p
}

// refresh shows the task's state anew.
func (p *panel) refresh() {
	t := p.t
	s := t.desk.Session()
	if e := p.empty(); e != nil {
		p.root.Objects = []fyne.CanvasObject{e}
		p.root.Refresh()
		return
	}
	wanted := t.wanted()
	p.title.Text = words.N(len(wanted), "{.n} moment", "{.n} moments")
	if n := len(t.moments) - len(wanted); n > 0 {
		p.title.Text += ", " + words.N(n, "{.n} left out", "{.n} left out")
	}
	p.length.Text = words.T("{.length} of film", "length", terms.Clock(s.FilmLength(wanted, app.MarginsOf(t.desk.Settings())), 0))
	p.chips(s)
	if t.open != noField {
		p.list.Objects = []fyne.CanvasObject{p.picks}
		p.picks.Mark(t.at)
		p.full.Set(words.T("Enter takes a choice or gives it back; {.key} or Esc goes to the moments.", "key", letters[t.open]))
	} else {
		p.list.Objects = []fyne.CanvasObject{p.rows}
		p.rows.Columns[whoColumn].Width = p.whoWidth()
		p.rows.Mark(t.index())
		p.full.Set(p.below(s))
	}
	look.Show(p.full, p.full.Text() != "")
	p.list.Refresh()
	p.root.Objects = []fyne.CanvasObject{p.view}
	p.root.Refresh()
	p.pile.Refresh()
	p.main.Refresh()
}

// whoColumn is the column of the rows that names the skater.
const whoColumn = 3

// whoWidth is how wide the skaters' column has to be, before text scale: no wider
// than its longest name, so that moments without one have no hole in them.
func (p *panel) whoWidth() float32 {
	const least, most = 1, 108
	w := float32(least)
	for _, m := range p.t.moments {
		if w = max(w, fyne.MeasureText(whoText(m), look.RowSize, fyne.TextStyle{}).Width); w > most {
			return most
		}
	}
	return w
}

// empty is what stands there when nothing can be found; nil when something can.
func (p *panel) empty() fyne.CanvasObject {
	d := p.t.desk
	if d.Session() == nil {
		return look.Empty(words.T("No bout is open"), words.T("Open a bout, and its moments are found here."))
	}
	if len(d.Session().Facts.Tags) == 0 {
		button := look.NewButton(words.T("Tag in Log"), form.Ctrl("2"), func() { d.Show(task.Log) }).Strong()
		return look.Empty(words.T("Nothing is tagged yet"),
			words.T("Find lists what is tagged: power jams, star passes, penalties of a skater. Tag a jam in Log first, or mark moments with F."), container.NewHBox(button))
	}
	return nil
}

// chips shows the fields, and below them what is chosen or where to start.
func (p *panel) chips(s *app.Session) {
	t := p.t
	for f := range fields {
		p.field[f].Set(f.name(), t.open == f)
	}
	look.Show(p.field[byCamera], len(cameras(s)) > 1)
	p.film.Set(words.T("on film only"), t.sel.OnFilm)
	p.write.Set(words.T("words"), t.sel.Words != "")
	p.active.Objects = nil
	if !t.chosenSome() {
		for i, x := range starts() {
			p.active.Add(look.NewChip(x.text, strconv.Itoa(i+1), func() { t.begin(i) }))
		}
	} else {
		for _, o := range active(s, t.sel) {
			c := look.NewChip(o.text+" ×", "", func() { t.choose(o.toggled) })
			c.On = true
			if o.side != timeline.NoSide {
				c.Shape, c.Colour = look.Bar, look.Now.Of(o.side)
			}
			p.active.Add(c)
		}
		p.active.Add(look.NewChip(words.T("clear"), words.T("Esc"), func() {
			t.open = noField
			t.escape()
		}))
	}
	p.active.Refresh()
	play := words.T("play through")
	if t.run != nil {
		play = words.T("stop")
	}
	p.play.Set(play, t.run != nil)
	p.cut.Set(words.T("cut clips"), false)
	leave := words.T("leave out")
	if i := t.index(); i >= 0 && t.without[t.moments[i].Key] {
		leave = words.T("take in")
	}
	p.leave.Set(leave, false)
	look.Show(p.foot, len(t.moments) > 0 && t.open == noField)
}

// below is the chosen moment in full, or what came of the last cut, or what to do
// when nothing was found.
func (p *panel) below(s *app.Session) string {
	t := p.t
	switch i := t.index(); {
	case t.told != "":
		return t.told
	case len(t.moments) == 0:
		return words.T("Nothing of that is tagged in this bout. Backspace takes the last choice back, Esc clears all.")
	case i >= 0:
		return fullText(s, t.moments[i])
	}
	return ""
}

// cells draws a moment.
func (p *panel) cells(i int) []look.Cell {
	t := p.t
	s := t.desk.Session()
	if s == nil || i >= len(t.moments) {
		return nil
	}
	m := t.moments[i]
	colour := look.Now.Text
	first := look.Cell{}
	if t.without[m.Key] {
		colour, first = look.Now.Quiet, look.Cell{Text: "×", Colour: look.Now.Quiet}
	}
	side := look.Cell{}
	if m.Side != timeline.NoSide {
		side = look.Cell{Shape: look.Bar, Colour: look.Now.Of(m.Side)}
	}
	length := look.Cell{Text: "–", Colour: look.Now.Quiet}
	if f, ok := s.Shown(m, app.MarginsOf(t.desk.Settings())); ok {
		length.Text = terms.Clock(f.To-f.From, 0)
	}
	state := look.Cell{}
	switch m.State {
	case timeline.FilmPartly, timeline.FilmNoTime:
		state.Shape = look.Triangle
	case timeline.FilmNone:
		state.Shape = look.Ring
	}
	return []look.Cell{first, {Text: placeText(m), Colour: colour}, side, {Text: whoText(m), Colour: colour}, {Text: shortText(s, m), Colour: colour}, length, state}
}

// optionCells draws a choice, with how many moments there are with it.
func (p *panel) optionCells(i int) []look.Cell {
	t := p.t
	if i >= len(t.options) {
		return nil
	}
	o := t.options[i]
	on, side := look.Cell{}, look.Cell{}
	if o.on {
		on.Shape = look.Tick
	}
	if o.side != timeline.NoSide {
		side = look.Cell{Shape: look.Bar, Colour: look.Now.Of(o.side)}
	}
	n := t.count(i)
	text := look.Cell{Text: o.text}
	if n == 0 {
		text.Colour = look.Now.Quiet
	}
	count := look.Cell{Text: strconv.Itoa(n), Colour: look.Now.Quiet}
	if o.on { // with it taken out again
		count.Text = strconv.Itoa(len(t.moments))
	}
	return []look.Cell{on, side, text, count}
}

// wordsEntry is the field for words; Enter takes them, Escape leaves it.
type wordsEntry struct {
	widget.Entry
	p *panel
}

func newWordsEntry(p *panel) *wordsEntry {
	e := &wordsEntry{p: p}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder(words.T("words in a note; Enter takes them"))
	e.OnSubmitted = func(s string) {
		e.close()
		x := p.t.sel
		x.Words = s
		p.t.choose(x)
	}
	e.Hide()
	return e
}

// TypedKey leaves the field on Escape.
func (e *wordsEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.close()
		e.p.refresh()
		return
	}
	e.Entry.TypedKey(k)
}

func (e *wordsEntry) close() {
	e.Hide()
	if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil && c.Focused() == fyne.Focusable(e) {
		c.Unfocus()
	}
}

func (p *panel) openWords(text string) {
	p.entry.SetText(text)
	p.entry.Show()
	p.refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(p.root); c != nil {
		c.Focus(p.entry)
	}
}
