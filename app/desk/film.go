package desk

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/play"
	"whistlecut/timeline"
)

// cameras lists the bout's cameras by name; the one that has most film first.
func (d *Desk) cameras() []string {
	long := map[string]time.Duration{}
	var out []string
	for _, f := range d.session.Facts.Footage {
		if _, ok := long[f.Camera]; !ok {
			out = append(out, f.Camera)
		}
		long[f.Camera] += f.Duration
	}
	slices.SortFunc(out, func(a, b string) int {
		return cmp.Or(cmp.Compare(long[b], long[a]), cmp.Compare(a, b))
	})
	return out
}

// films are a camera's files in order, for the player. One that is missing is
// handed over all the same: the player says so when it gets there.
func (d *Desk) films(camera string) []play.Film {
	var out []play.Film
	for _, f := range d.session.Facts.FootageInOrder() {
		if f.Camera != camera {
			continue
		}
		path, err := d.session.Film(f.ID)
		if err != nil {
			path = f.Path
		}
		out = append(out, play.Film{ID: f.ID, Path: path, From: f.Range.Start, To: f.Range.End, SoundOffset: f.SoundOffset})
	}
	return out
}

// loadFilm gives the player the films of the camera shown, where they changed.
func (d *Desk) loadFilm() {
	cams := d.cameras()
	if !slices.Contains(cams, d.camera) {
		d.camera = ""
		if len(cams) > 0 {
			d.camera = cams[0]
		}
	}
	if !slices.Contains(cams, d.other) || d.other == d.camera {
		d.setSecond("")
	}
	bout := d.films(d.camera)
	films := append(slices.Clone(bout), d.links.guests...)
	if !slices.Equal(films, d.playing) {
		was := d.player.Shown()
		d.player.Load(films)
		d.playing = films
		if slices.ContainsFunc(films, func(f play.Film) bool { return f.ID == was.Footage }) {
			d.player.Seek(was.Footage, was.Film)
		} else if len(films) > 0 {
			d.player.Seek(films[0].ID, films[0].From)
		}
	}
	d.proxy.prepare(d, bout)
}

// showFrame is called from the player's goroutine for each frame shown. Only the
// newest reaches the window.
func (d *Desk) showFrame(s play.Shown) {
	s = worded(s)
	d.latest.Store(&s)
	if scr := d.showing.Load(); scr != nil {
		scr.SetShown(s)
	}
	if d.pending.Swap(true) {
		return
	}
	d.later(func() {
		d.pending.Store(false)
		d.moved()
	})
}

// moved takes the newest frame into the window: the picture at once, what hangs on
// the film time at most 30 times a second.
func (d *Desk) moved() {
	s := d.latest.Load()
	if s == nil {
		return
	}
	if s.Note != d.lastNote {
		d.lastNote = s.Note
		d.Say(s.Note)
	}
	if s.State == play.Playing && time.Since(d.lastMoved) < 33*time.Millisecond {
		return
	}
	d.lastMoved = time.Now()
	now := d.Now()
	if d.strip.Untimed(now.Footage) && d.player.Frames(now.Footage) != nil {
		d.refreshStrip() // the film was opened since it was made
	}
	d.strip.SetNow(now.Footage, now.Film)
	d.line.moved(now)
	d.screen.SetCaption(d.caption(now))
	d.follow(now)
	if t := d.current(); t != nil && d.session != nil {
		t.Moved(now)
	}
}

// caption is what stands in the picture in full screen, where there is no line
// under it: jam, time and score.
func (d *Desk) caption(n task.Now) string {
	if !d.full || d.stage.alone || d.session == nil {
		return ""
	}
	j, ok := d.session.Bout.Jam(n.Jam)
	if !ok {
		return clockText(n.Film)
	}
	score, _ := j.ScoreAt(n.Offset)
	return words.T("Period {.period} · Jam {.jam} · {.time} · {.home} – {.away}", "period", j.Period, "jam", j.Number,
		"time", terms.Clock(n.Offset, 0), "home", score[0].String(), "away", score[1].String())
}

// stateWords say what to do where the screen has no picture.
func stateWords(s play.State) string {
	switch s {
	case play.Empty:
		return words.T("No film yet. Align adds footage.")
	case play.Loading:
		return words.T("Opening the film")
	case play.Missing:
		return words.T("The film is missing. Put it back, or let the Bout menu look for it.")
	case play.Broken:
		return words.T("The film cannot be decoded any further.")
	}
	return ""
}

