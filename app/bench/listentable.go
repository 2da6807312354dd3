package bench

import (
	"context"
	"fmt"
	"io"
	"slices"

	"whistlecut/timeline/whistle"
	"whistlecut/timeline/whistle/match"
)

func printListenHead(out io.Writer, o ListenOptions) {
	family := "the evaluation family of whistles and rooms (nothing was tuned on it)"
	if o.Tuning {
		family = "the tuning family of whistles and rooms"
	}
	fmt.Fprintf(out, "Officials' whistles in simulated halls: %d bouts of %d jams a condition, seeds from %d, %s.\n", o.Bouts, o.Jams, o.Seed, family)
	fmt.Fprintf(out, "A blast is right when it begins within %v of a true one, one to one.\n", match.Tolerance)
	fmt.Fprintln(out, "Strictly every blast of every official is one to be heard. As signals, blasts of several officials that")
	fmt.Fprintln(out, "begin within 0.15 s of the first of them, before that one ends, are one; false blasts count as strictly.")
	fmt.Fprintln(out, "Onset: heard minus true, median and half the width of the middle two thirds. The aim is for F1, strictly.")
	if o.Place {
		fmt.Fprintln(out, "Jams are placed by times of the sound: the 55 ms that the program takes off for its way through the hall stay in.")
	}
	fmt.Fprintf(out, "\n%-9s %-15s |%28s %4s |%25s |%9s %5s %6s", "", "", "every official's blast:", "", "as signals:", "onset", "false", "x real")
	if o.Place {
		fmt.Fprintf(out, " | %s", "jams placed by ear:")
	}
	fmt.Fprintf(out, "\n%-9s %-15s |%5s %5s %5s %5s %4s %4s |%5s %5s %5s %5s  |%9s %5s %6s", "condition", "sheet",
		"true", "heard", "prec", "rec", "F1", "aim", "true", "prec", "rec", "F1", "ms", "decoy", "time")
	if o.Place {
		fmt.Fprintf(out, " |%4s %6s %4s %6s %5s %5s %5s %5s %5s", "true", "<.25 s", "aim", "<1 s", "wrong", "sure", "Brier", "sure", "right")
		fmt.Fprintf(out, "\n%-9s %-15s |%28s %4s |%25s |%9s %5s %6s |%4s %6s %4s %6s %5s %5s %5s %5s %5s", "", "", "", "", "", "", "", "", "", "", "", "", ">1 s", "wrong", "", "share", "of it")
	}
	fmt.Fprintln(out)
}

func printListenRow(out io.Writer, r ListenRow) {
	name := r.Condition
	if r.Seed != 0 {
		name = fmt.Sprintf("%.4s %d", r.Condition, r.Seed)
	}
	fmt.Fprintf(out, "%-9s %-15s |", name, r.Sheet)
	if t := r.blasts; t != nil {
		bias, spread := middle(t.late)
		fmt.Fprintf(out, "%5d %5d %5.3f %5.3f %.3f %3s |%5d %5.3f %5.3f %5.3f  |%+4.0f+-%-3.0f %5d %6.0f", t.truth, t.heard, t.precision(), t.recall(), t.f1(),
			goal(r.AimF1), t.signals, t.signalPrecision(), t.signalRecall(), t.signalF1(), bias, spread, t.decoys, t.seconds/max(1e-9, t.busy.Seconds()))
	} else {
		fmt.Fprintf(out, "%28s %4s |%25s |%9s %5s %6s", "the same sound", "", "", "", "", "")
	}
	if j := r.jams; j != nil {
		fmt.Fprintf(out, " |%4d %6.3f %4s %6.3f %5d %5d %5.3f %5.2f %5.3f", j.on, ratio(j.quarter, j.on), goal(r.AimQuarter), ratio(j.second, j.on),
			j.wrong, j.sureWrong, j.brier/max(1, float64(j.placed)), ratio(j.sure, j.placed), ratio(j.sureRight, j.sure))
	}
	fmt.Fprintln(out)
}

func goal(aim float64) string {
	if aim == 0 {
		return "-"
	}
	return fmt.Sprintf("%.2g", aim)
}

// worst is how many of the worst bouts are printed of each kind.
const worst = 6

func printWorst(out io.Writer, bouts []ListenRow) {
	var heard, placed []ListenRow
	for _, b := range bouts {
		if b.blasts != nil {
			h := b
			h.jams, h.Sheet = nil, ""
			heard = append(heard, h)
		}
		if b.jams != nil {
			placed = append(placed, b)
		}
	}
	slices.SortStableFunc(heard, func(a, b ListenRow) int { return sign(a.blasts.f1() - b.blasts.f1()) })
	fmt.Fprintln(out, "\nBouts heard worst (scene and seed; columns as above):")
	for _, r := range heard[:min(worst, len(heard))] {
		printListenRow(out, r)
	}
	if len(placed) == 0 {
		return
	}
	slices.SortStableFunc(placed, func(a, b ListenRow) int {
		if d := b.jams.sureWrong - a.jams.sureWrong; d != 0 {
			return d
		}
		return sign(ratio(a.jams.quarter, a.jams.on) - ratio(b.jams.quarter, b.jams.on))
	})
	fmt.Fprintln(out, "\nBouts placed worst, surely wrong jams first:")
	for _, r := range placed[:min(worst, len(placed))] {
		printListenRow(out, r)
	}
}

func sign(x float64) int {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}

func printDeciles(out io.Writer, deciles [10]decile) {
	fmt.Fprintf(out, "\nConfidence of a blast against how often it was right (all conditions; blasts count as heard from %.2g on):\n", whistle.Least)
	fmt.Fprintf(out, "%-10s %6s %6s %6s\n", "confidence", "heard", "said", "right")
	sum := decile{}
	for i, d := range deciles {
		if d.heard == 0 {
			continue
		}
		sum.heard += d.heard
		sum.brier += d.brier
		fmt.Fprintf(out, "%.1f to %.1f %6d %6.3f %6.3f\n", float64(i)/10, float64(i+1)/10, d.heard, d.said/float64(d.heard), ratio(d.right, d.heard))
	}
	fmt.Fprintf(out, "Brier score %.3f\n", sum.brier/max(1, float64(sum.heard)))
}

// printContext sets a published detector beside the table.
func printContext(out io.Writer) {
	fmt.Fprint(out, `
For context, not for comparison (other sport, other recordings, one referee): P. Kathirvel, M. Sabarimalai
Manikandan, K. P. Soman, "Automated Referee Whistle Sound Detection for Extraction of Highlights from Sports
Video", International Journal of Computer Applications 12(11), 2011, a band-pass filter and short-time energy
over 12 h 11 min of broadcast sport: 19.4 per cent failures (324 whistles found, 26 missed, 42 false).
`)
}

func printMusicOnly(ctx context.Context, out io.Writer, o ListenOptions) error {
	fmt.Fprintf(out, "\nMusic and crowd only, no bout, %v of each sound; no jam may be surer than 0.3:\n", musicLength)
	for _, t := range Tiers() {
		m, err := musicOnly(ctx, t, o.family(), o.Seed)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "%-9s %d false blasts (%.2f a minute), %d jams proposed, the surest %.3f; with a sheet of six jams %.3f\n", t.Name, m.blasts, float64(m.blasts)/musicLength.Minutes(), m.jams, m.surest, m.bySheet)
	}
	return nil
}
