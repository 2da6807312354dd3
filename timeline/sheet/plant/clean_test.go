package plant

import (
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/simulate"
)

// TestCleanSheet: a faultless sheet gives no finding, in itself and against tags.
func TestCleanSheet(t *testing.T) {
	seeds := uint64(12)
	if testing.Short() {
		seeds = 3
	}
	for seed := range seeds {
		g := simulate.Play(seed, simulate.Options{PeriodLength: 10 * time.Minute, Rates: simulate.Rates{Penalties: 1 + float64(seed%4)}})
		s := Sheet(g)
		f := g.Facts()
		b := timeline.Derive(f)
		for _, x := range sheet.SelfCheck(s, f.Rules).Findings {
			t.Errorf("seed %d: alone: %s: %s", seed, x.Where(), x.Text)
		}
		r := sheet.Check(s, b, f)
		for _, x := range r.Findings {
			t.Errorf("seed %d: %s: %s: %s", seed, x.Cause, x.Where(), x.Text)
		}
		if r.Compared == 0 || r.Score[0].Sheet != g.Truth.Score[0] {
			t.Errorf("seed %d: compared %d, score %+v", seed, r.Compared, r.Score)
		}
	}
}
