package numbers

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
)

func TestReportOfTwoJams(t *testing.T) {
	r := ReportOf(twoJams().source())
	home, away := r.Sides[0], r.Sides[1]
	if r.Score != [2]timeline.Range{exactly(10), exactly(13)} || r.Logged != 2 {
		t.Fatalf("score %v of %d jams", r.Score, r.Logged)
	}
	// Home's position: jams by 1 and 6, one lead of two; trips 2, 3 and 2, 3: 10 points on 4.
	if m := home.Jamming; m.Jams != 2 || m.StarPass != 1 || m.Lead.Low != 1 || m.Lead.Of != 2 || m.Trips != 4 || m.Points != exactly(10) {
		t.Errorf("home's jammers %+v", m)
	}
	var who []timeline.Number
	for _, j := range home.Jammers {
		who = append(who, j.Skater.Number)
	}
	if d := cmp.Diff([]timeline.Number{"1", "2", "6"}, who); d != "" {
		t.Errorf("jammers (-want +got):\n%s", d)
	}
	// 2 3 4 5 skated both jams together: six pairs, all +1 and -4.
	if len(home.Groups) != 1 || home.Groups[0].Key() != "2 3 4 5" || home.Groups[0].Stint.PerJam.Mean != -1.5 || len(home.Pairs) != 6 {
		t.Errorf("line-ups %+v", home.Groups)
	}
	if len(away.Groups) != 1 || away.Groups[0].Stint.PerJam.Mean != 1.5 || home.GroupsUnknown != 0 {
		t.Errorf("away's line-ups %+v", away.Groups)
	}
	// The star went to 2, who completed trips of 0, 3 and 0.
	if s := home.StarPass; s.Completed != 1 || s.Failed != 0 || s.Points != exactly(3) || s.Jams.For != exactly(3) || s.Jams.Against != exactly(7) {
		t.Errorf("star passes %+v", s)
	}
	if p := home.Penalties; p.Total != 1 || len(p.ByCode) != 1 || p.ByCode[0].Code != "X" || !cmp.Equal(p.ByCode[0].ByPeriod, []int{1}) {
		t.Errorf("penalties %+v", p)
	}
	// 4:0, 4:2, 4:6 (lead to away), 7:6 (to home); jam 2: 7:10 (to away), 7:11, 10:11, 10:13.
	var to []timeline.Side
	for _, c := range r.LeadChanges {
		to = append(to, c.To)
	}
	if d := cmp.Diff([]timeline.Side{timeline.Away, timeline.Home, timeline.Away}, to); d != "" {
		t.Errorf("lead changes (-want +got):\n%s", d)
	}
	var margins []int
	for _, s := range r.Steps {
		margins = append(margins, s.Margin.Low)
	}
	if d := cmp.Diff([]int{4, 2, -2, 1, -3, -4, -1, -3}, margins); d != "" {
		t.Errorf("margins (-want +got):\n%s", d)
	}
	// Runs: home 4; away 2+4; home 3; away 4+1; home 3; away 2.
	type run struct {
		side   timeline.Side
		points int
	}
	var got []run
	for _, x := range r.Runs {
		if !x.Sure {
			t.Errorf("run %+v is not sure", x)
		}
		got = append(got, run{x.Side, x.Points.Low})
	}
	want := []run{{timeline.Away, 6}, {timeline.Away, 5}, {timeline.Home, 4}, {timeline.Home, 3}, {timeline.Home, 3}, {timeline.Away, 2}}
	if d := cmp.Diff(want, got, cmp.AllowUnexported(run{})); d != "" {
		t.Errorf("runs (-want +got):\n%s", d)
	}
}

// Home's jammer is called at 20, sits at 25 and is out at 55 of a jam of 60 s: a
// power jam for away of 35 s from the call. Away's 4 at 30 and 3 at 50 are in it,
// the 2 at 60 are not; home's 1 at 15 and 2 at 60 are not.
func TestPowerJams(t *testing.T) {
	b := newBench()
	b.starts(1, 60, ravens, wolves)
	p := b.penalty(timeline.Home, "1", "B", 20)
	b.sits(timeline.Home, "1", 25, "j1", 55, p)
	b.trip(timeline.Home, 2, 1, 15, false)
	b.trip(timeline.Home, 3, 2, 60, true)
	b.trip(timeline.Away, 2, 4, 30, false)
	b.trip(timeline.Away, 3, 3, 50, false)
	b.trip(timeline.Away, 4, 2, 60, true)
	r := ReportOf(b.source())
	pj := r.Sides[1].PowerJams
	if pj.N != 1 || pj.Jams != 1 || pj.Time != 35*time.Second || pj.Scored.Range != exactly(7) || pj.Conceded.Range != exactly(0) || pj.Scored.Basis != ByTrips {
		t.Errorf("%+v", pj)
	}
	if pj.List[0].Boxed != (timeline.SkaterRef{Side: timeline.Home, Number: "1"}) || r.Sides[0].PowerJams.N != 0 {
		t.Errorf("%+v", pj.List)
	}
}

