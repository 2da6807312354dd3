package play

import "time"

// heard turns the samples a device has played, which advance in steps, into a
// position that advances evenly. All times are real time, not film time.
type heard struct {
	began   bool
	raw     time.Duration // last count
	changed time.Time     // when it last changed
	base    time.Duration // estimate at baseAt
	baseAt  time.Time
}

const (
	// jolt is a difference that is not the steps of a count but a change.
	jolt = 120 * time.Millisecond
	// silentDevice is how long a device may play nothing before it counts as gone.
	silentDevice = 2 * time.Second
	// steady is how long the estimate runs on without a new count: a bit more
	// than the longest steps seen (13 ms), far less than a noticeable lag.
	steady = 100 * time.Millisecond
)

// at takes a count at a time and gives the position heard then.
func (h *heard) at(now time.Time, raw time.Duration) time.Duration {
	if !h.began {
		*h = heard{began: true, raw: raw, changed: now, base: raw, baseAt: now}
		return raw
	}
	run := now.Sub(h.baseAt)
	if limit := h.changed.Add(steady).Sub(h.baseAt); run > limit {
		run = max(0, limit)
	}
	estimate := h.base + run
	if raw != h.raw {
		h.raw, h.changed = raw, now
		// A count that has just stepped is at its most exact.
		switch off := raw - estimate; {
		case off > jolt || off < -jolt:
			estimate = raw
		default:
			estimate += off / 8
		}
		h.base, h.baseAt = estimate, now
	}
	return estimate
}

// stalled says whether the device has stood still too long to be working.
func (h *heard) stalled(now time.Time) bool { return h.began && now.Sub(h.changed) > silentDevice }

// clock says how much real time of a course was played. It begins on the wall
// clock and follows what is heard once sound has joined.
type clock struct {
	began  time.Time
	base   time.Duration // played when began
	last   time.Duration // never goes back
	voice  Voice
	joined time.Duration // played when the voice's first sample is heard
	heard  heard
}

func newClock(now time.Time, base time.Duration) *clock {
	return &clock{began: now, base: base, last: base}
}

// played is the real time played.
func (c *clock) played(now time.Time) time.Duration {
	t := c.base + now.Sub(c.began)
	if c.voice != nil {
		t = c.joined + c.heard.at(now, c.voice.Heard())
	}
	c.last = max(c.last, t)
	return c.last
}

// join makes a voice the master. Its first sample belongs at played time at.
func (c *clock) join(now time.Time, v Voice, at time.Duration) {
	c.voice, c.joined, c.heard = v, at, heard{}
}

// leave goes on by the wall clock from where it is.
func (c *clock) leave(now time.Time) {
	t := c.played(now)
	c.voice, c.began, c.base = nil, now, t
}
