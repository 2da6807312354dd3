package play

import (
	"errors"
	"io"
	"slices"
	"time"

	"whistlecut/timeline/footage"
)

// gap is frames from..to-1 of a film, which can't be decoded.
type gap struct {
	from, to int
	why      string // the decoder's words, if it gave any
}

// gapAt is the gap that a frame lies in; ok is false for one that can be
// decoded, as far as is known.
func (s *stretch) gapAt(frame int) (g gap, ok bool) {
	for _, g := range s.gaps {
		if frame >= g.from && frame < g.to {
			return g, true
		}
	}
	return gap{}, false
}

// good says whether nothing is known against a frame.
func (s *stretch) good(frame int) bool {
	_, bad := s.gapAt(frame)
	return !bad
}

// run is the last frame up to which, from a good one on, no gap is known.
func (s *stretch) run(frame int) int {
	last := s.hi - 1
	for _, g := range s.gaps {
		if g.from > frame {
			last = min(last, g.from-1)
		}
	}
	return last
}

// runStart is the first frame from which, up to a good one, no gap is known.
func (s *stretch) runStart(frame int) int {
	first := s.lo
	for _, g := range s.gaps {
		if g.to <= frame {
			first = max(first, g.to)
		}
	}
	return first
}

// addGap notes that frames can't be decoded. Gaps that touch become one.
func (s *stretch) addGap(g gap) gap {
	g.to = max(g.to, g.from+1)
	s.gaps = slices.DeleteFunc(s.gaps, func(o gap) bool {
		if o.to < g.from || o.from > g.to {
			return false
		}
		if o.from < g.from {
			g.from = o.from
		}
		g.to = max(g.to, o.to)
		if g.why == "" {
			g.why = o.why
		}
		return true
	})
	s.gaps = append(s.gaps, g)
	return g
}

// beside is the frame to stand at for one in a gap: the last before it, or the
// first behind it when there is none; ok is false when nothing is left.
func (s *stretch) beside(g gap) (frame int, ok bool) {
	switch {
	case g.from > s.lo:
		return g.from - 1, true
	case g.to < s.hi:
		return g.to, true
	}
	return s.lo, false
}

// tries is how many groups of pictures in a row are tried behind damage before
// the rest of the film is given up.
const tries = 8

// failed looks at the end of the main decoder, which was not stopped. Failures
// of the others say nothing about the place that is shown.
func (c *core) failed(now time.Time, r *run, a answer) {
	s := c.line[r.film]
	switch {
	case errors.Is(a.err, io.EOF):
		if r.probe > r.last {
			// All before it can be decoded: it is this frame.
			c.damaged(now, r.film, gap{from: r.probe, to: s.index.KeyAfter(r.probe + 1)})
		}
		return
	case isCancelled(a.err):
		return
	case isGone(a.err):
		c.vanished(now, r.film)
		return
	}
	g := gap{from: a.next, to: s.hi}
	var d *footage.DamageError
	if !errors.As(a.err, &d) {
		// Not the film: a decoder that can't be started, or a film cut off.
		g.why = a.err.Error()
		c.damaged(now, r.film, g)
		return
	}
	g.from, g.to = d.From, d.To
	if r.probe > r.last {
		g.to = max(g.to, s.index.KeyAfter(r.probe+1))
	}
	if k := s.index.KeyBefore(r.first); !d.Found && d.From == r.first && k < r.first && s.runStart(r.first) < r.first && r.probe == 0 {
		// The damage lies somewhere between the key frame and this frame: see up
		// to where the frames before can be decoded.
		first := max(k, s.runStart(r.first))
		c.main = c.child.start(request{gen: c.gen, film: r.film, first: first, last: r.first - 1, size: r.size})
		if c.main != nil {
			c.main.probe = r.first
			c.main.allow(r.first - 1)
			c.mainBegan, c.mainGave = now, false
			return
		}
	}
	if !c.mainGave {
		c.failures++
	}
	if c.failures >= tries {
		g.to = s.hi
	}
	c.damaged(now, r.film, g)
}

// damaged notes a gap and leaves it when the wish lies in it.
func (c *core) damaged(now time.Time, film int, g gap) {
	s := c.line[film]
	g = s.addGap(g)
	if c.wish == nil || c.wish.p.film != film || c.wish.p.frame < g.from || c.wish.p.frame >= g.to {
		return
	}
	if c.passed != nil && c.passed.to == c.wish.p.frame && g.to < s.hi {
		// On the way behind the damage, which goes on.
		c.pass(now, film, g)
		return
	}
	c.stopAtGap(now, film, g)
}

// stopAtGap stays at the last frame that can be decoded.
func (c *core) stopAtGap(now time.Time, film int, g gap) {
	s := c.line[film]
	c.pause(now)
	c.wish = nil
	c.busy(false)
	frame, ok := s.beside(g)
	c.at = pos{film, frame}
	c.cache.here = c.at
	if ok && (c.cur == nil || c.cur.pos != c.at) {
		c.goTo(now, c.at)
	}
	c.broke, c.passed = &g, nil
}

// pass goes on behind a gap, playing or not as before.
func (c *core) pass(now time.Time, film int, g gap) {
	c.goTo(now, pos{film, g.to})
	if c.wish != nil && c.wish.p.frame == g.to {
		c.passed = &g
	}
}
