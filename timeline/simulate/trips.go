package simulate

import (
	"slices"
	"time"

	"whistlecut/timeline"
)

// tally is the simulator's own book on one side's jammer position in one jam:
// trips, earned passes and points, kept from where skaters are (Rules 3).
type tally struct {
	side   int // Side.Index
	jammer *skater
	second bool // the star was passed
	trips  []Trip
	// Of the running trip: the opposing blockers' places (slots) it has passed.
	got    [4]bool
	opened bool // a first earned pass on a blocker: those not on the track count too
	// held: not on the track while the jammer could not score by her own doing; paid
	// once she can (3.3).
	held [4]bool
	// free: no opportunity to pass her is left in this trip (3.3).
	free [4]bool
	// chance: there was an opposing blocker to pass at some time in the trip.
	chance bool
	// back: re-entered from the front: nothing counts until the next exit (3.2).
	back   bool
	missed [4]bool // not fielded
	// outExit: went past the front out of bounds; the trip ends when she is back in
	// (C3.3.B).
	outExit bool
	// Earned passes on blockers of both sides, for lead.
	passed map[*skater]bool
	// trailing: blockers who came onto the track behind the jammer and have
	// not been ahead of her since.
	trailing map[*skater]bool
	points   int
}

func newTally(side int, j *skater) *tally {
	return &tally{
		side: side, jammer: j, trips: []Trip{{Number: 1}},
		passed: map[*skater]bool{}, trailing: map[*skater]bool{},
	}
}

func (m *jam) tallyOf(j *skater) *tally {
	for _, y := range m.tallies {
		if y.jammer == j {
			return y
		}
	}
	return nil
}

// scoring reports whether passes of the running trip are worth points: all but
// the initial trip's, and in overtime that one too (1.5.1).
func (m *jam) scoring(y *tally) bool { return len(y.trips) > 1 || m.truth.Overtime }

// able reports whether nothing the jammer did keeps her from scoring (3.3).
func able(j *skater) bool { return j.mode == playing && j.star }

func (m *jam) credit(y *tally, slot int, whom timeline.Number, how string) {
	if y.got[slot] || y.back {
		return
	}
	y.got[slot] = true
	if !m.scoring(y) {
		return
	}
	t := &y.trips[len(y.trips)-1]
	t.Points = append(t.Points, Scored{At: m.time(), Whom: whom, How: how})
	y.points++
}

// tallyPass books a pass: earned when the jammer wears the star and is upright
// and in bounds, or the opponent went clockwise behind her while she was in
// bounds (2.5).
func (m *jam) tallyPass(who, whom *skater, moved timeline.Moved) {
	if y := m.tallyOf(whom); y != nil && who.role != timeline.Jammer {
		// The jammer is behind her again: there is an opportunity to pass.
		if who.team != y.side {
			y.free[who.slot] = false
		}
		delete(y.trailing, who)
		return
	}
	y := m.tallyOf(who)
	if y == nil || whom.role == timeline.Jammer {
		return
	}
	if who.mode != playing || !who.star || !who.in || !who.up && moved != timeline.MovedPassed {
		return
	}
	if y.back {
		return
	}
	y.passed[whom] = true
	if whom.team == y.side {
		return
	}
	m.credit(y, whom.slot, whom.Number, "passed")
	if !y.opened {
		y.opened = true
		m.tallyAbsent(y)
	}
}

// tallyAbsent credits the opposing blockers who are not on the track, once the
// trip's first pass is earned (2.5). What a jammer could not take by her own
// doing is held for her (3.3).
func (m *jam) tallyAbsent(y *tally) {
	if !y.opened || y.back {
		return
	}
	could := able(y.jammer)
	for _, b := range m.on {
		if b.team == y.side || b.role == timeline.Jammer || y.got[b.slot] {
			continue
		}
		if b.mode != playing || y.free[b.slot] && y.trailing[b] {
			y.held[b.slot] = true
		}
		if y.held[b.slot] && could {
			y.passed[b] = true
			m.credit(y, b.slot, b.Number, "not on the track")
		}
	}
	for slot, missed := range y.missed {
		if missed && could {
			m.credit(y, slot, "", "not on the track")
		}
	}
}

// noteChance remembers that the jammer, at the pack, has somebody to pass.
func (m *jam) noteChance(y *tally) {
	j := y.jammer
	if y.chance || y.back || j.mode != playing || m.zones[j.index] != timeline.ZoneWithin {
		return
	}
	for _, b := range m.on {
		if b.team != y.side && b.role != timeline.Jammer && b.mode == playing && !y.trailing[b] &&
			m.zones[b.index] != timeline.ZoneAhead && m.ahead[b.index][j.index] {
			y.chance = true
		}
	}
}

