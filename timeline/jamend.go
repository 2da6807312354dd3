package timeline

import (
	"fmt"
	"slices"
)

// noOpportunity earns, as a trip ends, the opponents the jammer had no
// opportunity to pass (3.3). At an exit those are the ones ahead of the
// engagement zone, and those not on the track if nobody could be passed; at the
// jam's end the same, if the jammer is ahead of the rearmost pack skater (a
// jammer on her way round has had her whole trip before her). Further, those
// left out of play behind when she came from the box.
func (c *jamCounter) noOpportunity(s *sideTrips, jamEnd bool) {
	j := &c.skaters[s.jammer]
	if s.trip.back || j.gone != "" || j.sent || !j.star {
		return
	}
	where := "when the jammer left it at the front"
	reached := true
	if jamEnd {
		where = "when the jam ended and the jammer was ahead of the rearmost pack skater"
		reached = c.aheadOfRearmost(s)
	}
	for o := range c.skaters {
		if !c.passable(s, o) || s.trip.scored[o] {
			continue
		}
		switch {
		case reached && c.skaters[o].zone == ZoneAhead:
			c.passEarned(s, o, PointNoOpportunity, Reason{
				Text: "no opportunity: she was ahead of the engagement zone " + where, Section: "3.3",
			})
		case s.trip.noChance[o]:
			c.passEarned(s, o, PointNoOpportunity, Reason{
				Text: "no opportunity: she was out of play behind when the jammer came from the box ahead of her", Section: "3.3",
			})
		}
	}
	if s.trip.open || s.trip.chance || !reached || c.anyPassable(s) {
		c.settleNotOnTrack()
		return
	}
	for o := range c.skaters {
		if c.skaters[o].ref.Side == s.side || s.trip.scored[o] || !c.canBeNOTT(o) {
			continue
		}
		if is, how := c.notOnTrack(s, o); is {
			c.score(s, o, PointNoOpportunity, Reason{
				Text: "no opportunity: not on the track (" + how + "), and no opposing blocker could be passed in this trip", Section: "3.3",
			})
		}
	}
}

// anyPassable reports whether an opposing blocker is on the track.
func (c *jamCounter) anyPassable(s *sideTrips) bool {
	for o := range c.skaters {
		if c.passable(s, o) {
			return true
		}
	}
	return false
}

// aheadOfRearmost reports whether the jammer is in the engagement zone and ahead
// of at least one skater of the pack.
func (c *jamCounter) aheadOfRearmost(s *sideTrips) bool {
	if c.skaters[s.jammer].zone != ZoneWithin {
		return false
	}
	for i := range c.skaters {
		in := len(c.pack) == 0 || slices.Contains(c.pack, c.skaters[i].ref)
		if in && c.inPlay(i) && c.order.isAhead(s.jammer, i) {
			return true
		}
	}
	return false
}

// inPlay reports whether a skater is a blocker in play: on the track, in bounds,
// upright, not penalised and in the engagement zone. During a no pack every
// blocker on the track counts here: nobody is excused from being passed
// (C2.2.2.F). A jammer who passed the star before a zone was told of her is at
// the pack.
func (c *jamCounter) inPlay(i int) bool {
	sk := &c.skaters[i]
	return sk.role != Jammer && sk.gone == "" && !sk.sent && sk.inBounds && sk.upright &&
		(c.noPack || sk.zone == ZoneWithin || sk.zone == ZoneUnknown)
}

// jamEnds closes both trips (3.2): the end of the fourth blast of the first set.
func (c *jamCounter) jamEnds() {
	c.ended = true
	c.count.EndKnown = true
	c.count.EndAt = c.now
	c.count.Ended, c.count.EndWhy = c.endedBy()
	for _, s := range c.sides {
		if s.jammer == none {
			continue
		}
		if s.exitOnEntry {
			s.exitOnEntry = false // never came back in: the jam's end closes the trip
		}
		if s.trip.number > 1 || c.overtime {
			c.noOpportunity(s, true)
		}
		c.closeTrip(s, true, Reason{Text: "the jam ended", Section: "3.2"})
	}
}

// endedBy says what ended the jam (1.1, 2.2.2, 4.4.2, 5.2).
func (c *jamCounter) endedBy() (Ended, Reason) {
	for _, s := range c.sides {
		if s.count.Called {
			return EndCalled, s.count.CallWhy
		}
	}
	switch {
	case c.noJammerAt != nil:
		return EndNoJammer, Reason{Text: "a penalised jammer sat and there was no opposing jammer", Section: "4.4.2"}
	case c.now >= c.rules.JamLength:
		return EndTime, Reason{Text: fmt.Sprintf("the full %v had run", c.rules.JamLength), Section: "1.1"}
	}
	return EndOfficial, Reason{Text: "nobody called it and time was left: stopped by the officials", Section: "5.2"}
}

// finish sums up. Without an end event the open trips stand as they are.
func (c *jamCounter) finish() JamCount {
	c.event = none
	for _, s := range c.sides {
		if s.jammer != none && !c.ended {
			c.closeTrip(s, true, Reason{Text: "the events stop here; the jam's end is not told"})
		}
		for _, t := range s.count.Trips {
			s.count.Points += len(t.Points)
		}
		s.count.Points += len(s.count.Laps)
		c.sumUpInitial(s)
		c.sumUpLead(s)
	}
	if !c.ended {
		c.count.EndAt = max(0, c.now)
	}
	return c.count
}

// sumUpInitial marks each jammer who did not complete the initial trip (score
// sheet column NI: marked on each row it is true for).
func (c *jamCounter) sumUpInitial(s *sideTrips) {
	if s.jammer == none {
		return
	}
	// After a star pass the first jammer's mark was set then; the new one's follows.
	row := 0
	if s.passed {
		row = 1
	}
	s.count.NoInitial[row] = s.trip.number == 1
}
