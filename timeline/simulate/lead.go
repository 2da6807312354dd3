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

// gainsLead: see checkLead. With no pack there is no engagement zone, and nobody
// is excused from being passed for being ahead of it (C2.2.2.F).
func (m *jam) gainsLead(y *tally) bool {
	j := y.jammer
	if m.lead.barred[y.side] || y.second || y.back || len(y.trips) > 1 || !able(j) || !j.up || !j.in {
		return false
	}
	for _, b := range m.on {
		if b.role == timeline.Jammer || b.mode != playing || y.trailing[b] || m.pack.ok && m.zones[b.index] == timeline.ZoneAhead {
			continue
		}
		if !y.passed[b] {
			return false
		}
		inPlay := b.up && b.in && (!m.pack.ok || m.zones[b.index] == timeline.ZoneWithin)
		if inPlay && !m.ahead[j.index][b.index] {
			return false
		}
	}
	return true
}

// leftZone: out at the front of the engagement zone without lead, a jammer on
// her initial trip can no longer become it.
func (m *jam) leftZone(y *tally) {
	if len(y.trips) == 1 && !y.second && m.lead.holder != y.jammer {
		m.loseLead(y.jammer)
	}
}

// loseLead: a penalty, the star taken off by her own side, or the exit without
// it costs lead or the right to it. Once the other jammer became lead there is
// nothing to lose.
func (m *jam) loseLead(j *skater) {
	if m.truth.Overtime {
		return
	}
	barred := m.lead.barred[j.team]
	m.lead.barred[j.team] = true
	if m.lead.holder == j {
		barred = m.lead.lost
		m.lead.lost, j.lead = true, false
	} else if m.lead.holder != nil {
		return
	}
	if side := &m.truth.Sides[j.team]; !barred {
		side.Lost, side.LostAt = true, m.time()
	}
}
