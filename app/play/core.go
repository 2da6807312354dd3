package play

import (
	"image"
	"io"
	"time"

	"whistlecut/timeline"
)

// core is the state of a player. Only the player's goroutine touches it; it
// starts no goroutine and no child itself, so that tests can put other sources
// and clocks under it.
type core struct {
	line   line
	cache  *cache
	child  source // decoders
	light  source // light copies
	covers func(pos) bool
	sound  *sounds
	busy   func(bool) // told when a frame is being waited for

	box image.Point // largest picture wanted
	// newBox is another one, taken when it has been the same for a moment: a
	// window that is being dragged asks for many.
	newBox   image.Point
	newBoxAt time.Time
	rate     float64
	loop     *loop
	spots    []Spot

	asked *Spot // a seek into a film that isn't opened yet
	wish  *wish // the frame wanted next, until it is shown
	gen   uint64

	cur     *picture // the frame shown
	at      pos      // where we are: the frame shown, or the last one asked for
	missing *Spot    // a seek into a film that can't be shown: nothing stands
	broke   *gap     // it does not go on from here
	passed  *gap     // the gap behind which we went on
	ended   bool

	playing bool
	course  course
	clock   *clock // nil: waiting for frames
	pressed time.Time

	main, side, near *run // decoder at the place, decoder ahead, light copy
	mainBegan        time.Time
	mainGave         bool          // main has given a frame
	startCost        time.Duration // what the last start took until its first frame
	failures         int           // decoders in a row that gave nothing
	sideFailed       uint64        // generation in which side failed; it isn't tried again in it
	rested           time.Time
	waiting          time.Time // since when nothing was shown that was asked for
	replaced         int       // wishes since then that newer ones took the place of

	stats Stats
}

// wish is a frame to be shown, and when it was asked for.
type wish struct {
	p   pos
	gen uint64
}

// loop is a range played round and round.
type loop struct {
	film     timeline.ID
	from, to time.Duration
}

// Stats count what became of frames while playing at a rate at which all are
// wanted.
type Stats struct {
	Played  int // frames shown while playing
	Dropped int // frames that were due and never shown
	Late    int // frames of Played shown after the next one was due
}

func newCore(limit int64) *core {
	p := &pool{}
	return &core{cache: newCache(limit, p), rate: 1, box: image.Pt(960, 540), busy: func(bool) {}, covers: func(pos) bool { return false }}
}

// step does all there is to do at a time and says how long nothing will be.
func (c *core) step(now time.Time) time.Duration {
	c.resize(now)
	c.resolve(now)
	wait := c.tick(now)
	c.meet(now)
	wait = min(wait, c.plan(now))
	wait = min(wait, c.hear(now))
	if c.newBox != (image.Point{}) {
		wait = min(wait, settleTime)
	}
	return max(wait, 0)
}

// resize takes another size into use.
func (c *core) resize(now time.Time) {
	if c.newBox == (image.Point{}) || c.cur != nil && now.Sub(c.newBoxAt) < settleTime {
		return
	}
	before := image.Point{}
	if len(c.line) > 0 {
		before = c.sizeOf(c.at.film)
	}
	c.box, c.newBox = c.newBox, image.Point{}
	if len(c.line) > 0 && c.sizeOf(c.at.film) != before {
		c.stopRuns()
		c.cache.stale()
		c.rested = now
	}
}

// resolve turns a seek into a wish as soon as its film is known.
func (c *core) resolve(now time.Time) {
	if c.asked == nil {
		return
	}
	film := c.line.find(c.asked.Footage)
	switch {
	case film < 0:
		c.asked = nil
	case !c.line[film].settled:
	case !c.line[film].usable():
		c.missing, c.asked = c.asked, nil
		c.pause(now)
	default:
		at := c.asked.Film
		c.asked = nil
		c.goTo(now, c.line.at(film, at))
	}
}

// goTo makes a frame the one to be shown.
func (c *core) goTo(now time.Time, p pos) {
	c.gen++
	c.broke, c.passed, c.ended, c.missing, c.asked = nil, nil, false, nil, nil
	s := c.line[p.film]
	if g, bad := s.gapAt(p.frame); bad {
		c.broke = &g
		c.pause(now)
		var ok bool
		if p.frame, ok = s.beside(g); !ok {
			c.wish, c.at = nil, p
			c.busy(false)
			return
		}
	}
	if c.wish == nil {
		c.waiting, c.replaced = now, 0
	} else {
		c.replaced++
	}
	c.wish = &wish{p, c.gen}
	c.at, c.cache.here = p, p
	c.rested = now
	if c.playing {
		c.begin(now, p)
	} else {
		c.sound.drop()
	}
}

// meet shows the wished frame when it is there.
func (c *core) meet(now time.Time) {
	if c.wish == nil {
		return
	}
	if pic := c.cache.get(c.wish.p); pic != nil {
		c.wish = nil
		c.busy(false)
		c.show(pic)
		if c.playing {
			c.pressed = now
		}
		return
	}
	c.busy(true)
}

// show makes a picture the one on the screen.
func (c *core) show(pic *picture) {
	c.cache.show(pic)
	c.cur, c.at, c.cache.here = pic, pic.pos, pic.pos
}

