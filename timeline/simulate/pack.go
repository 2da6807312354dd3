package simulate

import (
	"math"

	"whistlecut/timeline"
)

// Distances of the pack definition (Rules 2.3).
const (
	PackReach = 10.0 // feet from one pack skater to the next
	ZoneReach = 20.0 // feet the engagement zone reaches beyond the pack
)

// Placed is one blocker who can belong to a pack: upright, in bounds and not
// penalised. Jammers never count.
type Placed struct {
	Side timeline.Side
	Spot Spot
}

// Pack finds the pack among the blockers: the largest single group, each within
// 10 ft of the next, with blockers of both teams (Rules 2.3). It returns their
// indices from rear to front; ok is false when there is no such group or two
// tie for the largest (a split pack).
func Pack(blockers []Placed) (members []int, ok bool) {
	n := len(blockers)
	var group [16]int
	if n > len(group) {
		n = len(group)
	}
	for i := range n {
		group[i] = i
	}
	for i := range n {
		for j := i + 1; j < n; j++ {
			if group[i] == group[j] {
				continue
			}
			a, b := blockers[i].Spot, blockers[j].Spot
			if math.Abs(Gap(a.S, b.S)) <= PackReach && math.Abs(Ahead(a, b)) <= PackReach {
				from, to := group[j], group[i]
				for k := range n {
					if group[k] == from {
						group[k] = to
					}
				}
			}
		}
	}
	best, size, tie := -1, 0, false
	for g := range n {
		count, sides := 0, [3]bool{}
		for i := range n {
			if group[i] == g {
				count++
				sides[blockers[i].Side] = true
			}
		}
		if !sides[timeline.Home] || !sides[timeline.Away] || count < size {
			continue
		}
		tie = count == size
		best, size = g, count
	}
	if best < 0 || tie {
		return nil, false
	}
	members = make([]int, 0, size)
	for i := range n {
		if group[i] != best {
			continue
		}
		members = append(members, i)
		for k := len(members) - 1; k > 0 && Gap(blockers[members[k-1]].Spot.S, blockers[members[k]].Spot.S) < 0; k-- {
			members[k-1], members[k] = members[k], members[k-1]
		}
	}
	return members, true
}

// Engagement is the engagement zone: from 20 ft behind the rearmost to 20 ft
// ahead of the foremost pack skater (Rules 2.3).
type Engagement struct{ Rear, Front Spot }

// Zone says where a skater is relative to it. Its ends are lines square across
// the track, 20 ft along the lane of the rearmost and of the foremost pack
// skater: so whoever is ahead of somebody ahead of the zone is ahead of it, too.
// Beyond half a lap, ahead turns to behind.
func (e Engagement) Zone(p Spot) timeline.Zone {
	middle := e.Rear.S + Gap(e.Rear.S, e.Front.S)/2
	past := func(from Spot, to float64, lane float64) float64 {
		s := Wrap(from.S)
		return Along(s, s+Gap(from.S, to), max(0, lane))
	}
	switch {
	case Gap(middle, p.S) > 0 && past(e.Front, p.S, e.Front.D) > ZoneReach:
		return timeline.ZoneAhead
	case Gap(middle, p.S) < 0 && -past(e.Rear, p.S, e.Rear.D) > ZoneReach:
		return timeline.ZoneBehind
	}
	return timeline.ZoneWithin
}
