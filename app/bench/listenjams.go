package bench

import (
	"context"
	"math/rand/v2"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/align"
	"whistlecut/timeline/simulate"
	"whistlecut/timeline/whistle"
)

// paperKind is how well the sheet was kept.
type paperKind struct {
	name string
	late float64 // share of the bout that the film misses at its beginning
	kept func(r *rand.Rand, d time.Duration) time.Duration
	aims map[string]float64
}

func papers() []paperKind {
	return []paperKind{
		{"durations kept", 0, func(_ *rand.Rand, d time.Duration) time.Duration { return d.Round(time.Second) }, map[string]float64{"easy": 1, "middle": 0.97, "hard": 0.85}},
		// A stopwatch a second or two off, one in twenty read wrong.
		{"loosely kept", 0, func(r *rand.Rand, d time.Duration) time.Duration {
			e := r.NormFloat64() * 1.5
			if r.Float64() < 0.05 {
				e = r.NormFloat64() * 15
			}
			return max(d+time.Duration(e*float64(time.Second)), 5*time.Second).Round(time.Second)
		}, map[string]float64{"easy": 1, "middle": 0.97, "hard": 0.85}},
		{"bare, film late", 0.3, nil, map[string]float64{"easy": 0.5, "middle": 0.5, "hard": 0.5}},
	}
}

// leastForJams is the confidence from which on blasts help in lining up, as the
// program does it (package app).
const leastForJams = 0.12

// jamTally counts jams of one row.
type jamTally struct {
	on              int // on film
	placed          int
	quarter, second int // within 0.25 s and 1 s
	wrong           int // placed and more than 1 s off, or not on film
	sure            int // placed with confidence 0.9 or more
	sureRight       int // of these within 1 s
	sureWrong       int
	brier           float64 // of the confidence that a jam is within 1 s, summed
}

func (t *jamTally) add(o jamTally) {
	t.on, t.placed, t.quarter, t.second = t.on+o.on, t.placed+o.placed, t.quarter+o.quarter, t.second+o.second
	t.wrong, t.sureWrong, t.sure, t.sureRight = t.wrong+o.wrong, t.sureWrong+o.sureWrong, t.sure+o.sure, t.sureRight+o.sureRight
	t.brier += o.brier
}

// place places the take's jams by what was heard of all of it; where the film
// misses the beginning, the rest is heard anew.
func (t *Take) place(ctx context.Context, heard whistle.Result, paper paperKind) (jamTally, error) {
	from := time.Duration(paper.late * float64(t.Length))
	if from > 0 {
		var err error
		if heard, err = t.Hear(from); err != nil {
			return jamTally{}, err
		}
	}
	film := align.Film{Footage: "film", Length: heard.Length, Series: heard.Series, Blasts: heard.Blasts}
	r := rand.New(rand.NewPCG(t.Seed, 5))
	res, err := align.Place(ctx, align.Input{Films: []align.Film{film}, Jams: knownOf(t.Game, r, paper)})
	if err != nil {
		return jamTally{}, err
	}
	return gradeJams(t.Game, res, from), nil
}

// knownOf is what a sheet tells of a game's jams.
func knownOf(g *simulate.Game, r *rand.Rand, paper paperKind) []align.Known {
	var out []align.Known
	for _, j := range g.Truth.Jams {
		k := align.Known{ID: j.ID, Period: j.Period, Number: j.Number, Overtime: j.Overtime, Lead: align.No}
		if j.Ended == timeline.EndCalled || j.Ended == timeline.EndInjury {
			k.Ended = j.Ended
		}
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
		if paper.kept != nil {
			k.Duration = paper.kept(r, j.Duration())
		}
		out = append(out, k)
	}
	return out
}

func gradeJams(g *simulate.Game, res align.Result, from time.Duration) jamTally {
	var t jamTally
	for i, j := range g.Truth.Jams {
		p := res.Jams[i]
		off := (p.Start - (j.Start - from)).Abs()
		shown := j.Start >= from
		if shown {
			t.on++
		}
		if p.Footage == "" {
			continue
		}
		t.placed++
		right := 0.0
		if shown && off <= time.Second {
			right = 1
			t.second++
			if off <= 250*time.Millisecond {
				t.quarter++
			}
		} else {
			t.wrong++
		}
		if p.Confidence >= 0.9 {
			t.sure++
			t.sureRight += int(right)
			t.sureWrong += int(1 - right)
		}
		t.brier += (p.Confidence - right) * (p.Confidence - right)
	}
	return t
}
