package log

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/logging"
	"whistlecut/timeline"
)

// panel is what the task shows: the jam as rows of the score sheet, what is open,
// the keys, and the last tags.
type panel struct {
	t    *Task
	root *fyne.Container
	view fyne.CanvasObject // main with its bar
	main *container.Scroll
	pile *fyne.Container

	title, state, period *canvas.Text
	blind, guided        *look.Chip
	score                *look.ScoreRows
	said                 *look.Paragraph // what the last key had to say
	told                 *look.Paragraph // what is not settled
	ease                 *look.Paragraph // nothing of both
	easy                 bool            // that is so
	ask                  *askBar
	offers               *fyne.Container
	offer                [2]*look.Chip
	names                [2]*canvas.Text
	caps                 [2][]*look.Keycap
	ids                  map[string]*look.Keycap // by action
	lit                  *look.Keycap
	more                 *look.Paragraph // what other keys do: one of the two below
	keysLong, keysShort  string
	rows                 *look.Rows
	last, undo           *canvas.Text
	waiting              *look.Chip

	open  bool // lists what is not settled in the whole bout
	lines []logging.Line
	wait  []logging.Unsettled
	bout  timeline.Bout
	at    int // of them, the chosen one
	jam   timeline.Jam
	rules timeline.RuleSet
}

// Widths of the last tags' columns: side, time, what, state.
var columns = []look.Column{{Width: 14}, {Width: 50, Right: true}, {}, {Width: 16}}

func newPanel(t *Task) *panel {
	p := &panel{t: t, root: container.NewStack(), ids: map[string]*look.Keycap{}}
	p.title, p.state = look.Title(""), look.Line("", look.Now.Accent, look.RowSize)
	p.state.TextStyle.Bold = true
	p.period = look.Line("", look.Now.Quiet, look.NoteSize)
	p.blind = look.NewChip(words.T("blind"), "", func() { t.setBlind(true) })
	p.guided = look.NewChip(words.T("guided"), "", func() { t.setBlind(false) })
	head := container.New(heading{}, p.title, p.state, p.period, p.blind, p.guided)

	p.score = look.NewScoreRows()
	p.told = look.NewParagraph("", look.Now.Unsure, look.RowSize)
	p.said = look.NewParagraph("", look.Now.Accent, look.RowSize)
	p.ease = look.NewParagraph("", look.Now.Quiet, look.RowSize)
	p.ask = newAskBar()
	for i, s := range timeline.Sides {
		p.offer[i] = look.NewChip("", "", func() { t.press(logging.Key{Act: logging.Confirm, Side: s}) })
		p.offer[i].Shape, p.offer[i].Colour = look.Bar, look.Now.Of(s)
		p.names[i] = look.Line("", look.Now.Of(s), look.NoteSize)
		p.names[i].TextStyle.Bold = true
	}
	p.offers = container.New(even{}, p.offer[0], p.offer[1])
	p.more = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	p.rows = look.NewRows(columns, p.count, p.line)
	p.rows.Chosen = func(i int) { p.pick(i) }
	p.rows.Opened = func(i int) {
		if !p.open {
			t.showChosen()
		}
	}
	p.undo = look.Line("", look.Now.Quiet, look.NoteSize)
	p.last = look.Line("", look.Now.Text, look.RowSize)
	p.last.TextStyle.Bold = true
	p.waiting = look.NewChip("", "", t.toggleOpen)
	p.waiting.Shape = look.Triangle

	keys := container.New(look.Pile{Gap: 2}, p.names[0], p.row(timeline.Home), look.Gap(2), p.names[1], p.row(timeline.Away))
	p.pile = container.New(
		look.Pile{Fill: p.rows, Least: 3 * (look.Size(look.RowSize) + 14), Gap: 6},
		head, p.score, p.said, p.told, p.ease, p.ask, p.offers, keys, p.more, look.Rule(),
		container.New(heading{}, p.last, p.undo, p.waiting), p.rows,
	)
	p.view, p.main = look.Scroll(container.New(look.Inset{Side: 2}, p.pile)) // room for the edges of what lies at the sides
	p.view = container.New(fitting{p}, p.view)
	return p
}