// apart is how far the second camera may be out of step while both play.
const apart = 120 * time.Millisecond

// follow keeps the second camera in step with the first.
func (d *Desk) follow(now task.Now) {
	if d.other == "" || d.second == nil {
		return
	}
	if !now.Playing {
		d.stepSecond(now)
		return
	}
	if time.Since(d.lastStep) < 2*time.Second {
		return
	}
	if f, at, ok := d.sameMoment(now, d.other); ok {
		if s := d.second.Shown(); s.Footage != f || s.Film-at > apart || at-s.Film > apart {
			d.lastStep = time.Now()
			d.second.Seek(f, at)
		}
	}
}

// stepSecond shows the same moment on the second camera.
func (d *Desk) stepSecond(now task.Now) {
	if f, at, ok := d.sameMoment(now, d.other); ok {
		d.second.Seek(f, at)
	}
}

// sameMoment is where another camera shows what is shown now.
func (d *Desk) sameMoment(now task.Now, camera string) (timeline.ID, time.Duration, bool) {
	if now.Jam == "" {
		return "", 0, false
	}
	return d.session.Bout.Alignment.FilmOn(camera, timeline.InJam(now.Jam, now.Offset))
}

// Now is where the film stands.
func (d *Desk) Now() task.Now {
	n := task.Now{Rate: 1}
	s := d.latest.Load()
	if s == nil || d.session == nil {
		return n
	}
	n.Footage, n.Film, n.Playing, n.Rate = s.Footage, s.Film, s.State == play.Playing, s.Rate
	if n.Footage == "" {
		return n
	}
	b := d.session.Bout
	if jam, offset, ok := b.Alignment.JamAt(n.Footage, n.Film); ok {
		n.Jam, n.Offset = jam, offset
		j, _ := b.Jam(jam)
		n.InJam = j.Duration == 0 && offset <= b.Rules.JamLength || offset <= j.Duration
	}
	return n
}

// Go shows the film at a place; it says why when that is not on film.
func (d *Desk) Go(p timeline.Place) bool {
	if _, ok := d.session.Facts.Footage[p.Footage]; ok {
		d.GoFilm(p.Footage, p.Film)
		return true
	}
	a := d.session.Bout.Alignment
	f, at, ok := a.FilmOn(d.camera, p)
	if !ok {
		if f, at, ok = a.FilmOf(p); !ok {
			d.Say(words.T("That moment is not on film."))
			return false
		}
	}
	d.GoFilm(f, at)
	return true
}

// GoFilm shows a film time of a file, changing the camera where it must.
func (d *Desk) GoFilm(f timeline.ID, at time.Duration) {
	if d.isGuest(f) {
		d.unloop()
		d.player.Seek(f, at)
		return
	}
	foot, ok := d.session.Facts.Footage[f]
	if !ok {
		d.Say(words.T("That film is not part of this bout any more."))
		return
	}
	if foot.Camera != d.camera {
		d.camera = foot.Camera
		d.loadFilm()
		d.refreshStrip()
	}
	d.unloop()
	d.player.Seek(f, at)
}

// Loop plays a stretch again and again.
func (d *Desk) Loop(f timeline.ID, from, to time.Duration) {
	foot, ok := d.session.Facts.Footage[f]
	if !ok && !d.isGuest(f) || to <= from {
		return
	}
	if ok && foot.Camera != d.camera {
		d.camera = foot.Camera
		d.loadFilm()
		d.refreshStrip()
	}
	from = max(from, 0)
	if foot.Duration > 0 {
		to = min(to, foot.Duration)
	}
	d.player.Loop(f, from, to)
	d.loop = true
	d.player.Play()
	d.line.refresh()
}

// Unloop lets the film run on.
func (d *Desk) Unloop() { d.unloop() }

func (d *Desk) unloop() {
	if d.loop {
		d.player.Unloop()
		d.loop = false
		d.line.refresh()
	}
}

// Play lets the film run.
func (d *Desk) Play() {
	d.player.Play()
	if d.second != nil {
		d.second.Play()
	}
}

// Pause holds it.
func (d *Desk) Pause() {
	d.player.Pause()
	if d.second != nil {
		d.second.Pause()
	}
}

