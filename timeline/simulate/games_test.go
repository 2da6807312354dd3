package simulate

import (
	"math"
	"os"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
)

// seeds are how many games the property tests play: 50 short ones, or with
// WHISTLECUT_SOAK=1 500 full
// bouts.
func seeds() (n uint64, opt Options) {
	if os.Getenv("WHISTLECUT_SOAK") == "1" {
		return 500, Options{}
	}
	return 50, Options{Jams: 7}
}

// options vary what the games are like: as usual, rough, and so short that ties
// send them into overtime.
func options(seed uint64, opt Options) Options {
	switch seed % 5 {
	case 3:
		opt.Rates = Rates{Penalties: 5, StarPasses: 3, Splits: 3, Falls: 2}
	case 4:
		if opt.Jams > 0 {
			opt.Jams, opt.Periods = 1, 1
		}
	}
	return opt
}

// Games by the numbers of every published edition keep their rules, too.
func TestEditions(t *testing.T) {
	for i, rules := range timeline.Editions() {
		t.Run(rules.Edition, func(t *testing.T) {
			g := Play(uint64(100+i), Options{Rules: rules, Jams: 6})
			for _, check := range []func(*testing.T, *Game){checkJams, checkClock, checkLineups, checkBox, checkRecount, checkDerived, checkRows} {
				check(t, g)
			}
		})
	}
}

// A team of five has nobody to change, and still there is a game.
func TestSmallTeams(t *testing.T) {
	for seed := uint64(1); seed <= 4; seed++ {
		opt := Options{Jams: 6, Rates: Rates{Penalties: 4, Injuries: 20}}
		opt.Teams = Play(seed, Options{Jams: 1, Periods: 1}).Teams
		opt.Teams[0].Roster = opt.Teams[0].Roster[:5]
		opt.Teams[1].Roster = opt.Teams[1].Roster[:8]
		g := Play(seed, opt)
		for _, check := range []func(*testing.T, *Game){checkJams, checkClock, checkLineups, checkBox, checkRecount, checkDerived, checkRows} {
			check(t, g)
		}
	}
}

// TestGames plays every game once and holds it against everything below.
func TestGames(t *testing.T) {
	checks := []struct {
		name  string
		check func(t *testing.T, g *Game)
	}{
		{"jams", checkJams},
		{"clock", checkClock},
		{"line-ups", checkLineups},
		{"box", checkBox},
		{"whistles", checkWhistles},
		{"recount equals own book", checkRecount},
		{"derived bout equals truth", checkDerived},
		{"rows equal recount", checkRows},
	}
	n, opt := seeds()
	points := 0
	seen := map[string]int{}
	for seed := uint64(1); seed <= n; seed++ {
		g := Play(seed, options(seed, opt))
		points += g.Truth.Score[0] + g.Truth.Score[1]
		look(g, seen)
		for _, c := range checks {
			if c.check(t, g); t.Failed() {
				t.Fatalf("%s, seed %d", c.name, seed)
			}
		}
	}
	if points == 0 {
		t.Error("nobody scored in any game")
	}
	for _, what := range []string{
		"called", "two minutes", "injury", "overtime", "star pass", "failed star pass", "lead lost", "no lead",
		"jammers swapped", "queued", "fouled out", "substitute", "line-up penalty", "double penalty", "no pack",
		"knocked out", "fall", "timeout", "official timeout", "review", "review retained", "serving at the whistle",
	} {
		if seen[what] == 0 {
			t.Errorf("in %d games there was no %s", n, what)
		}
	}
	t.Logf("seen: %v", seen)
}

