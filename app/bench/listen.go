package bench

import (
	"context"
	"fmt"
	"io"
	"sort"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/whistle"
)

// ListenOptions choose how much is measured.
type ListenOptions struct {
	Seed  uint64 // of the first bout
	Bouts int    // a tier; 0 is 4
	Jams  int    // a bout; 0 is 5
	// Tuning hears the whistles and rooms that the weights were fitted on instead
	// of the others.
	Tuning bool
}

// ListenReport is what the table shows, by tier.
type ListenReport struct {
	Tiers []TierReport
}

// TierReport is one row.
type TierReport struct {
	Name                  string
	Precision, Recall, F1 float64
	BiasMS, SpreadMS      float64
	Aim                   float64
}

// Listen measures how well blasts are heard under the graded conditions, on
// whistles and rooms that nothing was tuned on, and prints a table.
func Listen(ctx context.Context, out io.Writer, o ListenOptions) (ListenReport, error) {
	if o.Bouts == 0 {
		o.Bouts = 4
	}
	if o.Jams == 0 {
		o.Jams = 5
	}
	if o.Seed == 0 {
		o.Seed = 1001
	}
	family := sound.Evaluation
	if o.Tuning {
		family = sound.Tuning
	}
	type row struct {
		name string
		tally
	}
	var rep ListenReport
	var rows []row
	fmt.Fprintf(out, "Blasts heard, %d bouts of %d jams a tier; right within %v of the true onset.\n", o.Bouts, o.Jams, onsetTolerance)
	fmt.Fprintf(out, "%-10s %6s %6s %6s %6s %6s %5s  %s\n", "tier", "true", "heard", "prec", "recall", "F1", "aim", "onset ms bias +- spread   end ms        Brier  sure: right  decoys  x real time")
	for _, t := range Tiers() {
		var sum tally
		for i := range o.Bouts {
			if err := ctx.Err(); err != nil {
				return rep, fmt.Errorf("stopped measuring how whistles are heard: %w", err)
			}
			take, err := t.Render(family, o.Seed+uint64(i), o.Jams)
			if err != nil {
				return rep, err
			}
			began := time.Now()
			_, heard, err := take.Hear(whistle.Options{})
			if err != nil {
				return rep, err
			}
			one := tally{busy: time.Since(began)}
			one.add(take, plain(heard))
			rows = append(rows, row{fmt.Sprintf("%s, seed %d", t.Name, take.Seed), one})
			sum.merge(one)
		}
		r := printTally(out, t.Name, t.Aim, &sum)
		rep.Tiers = append(rep.Tiers, r)
	}
	sort.SliceStable(rows, func(i, j int) bool { return rows[i].f1() < rows[j].f1() })
	fmt.Fprintln(out, "\nWorst bouts:")
	for _, r := range rows[:min(6, len(rows))] {
		printTally(out, r.name, 0, &r.tally)
	}
	fmt.Fprintln(out, "\nFor context: a published detector for broadcast sport (band-pass and short-time energy, 2011)")
	fmt.Fprintln(out, "failed on 19.4 per cent of the whistles in 12 h 11 min; its recordings are not ours.")
	return rep, nil
}

func plain(list []whistle.Weighed) []whistle.Blast {
	out := make([]whistle.Blast, len(list))
	for i, w := range list {
		out[i] = w.Blast
	}
	return out
}

func printTally(out io.Writer, name string, aim float64, t *tally) TierReport {
	bias, spread := middle(t.late)
	endBias, endSpread := middle(t.ends)
	goal := "-"
	if aim > 0 {
		goal = fmt.Sprintf("%.2f", aim)
	}
	brier := 0.0
	if t.heard > 0 {
		brier = t.brier / float64(t.heard)
	}
	fmt.Fprintf(out, "%-10s %6d %6d %6.3f %6.3f %6.3f %5s  %+5.0f +- %-4.0f             %+5.0f +- %-4.0f  %.3f  %4d: %.3f  %5d  %8.0f\n",
		name, t.truth, t.heard, t.precision(), t.recall(), t.f1(), goal, bias, spread, endBias, endSpread, brier,
		t.sure, ratio(t.sureRight, t.sure), t.decoys, t.seconds/max(1e-9, t.busy.Seconds()))
	return TierReport{Name: name, Precision: t.precision(), Recall: t.recall(), F1: t.f1(), BiasMS: bias, SpreadMS: spread, Aim: aim}
}
