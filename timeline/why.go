package timeline

import "time"

// WhyPoint answers for one opponent in one trip of a side (1 is the initial
// trip): whether she gave a point, and why or why not. ok is false when the trip
// is not there or nothing is known of her in it (the initial trip gives no
// points and lists nobody).
func (c JamCount) WhyPoint(side Side, trip int, on SkaterRef) (point bool, why Reason, ok bool) {
	if side != Home && side != Away {
		return false, Reason{}, false
	}
	for _, t := range c.Sides[side.Index()].Trips {
		if t.Number != trip {
			continue
		}
		for _, p := range t.Points {
			if p.On == on {
				return true, p.Why, true
			}
		}
		for _, u := range t.Unscored {
			if u.On == on {
				return false, u.Why, true
			}
		}
	}
	return false, Reason{}, false
}

// WhyStatus answers which of the given changes of status a side's jammer has
// gone through up to a jam time, and why: the last one, or ok false.
func (c JamCount) WhyStatus(side Side, at time.Duration, of ...Status) (change StatusChange, ok bool) {
	if side != Home && side != Away {
		return StatusChange{}, false
	}
	for _, st := range c.Sides[side.Index()].Status {
		if st.At > at {
			break
		}
		for _, s := range of {
			if st.Status == s {
				change, ok = st, true
			}
		}
	}
	return change, ok
}

// IsLead answers whether a side's jammer is lead at a jam time, and why or why
// not.
func (c JamCount) IsLead(side Side, at time.Duration) (bool, Reason) {
	if side != Home && side != Away {
		return false, Reason{Text: "no side"}
	}
	s := c.Sides[side.Index()]
	switch {
	case s.Lost && s.LostAt <= at:
		return false, s.LostWhy
	case s.Lead && s.LeadAt <= at:
		return true, s.LeadWhy
	case s.Lead:
		return false, Reason{Text: "not lead yet", Section: "2.2.2"}
	}
	return false, s.LeadWhy
}
