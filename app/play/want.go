package play

import (
	"math"
	"time"
)

const (
	// settleTime is how long after the last wish neighbours are decoded.
	settleTime = 120 * time.Millisecond
	// spotTime is how long after it places ahead are.
	spotTime = 300 * time.Millisecond
	// spacing is the least time between two decoders started for wishes, so that
	// dragging starts some and not sixty a second.
	spacing = 70 * time.Millisecond
	// starving is how long a drag may show nothing before a decoder is allowed
	// to finish an older wish.
	starving = 500 * time.Millisecond
	// nearby is how many frames a running decoder is let run to reach a wish; a
	// new child costs about as much.
	nearby = 24
	// behindAtMost is how far, in film time at rate 1, decoding may lag behind
	// playing before it jumps ahead.
	behindAtMost = 700 * time.Millisecond
	// slowStart is a start of a decoder so slow that playing waits for it rather
	// than jumps.
	slowStart = 1500 * time.Millisecond
)

// plan starts, lets on and ends decoding, by what is wanted most.
func (c *core) plan(now time.Time) time.Duration {
	if len(c.line) == 0 || !c.line.usable(c.at.film) {
		return idle
	}
	switch {
	case c.wish != nil:
		return c.fetch(now)
	case c.playing:
		c.keepUp(now)
		return idle
	default:
		return c.look(now)
	}
}

// fetch gets the wished frame.
func (c *core) fetch(now time.Time) time.Duration {
	p := c.wish.p
	if c.near != nil && c.near.gen != c.wish.gen {
		c.near.stop()
		c.near = nil
	}
	if c.near != nil {
		return idle
	}
	if c.covers(p) && c.startNear(p, p.frame) {
		return idle
	}
	if c.probing(p) {
		return idle
	}
	for _, r := range []*run{c.main, c.side} {
		if c.reaches(r, p) {
			r.allow(p.frame)
			return idle
		}
	}
	if c.side != nil {
		c.side.stop() // leave the machine to the wish
		c.side = nil
	}
	if wait := spacing - now.Sub(c.mainBegan); wait > 0 && c.main != nil {
		return wait
	}
	if c.main != nil && !c.mainGave && c.starved(now) {
		return idle
	}
	c.startMain(now, p)
	return idle
}

// probing says whether it is being tried what there is before a frame that can't
// be decoded.
func (c *core) probing(p pos) bool {
	return c.main != nil && c.main.probe > 0 && c.main.film == p.film && c.main.probe == p.frame
}

// starved says whether a drag, which is many wishes, has shown nothing for too
// long.
func (c *core) starved(now time.Time) bool { return c.replaced > 3 && now.Sub(c.waiting) > starving }

// reaches says whether letting a decoder run on is the quickest way to a frame.
func (c *core) reaches(r *run, p pos) bool {
	if r == nil || r.film != p.film || r.next > p.frame || r.last < p.frame {
		return false
	}
	if p.frame-r.next <= nearby {
		return true
	}
	// A new decoder would have to begin at the key frame anyway.
	return c.line[p.film].index.KeyBefore(p.frame) <= r.next+nearby
}

// startMain starts the decoder at the place, to run on as it is let.
func (c *core) startMain(now time.Time, p pos) {
	if c.main != nil {
		c.main.stop()
	}
	c.main = c.child.start(request{gen: c.gen, film: p.film, first: p.frame, last: c.line[p.film].run(p.frame), size: c.sizeOf(p.film)})
	c.mainBegan, c.mainGave = now, false
}

func (c *core) startNear(p pos, last int) bool {
	c.near = c.light.start(request{gen: c.gen, film: p.film, first: p.frame, last: last, size: c.sizeOf(p.film)})
	if c.near == nil {
		return false
	}
	c.near.allow(last)
	return true
}

// fps is the mean number of frames a second of a film.
func (c *core) fps(film int) float64 {
	x := c.line[film].index
	if d := x.Time(x.Len()).Seconds(); d > 0 {
		return float64(x.Len()) / d
	}
	return 30
}

// frames is how many frames a time takes, at least one.
func (c *core) frames(film int, d time.Duration) int {
	return max(1, int(math.Ceil(d.Seconds()*c.fps(film))))
}

// room is how many frames of a film the cache can hold.
func (c *core) room(film int) int {
	size := c.sizeOf(film)
	return c.cache.room(size.X, size.Y)
}

// keepUp decodes ahead of playing.
func (c *core) keepUp(now time.Time) {
	film := c.at.film
	ahead := min(c.room(film)/2, c.frames(film, time.Duration(1.2*max(1, c.rate)*float64(time.Second))))
	cover := c.rate > everyFrame && c.covers(c.at)
	if c.near == nil {
		c.bridge()
	}
	if cover {
		// Light copies give any frame at any speed: no decoder is needed.
		if c.main != nil {
			c.main.stop()
			c.main = nil
		}
		return
	}
	if c.lagging(now) {
		if c.startCost > slowStart {
			// A jump would only fall behind again: wait for the frames instead.
			c.begin(now, c.at)
			return
		}
		start := max(400*time.Millisecond, c.startCost*5/4)
		p := c.line.move(c.at, c.frames(film, time.Duration(float64(start)*c.rate)))
		if c.loop == nil && p.film == film {
			// A key frame a bit further is there sooner than the exact frame.
			x := c.line[film].index
			if k := x.KeyBefore(min(p.frame+c.frames(film, 600*time.Millisecond), x.Len()-1)); k > p.frame {
				p.frame = k
			}
			if c.line[film].good(p.frame) {
				c.startMain(now, p)
				return
			}
		}
	}
	p, missing := c.at, false
	if c.cache.sharp(p) || c.cur != nil && c.cur.pos == p || c.clock != nil {
		p, missing = c.firstMissing(p, ahead)
	} else {
		missing = true
	}
	if missing {
		c.ensure(now, p, ahead)
	}
}

