package desk

import (
	"slices"
	"time"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/words"
	"whistlecut/app/play"
	"whistlecut/timeline"
)

// commands are the keys that hold in every task.
func (d *Desk) commands() []keys.Action {
	film := func(do func()) func() {
		return func() {
			if d.session != nil && d.camera != "" {
				do()
			}
		}
	}
	group := words.T("Film")
	act := func(id, title string, repeats bool, run func(), chords ...string) keys.Action {
		a := keys.Action{ID: id, Title: title, Group: group, Run: run, Repeats: repeats}
		a.Keys = keys.Chords(chords...)
		return a
	}
	list := []keys.Action{
		act("film.play", words.T("play or pause"), false, film(d.toggle), "Space"),
		act("film.back", words.T("one frame back"), true, film(func() { d.step(-1) }), "Left"),
		act("film.on", words.T("one frame on"), true, film(func() { d.step(1) }), "Right"),
		act("film.second.back", words.T("one second back"), true, film(func() { d.skip(-time.Second) }), "Shift+Left"),
		act("film.second.on", words.T("one second on"), true, film(func() { d.skip(time.Second) }), "Shift+Right"),
		act("film.jam.back", words.T("jam before"), true, film(func() { d.jumpJam(-1) }), "Ctrl+Left"),
		act("film.jam.on", words.T("next jam"), true, film(func() { d.jumpJam(1) }), "Ctrl+Right"),
		act("film.faster", words.T("faster"), false, film(func() { d.speed(1) }), "Ctrl+Up"),
		act("film.slower", words.T("slower"), false, film(func() { d.speed(-1) }), "Ctrl+Down"),
		act("film.loop", words.T("loop this jam, or let it run on"), false, film(d.toggleLoop), "L"),
		act("film.louder", words.T("louder"), true, func() { d.volume(0.1) }, "F4"),
		act("film.quieter", words.T("quieter"), true, func() { d.volume(-0.1) }, "F3"),
		act("film.camera", words.T("next camera"), false, film(d.nextCamera), "F6"),
		act("film.beside", words.T("second camera beside, or not"), false, film(d.toggleSecond), "F7"),
		act("film.full", words.T("full screen, or not"), false, d.fullScreen, "F11"),
	}
	group = words.T("Strip")
	list = append(list,
		act("strip.in", words.T("zoom in"), true, func() { d.strip.ZoomIn() }, "Alt+Up"),
		act("strip.out", words.T("zoom out"), true, func() { d.strip.ZoomOut() }, "Alt+Down"),
		act("strip.left", words.T("move left"), true, func() { d.strip.Pan(-0.25) }, "Alt+Left"),
		act("strip.right", words.T("move right"), true, func() { d.strip.Pan(0.25) }, "Alt+Right"),
		act("strip.all", words.T("whole bout"), false, func() { d.strip.ShowAll() }, "Home"),
		act("strip.jam", words.T("this jam"), false, d.showThisJam, "End"),
	)
	group = words.T("Bout")
	list = append(list,
		act("bout.mark", words.T("mark this moment"), false, film(d.mark), "F"),
		act("bout.marks", words.T("list of marks"), false, d.showMarks, "F8"),
		act("bout.undo", words.T("undo"), true, d.Undo, "Ctrl+Z"),
		act("bout.redo", words.T("do again"), true, d.Redo, "Ctrl+Shift+Z", "Ctrl+Y"),
		act("bout.new", words.T("new bout"), false, d.newBout, "Ctrl+N"),
		act("bout.open", words.T("open a bout"), false, d.askOpen, "Ctrl+O"),
		act("bout.history", words.T("history"), false, d.showHistory, "Ctrl+H"),
		act("bout.numbers", words.T("the bout in numbers, or back"), false, d.showNumbers, "F9"),
		act("bout.skater", words.T("a skater's page, or back"), false, d.showSkater, "F12"),
		act("bout.preferences", words.T("preferences"), false, d.showPreferences, "Ctrl+,"),
		act("bout.menu", words.T("menu of the bout"), false, d.showMenu, "F10"),
		act("bout.keys", words.T("all keys"), false, d.showKeys, "F1"),
		act("bout.tour", words.T("tour of the desk"), false, d.showTour, "Shift+F1"),
		act("bout.close", words.T("close the bout"), false, d.askClose, "Ctrl+W"),
		act("bout.quit", words.T("quit"), false, d.Quit, "Ctrl+Q"),
	)
	group = words.T("Tasks")
	for i, t := range d.tasks {
		list = append(list, act("task."+t.ID(), t.Title(), false, func() { d.Show(t.ID()) }, "Ctrl+"+string(rune('1'+i))))
	}
	return list
}