// look counts what happened in a game, so that the checks are known to have met it.
func look(g *Game, seen map[string]int) {
	count := func(what string, is bool) {
		if is {
			seen[what]++
		}
	}
	for _, j := range g.Truth.Jams {
		count("called", j.Ended == timeline.EndCalled)
		count("two minutes", j.Ended == timeline.EndTime)
		count("injury", j.Ended == timeline.EndInjury)
		count("overtime", j.Overtime)
		count("no lead", !j.Sides[0].Lead && !j.Sides[1].Lead)
		for _, s := range j.Sides {
			count("lead lost", s.Lead && s.Lost)
			for _, p := range s.StarPasses {
				count("star pass", p.Complete)
				count("failed star pass", !p.Complete)
			}
		}
		for _, f := range j.Field.Skaters {
			count("serving at the whistle", f.InBox && f.Served > 0)
		}
		for _, e := range j.Events {
			count("no pack", e.What == timeline.EvNoPack)
			count("knocked out", e.What == timeline.EvOut && e.By == timeline.ByOpponent)
			count("fall", e.What == timeline.EvDown)
		}
	}
	for _, p := range g.Truth.Penalties {
		count("line-up penalty", p.Lineup)
		count("fouled out", p.FoulOut)
	}
	for _, v := range g.Truth.Visits {
		count("jammers swapped", v.Swapped)
		count("substitute", v.Substituted)
		count("queued", v.Queued)
		count("double penalty", len(v.Penalties) > 1)
	}
	for _, s := range g.Truth.Stoppages {
		count("timeout", s.Kind == timeline.KindTimeout && s.Side != timeline.NoSide)
		count("official timeout", s.Kind == timeline.KindTimeout && s.Side == timeline.NoSide)
		count("review", s.Kind == timeline.KindReview)
		count("review retained", s.Retained)
	}
}

// A bout has the size of a real one: these are wide limits round usual figures
// (common practice, no source).
func TestUsualFigures(t *testing.T) {
	const n = 6
	var jams, points, penalties, stars, leads int
	var length time.Duration
	for seed := uint64(1); seed <= n; seed++ {
		g := Play(seed, Options{})
		jams += len(g.Truth.Jams)
		points += g.Truth.Score[0] + g.Truth.Score[1]
		penalties += len(g.Truth.Penalties)
		for _, j := range g.Truth.Jams {
			length += j.Duration()
			for _, s := range j.Sides {
				if s.NewJammer != "" {
					stars++
				}
				if s.Lead {
					leads++
				}
			}
		}
	}
	for _, c := range []struct {
		what          string
		got, low, top float64
	}{
		{"jams a period", float64(jams) / (2 * n), 18, 27},
		{"seconds a jam", length.Seconds() / float64(jams), 40, 70},
		{"points a team", float64(points) / (2 * n), 90, 280},
		{"penalties a team", float64(penalties) / (2 * n), 18, 42},
		{"star passes a game", float64(stars) / n, 2, 20},
		{"jams with lead", float64(leads) / float64(jams), 0.7, 0.98},
	} {
		if c.got < c.low || c.got > c.top {
			t.Errorf("%s: %.1f, usual are %g to %g", c.what, c.got, c.low, c.top)
		}
	}
}

func TestEqualSeedsPlayEqualGames(t *testing.T) {
	a, b := Play(7, Options{Jams: 5}), Play(7, Options{Jams: 5})
	if diff := cmp.Diff(a.Truth, b.Truth); diff != "" {
		t.Errorf("truth differs:\n%s", diff)
	}
	if diff := cmp.Diff(a.Whistles(), b.Whistles()); diff != "" {
		t.Errorf("whistles differ:\n%s", diff)
	}
	if diff := cmp.Diff(a.Facts(), b.Facts()); diff != "" {
		t.Errorf("facts differ:\n%s", diff)
	}
	for at := time.Duration(0); at < a.Duration(); at += 7 * time.Second {
		if diff := cmp.Diff(a.Scene(at), b.Scene(at)); diff != "" {
			t.Fatalf("scene at %v differs:\n%s", at, diff)
		}
	}
	if c := Play(8, Options{Jams: 5}); cmp.Equal(a.Truth, c.Truth) {
		t.Error("seed 8 plays the game of seed 7")
	}
}

