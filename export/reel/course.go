package reel

import (
	"errors"
	"fmt"
	"math"
	"time"

	"whistlecut/export/clip"
)

// leg is a stretch of a section at one speed, or a held frame.
type leg struct {
	from, to time.Duration // film times of its ends
	rate     float64       // 0: the frame at from is held
	freeze   int           // number of the freeze from 1, 0 for none
	a, b     int           // the section's frames it takes, b not included
}

// course is what a section shows, frame by frame of the reel.
type course struct {
	legs        []leg
	frames      int // of the reel
	first, last int // of the film
	at          []time.Duration
	freezing    []int // number of the freeze each frame belongs to, 0 for none
	clamped     bool
}

// clock is what is needed to know of a film's frames.
type clock interface {
	Frames() int
	Time(k int) time.Duration
	End(k int) time.Duration
	FrameAt(t time.Duration) int
	Window(from, to time.Duration) (first, last int)
}

// newCourse lays out a section: the film's frames from one end to the other, at
// their speeds, and the frames held. Bounds between legs are rounded to whole
// frames of the reel as sums from the section's start, so that roundings don't
// add up.
func newCourse(s clock, f *Film, form Format, interval time.Duration) (*course, error) {
	end := s.End(s.Frames() - 1)
	if f.To <= 0 || f.From >= end {
		return nil, fmt.Errorf("%v to %v lies outside the film, which ends at %v", f.From, f.To, end)
	}
	first, last := s.Window(f.From, f.To)
	c := &course{first: first, last: last, clamped: f.From < 0 || f.To > end}
	start, stop := s.Time(first), s.End(last)
	// Where the film changes its speed: at the frames shown there.
	snap := func(t time.Duration) time.Duration {
		if t >= stop {
			return stop
		}
		return max(start, s.Time(s.FrameAt(t)))
	}
	now := start
	run := func(to time.Duration, rate float64) {
		if to > now {
			c.legs = append(c.legs, leg{from: now, to: to, rate: rate})
			now = to
		}
	}
	for _, v := range f.Speeds {
		run(snap(v.From), 1)
		run(snap(v.To), v.Rate)
	}
	run(stop, 1)
	for i, z := range f.Freezes {
		if z.At < start || z.At >= stop || z.Length == 0 {
			continue
		}
		c.hold(snap(z.At), z.Length, i+1)
	}
	rate := form.Rate.Float()
	sum := 0.0
	for i := range c.legs {
		l := &c.legs[i]
		l.a = int(math.Round(sum * rate))
		if l.rate == 0 {
			sum += (l.to - l.from).Seconds()
			l.to = l.from
		} else {
			sum += (l.to - l.from).Seconds() / l.rate
		}
		l.b = int(math.Round(sum * rate))
	}
	if n := len(c.legs); c.legs[n-1].b == 0 {
		c.legs[n-1].b = 1
	}
	c.frames = c.legs[len(c.legs)-1].b
	c.follow(rate, interval)
	if c.frames > math.MaxInt32/2 {
		return nil, errors.New("it is too long")
	}
	return c, nil
}

// hold puts a freeze where it belongs. Freezes of one frame come one after the
// other.
func (c *course) hold(at, length time.Duration, number int) {
	z := leg{from: at, to: at + length, freeze: number}
	var out []leg
	placed := false
	for _, l := range c.legs {
		if placed || l.rate == 0 || at >= l.to {
			out = append(out, l)
			continue
		}
		if at > l.from {
			out = append(out, leg{from: l.from, to: at, rate: l.rate})
		}
		out = append(out, z, leg{from: at, to: l.to, rate: l.rate})
		placed = true
	}
	c.legs = out
}

// follow notes the film time of every frame of the reel. A quarter of the
// shorter distance of frames is added, so that jitter and rounding don't make it
// the frame before.
func (c *course) follow(rate float64, interval time.Duration) {
	for _, l := range c.legs {
		step := l.rate / rate
		into := math.Min(step, interval.Seconds()) / 4
		for n := l.a; n < l.b; n++ {
			t := l.from + time.Duration((float64(n-l.a)*step+into)*float64(time.Second))
			if l.rate == 0 {
				t = l.from + interval/4
			} else if t >= l.to {
				t = l.to - 1
			}
			c.at = append(c.at, t)
			c.freezing = append(c.freezing, l.freeze)
		}
	}
}

// shown lists the film's frames and where each begins to be shown. shift is added
// to the film times, for a second film.
func (c *course) shown(s clock, shift time.Duration, first, last int) []clip.Shown {
	var out []clip.Shown
	for n, t := range c.at {
		k := min(max(s.FrameAt(t+shift), first), last)
		if len(out) == 0 || k > out[len(out)-1].Frame {
			out = append(out, clip.Shown{Frame: k, At: n})
		}
	}
	return out
}

// drawn are the section's frames over which a layer lies, both included; ok is
// false for none.
func (c *course) drawn(s clock, l Layer) (from, to int, ok bool) {
	from = -1
	for n, t := range c.at {
		on := l.From == 0 && l.To == 0
		switch {
		case l.Freeze > 0:
			on = c.freezing[n] == l.Freeze
		case !on:
			k := s.FrameAt(t)
			on = s.End(k) > l.From && s.Time(k) < l.To
		}
		if on && from < 0 {
			from = n
		}
		if on {
			to = n
		}
	}
	return from, to, from >= 0
}

// plainRun says whether a section is film as it is: one stretch at its speed.
func (c *course) plainRun() bool { return len(c.legs) == 1 && c.legs[0].rate == 1 }
