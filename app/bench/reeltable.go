package bench

import (
	"fmt"
	"io"
)

const reelLine = "  %-58s %9s %9s %8s %12s %12s\n"

func printReelHead(w io.Writer) {
	fmt.Fprintf(w, reelLine, "", "CPU s", "wall s", "MB", "CPU / graph", "wall / graph")
}

func printReelCost(w io.Writer, name string, c, base Cost, bytes int64) {
	cpu, ratio := "-", "-"
	if cpuKnown {
		cpu, ratio = fmt.Sprintf("%.2f", c.CPU.Seconds()), fmt.Sprintf("%.2f", ratioOf(c.CPU, base.CPU))
	}
	fmt.Fprintf(w, reelLine, name, cpu, fmt.Sprintf("%.2f", c.Wall.Seconds()), fmt.Sprintf("%.1f", float64(bytes)/1e6), ratio,
		fmt.Sprintf("%.2f", ratioOf(c.Wall, base.Wall)))
}
