package logging

import (
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/simulate"
)

// TestGuided: confirming what the sheet expects, again and again, logs every jam
// as the sheet has it.
func TestGuided(t *testing.T) {
	for seed := uint64(1); seed <= 4; seed++ {
		g := simulate.Play(seed, simulate.Options{Jams: 3, Periods: 1, Rates: simulate.Rates{StarPasses: 6}})
		b := newBench(t, g.Options.Rules, g.Teams)
		b.paper = &sheet.Sheet{Rows: g.Rows()}
		for _, j := range g.Truth.Jams {
			b.at(j.Start).do(edge())
			for step := range 60 {
				b.at(j.Start + j.Duration()*(60+2*time.Duration(step))/200)
				for _, s := range timeline.Sides {
					b.press(side(Confirm, s))
				}
			}
			b.at(j.End).do(edge())
		}
		for _, s := range timeline.Sides {
			if _, ok := b.view().Offer(s); ok {
				t.Errorf("seed %d: something is still offered", seed)
			}
		}
		r := sheet.Check(*b.paper, b.bout, b.facts)
		for _, f := range r.Findings {
			if f.Points() != 0 {
				t.Errorf("seed %d: the log differs from the sheet it was confirmed by: %+v", seed, f)
			}
		}
		for n := range timeline.Sides {
			if b.bout.Score[n] != timeline.Exactly(g.Truth.Score[n]) {
				t.Errorf("seed %d: score %v, sheet %v", seed, b.bout.Score, g.Truth.Score)
			}
		}
	}
}

func TestBlindOffersNothing(t *testing.T) {
	b := plain(t).started()
	for _, s := range timeline.Sides {
		if f, ok := b.view().Offer(s); ok {
			t.Errorf("blind logging offers %+v", f)
		}
		b.do(side(Confirm, s))
		b.said(NothingOffered)
	}
	if p, _, _ := b.m.Prompt(b.view()); p.Guess != "" {
		t.Errorf("blind logging guesses %q", p.Guess)
	}
}

// TestGuidedPenalty: the penalty key offers what the penalty sheet has.
func TestGuidedPenalty(t *testing.T) {
	b := plain(t).started().at(seconds(120))
	b.paper = &sheet.Sheet{Penalties: []sheet.Penalty{
		{Side: timeline.Home, Skater: timeline.Known[timeline.Number]("404"), Code: timeline.Known("B"), Period: timeline.Known(1), Jam: timeline.Known(1)},
		{Side: timeline.Home, Skater: timeline.Known[timeline.Number]("7"), Code: timeline.Known("X"), Period: timeline.Known(1), Jam: timeline.Known(1)},
	}}
	b.do(side(Penalty, timeline.Home), side(Confirm, timeline.Home))
	b.at(seconds(130)).do(side(Penalty, timeline.Home), side(Confirm, timeline.Home))
	var got []string
	for _, id := range b.home().Penalties {
		x := b.facts.Tags[id]
		got = append(got, string(x.Who.Number)+x.Penalty.Code)
	}
	b.want(len(got) == 2 && got[0] == "404B" && got[1] == "7X", "penalties %v", got)
}