// row is the legend of one side's keys.
func (p *panel) row(s timeline.Side) fyne.CanvasObject {
	box := container.New(even{})
	for _, k := range rowKeys() {
		k.key.Side = s
		id := actionOf(s, k.id)
		c := look.NewKeycap("", k.cap, look.Now.Of(s), func() {
			p.t.press(k.key)
			p.light(id)
		})
		p.ids[id] = c
		p.caps[s.Index()] = append(p.caps[s.Index()], c)
		box.Add(c)
	}
	return box
}

// light lights the key that was pressed last.
func (p *panel) light(action string) {
	if p.lit != nil {
		p.lit.Light(false)
	}
	if p.lit = p.ids[action]; p.lit != nil {
		p.lit.Light(true)
	}
}

// nothing is shown while no bout is open.
func (p *panel) nothing() { p.set(look.Empty(words.T("Log"), words.T("Open a bout to log it."))) }

func (p *panel) set(o fyne.CanvasObject) {
	if len(p.root.Objects) != 1 || p.root.Objects[0] != o {
		p.root.Objects = []fyne.CanvasObject{o}
		p.root.Refresh()
	}
}

// show draws everything anew.
func (p *panel) show(v logging.View, s logging.Standing) {
	if len(v.Facts.Footage) == 0 {
		next := look.NewButton(words.T("Add footage"), "", func() { p.t.desk.Show(task.Align) }).Strong()
		p.set(look.Empty(words.T("No film to log yet"), words.T("Add the footage of this bout. The whistles on it place the jams; without them, Enter starts each jam while the film runs."), next))
		return
	}
	p.rules, p.bout = v.Bout.Rules, v.Bout
	p.heading(v, s)
	p.scoreRows(v, s)
	p.sentences(v, s)
	p.asking(v, s)
	p.offering(v)
	p.legend(v)
	p.lastTags(v)
	p.fit()
	p.set(p.view)
	p.pile.Refresh()
	p.main.Refresh()
}

// fitting lays the panel out and lets what can be missed give way on a low window.
type fitting struct{ p *panel }

func (f fitting) MinSize(o []fyne.CanvasObject) fyne.Size { return look.Inset{}.MinSize(o) }

func (f fitting) Layout(o []fyne.CanvasObject, size fyne.Size) {
	look.Inset{}.Layout(o, size)
	f.p.fit()
}

// fit shows the other keys in full where everything has room, else the few that a
// running jam needs and where the rest is listed.
func (p *panel) fit() {
	room, width := p.main.Size().Height, p.pile.Size().Width
	p.more.Set(p.keysLong)
	visible(p.ease, p.easy)
	if room == 0 || width == 0 || p.wants(width) <= room {
		return
	}
	p.more.Set(p.keysShort)
	p.ease.Hide()
}

// wants is the height of all that is shown at a width.
func (p *panel) wants(width float32) float32 {
	p.more.Resize(fyne.NewSize(width, p.more.Size().Height))
	return p.pile.MinSize().Height
}

func (p *panel) heading(v logging.View, s logging.Standing) {
	p.title.Text, p.period.Text = words.T("No jam yet"), ""
	p.jam = timeline.Jam{}
	if s.Jam >= 0 {
		p.jam = v.Bout.Jams[s.Jam]
		p.title.Text = words.T("Jam {.jam}", "jam", p.jam.Number)
		p.period.Text = words.T("period {.period}", "period", p.jam.Period)
		if p.jam.Overtime {
			p.period.Text = words.T("overtime")
		}
	}
	p.state.Color = look.Now.Quiet
	switch s.State {
	case logging.Running:
		p.state.Text, p.state.Color = words.T("running"), look.Now.Accent
	case logging.Over:
		p.state.Text = words.T("over")
	default:
		p.state.Text = words.T("not started")
	}
	p.blind.Set(words.T("blind"), !p.t.guided())
	p.guided.Set(words.T("guided"), p.t.guided())
	p.title.Refresh()
	p.state.Refresh()
	p.period.Refresh()
}

