package simulate

import (
	"testing"
	"time"
)

// checkWhistles: each jam has one short blast at its start, a pair for lead, four
// at its end, the first set's last dying away as the jam is over; each penalty a
// long one at the call; each stoppage four and a rolling one; each period a
// rolling one (Rules 1.1, 1.3, 2.2.2).
func checkWhistles(t *testing.T, g *Game) {
	byKind := map[WhistleKind][]Whistle{}
	var last time.Duration
	for _, w := range g.Whistles() {
		if w.At() < last {
			t.Errorf("whistle at %v after one at %v", w.At(), last)
		}
		last = w.At()
		blasts := map[WhistleKind]int{WhistleJamStart: 1, WhistleLead: 2, WhistleJamEnd: 4, WhistlePenalty: 1, WhistleTimeout: 4, WhistleTimeoutEnd: 1, WhistlePeriodEnd: 1}
		if len(w.Blasts) != blasts[w.Kind] {
			t.Errorf("%s at %v of %d blasts", w.Kind, w.At(), len(w.Blasts))
		}
		for i, b := range w.Blasts {
			if b.Duration() < 100*time.Millisecond || i > 0 && b.Start <= w.Blasts[i-1].End {
				t.Errorf("%s at %v: blasts %v", w.Kind, w.At(), w.Blasts)
			}
		}
		if !w.Echo {
			byKind[w.Kind] = append(byKind[w.Kind], w)
		}
	}
	starts, ends, leads := byKind[WhistleJamStart], byKind[WhistleJamEnd], 0
	if len(starts) != len(g.Truth.Jams) || len(ends) != len(g.Truth.Jams) {
		t.Fatalf("%d starts and %d ends whistled for %d jams", len(starts), len(ends), len(g.Truth.Jams))
	}
	for i, j := range g.Truth.Jams {
		if starts[i].At() != j.Start || ends[i].End() != j.End {
			t.Errorf("%s from %v to %v, whistled %v to %v", j.ID, j.Start, j.End, starts[i].At(), ends[i].End())
		}
		for side := range j.Sides {
			if s := j.Sides[side]; s.Lead && s.LeadAt < j.Duration()-3*time.Second {
				leads++
			}
		}
	}
	if n := len(byKind[WhistleLead]); n < leads {
		t.Errorf("%d pairs for %d leads", n, leads)
	}
	calls := map[time.Duration]bool{}
	for _, w := range byKind[WhistlePenalty] {
		calls[w.At()] = true
	}
	for _, p := range g.Truth.Penalties {
		if at := g.jam(p.Jam).Start + p.Call; !calls[at] {
			t.Errorf("penalty of %s in %s: nothing whistled at %v", p.SkaterRef, p.Jam, at)
		}
	}
	if n := len(g.Truth.Stoppages); len(byKind[WhistleTimeout]) != n || len(byKind[WhistleTimeoutEnd]) != n {
		t.Errorf("%d stoppages, %d and %d whistled", n, len(byKind[WhistleTimeout]), len(byKind[WhistleTimeoutEnd]))
	}
	if n := len(byKind[WhistlePeriodEnd]); n != g.Options.Periods {
		t.Errorf("%d ends of period whistled", n)
	}
}
