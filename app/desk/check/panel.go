package check

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// panel is what the task shows.
type panel struct {
	t    *Task
	root *fyne.Container // main, or an empty state

	view                                  fyne.CanvasObject // main with its bar
	main                                  *container.Scroll
	pile, head                            *fyne.Container
	title                                 *canvas.Text
	score                                 *canvas.Text
	sort, settled, side, period, unsorted *look.Chip
	info                                  *look.Paragraph
	rows                                  *look.Rows
	detail                                *detail
}

func newPanel(t *Task) *panel {
	p := &panel{t: t, root: container.NewStack()}
	p.title = look.Title("")
	p.score = look.Line("", look.Now.Quiet, look.NoteSize)
	p.head = container.New(&look.Flow{Gap: look.Near, Ends: true}, p.title, p.score)
	p.sort = look.NewChip("", "S", t.nextSort)
	p.settled = look.NewChip("", "O", t.toggleSettled)
	p.side = look.NewChip("", "T", t.nextSide)
	p.period = look.NewChip("", "P", t.nextPeriod)
	p.unsorted = look.NewChip("", "U", t.toggleUnchecked)
	p.unsorted.Shape = look.Ring
	chips := container.New(&look.Flow{Gap: look.Tight}, p.sort, p.settled, p.side, p.period, p.unsorted)
	p.info = look.NewParagraph("", look.Now.Quiet, look.RowSize)
	p.rows = look.NewRows(columns(), func() int { return len(t.items) }, func(i int) []look.Cell {
		if i >= len(t.items) {
			return nil
		}
		return cells(t.items[i])
	})
	p.rows.Chosen = t.choose
	p.rows.Opened = func(int) { t.loop() }
	p.detail = newDetail(t)
	p.pile = container.New(look.Pile{Fill: p.rows, Least: 4 * look.RowHeight(), Gap: look.Tight + 2},
		p.head, chips, p.info, p.rows, look.Rule(), p.detail.box)
	p.view, p.main = look.Scroll(p.pile)
	return p
}

// refresh shows the task's state anew.
func (p *panel) refresh() {
	if e := p.empty(); e != nil {
		p.root.Objects = []fyne.CanvasObject{e}
		p.root.Refresh()
		return
	}
	p.heading()
	p.choices()
	i, ok := p.t.current()
	p.detail.set(i, ok)
	p.info.Set(p.infoText())
	look.Show(p.info, p.info.Text() != "")
	p.rows.Mark(p.t.index())
	p.root.Objects = []fyne.CanvasObject{p.view}
	p.root.Refresh()
	p.pile.Refresh()
	p.main.Refresh()
}

// empty is what stands there when there is nothing to compare; nil when there is.
func (p *panel) empty() fyne.CanvasObject {
	d := p.t.desk
	if d.Session() == nil {
		return look.Empty(words.T("No bout is open"), words.T("Open a bout, and its sheet and tags are compared here."))
	}
	if d.Sheet() == nil {
		button := look.NewButton(words.T("Add the sheet in Align"), form.Ctrl("1"), func() { d.Show(task.Align) }).Strong()
		return look.Empty(words.T("No official sheet yet"),
			words.T("Put the official sheet into the bout (XLSX, ODS or CSV). Every line of it is then compared with the recount from the tags, and each difference is listed here with its place on film."),
			container.NewHBox(button))
	}
	r := d.Report()
	if r == nil {
		return look.Empty(words.T("Comparing"), words.T("Sheet and tags are being compared; the findings come in a moment."))
	}
	if len(d.Session().Bout.Jams) == 0 && len(r.Findings) == 0 {
		button := look.NewButton(words.T("Place the jams in Align"), form.Ctrl("1"), func() { d.Show(task.Align) }).Strong()
		other := look.NewButton(words.T("Tag in Log"), form.Ctrl("2"), func() { d.Show(task.Log) })
		return look.Empty(words.T("Nothing is tagged yet"),
			words.T("The sheet is here and does not contradict itself. To compare it with the bout, place its jams on the film, then tag trips, lead and penalties."),
			container.NewHBox(button, other))
	}
	return nil
}

