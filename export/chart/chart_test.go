package chart

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

func TestStep(t *testing.T) {
	for _, c := range []struct {
		span float64
		n    int
		want float64
	}{{12, 6, 2}, {5, 6, 1}, {1, 6, 1}, {40, 6, 10}, {100, 6, 20}, {61, 6, 20}, {29, 6, 5}, {400, 6, 100}} {
		if got := Step(c.span, c.n); got != c.want {
			t.Errorf("a span of %g in %d: %g, want %g", c.span, c.n, got, c.want)
		}
	}
}

func exact(n int) timeline.Range { return timeline.Exactly(n) }

func TestPerJam(t *testing.T) {
	r := numbers.Report{PerJam: []numbers.JamPoints{
		{Points: [2]timeline.Range{exact(7), {Low: 1, High: 3}}, Logged: [2]bool{true, true}},
		{Logged: [2]bool{true, false}},
	}}
	want := Chart{
		Jams: 2, Low: -5, High: 8,
		Boxes: []Box{
			{0.15, 0.85, 0, 7, timeline.Home, true},
			{0.15, 0.85, -1, 0, timeline.Away, true},
			{0.15, 0.85, -3, -1, timeline.Away, false},
		},
		Unknown: []Spot{{1.5, -1.2}},
	}
	if d := cmp.Diff(want, PerJam(r)); d != "" {
		t.Error(d)
	}
}

func TestMargin(t *testing.T) {
	r := numbers.Report{
		PerJam: []numbers.JamPoints{{Duration: time.Minute}, {Duration: time.Minute}},
		Steps: []numbers.Step{
			{Index: 0, At: 30 * time.Second, Timed: true, Margin: exact(4)},
			{Index: 1, Margin: timeline.Range{Low: -3, High: -1}},
		},
	}
	c := Margin(r)
	if d := cmp.Diff([]Box{{0.5, 2, 0, 4, timeline.Home, true}}, c.Boxes); d != "" {
		t.Error(d)
	}
	want := []Line{{0, 0, 0.5, 0}, {0.5, 0, 0.5, 4}, {0.5, 4, 2, 4}, {2, 4, 2, -3}, {2, 4, 2, -1}}
	if d := cmp.Diff(want, c.Lines); d != "" {
		t.Error(d)
	}
	if c.Low != -5 || c.High != 5 || len(c.Levels()) < 3 {
		t.Errorf("field %g to %g, levels %v", c.Low, c.High, c.Levels())
	}
	if c := Margin(numbers.Report{}); len(c.Boxes)+len(c.Lines) != 0 || c.High <= c.Low {
		t.Errorf("a bout without jams: %+v", c)
	}
}
