package simulate

import (
	"slices"
	"time"

	"whistlecut/timeline"
)

// startSpot is a skater's place before the whistle: jammers behind their line,
// blockers between the lines, the pivot at the head.
func (h *hall) startSpot(k *skater) Spot {
	if k.role == timeline.Jammer {
		return Spot{-2.5, 4.5 + 5*float64(k.team)}
	}
	front := (h.coin > 0.5) == (k.team == 0)
	s := 15.0
	if front {
		s = 21.0
	}
	lane := 4.6 + 5*float64(k.team)
	shape := [4]Spot{{5.5, 0}, {-1.3, -1.5}, {-1.3, 1.5}, {1.7, 0}}
	return Spot{s + shape[k.slot].S, lane + shape[k.slot].D}
}

// lineUp picks who skates the next jam and sends the others to the bench. Who
// still has penalty time to serve stays in her role (Rules 4.4.3); who fouled out
// is served for by another.
func (h *hall) lineUp() {
	h.coin = h.rng.Float64()
	for t := range h.byTeam {
		h.substitute(t)
		h.pick(t)
	}
}

// pick fields one team: jammer, pivot and three blockers.
func (h *hall) pick(t int) {
	var team []*skater
	used := map[timeline.Role]int{}
	slots := [4]bool{}
	for _, k := range h.byTeam[t] {
		k.fielded = k.serving()
		if !k.fielded {
			k.role = timeline.NoRole
			continue
		}
		used[k.role]++
		team = append(team, k)
	}
	take := func(role timeline.Role, n int) {
		for used[role] < n {
			k := h.freshest(t, role)
			if k == nil {
				return
			}
			k.fielded, k.role, k.mode = true, role, lining
			used[role]++
			team = append(team, k)
		}
	}
	take(timeline.Jammer, 1)
	take(timeline.Pivot, 1)
	blockers := 3
	if used[timeline.Pivot] == 0 {
		blockers = 4
	}
	take(timeline.Blocker, blockers)
	for _, k := range team {
		switch k.role {
		case timeline.Pivot:
			k.slot = 0
			slots[0] = true
		case timeline.Blocker:
			k.slot = -1
		}
	}
	for _, k := range team {
		if k.role == timeline.Blocker {
			k.slot = slices.Index(slots[:], false)
			slots[k.slot] = true
		}
	}
	for _, k := range h.byTeam[t] {
		if k.mode == lining && !k.fielded {
			k.mode = benched
		}
		k.star = k.fielded && k.role == timeline.Jammer
		k.stripe = k.fielded && k.role == timeline.Pivot
		k.holds = false
	}
}

// freshest is the rested skater of a team's usual ones for a role: the first
// four jam, the next three pivot, the others block; anybody steps in when those
// run out.
func (h *hall) freshest(t int, role timeline.Role) *skater {
	lo, hi := 7, len(h.byTeam[t])
	switch role {
	case timeline.Jammer:
		lo, hi = 0, 4
	case timeline.Pivot:
		lo, hi = 4, 7
	}
	var best *skater
	score := 0.0
	for i := range h.byTeam[t] {
		// Rosters are sorted by number; who jams must not follow from that.
		place := (i*7 + 3) % len(h.byTeam[t])
		k := h.byTeam[t][place]
		if k.fielded || k.fouled || k.sitOut > 0 {
			continue
		}
		x := float64(k.jams) + 1.5*h.rng.Float64()
		if i < lo || i >= hi {
			x += 1000
		}
		if best == nil || x < score {
			best, score = k, x
		}
	}
	return best
}

// spare reports whether a team can do without one more skater for good: eight
// stay able to skate, so that no game ends in a forfeit (Rules 1.2).
func (h *hall) spare(t int) bool {
	able := 0
	for _, k := range h.byTeam[t] {
		if !k.fouled && k.sitOut == 0 {
			able++
		}
	}
	return able > 8
}

// mayFoul reports whether a skater can take a penalty without fouling out of a
// team that has nobody to spare.
func (h *hall) mayFoul(k *skater) bool {
	return !k.fouled && (k.fouls+2 < h.opt.Rules.FoulOut || h.spare(k.team))
}

// substitute has a rested skater serve on for one who fouled out.
func (h *hall) substitute(t int) {
	for _, k := range h.byTeam[t] {
		if !k.fouled || !k.serving() {
			continue
		}
		k.fielded = true // not herself
		o := h.freshest(t, k.role)
		if o == nil {
			continue
		}
		o.role, o.fielded, o.mode = k.role, true, k.mode
		o.s, o.d = k.s, k.d
		if k.inBox() {
			v := h.visitOf(k)
			v.Substituted = true
			v.Served = k.penal.served - k.penal.takenOver
			o.penal = k.penal
			o.penal.between = true
			o.penal.visit = len(h.g.Truth.Visits)
			o.penal.satAt = h.now()
			h.g.Truth.Visits = append(h.g.Truth.Visits, Visit{
				SkaterRef: o.SkaterRef, Role: o.role, Penalties: k.penal.list, Owed: k.penal.owed - k.penal.served, SatAt: h.now(),
			})
			o.penal.takenOver = k.penal.served
		} else {
			o.penal = penalState{owed: k.penal.owed, list: k.penal.list}
		}
		k.penal, k.mode, k.fielded, k.role = penalState{}, benched, false, timeline.NoRole
	}
}

