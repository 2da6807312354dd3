package align_test

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/align"
	"whistlecut/timeline/simulate"
	"whistlecut/timeline/whistle"
)

// TestMusicOnly hears two hours of sounds that are no whistle: no jam may be
// claimed with a confidence over 0.3, with a sheet or without.
func TestMusicOnly(t *testing.T) {
	kinds := []whistle.Kind{whistle.Short, whistle.Short, whistle.Pair, whistle.Long, whistle.Rolling, whistle.Four, whistle.Unclear}
	for _, c := range []struct {
		name    string
		perMin  float64
		sure    float64 // confidence at most
		bySheet bool
	}{
		{"now and then", 1, 0.5, false},
		{"all the time", 8, 0.5, false},
		{"all the time, rather sure", 6, 0.75, false},
		{"with a sheet", 4, 0.6, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(3, 3))
			f := align.Film{Footage: "music", Length: 2 * time.Hour}
			for at := 0.0; at < f.Length.Seconds(); at += r.ExpFloat64() * 60 / c.perMin {
				k := kinds[r.IntN(len(kinds))]
				start := time.Duration(at * 1e9)
				f.Series = append(f.Series, whistle.Series{Kind: k, Start: start, End: start + 500*time.Millisecond, Confidence: c.sure * r.Float64(), Likely: map[whistle.Kind]float64{k: 0.8, whistle.Unclear: 0.2}})
			}
			in := align.Input{Films: []align.Film{f}}
			if c.bySheet {
				in.Jams = known(game(1), true)
			}
			res := place(t, in)
			most := 0.0
			for _, p := range res.Jams {
				most = max(most, p.Confidence)
			}
			t.Logf("%d series, %d jams, most sure %.3f", len(f.Series), len(res.Jams), most)
			if most > 0.3 {
				t.Errorf("a jam is claimed with confidence %.2f where there is only music", most)
			}
		})
	}
}

func TestPropose(t *testing.T) {
	g := game(1)
	for _, c := range []struct {
		name   string
		h      hearing
		recall float64
		// numbered is the least share of the jams found that have their number; where
		// much is missed nothing is promised.
		numbered float64
	}{
		{"everything heard", hearing{}, 0.97, 1},
		{"some missed, some false", hearing{0.08, 0.08, 1, 0.2}, 0.85, 0.9},
		{"hard hall", hearing{0.2, 0.3, 4, 0.4}, 0.5, 0},
		{"very hard hall", hearing{0.4, 0.5, 6, 0.6}, 0.2, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := listen(g, c.h, 1, 0, g.Duration())
			res := place(t, align.Input{Films: []align.Film{f}})
			right, sureWrong, numbered := 0, 0, 0
			for i, p := range res.Jams {
				if i > 0 && p.Start <= res.Jams[i-1].End {
					t.Errorf("jam %d.%d starts before the one before has ended", p.Period, p.Number)
				}
				hit := slices.IndexFunc(g.Truth.Jams, func(j *simulate.Jam) bool { return (j.Start - p.Start).Abs() < time.Second })
				if hit >= 0 {
					right++
					if j := g.Truth.Jams[hit]; j.Period == p.Period && j.Number == p.Number {
						numbered++
					}
				} else if p.Confidence >= 0.9 {
					sureWrong++
				}
			}
			t.Logf("%d of %d found, %d of these numbered right, %d proposed, %d sure and wrong", right, len(g.Truth.Jams), numbered, len(res.Jams), sureWrong)
			if float64(numbered) < c.numbered*float64(right) {
				t.Errorf("of %d jams found %d are numbered right", right, numbered)
			}
			if float64(right) < c.recall*float64(len(g.Truth.Jams)) {
				t.Errorf("found %d of %d jams", right, len(g.Truth.Jams))
			}
			if sureWrong > 0 {
				t.Errorf("%d proposed with confidence over 0.9 and wrong", sureWrong)
			}
		})
	}
}

