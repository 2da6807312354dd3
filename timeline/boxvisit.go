package timeline

// penalised is an official's signal on a skater: from here she is on the way to
// the box. A jammer loses lead or the chance of it (2.2.2) and can't score until
// she is back (3.4). A last blocker on the track stays until a teammate joins
// (5.4).
func (c *jamCounter) penalised(who int, e Event) {
	sk := &c.skaters[who]
	s := c.sideOf(who)
	if c.isJammer(who) {
		why := Reason{Text: "penalised", Section: "2.2.2", Tags: e.Tags}
		if c.now < 0 {
			why.Text = "penalised in the line-up before this jam"
		}
		if who == s.starter {
			c.loseEligibility(s, why)
		}
		c.status(s, who, StatusPenalised, Reason{Text: "penalised: not on the track until she is back from the box", Section: "3.4", Tags: e.Tags})
		c.jammerLeaves()
	}
	if sk.gone != "" {
		return // assessed in the box or off the track
	}
	if !c.isJammer(who) && c.lastBlocker(who) {
		sk.stays = true
		return
	}
	sk.sent = true
}

// lastBlocker reports whether no other blocker of her team is on the track and
// not on the way to the box.
func (c *jamCounter) lastBlocker(who int) bool {
	for i := range c.skaters {
		o := &c.skaters[i]
		if i != who && o.ref.Side == c.skaters[who].ref.Side && o.role != Jammer && o.gone == "" && !o.sent {
			return false
		}
	}
	return true
}

// boxVisit is a skater in the box.
func (c *jamCounter) boxVisit(who int, e Event) {
	sk := &c.skaters[who]
	if e.What != EvSits {
		if sk.gone != goneBox {
			c.problem(c.name(who) + " is not in the box; left out")
		}
		return
	}
	if !sk.sent && !sk.stays && !sk.queued && sk.gone != goneBox {
		c.problem(c.name(who) + " sits in the box without a penalty told; taken as sent there")
	}
	sk.gone, sk.sent, sk.stays, sk.queued = goneBox, false, false, false
	c.settleAirborne(who)
	if c.isJammer(who) {
		c.jammerLeaves()
		if c.opposing(who).jammer == none && c.now >= 0 && c.noJammerAt == nil {
			at := c.now
			c.noJammerAt = &at
		}
	}
}

// leavesTrack is a skater going off for gear or injury, or one blocker too many
// taken off again (C4.2.3.I).
func (c *jamCounter) leavesTrack(who int) {
	sk, s := &c.skaters[who], c.sideOf(who)
	if sk.gone == goneBox {
		c.problem(c.name(who) + " is in the box and can't leave the track; left out")
		return
	}
	sk.gone, sk.sent = goneOff, false
	if s.extra > 0 && sk.role != Jammer {
		s.extra--
		sk.gone = goneExtra
	}
	c.settleAirborne(who)
	if c.isJammer(who) {
		c.jammerLeaves()
	}
}

// settleAirborne has a skater off the track stand on her skates again.
func (c *jamCounter) settleAirborne(who int) {
	sk := &c.skaters[who]
	sk.airborne, sk.upright, sk.inBounds, sk.outBySelf = false, true, true, false
}

// comesBack is a skater returning to the track: from the box, sent back because
// no seat was free (4.4.1), or from gear or injury. She comes in behind everybody
// in play (4.2.2) unless the event says otherwise.
func (c *jamCounter) comesBack(who int, e Event) {
	sk := &c.skaters[who]
	switch {
	case sk.gone == "" && sk.sent && e.What == EvReturns:
		sk.queued = true // plays on until a seat is free
	case sk.gone == "":
		c.problem(c.name(who) + " comes back without having left the track; left out")
		return
	}
	sk.gone, sk.sent = "", false
	c.settleAirborne(who)
	for _, o := range c.events {
		if o.At == c.now && o.Who == sk.ref {
			sk.inBounds = sk.inBounds && o.What != EvOut
			sk.upright = sk.upright && o.What != EvDown
		}
	}
	sk.zone = e.Zone
	if e.Zone == ZoneUnknown && !c.isJammer(who) {
		sk.zone = ZoneWithin
	}
	if c.isJammer(who) {
		c.jammerComesBack(who, e)
		return
	}
	for i := range c.skaters { // behind all in play, so far as nothing else is said
		if o := &c.skaters[i]; i != who && o.role != Jammer && o.gone == "" {
			c.order.put(i, who)
		}
	}
	for _, s := range c.sides {
		if s.jammer == none || c.skaters[s.jammer].gone != "" {
			continue
		}
		if c.skaters[s.jammer].zone == ZoneWithin {
			c.order.put(s.jammer, who)
		} else {
			c.order.put(who, s.jammer)
		}
	}
	c.place(who, e)
	for _, s := range c.sides {
		sk.cameBehind[s.side.Index()] = s.jammer != none && c.skaters[s.jammer].gone == "" && c.order.isAhead(s.jammer, who)
		delete(s.trip.noChance, who)
	}
	c.lastBlockerMayGo(who)
}

// lastBlockerMayGo sends the one who had to stay, now that a teammate is back.
func (c *jamCounter) lastBlockerMayGo(who int) {
	for i := range c.skaters {
		o := &c.skaters[i]
		if i != who && o.stays && o.gone == "" && o.ref.Side == c.skaters[who].ref.Side {
			o.stays, o.sent = false, true
		}
	}
}

// jammerComesBack has a released jammer go on with the same trip (3.4), behind
// every blocker except those out of play behind the pack: of them she had no
// opportunity, unless they get ahead of her again (3.3).
func (c *jamCounter) jammerComesBack(who int, e Event) {
	s := c.sideOf(who)
	i := s.side.Index()
	for o := range c.skaters {
		sk := &c.skaters[o]
		sk.cameBehind[i] = false
		if o == who || sk.gone != "" {
			continue
		}
		switch {
		case sk.role != Jammer && sk.zone == ZoneBehind && !c.noPack,
			sk.role == Jammer && sk.zone != ZoneWithin: // on her way round, she comes from behind
			c.order.put(who, o)
		default:
			c.order.put(o, who)
		}
	}
	c.place(who, e)
	for o := range c.skaters {
		if c.passable(s, o) && c.skaters[o].zone == ZoneBehind && c.order.isAhead(who, o) {
			s.trip.noChance[o] = true
		}
	}
	c.status(s, who, StatusReleased, Reason{Text: "back on the track: on the same trip as before", Section: "3.4", Tags: e.Tags})
	c.jammersBack()
}
