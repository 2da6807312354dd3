// Package numbers is the page of the bout in numbers: what a coach asks after a
// bout, each number with the way to the film it comes from.
package numbers

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/export/print"
	"whistlecut/timeline"
	tally "whistlecut/timeline/numbers"
)

// Task is the page.
type Task struct {
	desk    task.Desk
	shown   bool
	stale   bool
	report  tally.Report
	say     print.Speech
	section int
	root    *fyne.Container
	chips   []*look.Chip
	page    *ledger.Page
	charts  []*ledger.Chart
	told    *look.Paragraph
	saving  *ledger.Saving // the dialog opened last
}

// New makes the page; nothing is counted until it is shown.
func New(d task.Desk) *Task { return &Task{desk: d, stale: true} }

// ID names the page and the scope of its keys.
func (t *Task) ID() string { return task.Numbers }

// Title is the page's name.
func (t *Task) Title() string { return words.T("The bout in numbers") }

// Waiting is nothing.
func (t *Task) Waiting() int { return 0 }

// Wide says that tables need room.
func (t *Task) Wide() bool { return true }

// sections are the parts of the page in the order of their keys.
var sections = []struct {
	name func() string
	fill func(t *Task) []fyne.CanvasObject
}{
	{func() string { return words.T("score") }, (*Task).score},
	{func() string { return words.T("jammers") }, (*Task).jammers},
	{func() string { return words.T("line-ups") }, (*Task).lineups},
	{func() string { return words.T("power jams") }, (*Task).powerJams},
	{func() string { return words.T("penalties") }, (*Task).penalties},
}

// Panel builds the page.
func (t *Task) Panel() fyne.CanvasObject {
	if t.root != nil {
		return t.root
	}
	t.root = container.NewStack()
	t.page = ledger.NewPage()
	t.told = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	return t.root
}

// build makes what stands above the page and below it.
func (t *Task) build() fyne.CanvasObject {
	row := container.New(&look.Flow{Gap: look.Tight})
	t.chips = nil
	for i, s := range sections {
		c := look.NewChip(s.name(), string(rune('1'+i)), func() { t.show(i) })
		t.chips = append(t.chips, c)
		row.Add(c)
	}
	head := container.New(&look.Flow{Gap: look.Near, Ends: true}, look.Title(t.Title()), look.NewChip(words.T("back"), words.T("Esc"), t.desk.Back))
	save := look.NewLargeChip(words.T("save as PDF, XLSX or CSV"), "S", t.save)
	return container.New(look.Pile{Fill: t.page.View, Least: 160, Gap: look.Near}, head, row, look.Rule(), t.page.View, t.told,
		container.New(&look.Flow{Gap: look.Tight}, save))
}

// Shown counts anew where the bout has changed.
func (t *Task) Shown() {
	t.shown = true
	t.count()
}

// Leave notes that another task is shown.
func (t *Task) Leave() { t.shown = false }

// Changed takes new facts in; while another task is shown that can wait.
func (t *Task) Changed() {
	t.stale = true
	if t.shown {
		t.count()
	}
}

func (t *Task) count() {
	if !t.stale || t.root == nil {
		return
	}
	s := t.desk.Session()
	if s == nil || len(s.Bout.Jams) == 0 {
		t.root.Objects = []fyne.CanvasObject{look.Empty(words.T("No jam is tagged yet"), words.T("Numbers follow from what is tagged. Tag jams in Log first."),
			container.NewHBox(look.NewButton(words.T("back"), words.T("Esc"), t.desk.Back)))}
		t.root.Refresh()
		t.report = tally.Report{}
		return
	}
	t.stale = false
	t.say = print.Speak(words.Code())
	t.report = s.Report()
	t.root.Objects = []fyne.CanvasObject{t.build()}
	t.fill()
	t.root.Refresh()
}

// show turns to a section.
func (t *Task) show(i int) {
	if t.page == nil || len(t.chips) == 0 {
		return
	}
	t.section = i
	t.fill()
	t.page.Top()
}

// fill shows the section.
func (t *Task) fill() {
	for i, c := range t.chips {
		c.Set(sections[i].name(), i == t.section)
	}
	t.charts = nil
	t.page.Set(sections[t.section].fill(t)...)
	t.Moved(t.desk.Now())
}

// Moved marks the jam that the film shows.
func (t *Task) Moved(n task.Now) {
	at := -1
	if n.InJam {
		for i, j := range t.report.PerJam {
			if j.Jam == n.Jam {
				at = i
			}
		}
	}
	for _, c := range t.charts {
		c.SetNow(at)
	}
}

// Actions are the keys of the page.
func (t *Task) Actions() []keys.Action {
	act := func(id, title string, repeats bool, run func(), chords ...string) keys.Action {
		a := keys.Action{ID: "numbers." + id, Scope: task.Numbers, Title: title, Group: t.Title(), Repeats: repeats}
		a.Run = func() {
			if t.page != nil {
				run()
			}
		}
		a.Keys = keys.Chords(chords...)
		return a
	}
	out := []keys.Action{
		act("up", words.T("row before"), true, func() { t.page.Advance(-1) }, "Up"),
		act("down", words.T("next row"), true, func() { t.page.Advance(1) }, "Down"),
		act("pageup", words.T("a page up"), true, func() { t.page.Turn(-1) }, "Prior"),
		act("pagedown", words.T("a page down"), true, func() { t.page.Turn(1) }, "Next"),
		act("open", words.T("go where the row leads"), false, func() { t.page.Open() }, "Return", "KP_Enter"),
		act("save", words.T("save as PDF, XLSX or CSV"), false, t.save, "S"),
		act("leave", words.T("back"), false, t.desk.Back, "Escape"),
	}
	for i, s := range sections {
		out = append(out, act("section."+string(rune('1'+i)), s.name(), false, func() { t.show(i) }, string(rune('1'+i))))
	}
	return out
}

// team is a side's name.
func (t *Task) team(s timeline.Side) string { return t.say.Team(t.report.Sides[s.Index()].Name, s) }

// goTo goes to a moment of a jam; one without a time is its start.
func (t *Task) goTo(p timeline.Place) func() { return func() { t.desk.Go(p) } }

// sel brings Find with a selection.
func (t *Task) sel(x timeline.Selection) func() { return func() { t.desk.Select(x) } }