// tallyReturn books who comes onto the track from the box: a blocker behind an
// opposing jammer who is at the pack or on the way to it counts as not on the
// track for the rest of the trip (2.5); blockers out of play behind a returning
// jammer leave her no opportunity (3.3).
func (m *jam) tallyReturn(k *skater) {
	if y := m.tallyOf(k); y != nil {
		clear(y.trailing)
		y.free = [4]bool{}
		for _, b := range m.on {
			if b.team != y.side && b.role != timeline.Jammer && b.mode == playing &&
				m.ahead[k.index][b.index] && m.zones[b.index] == timeline.ZoneBehind {
				y.free[b.slot] = true
			}
		}
		return
	}
	for _, y := range m.tallies {
		j := y.jammer
		if k.role == timeline.Jammer || j.mode != playing || m.zones[j.index] == timeline.ZoneAhead {
			continue
		}
		behind := m.leads(j, k)
		if k.team != y.side {
			y.free[k.slot] = behind
		}
		if delete(y.trailing, k); behind {
			y.trailing[k] = true
		}
	}
}

// tallyZone books a jammer's way in and out of the engagement zone.
func (m *jam) tallyZone(j *skater, was, is timeline.Zone) {
	y := m.tallyOf(j)
	if y == nil {
		return
	}
	switch {
	case is == timeline.ZoneAhead && was == timeline.ZoneWithin:
		y.outExit = !j.in
		if j.in {
			m.exits(y)
		}
	case is == timeline.ZoneWithin && was == timeline.ZoneAhead:
		if !y.outExit {
			y.back = true
		}
		y.outExit = false
	}
}

// exits is a jammer leaving the engagement zone at the front: one trip ends, the
// next begins; on the trip before, she is back on her latest (3.2).
func (m *jam) exits(y *tally) {
	y.outExit = false
	if y.back {
		// On her way round she comes on everybody from behind.
		y.back, y.free = false, [4]bool{}
		clear(y.trailing)
		return
	}
	m.checkLead()
	m.leftZone(y)
	m.closeTrip(y, false)
}

// closeTrip ends the running trip at the exit at the front or the jam's end and
// pays what there was no opportunity to earn (3.3).
func (m *jam) closeTrip(y *tally, jamOver bool) {
	m.tallyAbsent(y)
	if able(y.jammer) && !y.back && (!jamOver || m.aheadOfRear(y.jammer)) {
		left := 0
		for _, b := range m.on {
			if b.team == y.side || b.role == timeline.Jammer || y.got[b.slot] || b.mode != playing || y.trailing[b] {
				continue
			}
			if m.zones[b.index] == timeline.ZoneAhead || y.free[b.slot] {
				m.credit(y, b.slot, b.Number, "no opportunity")
				y.opened = true // it is as good as a pass earned
				continue
			}
			left++
		}
		if left == 0 && !y.chance && !jamOver {
			// Nobody could be passed: those not on the track count all the same.
			y.opened = true
		}
		m.tallyAbsent(y)
	}
	t := &y.trips[len(y.trips)-1]
	t.End, t.Jammer, t.NewStar, t.Open = m.time(), y.jammer.Number, y.second, jamOver
	if jamOver {
		return
	}
	y.trips = append(y.trips, Trip{Number: len(y.trips) + 1, Start: m.time()})
	y.got, y.held, y.free, y.opened = [4]bool{}, [4]bool{}, [4]bool{}, false
	y.chance = false
	clear(y.trailing)
	clear(y.passed)
}

// aheadOfRear reports whether a jammer at the pack is ahead of its rearmost
// skater; without a pack, of any blocker who could be in one.
func (m *jam) aheadOfRear(j *skater) bool {
	if m.zones[j.index] != timeline.ZoneWithin {
		return false
	}
	for _, b := range m.on {
		if b.packable() && m.ahead[j.index][b.index] && (!m.pack.ok || slices.Contains(m.pack.members, b)) {
			return true
		}
	}
	return false
}

// tallyStarPass moves the book to the new jammer; the old one takes the pivot's
// place among the blockers, so that a trip never counts both (2.2.4, 3.1).
func (m *jam) tallyStarPass(from, to *skater) {
	y := m.tallies[from.team]
	y.jammer, y.second = to, true
	o := m.tallies[1-from.team]
	from.slot = to.slot
	if o.passed[to] {
		o.passed[from] = true
		delete(o.passed, to)
	}
	if o.jammer.mode == playing && m.zones[o.jammer.index] != timeline.ZoneAhead && m.leads(o.jammer, from) {
		// Behind the opposing jammer she is as one who came onto the track there (C3.3.J).
		o.free[from.slot], o.trailing[from] = true, true
		m.tallyAbsent(o)
	}
}

// seconds turns seconds of jam time into a duration.
func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
