package timeline

import "strings"

// leadReady reports whether a side's jammer meets everything lead asks for at
// this moment (2.2.2): eligible, on her initial trip, star showing, upright and
// in bounds, having earned a pass on every blocker of both sides except those
// ahead of the engagement zone, and ahead of the foremost blocker in play.
// Otherwise it says what is missing.
func (c *jamCounter) leadReady(s *sideTrips) (bool, string) {
	if s.jammer == none {
		return false, "no jammer was fielded"
	}
	j := &c.skaters[s.jammer]
	switch {
	case c.overtime:
		return false, "there is no lead in overtime"
	case s.jammer != s.starter:
		return false, "a jammer who received the star can't be lead"
	case !s.eligible:
		return false, s.count.LostWhy.Text
	case j.gone != "" || j.sent:
		return false, "the jammer was not on the track"
	case s.trip.back:
		return false, "the jammer was behind her initial trip"
	case !j.star:
		return false, "the star was not showing on the jammer's helmet"
	case !j.inBounds:
		return false, "the jammer was out of bounds"
	case !j.upright:
		return false, "the jammer was not upright"
	}
	var missing, ahead []string
	for b := range c.skaters {
		if !c.countsForLead(s, b) {
			continue
		}
		if !s.trip.passed[b] {
			missing = append(missing, c.name(b))
		} else if c.inPlay(b) && !c.order.isAhead(s.jammer, b) {
			ahead = append(ahead, c.name(b))
		}
	}
	switch {
	case len(missing) > 0:
		return false, "no pass earned yet on " + strings.Join(missing, ", ")
	case len(ahead) > 0:
		return false, "every pass earned, but never ahead of the foremost blocker in play: behind " + strings.Join(ahead, ", ")
	}
	return true, ""
}

// countsForLead reports whether a blocker has to be passed for lead. Those ahead
// of the engagement zone need not be, nor those not on the track. During a no
// pack nobody is ahead of an engagement zone (C2.2.2.F).
func (c *jamCounter) countsForLead(s *sideTrips, b int) bool {
	sk := &c.skaters[b]
	if sk.role == Jammer {
		return false
	}
	if off, _ := c.notOnTrack(s, b); off {
		return false
	}
	return c.noPack || sk.zone != ZoneAhead
}

// giveLead makes the first jammer who is ready lead; of two at the same moment
// the one in front (2.2.2, C2.2.2.E). At most one jammer is lead in a jam.
func (c *jamCounter) giveLead() {
	if c.leadFor != nil || c.ended || c.now < 0 {
		return
	}
	var ready []*sideTrips
	for _, s := range c.sides {
		if ok, _ := c.leadReady(s); ok {
			ready = append(ready, s)
		}
	}
	if len(ready) == 0 {
		return
	}
	s := ready[0]
	text := "first to be ahead of the foremost blocker in play with a pass earned on every blocker not ahead of the engagement zone"
	if len(ready) == 2 {
		switch c.foremost(ready[0].jammer, ready[1].jammer) {
		case NoSide:
			c.problem("both jammers met everything for lead at once and who was in front is not told: no lead")
			return
		case Away:
			s = ready[1]
		}
		text = "both jammers met everything for lead at once; she was in front"
	}
	c.leadFor = s
	s.count.Lead, s.count.LeadBy, s.count.LeadAt = true, c.skaters[s.jammer].ref.Number, c.now
	s.count.LeadWhy = Reason{Text: text, Section: "2.2.2", Tags: c.eventTags()}
	c.status(s, s.jammer, StatusLead, s.count.LeadWhy)
}

func (c *jamCounter) eventTags() []ID {
	if c.event < 0 {
		return nil
	}
	return c.events[c.event].Tags
}

// loseEligibility takes from a jammer the chance to become lead, or lead itself
// (2.2.2). Once the other jammer has become lead there is nothing to lose.
func (c *jamCounter) loseEligibility(s *sideTrips, why Reason) {
	if c.overtime {
		return
	}
	lead := c.leadFor == s && !s.count.Lost
	s.eligible = false
	if s.count.Lost || (c.leadFor != nil && c.leadFor != s) {
		return
	}
	s.count.Lost, s.count.LostAt, s.count.LostWhy = true, c.now, why
	st := StatusIneligible
	if lead {
		st = StatusLeadLost
	}
	c.status(s, s.starter, st, why)
}

// calls is a skater tapping her hips. Only the lead jammer calls the jam off
// (2.2.2); whether she wears the star at that moment does not matter.
func (c *jamCounter) calls(who int) {
	s := c.sideOf(who)
	no := func(text string) {
		why := Reason{Text: text, Section: "2.2.2", Tags: c.eventTags()}
		c.status(s, who, StatusNoCall, why)
	}
	switch {
	case c.leadFor != s || who != s.starter:
		no("a call by a skater who is not lead does not end the jam")
	case s.count.Lost:
		no("she had lost lead: " + s.count.LostWhy.Text)
	case c.now >= c.rules.JamLength && c.rules.JamLength > 0:
		no("the jam had run its full time")
	case s.count.Called:
	default:
		s.count.Called, s.count.CallAt = true, c.now
		s.count.CallWhy = Reason{Text: "called off by the lead jammer", Section: "2.2.2", Tags: c.eventTags()}
		c.status(s, who, StatusCalled, s.count.CallWhy)
	}
}

// sumUpLead says why a side did not get lead.
func (c *jamCounter) sumUpLead(s *sideTrips) {
	if s.count.Lead {
		return
	}
	_, text := c.leadReady(s)
	if c.leadFor != nil && s.jammer != none && !c.overtime {
		text = "the other jammer became lead first"
	}
	s.count.LeadWhy = Reason{Text: "not lead: " + text, Section: "2.2.2"}
	if c.overtime {
		s.count.LeadWhy.Section = "1.5.1"
	}
}
