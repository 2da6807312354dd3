package bench

import (
	"context"
	"io"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet/plant"
	"whistlecut/timeline/simulate"
)

// sheetGames is how many simulated bouts the seeds share.
const sheetGames = 100

// Sheets plants mistakes in the sheets of simulated bouts of full length, checks
// them and prints what was found with a confusion table. good reports whether
// every clean sheet stayed without findings and all differences were accounted for.
func Sheets(ctx context.Context, out io.Writer, from, seeds uint64) (good bool, err error) {
	kept := map[uint64]plant.Bout{}
	m, err := plant.Judge(from, seeds, func(seed uint64) (plant.Bout, error) {
		if err := ctx.Err(); err != nil {
			return plant.Bout{}, err
		}
		n := seed % sheetGames
		if b, ok := kept[n]; ok {
			return b, nil
		}
		g := simulate.Play(n, simulate.Options{
			PeriodLength: 30 * time.Minute,
			Rates:        simulate.Rates{Penalties: 1 + float64(n%5), StarPasses: 1 + float64(n%3)},
		})
		f := g.Facts()
		kept[n] = plant.Bout{Sheet: plant.Sheet(g), Facts: f, Bout: timeline.Derive(f)}
		return kept[n], nil
	})
	if err != nil {
		return false, err
	}
	m.Print(out)
	return m.CleanFindings == 0 && m.Unaccounted == 0, nil
}
