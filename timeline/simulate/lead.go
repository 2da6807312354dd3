package simulate

import "whistlecut/timeline"

// leadBook is who is or can still become lead jammer (Rules 2.2.2).
type leadBook struct {
	barred [2]bool // by Side.Index: not eligible (any more)
	holder *skater // lead, or was lead: at most one jammer gains it in a jam
	lost   bool
}

// checkLead looks whether a jammer gains lead: the first eligible one upright, in
// bounds and with the star on who is ahead of the foremost blocker in play,
// having passed all others but those ahead of the engagement zone. Of two at
// once, the one in front.
func (m *jam) checkLead() {
	if m.lead.holder != nil || m.truth.Overtime {
		return
	}
	var best *skater
	for _, y := range m.tallies {
		if m.gainsLead(y) && (best == nil || m.ahead[y.jammer.index][best.index]) {
			best = y.jammer
		}
	}
	if best == nil {
		return
	}
	m.lead.holder = best
	best.lead = true
	side := &m.truth.Sides[best.team]
	side.Lead, side.LeadAt = true, m.time()
	m.after(0.35+0.5*m.h.rng.Float64(), func() { m.h.blow(WhistleLead, jammerReferee(best.team), false) })
}

func (m *jam) gainsLead(y *tally) bool {
	j := y.jammer
	if m.lead.barred[y.side] || !m.pack.ok || !able(j) || !j.up || !j.in || m.zones[j.index] != timeline.ZoneWithin {
		return false
	}
	inPlay := 0
	for _, b := range m.on {
		if b.role == timeline.Jammer || b.mode != playing || m.zones[b.index] == timeline.ZoneAhead {
			continue
		}
		if m.zones[b.index] == timeline.ZoneWithin && b.up && b.in {
			inPlay++
			if !m.ahead[j.index][b.index] {
				return false
			}
		}
		if b.team != y.side && !y.passed[b] && !y.trailing[b] {
			return false
		}
	}
	return inPlay > 0
}

// leftZone: out at the front of the engagement zone without lead, a jammer can
// no longer become it.
func (m *jam) leftZone(j *skater) {
	if m.lead.holder != j {
		m.lead.barred[j.team] = true
	}
}

// loseLead: a penalty, or the star taken off by her own side, costs lead or the
// right to it.
func (m *jam) loseLead(j *skater, mark bool) {
	was := m.lead.holder == j && !m.lead.lost
	m.lead.barred[j.team] = true
	if m.lead.holder == j {
		m.lead.lost, j.lead = true, false
	}
	if was || mark {
		side := &m.truth.Sides[j.team]
		if !side.Lost {
			side.Lost, side.LostAt = true, m.time()
		}
	}
}