// Ahead names places that will probably be wanted next.
func (d *Desk) Ahead(places ...timeline.Place) {
	var spots []play.Spot
	for _, p := range places {
		if d.isGuest(p.Footage) {
			spots = append(spots, play.Spot{Footage: p.Footage, Film: p.Film})
		} else if f, at, ok := d.session.Bout.Alignment.FilmOn(d.camera, p); ok {
			spots = append(spots, play.Spot{Footage: f, Film: at})
		}
	}
	d.player.Ahead(spots)
}

// nextCamera shows the moment on the next camera.
func (d *Desk) nextCamera() {
	cams := d.cameras()
	if len(cams) < 2 {
		d.Say(words.T("This bout has one camera."))
		return
	}
	now := d.Now()
	to := cams[(slices.Index(cams, d.camera)+1)%len(cams)]
	f, at, ok := d.sameMoment(now, to)
	d.camera = to
	d.loadFilm()
	if ok {
		d.player.Seek(f, at)
	}
	d.refreshStrip()
	d.Say(fmt.Sprintf("%s: %s", words.T("Camera"), to))
}

// toggleSecond shows another camera beside the first, or takes it away.
func (d *Desk) toggleSecond() {
	if d.other != "" {
		d.setSecond("")
		d.arrange()
		return
	}
	for _, c := range d.cameras() {
		if c != d.camera {
			d.setSecond(c)
			d.arrange()
			return
		}
	}
	d.Say(words.T("This bout has one camera."))
}

func (d *Desk) setSecond(camera string) {
	d.other = camera
	if camera == "" {
		if d.second != nil {
			d.second.Close()
			d.second = nil
		}
		return
	}
	d.second = play.New(play.Options{Runner: d.app.Runner, Proxies: d.player.Proxies(), OnShown: func(s play.Shown) {
		d.later(func() { d.screen2.SetShown(worded(s)) }) // the window may have been built anew since
	}})
	d.second.Load(d.films(camera))
	d.stepSecond(d.Now())
}

// jamStart is the film place of a jam's start.
func (d *Desk) jamStart(j timeline.Jam) timeline.Place { return timeline.InJam(j.ID, 0) }

// jumpJam goes to the start of the jam so many further on.
func (d *Desk) jumpJam(by int) {
	b := d.session.Bout
	now := d.Now()
	type spot struct {
		jam timeline.Jam
		at  time.Duration
		f   timeline.ID
	}
	var spots []spot
	for _, j := range b.Jams {
		if f, at, ok := b.Alignment.FilmOn(d.camera, d.jamStart(j)); ok {
			spots = append(spots, spot{j, at, f})
		}
	}
	if len(spots) == 0 {
		d.Say(words.T("No jam has its place on this film yet. Align lines them up."))
		return
	}
	order := map[timeline.ID]int{}
	for i, f := range d.playing {
		order[f.ID] = i
	}
	before := func(s spot) int {
		return cmp.Or(cmp.Compare(order[s.f], order[now.Footage]), cmp.Compare(s.at, now.Film))
	}
	slices.SortFunc(spots, func(a, c spot) int { return cmp.Or(cmp.Compare(order[a.f], order[c.f]), cmp.Compare(a.at, c.at)) })
	i := 0
	if by > 0 {
		for i < len(spots) && before(spots[i]) <= 0 {
			i++
		}
		i += by - 1
	} else {
		// Shortly after a start, back means the jam before.
		for i < len(spots) && cmp.Or(cmp.Compare(order[spots[i].f], order[now.Footage]), cmp.Compare(spots[i].at, now.Film-500*time.Millisecond)) < 0 {
			i++
		}
		i += by
	}
	if i < 0 || i >= len(spots) {
		d.Say(words.T("There is no further jam on this film."))
		return
	}
	s := spots[i]
	// The first frame after the whistle, not the last one before it: else the film
	// would still stand in the jam before, and the next step on come here again.
	d.GoFilm(s.f, s.at+34*time.Millisecond)
	var near []timeline.Place
	for _, k := range []int{i + 1, i - 1} {
		if k >= 0 && k < len(spots) {
			near = append(near, timeline.InJam(spots[k].jam.ID, 0))
		}
	}
	d.Ahead(near...)
	d.Say(fmt.Sprintf("%s %s", words.T("Jam"), s.jam.Name()))
}

// clockText is a film time as people read it.
func clockText(t time.Duration) string {
	s := app.Clock(t)
	return s[:len(s)-1] // hundredths
}
