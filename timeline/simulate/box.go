package simulate

import (
	"time"

	"whistlecut/timeline"
)

// penalState is a skater's account with the penalty box.
type penalState struct {
	called       bool // a call on her is about to be whistled
	owed, served time.Duration
	takenOver    time.Duration // served before her by one who fouled out
	list         []int         // open penalties, indices into Truth.Penalties
	visit        int           // index into Truth.Visits while in the box
	place        int           // her seat
	// swapped: her time was set by an opposing jammer's (4.4.2), who is not sent
	// back for it if she comes again.
	swapped bool
	// between: sat down between jams; the two-jammer rule is applied at the whistle.
	between bool
	satAt   time.Duration // since the game's start
	arrived bool          // at the box, no seat free
	queued  bool          // had to wait there
}

func (k *skater) inBox() bool { return k.mode == seated || k.mode == standing }

// serving reports whether she has penalty time to serve or is on the way to it.
func (k *skater) serving() bool { return k.inBox() || k.mode == leaving }

// freeSeat is a seat for a skater sent to the box: the jammers have one of their
// own, at most two blockers sit, and who stands for her last seconds frees the
// seat (Rules 4.4.1).
func (h *hall) freeSeat(k *skater) (int, bool) {
	if k.role == timeline.Jammer {
		return 0, true
	}
	var taken [3]bool
	waiting := 3
	for _, o := range h.byTeam[k.team] {
		switch {
		case o == k || o.role == timeline.Jammer:
		case o.mode == seated:
			taken[o.penal.place] = true
		case o.mode == leaving && o.penal.arrived:
			waiting++
		}
	}
	for i := 1; i <= 2; i++ {
		if !taken[i] {
			return i, true
		}
	}
	return waiting, false
}

// toBox moves a skater who was sent off; it reports that she has taken a seat.
func (h *hall) toBox(k *skater, step float64) bool {
	seat, free := h.freeSeat(k)
	if k.penal.arrived && !free {
		k.walk(step, seatSpot(k.team, k.penal.place), 6)
		return false
	}
	goal := seatSpot(k.team, seat)
	if gap := Gap(k.s, goal.S); gap > 8 || gap < -8 {
		goal.D = Width(k.s) + 5 // round the outside first
	}
	there := k.walk(step, goal, 14)
	if !there || goal.D < boxD-7 {
		return false
	}
	if !free {
		k.penal.arrived, k.penal.queued, k.penal.place = true, true, seat
		return false
	}
	k.mode = seated
	k.penal.place, k.penal.arrived, k.penal.satAt = seat, false, h.now()
	k.penal.visit = len(h.g.Truth.Visits)
	h.g.Truth.Visits = append(h.g.Truth.Visits, Visit{
		SkaterRef: k.SkaterRef, Role: k.role, Penalties: k.penal.list, Owed: k.penal.owed,
		SatAt: h.now(), Queued: k.penal.queued,
	})
	return true
}

func (h *hall) visitOf(k *skater) *Visit { return &h.g.Truth.Visits[k.penal.visit] }

// serveBox is one tick of penalty time: it runs in jams only, from sitting down,
// and the last seconds are served standing (Rules 4.4).
func (m *jam) serveBox() {
	for _, k := range m.on {
		switch k.mode {
		case leaving:
			if m.h.toBox(k, dt) {
				m.sits(k)
			} else if !k.in {
				continue
			}
		case seated, standing:
			k.penal.served += tick
			left := k.penal.owed - k.penal.served
			if k.mode == seated && left <= m.h.opt.Rules.StandTime {
				m.stands(k)
			}
			if left <= 0 {
				m.frees(k)
			}
		}
	}
}

func (m *jam) stands(k *skater) {
	k.mode = standing
	v := m.h.visitOf(k)
	v.Stood, v.Stand, v.StandJam = true, m.time(), m.truth.ID
	m.emit(timeline.Event{What: timeline.EvStands, Who: k.SkaterRef})
}

