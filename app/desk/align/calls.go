package align

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// calls is the section of the sheet's penalties: each gets the long blasts of its
// jam as candidates for its call.
type calls struct {
	t      *Task
	list   *look.Rows
	detail *widget.Label
	keys   *fyne.Container // the candidates of the chosen penalty
	page   *either
	seek   *look.Button
	found  []app.PenaltyCalls // from the last listening, by jam
	looked bool
	rows   []penaltyRow
	played int // candidate played last, from 0
}

// penaltyRow is one penalty of the sheet with its tag, if it has one.
type penaltyRow struct {
	app.PenaltyCalls
	tag  timeline.Tag
	have bool
}

// placed reports whether the call has a place on film.
func (r penaltyRow) placed() bool { return r.have && r.tag.Place.HasTime() }

func (r penaltyRow) acted() bool {
	return r.have && r.tag.Penalty != nil && r.tag.Penalty.Act.HasTime()
}

func (c *calls) title() string { return words.T("Penalties of the sheet") }

func (c *calls) status() (string, look.Shape) {
	c.load()
	open := len(c.open())
	switch {
	case len(c.rows) == 0:
		return words.T("none"), look.NoShape
	case open > 0:
		return words.N(open, "{.n} without its call on film", "{.n} without their call on film"), look.NoShape
	}
	return words.T("all on film"), look.Tick
}

// open are the penalties without a call on film.
func (c *calls) open() []penaltyRow {
	return slices.DeleteFunc(slices.Clone(c.rows), penaltyRow.placed)
}

// load lists the sheet's penalties with what was heard for each and its tag.
func (c *calls) load() {
	c.rows = nil
	s, paper := c.t.desk.Session(), c.t.desk.Sheet()
	if s == nil || paper == nil {
		return
	}
	base := c.found
	if len(base) != len(paper.Penalties) {
		base = nil // another sheet than the one listened for
		for i, p := range paper.Penalties {
			base = append(base, app.PenaltyCalls{
				Row: i, Period: max(p.Period.Value, 1), Number: p.Jam.Value, Side: p.Side, Skater: p.Skater.Value, Code: p.Code.Value,
			})
		}
	}
	used := map[timeline.ID]bool{}
	for _, p := range base {
		r := penaltyRow{PenaltyCalls: p}
		for _, j := range s.Bout.Jams {
			if j.Period == p.Period && j.Number == p.Number {
				r.Jam = j.ID
				r.tag, r.have = tagOf(s, j, p, used)
			}
		}
		c.rows = append(c.rows, r)
	}
	slices.SortStableFunc(c.rows, func(x, y penaltyRow) int {
		if x.Period != y.Period {
			return x.Period - y.Period
		}
		return x.Number - y.Number
	})
}

// tagOf is the tag of a jam that says the same penalty; each is taken once.
func tagOf(s *app.Session, j timeline.Jam, p app.PenaltyCalls, used map[timeline.ID]bool) (timeline.Tag, bool) {
	for _, id := range j.Tags {
		t, ok := s.Facts.Tags[id]
		if !ok || used[id] || t.Kind != timeline.KindPenalty || t.Penalty == nil || t.Side != p.Side || t.Who.Number != p.Skater {
			continue
		}
		if t.Penalty.Code != "" && p.Code != "" && t.Penalty.Code != p.Code {
			continue
		}
		used[id] = true
		return t, true
	}
	return timeline.Tag{}, false
}

func (c *calls) content() fyne.CanvasObject {
	columns := []look.Column{{Width: 13}, {Width: 58}, {Width: 8}, {Width: 40, Right: true}, {Width: 18}, {}}
	c.list = look.NewRows(columns, func() int { return len(c.rows) }, c.cells)
	c.list.Chosen = func(int) { c.played = -1; c.tell(); c.play(0) }
	c.list.Opened = func(int) { c.play(0) }
	c.detail = note()
	c.keys = newFlow()
	c.seek = c.t.button(words.T("Listen for the calls"), "G", "listen")
	buttons := newFlow(
		c.t.button(words.T("This is the call"), "↵", doEnter), c.t.button(words.T("The act was now"), "A", doAdd),
		c.t.button(words.T("Call is now"), "H", doHere), c.t.button(words.T("Take off film"), words.T("Del"), doRemove), c.seek,
	)
	whole := form.Column(c.list, newHeadings(columns, "", words.T("Jam"), "", words.T("Skater"), "", words.T("Call and act")), c.list, c.keys, c.detail, buttons)
	empty := look.Empty(words.T("No penalties on the sheet"),
		words.T("With a penalty sheet, each of its penalties is offered the long whistle blasts of its jam; you pick the call and show the act."),
		look.NewButton(words.T("Go to the sheet"), "", func() { c.t.show(atSheet) }))
	c.page = newEither(empty, whole)
	return c.page.box
}

