package timeline

// star applies what happens to the star and the stripe (2.2.3, 2.2.4).
func (c *jamCounter) star(who int, e Event) {
	s := c.sideOf(who)
	switch e.What {
	case EvStripeOff, EvStripeOn:
		if who == s.pivot {
			c.skaters[who].strip = e.What == EvStripeOn
		}
	case EvStarOff:
		c.starOff(s, who, e)
	case EvStarOn:
		c.starOn(s, who)
	case EvStarGrip:
		c.inHand(s, who, e)
		if whom, ok := c.find(e.Whom); ok {
			c.holders[whom] = true
		}
	case EvStarRelease:
		c.release(s, who, e)
	case EvStarLost:
		c.starLost(s, who, e)
	case EvStarTaken:
		c.dropHolds(s)
		c.holders[who] = true
		// To 2014 the pivot could also recover the star and become jammer with it on her
		// helmet.
		s.pendingPass = none
		if who == s.pivot && !c.rules.StarPassOnRelease && c.canReceive(s) == "" {
			s.pendingPass = who
		}
	}
}

// starOff is the star leaving the jammer's helmet. Taken off by herself or a
// teammate it costs lead or the chance of it; by an opponent it does not; in
// play it does not from 2017 on (2.2.2).
func (c *jamCounter) starOff(s *sideTrips, who int, e Event) {
	sk := &c.skaters[who]
	if who != s.jammer || !sk.star {
		c.problem(c.name(who) + " wore no star that could come off; left out")
		return
	}
	sk.star = false
	sk.starBySelf = e.By == BySelf || e.By == ByTeammate
	c.dropHolds(s)
	if e.By == BySelf {
		c.holders[who] = true
	}
	c.status(s, who, StatusStarOff, Reason{Text: "without the star she can't earn passes", Section: "2.5", Tags: e.Tags})
	switch {
	case e.By == BySelf:
		c.starCostsLead(s, "took off the star", e)
	case e.By == ByTeammate:
		c.starCostsLead(s, "a teammate took off the star", e)
	case e.By == ByPlay && !c.rules.LeadSurvivesPlay:
		c.starCostsLead(s, "the star came off in play", e)
	}
}

func (c *jamCounter) starCostsLead(s *sideTrips, text string, e Event) {
	if s.jammer == s.starter {
		c.loseEligibility(s, Reason{Text: text, Section: "2.2.2", Tags: e.Tags})
	}
}

// starOn is the star going onto a helmet, stars showing.
func (c *jamCounter) starOn(s *sideTrips, who int) {
	sk := &c.skaters[who]
	switch {
	case who == s.jammer:
		sk.star, sk.starBySelf = true, false
		s.pendingPass = none
		c.dropHolds(s)
		c.status(s, who, StatusStarOn, Reason{Text: "star on, showing", Section: "2.5", Tags: c.eventTags()})
	case who == s.pendingPass:
		s.pendingPass = none
		if why := c.pendingBroken(s); why != "" {
			c.attempt(s, s.jammer, who, false, why)
			return
		}
		c.transfer(s, who, "she has the star on her helmet")
		c.skaters[who].star = true
		c.dropHolds(s)
	}
}

// pendingBroken says why a pivot holding the star can't become jammer by putting
// it on; empty when she can.
func (c *jamCounter) pendingBroken(s *sideTrips) string {
	if j := &c.skaters[s.jammer]; j.sent || j.gone != "" {
		return "the jammer was penalised or off the track"
	}
	return ""
}

// inHand has who hold the star; a jammer who still wore it has taken it off.
func (c *jamCounter) inHand(s *sideTrips, who int, e Event) {
	if c.holders[who] {
		return
	}
	if who == s.jammer && c.skaters[who].star {
		c.starOff(s, who, Event{What: EvStarOff, Who: e.Who, By: BySelf, At: e.At, Tags: e.Tags})
		return
	}
	c.problem(c.name(who) + " did not hold the star; taken as if she did")
	c.holders[who] = true
}

// dropHolds empties a side's hands of the star.
func (c *jamCounter) dropHolds(s *sideTrips) {
	for i := range c.skaters {
		if c.skaters[i].ref.Side == s.side {
			delete(c.holders, i)
		}
	}
}

// starLost is the star dropped or thrown: nobody has it, roles are unchanged.
func (c *jamCounter) starLost(s *sideTrips, who int, e Event) {
	if who == s.jammer && c.skaters[who].star {
		c.starOff(s, who, e)
	}
	c.dropHolds(s)
	s.pendingPass = none
	if to, ok := c.byRef[e.Whom]; ok && who == s.jammer {
		c.attempt(s, who, to, false, "the star was dropped or thrown, not handed over")
	}
}