func TestRunsThatNobodySawTheEndOf(t *testing.T) {
	b := newBench()
	b.starts(1, 60, ravens, wolves)
	b.trip(timeline.Home, 2, 4, 30, false)
	b.starts(1, 60, ravens, wolves) // nobody logged it
	b.starts(1, 60, ravens, wolves)
	b.trip(timeline.Home, 2, 3, 30, false)
	b.trip(timeline.Away, 2, 2, 50, false)
	b.trip(timeline.Home, 3, 1, 60, true) // both at the end of the jam
	b.trip(timeline.Away, 3, 1, 60, true)
	b.starts(1, 60, ravens, wolves)
	b.trip(timeline.Home, 2, 4, untimed, false) // both scored, nobody knows when
	b.trip(timeline.Away, 2, 4, untimed, false)
	b.starts(1, 60, ravens, wolves)
	b.trip(timeline.Home, 2, 2, untimed, false) // home alone: the order is known
	r := ReportOf(b.source())
	type run struct {
		Side   timeline.Side
		Points int
		Sure   bool
	}
	var got []run
	for _, x := range r.Runs {
		got = append(got, run{x.Side, x.Points.Low, x.Sure})
	}
	want := []run{{timeline.Home, 4, false}, {timeline.Home, 3, false}, {timeline.Away, 2, false}, {timeline.Home, 2, false}}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if r.Unlogged != [2]int{1, 1} || r.Steps[len(r.Steps)-1].Known {
		t.Errorf("unlogged %v; the last margin passes for known", r.Unlogged)
	}
}

// Worked by hand: 1, 2, 3, 4 have mean 2.5, s = √(5/3) = 1.29099, t(0.975, 3) =
// 3.18245: half the interval is 3.18245·1.29099/2 = 2.05426.
func TestMean(t *testing.T) {
	m := meanOf([]float64{1, 2, 3, 4})
	if m.Mean != 2.5 || math.Abs(m.High-2.5-2.05426) > 1e-4 || math.Abs(2.5-m.Low-2.05426) > 1e-4 || !m.HasInterval {
		t.Errorf("%+v", m)
	}
	if m := meanOf(nil); m.N != 0 || m.HasInterval || m.Mean != 0 {
		t.Errorf("of nothing: %+v", m)
	}
	if m := meanOf([]float64{3}); m.HasInterval || m.Mean != 3 {
		t.Errorf("of one: %+v", m)
	}
}

// 5 of 10: z = 1.95996, z² = 3.84146. Centre (0.5 + 0.192073)/1.384146 = 0.5; half =
// 1.95996/1.384146·√(0.025 + 0.0096036) = 0.263405.
func TestShare(t *testing.T) {
	s := shareOf(5, 5, 10)
	if math.Abs(s.From-0.236595) > 1e-5 || math.Abs(s.To-0.763405) > 1e-5 || s.Small {
		t.Errorf("%+v", s)
	}
	if s := shareOf(0, 0, 5); s.From != 0 || !s.Small {
		t.Errorf("none of five: %+v", s)
	}
	if _, ok := shareOf(0, 0, 0).Value(); ok {
		t.Error("a share of nothing has a value")
	}
}

func TestUnion(t *testing.T) {
	s := func(jam int, from, to float64) stretch { return stretch{jam: jam, from: sec(from), to: sec(to)} }
	whole := stretch{jam: 1, toEnd: true}
	for _, c := range []struct {
		name     string
		in, want []stretch
	}{
		{"apart", []stretch{s(1, 0, 5), s(1, 10, 15)}, []stretch{s(1, 0, 5), s(1, 10, 15)}},
		{"touching", []stretch{s(1, 0, 5), s(1, 5, 15)}, []stretch{s(1, 0, 15)}},
		{"the later one first", []stretch{s(1, 5, 15), s(1, 0, 6)}, []stretch{s(1, 0, 15)}},
		{"a bridge", []stretch{s(1, 0, 5), s(1, 10, 15), s(1, 4, 11)}, []stretch{s(1, 0, 15)}},
		{"other jams", []stretch{s(1, 0, 5), s(2, 0, 5)}, []stretch{s(1, 0, 5), s(2, 0, 5)}},
		{"all of the jam takes the rest in", []stretch{s(1, 3, 5), whole}, []stretch{whole}},
		{"to the end", []stretch{s(1, 3, 8), {jam: 1, from: sec(5), toEnd: true}}, []stretch{{jam: 1, from: sec(3), to: sec(8), toEnd: true}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if d := cmp.Diff(c.want, union(c.in), cmp.AllowUnexported(stretch{})); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
		})
	}
}
