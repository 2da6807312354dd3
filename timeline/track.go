package timeline

import "slices"

// onTrack is one skater's state while a jam is counted.
type onTrack struct {
	ref  SkaterRef
	role Role // as it is now: changes with a star pass

	gone  gone // why she is not on the track; empty when she is
	zone  Zone
	star  bool // jammer: star on, showing
	strip bool // pivot: stripe on, showing

	upright  bool
	inBounds bool
	// airborne: upright and inBounds hold as they will turn out on landing (2.5).
	airborne bool

	// sent: penalised and on the way to the box. stays: penalised but to remain on the
	// track until a teammate joins, as the last blocker (5.4). queued: back on the
	// track because no seat was free (4.4.1).
	sent   bool
	stays  bool
	queued bool
	// outBySelf and starBySelf: her own side's act keeps a jammer from scoring (3.3).
	outBySelf  bool
	starBySelf bool
	// cameBehind, by the side of a jammer: she came back onto the track behind that
	// jammer and has not been ahead of her since (2.5).
	cameBehind [2]bool
}

// gone says why a skater is not on the track.
type gone string

const (
	goneAbsent gone = "not fielded"
	goneBox    gone = "in the box"
	goneOff    gone = "off the track"
	// goneExtra: one blocker too many, taken off again: no part of the jam.
	goneExtra gone = "one blocker too many"
)

// newJamCounter sets the skaters as they stand at the whistle.
func newJamCounter(rules RuleSet, start JamStart, events []Event) *jamCounter {
	c := &jamCounter{
		rules: rules, overtime: start.Overtime, events: events, event: -1,
		count: JamCount{Edition: rules.Edition},
		byRef: map[SkaterRef]int{}, holders: map[int]bool{},
	}
	for _, e := range events { // what is known at the start was so before every event
		c.now = min(c.now, e.At)
	}
	for i := range c.sides {
		s := &sideTrips{
			side: Sides[i], count: &c.count.Sides[i], eligible: true,
			jammer: none, starter: none, pivot: none, pendingPass: none,
		}
		s.trip = newTrip(1, 0)
		c.sides[i] = s
	}
	for _, f := range start.Skaters {
		c.field(f)
	}
	for i, n := range start.NotFielded {
		for range min(max(n, 0), blockersPerSide) {
			c.skaters = append(c.skaters, onTrack{ref: SkaterRef{Side: Sides[i]}, role: Blocker, gone: goneAbsent})
		}
	}
	c.order = newOrdering(c, start.Skaters)
	c.laps = newLapping(c)
	for _, s := range c.sides {
		c.checkLineup(s)
	}
	return c
}

// field adds one skater. The jammer is who has the visible star; a second one
// named jammer without it is a non-pivot blocker (2.2.1, C2.2.1.A).
func (c *jamCounter) field(f Fielded) {
	if f.Side != Home && f.Side != Away {
		c.problem("a skater without a side was fielded; left out")
		return
	}
	if _, twice := c.byRef[f.SkaterRef]; twice {
		c.problem(f.SkaterRef.String() + " was fielded twice; the first entry holds")
		return
	}
	sk := onTrack{
		ref: f.SkaterRef, role: f.Role, zone: ZoneWithin, upright: true, inBounds: true,
		star: f.Role == Jammer && !f.NoStar, strip: f.Role == Pivot && !f.NoStripe,
	}
	switch {
	case f.Absent:
		sk.gone = goneAbsent
	case f.InBox && f.Queued:
		sk.queued = true
	case f.InBox:
		sk.gone = goneBox
	}
	i := len(c.skaters)
	c.skaters = append(c.skaters, sk)
	c.byRef[f.SkaterRef] = i
	s := c.sides[f.Side.Index()]
	switch f.Role {
	case Jammer:
		c.fieldJammer(s, i, f)
	case Pivot:
		if s.pivot != none {
			c.problem(c.name(i) + " is a second pivot; she counts as a blocker")
			c.skaters[i].role = Blocker
			return
		}
		s.pivot = i
	case Blocker:
	default:
		c.problem(c.name(i) + " has no role; she counts as a blocker")
		c.skaters[i].role = Blocker
	}
}

func (c *jamCounter) fieldJammer(s *sideTrips, i int, f Fielded) {
	sk := &c.skaters[i]
	if f.Absent {
		return // no jammer in this jam from her
	}
	if s.jammer != none {
		first := &c.skaters[s.jammer]
		if first.star || !sk.star {
			c.problem(c.name(i) + " is a second jammer; without the only visible star she counts as a blocker (2.2.1)")
			sk.role, sk.star = Blocker, false
			return
		}
		c.problem(c.name(s.jammer) + " has no visible star and counts as a blocker; " + c.name(i) + " has it (2.2.1)")
		first.role = Blocker
	}
	sk.zone = ZoneUnknown // behind the pack, perhaps within the engagement zone already
	s.jammer, s.starter = i, i
	s.count.Jammer = f.Number
	if f.PenalisedInLineup {
		s.eligible = false
		why := Reason{Text: "penalised in the line-up before this jam", Section: "2.2.2"}
		c.loseEligibility(s, why)
	}
}