func (c *calls) shown() {}

func (c *calls) refresh() {
	c.load()
	if c.page == nil {
		return
	}
	c.page.show(len(c.rows) == 0)
	if c.looked {
		c.seek.Hide()
	} else {
		c.seek.Show()
	}
	at := c.list.Index()
	if at < 0 && len(c.rows) > 0 {
		at = max(slices.IndexFunc(c.rows, func(r penaltyRow) bool { return !r.placed() }), 0)
	}
	c.list.Mark(at)
	c.tell()
}

func (c *calls) chosen() (penaltyRow, bool) {
	if c.list == nil {
		return penaltyRow{}, false
	}
	if i := c.list.Index(); i >= 0 && i < len(c.rows) {
		return c.rows[i], true
	}
	return penaltyRow{}, false
}

func (c *calls) cells(i int) []look.Cell {
	r := c.rows[i]
	state := look.Cell{Colour: look.Now.Quiet}
	shape := look.Cell{Shape: look.Ring}
	switch {
	case r.placed() && r.acted():
		shape.Shape = look.Tick
		state.Text = words.T("call {.call}, act {.act}", "call", c.inJam(r, r.tag.Place), "act", c.inJam(r, r.tag.Penalty.Act))
	case r.placed():
		shape.Shape = look.Tick
		state.Text = words.T("call {.call}, act not shown yet", "call", c.inJam(r, r.tag.Place))
	case r.Why != "":
		state.Text = c.why(r)
	case len(r.Calls) > 0:
		shape.Shape = look.Triangle
		state.Text = words.N(len(r.Calls), "{.n} long blast", "{.n} long blasts")
	case !c.looked:
		state.Text = words.T("not listened yet")
	default:
		state.Text = words.T("nothing heard")
	}
	return []look.Cell{
		shape,
		{Text: jamName(r.Period, r.Number), Mono: true},
		{Shape: look.Bar, Colour: look.Now.Of(r.Side)},
		{Text: string(r.Skater), Mono: true, Bold: true},
		{Text: r.Code, Mono: true},
		state,
	}
}

// why says in the language spoken why a penalty has no candidates.
func (c *calls) why(r penaltyRow) string {
	switch {
	case r.Number == 0:
		return words.T("the sheet names no jam")
	case r.Jam == "":
		return words.T("the bout has no such jam")
	}
	s := c.t.desk.Session()
	if _, _, on := s.Bout.Alignment.FilmOf(timeline.InJam(r.Jam, 0)); on {
		return words.T("no long blast in the jam")
	}
	return words.T("the jam is not on film")
}

// inJam is a place as jam time where that is known, else as film time.
func (c *calls) inJam(r penaltyRow, p timeline.Place) string {
	s := c.t.desk.Session()
	if p.Footage != "" {
		if off, ok := s.Bout.Alignment.OffsetIn(r.Jam, p.Footage, p.Film); ok && off >= 0 {
			return terms.Clock(off, 1)
		}
		return terms.Clock(p.Film, 1)
	}
	return terms.Clock(p.Offset, 1)
}

// tell shows the candidates of the chosen penalty and what the rules call it.
func (c *calls) tell() {
	defer c.page.relay()
	c.keys.RemoveAll()
	r, ok := c.chosen()
	if !ok {
		c.detail.SetText("")
		return
	}
	for i, x := range r.Calls[:min(len(r.Calls), 5)] {
		colour := look.Now.Quiet
		k := look.NewKeycap(fmt.Sprint(i+1), terms.Clock(x.InJam, 1)+"  "+percent(x.Chance), colour, func() { c.play(i) })
		k.Lit = i == c.played
		c.keys.Add(wideCap(k))
	}
	name := r.Code
	s := c.t.desk.Session()
	if code, ok := s.Bout.Rules.Code(r.Code); ok {
		name = terms.Penalty(code.Name)
	}
	who := string(r.Skater)
	if r.Side != timeline.NoSide {
		if k, ok := s.Facts.Teams[r.Side.Index()].Find(r.Skater); ok && k.Name != "" {
			who += " " + k.Name
		}
	}
	text := strings.TrimSpace(who + ": " + name)
	switch {
	case len(r.Calls) > 0 && !r.placed():
		text += ". " + words.T("1 to 5 play a blast, Enter takes it as the call.")
	case r.placed() && !r.acted():
		text += ". " + words.T("Step back to the act and press A.")
	case !r.placed():
		text += ". " + words.T("Show the call on the film and press H.")
	}
	c.detail.SetText(text)
	c.keys.Refresh()
}

