package align_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"sync"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/align"
	"whistlecut/timeline/simulate"
	"whistlecut/timeline/whistle"
)

// hearing says how badly the series of a simulated game are heard.
type hearing struct {
	miss   float64 // share of series not heard
	missSt float64 // share of jam starts not heard
	false_ float64 // sounds a minute that are no whistle
	mixed  float64 // how blurred the kinds are, 0..1
}

var sound = map[simulate.WhistleKind]whistle.Kind{
	simulate.WhistleJamStart: whistle.Short, simulate.WhistleLead: whistle.Pair, simulate.WhistleJamEnd: whistle.Four,
	simulate.WhistlePenalty: whistle.Long, simulate.WhistleTimeout: whistle.Four, simulate.WhistleTimeoutEnd: whistle.Rolling, simulate.WhistlePeriodEnd: whistle.Rolling,
}

func blur(r *rand.Rand, k whistle.Kind, mixed float64) (whistle.Kind, map[whistle.Kind]float64) {
	all := []whistle.Kind{whistle.Short, whistle.Pair, whistle.Four, whistle.Long, whistle.Rolling, whistle.Unclear}
	heard := k
	if r.Float64() < mixed/2 {
		heard = all[r.IntN(len(all))]
	}
	likely := map[whistle.Kind]float64{}
	for _, x := range all {
		likely[x] = mixed / 6
	}
	likely[heard] += 1 - mixed
	return heard, likely
}

// listen turns a stretch of a game into heard series.
func listen(g *simulate.Game, h hearing, seed uint64, from, to time.Duration) align.Film {
	r := rand.New(rand.NewPCG(seed, 1))
	f := align.Film{Footage: timeline.ID(fmt.Sprintf("f%d", from/time.Second)), Length: to - from}
	add := func(k whistle.Kind, at, end time.Duration, conf float64) {
		heard, likely := blur(r, k, h.mixed)
		f.Series = append(f.Series, whistle.Series{Kind: heard, Start: at - from, End: end - from, Confidence: conf * likely[heard], Likely: likely})
	}
	for _, w := range g.Whistles() {
		if w.At() < from || w.End() > to {
			continue
		}
		miss := h.miss
		if w.Kind == simulate.WhistleJamStart {
			miss = max(miss, h.missSt)
		}
		if r.Float64() < miss {
			continue
		}
		add(sound[w.Kind], w.At(), w.End(), 0.55+0.44*r.Float64())
	}
	for t := from; t < to; t += time.Second {
		if r.Float64() < h.false_/60 {
			kinds := []whistle.Kind{whistle.Short, whistle.Short, whistle.Pair, whistle.Long, whistle.Rolling}
			add(kinds[r.IntN(len(kinds))], t, t+400*time.Millisecond, 0.15+0.6*r.Float64())
		}
	}
	return f
}

func known(g *simulate.Game, durations bool) []align.Known {
	var out []align.Known
	for _, j := range g.Truth.Jams {
		k := align.Known{ID: j.ID, Period: j.Period, Number: j.Number, Overtime: j.Overtime, Ended: j.Ended, Lead: align.No}
		for _, s := range j.Sides {
			if s.Lead {
				k.Lead = align.Yes
			}
		}
		for _, p := range g.Truth.Penalties {
			if p.Jam == j.ID {
				k.Penalties++
			}
		}
		for _, s := range g.Truth.Stoppages {
			if s.AfterJam == j.ID {
				k.Timeouts++
			}
		}
		if durations {
			k.Duration = j.Duration().Round(time.Second)
		}
		out = append(out, k)
	}
	return out
}

// game returns a simulated bout, played once.
func game(seed uint64) *simulate.Game {
	games.Lock()
	defer games.Unlock()
	if games.of == nil {
		games.of = map[uint64]*simulate.Game{}
	}
	if games.of[seed] == nil {
		games.of[seed] = simulate.Play(seed, simulate.Options{})
	}
	return games.of[seed]
}

var games struct {
	sync.Mutex
	of map[uint64]*simulate.Game
}

// cut is a film that shows a game from one time to another, as one file.
type cut struct{ from, to time.Duration }

// tally counts what was placed, by jam on film.
type tally struct {
	on, quarter, second  int // jams on film; placed within 0.25 s, within 1 s
	placed, wrong        int // jams placed; off by more than a second or not on the film at all
	sureWrong, offOnFilm int // wrong with confidence 0.9 or more; claimed though no film shows them
	brier                float64
	sure, sureRight      int
}

