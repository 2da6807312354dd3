package sheet

import (
	"testing"
	"time"
)

func TestParseGameTime(t *testing.T) {
	for _, c := range []struct {
		text string
		want time.Duration
		ok   bool
	}{
		{"2:00", 2 * time.Minute, true},
		{"0:01:30", 90 * time.Second, true},
		{"01:30.50", 90500 * time.Millisecond, true},
		{"95", 95 * time.Second, true},
		{"02:00:00 AM", 2 * time.Minute, true}, // 2:00 taken for two o'clock
		{"12:09:00 AM", 9 * time.Second, true},
		{"12:30:00 PM", 12*time.Minute + 30*time.Second, true},
		{"01:05:00 PM", 13*time.Minute + 5*time.Second, true},
		{"30:00:00", 30 * time.Minute, true}, // 30:00 taken for thirty hours
		{"1:47:00", 107 * time.Second, true},
		{"PT27H30M00S", 27*time.Minute + 30*time.Second, true},
		{"1:47:12", time.Hour + 47*time.Minute + 12*time.Second, true}, // nobody types this for a jam
		{"61:00", 61 * time.Minute, true},
		{"AM", 0, false},
		{"2:00 of it", 0, false},
	} {
		t.Run(c.text, func(t *testing.T) {
			if got, ok := parseGameTime(c.text); got != c.want || ok != c.ok {
				t.Errorf("read as %v, %v; want %v, %v", got, ok, c.want, c.ok)
			}
		})
	}
}
