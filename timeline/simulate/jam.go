package simulate

import (
	"time"

	"whistlecut/timeline"
)

// tick is the time step of play and dt the same in seconds.
const (
	tick = time.Second / 32
	dt   = 1.0 / 32
)

// jam is a running jam.
type jam struct {
	h     *hall
	truth *Jam
	steps int64
	t     float64 // jam time in seconds

	on      []*skater // everybody fielded, home first
	teams   [2][]*skater
	tallies [2]*tally
	lead    leadBook
	ahead   [10][10]bool // [a][b]: a's hips are ahead of b's, the shorter way round
	zones   [10]timeline.Zone
	pack    packNow

	form     formation
	contests [2]map[*skater]*contest
	beaten   [2]map[*skater]bool
	star     starTry
	due      []dueThing
	endAt    time.Duration // jam time of the end of the fourth blast, once it is whistled
	over     bool
}

// dueThing is something that happens later in a jam.
type dueThing struct {
	at float64
	do func()
}

func (m *jam) time() time.Duration { return time.Duration(m.steps) * tick }

// after does something in so many seconds, if the jam still runs then.
func (m *jam) after(in float64, do func()) { m.due = append(m.due, dueThing{m.t + in, do}) }

// emit records a physical event now.
func (m *jam) emit(e timeline.Event) {
	e.At = m.time()
	m.truth.Events = append(m.truth.Events, e)
}

// play runs the jam from its start whistle to its end.
func (m *jam) play() {
	h := m.h
	h.blow(WhistleJamStart, JamTimer, false)
	for _, k := range m.on {
		if k.mode == lining {
			k.mode, k.up, k.in = playing, true, true
		} else {
			k.in = false // off to the box or there
		}
	}
	for i, a := range m.truth.Field.Skaters {
		for k, b := range m.truth.Field.Skaters {
			m.ahead[i][k] = a.Order > b.Order
		}
	}
	m.pack = m.findPack()
	for _, k := range m.on {
		if k.mode == playing {
			m.zones[k.index] = m.pack.zone.Zone(k.spot())
		}
	}
	if !m.pack.ok {
		m.emit(timeline.Event{What: timeline.EvNoPack})
	}
	for _, k := range m.on {
		if z := m.zones[k.index]; k.mode == playing && z != timeline.ZoneWithin {
			m.emit(timeline.Event{What: timeline.EvZone, Who: k.SkaterRef, Zone: z})
		}
	}
	m.boxAtStart()
	for {
		if m.endAt > 0 && m.time()+tick > m.endAt {
			break
		}
		m.step()
	}
	m.finish()
}

// step is one tick: what is due, decisions and movement, then what follows from
// it in a fixed order: bounds, order of hips, pack and zones.
func (m *jam) step() {
	m.steps++
	m.t += dt
	m.h.n++
	for i := 0; i < len(m.due); i++ {
		if m.due[i].at <= m.t {
			do := m.due[i].do
			m.due = append(m.due[:i], m.due[i+1:]...)
			i--
			do()
		}
	}
	m.serveBox()
	m.formUp()
	m.tryStar()
	for _, k := range m.on {
		m.move(k)
	}
	m.mishaps()
	m.keepApart()
	for _, k := range m.on {
		m.checkBounds(k)
	}
	m.findPasses()
	m.findZones()
	for _, y := range m.tallies {
		m.noteChance(y)
		m.tallyAbsent(y)
	}
	if m.endAt == 0 && m.time() >= m.h.opt.Rules.JamLength {
		if m.whistleEnd(timeline.EndTime, JamTimer, 0); m.endAt == 0 {
			// Called or stopped at the last moment: the jam timer is first to whistle.
			m.endAt = m.h.blowEnd(JamTimer) - m.truth.Start
		}
	}
	if m.steps%8 == 0 {
		m.decideCall()
	}
	m.h.others(dt)
}

// move moves one skater by what she is about.
func (m *jam) move(k *skater) {
	switch k.mode {
	case playing:
		switch {
		case !k.up:
			k.drive(dt, 0, k.d, 14)
			if m.t >= k.downTill {
				k.up = true
				m.emit(timeline.Event{What: timeline.EvUp, Who: k.SkaterRef})
			}
		case k.outTill > 0:
			m.moveOutside(k)
		case k.role == timeline.Jammer:
			m.moveJammer(k)
		default:
			m.moveBlocker(k)
		}
	case returning:
		m.moveReturning(k)
	default:
		m.h.moveAside(k, dt)
	}
}

// checkBounds tells who crossed a boundary.
func (m *jam) checkBounds(k *skater) {
	if !tracked(k) {
		return
	}
	if k.mode == playing && k.outTill == 0 && k.up {
		k.d = clamp(k.d, 0.4, Width(k.s)-0.4)
	}
	in := k.spot().InBounds()
	if in == k.in {
		return
	}
	k.in = in
	e := timeline.Event{What: timeline.EvOut, Who: k.SkaterRef}
	if in {
		e.What = timeline.EvIn
		k.outTill = 0
	} else if k.mode == playing {
		e.By = timeline.ByOpponent
	}
	m.emit(e)
	if !in {
		return
	}
	if y := m.tallyOf(k); y != nil && y.outExit && k.mode == playing {
		m.exits(y)
	}
	m.backIn(k)
}

// whistleEnd has the jam end: the four blasts begin after a moment, and the jam
// is over at the end of the first set (Rules 1.1).
func (m *jam) whistleEnd(why timeline.Ended, first OfficialRole, in float64) {
	if m.endAt > 0 || m.over {
		return
	}
	m.over = true
	m.truth.Ended = why
	do := func() {
		if m.endAt > 0 {
			return
		}
		end := m.h.blowEnd(first)
		m.endAt = end - m.truth.Start
	}
	if in == 0 {
		do()
		return
	}
	m.after(in, do)
}

// finish closes the books at the end of the fourth blast.
func (m *jam) finish() {
	for _, y := range m.tallies {
		m.closeTrip(y, true)
	}
	if m.pack.ok {
		e := timeline.Event{What: timeline.EvPack}
		for _, k := range m.pack.members {
			e.Pack = append(e.Pack, k.SkaterRef)
		}
		m.emit(e)
	}
	m.truth.End = m.truth.Start + m.endAt
	m.truth.Events = append(m.truth.Events, timeline.Event{At: m.endAt, What: timeline.EvJamEnds})
	for side, y := range m.tallies {
		s := &m.truth.Sides[side]
		y.trips[len(y.trips)-1].End = m.endAt
		s.Trips, s.Points = y.trips, y.points
		first, second := len(y.trips) == 1, len(y.trips) == 1
		if y.second && len(y.trips) > 1 {
			// The initial trip is completed by whoever exits: the first jammer has NI
			// if the star had been passed by then.
			first, second = y.trips[0].NewStar, false
		}
		s.NI = [2]bool{first, y.second && second}
	}
	for _, k := range m.on {
		k.recycle, k.outTill, k.downTill, k.lead = 0, 0, 0, false
		k.up = true
		if k.mode == playing {
			k.mode = benched
		}
	}
}
