package bench

import (
	"context"
	"fmt"
	"io"
	"time"

	"whistlecut/export/demofilm/sound"
)

// ListenOptions choose how much is measured.
type ListenOptions struct {
	Seed  uint64 // of the first bout; 0 is 2001
	Bouts int    // a condition; 0 is 3
	Jams  int    // a bout; 0 is 8
	// Place places the jams, too.
	Place bool
	// Tuning hears the whistles and rooms that the weights were fitted on instead
	// of the others.
	Tuning bool
}

func (o ListenOptions) withDefaults() ListenOptions {
	if o.Seed == 0 {
		o.Seed = 2001
	}
	if o.Bouts == 0 {
		o.Bouts = 3
	}
	if o.Jams == 0 {
		o.Jams = 8
	}
	return o
}

func (o ListenOptions) family() sound.Family {
	if o.Tuning {
		return sound.Tuning
	}
	return sound.Evaluation
}

// ListenRow is one graded condition, or one bout of it: how well blasts were
// heard and, if asked for, how well jams were placed by them.
type ListenRow struct {
	Condition, Sheet string
	Seed             uint64 // 0 for all bouts together
	AimF1            float64
	blasts           *tally // nil where another row shows the same sound
	jams             *jamTally
	AimQuarter       float64
}

// Listen measures how well officials' blasts are heard and, if asked, jams placed
// by them under the graded conditions, on whistles and rooms that nothing was
// tuned on. It prints one table with a row for each condition, the worst bouts
// under it, and how far the confidence of blasts can be trusted.
func Listen(ctx context.Context, out io.Writer, o ListenOptions) ([]ListenRow, error) {
	o = o.withDefaults()
	printListenHead(out, o)
	var rows, bouts []ListenRow
	var all tally
	for _, t := range Tiers() {
		sums, singles, err := o.condition(ctx, t)
		bouts = append(bouts, singles...)
		rows = append(rows, sums...)
		if err != nil {
			return rows, err
		}
		for _, r := range sums {
			printListenRow(out, r)
		}
		all.merge(*sums[0].blasts)
	}
	if o.Place {
		if err := printMusicOnly(ctx, out, o); err != nil {
			return rows, err
		}
	}
	printWorst(out, bouts)
	printDeciles(out, all.deciles)
	printContext(out)
	return rows, nil
}

// condition measures one tier: a row for each kind of sheet, and the same for
// each bout.
func (o ListenOptions) condition(ctx context.Context, t Tier) (sums, bouts []ListenRow, err error) {
	sheets := papers()
	if !o.Place {
		sheets = sheets[:1]
	}
	for i, p := range sheets {
		r := ListenRow{Condition: t.Name, Sheet: p.name, AimF1: t.Aim, AimQuarter: p.aims[t.Name]}
		if i == 0 {
			r.blasts = &tally{}
		}
		if o.Place {
			r.jams = &jamTally{}
		} else {
			r.Sheet = ""
		}
		sums = append(sums, r)
	}
	for i := range o.Bouts {
		take, err := t.Render(o.family(), o.Seed+uint64(i), o.Jams)
		if err != nil {
			return sums, bouts, err
		}
		began := time.Now()
		heard, err := take.Hear(0)
		if err != nil {
			return sums, bouts, err
		}
		one := tally{busy: time.Since(began)}
		one.add(take, heard.Blasts)
		sums[0].blasts.merge(one)
		for k := range sums {
			if err := ctx.Err(); err != nil {
				return sums, bouts, fmt.Errorf("stopped measuring how whistles are heard: %w", err)
			}
			b := sums[k]
			b.Seed = take.Seed
			if k == 0 {
				b.blasts = &one
			}
			if o.Place {
				j, err := take.place(ctx, heard, sheets[k])
				if err != nil {
					return sums, bouts, err
				}
				sums[k].jams.add(j)
				b.jams = &j
			}
			bouts = append(bouts, b)
		}
	}
	return sums, bouts, nil
}