// heading says how many findings there are and how the scores stand.
func (p *panel) heading() {
	r := p.t.desk.Report()
	n, open := len(r.Findings), p.t.Waiting()
	p.title.Text = words.N(n, "{.n} finding", "{.n} findings")
	switch {
	case n == 0:
		p.title.Text = words.T("No findings")
	case open < n:
		p.title.Text = words.T("{.findings}, {.open} open", "findings", p.title.Text, "open", open)
	}
	h, a := r.Score[0], r.Score[1]
	b := &p.t.desk.Session().Bout
	p.score.Text = words.T("tags {.home} – {.away}", "home", terms.Score(b, "", timeline.Home, h.Tags), "away", terms.Score(b, "", timeline.Away, a.Tags))
	if h.SheetKnown && a.SheetKnown {
		p.score.Text += " | " + words.T("sheet {.home} – {.away}", "home", h.Sheet, "away", a.Sheet)
	}
}

// choices names what the list shows.
func (p *panel) choices() {
	t := p.t
	p.sort.Set(map[sorting]string{byStake: words.T("by stake"), byBout: words.T("bout order"), byCause: words.T("by cause")}[t.sort], t.sort != byStake)
	settled := words.T("open")
	if t.show.settled {
		settled = words.T("all")
	}
	p.settled.Set(settled, t.show.settled)
	p.side.Set(sideText(t.show.side), t.show.side != timeline.NoSide)
	period := words.T("all periods")
	if t.show.period > 0 {
		period = words.T("period {.period}", "period", t.show.period)
	}
	p.period.Set(period, t.show.period > 0)
	n := len(t.desk.Report().Unchecked)
	p.unsorted.Set(fmt.Sprint(n), t.show.unchecked && n > 0)
	look.Show(p.unsorted, n > 0)
}

// infoText says what was compared when no row tells it.
func (p *panel) infoText() string {
	r := p.t.desk.Report()
	compared := words.N(r.Compared, "{.n} cell was compared, {.agreed} agree.", "{.n} cells were compared, {.agreed} agree.", "agreed", r.Agreed)
	left := ""
	if n := len(r.Unchecked); n > 0 {
		left = " " + words.N(n, "{.n} place could not be checked; it counts as neither.", "{.n} places could not be checked; they count as neither.")
	}
	switch {
	case len(p.t.desk.Session().Bout.Jams) == 0:
		return words.T("Nothing is tagged yet: this is what the sheet contradicts itself in.")
	case len(r.Findings) == 0:
		text := words.T("Tags and sheet agree wherever they can be compared.") + " " + compared + left
		if s := settleText(&p.t.desk.Session().Bout, "", timeline.NoSide); s != "" {
			text += " " + s
		}
		return text
	case len(p.t.items) == 0 && p.t.Waiting() == 0:
		return words.T("All findings are settled. O shows them again.") + " " + compared + left
	case len(p.t.items) == 0:
		return words.T("Nothing is left with this choice: O, T and P widen it.")
	}
	return ""
}

// noteEntry is the one text field; Escape leaves it.
type noteEntry struct {
	widget.Entry
	left func()
}

func newNoteEntry(done func(string), left func()) *noteEntry {
	e := &noteEntry{left: left}
	e.ExtendBaseWidget(e)
	e.OnSubmitted = done
	return e
}

// TypedKey leaves the field on Escape.
func (e *noteEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.left()
		return
	}
	e.Entry.TypedKey(k)
}

func (p *panel) openNote(text string) {
	p.detail.openNote(text)
	p.pile.Refresh()
	p.main.Refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(p.root); c != nil {
		c.Focus(p.detail.entry)
	}
}
