package app

import (
	"testing"
	"time"
)

func TestParseClock(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       time.Duration
		bad        bool
	}{
		{"minutes and seconds", "12:30", 12*time.Minute + 30*time.Second, false},
		{"hours", "1:02:03.5", time.Hour + 2*time.Minute + 3500*time.Millisecond, false},
		{"seconds alone", "90.25", 90250 * time.Millisecond, false},
		{"decimal comma", "90,25", 90250 * time.Millisecond, false},
		{"with units", "2m5s", 125 * time.Second, false},
		{"seconds with unit", "7.5s", 7500 * time.Millisecond, false},
		{"minutes over an hour", "75:00", 75 * time.Minute, false},
		{"sixty seconds in a minute", "1:60", 0, true},
		{"negative", "-3", 0, true},
		{"negative with unit", "-3s", 0, true},
		{"words", "start", 0, true},
		{"empty", " ", 0, true},
		{"point in the minutes", "1.5:30", 0, true},
		{"exponent", "1e9", 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := ParseClock(c.text)
			if (err != nil) != c.bad || got != c.want {
				t.Errorf("ParseClock(%q) = %v, %v; want %v, error %v", c.text, got, err, c.want, c.bad)
			}
		})
	}
}

func TestClockReadsBack(t *testing.T) {
	for _, d := range []time.Duration{0, 999 * time.Millisecond, 59999 * time.Millisecond, time.Hour, 90*time.Minute + 7*time.Millisecond} {
		got, err := ParseClock(Clock(d))
		if err != nil || got != d {
			t.Errorf("ParseClock(Clock(%v)) = %v, %v", d, got, err)
		}
	}
}
