package timeline

import (
	"fmt"
	"time"
)

// Clock is the period clock and bout time at one moment.
type Clock struct {
	Period int
	// Left is the time left on the period clock; Running is false in a timeout, once
	// the clock has run out, and in overtime.
	Left    time.Duration
	Running bool
	// BoutTime is real time since the period's first jam-start whistle.
	BoutTime      time.Duration
	BoutTimeKnown bool
}

// clockTolerance is how far a clock read off the film by whistles may differ from
// the one written down, which officials start and stop by hand (common practice,
// no source).
const clockTolerance = 3 * time.Second

// clock computes the period clock at each jam's start: it starts on the first
// jam-start whistle, runs on between jams, stops for a timeout and restarts at
// the next jam start (Rules 1.1, 1.3). What a venue's clock really showed may
// differ by the hand that ran it.
func (d *deriver) clock() {
	a := d.bout.Alignment
	for _, p := range d.bout.Periods {
		for n, i := range p.Jams {
			j := &d.bout.Jams[i]
			switch {
			case j.Overtime:
				j.ClockKnown = true
				j.ClockWhy = Reason{Text: "overtime: the period clock has run out", Section: "1.5.1"}
				continue
			case n == 0:
				j.ClockAtStart, j.ClockKnown = d.rules.PeriodLength, true
				j.ClockWhy = Reason{Text: "the period clock starts on the first jam-start whistle", Section: "1.1"}
				d.fillBreaks(i)
				continue
			}
			last := d.bout.Jams[p.Jams[n-1]]
			if b := d.firstBreak(p.Jams[n-1]); b != nil {
				if b.ClockKnown {
					j.ClockAtStart, j.ClockKnown = b.Clock, true
					j.ClockWhy = Reason{Text: "the clock stopped in the timeout before and restarts with the jam", Section: "1.3", Tags: []ID{b.Tag}}
				} else {
					j.ClockWhy = Reason{Text: "nobody noted when the timeout before stopped the clock", Section: "1.3", Tags: []ID{b.Tag}}
				}
			} else {
				x, ok1 := a.Starts[last.ID]
				y, ok2 := a.Starts[j.ID]
				if last.ClockKnown && ok1 && ok2 && x.Group == y.Group {
					j.ClockAtStart, j.ClockKnown = last.ClockAtStart-(y.At-x.At), true
					j.ClockWhy = Reason{Text: fmt.Sprintf("ran on for %.1f s since jam %s started", (y.At - x.At).Seconds(), last.Name()), Section: "1.1"}
				} else {
					j.ClockWhy = Reason{Text: fmt.Sprintf("the film does not tell how long after jam %s it started", last.Name()), Section: "1.1"}
				}
			}
			if j.ClockKnown && j.ClockAtStart < 0 {
				if j.ClockAtStart < -clockTolerance {
					d.problem(Problem{
						Kind: ProblemClock, Jam: j.ID, Tags: []ID{j.ID}, Section: "1.1",
						Text: fmt.Sprintf("jam %s would start %.0f s after the period clock ran out: a timeout before it is missing, or a jam is in the wrong period", j.Name(), -j.ClockAtStart.Seconds()),
					})
					j.ClockKnown = false
					j.ClockWhy = Reason{Text: "the clock would have run out before: a timeout is missing", Section: "1.1"}
				}
				j.ClockAtStart = 0
			}
			d.fillBreaks(i)
		}
	}
}

// fillBreaks computes the clock at the breaks after jam i from the film, and
// compares it with what was written down.
func (d *deriver) fillBreaks(i int) {
	j := d.bout.Jams[i]
	start, ok := d.bout.Alignment.Starts[j.ID]
	if !ok || !j.ClockKnown {
		return
	}
	first := true
	var stopped time.Duration
	for n := range d.bout.Breaks {
		b := &d.bout.Breaks[n]
		if b.AfterJam != i {
			continue
		}
		p := d.tag[b.Tag].Place
		at, ok := d.bout.Alignment.GroupAt(p.Footage, p.Film)
		if p.InJam && p.Jam == j.ID {
			at, ok = GroupTime{start.Group, start.At + p.Offset}, true
		}
		if !first && stopped > 0 && !b.ClockKnown {
			b.Clock, b.ClockKnown = stopped, true // the clock stands already
		}
		if !ok || at.Group != start.Group {
			first = false
			if b.ClockKnown {
				stopped = b.Clock
			}
			continue
		}
		film := max(j.ClockAtStart-(at.At-start.At), 0)
		if first && b.ClockGiven && absDuration(film-b.Clock) > clockTolerance {
			d.problem(Problem{
				Kind: ProblemClock, Jam: j.ID, Side: b.Side, Tags: []ID{b.Tag}, Section: "1.3",
				Text: fmt.Sprintf("the clock at the %s after jam %s is given as %s, by the film it would be %s; what was given is taken", b.Kind, j.Name(), clockText(b.Clock), clockText(film)),
			})
		}
		if first && !b.ClockKnown {
			b.Clock, b.ClockKnown = film, true
		}
		if b.ClockKnown {
			stopped = b.Clock
		}
		first = false
	}
}

// firstBreak is the first break after jam i that tells the clock, or else the first one.
func (d *deriver) firstBreak(i int) *Break {
	var first *Break
	for n := range d.bout.Breaks {
		b := &d.bout.Breaks[n]
		if b.AfterJam != i {
			continue
		}
		if b.ClockKnown {
			return b
		}
		if first == nil {
			first = b
		}
	}
	return first
}

// ClockAt reads the period clock at a film time. It is not ok where no jam is
// known before it, where the jam's clock is not known, or where a timeout
// without a time may have stopped it.
func (b Bout) ClockAt(footage ID, film time.Duration) (Clock, bool) {
	id, off, ok := b.Alignment.JamAt(footage, film)
	if !ok {
		return Clock{}, false
	}
	for i, j := range b.Jams {
		if j.ID != id {
			continue
		}
		c := Clock{Period: j.Period, BoutTime: j.BoutTime + off, BoutTimeKnown: j.BoutTimeKnown}
		if !j.ClockKnown {
			return c, false
		}
		c.Left = max(j.ClockAtStart-off, 0)
		c.Running = c.Left > 0 && !j.Overtime
		for _, br := range b.Breaks {
			if br.AfterJam != i {
				continue
			}
			if !br.ClockKnown {
				if j.Duration == 0 || off > j.Duration {
					return c, false
				}
				continue
			}
			if c.Left < br.Clock {
				c.Left, c.Running = br.Clock, false
			}
		}
		return c, true
	}
	return Clock{}, false
}

// clockText writes a clock as venues show it: minutes and seconds.
func clockText(t time.Duration) string {
	s := int(t.Round(time.Second) / time.Second)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}