// TestProposedNumbers: without a sheet, numbers count from the first jam on film of
// each period; a jam too many or too few shifts those behind it, so that the steps
// from one to the next are what can be asked for in a hall where some is missed.
func TestProposedNumbers(t *testing.T) {
	fair := hearing{0.05, 0.05, 1, 0.2}
	long := simulate.Play(4, simulate.Options{HalfTime: 12 * time.Minute})
	for _, c := range []struct {
		name string
		g    *simulate.Game
		cuts func(half [2]time.Duration) []cut // by end of the first period and start of the second
	}{
		{"half-time on film", long, func([2]time.Duration) []cut { return []cut{{0, 3 * time.Hour}} }},
		{"short half-time", game(1), func([2]time.Duration) []cut { return []cut{{0, 3 * time.Hour}} }},
		{"camera off in half-time", long, func(h [2]time.Duration) []cut {
			return []cut{{0, h[0] + 20*time.Second}, {h[1] - 20*time.Second, 3 * time.Hour}}
		}},
		{"film starts late", long, func([2]time.Duration) []cut { return []cut{{5 * time.Minute, 3 * time.Hour}} }},
		{"second period alone", long, func(h [2]time.Duration) []cut { return []cut{{h[1] - 20*time.Second, 3 * time.Hour}} }},
	} {
		t.Run(c.name, func(t *testing.T) {
			var half [2]time.Duration
			for _, j := range c.g.Truth.Jams {
				if j.Period == 1 {
					half[0] = j.End
				} else if half[1] == 0 {
					half[1] = j.Start
				}
			}
			cuts := c.cuts(half)
			list := films(c.g, fair, 3, cuts...)
			res := place(t, align.Input{Films: list})
			first := map[int]int{} // by true period: the number that its first jam on film has
			periods := map[int]bool{}
			found, numbered, period, steps, even := 0, 0, 0, 0, 0
			var last struct{ period, truth, number int }
			for _, j := range c.g.Truth.Jams {
				for i, x := range cuts {
					if j.Start < x.from || j.Start >= x.to {
						continue
					}
					if first[j.Period] == 0 {
						first[j.Period] = j.Number
					}
					periods[j.Period] = true
					at := slices.IndexFunc(res.Jams, func(p align.Placed) bool {
						return p.Footage == list[i].Footage && (p.Start-(j.Start-x.from)).Abs() < time.Second
					})
					if at < 0 {
						continue
					}
					found++
					p := res.Jams[at]
					if p.Period == len(periods) {
						period++
						if p.Number == j.Number-first[j.Period]+1 {
							numbered++
						}
					}
					if last.period == j.Period {
						steps++
						if p.Number-last.number == j.Number-last.truth {
							even++
						}
					}
					last.period, last.truth, last.number = j.Period, j.Number, p.Number
				}
			}
			t.Logf("%d found: %d in the right period, %d numbered right, %d of %d steps right", found, period, numbered, even, steps)
			if found < 20 || period < found || float64(even) < 0.9*float64(steps) {
				t.Errorf("of %d jams found %d are in their period, %d of %d steps to the next are right", found, period, even, steps)
			}
		})
	}
}

// TestPins sets one jam by hand where a bare sheet and half a film leave the
// numbers open: the neighbours have to follow.
func TestPins(t *testing.T) {
	g := game(2)
	cuts := []cut{{20 * time.Minute, 34 * time.Minute}}
	list := films(g, hearing{0.1, 0.1, 1, 0.2}, 5, cuts...)
	in := align.Input{Films: list, Jams: known(g, false)}
	var first int
	for i, j := range g.Truth.Jams {
		if j.Start > cuts[0].from+3*time.Minute && first == 0 {
			first = i
		}
	}
	j := g.Truth.Jams[first]
	// A person errs by a tenth of a second, and once sets a jam wrong on purpose:
	// what is set by hand is not doubted.
	for _, off := range []time.Duration{100 * time.Millisecond, 5 * time.Second} {
		in.Pins = []align.Pin{{Jam: j.ID, Edge: timeline.EdgeStart, Footage: list[0].Footage, Film: j.Start - cuts[0].from + off}}
		res := place(t, in)
		p := res.Jams[first]
		if !p.Hand || p.Confidence != 1 || p.Start != in.Pins[0].Film {
			t.Errorf("the hand-set jam stands at %v (hand %v, confidence %.2f), set at %v", p.Start, p.Hand, p.Confidence, in.Pins[0].Film)
		}
		var sum tally
		grade(&sum, g, list, cuts, res)
		t.Log(sum)
		if off < time.Second && sum.second < sum.on-1 {
			t.Errorf("%d of %d jams right beside a hand-set one", sum.second, sum.on)
		}
	}
	// An end by hand.
	in.Pins = []align.Pin{{Jam: j.ID, Edge: timeline.EdgeEnd, Footage: list[0].Footage, Film: j.End - cuts[0].from}}
	p := place(t, in).Jams[first]
	if d := (p.End - in.Pins[0].Film).Abs(); d > time.Millisecond || p.Footage == "" {
		t.Errorf("the hand-set end stands at %v, set at %v", p.End, in.Pins[0].Film)
	}
	if d := (p.Start - (j.Start - cuts[0].from)).Abs(); d > time.Second {
		t.Errorf("the start of the jam whose end was set is %v off", d)
	}
}

