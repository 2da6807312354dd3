// Package terms writes what every part of the desk names alike: the sides, and
// times as people read them.
package terms

import (
	"fmt"
	"time"

	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Side names a side in the language spoken; "" for none.
func Side(s timeline.Side) string {
	switch s {
	case timeline.Home:
		return words.T("home")
	case timeline.Away:
		return words.T("away")
	}
	return ""
}

// Clock writes a time as m:ss or h:mm:ss, with so many decimals of a second.
func Clock(d time.Duration, decimals int) string {
	sign := ""
	if d < 0 {
		sign, d = "-", -d
	}
	unit := time.Second
	for range decimals {
		unit /= 10
	}
	d = d.Round(unit)
	h, m, s := int(d/time.Hour), int(d/time.Minute)%60, (d % time.Minute).Seconds()
	width := 2
	if decimals > 0 {
		width = 3 + decimals
	}
	if h > 0 {
		return fmt.Sprintf("%s%d:%02d:%0*.*f", sign, h, m, width, decimals, s)
	}
	return fmt.Sprintf("%s%d:%0*.*f", sign, m, width, decimals, s)
}
