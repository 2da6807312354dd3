package bench

import (
	"fmt"
	"io"
	"time"
)

const costLine = "  %-48s %6s %10s %10s %12s %12s\n"

func printCutHead(w io.Writer) {
	fmt.Fprintf(w, costLine, "", "clips", "CPU s", "wall s", "CPU / copy", "wall / copy")
}

func printCost(w io.Writer, name string, c, base Cost) {
	cpu := "-"
	if cpuKnown {
		cpu = fmt.Sprintf("%.2f", c.CPU.Seconds())
	}
	fmt.Fprintf(w, costLine, name, fmt.Sprint(c.Clips), cpu, fmt.Sprintf("%.2f", c.Wall.Seconds()),
		fmt.Sprintf("%.2f", ratioOf(c.CPU, base.CPU)), fmt.Sprintf("%.2f", ratioOf(c.Wall, base.Wall)))
}

func printCutSum(w io.Writer, r CutRow) {
	encode := r.Encode.per(r.Copy.Film)
	n := time.Duration(max(1, r.Exact.Clips))
	fmt.Fprintf(w, "  an exact clip costs a copy plus %.2f CPU-seconds; the encode costs %.1f times the CPU and %.1f times the wall time of exact clips\n",
		((r.Exact.CPU - r.Copy.CPU) / n).Seconds(), ratioOf(encode.CPU, r.Exact.CPU), ratioOf(encode.Wall, r.Exact.Wall))
	fmt.Fprintf(w, "  (%.0f s of film in %d clips; the encode was measured on %d of them, %.0f s)\n", r.Copy.Film, r.Copy.Clips, r.Encode.Clips, r.Encode.Film)
}

func ratioOf(a, b time.Duration) float64 {
	if b <= 0 {
		return 0
	}
	return float64(a) / float64(b)
}

func printCutFoot(w io.Writer, r CutReport) {
	fmt.Fprintf(w, "\nindex of a film of %d frames (%d min) from its own tables: %.3f s; opened as footage (probe, fingerprint, index): %.3f s\n",
		r.IndexRows, r.IndexRows/1800, r.Index.Seconds(), r.Open.Seconds())
	fmt.Fprintf(w, "all in %s; ratios are of the same run on this machine.\n", r.Took.Round(time.Second))
}
