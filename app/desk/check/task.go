// Package check is the task in which the differences between official sheet and
// tags are walked, looked at on film and resolved.
package check

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// Task walks the findings.
type Task struct {
	desk  task.Desk
	sort  sorting
	show  filter
	items []item
	// chosen is the key of the chosen row, "" for none.
	chosen string
	note   string // written for the chosen finding and not kept yet
	panel  *panel
}

// New makes the task; nothing is built until it is shown.
func New(d task.Desk) *Task { return &Task{desk: d, show: filter{unchecked: true}} }

// ID names the task and the scope of its keys.
func (t *Task) ID() string { return task.Check }

// Title is the task's name.
func (t *Task) Title() string { return words.T("Check") }

// Waiting counts the findings nobody has settled.
func (t *Task) Waiting() int { return len(app.UnsettledOf(t.desk.Report())) }

// Panel builds the panel.
func (t *Task) Panel() fyne.CanvasObject {
	if t.panel == nil {
		t.panel = newPanel(t)
		t.panel.detail.ways.Add(t.reelChip())
		t.panel.detail.ways.Add(t.exampleChip())
		t.rebuild()
	}
	return t.panel.root
}

// Shown brings list and film up to date.
func (t *Task) Shown() {
	t.rebuild()
	t.ahead()
}

// Changed takes new findings in.
func (t *Task) Changed() {
	if t.panel != nil {
		t.rebuild()
	}
}

// Moved does not matter here: the list leads the film.
func (t *Task) Moved(task.Now) {}

// Actions are the keys of the task.
func (t *Task) Actions() []keys.Action {
	act := func(id, title string, repeats bool, run func(), chords ...string) keys.Action {
		a := keys.Action{ID: "check." + id, Scope: task.Check, Title: title, Group: words.T("Check"), Run: run, Repeats: repeats}
		a.Keys = keys.Chords(chords...)
		return a
	}
	return []keys.Action{
		t.reelAction(),
		t.exampleAction(),
		act("up", words.T("finding before"), true, func() { t.advance(-1) }, "Up"),
		act("down", words.T("next finding"), true, func() { t.advance(1) }, "Down"),
		act("pageup", words.T("a page up"), true, func() { t.advance(-8) }, "Prior"),
		act("pagedown", words.T("a page down"), true, func() { t.advance(8) }, "Next"),
		act("loop", words.T("play the moment again and again"), false, t.loop, "Return", "KP_Enter"),
		act("tag", words.T("the tag was wrong: correct it"), false, func() { t.resolve(timeline.VerdictTagWrong) }, "1"),
		act("sheet", words.T("the sheet differs: keep it for the report"), false, func() { t.resolve(timeline.VerdictSheetDiffers) }, "2"),
		act("unclear", words.T("unclear"), false, func() { t.resolve(timeline.VerdictUnclear) }, "3"),
		act("reopen", words.T("open it again"), false, t.reopen, "0", "Delete"),
		act("note", words.T("write a note"), false, t.writeNote, "N"),
		act("sort", words.T("sort: stake, bout order, cause"), false, t.nextSort, "S"),
		act("open", words.T("show the settled ones, or not"), false, t.toggleSettled, "O"),
		act("side", words.T("one side only"), false, t.nextSide, "T"),
		act("period", words.T("one period only"), false, t.nextPeriod, "P"),
		act("unchecked", words.T("show what is not checkable, or not"), false, t.toggleUnchecked, "U"),
	}
}

// rebuild lists the findings anew; the chosen one stays, or the one that takes
// its place.
func (t *Task) rebuild() {
	was := t.index()
	t.items = listed(t.desk.Report(), t.show, t.sort)
	if i := t.index(); i < 0 && len(t.items) > 0 {
		t.chosen = t.items[min(max(was, 0), len(t.items)-1)].key()
		t.note = ""
	} else if len(t.items) == 0 {
		t.chosen, t.note = "", ""
	}
	if t.panel != nil {
		t.panel.refresh()
	}
}

// index is the chosen row, -1 for none.
func (t *Task) index() int {
	return slices.IndexFunc(t.items, func(i item) bool { return i.key() == t.chosen })
}

