package align

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// How much film is played round a jam's start that is looked at.
const (
	runUp   = 2 * time.Second
	runPast = 3 * time.Second
)

// listen is the section that lines the jams up, and the queue of doubtful ones.
type listen struct {
	t      *Task
	list   *look.Rows
	head   *widget.Label
	detail *widget.Label
	start  *look.Button
	page   *either // not lined up yet, or what follows
	some   *either // nothing is doubtful, or the list
	done   *nothingLeft
	queue  []app.JamStart
	chosen timeline.ID   // the jam that is looked at
	moved  time.Duration // by how much its start was nudged, not stored yet
	all    bool          // all jams are listed, not the doubtful ones
	notes  []string      // of the last lining up
}

func (l *listen) title() string { return words.T("Listen and line up") }

func (l *listen) status() (string, look.Shape) {
	switch n := l.t.waiting; {
	case n > 0:
		return words.N(n, "{.n} jam to look at", "{.n} jams to look at"), look.Triangle
	case l.linedUp():
		return words.T("lined up"), look.Tick
	case l.t.working:
		return words.T("listening…"), look.NoShape
	}
	return words.T("not done yet"), look.NoShape
}

// linedUp reports whether any jam has a place on film.
func (l *listen) linedUp() bool {
	s := l.t.desk.Session()
	return s != nil && slices.ContainsFunc(s.JamStarts(), func(j app.JamStart) bool { return j.Footage != "" })
}

func (l *listen) content() fyne.CanvasObject {
	columns := []look.Column{{Width: 13}, {Width: 58}, {Width: 74, Right: true}, {}, {Width: 44, Right: true}}
	l.list = look.NewRows(columns, func() int { return len(l.queue) }, l.cells)
	l.list.Chosen = func(i int) { l.take(i); l.play() }
	l.list.Opened = func(int) { l.play() }
	l.head, l.detail = look.Prose(""), note()
	l.start = l.t.button(words.T("Listen and line up"), "G", "listen").Strong()
	buttons := newFlow(
		l.t.button(words.T("Right"), "↵", doEnter), l.t.button(words.T("Not here"), words.T("Del"), doRemove),
		l.t.button(words.T("Earlier"), ",", doLess), l.t.button(words.T("Later"), ".", doMore),
		l.t.button(words.T("Starts now"), "H", doHere), l.t.button(words.T("All or doubtful"), "V", doAll),
		l.t.button(words.T("Listen again"), "G", "listen"),
	)
	whole := form.Column(l.list, l.head, newHeadings(columns, "", words.T("Jam"), words.T("Film"), words.T("Placed by"), words.T("Sure")), l.list, l.detail, buttons)
	empty := look.Empty(words.T("Not lined up yet"),
		words.T("The program listens for the whistles and places every jam on the film. With a sheet it knows the jams; without one it proposes some. Afterwards only the doubtful ones are shown to you."),
		l.start)
	l.done = newNothingLeft(l.t)
	l.some = newEither(l.done.box, whole)
	l.page = newEither(empty, l.some.box)
	return l.page.box
}

// shown plays the first jam of the queue.
func (l *listen) shown() {
	if l.t.waiting > 0 && l.chosen == "" {
		l.t.desk.Ahead(l.places()...)
	}
	if l.index() < 0 {
		l.t.desk.Unloop()
	}
	l.play()
}

// places are where the next few jams of the queue start.
func (l *listen) places() []timeline.Place {
	var out []timeline.Place
	i := max(l.index(), 0)
	for _, j := range l.queue[min(i+1, len(l.queue)):] {
		if j.Footage != "" && len(out) < 3 {
			out = append(out, timeline.OnFilm(j.Footage, max(j.Film-runUp, 0)))
		}
	}
	return out
}

func (l *listen) index() int {
	return slices.IndexFunc(l.queue, func(j app.JamStart) bool { return j.Jam == l.chosen })
}

