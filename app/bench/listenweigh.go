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

// TuningRecordings are bouts of the tuning and of the outer family, as many of each,
// heard under all graded conditions, for teaching the weigher; held is every fourth
// bout. Every bout has officials and whistles of its own. Two bouts at a time are
// listened to; their order does not depend on which is done first.
func TuningRecordings(ctx context.Context, judge *whistle.Net, bouts, jams int) (learn, held []train.Recording, err error) {
	tiers := Tiers()
	families := []sound.Family{sound.Tuning, sound.Outer}
	heard := make([]train.Recording, len(families)*len(tiers)*bouts)
	errs := make([]error, len(heard))
	next := make(chan int)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for i := range next {
				heard[i], errs[i] = tiers[i/bouts%len(tiers)].recording(ctx, judge, families[i/bouts/len(tiers)], firstTuningSeed+uint64(i), jams)
			}
		})
	}
	for i := range heard {
		next <- i
	}
	close(next)
	wg.Wait()
	for i, r := range heard {
		if errs[i] != nil {
			return nil, nil, errs[i]
		}
		if i%bouts%4 == 3 {
			held = append(held, r)
		} else {
			learn = append(learn, r)
		}
	}
	return learn, held, nil
}

func (t Tier) recording(ctx context.Context, judge *whistle.Net, f sound.Family, seed uint64, jams int) (train.Recording, error) {
	if err := ctx.Err(); err != nil {
		return train.Recording{}, fmt.Errorf("stopped listening to bouts to learn from: %w", err)
	}
	take, err := t.Render(f, seed, jams)
	if err != nil {
		return train.Recording{}, err
	}
	return train.Listen(take.Samples, trueBlasts(take.Truth), judge)
}
