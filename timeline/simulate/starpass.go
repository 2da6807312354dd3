package simulate

import (
	"math"

	"whistlecut/timeline"
)

// starTry is one attempt to pass the star, from taking it off the helmet to the
// release or its failure. A team may complete one in a jam (Rules 2.2.4).
type starTry struct {
	from, to *skater
	since    float64
	gripped  float64
	settling bool // the star is on its way back onto a helmet
	done     [2]bool
	next     [2]float64
}

// tryStar starts and carries on attempts.
func (m *jam) tryStar() {
	if m.star.from != nil {
		m.carryStar()
		return
	}
	if m.over || m.truth.Overtime || m.steps%8 != 0 {
		return
	}
	r := m.h.rng
	for team, y := range m.tallies {
		j, p := y.jammer, m.pivot(team)
		if y.second || m.star.done[team] || m.t < m.star.next[team] || p == nil || !m.canPass(j, p) {
			continue
		}
		if m.lead.holder == j && !m.lead.lost && r.Float64() < 0.97 {
			continue
		}
		stuck := m.t - y.trips[len(y.trips)-1].Start.Seconds()
		if stuck < 11 || math.Abs(Gap(j.s, p.s)) > 14 {
			continue
		}
		if r.Float64()/(8*dt) > 0.012*rate(m.h.opt.Rates.StarPasses) {
			continue
		}
		m.star.from, m.star.to, m.star.since, m.star.gripped, m.star.settling = j, p, m.t, 0, false
		j.star, j.holds = false, true
		m.emit(timeline.Event{What: timeline.EvStarOff, Who: j.SkaterRef, By: timeline.BySelf})
		m.loseLead(j)
		return
	}
}

func (m *jam) pivot(team int) *skater {
	for _, k := range m.teams[team] {
		if k.role == timeline.Pivot {
			return k
		}
	}
	return nil
}

// canPass: both upright, in bounds, in play, neither on the way to the box
// (Rules 2.2.4).
func (m *jam) canPass(j, p *skater) bool {
	for _, k := range []*skater{j, p} {
		if k.mode != playing || !k.up || !k.in || k.outTill > 0 || k.penal.called || m.zones[k.index] != timeline.ZoneWithin || k.downTill > 1e6 {
			return false
		}
	}
	return m.pack.ok && p.stripe
}

// carryStar is one tick of an attempt.
func (m *jam) carryStar() {
	j, p := m.star.from, m.star.to
	if m.star.settling {
		return
	}
	if !m.canPass(j, p) || m.t > m.star.since+6 {
		m.failStar("not handed over", false)
		return
	}
	a, b := j.spot().Point(), p.spot().Point()
	if m.star.gripped == 0 {
		if math.Hypot(a.X-b.X, a.Y-b.Y) < 3.4 {
			m.star.gripped = m.t
			m.emit(timeline.Event{What: timeline.EvStarGrip, Who: j.SkaterRef, Whom: p.SkaterRef})
		}
		return
	}
	if m.t < m.star.gripped+0.3 {
		return
	}
	if m.h.rng.Float64() < 0.16 {
		m.failStar("dropped", true)
		return
	}
	m.passStar(j, p)
}

// failStar ends an attempt: roles stay, the jammer puts the star back on.
func (m *jam) failStar(why string, dropped bool) {
	j, p := m.star.from, m.star.to
	m.note(j, p, false, why)
	m.star.settling = true
	m.star.next[j.team] = m.t + 15
	wait := 0.8
	if dropped {
		m.emit(timeline.Event{What: timeline.EvStarLost, Who: j.SkaterRef, Whom: p.SkaterRef, By: timeline.ByPlay})
		j.holds = false
		m.after(0.9, func() {
			if m.star.from == j {
				j.holds = true
				m.emit(timeline.Event{What: timeline.EvStarTaken, Who: j.SkaterRef})
			}
		})
		wait = 1.9
	}
	m.after(wait, func() {
		if m.star.from == j {
			m.wear(j)
			m.star.from, m.star.to = nil, nil
		}
	})
}

func (m *jam) note(j, p *skater, complete bool, why string) {
	side := &m.truth.Sides[j.team]
	side.StarPasses = append(side.StarPasses, StarPass{From: j.Number, To: p.Number, At: m.time(), Complete: complete, Why: why})
}

func (m *jam) wear(k *skater) {
	k.holds, k.star = false, true
	m.emit(timeline.Event{What: timeline.EvStarOn, Who: k.SkaterRef})
}

// passStar: on release the pivot is the jammer, with the trip and the passes of
// the old one, who is a blocker from here (Rules 2.2.4).
func (m *jam) passStar(j, p *skater) {
	m.note(j, p, true, "")
	m.emit(timeline.Event{What: timeline.EvStarRelease, Who: j.SkaterRef, Whom: p.SkaterRef})
	j.holds, p.holds = false, true
	j.role, p.role = timeline.Blocker, timeline.Jammer
	m.tallyStarPass(j, p)
	m.truth.Sides[j.team].NewJammer = p.Number
	m.star.done[j.team] = true
	m.star.from, m.star.to = nil, nil
	m.newApproach(p)
	m.after(0.7, func() { m.wear(p) })
}

// dropStarTry: the skater is sent off; an attempt she is part of is over, and
// whoever is left with the star puts it on.
func (m *jam) dropStarTry(k *skater) {
	if m.star.from == nil || m.star.from != k && m.star.to != k {
		return
	}
	j := m.star.from
	if !m.star.settling {
		m.note(j, m.star.to, false, "penalised")
	}
	m.star.from, m.star.to = nil, nil
	m.wear(j)
}

func (m *jam) moveWithStar(j *skater) {
	if m.star.settling {
		j.drive(dt, m.form.v, j.d, 10)
		return
	}
	p := m.star.to
	gap := Gap(j.s, p.s)
	j.drive(dt, clamp(p.v+2.5*(gap-1.2), -2, 7), clamp(p.d, 1, Width(j.s)-1), 14)
}

func (m *jam) moveToStar(p *skater) {
	gap := Gap(p.s, m.star.from.s)
	p.drive(dt, clamp(m.star.from.v+2*(gap+1.2), -5, 5), clamp(m.star.from.d+0.8, 1, Width(p.s)-1), 12)
}