func (c *jamCounter) checkLineup(s *sideTrips) {
	n := 0
	for _, sk := range c.skaters {
		if sk.ref.Side == s.side && sk.role != Jammer && sk.gone != goneAbsent {
			n++
		}
	}
	if s.extra = max(0, n-blockersPerSide); s.extra > 0 {
		c.problem(s.side.String() + " fielded more than four blockers (2.2); who leaves the track first is taken to be too many")
	}
	if s.jammer != none {
		s.trip.jammer = s.jammer
	}
}

// find returns the skater an event names, or reports that nobody of that name
// was fielded.
func (c *jamCounter) find(r SkaterRef) (int, bool) {
	i, ok := c.byRef[r]
	if !ok {
		c.problem(r.String() + " was not fielded in this jam; left out")
	}
	return i, ok
}

func (c *jamCounter) name(i int) string { return c.skaters[i].ref.String() }

func (c *jamCounter) sideOf(i int) *sideTrips { return c.sides[c.skaters[i].ref.Side.Index()] }
func (c *jamCounter) opposing(i int) *sideTrips {
	return c.sides[c.skaters[i].ref.Side.Other().Index()]
}
func (c *jamCounter) isJammer(i int) bool { return c.sideOf(i).jammer == i }

// landsAt reports whether the skater is told to be out of bounds or down at the
// very moment of her landing: then the first touchdown was there.
func (c *jamCounter) landsAt(who int, from int) (out, down, lands bool) {
	ref, at, found := c.skaters[who].ref, c.now, false
	for _, e := range c.events {
		if e.What == EvLands && e.Who == ref && e.At >= c.events[from].At && (!found || e.At < at) {
			at, found = e.At, true
		}
	}
	if !found {
		return false, false, false
	}
	for _, e := range c.events {
		if e.At == at && e.Who == ref {
			out = out || e.What == EvOut
			down = down || e.What == EvDown
		}
	}
	return out, down, true
}

// posture applies events that change where and how a skater stands.
func (c *jamCounter) posture(who int, e Event) {
	sk := &c.skaters[who]
	if sk.gone != "" {
		c.problem(c.name(who) + " is " + string(sk.gone) + " and can't be " + string(e.What) + "; left out")
		return
	}
	switch e.What {
	case EvDown:
		sk.upright = false
	case EvUp:
		sk.upright = true
	case EvOut:
		sk.inBounds = false
		sk.outBySelf = e.By == BySelf || e.By == ByTeammate
	case EvIn:
		sk.inBounds, sk.outBySelf = true, false
		c.place(who, e)
		c.entersInBounds(who, e)
	case EvTakesOff:
		if sk.airborne {
			c.problem(c.name(who) + " was already in the air")
		}
		sk.airborne = true
		// Airborne, she keeps the status she took off with, if her first touchdown is
		// in bounds and on a skate (2.5). The landing is looked up ahead.
		out, down, lands := c.landsAt(who, c.event)
		if lands {
			sk.inBounds = sk.inBounds && !out
			sk.upright = sk.upright && !down
		}
	case EvLands:
		if !sk.airborne {
			c.problem(c.name(who) + " landed without having taken off")
		}
		sk.airborne = false
		out, down, _ := c.landsAt(who, c.event)
		sk.inBounds, sk.upright = !out, !down
		if !out {
			sk.outBySelf = false
			c.place(who, e)
			c.entersInBounds(who, e)
		}
	}
}

// place puts a skater where the event says she came in.
func (c *jamCounter) place(who int, e Event) {
	for _, r := range e.Behind {
		if o, ok := c.byRef[r]; ok && o != who {
			c.order.put(o, who)
		}
	}
	for _, r := range e.AheadOf {
		if o, ok := c.byRef[r]; ok && o != who {
			c.order.put(who, o)
		}
	}
}

// ordering keeps who is ahead of whom on the track, as far as it is known. A
// jammer who leaves the engagement zone at the front has the whole pack ahead of
// her again.
type ordering struct{ ahead [][]int8 } // +1 the row's skater is ahead, -1 behind, 0 unknown

func newOrdering(c *jamCounter, fielded []Fielded) ordering {
	n := len(c.skaters)
	o := ordering{ahead: make([][]int8, n)}
	for i := range o.ahead {
		o.ahead[i] = make([]int8, n)
	}
	place := map[SkaterRef]int{}
	for _, f := range slices.Backward(fielded) { // the first entry of a skater holds
		place[f.SkaterRef] = f.Order
	}
	for i := range n {
		for j := range n {
			a, b := c.skaters[i], c.skaters[j]
			if i == j || a.gone != "" || b.gone != "" {
				continue
			}
			switch pa, pb := place[a.ref], place[b.ref]; {
			case pa > pb:
				o.put(i, j)
			case pa == pb && b.role == Jammer && a.role != Jammer:
				o.put(i, j) // jammers start behind the blockers (2.2.6)
			}
		}
	}
	return o
}

// put says that a is ahead of b.
func (o ordering) put(a, b int) { o.ahead[a][b], o.ahead[b][a] = 1, -1 }

// isAhead reports whether a is known to be ahead of b.
func (o ordering) isAhead(a, b int) bool { return o.ahead[a][b] > 0 }

// toTheBack puts everybody ahead of i.
func (o ordering) toTheBack(i int) {
	for j := range o.ahead {
		if j != i {
			o.put(j, i)
		}
	}
}
