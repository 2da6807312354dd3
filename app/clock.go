package app

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// Clock writes a time as h:mm:ss.mmm, without the hours when there are none:
// "12:30.250".
func Clock(d time.Duration) string {
	sign := ""
	if d < 0 {
		sign, d = "-", -d
	}
	ms := d.Round(time.Millisecond).Milliseconds()
	h, m, s, frac := ms/3600000, ms/60000%60, ms/1000%60, ms%1000
	if h > 0 {
		return fmt.Sprintf("%s%d:%02d:%02d.%03d", sign, h, m, s, frac)
	}
	return fmt.Sprintf("%s%d:%02d.%03d", sign, m, s, frac)
}

// ParseClock reads a time as people write it: "12:30", "1:02:03.5", "90.25",
// "90.25s", "2m5s". A decimal comma counts as a point.
func ParseClock(text string) (time.Duration, error) {
	t := strings.ReplaceAll(strings.TrimSpace(text), ",", ".")
	bad := func() (time.Duration, error) {
		return 0, fmt.Errorf("%q is not a time; write 12:30, 1:02:03.5 or 90.25", text)
	}
	if t == "" {
		return bad()
	}
	if strings.ContainsAny(t, "hms") {
		d, err := time.ParseDuration(t)
		if err != nil || d < 0 {
			return bad()
		}
		return d, nil
	}
	parts := strings.Split(t, ":")
	if len(parts) > 3 {
		return bad()
	}
	total := 0.0
	for i, p := range parts {
		last := i == len(parts)-1
		if p == "" || strings.Trim(p, "0123456789.") != "" || !last && strings.Contains(p, ".") {
			return bad()
		}
		v, err := strconv.ParseFloat(p, 64)
		if err != nil || i > 0 && v >= 60 {
			return bad()
		}
		total = total*60 + v
	}
	if total > 1e6 {
		return bad()
	}
	return time.Duration(math.Round(total * float64(time.Second))), nil
}

// seconds is a duration of s seconds, rounded to the nanosecond.
func seconds(s float64) time.Duration { return time.Duration(math.Round(s * float64(time.Second))) }