// Rules 2.2.2, 3.1, 3.2, 1.5.1: at most one lead in a jam, none in overtime; a
// call needs lead not lost; a trip gives no more than the edition's points, the
// initial trip none except in overtime.
func checkJams(t *testing.T, g *Game) {
	score := [2]int{}
	for _, j := range g.Truth.Jams {
		leads := 0
		for side := range j.Sides {
			s := &j.Sides[side]
			if s.Lead {
				leads++
			}
			if s.Lead && j.Overtime {
				t.Errorf("%s: lead in overtime", j.ID)
			}
			if s.Called && (!s.Lead || s.Lost && s.LostAt <= s.CalledAt) {
				t.Errorf("%s: called without lead", j.ID)
			}
			if s.Before != score[side] {
				t.Errorf("%s: starts with %d, sum so far %d", j.ID, s.Before, score[side])
			}
			sum := 0
			for i, trip := range s.Trips {
				n := len(trip.Points)
				sum += n
				if trip.Number != i+1 || n > g.Options.Rules.PointsPerTrip || i == 0 && n > 0 && !j.Overtime {
					t.Errorf("%s: trip %d is number %d with %d points", j.ID, i+1, trip.Number, n)
				}
				if open := i == len(s.Trips)-1; trip.Open != open || trip.End < trip.Start {
					t.Errorf("%s: trip %d open %v from %v to %v", j.ID, i+1, trip.Open, trip.Start, trip.End)
				}
				if i > 0 && trip.Start != s.Trips[i-1].End {
					t.Errorf("%s: trip %d does not start where trip %d ended", j.ID, i+1, i)
				}
			}
			if sum != s.Points {
				t.Errorf("%s: %d points, trips give %d", j.ID, s.Points, sum)
			}
			score[side] += s.Points
		}
		if leads > 1 {
			t.Errorf("%s: two lead jammers", j.ID)
		}
	}
	if g.Truth.Score != score {
		t.Errorf("score %v, jams give %v", g.Truth.Score, score)
	}
	if score[0] == score[1] {
		t.Errorf("the game ended in a tie of %d (Rules 1.5.1)", score[0])
	}
}

// Rules 1.1, 1.3: 30 s between jams unless there was a stoppage, jams up to two
// minutes (and the last blasts), the period over when the clock is out.
func checkClock(t *testing.T, g *Game) {
	stopped := map[timeline.ID]time.Duration{}
	for _, s := range g.Truth.Stoppages {
		stopped[s.AfterJam] = s.End
		if s.End <= s.Start {
			t.Errorf("stoppage after %s ends before it starts", s.AfterJam)
		}
	}
	for i, j := range g.Truth.Jams {
		if d := j.Duration(); d < 3*time.Second || d > g.Options.Rules.JamLength+2*time.Second {
			t.Errorf("%s lasts %v, ended by %q", j.ID, d, j.Ended)
		}
		if i == 0 || j.Overtime {
			continue
		}
		last := g.Truth.Jams[i-1]
		if last.Period != j.Period {
			if last.ClockAtEnd > 0 && g.Options.Jams == 0 && last.ClockAtEnd > g.Options.Rules.LineupTime {
				t.Errorf("period %d ends with %v on the clock", last.Period, last.ClockAtEnd)
			}
			continue
		}
		pause := j.Start - last.End
		end, was := stopped[last.ID]
		switch {
		case !was && (pause < 30*time.Second || pause > 30*time.Second+2*tick):
			t.Errorf("%s starts %v after the jam before", j.ID, pause)
		case was && (j.Start-end > 30*time.Second || j.Start < end):
			t.Errorf("%s starts %v after the timeout", j.ID, j.Start-end)
		}
		if !was && j.ClockAtStart != max(0, last.ClockAtEnd-pause) {
			t.Errorf("%s: clock %v at its start, %v at the end before, %v between", j.ID, j.ClockAtStart, last.ClockAtEnd, pause)
		}
		if j.ClockAtStart <= 0 {
			t.Errorf("%s starts with the clock out", j.ID)
		}
	}
}

