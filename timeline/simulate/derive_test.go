package simulate

import (
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"whistlecut/timeline"
)

// The recount knows only the tags, the simulator kept its own score while it
// played: by tagged trips and by physical events, every jam's points, every
// score-sheet cell, the period clock and the time served in the box agree.
func TestRecountAgreesWithTheGame(t *testing.T) {
	seeds := uint64(3)
	opt := Options{PeriodLength: 8 * time.Minute}
	if os.Getenv("WHISTLECUT_SOAK") == "1" {
		seeds, opt = 50, Options{}
	}
	for seed := uint64(1); seed <= seeds; seed++ {
		for _, events := range []bool{false, true} {
			t.Run(fmt.Sprintf("seed %d, events %v", seed, events), func(t *testing.T) {
				opt := opt
				opt.PassEvents = events
				g := Play(seed, opt)
				f := g.Facts()
				b := timeline.Derive(f)
				for n, s := range timeline.Sides {
					if b.Score[n] != timeline.Exactly(g.Truth.Score[n]) || b.Unlogged[n] != 0 {
						t.Errorf("score of %s: recount %v, game %d (%d jams not logged)", s, b.Score[n], g.Truth.Score[n], b.Unlogged[n])
					}
				}
				if len(b.Jams) != len(g.Truth.Jams) {
					t.Fatalf("%d jams, the game has %d", len(b.Jams), len(g.Truth.Jams))
				}
				for i, j := range g.Truth.Jams {
					agreeJam(t, b, i, j, events)
				}
				agreeRows(t, b, g)
				agreeVisits(t, b, g)
				for _, p := range b.Problems {
					if p.Kind == timeline.ProblemLevels || p.Kind == timeline.ProblemBox {
						t.Errorf("%s: %s", p.Kind, p.Text)
					}
				}
			})
		}
	}
}

// passedSomebody reports whether a side's jammer passed anybody: without a pass
// there is nothing to count from, and the tagged trips stand.
func passedSomebody(j *Jam, side int) bool {
	s := &j.Sides[side]
	return slices.ContainsFunc(j.Events, func(e timeline.Event) bool {
		return e.What == timeline.EvPass && e.Who.Side.Index() == side && (e.Who.Number == s.Jammer || e.Who.Number == s.NewJammer)
	})
}

func agreeJam(t *testing.T, b timeline.Bout, i int, j *Jam, events bool) {
	got := b.Jams[i]
	for n, s := range timeline.Sides {
		side := got.Sides[n]
		if side.Points != timeline.Exactly(j.Sides[n].Points) || side.PassLevel != (events && passedSomebody(j, n)) {
			t.Errorf("jam %s %s: recount %v (pass level %v), game %d: %+v", got.Name(), s, side.Points, side.PassLevel, j.Sides[n].Points, side.Trips)
		}
	}
	if got.Ended != j.Ended || got.Duration != j.Duration() {
		t.Errorf("jam %s: ended %q after %v, game %q after %v", got.Name(), got.Ended, got.Duration, j.Ended, j.Duration())
	}
	if got.ClockKnown && !j.Overtime && (got.ClockAtStart-j.ClockAtStart).Abs() > 50*time.Millisecond {
		t.Errorf("jam %s: clock %v, game %v", got.Name(), got.ClockAtStart, j.ClockAtStart)
	}
}

// agreeRows compares every cell the recount is sure of.
func agreeRows(t *testing.T, b timeline.Bout, g *Game) {
	var mine []timeline.JamRow
	for i := range b.Jams {
		for n := range b.Jams[i].Sides {
			mine = append(mine, b.Jams[i].Sides[n].Rows...)
		}
	}
	want := g.Rows()
	if len(mine) != len(want) {
		t.Fatalf("%d rows, the game's sheet has %d", len(mine), len(want))
	}
	for i, w := range want {
		m := mine[i]
		at := fmt.Sprintf("row %d-%d %s (star pass %v)", w.Period, w.Jam, w.Side, w.StarPass)
		if m.Period != w.Period || m.Jam != w.Jam || m.Side != w.Side || m.StarPass != w.StarPass || m.Spacer != w.Spacer {
			t.Fatalf("%s stands beside %+v", at, m)
		}
		if w.Spacer {
			continue
		}
		agree(t, at, "jammer", m.Jammer, w.Jammer)
		agree(t, at, "lost", m.Lost, w.Lost)
		agree(t, at, "lead", m.Lead, w.Lead)
		agree(t, at, "call", m.Call, w.Call)
		agree(t, at, "injury", m.Inj, w.Inj)
		agree(t, at, "no initial", m.NI, w.NI)
		agree(t, at, "jam total", m.JamTotal, w.JamTotal)
		agree(t, at, "game total", m.GameTotal, w.GameTotal)
		if len(m.Trips) != len(w.Trips) {
			t.Errorf("%s: %d trips, want %d", at, len(m.Trips), len(w.Trips))
			continue
		}
		for n := range w.Trips {
			agree(t, at, fmt.Sprintf("trip %d", n+2), m.Trips[n], w.Trips[n])
		}
	}
}

func agree[T comparable](t *testing.T, at, what string, got, want timeline.Cell[T]) {
	if got.State == timeline.CellKnown && got.Value != want.Value {
		t.Errorf("%s, %s: recount %v, game %v", at, what, got.Value, want.Value)
	}
}

func agreeVisits(t *testing.T, b timeline.Bout, g *Game) {
	for i, v := range g.Truth.Visits {
		n := slices.IndexFunc(b.Visits, func(w timeline.Visit) bool { return w.Tag == timeline.ID(fmt.Sprintf("box-%03d", i+1)) })
		if v.InJam == "" || v.OutJam == "" {
			continue
		}
		if n < 0 || !b.Visits[n].Known || (b.Visits[n].Served-v.Served).Abs() > time.Second {
			t.Errorf("box visit %d of %s: game %v served; recount %+v", i+1, v.SkaterRef, v.Served, b.Visits)
		}
	}
}
