package terms

import (
	"testing"
	"time"
)

func TestClock(t *testing.T) {
	for _, c := range []struct {
		name     string
		d        time.Duration
		decimals int
		want     string
	}{
		{"seconds", 48 * time.Second, 0, "0:48"},
		{"tenths", 46900 * time.Millisecond, 1, "0:46.9"},
		{"hundredths", 12*time.Minute + 30250*time.Millisecond, 2, "12:30.25"},
		{"rounds into the next minute", 59960 * time.Millisecond, 1, "1:00.0"},
		{"hours", time.Hour + 2*time.Minute + 3400*time.Millisecond, 1, "1:02:03.4"},
		{"before the jam", -1500 * time.Millisecond, 1, "-0:01.5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Clock(c.d, c.decimals); got != c.want {
				t.Errorf("%v is written %q, want %q", c.d, got, c.want)
			}
		})
	}
}
