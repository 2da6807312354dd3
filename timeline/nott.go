package timeline

// notOnTrack reports whether an opponent is among those not on the track for
// this side's jammer, and why (2.5): in the box or sent there, off for gear or
// injury, never fielded, or back on the track behind the jammer.
func (c *jamCounter) notOnTrack(s *sideTrips, o int) (bool, string) {
	sk := &c.skaters[o]
	switch {
	case sk.gone != "":
		return true, string(sk.gone)
	case sk.sent:
		return true, "sent to the box"
	case sk.cameBehind[s.side.Index()]:
		return true, "back on the track behind the jammer"
	}
	return false, ""
}

// canBeNOTT reports whether an opponent not on the track gives a point:
// blockers, and to January 2019 a jammer in the box.
func (c *jamCounter) canBeNOTT(o int) bool {
	sk := &c.skaters[o]
	if sk.role != Jammer {
		return sk.gone != goneExtra
	}
	return c.rules.BoxedJammerNOTT && (sk.gone == goneBox || sk.sent)
}

// held reports whether the jammer can't be paid for opponents not on the track
// just now: her own act (a penalty, the star taken off by her or her team, out
// of bounds by herself) keeps her from scoring until she is able again. An
// opponent's act does not (3.3).
func (c *jamCounter) held(s *sideTrips) bool {
	j := &c.skaters[s.jammer]
	return s.trip.back || j.sent || j.gone != "" ||
		(!j.star && j.starBySelf) || (!j.inBounds && j.outBySelf)
}

// settleNotOnTrack pays every opponent not on the track, once a pass was earned
// on any opposing blocker in this trip (2.5).
func (c *jamCounter) settleNotOnTrack() {
	for _, s := range c.sides {
		if s.jammer == none || !s.trip.open || c.held(s) {
			continue
		}
		for o := range c.skaters {
			if c.skaters[o].ref.Side == s.side || s.trip.scored[o] || !c.canBeNOTT(o) {
				continue
			}
			if is, how := c.notOnTrack(s, o); is {
				s.trip.passed[o] = true
				c.score(s, o, PointNOTT, Reason{
					Text:    "not on the track (" + how + "): comes with the pass earned on " + s.trip.openedBy + " in this trip",
					Section: "2.5",
				})
			}
		}
	}
}

// noteChances remembers whether this trip ever gave the jammer an opponent she
// could have passed: both in the engagement zone, the opponent not behind her.
// Without any, those not on the track are earned when the trip is over (3.3).
func (c *jamCounter) noteChances() {
	for _, s := range c.sides {
		if s.jammer == none || s.trip.chance || s.trip.back {
			continue
		}
		j := &c.skaters[s.jammer]
		if j.gone != "" || j.sent || j.zone != ZoneWithin {
			continue
		}
		for o := range c.skaters {
			if c.passable(s, o) && c.skaters[o].zone != ZoneAhead && !c.order.isAhead(s.jammer, o) {
				s.trip.chance = true
				break
			}
		}
	}
}

// passable reports whether an opposing blocker is on the track to be passed.
func (c *jamCounter) passable(s *sideTrips, o int) bool {
	sk := &c.skaters[o]
	if sk.ref.Side == s.side || sk.role == Jammer {
		return false
	}
	is, _ := c.notOnTrack(s, o)
	return !is
}