// play shows the film from a little before candidate i.
func (c *calls) play(i int) {
	r, ok := c.chosen()
	if !ok {
		return
	}
	if r.placed() && c.played < 0 && i == 0 {
		c.t.desk.Go(r.tag.Place)
		return
	}
	if i < 0 || i >= len(r.Calls) {
		return
	}
	c.played = i
	x := r.Calls[i]
	c.t.desk.Loop(x.Footage, max(x.Film-runUp, 0), x.Film+runPast)
	c.t.desk.Play()
	c.tell()
}

func (c *calls) do(verb string) bool {
	r, ok := c.chosen()
	if n, is := strings.CutPrefix(verb, callVerb); is && ok {
		if i := int(n[0] - '1'); i < len(r.Calls) {
			c.play(i)
		}
		return true
	}
	switch verb {
	case doUp:
		c.list.Advance(-1)
	case doDown:
		c.list.Advance(1)
	case doEnter:
		if ok {
			c.take(r)
		}
	case doHere:
		if n := c.t.at(); ok && n.Footage != "" {
			c.call(r, n.Place())
		}
	case doAdd:
		if ok {
			c.act(r)
		}
	case doRemove:
		if r.placed() {
			r.tag.Place = timeline.JamAlone(r.Jam)
			c.t.desk.Apply(words.T("call of {.who} taken off the film", "who", r.Skater), timeline.SetTag(r.tag))
		}
	default:
		return false
	}
	return true
}

// take makes the candidate played last, or the likeliest, the call.
func (c *calls) take(r penaltyRow) {
	if len(r.Calls) == 0 {
		c.t.desk.Say(words.T("There is no blast to take; show the call on the film and press H."))
		return
	}
	x := r.Calls[min(max(c.played, 0), len(r.Calls)-1)]
	c.call(r, timeline.OnFilm(x.Footage, x.Film))
}

// call stores where the penalty was called.
func (c *calls) call(r penaltyRow, p timeline.Place) {
	if r.Jam == "" || r.Side == timeline.NoSide {
		c.t.desk.Say(words.T("The sheet does not say whose penalty it is or in which jam; correct its columns first."))
		return
	}
	t := r.tag
	if !r.have {
		t = timeline.Tag{
			ID: c.newID(r), Kind: timeline.KindPenalty, Jam: r.Jam, Side: r.Side,
			Who: timeline.Who{Number: r.Skater}, Penalty: &timeline.PenaltyInfo{Code: r.Code},
		}
		if r.Skater == "" {
			t.Who.Seen = timeline.NotSeen
		}
	}
	t.Place, t.Jam = p, r.Jam
	c.t.desk.Apply(words.T("call of {.who} at {.time}", "who", r.Skater, "time", terms.Clock(p.Film, 1)), timeline.SetTag(t))
}

// newID follows from the row's words, so that two people's work can be merged.
func (c *calls) newID(r penaltyRow) timeline.ID {
	for n := 1; ; n++ {
		id := timeline.ImportID("penalty", string(r.Jam), r.Side.String(), string(r.Skater), r.Code, fmt.Sprint(n))
		if _, taken := c.t.desk.Session().Facts.Tags[id]; !taken {
			return id
		}
	}
}

// act stores where the film stands as the moment of the act.
func (c *calls) act(r penaltyRow) {
	n := c.t.at()
	switch {
	case !r.have:
		c.t.desk.Say(words.T("Take the call first; then show the act."))
		return
	case n.Footage == "":
		c.t.desk.Say(words.T("Show the act on the film first."))
		return
	}
	p := *r.tag.Penalty
	p.Act = n.Place()
	r.tag.Penalty = &p
	if c.t.desk.Apply(words.T("act of {.who} at {.time}", "who", r.Skater, "time", terms.Clock(n.Film, 1)), timeline.SetTag(r.tag)) {
		c.onward()
	}
}

// onward chooses the next penalty that has no call on film.
func (c *calls) onward() {
	at := c.list.Index()
	for i := at + 1; i < len(c.rows); i++ {
		if !c.rows[i].placed() {
			c.list.Choose(i)
			return
		}
	}
}

// seekCalls looks for the calls of the penalties in film that is lined up.
func (c *calls) seekCalls() {
	var found []app.PenaltyCalls
	c.t.desk.Work(words.T("Listening for the calls"), func(ctx context.Context, a *app.App, s *app.Session) error {
		var err error
		found, _, err = a.PenaltyCalls(ctx, s)
		return err
	}, func(err error) {
		if err == nil {
			c.found, c.looked = found, true
			c.t.Changed()
		}
	})
}
