package simulate

import (
	"math"

	"whistlecut/timeline"
)

// packNow is the pack in a running jam. Without one, members are those of the
// last pack: zones are then told from where these are.
type packNow struct {
	ok      bool
	members []*skater
	zone    Engagement
}

// findPack works out pack and engagement zone anew and returns the zone that
// counts: the pack's, or that of the last pack's skaters on the track.
func (m *jam) findPack() packNow {
	var who [10]*skater
	var placed [10]Placed
	n := 0
	for _, k := range m.on {
		if k.packable() {
			who[n], placed[n] = k, Placed{k.Side, k.spot()}
			n++
		}
	}
	p := packNow{zone: m.pack.zone}
	members, ok := Pack(placed[:n])
	if ok {
		p.ok = true
		for _, i := range members {
			p.members = append(p.members, who[i])
		}
	} else {
		for _, k := range m.pack.members {
			if k.mode == playing && k.in {
				p.members = append(p.members, k)
			}
		}
	}
	if len(p.members) == 0 {
		p.members = m.pack.members
		return p
	}
	rear, front := p.members[0], p.members[0]
	for _, k := range p.members {
		if Gap(rear.s, k.s) < 0 {
			rear = k
		}
		if Gap(front.s, k.s) > 0 {
			front = k
		}
	}
	p.zone = Engagement{rear.spot(), front.spot()}
	return p
}

// findZones tells changes of pack and zones, in an order in which no event
// contradicts the state the others made: first that there is no pack, the
// blockers, then (after the lead has been looked at) the jammers, and that there
// is a pack again only once everybody stands to the new one.
func (m *jam) findZones() {
	was := m.pack.ok
	m.pack = m.findPack()
	if was && !m.pack.ok {
		m.emit(timeline.Event{What: timeline.EvNoPack})
	}
	formed := !was && m.pack.ok
	m.pack.ok = was && m.pack.ok
	m.tellZones(false)
	m.checkLead()
	m.tellZones(true)
	if formed {
		m.pack.ok = true
		m.emit(timeline.Event{What: timeline.EvPack})
		m.checkLead()
	}
}

func (m *jam) tellZones(jammers bool) {
	for _, k := range m.on {
		if k.mode != playing || (k.role == timeline.Jammer) != jammers {
			continue
		}
		z := m.pack.zone.Zone(k.spot())
		was := m.zones[k.index]
		if was == timeline.ZoneBehind && z == timeline.ZoneAhead && math.Abs(Gap(m.pack.zone.Front.S, k.s)) > InsideLap/3 {
			z = was // half a lap away, where ahead and behind meet
		}
		if z == was {
			continue
		}
		m.zones[k.index] = z
		m.emit(timeline.Event{What: timeline.EvZone, Who: k.SkaterRef, Zone: z})
		if jammers {
			m.tallyZone(k, was, z)
		}
	}
}