// load lists the queue anew; the jam that is looked at stays, or the one that
// comes after it takes its place.
func (l *listen) load() {
	before, was := l.queue, l.index()
	l.queue = nil
	s := l.t.desk.Session()
	if s == nil {
		l.chosen = ""
		return
	}
	if l.all {
		l.queue = s.JamStarts()
	} else {
		l.queue = s.DoubtfulJams()
	}
	if l.index() >= 0 {
		return
	}
	l.chosen, l.moved = "", 0
	if len(l.queue) == 0 {
		return
	}
	// Gone from the queue: the next one of the old order that is still there.
	for i := max(was, 0); i < len(before); i++ {
		if slices.ContainsFunc(l.queue, func(j app.JamStart) bool { return j.Jam == before[i].Jam }) {
			l.chosen = before[i].Jam
			return
		}
	}
	l.chosen = l.queue[0].Jam
}

func (l *listen) refresh() {
	was := l.chosen
	l.load()
	if l.page == nil {
		return
	}
	s := l.t.desk.Session()
	lined := l.linedUp()
	l.page.show(!lined)
	if s == nil || len(s.Facts.Footage) == 0 || l.t.working {
		l.start.Disable()
	} else {
		l.start.Enable()
	}
	if lined {
		l.count(s.JamStarts())
		l.done.set(l.head.Text, l.notes)
	}
	l.some.show(len(l.queue) == 0 && !l.all)
	l.list.Mark(l.index())
	l.tell()
	if l.chosen != was && was != "" && l.t.shown && l.t.open() == section(l) {
		l.play()
	}
}

// count says how many jams are where.
func (l *listen) count(jams []app.JamStart) {
	sure, lost, away := 0, 0, 0
	for _, j := range jams {
		switch {
		case j.NotHere:
			away++
		case j.Hand || j.Footage != "" && !j.Doubtful():
			sure++
		case j.Footage == "":
			lost++
		}
	}
	text := words.N(len(jams), "{.n} jam.", "{.n} jams.")
	text += " " + words.N(sure, "{.n} is sure.", "{.n} are sure.")
	if d := len(jams) - sure - lost - away; d > 0 {
		text += " " + words.N(d, "{.n} is doubtful: look and accept or correct it.", "{.n} are doubtful: look and accept or correct them.")
	}
	if lost > 0 {
		text += " " + words.N(lost, "{.n} was not found.", "{.n} were not found.")
	}
	if away > 0 {
		text += " " + words.N(away, "{.n} is not on film.", "{.n} are not on film.")
	}
	l.head.SetText(text)
}

func (l *listen) cells(i int) []look.Cell {
	j := l.queue[i]
	name := look.Cell{Text: jamName(j.Period, j.Number), Mono: true}
	at, by, sure := look.Cell{Mono: true}, look.Cell{Colour: look.Now.Quiet}, look.Cell{Mono: true, Colour: look.Now.Quiet}
	shape := look.Cell{Shape: look.Triangle}
	if j.Footage != "" {
		at.Text = terms.Clock(j.Film, 1)
	}
	switch {
	case j.NotHere:
		shape.Shape, by.Text = look.Ring, words.T("not here")
	case j.Footage == "":
		shape.Shape, by.Text = look.Ring, words.T("not found")
	case j.Hand:
		shape.Shape, by.Text = look.Tick, words.T("hand")
	default:
		by.Text, sure.Text = words.T("ear"), percent(j.Confidence)
		if !j.Doubtful() {
			shape.Shape = look.Tick
		}
	}
	if j.Jam == l.chosen && l.moved != 0 {
		at.Text = terms.Clock(j.Film+l.moved, 1)
		by.Text, by.Colour = signed(l.moved), look.Now.Accent
	}
	return []look.Cell{shape, name, at, by, sure}
}

