package simulate

import "whistlecut/timeline"

// decideCall has a lead jammer weigh whether to call the jam off (Rules 2.2.2);
// a quarter of a second passes between two looks.
func (m *jam) decideCall() {
	j := m.lead.holder
	if j == nil || m.lead.lost || m.over || j.mode != playing || !j.up || m.tallyOf(j) == nil || m.star.from == j {
		return
	}
	own, foe := m.tallies[j.team], m.tallies[1-j.team]
	f := foe.jammer
	perSecond := 0.0
	points := own.points - foe.points
	switch {
	case f.serving() || f.mode == returning:
		// A power jam: go on while it pays.
		if f.mode == returning && len(own.trips) > 3 {
			perSecond = 0.12
		}
	case len(foe.trips) > 1:
		// The other scores soon, or scores.
		close := Gap(f.s, m.pack.zone.Rear.S)
		switch {
		case m.zones[f.index] == timeline.ZoneWithin:
			perSecond = 0.3
		case close > 0 && close < 35:
			perSecond = 0.45
		case points > 0:
			perSecond = 0.1
		}
		if own.points == 0 && len(own.trips) < 3 {
			perSecond *= 0.35
		}
	case points >= 4 && m.zones[j.index] == timeline.ZoneAhead:
		perSecond = 0.10
	case points >= 3 && m.t > 60:
		perSecond = 0.06
	}
	// Stuck in the pack on a trip that has brought its points.
	if len(own.trips) > 2 && m.zones[j.index] == timeline.ZoneWithin && own.got != [4]bool{} && len(foe.trips) > 1 {
		perSecond += 0.2
	}
	if m.h.rng.Float64() < perSecond/4 {
		m.call(j)
	}
}

func (m *jam) call(j *skater) {
	side := &m.truth.Sides[j.team]
	side.Called, side.CalledAt = true, m.time()
	m.truth.EndedBy = j.Side
	m.emit(timeline.Event{What: timeline.EvCalls, Who: j.SkaterRef})
	m.whistleEnd(timeline.EndCalled, jammerReferee(j.team), 0.4+0.4*m.h.rng.Float64())
}