// Rules 2.2, 4.4.3, 4.5, 1.2: five skaters a side from the roster in the roles of
// the line-up, who serves keeps her role, nobody who fouled out or was hurt in
// the last three jams.
func checkLineups(t *testing.T, g *Game) {
	hurt := map[timeline.SkaterRef]int{}
	fouls := map[timeline.SkaterRef]int{}
	atEnd := map[timeline.SkaterRef]timeline.Role{}
	for i, j := range g.Truth.Jams {
		count := [2]map[timeline.Role]int{{}, {}}
		seen := map[timeline.SkaterRef]bool{}
		for _, f := range j.Field.Skaters {
			count[f.Side.Index()][f.Role]++
			if _, on := g.Teams[f.Side.Index()].Find(f.Number); !on || seen[f.SkaterRef] {
				t.Errorf("%s: %s is not on the roster or fielded twice", j.ID, f.SkaterRef)
			}
			seen[f.SkaterRef] = true
			if n, was := hurt[f.SkaterRef]; was && i-n <= 3 {
				t.Errorf("%s: %s was hurt %d jams before", j.ID, f.SkaterRef, i-n)
			}
			if fouls[f.SkaterRef] >= g.Options.Rules.FoulOut {
				t.Errorf("%s: %s had fouled out", j.ID, f.SkaterRef)
			}
			if role, was := atEnd[f.SkaterRef]; was && role != f.Role && sitsOn(g, i, f.SkaterRef) {
				t.Errorf("%s: %s served as %s, now as %s", j.ID, f.SkaterRef, role, f.Role)
			}
		}
		for side, c := range count {
			if c[timeline.Jammer] != 1 || c[timeline.Pivot] > 1 || c[timeline.Pivot]+c[timeline.Blocker] != 4-j.Field.NotFielded[side] {
				t.Errorf("%s: %s fielded %v", j.ID, timeline.Sides[side], c)
			}
		}
		for _, p := range g.Truth.Penalties {
			if p.Jam == j.ID {
				fouls[p.SkaterRef]++
			}
		}
		for _, x := range g.Truth.Injuries {
			if x.Jam == j.ID {
				hurt[x.SkaterRef] = i
			}
		}
		clear(atEnd)
		for _, f := range j.Field.Skaters {
			role := f.Role
			s := j.Sides[f.Side.Index()]
			switch {
			case s.NewJammer == f.Number:
				role = timeline.Jammer
			case s.NewJammer != "" && s.Jammer == f.Number:
				role = timeline.Blocker
			}
			atEnd[f.SkaterRef] = role
		}
	}
}

// sitsOn reports whether a skater sat in the box over the break before jam i.
func sitsOn(g *Game, i int, k timeline.SkaterRef) bool {
	for _, v := range g.Truth.Visits {
		out := g.jam(v.OutJam)
		if v.SkaterRef == k && v.SatAt < g.Truth.Jams[i-1].End && !v.Substituted &&
			(v.OutJam == "" || out.Start >= g.Truth.Jams[i].Start) {
			return true
		}
	}
	return false
}

// The film is smooth and people stay where they belong: nobody is faster than a
// sprinter, everybody is at her starting place at the whistle, no more than two
// blockers a side sit (Rules 4.4.1), and stars are worn by one skater a side.
func TestScenesAreSound(t *testing.T) {
	for seed := uint64(1); seed <= 6; seed++ {
		g := Play(seed, Options{Jams: 5})
		const frame = time.Second / 60
		last := g.Scene(0)
		for at := frame; at < g.Duration(); at += frame {
			sc := g.Scene(at)
			var sitting, stars [2]int
			for i, f := range sc.Skaters {
				p := last.Skaters[i].Pos
				if v := math.Hypot(f.Pos.X-p.X, f.Pos.Y-p.Y) / frame.Seconds(); v > 30 {
					t.Fatalf("seed %d: %s moves at %.0f ft/s at %v (%v)", seed, f.SkaterRef, v, at, f.Where)
				}
				if f.Stance == Sitting && f.Role != timeline.Jammer {
					sitting[f.Side.Index()]++
				}
				if f.Star {
					stars[f.Side.Index()]++
				}
			}
			if sitting[0] > 2 || sitting[1] > 2 || stars[0] > 1 || stars[1] > 1 {
				t.Fatalf("seed %d at %v: %v blockers sit, %v stars", seed, at, sitting, stars)
			}
			last = sc
		}
		for _, j := range g.Truth.Jams {
			sc := g.Scene(j.Start)
			on := 0
			for _, f := range sc.Skaters {
				if f.Role == timeline.NoRole || f.Where != OnTrack {
					continue
				}
				on++
				s := Wrap(f.Spot.S)
				behind := s > InsideLap/2
				if !f.Spot.InBounds() || behind != (f.Role == timeline.Jammer) || !behind && s > StartZone {
					t.Errorf("seed %d %s: %s %s starts at %.1f ft, lane %.1f", seed, j.ID, f.SkaterRef, f.Role, s, f.Spot.D)
				}
			}
			want := 0
			for _, f := range j.Field.Skaters {
				if !f.InBox {
					want++
				}
			}
			if on != want {
				t.Errorf("seed %d %s: %d on the track at the whistle, %d fielded and free", seed, j.ID, on, want)
			}
		}
	}
}
