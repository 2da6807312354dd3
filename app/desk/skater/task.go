// Package skater is the page of one skater: her jams, points and penalties, each
// with the way to the film, over the open bout and others; with room for words, and
// her reel and her pack in one choice each.
package skater

import (
	"context"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/export/print"
	"whistlecut/timeline"
)

// Task is the page.
type Task struct {
	desk   task.Desk
	shown  bool
	stale  bool
	who    timeline.SkaterRef
	others []*app.Session // read from other bout files, which are closed again
	pg     app.SkaterPage
	of     []*app.Session // of each bout on the page
	say    print.Speech
	root   *fyne.Container
	page   *ledger.Page
	told   *look.Paragraph
	notice string       // of the pack or file made last
	asking *form.Dialog // opened last
	saving *ledger.Saving
	packed *packForm
	wrote  *wordsForm
	// pack makes the pack; tests put another in its place.
	pack func(ctx context.Context, a *app.App, s *app.Session, who timeline.SkaterRef, o reels.PackOptions) (reels.Packed, error)
}

// New makes the page; nothing is counted until it is shown.
func New(d task.Desk) *Task { return &Task{desk: d, stale: true, pack: reels.Pack} }

// ID names the page and the scope of its keys.
func (t *Task) ID() string { return task.Skater }

// Title is the page's name.
func (t *Task) Title() string { return words.T("Skater's page") }

// Waiting is nothing.
func (t *Task) Waiting() int { return 0 }

// Wide says that tables need room.
func (t *Task) Wide() bool { return true }

// Of takes a skater; nobody leaves the one there was.
func (t *Task) Of(who timeline.SkaterRef) {
	if who.Side != timeline.NoSide && who.Number != "" && who != t.who {
		t.who, t.stale, t.notice = who, true, ""
		if t.page != nil {
			t.page.Top()
		}
	}
}

// Panel builds the page.
func (t *Task) Panel() fyne.CanvasObject {
	if t.root == nil {
		t.root = container.NewStack()
		t.page = ledger.NewPage()
		t.told = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	}
	return t.root
}

// Shown counts anew where the bout has changed, and asks for a skater where none
// was chosen.
func (t *Task) Shown() {
	t.shown = true
	if t.who.Number == "" && t.desk.Session() != nil {
		t.stale = true
		t.refresh()
		t.choose()
		return
	}
	if t.stale {
		t.refresh()
	}
}

// Leave notes that another task is shown.
func (t *Task) Leave() { t.shown = false }

// Changed takes new facts in; while another task is shown that can wait.
func (t *Task) Changed() {
	t.stale = true
	if t.shown {
		t.refresh()
	}
}

// refresh counts and shows anew.
func (t *Task) refresh() {
	if t.root == nil {
		return
	}
	t.stale = false
	t.say = print.Speak(words.Code())
	s := t.desk.Session()
	back := look.NewButton(words.T("back"), words.T("Esc"), t.desk.Back)
	var empty fyne.CanvasObject
	switch {
	case s == nil:
		empty = look.Empty(words.T("No bout is open"), "")
	case t.who.Number == "":
		empty = look.Empty(words.T("No skater is chosen"), words.T("A skater's page has her jams, points and penalties, her reel and her pack."),
			container.NewHBox(look.NewButton(words.T("Choose a skater"), "S", t.choose).Strong(), back))
	default:
		if err := t.count(s); err != nil {
			empty = look.Empty(words.T("Nothing is known of this skater"), words.T("No roster, line-up or penalty of the bout has {.who}.", "who", t.who),
				container.NewHBox(look.NewButton(words.T("Choose a skater"), "S", t.choose).Strong(), back))
		}
	}
	if empty != nil {
		t.root.Objects = []fyne.CanvasObject{empty}
		t.root.Refresh()
		return
	}
	t.page.Set(t.content()...)
	t.told.Set(t.notice)
	t.root.Objects = []fyne.CanvasObject{t.around()}
	t.root.Refresh()
}

// count makes the page's numbers; it is an error when the open bout does not know her.
func (t *Task) count(s *app.Session) error {
	t.of = []*app.Session{s}
	_, err := app.PageOf(t.of, t.who.String())
	if err != nil {
		return err
	}
	for _, x := range t.others {
		if p, err := app.PageOf([]*app.Session{s, x}, t.who.String()); err == nil && len(p.Bouts) == 2 {
			t.of = append(t.of, x)
		}
	}
	t.pg, err = app.PageOf(t.of, t.who.String())
	return err
}

