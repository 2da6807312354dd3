package align_test

import (
	"testing"
	"time"

	"whistlecut/timeline/align"
)

// TestReplay: a broadcast shows a jam again in the break behind it, with its sound.
// The jam is placed at one of its two showings, its neighbours where they are, and
// nothing wrong is called sure.
func TestReplay(t *testing.T) {
	g := game(1)
	film := listen(g, hearing{0.03, 0.03, 1, 0.1}, 9, 0, g.Duration())
	j := g.Truth.Jams[6]
	from, to := j.Start-2*time.Second, j.End+3*time.Second
	at, length := to+5*time.Second, to-from
	edited := film
	edited.Series, edited.Length = nil, film.Length+length
	for _, s := range film.Series {
		again := s
		if s.Start >= at {
			s.Start, s.End = s.Start+length, s.End+length
		}
		edited.Series = append(edited.Series, s)
		if again.Start >= from && again.Start < to {
			again.Start, again.End = again.Start-from+at, again.End-from+at
			edited.Series = append(edited.Series, again)
		}
	}
	for _, durations := range []bool{true, false} {
		res := place(t, align.Input{Films: []align.Film{edited}, Jams: known(g, durations)})
		right, sureWrong := 0, 0
		for i, x := range g.Truth.Jams {
			want := x.Start
			if want >= at {
				want += length
			}
			p := res.Jams[i]
			d := (p.Start - want).Abs()
			if x.ID == j.ID {
				d = min(d, (p.Start - (j.Start - from + at)).Abs())
			}
			switch {
			case p.Footage != "" && d < time.Second:
				right++
			case p.Confidence >= 0.9:
				sureWrong++
			}
		}
		t.Logf("durations %v: %d of %d right, %d sure and wrong", durations, right, len(res.Jams), sureWrong)
		if right < len(res.Jams)-3 || sureWrong > 0 {
			t.Errorf("durations %v: %d of %d jams right beside a replay, %d sure and wrong", durations, right, len(res.Jams), sureWrong)
		}
	}
}

// TestClock: the period clock tells the breaks where nobody hears the starts, and
// the sheet does not tell the timeouts.
func TestClock(t *testing.T) {
	g := game(2)
	film := listen(g, hearing{0.05, 0.4, 1, 0.2}, 11, 0, g.Duration())
	score := func(clock bool) (second int) {
		jams := known(g, true)
		for i, x := range g.Truth.Jams {
			jams[i].Timeouts = -1
			if clock {
				jams[i].Clock, jams[i].ClockKnown = x.ClockAtStart.Round(time.Second), true
			}
		}
		res := place(t, align.Input{Films: []align.Film{film}, Jams: jams})
		for i, x := range g.Truth.Jams {
			if p := res.Jams[i]; p.Footage != "" && (p.Start-x.Start).Abs() < time.Second {
				second++
			} else if p.Confidence >= 0.9 {
				t.Errorf("clock %v: jam %d.%d is sure and wrong: at %v to %v, true %v to %v, %.2f, heard %v", clock, x.Period, x.Number, p.Start, p.End, x.Start, x.End, p.Confidence, p.StartHeard)
			}
		}
		return second
	}
	with, without := score(true), score(false)
	t.Logf("of %d jams %d within 1 s with the clock, %d without", len(g.Truth.Jams), with, without)
	if with < without || float64(with) < 0.85*float64(len(g.Truth.Jams)) {
		t.Errorf("with the clock %d of %d jams are placed, without %d", with, len(g.Truth.Jams), without)
	}
}
