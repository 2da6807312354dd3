package align_test

import (
	"context"
	"fmt"
	"math/rand/v2"
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

// grade counts the jams placed within a second, and those sure and wrong.
func grade(g *simulate.Game, films []align.Film, from []time.Duration, res align.Result) (right, on, sureWrong int) {
	at := map[timeline.ID]align.Placed{}
	for _, p := range res.Jams {
		at[p.Jam] = p
	}
	for _, j := range g.Truth.Jams {
		p := at[j.ID]
		for i, f := range films {
			if j.Start < from[i] || j.Start >= from[i]+f.Length {
				continue
			}
			on++
			d := p.Start - (j.Start - from[i])
			if p.Footage == f.Footage && d.Abs() <= time.Second {
				right++
			} else if p.Footage != "" && p.Confidence >= 0.9 {
				sureWrong++
			}
		}
	}
	return right, on, sureWrong
}

func TestPlace(t *testing.T) {
	for _, c := range []struct {
		name      string
		h         hearing
		durations bool
		late      time.Duration // film starts so late
		want      float64       // least share of jams within a second
	}{
		{"everything heard", hearing{}, true, 0, 1},
		{"a bare sheet", hearing{}, false, 0, 0.97},
		{"a few missed, some false", hearing{0.08, 0.08, 1, 0.2}, true, 0, 0.95},
		{"hard hall", hearing{0.2, 0.3, 4, 0.4}, true, 0, 0.8},
		{"hard hall, bare sheet", hearing{0.2, 0.3, 4, 0.4}, false, 0, 0.5},
		{"bare sheet, film starts late", hearing{0.05, 0.05, 1, 0.2}, false, 12 * time.Minute, 0.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			right, on, wrong := 0, 0, 0
			for seed := uint64(1); seed <= 2; seed++ {
				g := simulate.Play(seed, simulate.Options{})
				films := []align.Film{listen(g, c.h, seed, c.late, g.Duration())}
				began := time.Now()
				res, err := align.Place(context.Background(), align.Input{Films: films, Jams: known(g, c.durations)})
				if err != nil {
					t.Fatal(err)
				}
				r, o, w := grade(g, films, []time.Duration{c.late}, res)
				t.Logf("seed %d: %d of %d within 1 s, %d sure and wrong, %d series, %v", seed, r, o, w, len(films[0].Series), time.Since(began).Round(time.Millisecond))
				right, on, wrong = right+r, on+o, wrong+w
			}
			if share := float64(right) / float64(on); share < c.want {
				t.Errorf("%d of %d jams placed within a second, want %.0f %%", right, on, 100*c.want)
			}
			if wrong > 0 {
				t.Errorf("%d jams placed with confidence over 0.9 and wrong", wrong)
			}
		})
	}
}