// around is what stands above the page and below it.
func (t *Task) around() fyne.CanvasObject {
	head := container.New(&look.Flow{Gap: look.Near, Ends: true}, look.Title(t.name()), look.NewChip(words.T("back"), words.T("Esc"), t.desk.Back))
	chips := container.New(&look.Flow{Gap: look.Tight},
		look.NewChip(words.T("another skater"), "S", t.choose),
		look.NewChip(words.T("more bouts"), "B", t.more),
		look.NewChip(words.T("her words"), "W", func() { t.write(timeline.BySkater) }),
		look.NewChip(words.T("the coach's words"), "C", func() { t.write(timeline.ByCoach) }))
	if len(t.others) > 0 {
		chips.Add(look.NewChip(words.T("this bout only"), "X", t.alone))
	}
	foot := container.New(&look.Flow{Gap: look.Tight})
	for _, x := range []struct {
		text, key string
		do        func()
	}{{words.T("her reel"), "E", t.reel}, {words.T("her pack"), "K", t.askPack}, {words.T("save as PDF"), "P", t.save}} {
		foot.Add(look.NewLargeChip(x.text, x.key, x.do))
	}
	return container.New(look.Pile{Fill: t.page.View, Least: 160, Gap: look.Near}, head, chips, look.Rule(), t.page.View, t.told, foot)
}

// name is her number and name, and her team.
func (t *Task) name() string {
	s := t.desk.Session()
	team := s.Bout.Teams[t.who.Side.Index()]
	k, _ := team.Find(t.who.Number)
	return strings.TrimSpace(string(t.who.Number)+" "+k.Name) + ", " + t.say.Team(team.Name, t.who.Side)
}

// choose asks for a skater of the bout.
func (t *Task) choose() {
	s := t.desk.Session()
	if s == nil {
		return
	}
	var refs []timeline.SkaterRef
	var texts []string
	for _, side := range timeline.Sides {
		team := s.Bout.Teams[side.Index()]
		numbers := map[timeline.Number]bool{}
		for _, k := range team.Roster {
			numbers[k.Number] = true
		}
		for _, j := range s.Bout.Jams {
			for n := range j.Sides[side.Index()].Lineup {
				numbers[n] = true
			}
		}
		delete(numbers, "")
		first := len(refs)
		for n := range numbers {
			refs = append(refs, timeline.SkaterRef{Side: side, Number: n})
		}
		slices.SortFunc(refs[first:], func(a, b timeline.SkaterRef) int { return strings.Compare(string(a.Number), string(b.Number)) })
		for _, r := range refs[first:] {
			k, _ := team.Find(r.Number)
			texts = append(texts, strings.TrimSpace(string(r.Number)+" "+k.Name)+"  |  "+print.Speak(words.Code()).Team(team.Name, side))
		}
	}
	if len(refs) == 0 {
		t.desk.Say(words.T("This bout has no roster and no line-up yet."))
		return
	}
	t.asking = form.Choose(t.desk.Window(), words.T("Whose page?"), texts, max(slices.Index(refs, t.who), 0), func(i int) {
		t.Of(refs[i])
		t.refresh()
	})
}

// Actions are the keys of the page.
func (t *Task) Actions() []keys.Action {
	act := func(id, title string, repeats bool, run func(), chords ...string) keys.Action {
		a := keys.Action{ID: "skater." + id, Scope: task.Skater, Title: title, Group: t.Title(), Repeats: repeats}
		a.Run = func() {
			if t.page != nil {
				run()
			}
		}
		a.Keys = keys.Chords(chords...)
		return a
	}
	return []keys.Action{
		act("up", words.T("row before"), true, func() { t.page.Advance(-1) }, "Up"),
		act("down", words.T("next row"), true, func() { t.page.Advance(1) }, "Down"),
		act("pageup", words.T("a page up"), true, func() { t.page.Turn(-1) }, "Prior"),
		act("pagedown", words.T("a page down"), true, func() { t.page.Turn(1) }, "Next"),
		act("open", words.T("go where the row leads"), false, func() { t.page.Open() }, "Return", "KP_Enter"),
		act("call", words.T("the call of the penalty on film, instead of the act"), false, t.call, "A"),
		act("choose", words.T("another skater"), false, t.choose, "S"),
		act("more", words.T("take in another bout"), false, t.more, "B"),
		act("alone", words.T("this bout only"), false, t.alone, "X"),
		act("words", words.T("write her words"), false, func() { t.write(timeline.BySkater) }, "W"),
		act("coach", words.T("write the coach's words"), false, func() { t.write(timeline.ByCoach) }, "C"),
		act("reel", words.T("her moments as a new reel"), false, t.reel, "E"),
		act("pack", words.T("her clips as a pack"), false, t.askPack, "K"),
		act("save", words.T("save as PDF"), false, t.save, "P"),
		act("leave", words.T("back"), false, t.desk.Back, "Escape"),
	}
}

// Moved does nothing: the page does not follow the film.
func (t *Task) Moved(task.Now) {}

// ready reports whether a skater is chosen; else it says so.
func (t *Task) ready() bool {
	if t.desk.Session() == nil || t.who.Number == "" || len(t.pg.Bouts) == 0 {
		t.desk.Say(words.T("Choose a skater first: S."))
		return false
	}
	return true
}