// scoreRows are the jam's lines as the recount has them; a star pass makes two of one.
func (p *panel) scoreRows(v logging.View, s logging.Standing) {
	var lines []look.ScoreLine
	for _, side := range timeline.Sides {
		head := "–"
		rows := []timeline.JamRow{{Side: side}}
		if s.Jam >= 0 {
			head, rows = strconv.Itoa(p.jam.Number), p.jam.Sides[side.Index()].Rows
		}
		for _, r := range rows {
			switch {
			case r.Spacer:
			case r.StarPass:
				lines = append(lines, look.ScoreLine{Head: "SP", Side: side, Row: r})
			default:
				lines = append(lines, look.ScoreLine{Head: head, Side: side, Row: r})
			}
		}
	}
	p.score.Set(lines...)
}

// sentences say what is not settled, and what the last key had to say.
func (p *panel) sentences(v logging.View, s logging.Standing) {
	var open []string
	if s.Jam >= 0 {
		for _, side := range timeline.Sides {
			for _, tr := range p.jam.Sides[side.Index()].Trips {
				if !tr.Points.Sure() {
					open = append(open, words.T("{.side} trip {.trip}", "side", terms.Side(side), "trip", tr.Number))
				}
			}
		}
	}
	settle := p.t.keyName("log.settle")
	n := len(v.Unsettled())
	text := ""
	switch {
	case len(open) > 0:
		text = words.T("Not sure: {.what}. The recount is a range; {.key} settles it.", "what", strings.Join(open, ", "), "key", settle)
	case n > 0:
		text = words.N(n, "{.n} tag is not settled: {.key} goes there.", "{.n} tags are not settled: {.key} goes to the next.", "key", settle)
	}
	say := p.t.sentence(p.t.say)
	whose := map[logging.Act]logging.Sentence{logging.CallOff: logging.WhoCalled, logging.Timeout: logging.WhoseTimeout, logging.Review: logging.WhoseReview}
	switch {
	case p.t.m.Asking() != logging.NoAct:
		say = p.t.sentence(logging.Say{What: whose[p.t.m.Asking()]})
	case p.t.m.Armed():
		say = p.t.sentence(logging.Say{What: logging.NextNotSeen})
	}
	p.said.Set(say)
	p.told.Set(text)
	p.ease.Set(words.T("Everything so far is settled."))
	visible(p.said, say != "")
	visible(p.told, say == "" && text != "")
	p.easy = say == "" && text == ""
}

// idle says what Enter does when no number is asked for.
func (p *panel) idle(v logging.View, s logging.Standing) string {
	edge, period := p.t.keyName("log.edge"), p.t.keyName("log.period")
	switch {
	case s.State == logging.Running:
		return words.T("{.key} ends the jam.", "key", edge)
	case p.jam.Period == 0:
		return words.T("{.key} starts the first jam here.", "key", edge)
	case p.jam.Period >= v.Bout.Rules.Periods:
		return words.T("{.key} starts the next jam, {.period} an overtime jam.", "key", edge, "period", period)
	}
	return words.T("{.key} starts the next jam, {.period} the next period.", "key", edge, "period", period)
}

