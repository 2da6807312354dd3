package bench

import (
	"context"
	"fmt"
	"sync"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/whistle"
	"whistlecut/timeline/whistle/train"
)

// firstTuningSeed keeps the bouts that weights are fitted on apart from those
// that are looked at while something is changed.
const firstTuningSeed = 501

// TuningCandidates are candidates from bouts of the tuning and of the outer family,
// as many of each, under all graded conditions, for teaching the weigher; held are
// those of every fourth bout. Every bout has officials and whistles of its own. Two
// bouts at a time are listened to; the order of the candidates does not depend on
// which is done first.
func TuningCandidates(ctx context.Context, judge *whistle.Net, bouts, jams int) (learn, held []train.Candidate, err error) {
	tiers := Tiers()
	families := []sound.Family{sound.Tuning, sound.Outer}
	lists := make([][]train.Candidate, len(families)*len(tiers)*bouts)
	errs := make([]error, len(lists))
	next := make(chan int)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for i := range next {
				lists[i], errs[i] = tiers[i/bouts%len(tiers)].candidates(ctx, judge, families[i/bouts/len(tiers)], firstTuningSeed+uint64(i), jams)
			}
		})
	}
	for i := range lists {
		next <- i
	}
	close(next)
	wg.Wait()
	for i, list := range lists {
		if errs[i] != nil {
			return nil, nil, errs[i]
		}
		if i%bouts%4 == 3 {
			held = append(held, list...)
		} else {
			learn = append(learn, list...)
		}
	}
	return learn, held, nil
}

func (t Tier) candidates(ctx context.Context, judge *whistle.Net, f sound.Family, seed uint64, jams int) ([]train.Candidate, error) {
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("stopped gathering candidates: %w", err)
	}
	take, err := t.Render(f, seed, jams)
	if err != nil {
		return nil, err
	}
	return train.Candidates(take.Samples, trueBlasts(take.Truth), judge)
}
