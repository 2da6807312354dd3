package logging

import (
	"cmp"
	"flag"
	"os"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// TestMain holds the property tests to what the normal run has time for.
func TestMain(m *testing.M) {
	flag.Parse()
	if f := flag.Lookup("rapid.checks"); f != nil && f.Value.String() == f.DefValue && os.Getenv("WHISTLECUT_SOAK") != "1" {
		_ = f.Value.Set("40")
	}
	os.Exit(m.Run())
}

// stroke is what a person who sees everything does at one moment.
type stroke struct {
	at time.Duration // film time
	do func(b *bench)
}

// strokes are the keys of one jam as it was played, at their film times.
func strokes(g *simulate.Game, j *simulate.Jam) []stroke {
	var out []stroke
	add := func(at time.Duration, do func(b *bench)) { out = append(out, stroke{j.Start + at, do}) }
	keys := func(at time.Duration, ks ...Key) { add(at, func(b *bench) { b.do(ks...) }) }
	for n := range j.Sides {
		x, s := &j.Sides[n], timeline.Sides[n]
		if x.Lead {
			keys(x.LeadAt, side(Lead, s))
		}
		if x.Lost {
			keys(x.LostAt, side(Lost, s))
		}
		for _, p := range x.StarPasses {
			if p.Complete {
				add(p.At, func(b *bench) { b.do(side(Star, s)).number(p.To) })
			} else {
				keys(p.At, side(Star, s), side(Star, s))
			}
		}
		for _, t := range x.Trips {
			first := t.Number == 1 && !j.Overtime
			switch {
			case first && t.Open:
				keys(j.Duration()+time.Millisecond, side(Initial, s))
			case first:
				keys(t.End, side(Initial, s))
			case t.Open:
				keys(j.Duration()+time.Millisecond, points(s, len(t.Points)))
			default:
				keys(t.End, points(s, len(t.Points)))
			}
		}
		if x.Called && j.Ended == timeline.EndCalled {
			at := min(x.CalledAt, j.Duration()-time.Millisecond)
			add(at, func(b *bench) {
				b.press(Key{Act: CallOff})
				if b.m.Asking() != NoAct {
					b.press(side(Lead, s)) // any key of the side's row
				}
			})
		}
	}
	for _, p := range g.Truth.Penalties {
		if p.Jam == j.ID && p.Call >= 0 {
			add(p.Call, func(b *bench) { b.do(side(Penalty, p.Side)).number(p.Number).do(Key{Act: Code, Letter: p.Code}) })
		}
	}
	for _, v := range g.Truth.Visits {
		if v.InJam == j.ID && v.In >= 0 {
			add(v.In, func(b *bench) { b.do(side(Box, v.Side)).number(v.Number) })
		}
	}
	for _, x := range g.Truth.Injuries {
		if x.Jam == j.ID {
			keys(x.At, Key{Act: Injury})
		}
	}
	keys(j.Duration(), edge())
	slices.SortStableFunc(out, func(x, y stroke) int { return cmp.Compare(x.at, y.at) })
	return out
}

// logJam starts a jam, tells its jammers and presses the rest.
func (b *bench) logJam(g *simulate.Game, j *simulate.Jam, period bool) {
	b.t.Helper()
	start := edge()
	if period {
		start.Act = NextPeriod
	}
	b.at(j.Start).do(start)
	b.number(j.Sides[0].Jammer).number(j.Sides[1].Jammer)
	for _, s := range strokes(g, j) {
		b.at(s.at)
		s.do(b)
	}
}

// like compares what the keys made of a jam with the truth.
func like(t tester, b timeline.Bout, i int, g *simulate.Game, j *simulate.Jam) {
	t.Helper()
	got := b.Jams[i]
	if got.Period != j.Period || got.Number != j.Number || got.Overtime != j.Overtime || got.Duration != j.Duration() {
		t.Errorf("jam %d-%d of %v (overtime %v) was logged as %s of %v (overtime %v)", j.Period, j.Number, j.Duration(), j.Overtime, got.Name(), got.Duration, got.Overtime)
	}
	var want []timeline.JamRow
	for _, r := range g.Rows() {
		if r.Period == j.Period && r.Jam == j.Number {
			want = append(want, r)
		}
	}
	rows := append(slices.Clone(got.Sides[0].Rows), got.Sides[1].Rows...)
	if len(rows) != len(want) {
		t.Fatalf("jam %s has %d rows, played %d", got.Name(), len(rows), len(want))
	}
	for n, s := range got.Sides {
		if s.Points != timeline.Exactly(j.Sides[n].Points) {
			t.Errorf("jam %s %s: %v points, played %d", got.Name(), timeline.Sides[n], s.Points, j.Sides[n].Points)
		}
	}
	for i, w := range want {
		r := rows[i]
		if w.Spacer {
			continue
		}
		cell(t, r, "jammer", r.Jammer, w.Jammer, true)
		cell(t, r, "lead", r.Lead, w.Lead, true)
		cell(t, r, "call", r.Call, w.Call, true)
		cell(t, r, "lost", r.Lost, w.Lost, false)
		cell(t, r, "injury", r.Inj, w.Inj, false)
		cell(t, r, "no initial", r.NI, w.NI, false)
		cell(t, r, "jam total", r.JamTotal, w.JamTotal, true)
		if len(r.Trips) != len(w.Trips) {
			t.Errorf("jam %s %s: %d trips, played %d", got.Name(), r.Side, len(r.Trips), len(w.Trips))
			continue
		}
		for k := range w.Trips {
			cell(t, r, "trip", r.Trips[k], w.Trips[k], w.Trips[k].State == timeline.CellKnown)
		}
	}
}

// cell compares one cell; one that need not be known may be open.
func cell[T comparable](t tester, r timeline.JamRow, what string, got, want timeline.Cell[T], known bool) {
	t.Helper()
	if got.State == timeline.CellKnown && got.Value != want.Value || known && got.State != timeline.CellKnown {
		t.Errorf("jam %d-%d %s (star pass %v) %s: logged %+v, played %+v", r.Period, r.Jam, r.Side, r.StarPass, what, got, want)
	}
}

// TestReplay: whatever is played, a person who presses the keys at the film times
// of what happened gets the simulator's own count of the jam, row by row.
func TestReplay(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seed := rapid.Uint64Range(1, 1<<40).Draw(rt, "seed")
		g := simulate.Play(seed, simulate.Options{Jams: 1, Periods: 1, Rates: simulate.Rates{
			StarPasses: rapid.Float64Range(0.5, 8).Draw(rt, "star passes"),
			Penalties:  rapid.Float64Range(0.5, 3).Draw(rt, "penalties"),
			Injuries:   rapid.Float64Range(0.5, 10).Draw(rt, "injuries"),
		}})
		j := g.Truth.Jams[0]
		b := newBench(rt, g.Options.Rules, g.Teams)
		b.logJam(g, j, false)
		like(rt, b.bout, 0, g, j)
	})
}

// TestReplayGame logs games of several jams and periods, one jam after the other
// into one bout.
func TestReplayGame(t *testing.T) {
	seeds, jams := uint64(3), 3
	if os.Getenv("WHISTLECUT_SOAK") == "1" {
		seeds, jams = 30, 12
	}
	for seed := uint64(1); seed <= seeds; seed++ {
		g := simulate.Play(seed, simulate.Options{Jams: jams})
		b := newBench(t, g.Options.Rules, g.Teams)
		for i, j := range g.Truth.Jams {
			period := i > 0 && (j.Period != g.Truth.Jams[i-1].Period || j.Overtime && !g.Truth.Jams[i-1].Overtime)
			b.logJam(g, j, period)
		}
		for i, j := range g.Truth.Jams {
			like(t, b.bout, i, g, j)
		}
		for n := range timeline.Sides {
			if b.bout.Score[n] != timeline.Exactly(g.Truth.Score[n]) {
				t.Errorf("seed %d: score %v, played %v", seed, b.bout.Score, g.Truth.Score)
			}
		}
	}
}