func (t *Task) current() (item, bool) {
	if i := t.index(); i >= 0 {
		return t.items[i], true
	}
	return item{}, false
}

func (t *Task) advance(by int) {
	if len(t.items) > 0 {
		t.choose(min(max(t.index()+by, 0), len(t.items)-1))
	}
}

// choose takes row i; the film goes there.
func (t *Task) choose(i int) {
	if i < 0 || i >= len(t.items) {
		return
	}
	if k := t.items[i].key(); k != t.chosen {
		t.chosen, t.note = k, ""
	}
	if p, ok := t.place(t.items[i]); ok {
		t.desk.Go(p)
	}
	if t.panel != nil {
		t.panel.refresh()
	}
	t.ahead()
}

// begin is how far into a jam its start is shown.
const begin = 200 * time.Millisecond

// place is where an item can be seen; ok is false when no film shows it.
func (t *Task) place(i item) (timeline.Place, bool) {
	s := t.desk.Session()
	if s == nil {
		return timeline.Place{}, false
	}
	film, jam := timeline.Place{}, timeline.ID("")
	if i.finding != nil {
		film, jam = i.finding.Film, i.finding.JamID
	} else {
		film, jam = i.unchecked.Film, i.unchecked.JamID
	}
	places := []timeline.Place{film}
	if j, ok := s.Bout.Jam(jam); ok {
		// Right at the whistle the frame shown may still be the jam before.
		begun := timeline.InJam(jam, begin)
		if film == j.Start || film.IsZero() {
			places = []timeline.Place{begun, film}
		} else {
			places = append(places, begun)
		}
	}
	for _, p := range places {
		if _, _, ok := s.Bout.Alignment.FilmOf(p); ok {
			return p, true
		}
	}
	return timeline.Place{}, false
}

// ahead tells the desk which film will be wanted next.
func (t *Task) ahead() {
	if t.desk.Session() == nil {
		return
	}
	var out []timeline.Place
	for n := t.index() + 1; n < len(t.items) && len(out) < 2; n++ {
		if p, ok := t.place(t.items[n]); ok {
			out = append(out, p)
		}
	}
	t.desk.Ahead(out...)
}

// loop plays the moment of the chosen row with what led to it.
func (t *Task) loop() {
	i, ok := t.current()
	if !ok {
		return
	}
	p, ok := t.place(i)
	if !ok {
		t.desk.Say(words.T("No film shows this moment."))
		return
	}
	s := t.desk.Session()
	footage, at, _ := s.Bout.Alignment.FilmOf(p)
	margin := app.MarginsOf(t.desk.Settings()).Of(t.kindOf(i))
	t.desk.Loop(footage, max(at-margin.Before, 0), at+max(margin.After, 2*time.Second))
}

// kindOf is the kind of the tag a finding rests on, for its margins.
func (t *Task) kindOf(i item) string {
	if i.finding != nil {
		for _, id := range i.finding.TagID {
			if tag, ok := t.desk.Session().Facts.Tags[id]; ok && tag.Place == i.finding.Film {
				return string(tag.Kind)
			}
		}
	}
	return string(timeline.KindJam)
}

func (t *Task) nextSort() {
	t.sort = (t.sort + 1) % sortings
	t.rebuild()
}

func (t *Task) toggleSettled() {
	t.show.settled = !t.show.settled
	t.rebuild()
}

func (t *Task) toggleUnchecked() {
	t.show.unchecked = !t.show.unchecked
	t.rebuild()
}

func (t *Task) nextSide() {
	t.show.side = (t.show.side + 1) % 3
	t.rebuild()
}

// nextPeriod goes on to the next period that has something, then to all.
func (t *Task) nextPeriod() {
	t.show.period = nextOf(periodsOf(t.desk.Report()), t.show.period)
	t.rebuild()
}

func nextOf(list []int, now int) int {
	for _, p := range list {
		if p > now {
			return p
		}
	}
	return 0
}

// periodsOf lists the periods of a report's rows.
func periodsOf(r *sheet.Report) []int {
	var out []int
	for _, i := range listed(r, filter{settled: true, unchecked: true}, byBout) {
		if p := i.period(); p > 0 && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	slices.Sort(out)
	return out
}
