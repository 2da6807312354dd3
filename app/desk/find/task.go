// Package find is the task in which moments are chosen by what they are, looked
// at one after the other, and cut into clips.
package find

import (
	"context"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Task chooses moments.
type Task struct {
	desk    task.Desk
	stale   bool // the facts changed since the moments were found
	sel     timeline.Selection
	moments []timeline.Moment
	without map[string]bool // keys of the moments left out
	chosen  string          // key of the moment chosen
	open    field           // whose choices are shown, noField for none
	options []option        // of the open field
	counts  []int           // moments by option, -1 not counted yet
	at      int             // option chosen
	run     *running        // playing through
	told    string          // what was cut last, and where it is
	panel   *panel
	// cut makes the clips; tests put another in its place.
	cut func(ctx context.Context, a *app.App, s *app.Session, m []timeline.Moment, o app.CutOptions) (app.CutReport, error)
}

// New makes the task; nothing is built until it is shown.
func New(d task.Desk) *Task {
	return &Task{
		desk: d, without: map[string]bool{}, open: noField, stale: true,
		cut: func(ctx context.Context, a *app.App, s *app.Session, m []timeline.Moment, o app.CutOptions) (app.CutReport, error) {
			return a.CutMoments(ctx, s, m, o)
		},
	}
}

// ID names the task and the scope of its keys.
func (t *Task) ID() string { return task.Find }

// Title is the task's name.
func (t *Task) Title() string { return words.T("Find") }

// Waiting is nothing: here a person asks.
func (t *Task) Waiting() int { return 0 }

// Panel builds the panel.
func (t *Task) Panel() fyne.CanvasObject {
	if t.panel == nil {
		t.panel = newPanel(t)
		t.panel.foot.Add(t.reelChip())
		t.panel.foot.Add(t.exampleChip())
		t.search()
	}
	return t.panel.root
}

// Shown brings the list up to date.
func (t *Task) Shown() {
	if t.stale {
		t.search()
	}
}

// Changed notes that the bout is new; the list follows at once only while the
// panel is there.
func (t *Task) Changed() {
	t.stale = true
	if t.panel != nil {
		t.search()
	}
}

// Moved goes on to the next moment while they are played through.
func (t *Task) Moved(n task.Now) { t.playOn(n) }

// Actions are the keys of the task.
func (t *Task) Actions() []keys.Action {
	act := func(id, title string, repeats bool, run func(), chords ...string) keys.Action {
		a := keys.Action{ID: "find." + id, Scope: task.Find, Title: title, Group: words.T("Find"), Run: run, Repeats: repeats}
		a.Keys = keys.Chords(chords...)
		return a
	}
	out := []keys.Action{
		act("up", words.T("row before"), true, func() { t.advance(-1) }, "Up"),
		act("down", words.T("next row"), true, func() { t.advance(1) }, "Down"),
		act("pageup", words.T("a page up"), true, func() { t.advance(-8) }, "Prior"),
		act("pagedown", words.T("a page down"), true, func() { t.advance(8) }, "Next"),
		act("loop", words.T("take the choice, or play the moment again and again"), false, t.enter, "Return", "KP_Enter"),
		act("play", words.T("play all moments one after the other, or stop"), false, t.playThrough, "P"),
		act("cut", words.T("cut into clips"), false, t.askCut, "C"),
		act("leave", words.T("leave the moment out of the clips, or take it in again"), false, t.leaveOut, "X"),
		act("words", words.T("words in notes"), false, t.writeWords, "W"),
		act("film", words.T("on film only, or all"), false, t.toggleFilm, "M"),
		act("last", words.T("take the last choice back"), false, t.takeBack, "BackSpace", "Delete"),
		act("clear", words.T("close the choices, stop, or clear all"), false, t.escape, "Escape"),
	}
	out = append(append(out, t.reelAction()), t.exampleActions()...)
	for f := range fields {
		out = append(out, act("field."+letters[f], words.T("choose by: {.field}", "field", f.name()), false, func() { t.openField(f) }, letters[f]))
	}
	for i, s := range starts() {
		out = append(out, act("start."+strconv.Itoa(i+1), s.text, false, func() { t.begin(i) }, strconv.Itoa(i+1)))
	}
	return out
}

// search finds the moments anew. What was left out stays left out while it is
// there.
func (t *Task) search() {
	t.stale = false
	t.moments = nil
	if s := t.desk.Session(); s != nil {
		t.moments = timeline.Find(s.Bout, s.Facts, t.sel)
	}
	if t.index() < 0 {
		t.chosen = ""
		if len(t.moments) > 0 {
			t.chosen = t.moments[0].Key
		}
	}
	t.fill()
	t.refresh()
}

func (t *Task) refresh() {
	if t.panel != nil {
		t.panel.refresh()
	}
}

// choose makes a selection the one that holds.
func (t *Task) choose(sel timeline.Selection) {
	t.stop()
	t.sel, t.told = sel, ""
	t.search()
}

func (t *Task) index() int {
	return slices.IndexFunc(t.moments, func(m timeline.Moment) bool { return m.Key == t.chosen })
}

// wanted are the moments that are not left out.
func (t *Task) wanted() []timeline.Moment {
	return slices.DeleteFunc(slices.Clone(t.moments), func(m timeline.Moment) bool { return t.without[m.Key] })
}

// chosenSome reports whether anything narrows the moments.
func (t *Task) chosenSome() bool {
	x := t.sel
	return len(x.Kinds)+len(x.Situations)+len(x.Skaters)+len(x.Roles)+len(x.Codes)+len(x.Periods)+len(x.Cameras) > 0 ||
		x.Side != timeline.NoSide || x.Score != nil || x.OnFilm || x.Words != ""
}

// openField shows the choices of a field, or closes them.
func (t *Task) openField(f field) {
	if t.desk.Session() == nil {
		return
	}
	if t.open == f {
		f = noField
	}
	t.open, t.at = f, 0
	t.fill()
	for i, o := range t.options {
		if o.on {
			t.at = i
			break
		}
	}
	t.refresh()
}

// fill lists the open field's options.
func (t *Task) fill() {
	t.options, t.counts = nil, nil
	if t.open == noField || t.desk.Session() == nil {
		return
	}
	t.options = options(t.desk.Session(), t.sel, t.open)
	t.counts = slices.Repeat([]int{-1}, len(t.options))
	t.at = min(t.at, max(len(t.options)-1, 0))
}

// count is how many moments there would be with option i toggled.
func (t *Task) count(i int) int {
	if t.counts[i] < 0 {
		s := t.desk.Session()
		t.counts[i] = len(timeline.Find(s.Bout, s.Facts, t.options[i].toggled))
	}
	return t.counts[i]
}

func (t *Task) advance(by int) {
	if t.open != noField {
		t.at = min(max(t.at+by, 0), max(len(t.options)-1, 0))
		t.refresh()
		return
	}
	if len(t.moments) > 0 {
		t.show(min(max(t.index()+by, 0), len(t.moments)-1))
	}
}

// show chooses moment i; the film goes there.
func (t *Task) show(i int) {
	if i < 0 || i >= len(t.moments) {
		return
	}
	t.stop()
	m := t.moments[i]
	t.chosen = m.Key
	if len(m.Film) > 0 {
		t.desk.GoFilm(m.Film[0].Footage, m.Film[0].From)
	}
	t.ahead(i + 1)
	t.refresh()
}

// ahead tells the desk which film will be wanted next.
func (t *Task) ahead(from int) {
	var out []timeline.Place
	for ; from < len(t.moments) && len(out) < 2; from++ {
		if f := t.moments[from].Film; len(f) > 0 {
			out = append(out, timeline.OnFilm(f[0].Footage, f[0].From))
		}
	}
	t.desk.Ahead(out...)
}

// enter takes the choice under the mark, or loops the chosen moment.
func (t *Task) enter() {
	if t.open != noField {
		t.toggle(t.at)
		return
	}
	i := t.index()
	if i < 0 {
		return
	}
	t.stop()
	s := t.desk.Session()
	f, ok := s.Shown(t.moments[i], app.MarginsOf(t.desk.Settings()))
	if !ok {
		t.desk.Say(words.T("No film shows this moment."))
		return
	}
	t.desk.Loop(f.Footage, f.From, f.To)
}

// toggle takes option i, or gives it back.
func (t *Task) toggle(i int) {
	if i >= 0 && i < len(t.options) {
		t.at = i
		t.choose(t.options[i].toggled)
	}
}

func (t *Task) toggleFilm() {
	x := t.sel
	x.OnFilm = !x.OnFilm
	t.choose(x)
}

// takeBack drops the last choice shown.
func (t *Task) takeBack() {
	if s := t.desk.Session(); s != nil {
		if a := active(s, t.sel); len(a) > 0 {
			t.choose(a[len(a)-1].toggled)
		}
	}
}

// escape closes the choices, else stops playing, else clears all.
func (t *Task) escape() {
	switch {
	case t.open != noField:
		t.openField(t.open)
	case t.run != nil:
		t.stop()
		t.refresh()
	default:
		t.without = map[string]bool{}
		t.choose(timeline.Selection{})
	}
}

// begin takes a ready-made selection.
func (t *Task) begin(i int) {
	if t.desk.Session() == nil {
		return
	}
	s := starts()[i]
	t.open = noField
	t.choose(s.sel)
	if s.open != noField {
		t.openField(s.open)
	}
}

// leaveOut leaves the chosen moment out of what is played and cut, or takes it in.
func (t *Task) leaveOut() {
	i := t.index()
	if i < 0 || t.open != noField {
		return
	}
	if k := t.moments[i].Key; t.without[k] {
		delete(t.without, k)
	} else {
		t.without[k] = true
	}
	if i+1 < len(t.moments) {
		t.chosen = t.moments[i+1].Key
	}
	t.refresh()
}

// writeWords opens the field for words.
func (t *Task) writeWords() {
	if t.panel != nil && t.desk.Session() != nil {
		t.panel.openWords(t.sel.Words)
	}
}