// lineFoul is a penalty in the line-up; its times are since the game's start
// until the jam begins.
type lineFoul struct {
	who     *skater
	penalty int
	at      time.Duration
}

// lineupTill lets the line-up pass until the jam starts. Now and then somebody
// commits a penalty before the whistle; a jammer is not eligible for lead then
// (Rules 2.2.2).
func (h *hall) lineupTill(start time.Duration) {
	r := h.rng
	if start-h.now() > 12*time.Second && len(h.g.Truth.Jams) > 0 && r.Float64() < 0.03*rate(h.opt.Rates.Penalties) {
		h.waitTill(start - seconds(6+4*r.Float64()))
		var lined []*skater
		for _, k := range h.skaters {
			if k.fielded && k.mode == lining && h.mayFoul(k) {
				lined = append(lined, k)
			}
		}
		if len(lined) > 0 {
			k := lined[r.IntN(len(lined))]
			if r.Float64() < 0.4 {
				for _, o := range lined {
					if o.role == timeline.Jammer {
						k = o
					}
				}
			}
			h.blow(WhistlePenalty, OutsideReferee2, false)
			h.next = append(h.next, lineFoul{k, len(h.g.Truth.Penalties), h.now()})
			h.book(k, "I", &Jam{ID: jamID(h.period, h.number+1)}, Penalty{Lineup: true})
			k.mode = leaving
		}
	}
	h.waitTill(start)
}

// field sets up the jam from who is lined up and who serves.
func (h *hall) field(j *Jam) *jam {
	m := &jam{h: h, truth: j, beaten: [2]map[*skater]bool{{}, {}}, contests: [2]map[*skater]*contest{{}, {}}}
	for t := range h.byTeam {
		side := &j.Sides[t]
		y := newTally(t, nil)
		blockers := 0
		for _, k := range h.byTeam[t] {
			if !k.fielded {
				continue
			}
			k.index = len(m.on)
			k.jams++
			k.freshen()
			m.on = append(m.on, k)
			m.teams[t] = append(m.teams[t], k)
			switch k.role {
			case timeline.Jammer:
				y.jammer, side.Jammer = k, k.Number
			case timeline.Pivot:
				side.Pivot = k.Number
				blockers++
			case timeline.Blocker:
				side.Blockers = append(side.Blockers, k.Number)
				blockers++
			}
		}
		m.tallies[t] = y
		slices.SortFunc(m.teams[t], func(a, b *skater) int { return a.slot - b.slot })
		j.Field.NotFielded[t] = 4 - blockers
	}
	for t, y := range m.tallies {
		for slot := range y.missed {
			y.missed[slot] = true
			for _, b := range m.teams[1-t] {
				if b.role != timeline.Jammer && b.slot == slot {
					y.missed[slot] = false
				}
			}
		}
	}
	h.describeField(m)
	m.startFormation()
	return m
}

// freshen clears what belonged to the jam before.
func (k *skater) freshen() {
	k.downTill, k.outTill, k.recycle = 0, 0, 0
	k.behind = k.behind[:0]
}

// describeField writes down the state at the whistle.
func (h *hall) describeField(m *jam) {
	m.truth.Field.Overtime = m.truth.Overtime
	var track []*skater
	for _, k := range m.on {
		if k.mode == lining {
			track = append(track, k)
		}
	}
	slices.SortStableFunc(track, func(a, b *skater) int {
		switch g := Gap(a.s, b.s); {
		case g < 0:
			return 1
		case g > 0:
			return -1
		}
		return 0
	})
	for _, k := range m.on {
		f := timeline.Fielded{SkaterRef: k.SkaterRef, Role: k.role}
		if k.serving() {
			f.InBox = true
			f.Served, f.Owed = k.penal.served, k.penal.owed
		} else {
			f.Order = slices.Index(track, k)
		}
		if k.inBox() {
			if v := h.visitOf(k); v.InJam == "" {
				v.InJam, v.In = m.truth.ID, k.penal.satAt-m.truth.Start
			}
		}
		for _, l := range h.next {
			if l.who == k {
				f.PenalisedInLineup = true
				p := &h.g.Truth.Penalties[l.penalty]
				p.Call = l.at - m.truth.Start
				p.Act = p.Call - time.Second
				if k.role == timeline.Jammer {
					m.loseLead(k)
				}
			}
		}
		m.truth.Field.Skaters = append(m.truth.Field.Skaters, f)
	}
	h.next = h.next[:0]
}
