package timeline

import "time"

// trip is one trip of a side's jammer position through the pack (3.2). It
// belongs to the position: after a star pass the new jammer goes on with it.
type trip struct {
	number int // 1 is the initial trip
	start  time.Duration
	jammer int
	// back: she came in again from the front and is on the trip before (3.2).
	back bool

	passed map[int]bool // earned passes on blockers of both sides, for lead
	scored map[int]bool // opponents earned
	points []PointCount
	tried  map[int]Reason // opponents passed without earning it, last why
	// open: a pass on an opposing blocker was earned, those not on the track follow.
	open     bool
	openedBy string
	chance   bool // some opposing blocker could have been passed
	// noChance: out of play behind the pack when the jammer came from the box ahead
	// of them (3.3).
	noChance map[int]bool
}

func newTrip(number int, start time.Duration) trip {
	return trip{
		number: number, start: start, jammer: none,
		passed: map[int]bool{}, scored: map[int]bool{}, tried: map[int]Reason{}, noChance: map[int]bool{},
	}
}

// moveTo sets a skater's zone and lets a jammer's trip follow from it.
func (c *jamCounter) moveTo(who int, z Zone) {
	sk := &c.skaters[who]
	switch {
	case sk.gone != "":
		c.problem(c.name(who) + " is " + string(sk.gone) + " and in no zone; left out")
		return
	case z == ZoneUnknown:
		return
	case z != ZoneBehind && z != ZoneWithin && z != ZoneAhead:
		c.problem("a zone " + quote(string(z)) + " is not known; left out")
		return
	}
	was := sk.zone
	sk.zone = z
	if was == z || c.now < 0 {
		return
	}
	if !c.isJammer(who) || sk.sent {
		return
	}
	s := c.sideOf(who)
	switch {
	case (was == ZoneWithin || was == ZoneUnknown) && z == ZoneAhead:
		if !sk.inBounds {
			// Past the front but out of bounds: the trip is over when she is back in
			// bounds, by how things stand then (C3.3.B).
			s.exitOnEntry = true
			return
		}
		c.exitsFront(s)
	case was == ZoneAhead && z == ZoneWithin:
		if !s.exitOnEntry { // out of bounds all the time, she never ended the trip
			c.fromTheFront(s)
		}
	case was == ZoneAhead && z == ZoneBehind:
		// On the way round she comes on everybody from behind again, on those too whom
		// she passed ahead of the engagement zone.
		c.order.toTheBack(who)
	}
	if z != ZoneAhead {
		s.exitOnEntry = false
	}
}

// entersInBounds ends a trip that a jammer left out of bounds.
func (c *jamCounter) entersInBounds(who int, e Event) {
	if e.Zone != ZoneUnknown {
		c.moveTo(who, e.Zone)
	}
	if !c.isJammer(who) {
		return
	}
	if s := c.sideOf(who); s.exitOnEntry && c.skaters[who].zone == ZoneAhead && !c.skaters[who].sent {
		s.exitOnEntry = false
		c.exitsFront(s)
	}
}

// inferZone corrects a jammer's zone by whom she passes: past a blocker in the
// engagement zone, she is in it herself.
func (c *jamCounter) inferZone(who, whom int, e Event) {
	a, b := &c.skaters[who], &c.skaters[whom]
	if !c.isJammer(who) || b.role == Jammer || b.sent || a.zone == ZoneWithin || a.sent || e.Moved != MovedPasser {
		return
	}
	if b.zone == ZoneWithin {
		a.zone = ZoneWithin
	}
}

// exitsFront is a jammer leaving the engagement zone at the front: the trip is
// over and the next begins; on the trip before, she is back on her latest (3.2).
func (c *jamCounter) exitsFront(s *sideTrips) {
	c.giveLead() // a pass at this very moment counts first
	j := s.jammer
	leadPossible := s.trip.number == 1 && c.leadFor == nil && s.eligible && !c.overtime
	if leadPossible && j == s.starter {
		c.loseEligibility(s, Reason{Text: "left the engagement zone at the front without having become lead", Section: "2.2.2"})
	}
	if s.trip.back {
		s.trip.back = false
		c.status(s, j, StatusTrip, Reason{Text: "left at the front again: on her latest trip", Section: "3.2"})
		c.toTheBack(s)
		return
	}
	c.noOpportunity(s, false)
	why := Reason{Text: "the jammer left the engagement zone at the front", Section: "3.2"}
	if c.noPack {
		why.Text = "with no pack, the jammer was more than 20 ft ahead of the foremost skater of the last pack"
	}
	c.closeTrip(s, false, why)
	if s.trip.number == 1 {
		s.count.InitialAt = c.now
		c.status(s, j, StatusInitial, why)
	} else {
		c.status(s, j, StatusTrip, why)
	}
	s.trip = newTrip(s.trip.number+1, c.now)
	s.trip.jammer = j
	c.toTheBack(s)
}

// toTheBack has the jammer come to everybody from behind again.
func (c *jamCounter) toTheBack(s *sideTrips) {
	c.order.toTheBack(s.jammer)
	for i := range c.skaters {
		c.skaters[i].cameBehind[s.side.Index()] = false
	}
}

// fromTheFront is a jammer coming into the engagement zone from the front: she
// is on the trip before, at most one back, until she leaves at the front (3.2).
func (c *jamCounter) fromTheFront(s *sideTrips) {
	s.trip.back = true
	for i := range c.skaters {
		if i != s.jammer && c.skaters[i].gone == "" && c.skaters[i].zone != ZoneAhead {
			c.order.put(s.jammer, i)
		}
	}
	text := "came in from the front: back on the trip before, which gives no more points"
	if s.trip.number == 1 {
		text = "came in from the front: behind her initial trip, passes earn nothing until she is on it again"
	}
	c.status(s, s.jammer, StatusBackOn, Reason{Text: text, Section: "3.2"})
}

// closeTrip writes the trip into the count.
func (c *jamCounter) closeTrip(s *sideTrips, open bool, why Reason) {
	t := &s.trip
	tc := TripCount{
		Number: t.number, Start: t.start, End: max(t.start, c.now), NewStar: s.passed, Open: open,
		Points: t.points, EndWhy: why,
	}
	if s.jammer != none {
		tc.Jammer = c.skaters[s.jammer].ref.Number
	}
	if t.number > 1 || c.overtime {
		tc.Unscored = c.unscored(s)
	}
	s.count.Trips = append(s.count.Trips, tc)
}

// unscored says for each opposing blocker who gave no point why she did not.
func (c *jamCounter) unscored(s *sideTrips) []UnscoredCount {
	var list []UnscoredCount
	for o := range c.skaters {
		sk := &c.skaters[o]
		if sk.ref.Side == s.side || sk.role == Jammer || sk.gone == goneExtra || s.trip.scored[o] {
			continue
		}
		why, tried := s.trip.tried[o]
		switch off, how := c.notOnTrack(s, o); {
		case tried:
		case off && s.trip.open:
			why = Reason{Text: "not on the track (" + how + "), but the jammer was by her own act not able to score when the trip ended", Section: "3.3"}
		case off:
			why = Reason{Text: "not on the track (" + how + "), and no pass was earned on any opposing blocker in this trip", Section: "2.5"}
		default:
			why = Reason{Text: "not passed in this trip", Section: "3.1"}
		}
		list = append(list, UnscoredCount{On: sk.ref, Why: why})
	}
	return list
}