// TestPinsAgainstEachOther: two jams set by hand in the wrong order are both kept
// and said to contradict each other.
func TestPinsAgainstEachOther(t *testing.T) {
	g := game(1)
	list := films(g, hearing{}, 1, cut{0, 3 * time.Hour})
	in := align.Input{Films: list, Jams: known(g, true), Pins: []align.Pin{
		{Jam: g.Truth.Jams[3].ID, Edge: timeline.EdgeStart, Footage: list[0].Footage, Film: 900 * time.Second},
		{Jam: g.Truth.Jams[5].ID, Edge: timeline.EdgeStart, Footage: list[0].Footage, Film: 300 * time.Second},
	}}
	res := place(t, in)
	if len(res.Notes) == 0 {
		t.Error("nothing is said about hand-set jams in the wrong order")
	}
	if res.Jams[3].Start != 900*time.Second || res.Jams[5].Start != 300*time.Second {
		t.Errorf("hand-set jams stand at %v and %v", res.Jams[3].Start, res.Jams[5].Start)
	}
}

// TestNothing: no film, no series, silence.
func TestNothing(t *testing.T) {
	jams := known(game(1), true)
	for name, in := range map[string]align.Input{
		"no film":          {Jams: jams},
		"silent film":      {Films: []align.Film{{Footage: "f", Length: time.Hour}}, Jams: jams},
		"no jams, silence": {Films: []align.Film{{Footage: "f", Length: time.Hour}}},
		"empty film":       {Films: []align.Film{{Footage: "f"}}, Jams: jams},
	} {
		res := place(t, in)
		for _, p := range res.Jams {
			if p.Footage != "" {
				t.Errorf("%s: jam %d.%d is placed", name, p.Period, p.Number)
			}
		}
		if len(res.Notes) == 0 {
			t.Errorf("%s: nothing is said", name)
		}
		if len(res.Jams) != len(in.Jams) {
			t.Errorf("%s: %d jams of %d", name, len(res.Jams), len(in.Jams))
		}
	}
}

func TestCandidates(t *testing.T) {
	g := game(1)
	list := films(g, hearing{0.05, 0.05, 1, 0.2}, 1, cut{0, 3 * time.Hour})
	res := place(t, align.Input{Films: list, Jams: known(g, true)})
	among, first, n := 0, 0, 0
	for _, p := range g.Truth.Penalties {
		i := slices.IndexFunc(res.Jams, func(x align.Placed) bool { return x.Jam == p.Jam })
		if i < 0 {
			continue
		}
		k := slices.IndexFunc(g.Truth.Jams, func(j *simulate.Jam) bool { return j.ID == p.Jam })
		if p.Call < 0 {
			continue // called in the line-up, before the jam
		}
		at, count := g.Truth.Jams[k].Start+p.Call, 0
		for _, q := range g.Truth.Penalties {
			if q.Jam == p.Jam {
				count++
			}
		}
		n++
		for rank, c := range align.Candidates(list[0], res.Jams[i], count) {
			if (c.At - at).Abs() < 2*time.Second {
				among++
				if rank < count {
					first++
				}
				break
			}
		}
	}
	t.Logf("%d penalties: %d among the candidates, %d among the first", n, among, first)
	if float64(among) < 0.8*float64(n) || float64(first) < 0.7*float64(n) {
		t.Errorf("of %d penalties %d are among the candidates and %d among the first", n, among, first)
	}
}
