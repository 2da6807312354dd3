package simulate

import (
	"testing"
	"time"

	"whistlecut/timeline"
)

// checkBox: penalty time is jam time from sitting down (Rules 4.4), 30 s a
// penalty but for the two-jammer rule (4.4.2), the last ten seconds standing; and
// whoever was freed had served what she owed.
func checkBox(t *testing.T, g *Game) {
	jams := map[timeline.ID]int{}
	for i, j := range g.Truth.Jams {
		jams[j.ID] = i
	}
	rules := g.Options.Rules
	for i, v := range g.Truth.Visits {
		if len(v.Penalties) == 0 || v.Owed <= 0 || v.Owed > time.Duration(len(v.Penalties))*rules.PenaltyTime {
			t.Errorf("visit %d of %s owes %v for %d penalties", i, v.SkaterRef, v.Owed, len(v.Penalties))
		}
		if v.OutJam == "" {
			continue
		}
		served := time.Duration(0)
		for n := jams[v.InJam]; n <= jams[v.OutJam]; n++ {
			from, to := time.Duration(0), g.Truth.Jams[n].Duration()
			if n == jams[v.InJam] {
				from = max(0, v.In)
			}
			if n == jams[v.OutJam] {
				to = v.Out
			}
			served += to - from
		}
		// A jam ends between two ticks; the box counts whole ones.
		if d := served - v.Served; d < -tick || d > tick*time.Duration(1+jams[v.OutJam]-jams[v.InJam]) {
			t.Errorf("visit %d of %s: served %v, %v of jam time from %s %v to %s %v", i, v.SkaterRef, v.Served, served, v.InJam, v.In, v.OutJam, v.Out)
		}
		switch {
		case v.Swapped:
			if v.Served > v.Owed {
				t.Errorf("visit %d of %s: served %v of %v owed, shortened", i, v.SkaterRef, v.Served, v.Owed)
			}
		case v.Served < v.Owed || v.Served > v.Owed+tick:
			t.Errorf("visit %d of %s: freed after %v of %v", i, v.SkaterRef, v.Served, v.Owed)
		}
	}
}

// The two-jammer cases of the facts on Rules 4.4.2 in jam-time seconds. Each
// line is a jam: who sits when, and when each must be free.
func TestTwoJammers(t *testing.T) {
	type sit struct {
		side int
		at   float64
	}
	for _, c := range []struct {
		name   string
		before []sit // already there at the whistle: at is what she has served
		sits   []sit
		free   [2][]float64
	}{
		{"one jammer", nil, []sit{{0, 0}}, [2][]float64{{30}, nil}},
		{"second sits: first out, second owes as much", nil, []sit{{1, 0}, {0, 25}}, [2][]float64{{50}, {25}}},
		{"the swapped one is not freed again", nil, []sit{{1, 0}, {0, 25}, {1, 35}}, [2][]float64{{50}, {25, 65}}},
		{"freed, then both again", nil, []sit{{1, 0}, {0, 25}, {1, 35}, {0, 60}}, [2][]float64{{50, 85}, {25, 60}}},
		{"both at once", nil, []sit{{0, 10}, {1, 10}}, [2][]float64{{10}, {10}}},
		{"both between jams (C4.4.2.B)", []sit{{0, 0}, {1, 0}}, nil, [2][]float64{{0}, {0}}},
		{"one served 15, the other sits between jams (C4.4.2.C)", []sit{{0, 15}, {1, 0}}, nil, [2][]float64{{0}, {15}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			opt := Options{}.withDefaults()
			g := &Game{Options: opt}
			h := &hall{g: g, opt: opt}
			m := &jam{h: h, truth: &Jam{ID: "j"}}
			h.jam = m
			for side := range m.tallies {
				k := &skater{SkaterRef: timeline.SkaterRef{Side: timeline.Sides[side], Number: "1"}, team: side, role: timeline.Jammer, mode: playing, up: true}
				k.index = len(m.on)
				m.on = append(m.on, k)
				m.teams[side] = []*skater{k}
				m.tallies[side] = newTally(side, k)
			}
			seat := func(side int) *skater {
				k := m.on[side]
				k.mode = seated
				k.penal = penalState{owed: opt.Rules.PenaltyTime, visit: len(g.Truth.Visits)}
				g.Truth.Visits = append(g.Truth.Visits, Visit{SkaterRef: k.SkaterRef})
				return k
			}
			for i, s := range c.before {
				k := seat(s.side)
				k.penal.served, k.penal.between, k.penal.satAt = seconds(s.at), s.at == 0, time.Duration(i)
			}
			m.boxAtStart()
			for m.t < 100 {
				for _, s := range c.sits {
					if s.at == m.t {
						m.sits(seat(s.side))
					}
				}
				m.steps++
				m.t += dt
				m.serveBox()
				for _, k := range m.on { // no way back to skate here
					if k.mode == returning {
						k.mode = playing
					}
				}
			}
			var free [2][]float64
			for _, e := range m.truth.Events {
				if e.What == timeline.EvFreed {
					free[e.Who.Side.Index()] = append(free[e.Who.Side.Index()], e.At.Seconds())
				}
			}
			for side := range free {
				if len(free[side]) != len(c.free[side]) {
					t.Fatalf("%s freed at %v, want %v", timeline.Sides[side], free[side], c.free[side])
				}
				for i, at := range free[side] {
					if at < c.free[side][i]-0.04 || at > c.free[side][i]+0.04 {
						t.Errorf("%s freed at %v, want %v", timeline.Sides[side], free[side], c.free[side])
					}
				}
			}
		})
	}
}