func (t tally) String() string {
	return fmt.Sprintf("%d on film: %d within 0.25 s, %d within 1 s, %d wrong, %d of these sure, Brier %.3f, sure %d right %d",
		t.on, t.quarter, t.second, t.wrong, t.sureWrong, t.brier/float64(max(t.placed, 1)), t.sure, t.sureRight)
}

// grade compares a placing with the game.
func grade(t *tally, g *simulate.Game, films []align.Film, cuts []cut, res align.Result) {
	at := map[timeline.ID]align.Placed{}
	for _, p := range res.Jams {
		at[p.Jam] = p
	}
	for _, j := range g.Truth.Jams {
		p, right, shown := at[j.ID], false, false
		for i, f := range films {
			if j.Start < cuts[i].from || j.Start >= cuts[i].to {
				continue
			}
			shown = true
			t.on++
			d := (p.Start - (j.Start - cuts[i].from)).Abs()
			if p.Footage != f.Footage || d > time.Second {
				continue
			}
			right = true
			t.second++
			if d <= 250*time.Millisecond {
				t.quarter++
			}
		}
		if p.Footage == "" {
			continue
		}
		t.placed++
		hit := 0.0
		if right {
			hit = 1
		} else {
			t.wrong++
			if !shown {
				t.offOnFilm++
			}
		}
		if p.Confidence >= 0.9 {
			t.sure++
			t.sureRight += int(hit)
			t.sureWrong += int(1 - hit)
		}
		t.brier += (p.Confidence - hit) * (p.Confidence - hit)
	}
}

func place(t testing.TB, in align.Input) align.Result {
	t.Helper()
	res, err := align.Place(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

func films(g *simulate.Game, h hearing, seed uint64, cuts ...cut) []align.Film {
	var out []align.Film
	for i, c := range cuts {
		out = append(out, listen(g, h, seed*31+uint64(i), c.from, min(c.to, g.Duration())))
	}
	return out
}

func TestPlace(t *testing.T) {
	whole := []cut{{0, 3 * time.Hour}}
	for _, c := range []struct {
		name      string
		h         hearing
		durations bool
		cuts      []cut
		want      float64 // least share of jams within a second
	}{
		{"everything heard", hearing{}, true, whole, 1},
		{"a bare sheet", hearing{}, false, whole, 1},
		{"a few missed, some false", hearing{0.08, 0.08, 1, 0.2}, true, whole, 0.97},
		{"hard hall", hearing{0.2, 0.3, 4, 0.4}, true, whole, 0.85},
		{"hard hall, bare sheet", hearing{0.2, 0.3, 4, 0.4}, false, whole, 0.6},
		{"bare sheet, film starts late", hearing{0.05, 0.05, 1, 0.2}, false, []cut{{12 * time.Minute, 3 * time.Hour}}, 0.9},
		{"starts late, ends early", hearing{0.05, 0.05, 1, 0.2}, true, []cut{{700 * time.Second, 50 * time.Minute}}, 0.97},
		{"three files with holes", hearing{0.05, 0.05, 1, 0.2}, true, []cut{{0, 1000 * time.Second}, {1045 * time.Second, 2400 * time.Second}, {2800 * time.Second, 3 * time.Hour}}, 0.95},
		{"two files, half an hour lost, bare", hearing{0.05, 0.05, 1, 0.2}, false, []cut{{0, 1200 * time.Second}, {3000 * time.Second, 3 * time.Hour}}, 0.9},
	} {
		t.Run(c.name, func(t *testing.T) {
			var sum tally
			for seed := uint64(1); seed <= seeds(); seed++ {
				g := game(seed)
				list := films(g, c.h, seed, c.cuts...)
				grade(&sum, g, list, c.cuts, place(t, align.Input{Films: list, Jams: known(g, c.durations)}))
			}
			t.Log(sum)
			if share := float64(sum.second) / float64(sum.on); share < c.want {
				t.Errorf("%.1f %% of %d jams placed within a second, want %.0f %%", 100*share, sum.on, 100*c.want)
			}
			if sum.sureWrong > 0 {
				t.Errorf("%d jams placed with confidence over 0.9 and wrong", sum.sureWrong)
			}
		})
	}
}

// seeds is how many bouts each row plays.
func seeds() uint64 {
	if os.Getenv("WHISTLECUT_SOAK") != "" {
		return 40
	}
	return 2
}
