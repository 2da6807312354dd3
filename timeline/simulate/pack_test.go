package simulate

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
)

// Casebook C2.3.C prints which removals change the pack; the places (feet from
// the rear) are ours, chosen so that each printed removal comes out.
func TestPackOfScenarioC23C(t *testing.T) {
	all := []struct {
		name string
		side timeline.Side
		s    float64
	}{
		{"W2", timeline.Away, 0},
		{"W1", timeline.Away, 8},
		{"R2", timeline.Home, 16},
		{"WP", timeline.Away, 20},
		{"R3", timeline.Home, 31},
		{"W3", timeline.Away, 35},
		{"R1", timeline.Home, 46},
		{"RP", timeline.Home, 50},
	}
	for _, c := range []struct{ without, pack string }{
		{"", "W2 W1 R2 WP"},
		{"W2", "W1 R2 WP"},
		{"W1", ""},
		{"R2", "R3 W3"},
		{"WP", "W2 W1 R2"},
		{"R3", "W2 W1 R2 WP"},
		{"W3", "W2 W1 R2 WP"},
		{"R1", "W2 W1 R2 WP"},
		{"RP", "W2 W1 R2 WP"},
	} {
		t.Run("down "+c.without, func(t *testing.T) {
			// On the inside line itself, where the rule's feet are feet of the line;
			// once across the jammer line, once across a turn.
			for _, at := range []float64{-20, 72} {
				var names []string
				var placed []Placed
				for _, b := range all {
					if b.name == c.without {
						continue
					}
					names = append(names, b.name)
					s := at + b.s
					placed = append(placed, Placed{b.side, Spot{s, 0}})
				}
				members, ok := Pack(placed)
				var got []string
				for _, m := range members {
					got = append(got, names[m])
				}
				if diff := cmp.Diff(c.pack, strings.Join(got, " ")); diff != "" || ok != (c.pack != "") {
					t.Errorf("from %g ft: pack (-want +got, ok %v):\n%s", at, ok, diff)
				}
			}
		})
	}
}

// Rules 2.3: distance is measured parallel to the inside boundary, so the same
// angle is farther in an outer lane (C2.3.C reads 10 ft in mid-track, not on
// the line).
func TestPackDistanceDependsOnLane(t *testing.T) {
	s := pivotS + 10
	for _, c := range []struct {
		name   string
		da, db float64
		ok     bool
	}{
		{"both inside", 0.5, 0.5, true},
		{"both mid-track", 6, 6, false},
		{"one inside, one outside", 0.5, 11, true},
	} {
		_, ok := Pack([]Placed{{timeline.Home, Spot{s, c.da}}, {timeline.Away, Spot{s + 8, c.db}}})
		if ok != c.ok {
			t.Errorf("%s, 8 ft apart on the inside line: pack %v, want %v", c.name, ok, c.ok)
		}
	}
}

func TestNoPackWithOneTeam(t *testing.T) {
	if m, ok := Pack([]Placed{{timeline.Home, Spot{0, 5}}, {timeline.Home, Spot{3, 5}}}); ok {
		t.Errorf("pack %v of one team", m)
	}
	if m, ok := Pack(nil); ok {
		t.Errorf("pack %v of nobody", m)
	}
}

// Rules 2.3: 20 ft ahead of the foremost and behind the rearmost pack skater.
func TestEngagementZone(t *testing.T) {
	e := Engagement{Rear: Spot{75, 5}, Front: Spot{80, 5}}
	for _, c := range []struct {
		s    float64
		zone timeline.Zone
	}{
		{100, timeline.ZoneWithin},
		{100.1, timeline.ZoneAhead},
		{140, timeline.ZoneAhead},
		{0, timeline.ZoneAhead},
		{77.5 - InsideLap/2 + 1, timeline.ZoneBehind},
		{40, timeline.ZoneBehind},
		{77, timeline.ZoneWithin},
		{60, timeline.ZoneWithin},
	} {
		if got := e.Zone(Spot{c.s, 5}); got != c.zone {
			t.Errorf("at %g: %s, want %s", c.s, got, c.zone)
		}
	}
}
