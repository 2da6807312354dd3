package bench

import (
	"context"
	"encoding/gob"
	"fmt"
	"os"
	"testing"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/whistle"
)

type cached struct {
	Truth   sound.Truth
	Samples []float32
}

func cachedTake(t Tier, f sound.Family, seed uint64, jams int) *Take {
	name := fmt.Sprintf("/tmp/lb/%s-%s-%d-%d.gob", t.Name, f, seed, jams)
	if fh, err := os.Open(name); err == nil {
		defer fh.Close()
		var c cached
		if gob.NewDecoder(fh).Decode(&c) == nil {
			return &Take{Tier: t, Seed: seed, Truth: c.Truth, Samples: c.Samples, Length: whistleLen(c.Samples)}
		}
	}
	take, err := t.Render(f, seed, jams)
	if err != nil {
		panic(err)
	}
	fh, _ := os.Create(name)
	gob.NewEncoder(fh).Encode(cached{take.Truth, take.Samples})
	fh.Close()
	return take
}

func TestZZ(t *testing.T) {
	o := whistle.Options{}
	if p := os.Getenv("W"); p != "" {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		if o.Net, err = whistle.ReadNet(b); err != nil {
			t.Fatal(err)
		}
	}
	n := 2
	for _, f := range []sound.Family{sound.Tuning, sound.Evaluation} {
		for _, tier := range Tiers() {
			var sum tally
			curve := map[int]*tally{}
			for i := range n {
				take := cachedTake(tier, f, uint64(1001+i), 5)
				oo := o
				oo.Least = 1e-9
				_, all, _ := take.Hear(oo)
				for _, th := range []int{10, 20, 30, 40, 50, 60, 70, 80, 90} {
					if curve[th] == nil {
						curve[th] = &tally{}
					}
					var keep []whistle.Blast
					for _, w := range all {
						if w.Confidence >= float64(th)/100 {
							keep = append(keep, w.Blast)
						}
					}
					curve[th].add(take, keep)
					if th == 40 {
						sum.add(take, keep)
					}
				}
			}
			printTally(os.Stdout, string(f)+tier.Name, 0, &sum)
			for _, th := range []int{10, 20, 30, 40, 50, 60, 70, 80, 90} {
				c := curve[th]
				fmt.Printf(" %d: p%.2f r%.2f f%.2f", th, c.precision(), c.recall(), c.f1())
			}
			fmt.Println()
		}
	}
	_ = context.Background
}

func whistleLen(s []float32) time.Duration {
	return time.Duration(float64(len(s)) / whistle.Rate * 1e9)
}