func (d *Desk) toggle() {
	if d.Now().Playing {
		d.Pause()
	} else {
		d.Play()
	}
}

func (d *Desk) step(n int) {
	d.player.Step(n)
}

// skip moves the film by a time, across the edges of files.
func (d *Desk) skip(by time.Duration) {
	n := d.Now()
	if n.Footage == "" {
		return
	}
	at := n.Film + by
	i := slices.IndexFunc(d.playing, func(f play.Film) bool { return f.ID == n.Footage })
	if i < 0 {
		return
	}
	long := d.session.Facts.Footage[n.Footage].Duration
	switch {
	case at < 0 && i > 0:
		before := d.playing[i-1]
		d.GoFilm(before.ID, max(d.session.Facts.Footage[before.ID].Duration+at, 0))
	case long > 0 && at >= long && i+1 < len(d.playing):
		d.GoFilm(d.playing[i+1].ID, d.playing[i+1].From+at-long)
	default:
		d.GoFilm(n.Footage, max(at, 0))
	}
}

// rates are the speeds of the film: to 2 every frame is shown, at 4 frames are left out.
var rates = []float64{0.1, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 4}

func (d *Desk) speed(by int) {
	now, best := d.Now().Rate, 0
	for i, r := range rates {
		if abs(r-now) < abs(rates[best]-now) {
			best = i
		}
	}
	r := rates[min(max(best+by, 0), len(rates)-1)]
	d.player.SetRate(r)
	if d.second != nil {
		d.second.SetRate(r)
	}
	d.line.refresh()
}

func abs(v float64) float64 { return max(v, -v) }

func (d *Desk) volume(by float64) {
	v := min(max(d.set.SoundVolume()+by, 0), 1)
	d.set.Volume = &v
	d.player.SetVolume(v)
	d.keep()
	d.line.refresh()
}

// keep stores the settings and says when that fails.
func (d *Desk) keep() { d.Fail(d.set.Save()) }

// toggleLoop loops the jam shown, or ten seconds where no jam is known.
func (d *Desk) toggleLoop() {
	if d.loop {
		d.unloop()
		return
	}
	n := d.Now()
	from, to := n.Film-5*time.Second, n.Film+5*time.Second
	if j, ok := d.session.Bout.Jam(n.Jam); ok && n.InJam {
		length := j.Duration
		if length == 0 {
			length = d.session.Bout.Rules.JamLength
		}
		from, to = n.Film-n.Offset, n.Film-n.Offset+length
	}
	d.Loop(n.Footage, from, to)
}

func (d *Desk) fullScreen() {
	if d.session == nil {
		return
	}
	d.full = !d.full
	d.win.SetFullScreen(d.full)
	d.arrange()
	d.moved()
}

func (d *Desk) showThisJam() {
	if n := d.Now(); n.Jam != "" {
		d.strip.ShowJam(n.Jam)
	}
}

// mark keeps this moment; words can come later.
func (d *Desk) mark() {
	n := d.Now()
	if d.isGuest(n.Footage) {
		d.Say(words.T("This film is of another bout: mark the moment there."))
		return
	}
	if n.Footage == "" { // the film is still being opened: there is no moment yet
		d.Say(words.T("Nothing is shown yet that could be marked."))
		return
	}
	t := timeline.Tag{ID: d.session.File.Log().NewID(), Kind: timeline.KindMark, Place: n.Place()}
	if d.Apply(words.T("mark at {.time}", "time", clockText(n.Film)), timeline.SetTag(t)) {
		d.Say(words.T("Marked. F8 lists the marks, for words."))
	}
}
