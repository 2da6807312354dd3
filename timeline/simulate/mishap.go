package simulate

import (
	"whistlecut/timeline"
)

// fall puts a skater on the floor for a moment.
func (m *jam) fall(k *skater, by timeline.Agent) {
	if !k.up || k.outTill > 0 {
		return
	}
	k.up = false
	k.downTill = m.t + 0.9 + 1.3*m.h.rng.Float64()
	m.emit(timeline.Event{What: timeline.EvDown, Who: k.SkaterRef, By: by})
}

// knockOut sends a skater out of bounds. She must come back behind everybody who
// was ahead of her and behind the one who knocked her out, who may skate
// clockwise to make the way longer (Rules 4.2.2).
func (m *jam) knockOut(k, by *skater) {
	r := m.h.rng
	k.outTill = m.t + 1.0 + 0.8*r.Float64()
	k.outSide = -2.6
	if k.d > Width(k.s)/2 {
		k.outSide = Width(k.s) + 2.6
	}
	k.cutting = k.role == timeline.Jammer && r.Float64() < 0.09*rate(m.h.opt.Rates.Penalties)
	k.behind = k.behind[:0]
	for _, o := range m.on {
		if o != k && o.role != timeline.Jammer && o.onTrack() && o.up && o.in &&
			(o == by || m.ahead[o.index][k.index] && m.zones[o.index] != timeline.ZoneAhead) {
			k.behind = append(k.behind, o)
		}
	}
	if by != nil && by.onTrack() && k.role == timeline.Jammer && r.Float64() < 0.8 {
		by.recycle = m.t + 1.2 + 2*r.Float64()
	}
}

// moveOutside slides a skater off the track and brings her back by the rules, or
// ahead of where she may when she cuts.
func (m *jam) moveOutside(k *skater) {
	out := k.outSide
	if out > 0 {
		out = Width(k.s) + 2.6
	}
	if m.t < k.outTill || m.t < k.outTill+4 && m.over {
		k.drive(dt, 2, out, 12)
		return
	}
	room := 40.0
	for _, o := range k.behind {
		if o.onTrack() && o.up && o.in && m.zones[o.index] == timeline.ZoneWithin {
			room = min(room, Gap(k.s, o.s))
		}
	}
	if room < 1.8 && !k.cutting {
		k.drive(dt, clamp(3.5*(room-3), -8, 4), out, 14)
		return
	}
	lane := 2.2
	if k.outSide > 0 {
		lane = Width(k.s) - 2.2
	}
	k.drive(dt, 4, lane, 12)
}

// backIn is a skater's first moment in bounds again: a cut if she comes in ahead
// of two or more in play whom she was to stay behind (Rules 4.2.2, C4.2.2.D).
func (m *jam) backIn(k *skater) {
	if k.mode != playing {
		return
	}
	cut := 0
	for _, o := range k.behind {
		if o.onTrack() && o.up && o.in && m.zones[o.index] == timeline.ZoneWithin && m.ahead[k.index][o.index] {
			cut++
		}
	}
	k.behind, k.cutting = k.behind[:0], false
	if k.role == timeline.Jammer {
		m.newApproach(k)
	}
	if cut > 1 {
		m.foul(k, "X")
	}
}

// mishaps has blockers fall or be pushed out, skaters foul, and now and then one
// be hurt.
func (m *jam) mishaps() {
	r := m.h.rng
	if m.over {
		return
	}
	for _, k := range m.on {
		if k.mode != playing {
			continue
		}
		p := r.Float64() / dt // an event of rate x happens when p < x per second
		busy := m.busy(k)
		switch {
		case k.role != timeline.Jammer && busy && p < 0.006*rate(m.h.opt.Rates.Falls):
			m.fall(k, timeline.ByOpponent)
		case k.role != timeline.Jammer && busy && p < 0.010 && k.up && k.outTill == 0 && k.recycle < m.t && k.in:
			m.knockOut(k, nil)
		case p < 0.012:
			// nothing: keeps the rates above apart from those below
		case p < 0.012+m.foulRate(k, busy):
			m.foul(k, "")
		}
	}
	if r.Float64()/dt < 0.0005*rate(m.h.opt.Rates.Injuries) && m.t > 8 {
		m.hurt(m.on[r.IntN(len(m.on))])
	}
}

// busy reports whether a skater is in contact or about to be.
func (m *jam) busy(k *skater) bool {
	for _, o := range m.teams[1-k.team] {
		if o.mode == playing && (o.role == timeline.Jammer || k.role == timeline.Jammer) {
			if g := Gap(o.s, k.s); g > -4 && g < 4 {
				return true
			}
		}
	}
	return false
}

// hurt stops the jam for an injured skater (Rules 1.2, 2.2.2): she sits out the
// next three jams.
func (m *jam) hurt(k *skater) {
	if k.mode != playing || !k.in || !k.up || k.outTill > 0 || m.star.from == k || m.star.to == k || !m.h.spare(k.team) {
		return
	}
	m.fall(k, timeline.ByPlay)
	k.downTill = 1e9
	k.sitOut = 4 // the running jam's end counts one down
	m.h.g.Truth.Injuries = append(m.h.g.Truth.Injuries, Injury{k.SkaterRef, m.truth.ID, m.time()})
	wait := min(2.5+2*m.h.rng.Float64(), m.h.opt.Rules.JamLength.Seconds()-m.t)
	m.whistleEnd(timeline.EndInjury, OutsideReferee2, max(wait, 0))
}
