package play

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// isCancelled and isGone sort a decoder's end.
func isCancelled(err error) bool { return errors.Is(err, context.Canceled) }

func isGone(err error) bool {
	return errors.Is(err, footage.ErrMissing) || errors.Is(err, ffmpeg.ErrNoFile)
}

// gapNote says where a film can't be decoded, and how to go on.
func (s *stretch) gapNote(g gap) string {
	name, at := filepath.Base(s.Path), clockText(s.index.Time(g.from))
	if g.to < s.hi {
		return fmt.Sprintf("the picture of %s is damaged from %s to %s and cannot be decoded there; play on to go on behind it", name, at, clockText(s.index.Time(g.to)))
	}
	note := fmt.Sprintf("the picture of %s cannot be decoded from %s on", name, at)
	if g.why != "" {
		return note + ": " + g.why
	}
	return note + "; copy the file again from the camera"
}

// passedNote says what was left out.
func (s *stretch) passedNote(g gap) string {
	return fmt.Sprintf("the picture of %s is damaged from %s to %s; this is the first frame behind it",
		filepath.Base(s.Path), clockText(s.index.Time(g.from)), clockText(s.index.Time(g.to)))
}

// clockText writes a film time as minutes and seconds.
func clockText(d time.Duration) string {
	ms := d.Round(time.Millisecond).Milliseconds()
	return fmt.Sprintf("%d:%02d.%03d", ms/60000, ms/1000%60, ms%1000)
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