// sits is a skater taking her seat during a jam. Of two jammers in the box, the
// one there first is released with what she served, and the other owes as much
// (Rules 4.4.2); a jammer whose time was set that way is not replaced again.
func (m *jam) sits(k *skater) {
	v := m.h.visitOf(k)
	v.InJam, v.In = m.truth.ID, m.time()
	m.emit(timeline.Event{What: timeline.EvSits, Who: k.SkaterRef})
	if k.role != timeline.Jammer {
		return
	}
	if o := m.tallies[1-k.team].jammer; o.inBox() && !o.penal.swapped {
		m.swap(o, k)
	}
}

func (m *jam) swap(first, second *skater) {
	second.penal.owed, second.penal.swapped = first.penal.served, true
	m.h.visitOf(second).Swapped = true
	m.h.visitOf(first).Swapped = true
	m.frees(first)
	if second.penal.owed <= 0 {
		m.frees(second)
	} else if second.mode == seated && second.penal.owed <= m.h.opt.Rules.StandTime {
		m.stands(second)
	}
}

// boxAtStart releases jammers who met in the box between jams.
func (m *jam) boxAtStart() {
	a, b := m.tallies[0].jammer, m.tallies[1].jammer
	if a.inBox() && b.inBox() && (a.penal.between || b.penal.between) {
		if b.penal.satAt < a.penal.satAt || b.penal.satAt == a.penal.satAt && b.penal.served > a.penal.served {
			a, b = b, a
		}
		if !a.penal.swapped {
			m.swap(a, b)
		}
	}
	for _, k := range m.on {
		k.penal.between = false
	}
}

// frees releases a skater from the box.
func (m *jam) frees(k *skater) {
	v := m.h.visitOf(k)
	v.OutJam, v.Out, v.Served = m.truth.ID, m.time(), k.penal.served-k.penal.takenOver
	m.emit(timeline.Event{What: timeline.EvFreed, Who: k.SkaterRef})
	k.penal = penalState{}
	k.mode = returning
	if k.fouled {
		k.mode = gone
	}
}

// moveReturning brings a freed skater round the outside to a place behind
// everybody in play and onto the track there (Rules 4.2.2).
func (m *jam) moveReturning(k *skater) {
	rear := m.pack.zone.Rear.S
	for _, o := range m.on {
		if o.role == timeline.Jammer || !o.onTrack() || m.zones[o.index] == timeline.ZoneAhead {
			continue
		}
		if g := Gap(o.s, rear); g > 0 && g < 45 {
			rear = o.s
		}
	}
	goal := Spot{rear - 7, Width(k.s) + 5}
	gap := Gap(k.s, goal.S)
	if gap < 1.5 && gap > -5 || k.d < Width(k.s)+1 && gap > -5 {
		goal = Spot{k.s + 2, Width(k.s) - 2}
	}
	k.walk(dt, goal, 17)
	if !k.spot().InBounds() {
		return
	}
	k.mode, k.in, k.up, k.face = playing, true, true, 0
	if k.role == timeline.Jammer {
		m.newApproach(k)
	}
	m.resetOrder(k)
	m.zones[k.index] = m.pack.zone.Zone(k.spot())
	e := timeline.Event{What: timeline.EvReturns, Who: k.SkaterRef, Zone: m.zones[k.index]}
	for _, o := range m.on {
		// Who is past the front comes round from behind; jammers as a rule do.
		if !tracked(o) || o == k || o.role != timeline.Jammer && (k.role != timeline.Jammer || m.zones[o.index] == timeline.ZoneAhead) {
			continue
		}
		ahead := m.leads(k, o)
		if o.role == timeline.Jammer {
			ahead = !m.leads(o, k) || m.zones[o.index] == timeline.ZoneAhead
		}
		if ahead {
			e.AheadOf = append(e.AheadOf, o.SkaterRef)
		} else {
			e.Behind = append(e.Behind, o.SkaterRef)
		}
	}
	m.emit(e)
	m.tallyReturn(k)
}
