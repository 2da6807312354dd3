package plant

import (
	"os"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// bouts plays games and keeps them: several seeds share one.
func bouts(games uint64, period time.Duration) func(seed uint64) (Bout, error) {
	kept := map[uint64]Bout{}
	return func(seed uint64) (Bout, error) {
		n := seed % games
		if b, ok := kept[n]; ok {
			return b, nil
		}
		g := simulate.Play(n, simulate.Options{
			PeriodLength: period,
			Rates:        simulate.Rates{Penalties: 1 + float64(n%4), StarPasses: 1 + float64(n%3)},
		})
		f := g.Facts()
		kept[n] = Bout{Sheet: Sheet(g), Facts: f, Bout: timeline.Derive(f)}
		return kept[n], nil
	}
}

// TestPlantedMistakes: mistakes of every class, one to eight in a sheet, are
// found with their cause, clean sheets stay clean, and the difference in score is
// fully accounted for. 50 seeds; 500 of full length with WHISTLECUT_SOAK=1.
func TestPlantedMistakes(t *testing.T) {
	seeds, games, period := uint64(50), uint64(10), 10*time.Minute
	if testing.Short() {
		seeds, games = 8, 2
	}
	if os.Getenv("WHISTLECUT_SOAK") != "" {
		seeds, games, period = 500, 100, 30*time.Minute
	}
	m, err := Judge(0, seeds, bouts(games, period))
	if err != nil {
		t.Fatal(err)
	}
	m.Print(os.Stdout)
	if m.FoundShare() < 0.99 {
		t.Errorf("found %.2f %% of the mistakes, want at least 99", 100*m.FoundShare())
	}
	if m.WrongShare() > 0.02 {
		t.Errorf("another cause for %.2f %%, want at most 2", 100*m.WrongShare())
	}
	if m.CleanFindings != 0 || m.Spurious != 0 || m.Unaccounted != 0 {
		t.Errorf("%d findings on clean sheets, %d that belong to no mistake, %d sides not accounted for", m.CleanFindings, m.Spurious, m.Unaccounted)
	}
	for _, c := range Classes {
		if len(m.Confusion[c]) == 0 && !testing.Short() {
			t.Errorf("no mistake of class %q could be planted", c)
		}
	}
}