// take takes an answer in.
func (c *core) take(now time.Time, a answer) {
	r := a.from
	if a.pic != nil {
		current := r == c.main || r == c.side || r == c.near
		if !current || !c.line.usable(a.pic.film) || a.pic.img.Rect.Dx() > c.sizeOf(a.pic.film).X {
			c.cache.pool.put(a.pic.img)
			return
		}
		r.next = a.pic.frame + 1
		c.cache.put(a.pic)
		if r == c.main {
			if !c.mainGave {
				c.startCost = now.Sub(c.mainBegan)
			}
			c.mainGave, c.failures = true, 0
			// A long drag over film that decodes slowly shows something now and
			// then; the newest wish is still the last to be shown.
			if c.wish != nil && c.wish.p != a.pic.pos && r.first == a.pic.frame && c.starved(now) && a.pic.kept {
				c.show(a.pic)
				c.at, c.cache.here = c.wish.p, c.wish.p
				c.waiting, c.replaced = now, 0
			}
		}
		if c.cur != nil && c.cur.pos == a.pic.pos && c.cur != a.pic && c.wish == nil && a.pic.kept {
			c.show(a.pic) // the same frame, sharper
		}
		return
	}
	switch r {
	case c.main:
		c.main = nil
		c.failed(now, r, a)
	case c.side:
		c.side = nil
		if a.err != io.EOF {
			c.sideFailed = c.gen
		}
	case c.near:
		c.near = nil
	}
}

// sizeOf is the size at which a film is decoded.
func (c *core) sizeOf(film int) image.Point {
	f := c.line[film].file
	if f == nil {
		return c.box
	}
	w, h := fit(f.Info.Video.Width, f.Info.Video.Height, c.box.X, c.box.Y)
	return image.Pt(w, h)
}

// load puts other films on the line.
func (c *core) load(now time.Time, l line) {
	c.pause(now)
	c.sound.drop()
	c.stopRuns()
	c.cache.forget()
	c.line, c.cache.line = l, l
	c.asked, c.wish, c.missing, c.cur = nil, nil, nil, nil
	c.at, c.loop, c.broke, c.passed, c.ended, c.course = pos{}, nil, nil, nil, false, course{}
	c.busy(false)
}

// settled is told when a film was opened, or could not be.
func (c *core) settled(now time.Time, film int) {
	s := c.line[film]
	if s.usable() && c.missing != nil && c.line.find(c.missing.Footage) == film {
		// It was gone to while the film was missing, and now the film is back.
		c.asked, c.missing = c.missing, nil
	}
	if s.usable() && film == c.at.film && c.cur == nil && c.wish == nil && c.asked == nil && c.missing == nil {
		c.goTo(now, pos{film, s.lo})
	}
	if !s.usable() && film == c.at.film && c.asked == nil {
		c.pause(now)
	}
}

// seek asks for the frame shown at a time.
func (c *core) seek(now time.Time, s Spot) {
	if c.line.find(s.Footage) < 0 {
		return
	}
	c.asked = &s
	c.rested = now
	c.resolve(now)
}

// stepBy goes some frames on from the frame that is shown or about to be.
func (c *core) stepBy(now time.Time, n int) {
	if c.asked != nil || len(c.line) == 0 || !c.line.usable(c.at.film) || c.missing != nil {
		return
	}
	from := c.at
	switch {
	case c.wish != nil:
		from = c.wish.p
	case c.cur != nil:
		from = c.cur.pos
	}
	broke := c.broke
	c.pause(now)
	to := c.line.move(from, n)
	if s := c.line[from.film]; n == 1 && to.film == from.film {
		if g, bad := s.gapAt(to.frame); bad && g.to < s.hi && (broke != nil || g.from == to.frame) {
			c.pass(now, from.film, g)
			return
		}
	}
	if to == from && c.broke == nil {
		return
	}
	c.goTo(now, to)
}

// stopRuns ends all decoding.
func (c *core) stopRuns() {
	for _, r := range []**run{&c.main, &c.side, &c.near} {
		if *r != nil {
			(*r).stop()
			*r = nil
		}
	}
}

// shown describes what is shown.
func (c *core) shown() Shown {
	s := Shown{Index: -1, Rate: c.rate, State: Empty}
	if len(c.line) == 0 {
		return s
	}
	if c.cur != nil {
		s.Footage, s.Index, s.Image = c.line[c.cur.film].ID, c.cur.frame, c.cur.img
		s.Film = c.line[c.cur.film].index.Time(c.cur.frame)
	}
	here := c.line[c.at.film]
	switch {
	case c.missing != nil:
		f := c.line[c.line.find(c.missing.Footage)]
		return Shown{Footage: f.ID, Film: c.missing.Film, Index: -1, Rate: c.rate, State: f.state, Note: f.note, Notice: f.stateNotice()}
	case c.asked != nil || !here.settled || c.cur == nil && c.broke == nil && here.state == "":
		s.State = Loading
	case here.state != "":
		s.State, s.Note, s.Notice = here.state, here.note, here.stateNotice()
	case c.broke != nil:
		s.State, s.Note, s.Notice = Broken, here.gapNote(*c.broke), here.gapNotice(*c.broke)
	case c.ended:
		s.State = Ended
	case c.playing:
		s.State = Playing
	default:
		s.State = Paused
	}
	if s.Note == "" && c.passed != nil && c.cur != nil && c.cur.frame == c.passed.to && s.State != Loading {
		s.Note, s.Notice = here.passedNote(*c.passed), here.passedNotice(*c.passed)
	}
	if s.Note == "" && c.sound != nil && c.sound.note != "" {
		s.Note, s.Notice = c.sound.note, Notice{About: Silent}
	}
	return s
}