// bridge has the next few frames from a light copy while a decoder starts or
// can't keep up.
func (c *core) bridge() {
	ahead := 3
	if c.rate > everyFrame {
		ahead = c.frames(c.at.film, time.Duration(0.06*c.rate*float64(time.Second)))
	}
	p := c.at
	for k := range ahead {
		if !c.cache.has(p) {
			if c.rate > everyFrame && k > 0 {
				// Not each frame, but the one that will be due.
				p = c.line.move(c.at, ahead)
			}
			if c.line[p.film].good(p.frame) && !c.cache.has(p) && c.covers(p) {
				c.startNear(p, p.frame)
			}
			return
		}
		next, ok := c.course.next(c.line, p)
		if !ok {
			return
		}
		p = next
	}
}

// lagging says whether decoding is so far behind playing that it must jump.
func (c *core) lagging(now time.Time) bool {
	if c.clock == nil || c.main == nil || c.main.film != c.at.film {
		return false
	}
	if !c.mainGave {
		return false // another one would not be quicker
	}
	return c.at.frame-c.main.next > c.frames(c.at.film, time.Duration(float64(behindAtMost)*max(1, c.rate)))
}

// firstMissing is the first frame after p, along the course, that is not there
// at full size; found is false when the next n are.
func (c *core) firstMissing(p pos, n int) (missing pos, found bool) {
	for range n {
		next, ok := p, false
		if c.playing {
			next, ok = c.course.next(c.line, p)
		} else {
			next = c.line.move(p, 1)
			ok = next != p
		}
		if !ok || !c.line[next.film].good(next.frame) {
			return p, false
		}
		if !c.cache.sharp(next) {
			return next, true
		}
		p = next
	}
	return p, false
}

// ensure has a frame, and up to n after it, decoded by the main decoder.
func (c *core) ensure(now time.Time, p pos, n int) {
	if c.probing(p) {
		return
	}
	if c.main == nil || !c.reaches(c.main, p) {
		c.startMain(now, p)
	}
	if c.main == nil {
		return
	}
	last := c.main.last
	if here := c.at; here.film == p.film && here.frame <= p.frame {
		last = min(last, here.frame+n)
	} else {
		last = min(last, p.frame+n)
	}
	c.main.allow(max(last, p.frame))
}

// look decodes the neighbours of a frame that stands, then places ahead.
func (c *core) look(now time.Time) time.Duration {
	rest := now.Sub(c.rested)
	if rest < settleTime {
		return settleTime - rest
	}
	film := c.at.film
	if c.cur == nil || c.cur.pos != c.at || !c.line[film].good(c.at.frame) {
		return idle
	}
	third := c.room(film) / 3
	ahead := min(third, c.frames(film, time.Second))
	light := c.covers(c.at)
	switch {
	case c.cur.light:
		// The frame itself, with all its pixels.
		c.ensure(now, c.at, 0)
	case light && c.near == nil && !c.covers(c.line.move(c.at, 1)):
		light = false
	}
	if !light {
		if p, missing := c.firstMissing(c.at, ahead); missing {
			c.ensure(now, p, ahead)
		}
	} else if p, missing := c.firstMissing(c.at, runUp+8); missing && !c.cur.light {
		// Enough to begin to play at once.
		c.ensure(now, p, runUp+8)
	}
	if len(c.spots) > 0 {
		// Before the frames behind: who goes from jam to jam wants the next one, and
		// a place decoded ahead has a few frames behind it.
		if rest < spotTime {
			return spotTime - rest
		}
		c.lookAhead()
	}
	if !light {
		c.lookBack(min(third, max(ahead, 30)))
	}
	return idle
}

// lookBack decodes the n frames before, when fewer than half of them are left.
func (c *core) lookBack(n int) {
	if c.side != nil || c.sideFailed == c.gen {
		return
	}
	p := c.at
	for k := range n {
		q := c.line.move(p, -1)
		if q == p {
			return
		}
		if c.cache.has(q) {
			p = q
			continue
		}
		if s := c.line[q.film]; k > n/2 || !s.good(q.frame) {
			return
		}
		first := max(c.line[q.film].runStart(q.frame), q.frame-n+1)
		c.startSide(q.film, first, q.frame)
		return
	}
}

// lookAhead decodes the beginnings of the places that may come next, one after the
// other.
func (c *core) lookAhead() {
	if c.side != nil || c.sideFailed == c.gen {
		return
	}
	for _, p := range c.keepSpots() {
		s := c.line[p.film]
		if s.good(p.frame) && !c.cache.has(p) && !c.covers(p) {
			c.startSide(p.film, max(s.runStart(p.frame), p.frame-spotLead), min(p.frame+spotRun-1, s.run(p.frame)))
			return
		}
	}
}

// keepSpots lists the places that may come next, and has what is there of them
// kept: who went on to the next jam has the one before still decoded.
func (c *core) keepSpots() []pos {
	var out []pos
	c.cache.spots = c.cache.spots[:0]
	for i, s := range c.spots {
		film := c.line.find(s.Footage)
		if i >= 4 || !c.line.usable(film) {
			continue
		}
		p := c.line.at(film, s.Film)
		out = append(out, p)
		c.cache.spots = append(c.cache.spots, pos{film, max(c.line[film].runStart(p.frame), p.frame-spotLead)})
	}
	return out
}

func (c *core) startSide(film, first, last int) {
	c.side = c.child.start(request{gen: c.gen, film: film, first: first, last: last, size: c.sizeOf(film)})
	if c.side != nil {
		c.side.allow(last)
	}
}
