package play

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// failed looks at the end of the main decoder, which was not stopped. Failures
// of the others say nothing about the place that is shown.
func (c *core) failed(now time.Time, r *run, a answer) {
	s := c.line[r.film]
	switch {
	case errors.Is(a.err, io.EOF), errors.Is(a.err, context.Canceled):
		return
	case errors.Is(a.err, footage.ErrMissing), errors.Is(a.err, ffmpeg.ErrNoFile):
		c.vanished(now, r.film)
		return
	}
	if a.next < s.broken {
		s.broken, s.why = a.next, a.err.Error()
	}
	if c.wish != nil && c.wish.p.film == r.film && c.wish.p.frame >= s.broken {
		c.stopAtBreak(now, r.film)
	}
}

// brokenNote says where a film can't be decoded any more.
func (s *stretch) brokenNote() string {
	at := s.index.Time(min(s.broken, s.index.Len()))
	note := fmt.Sprintf("the picture of %s cannot be decoded from %s on", filepath.Base(s.Path), clockText(at))
	if s.why != "" {
		return note + ": " + s.why
	}
	return note + "; copy the file again from the camera"
}

// clockText writes a film time as minutes and seconds.
func clockText(d time.Duration) string {
	ms := d.Round(time.Millisecond).Milliseconds()
	return fmt.Sprintf("%d:%02d.%03d", ms/60000, ms/1000%60, ms%1000)
}

// stopAtBreak stays at the last frame that can be decoded.
func (c *core) stopAtBreak(now time.Time, film int) {
	s := c.line[film]
	c.pause(now)
	c.broke = s.brokenNote()
	c.wish = nil
	c.busy(false)
	if s.broken > s.lo {
		last := pos{film, s.broken - 1}
		if c.cur == nil || c.cur.pos != last {
			note := c.broke
			c.goTo(now, last)
			c.broke = note
		}
	}
}

// vanished notes that a film's file is gone.
func (c *core) vanished(now time.Time, film int) {
	s := c.line[film]
	s.state = Missing
	s.note = fmt.Sprintf("%s is not at %s any more; put it back, or say where it is now", filepath.Base(s.Path), filepath.Dir(s.Path))
	for _, r := range []**run{&c.main, &c.side, &c.near} {
		if *r != nil && (*r).film == film {
			(*r).stop()
			*r = nil
		}
	}
	if c.at.film != film {
		return
	}
	c.pause(now)
	if c.wish != nil {
		c.wish = nil
		c.busy(false)
		if c.cur != nil && c.cur.film != film {
			c.missing = &Spot{s.ID, c.line.time(c.at)}
		}
	}
}
