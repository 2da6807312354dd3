package numbers

import (
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// games plays bouts for the tests that hold these numbers against the simulator's
// own book, tagged by trips or by every pass.
func games(t *testing.T, check func(t *testing.T, g *simulate.Game, src Source, events bool)) {
	seeds := uint64(3)
	opt := simulate.Options{PeriodLength: 8 * time.Minute, Rates: simulate.Rates{Penalties: 5, StarPasses: 2}}
	if testing.Short() {
		seeds = 1
	}
	if os.Getenv("WHISTLECUT_SOAK") == "1" {
		seeds, opt = 30, simulate.Options{Rates: simulate.Rates{Penalties: 1.5}}
	}
	for seed := uint64(1); seed <= seeds; seed++ {
		for _, events := range []bool{false, true} {
			t.Run(fmt.Sprintf("seed %d, events %v", seed, events), func(t *testing.T) {
				opt := opt
				opt.PassEvents = events
				p := play(seed, opt)
				check(t, p.game, p.src, events)
			})
		}
	}
}

type playedGame struct {
	game *simulate.Game
	src  Source
}

var played = map[string]playedGame{}

// play keeps games for the next test, but for the many of a soak.
func play(seed uint64, opt simulate.Options) playedGame {
	key := fmt.Sprint(seed, opt.PassEvents)
	if p, ok := played[key]; ok {
		return p
	}
	g := simulate.Play(seed, opt)
	p := playedGame{g, SourceOf(g.Facts())}
	if os.Getenv("WHISTLECUT_SOAK") != "1" {
		played[key] = p
	}
	return p
}

// book is what the simulator's truth says of one skater. It works on the game's
// own clock, not in jam time.
type book struct {
	jams, jammer, pivot, blocker, starPass int
	points, against                        int // of her jams
	leads, trips, scored                   int // as jammer
	penalties                              map[string]int
	box                                    time.Duration
	conceded                               int
	trackFor, trackAgainst                 int // points while she was not away for a penalty
}

// absences are when a skater sat in the box, and when she could not play for a
// penalty, on the game's clock.
func absences(g *simulate.Game, who timeline.SkaterRef) (sat, away []timeline.TimeRange) {
	served := map[int]bool{}
	calledAt := func(p simulate.Penalty) (at, end time.Duration) {
		for _, j := range g.Truth.Jams {
			if j.ID == p.Jam {
				return j.Start + p.Call, j.End
			}
		}
		return 0, 0
	}
	for i, v := range g.Truth.Visits {
		if v.SkaterRef != who {
			continue
		}
		r := timeline.TimeRange{Start: v.SatAt, End: g.Duration() + time.Hour}
		for _, j := range g.Truth.Jams {
			if j.ID == v.OutJam {
				r.End = j.Start + v.Out
			}
		}
		if v.Substituted { // the seat was taken over by the visit that serves the rest
			for _, o := range g.Truth.Visits[i+1:] {
				if slices.Equal(o.Penalties, v.Penalties) {
					r.End = o.SatAt
					break
				}
			}
		}
		sat = append(sat, r)
		for _, p := range v.Penalties {
			if x := g.Truth.Penalties[p]; x.SkaterRef == who {
				served[p] = true
				at, _ := calledAt(x)
				away = append(away, timeline.TimeRange{Start: at, End: r.End})
			}
		}
		away = append(away, r)
	}
	for i, p := range g.Truth.Penalties {
		if p.SkaterRef == who && !served[i] { // the game ended first
			at, end := calledAt(p)
			away = append(away, timeline.TimeRange{Start: at, End: min(end+time.Millisecond, at+g.Options.Rules.PenaltyTime)})
		}
	}
	return sat, away
}

func truthOf(g *simulate.Game, who timeline.SkaterRef, events bool) book {
	b := book{penalties: map[string]int{}}
	n := who.Side.Index()
	sat, away := absences(g, who)
	for _, r := range sat {
		for _, j := range g.Truth.Jams {
			b.box += max(min(r.End, j.End)-max(r.Start, j.Start), 0)
		}
	}
	seated := func(at time.Duration) bool {
		return slices.ContainsFunc(sat, func(r timeline.TimeRange) bool { return r.Contains(at) })
	}
	for _, j := range g.Truth.Jams {
		s, o := &j.Sides[n], &j.Sides[1-n]
		first, second := s.Jammer == who.Number, s.NewJammer == who.Number
		in := true
		switch {
		case first:
			b.jammer++
		case s.Pivot == who.Number:
			b.pivot++
		case slices.Contains(s.Blockers, who.Number):
			b.blocker++
		default:
			in = false
		}
		if second {
			b.starPass++
		}
		if in {
			b.jams++
			b.points += s.Points
			b.against += o.Points
		}
		for i, x := range []*simulate.JamSide{s, o} {
			for _, t := range x.Trips {
				for _, p := range t.Points {
					at := t.End
					if events {
						at = p.At
					}
					at += j.Start
					if !in || slices.ContainsFunc(away, func(r timeline.TimeRange) bool { return r.Contains(at) }) {
						continue
					}
					if i == 0 {
						b.trackFor++
					} else {
						b.trackAgainst++
					}
				}
			}
		}
		if first && s.Lead {
			b.leads++
		}
		for _, t := range s.Trips {
			if t.Jammer == who.Number && (t.Number > 1 || j.Overtime) {
				b.trips++
				b.scored += len(t.Points)
			}
		}
		for _, t := range o.Trips {
			for _, p := range t.Points {
				at := t.End
				if events {
					at = p.At
				}
				if seated(j.Start + at) {
					b.conceded++
				}
			}
		}
	}
	for _, p := range g.Truth.Penalties {
		if p.SkaterRef == who {
			b.penalties[p.Code]++
		}
	}
	return b
}

// Every skater's page says what the simulator's book says.
func TestPagesAgreeWithTheGame(t *testing.T) {
	sat, conceded, subs := 0, 0, 0
	games(t, func(t *testing.T, g *simulate.Game, src Source, events bool) {
		for _, v := range g.Truth.Visits {
			if v.Substituted {
				subs++
			}
		}
		for _, side := range timeline.Sides {
			for _, k := range g.Teams[side.Index()].Roster {
				who := timeline.SkaterRef{Side: side, Number: k.Number}
				want := truthOf(g, who, events)
				p, err := PageOf([]Source{src}, Name{Team: g.Teams[side.Index()].Name, Number: k.Number})
				if err != nil {
					t.Fatal(err)
				}
				r := p.Record
				agree := func(what string, got, want int) {
					if got != want {
						t.Errorf("%s, %s: %d, the game has %d", who, what, got, want)
					}
				}
				agree("jams", r.All.Jams, want.jams)
				agree("as jammer", r.Jammer.Jams, want.jammer)
				agree("as pivot", r.Pivot.Jams, want.pivot)
				agree("as blocker", r.Blocker.Jams, want.blocker)
				agree("after a star pass", r.StarPass.Jams, want.starPass)
				agree("points for, low", r.All.For.Low, want.points)
				agree("points for, high", r.All.For.High, want.points)
				agree("points against", r.All.Against.Low, want.against)
				agree("leads", r.Jamming.Lead.Low, want.leads)
				agree("jams that lead could be gained in", r.Jamming.Lead.Of, want.jammer-overtimes(g, who))
				agree("scoring trips", r.Jamming.Trips, want.trips)
				agree("points as jammer", r.Jamming.Points.Low, want.scored)
				agree("conceded while sitting, low", r.Conceded.Low, want.conceded)
				agree("conceded while sitting, high", r.Conceded.High, want.conceded)
				agree("points for while on the track", r.OnTrackFor.Low, want.trackFor)
				agree("points against while on the track", r.OnTrackAgainst.Low, want.trackAgainst)
				n := 0
				for code, c := range want.penalties {
					n += c
					got := 0
					for _, x := range p.Codes {
						if x.Code == code {
							got = x.N
						}
					}
					agree("penalties "+code, got, c)
				}
				agree("penalties", r.Penalties, n)
				if r.BoxUnknown > 0 || (r.BoxTime-want.box).Abs() > time.Millisecond {
					t.Errorf("%s: %v in the box (%d stays not known), the game has %v", who, r.BoxTime, r.BoxUnknown, want.box)
				}
				if r.Conceded.Basis == NotKnown || events && r.Conceded.Basis == ByTrips {
					t.Errorf("%s: conceded by %s", who, r.Conceded.Basis)
				}
				conceded += want.conceded
				sat += len(p.Sittings)
			}
		}
	})
	if !testing.Short() && (sat < 20 || conceded < 20) {
		t.Errorf("only %d stays and %d points conceded: the games show too little", sat, conceded)
	}
	t.Logf("%d stays (%d taken over by a substitute), %d points conceded in them", sat, subs, conceded)
}

func overtimes(g *simulate.Game, who timeline.SkaterRef) int {
	n := 0
	for _, j := range g.Truth.Jams {
		if j.Overtime && j.Sides[who.Side.Index()].Jammer == who.Number {
			n++
		}
	}
	return n
}

// A team's numbers add up to what the game's book says, and to those of its skaters.
func TestReportAgreesWithTheGame(t *testing.T) {
	power := 0
	games(t, func(t *testing.T, g *simulate.Game, src Source, events bool) {
		r := ReportOf(src)
		for _, side := range timeline.Sides {
			n := side.Index()
			team := r.Sides[n]
			if r.Score[n] != exactly(g.Truth.Score[n]) {
				t.Errorf("%s scored %v, the game has %d", side, r.Score[n], g.Truth.Score[n])
			}
			pens, codes := 0, map[string][2]int{}
			for _, p := range g.Truth.Penalties {
				if p.Side != side {
					continue
				}
				pens++
				c := codes[p.Code]
				for _, j := range g.Truth.Jams {
					if j.ID == p.Jam {
						c[j.Period-1]++
					}
				}
				codes[p.Code] = c
			}
			if team.Penalties.Total != pens {
				t.Errorf("%s: %d penalties, the game has %d", side, team.Penalties.Total, pens)
			}
			for _, l := range team.Penalties.ByCode {
				if want := codes[l.Code]; !slices.Equal(l.ByPeriod, want[:len(l.ByPeriod)]) {
					t.Errorf("%s, %s: %v, the game has %v", side, l.Code, l.ByPeriod, want)
				}
			}
			stars, groupJams := 0, 0
			for _, j := range g.Truth.Jams {
				if j.Sides[n].NewJammer != "" {
					stars++
				}
			}
			if team.StarPass.Completed != stars {
				t.Errorf("%s: %d star passes, the game has %d", side, team.StarPass.Completed, stars)
			}
			for _, gr := range team.Groups {
				groupJams += gr.Stint.Jams
			}
			if groupJams+team.GroupsUnknown != len(g.Truth.Jams) {
				t.Errorf("%s: %d jams in line-ups of four and %d others, the game has %d", side, groupJams, team.GroupsUnknown, len(g.Truth.Jams))
			}
			points, trips := timeline.Range{}, 0
			for _, l := range team.Jammers {
				points, trips = points.Add(l.Jamming.Points), trips+l.Jamming.Trips
			}
			if points != r.Score[n] || trips != team.Jamming.Trips || team.Jamming.Points != r.Score[n] {
				t.Errorf("%s: jammers scored %v on %d trips, the team %v on %d", side, points, trips, r.Score[n], team.Jamming.Trips)
			}
			var box time.Duration
			for _, k := range team.Skaters {
				box += k.Record.BoxTime
			}
			if box != team.BoxTime {
				t.Errorf("%s: skaters sat %v, the team %v", side, box, team.BoxTime)
			}
			if pj := team.PowerJams; pj.Scored.High > r.Score[n].High || pj.Scored.Basis == NotKnown {
				t.Errorf("%s: %v points in power jams", side, pj.Scored)
			} else {
				power += pj.N
			}
		}
		last := r.Steps[len(r.Steps)-1]
		if last.Score != r.Score || !last.Known {
			t.Errorf("the last step is %v, the score %v", last.Score, r.Score)
		}
		for i, s := range r.Steps[1:] {
			if s.Score[0].Low < r.Steps[i].Score[0].Low || s.Score[1].Low < r.Steps[i].Score[1].Low {
				t.Errorf("step %d takes points back: %v after %v", i+1, s.Score, r.Steps[i].Score)
			}
		}
		inRuns := timeline.Range{}
		for _, x := range r.Runs {
			inRuns = inRuns.Add(x.Points)
		}
		if all := r.Score[0].Add(r.Score[1]); inRuns.High > all.High {
			t.Errorf("runs hold %v points, the bout %v", inRuns, all)
		}
	})
	if !testing.Short() && power < 5 {
		t.Errorf("only %d power jams in the games", power)
	}
}

// powerPoints counts a side's points at moments when its jammer could score and the
// other side's could not, from the game's book.
func powerPoints(g *simulate.Game, side timeline.Side, events bool) int {
	away := map[timeline.SkaterRef][]timeline.TimeRange{}
	off := func(who timeline.SkaterRef, at time.Duration) bool {
		if _, ok := away[who]; !ok {
			_, away[who] = absences(g, who)
		}
		return slices.ContainsFunc(away[who], func(r timeline.TimeRange) bool { return r.Contains(at) })
	}
	n := 0
	for _, j := range g.Truth.Jams {
		jammer := func(s timeline.Side, at time.Duration) timeline.SkaterRef {
			x := &j.Sides[s.Index()]
			for _, p := range x.StarPasses {
				if p.Complete && at >= p.At {
					return timeline.SkaterRef{Side: s, Number: x.NewJammer}
				}
			}
			return timeline.SkaterRef{Side: s, Number: x.Jammer}
		}
		for _, t := range j.Sides[side.Index()].Trips {
			for _, p := range t.Points {
				at := t.End
				if events {
					at = p.At
				}
				if off(jammer(side.Other(), at), j.Start+at) && !off(jammer(side, at), j.Start+at) {
					n++
				}
			}
		}
	}
	return n
}

// Points in power jams are those of the moments, not of whole jams.
func TestPowerJamsAgreeWithTheGame(t *testing.T) {
	points := 0
	games(t, func(t *testing.T, g *simulate.Game, src Source, events bool) {
		r := ReportOf(src)
		for _, side := range timeline.Sides {
			want := powerPoints(g, side, events)
			points += want
			if got := r.Sides[side.Index()].PowerJams.Scored; got.Range != exactly(want) {
				t.Errorf("%s scored %v in power jams (by %s), the game has %d", side, got.Range, got.Basis, want)
			}
		}
	})
	if !testing.Short() && points < 20 {
		t.Errorf("only %d points in power jams", points)
	}
	t.Logf("%d points in power jams", points)
}
