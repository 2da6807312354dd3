package bench

import (
	"fmt"
	"io"
	"strings"
	"time"
)

const exactLine = "%-50s %5s %14s %7s %7s %7s %14s %7s  %s\n"

func printExactHead(w io.Writer) {
	fmt.Fprintf(w, "Clips read back from numbers drawn in the pictures and clicks in the sound.\n")
	fmt.Fprintf(w, "made: clips copied / edges encoded / encoded as a whole.\n\n")
	fmt.Fprintf(w, exactLine, "source", "clips", "made", "first", "last", "frames", "sound (worst)", "clean", "other decoder")
	fmt.Fprintf(w, "%s\n", strings.Repeat("-", 136))
}

func printExactRow(w io.Writer, r ExactRow) {
	of := func(n int) string {
		if n == r.Clips {
			return "all"
		}
		return fmt.Sprintf("%d/%d", n, r.Clips)
	}
	other := "-"
	switch {
	case r.ForeignWhy != "":
		other = r.ForeignName + " missing: " + r.ForeignWhy
	case r.ForeignName != "" && r.Foreign == r.ForeignClips:
		other = r.ForeignName + " all"
	case r.ForeignName != "":
		other = fmt.Sprintf("%s %d/%d", r.ForeignName, r.Foreign, r.ForeignClips)
	}
	fmt.Fprintf(w, exactLine, r.Kind, fmt.Sprint(r.Clips), fmt.Sprintf("%d/%d/%d", r.Copy, r.Edges, r.Reencode),
		of(r.First), of(r.Last), of(r.Count), fmt.Sprintf("%s (%.1f ms)", of(r.Sound), 1000*r.WorstSound), of(r.Clean), other)
	for _, why := range r.Why {
		fmt.Fprintf(w, "    encoded as a whole: %s\n", why)
	}
	for i, f := range r.Failures {
		if i == 8 {
			fmt.Fprintf(w, "    and %d more\n", len(r.Failures)-i)
			break
		}
		fmt.Fprintf(w, "    WRONG %s\n", f)
	}
}

func printExactFoot(w io.Writer, r ExactReport) {
	clips, exact := 0, 0
	for _, row := range r.Rows {
		clips += row.Clips
		if row.Exact() {
			exact++
		}
	}
	fmt.Fprintf(w, "\n%d of %d kinds of source exact, %d clips, %s.\n", exact, len(r.Rows), clips, r.Took.Round(time.Second))
}
