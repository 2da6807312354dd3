package play

import "time"

const (
	// idle is how long the player sleeps when nothing is to come by itself.
	idle = time.Hour
	// runUp is how many frames must be there before the clock starts.
	runUp = 4
	// patience is how long the clock waits for run-up and for sound.
	runUpPatience = 1500 * time.Millisecond
	soundPatience = 400 * time.Millisecond
)

// play starts from where we are; from the end it starts anew.
func (c *core) play(now time.Time) {
	if c.playing || len(c.line) == 0 || c.missing != nil {
		return
	}
	if c.ended {
		c.ended = false
		for film := range c.line {
			if c.line.usable(film) {
				c.playing = true
				c.goTo(now, pos{film, c.line[film].lo})
				return
			}
		}
	}
	here := c.line[c.at.film]
	if c.asked == nil && here.settled && !here.usable() {
		return
	}
	if c.broke != nil {
		c.playBehind(now, c.at.film, *c.broke)
		return
	}
	// While the film is being opened the wish to play is kept.
	c.playing, c.pressed = true, now
	if c.asked == nil && here.settled {
		c.begin(now, c.at)
	}
}

// playBehind plays on behind a gap, or in the next film.
func (c *core) playBehind(now time.Time, film int, g gap) {
	switch {
	case g.to < c.line[film].hi:
		c.playing, c.pressed = true, now
		c.pass(now, film, g)
	case c.line.usable(film + 1):
		c.playing, c.pressed = true, now
		c.goTo(now, pos{film + 1, c.line[film+1].lo})
	}
}

// begin sets a new course from a frame; the clock starts when frames are there.
func (c *core) begin(now time.Time, p pos) {
	c.setCourse(p.film, c.line.time(p))
	c.clock, c.pressed = nil, now
}

func (c *core) setCourse(film int, from time.Duration) {
	next := course{film: film, from: from}
	if l := c.loop; l != nil && c.line.find(l.film) == film {
		s := c.line[film]
		// Beyond the film a loop would go on into the next one.
		lo, hi := max(l.from, s.index.Time(s.lo)), min(l.to, s.over())
		if lo < hi && from < hi {
			next.loop, next.loopFrom, next.loopTo = true, lo, hi
		}
	}
	if next == c.course && c.clock == nil {
		return // the sound that was got ready for it fits
	}
	c.course = next
	c.sound.drop()
}

// changing changes how playing goes on (its rate, a loop, the sound's offset)
// from the exact place that it has reached, without a halt.
func (c *core) changing(now time.Time, change func()) {
	if !c.playing || c.clock == nil {
		change()
		c.sound.drop()
		if c.playing && c.asked == nil && c.wish == nil && c.line.usable(c.at.film) {
			c.begin(now, c.at)
		}
		return
	}
	pl := c.course.at(c.line, c.film(now))
	change()
	if pl.how != onCourse {
		return
	}
	c.sound.drop()
	c.clock = newClock(now, 0)
	c.setCourse(pl.p.film, pl.film)
}

// pause stays at the frame shown.
func (c *core) pause(now time.Time) {
	if !c.playing {
		return
	}
	c.playing, c.clock = false, nil
	c.rested = now
	c.sound.drop()
}

// film is the film time played on the course.
func (c *core) film(now time.Time) time.Duration {
	return time.Duration(float64(c.clock.played(now)) * c.rate)
}

// tick shows the frame that is due.
func (c *core) tick(now time.Time) time.Duration {
	if !c.playing || c.wish != nil || c.asked != nil || !c.line.usable(c.at.film) {
		return idle
	}
	if c.clock == nil {
		if !c.ready(now) {
			return 10 * time.Millisecond
		}
		c.clock = newClock(now, 0)
	}
	pl := c.course.at(c.line, c.film(now))
	switch {
	case pl.how == atEnd:
		c.stay(now, pl.p)
		c.ended = true
		return idle
	case pl.how == stuck:
		if next := c.line[pl.p.film+1]; next.settled {
			// It was asked for by playing into it: say what is wrong with it.
			c.stay(now, pl.p)
			c.missing = &Spot{next.ID, 0}
			return idle
		}
		c.due(pl)
		c.begin(now, pl.p)
		return 20 * time.Millisecond
	}
	if g, bad := c.line[pl.p.film].gapAt(pl.p.frame); bad {
		c.stopAtGap(now, pl.p.film, g)
		return idle
	}
	c.due(pl)
	if !c.cache.has(pl.p) {
		return 4 * time.Millisecond // an answer wakes us earlier
	}
	return time.Duration(float64(pl.left)/c.rate) + 200*time.Microsecond
}

// due shows a frame that is due, or the newest one there is before it.
func (c *core) due(pl place) {
	p := pl.p
	n := 0
	if c.cur != nil {
		if n = c.line.between(c.cur.pos, p); n == 0 {
			return
		}
	}
	c.cache.here = p
	pic := c.cache.get(p)
	late := pic == nil
	// At most a few frames back: an older one says nothing about now.
	for q, k := p, 1; pic == nil && k < min(n, 12); k++ {
		q = c.line.move(q, -1)
		pic = c.cache.get(q)
	}
	if pic == nil {
		c.at = p
		return
	}
	if c.cur != nil && c.rate <= everyFrame {
		// Backwards is the turn of a loop, which drops nothing worth counting.
		if d := c.line.between(c.cur.pos, pic.pos); d > 1 {
			c.stats.Dropped += d - 1
		}
	}
	c.stats.Played++
	if late {
		c.stats.Late++
	}
	c.show(pic)
	c.at, c.cache.here = p, p
}

// stay ends playing at a frame.
func (c *core) stay(now time.Time, p pos) {
	c.pause(now)
	if c.cur == nil || c.cur.pos != p {
		c.goTo(now, p)
	}
}

// ready says whether the clock may start: the first frames are there, and the
// sound, or they have been waited for long enough.
func (c *core) ready(now time.Time) bool {
	p := pos{c.course.film, c.line.at(c.course.film, c.course.from).frame}
	if !c.cache.has(p) {
		return false
	}
	for range runUp {
		next, ok := c.course.next(c.line, p)
		if !ok {
			// At the end of a film whose follower is still being opened.
			if f := p.film + 1; f < len(c.line) && !c.line[f].settled {
				return false
			}
			break
		}
		if !c.line[next.film].good(next.frame) {
			break
		}
		if !c.cache.has(next) && now.Sub(c.pressed) < runUpPatience {
			return false
		}
		p = next
	}
	muted := c.rate < MinSoundRate || c.rate > MaxSoundRate
	return muted || c.sound.ready() || now.Sub(c.pressed) > soundPatience
}