// asking shows the number that is wanted, else what is corrected.
func (p *panel) asking(v logging.View, s logging.Standing) {
	ask, more, ok := p.t.m.Prompt(v)
	e, chosen := p.t.m.Chosen()
	switch {
	case ok:
		hint := words.T("{.key} not seen", "key", p.t.keyName("log.notseen"))
		if ask.Asks == logging.AskPenalised {
			hint = words.T("Shift+letter: code") + " · " + hint
		}
		value := ask.Typed + "_"
		if ask.Typed == "" && ask.Guess != "" {
			value = string(ask.Guess) + "?"
			hint = words.T("{.key} yes", "key", p.t.keyName(actionOf(ask.Side, "confirm"))) + " · " + hint
		}
		if more > 0 {
			hint += " · +" + strconv.Itoa(more)
		}
		p.ask.set(asks(ask), value, hint, look.Now.Of(ask.Side))
	case chosen:
		what := ""
		for _, l := range v.Recent() {
			if l.Entry == e {
				what = p.what(l)
			}
		}
		if t, there := v.Facts.Tags[e.Tag]; there && what == "" {
			what = describe(t, "", p.rules)
		}
		p.ask.set(words.T("Correct:"), what, words.T("{.here} moves here · {.del} removes · {.esc} done", "here", p.t.keyName("log.here"), "del", p.t.keyName("log.delete"), "esc", p.t.keyName("log.call")), look.Now.Accent)
	default:
		p.ask.set("", "", p.idle(v, s), look.Now.Line)
	}
}

// offering shows what the sheet expects of each side; in blind logging there is nothing.
func (p *panel) offering(v logging.View) {
	visible(p.offers, p.t.guided() && v.Sheet != nil)
	for i, s := range timeline.Sides {
		text := words.T("nothing more")
		if o, ok := v.Offer(s); ok {
			text = offered(o)
		}
		p.offer[i].Hint = p.t.keyName(actionOf(s, "confirm"))
		p.offer[i].On = false
		p.offer[i].Text = words.T("sheet: {.what}", "what", text)
		p.offer[i].Refresh()
	}
}

// legend says what is on the keys and what they do now.
func (p *panel) legend(v logging.View) {
	for i, s := range timeline.Sides {
		p.names[i].Text = terms.Side(s)
		if n := v.Bout.Teams[i].Name; n != "" {
			p.names[i].Text += " · " + n
		}
		p.names[i].Refresh()
		through := p.jam.Sides[s.Other().Index()].Lead && !p.jam.Sides[i].Lead
		for n, k := range rowKeys() {
			c := p.caps[i][n]
			does := k.cap
			if k.id == "lead" && through {
				does = words.T("trip 1")
			}
			if letter := p.t.keyName(actionOf(s, k.id)); c.Letter != letter || c.Does != does {
				c.Letter, c.Does = letter, does
				c.Refresh()
			}
		}
	}
	p.undo.Text = words.T("{.key} undo", "key", p.t.deskKey("bout.undo", "Ctrl+Z"))
	p.keysShort = strings.Join([]string{
		words.T("{.key} call-off", "key", p.t.keyName("log.call")),
		words.T("{.key} not seen", "key", p.t.keyName("log.notseen")),
		words.T("{.key} all keys", "key", p.t.deskKey("bout.keys", "F1")),
	}, " · ")
	p.keysLong = strings.Join([]string{
		words.T("{.key} call-off", "key", p.t.keyName("log.call")),
		words.T("{.key} not seen", "key", p.t.keyName("log.notseen")),
		words.T("{.home} and {.away} initial trip, NI", "home", p.t.keyName("log.home.initial"), "away", p.t.keyName("log.away.initial")),
		words.T("{.key} injury", "key", p.t.keyName("log.injury")),
		words.T("{.key} timeout", "key", p.t.keyName("log.timeout")),
		words.T("{.key} review", "key", p.t.keyName("log.review")),
		words.T("{.key} line-ups", "key", p.t.keyName("log.lineups")),
		words.T("{.up}{.down} correct", "up", p.t.keyName("log.up"), "down", p.t.keyName("log.down")),
		words.T("{.key} mark", "key", p.t.deskKey("bout.mark", "F")),
	}, " · ")
}

func visible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}
