package simulate

import (
	"sort"
	"time"
)

// clockMark is the period clock at a moment since the game's start: how much
// was left and whether it ran on from there.
type clockMark struct {
	at, left time.Duration
	runs     bool
	period   int
}

// clock is the period clock (Rules 1.1): started by a jam's start whistle, it
// runs through jams and line-ups and stops in timeouts.
type clock struct {
	marks  []clockMark
	period int
}

// left is the time left at a moment not before the last mark.
func (m clockMark) leftAt(now time.Duration) time.Duration {
	if !m.runs {
		return m.left
	}
	return max(0, m.left-(now-m.at))
}

func (c *clock) last() clockMark {
	if len(c.marks) == 0 {
		return clockMark{}
	}
	return c.marks[len(c.marks)-1]
}

func (c *clock) left(now time.Duration) time.Duration { return c.last().leftAt(now) }

func (c *clock) set(now, left time.Duration, period int) {
	c.period = period
	c.marks = append(c.marks, clockMark{at: now, left: left, period: period})
}

func (c *clock) start(now time.Duration) { c.turn(now, true) }
func (c *clock) stop(now time.Duration)  { c.turn(now, false) }

func (c *clock) turn(now time.Duration, runs bool) {
	if l := c.last(); l.runs != runs {
		c.marks = append(c.marks, clockMark{now, l.leftAt(now), runs, c.period})
	}
}

// at reads the clock at any moment of the game.
func (c *clock) at(t time.Duration) (left time.Duration, runs bool) {
	i := sort.Search(len(c.marks), func(i int) bool { return c.marks[i].at > t }) - 1
	if i < 0 {
		return 0, false
	}
	m := c.marks[i]
	left = m.leftAt(t)
	return left, m.runs && left > 0
}