// release is who letting go of the star so that whom alone holds it. Between the
// jammer and her pivot that is the moment a star pass is judged (2.2.4, C2.2.4.B).
func (c *jamCounter) release(s *sideTrips, who int, e Event) {
	whom, ok := c.find(e.Whom)
	if !ok {
		return
	}
	c.inHand(s, who, e)
	delete(c.holders, who)
	c.holders[whom] = true
	s.pendingPass = none
	if who != s.jammer || c.skaters[whom].ref.Side != s.side {
		if who == s.pivot && whom == s.jammer {
			return // handed back
		}
		c.attempt(s, who, whom, false, "only the jammer passes the star, and only to her pivot")
		return
	}
	why := c.canGive(s)
	if why == "" {
		why = "only the pivot may receive the star"
		if whom == s.pivot {
			why = c.canReceive(s)
		}
	}
	switch {
	case why != "":
		c.attempt(s, who, whom, false, why)
	case c.rules.StarPassOnRelease:
		c.transfer(s, whom, "handed to the pivot and released, both upright, in bounds and in play")
	default:
		s.pendingPass = whom
	}
}

// canGive says why the jammer can't pass the star now; empty when she can.
func (c *jamCounter) canGive(s *sideTrips) string {
	if s.passed {
		return "the star was already passed in this jam"
	}
	return c.fitForPass(s.jammer, "the jammer")
}

// canReceive says why the pivot can't receive the star now; empty when she can.
func (c *jamCounter) canReceive(s *sideTrips) string {
	switch {
	case s.passed:
		return "the star was already passed in this jam"
	case s.pivot == none:
		return "there is no pivot"
	case !c.skaters[s.pivot].strip:
		return "the pivot's stripe was not on her helmet, showing"
	}
	return c.fitForPass(s.pivot, "the pivot")
}

func (c *jamCounter) fitForPass(i int, who string) string {
	switch sk := &c.skaters[i]; {
	case sk.gone != "":
		return who + " was " + string(sk.gone)
	case sk.sent:
		return who + " was on the way to the box"
	case sk.stays, sk.queued:
		return who + " was queued for the box"
	case !sk.inBounds:
		return who + " was out of bounds"
	case !sk.upright:
		return who + " was not upright"
	case c.noPack:
		return "there was no pack, so " + who + " was out of play"
	case sk.zone != ZoneWithin && sk.zone != ZoneUnknown:
		return who + " was out of play"
	}
	return ""
}

// attempt notes a star pass, completed or not.
func (c *jamCounter) attempt(s *sideTrips, from, to int, complete bool, text string) {
	why := Reason{Text: text, Section: "2.2.4", Tags: c.eventTags()}
	s.count.StarPasses = append(s.count.StarPasses, StarPassCount{
		At: c.now, From: c.skaters[from].ref.Number, To: c.skaters[to].ref.Number, Complete: complete, Why: why,
	})
	if complete {
		c.status(s, to, StatusNewJammer, why)
	} else {
		c.status(s, from, StatusNoStarPass, why)
	}
}

// transfer makes the pivot jammer. She goes on with the trip and its passes; the
// old jammer becomes a non-pivot blocker (2.2.4).
func (c *jamCounter) transfer(s *sideTrips, to int, text string) {
	from := s.jammer
	c.attempt(s, from, to, true, text)
	s.passed = true
	s.count.NewJammer, s.count.StarPassAt = c.skaters[to].ref.Number, c.now
	s.count.NoInitial[0] = s.trip.number == 1
	s.jammer, s.trip.jammer = to, to
	old, now := &c.skaters[from], &c.skaters[to]
	old.role, old.star = Blocker, false
	now.role, now.star, now.strip = Jammer, false, false
	now.starBySelf = true // in her hand until she puts it on
	i := s.side.Index()
	for o := range c.skaters {
		c.skaters[o].cameBehind[i] = c.skaters[o].cameBehind[i] && c.order.isAhead(to, o)
	}
	c.laps = lapping{off: c.laps.off} // positions between these two jammers begin anew
	c.exchange(c.sides[s.side.Other().Index()], from, to)
}

// exchange has old jammer and pivot exchange what the opposing jammer earned on
// them: she keeps the point she had on the pivot for the old jammer, now a
// blocker, and can't score it twice (3.1, C3.1.A). To January 2019 points were
// scored on opponents whatever their position, so nothing is exchanged. An old
// jammer behind the opposing jammer counts as a blocker coming back behind her
// (C3.3.J).
func (c *jamCounter) exchange(opp *sideTrips, old, pivot int) {
	if !c.rules.LapJammer {
		t := &opp.trip
		for _, m := range []map[int]bool{t.scored, t.passed, t.noChance} {
			if m[pivot] {
				m[old] = true
			}
			delete(m, pivot)
		}
	}
	c.skaters[old].cameBehind = [2]bool{}
	// An opposing jammer past the front comes round to the old one from behind.
	if opp.jammer != none && c.skaters[opp.jammer].zone != ZoneAhead && c.order.isAhead(opp.jammer, old) {
		c.skaters[old].cameBehind[opp.side.Index()] = true
	}
}