// tell says what can be done with the jam that is looked at.
func (l *listen) tell() {
	defer l.some.relay()
	i := l.index()
	switch {
	case i < 0:
		l.detail.SetText("")
	case l.moved != 0:
		l.detail.SetText(words.T("Moved by {.time}; Enter keeps it there.", "time", signed(l.moved)))
	case l.queue[i].NotHere:
		l.detail.SetText(words.T("You said that it is not here. Show its start on the film and press H to set it after all."))
	case l.queue[i].Footage == "":
		l.detail.SetText(words.T("No whistle fits this jam. Show its start on the film and press H; Delete says that no film shows it."))
	case l.queue[i].Hand:
		l.detail.SetText(words.T("Set by hand. Comma and period move it, H sets it anew."))
	default:
		l.detail.SetText(words.T("Enter if the film shows the start whistle. Comma and period move it by a frame, with Shift by a tenth of a second."))
	}
}

// take makes a jam the one that is looked at.
func (l *listen) take(i int) {
	if i < 0 || i >= len(l.queue) {
		return
	}
	if l.queue[i].Jam != l.chosen {
		l.chosen, l.moved = l.queue[i].Jam, 0
	}
	l.list.Refresh()
	l.tell()
}

// play loops a few seconds round the start that is looked at.
func (l *listen) play() {
	i := l.index()
	if i < 0 || l.queue[i].Footage == "" {
		return
	}
	j := l.queue[i]
	at := j.Film + l.moved
	l.t.frameOf(j.Footage)
	l.t.desk.Loop(j.Footage, max(at-runUp, 0), at+runPast)
	l.t.desk.Play()
	l.t.desk.Ahead(l.places()...)
}

func (l *listen) do(verb string) bool {
	if verb == doEnter && !l.linedUp() {
		l.t.LineUp()
		return true
	}
	i := l.index()
	switch verb {
	case doUp:
		l.list.Advance(-1)
		return true
	case doDown:
		l.list.Advance(1)
		return true
	case doAll:
		l.all = !l.all
		l.refresh()
		return true
	}
	if i < 0 {
		return false
	}
	j := l.queue[i]
	switch verb {
	case doEnter:
		l.accept(j)
	case doRemove:
		if !j.NotHere {
			l.forget(j)
			l.t.desk.Apply(words.T("jam {.jam} is not here", "jam", jamName(j.Period, j.Number)), l.t.desk.Session().NotThere(j)...)
		}
	case doLess, doMore, doMuchLess, doMuchMore:
		l.nudge(j, verb)
	case doHere:
		l.here(j)
	default:
		return false
	}
	return true
}

// nudge moves the start that is looked at; Enter stores it.
func (l *listen) nudge(j app.JamStart, verb string) {
	if j.Footage == "" {
		l.t.desk.Say(words.T("This jam has no place yet: show its start on the film and press H."))
		return
	}
	step := l.t.frameOf(j.Footage)
	if verb == doMuchLess || verb == doMuchMore {
		step = 100 * time.Millisecond
	}
	if verb == doLess || verb == doMuchLess {
		step = -step
	}
	l.moved = max(l.moved+step, -j.Film)
	l.list.Refresh()
	l.tell()
	l.play()
}

// accept keeps the start where it is heard, or where it was moved to.
func (l *listen) accept(j app.JamStart) {
	if j.Footage == "" || j.NotHere {
		l.t.desk.Say(words.T("This jam has no place yet: show its start on the film and press H."))
		return
	}
	l.pin(j, j.Footage, j.Film+l.moved)
}

// here sets the start to where the film stands.
func (l *listen) here(j app.JamStart) {
	n := l.t.at()
	if n.Footage == "" {
		l.t.desk.Say(words.T("Show the film at the jam's start whistle, then press H."))
		return
	}
	l.pin(j, n.Footage, n.Film)
}

func (l *listen) pin(j app.JamStart, footage timeline.ID, film time.Duration) {
	l.forget(j)
	s := l.t.desk.Session()
	if l.t.desk.Apply(words.T("jam {.jam} starts at {.time}", "jam", jamName(j.Period, j.Number), "time", terms.Clock(film, 1)), s.StartByHand(j.Jam, footage, film)...) {
		l.t.lineUpAgain()
	}
}

// forget ends the nudging of a jam that is decided on.
func (l *listen) forget(app.JamStart) { l.moved = 0 }
