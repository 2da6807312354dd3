package caption

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// clock writes a time as both formats do: hours, minutes, seconds, milliseconds,
// which stand behind point.
func clock(d time.Duration, point string) string {
	ms := d.Milliseconds()
	return fmt.Sprintf("%02d:%02d:%02d%s%03d", ms/3_600_000, ms/60_000%60, ms/1000%60, point, ms%1000)
}

// mostHours keeps times within what a Duration holds.
const mostHours = 100_000

// parseClock reads what clock writes; hours may be missing, and both points are
// taken.
func parseClock(s string) (time.Duration, bool) {
	whole, ms, ok := strings.Cut(strings.Replace(s, ",", ".", 1), ".")
	fields := strings.Split(whole, ":")
	if !ok || len(ms) != 3 || len(fields) < 2 || len(fields) > 3 {
		return 0, false
	}
	if len(fields) == 2 {
		fields = append([]string{"0"}, fields...)
	}
	var n [4]int64
	for i, f := range append(fields, ms) {
		v, err := strconv.ParseUint(f, 10, 32)
		if err != nil || i > 0 && i < 3 && (v > 59 || len(f) != 2) || i == 0 && v > mostHours {
			return 0, false
		}
		n[i] = int64(v)
	}
	return time.Duration(((n[0]*60+n[1])*60+n[2])*1000+n[3]) * time.Millisecond, true
}

// parseTiming reads "start --> end", settings behind it are skipped.
func parseTiming(line string) (start, end time.Duration, err error) {
	from, to, _ := strings.Cut(line, "-->")
	fields := strings.Fields(to)
	if len(fields) == 0 {
		return 0, 0, fmt.Errorf("%q has no end; want 00:00:01.000 --> 00:00:02.500", line)
	}
	for _, x := range []struct {
		text string
		to   *time.Duration
	}{{strings.TrimSpace(from), &start}, {fields[0], &end}} {
		d, ok := parseClock(x.text)
		if !ok {
			return 0, 0, fmt.Errorf("%q is no time; want one such as 00:01:02.500", x.text)
		}
		*x.to = d
	}
	if end < start {
		return 0, 0, fmt.Errorf("%q ends before it begins", line)
	}
	return start, end, nil
}
