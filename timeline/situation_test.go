package timeline

import (
	"testing"
	"time"
)

func (m *boutMaker) penalty(id, jam ID, s Side, who Number, code string, at time.Duration) ID {
	return m.add(Tag{ID: id, Kind: KindPenalty, Place: InJam(jam, at), Side: s, Who: Who{Number: who}, Penalty: &PenaltyInfo{Code: code}})
}

// box adds a visit; out is nil when nobody tagged the release.
func (m *boutMaker) box(id, jam ID, s Side, who Number, in time.Duration, out *Place) ID {
	info := &BoxInfo{}
	if out != nil {
		info.Out = *out
	}
	return m.add(Tag{ID: id, Kind: KindBox, Place: InJam(jam, in), Side: s, Who: Who{Number: who}, Box: info})
}

// outAt is a release.
func outAt(jam ID, at time.Duration) *Place {
	p := InJam(jam, at)
	return &p
}

// oneJam lines up both sides in one jam of 90 s, jammers 1 and 2.
func oneJam() *boutMaker {
	m := newBout()
	m.jam("j1", 1, 1)
	m.lineup("j1", Home, "1", "10", "11", "12", "13")
	m.lineup("j1", Away, "2", "20", "21", "22", "23")
	return m
}

func situationsOf(j Jam, k SituationKind) (out []Situation) {
	for _, s := range j.Situations {
		if s.Kind == k {
			out = append(out, s)
		}
	}
	return out
}

func TestPowerJam(t *testing.T) {
	type want struct {
		side     Side
		from, to float64
		who      Number
	}
	tests := []struct {
		name string
		make func(m *boutMaker)
		want []want
	}{
		{"from the call to the release", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "1", "X", sec(20))
			m.box("b", "j1", Home, "1", sec(26), outAt("j1", sec(56)))
		}, []want{{Away, 20, 56, "1"}}},
		{"box alone: from sitting down", func(m *boutMaker) {
			m.box("b", "j1", Home, "1", sec(26), outAt("j1", sec(56)))
		}, []want{{Away, 26, 56, "1"}}},
		{"to the end of the jam", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "1", "X", sec(70))
			m.box("b", "j1", Home, "1", sec(75), nil)
		}, []want{{Away, 70, 90, "1"}}},
		// Sits at 26, owes 30 s of jam time: out at 56.
		{"release by the rules", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "1", "X", sec(20))
			m.box("b", "j1", Home, "1", sec(26), nil)
		}, []want{{Away, 20, 56, "1"}}},
		{"penalty without a box visit: a penalty's time at least", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "1", "X", sec(20))
		}, []want{{Away, 20, 50, "1"}}},
		{"a blocker's penalty makes none", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "11", "X", sec(20))
			m.box("b", "j1", Home, "11", sec(26), outAt("j1", sec(56)))
		}, nil},
		// 4.4.2, case 2: W sits at 10, R is called at 25 and sits at 31: W is out at 31
		// with 21 s served, R owes 21 and is out at 52. Until 25 R's side has the power
		// jam; from 25 to 31 neither can score; from 31 to 52 W's side has it.
		{"the other jammer too", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "1", "X", sec(5))
			m.box("b", "j1", Home, "1", sec(10), nil)
			m.penalty("q", "j1", Away, "2", "F", sec(25))
			m.box("c", "j1", Away, "2", sec(31), nil)
		}, []want{{Away, 5, 25, "1"}, {Home, 31, 52, "2"}}},
		// The pivot 10 is jammer from 30 on: her penalty counts, the old jammer's later
		// one does not.
		{"after a star pass", func(m *boutMaker) {
			m.add(Tag{Kind: KindStarPass, Place: InJam("j1", sec(30)), Side: Home, StarPass: &StarPassInfo{To: Who{Number: "10"}, Complete: true}})
			m.penalty("p", "j1", Home, "10", "X", sec(40))
			m.box("b", "j1", Home, "10", sec(45), outAt("j1", sec(75)))
			m.penalty("q", "j1", Home, "1", "X", sec(78))
			m.box("c", "j1", Home, "1", sec(82), nil)
		}, []want{{Away, 40, 75, "10"}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := oneJam()
			tt.make(m)
			got := situationsOf(Derive(m.f).Jams[0], SitPowerJam)
			if len(got) != len(tt.want) {
				t.Fatalf("got %+v, want %v", got, tt.want)
			}
			for i, w := range tt.want {
				g := got[i]
				if g.Side != w.side || g.Who != w.who || g.Range != (TimeRange{sec(w.from), sec(w.to)}) || len(g.Why) == 0 || g.Why[0].Section == "" {
					t.Errorf("got %+v, want %v", g, w)
				}
			}
		})
	}
}

// A jammer who sits at 75 of a 90 s jam has 15 s left to serve in the next one:
// the power jam goes on there for 15 s, and she is boxed at its start.
func TestPowerJamGoesOn(t *testing.T) {
	m := oneJam()
	m.jam("j2", 1, 2)
	m.lineup("j2", Home, "1", "10", "11", "12", "13")
	m.lineup("j2", Away, "3", "20", "21", "22", "23")
	m.penalty("p", "j1", Home, "1", "X", sec(70))
	m.box("b", "j1", Home, "1", sec(75), nil)
	b := Derive(m.f)
	got := situationsOf(b.Jams[1], SitPowerJam)
	if len(got) != 1 || got[0].Side != Away || got[0].Range != (TimeRange{0, sec(15)}) {
		t.Errorf("second jam: %+v, want 0 to 15 s for away", got)
	}
	if !b.Jams[1].Sides[0].BoxedAtStar["1"] || b.Jams[0].Sides[0].BoxedAtStar["1"] {
		t.Errorf("boxed at start: %v, %v", b.Jams[0].Sides[0].BoxedAtStar, b.Jams[1].Sides[0].BoxedAtStar)
	}
	v := b.Visits[0]
	if !v.Computed || !v.Known || v.Served != sec(30) || v.OutJam != 1 || v.Out != sec(15) || v.Role != Jammer || len(v.Penalties) != 1 {
		t.Errorf("visit %+v", v)
	}
}

// Home loses blocker 11 from 10 to 50 and 12 from 20 to 60; away loses 21 from
// 40 to 90. Home is short by 1 from 10, by 2 from 20, by 1 again from 40 (2-1)
// and level from 50 (1-1); away is short by 1 from 60.
func TestShortHanded(t *testing.T) {
	m := oneJam()
	m.box("a", "j1", Home, "11", sec(10), outAt("j1", sec(50)))
	m.box("b", "j1", Home, "12", sec(20), outAt("j1", sec(60)))
	m.box("c", "j1", Away, "21", sec(40), outAt("j1", sec(90)))
	want := []Situation{
		{Side: Home, N: 1, Range: TimeRange{sec(10), sec(20)}},
		{Side: Home, N: 2, Range: TimeRange{sec(20), sec(40)}},
		{Side: Home, N: 1, Range: TimeRange{sec(40), sec(50)}},
		{Side: Away, N: 1, Range: TimeRange{sec(60), sec(90)}},
	}
	got := situationsOf(Derive(m.f).Jams[0], SitShort)
	if len(got) != len(want) {
		t.Fatalf("got %+v", got)
	}
	for i, w := range want {
		if got[i].Side != w.Side || got[i].N != w.N || got[i].Range != w.Range {
			t.Errorf("stretch %d: %+v, want %+v", i, got[i], w)
		}
	}
}

func TestStatusSituations(t *testing.T) {
	tests := []struct {
		name string
		make func(m *boutMaker)
		kind SituationKind
		side Side
		from float64 // -1: the whole jam
		not  bool
	}{
		{"no lead", func(m *boutMaker) {
			m.trip("j1", Home, 2, 3, sec(50))
			m.jam("j2", 1, 2)
			m.at(KindLead, "j2", Away, "2", sec(9))
		}, SitNoLead, NoSide, -1, false},
		{"no lead is not said where nobody logged", func(m *boutMaker) {
			m.jam("j2", 1, 2)
			m.at(KindLead, "j2", Away, "2", sec(9))
		}, SitNoLead, NoSide, -1, true},
		{"lead lost by a penalty", func(m *boutMaker) {
			m.at(KindLead, "j1", Home, "1", sec(9))
			m.penalty("p", "j1", Home, "1", "X", sec(33))
		}, SitLeadLost, Home, 33, false},
		{"lead lost by passing the star, completed or not", func(m *boutMaker) {
			m.at(KindLead, "j1", Home, "1", sec(9))
			m.add(Tag{Kind: KindStarPass, Place: InJam("j1", sec(44)), Side: Home, StarPass: &StarPassInfo{}})
		}, SitLeadLost, Home, 44, false},
		{"a blocker's penalty keeps lead", func(m *boutMaker) {
			m.at(KindLead, "j1", Home, "1", sec(9))
			m.penalty("p", "j1", Home, "11", "X", sec(33))
		}, SitLeadLost, Home, 0, true},
		{"star pass", func(m *boutMaker) {
			m.add(Tag{Kind: KindStarPass, Place: InJam("j1", sec(44)), Side: Away, StarPass: &StarPassInfo{Complete: true}})
		}, SitStarPass, Away, 44, false},
		{"called", func(m *boutMaker) {
			m.at(KindLead, "j1", Away, "2", sec(9))
			m.at(KindCall, "j1", Away, "2", sec(88))
		}, SitCalled, Away, 88, false},
		{"called, told by how the jam ended", func(m *boutMaker) {
			m.at(KindLead, "j1", Away, "2", sec(9))
			m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 1, Order: 1, End: InJam("j1", sec(80)), Ended: EndCalled}})
		}, SitCalled, Away, 80, false},
		{"full two minutes", func(m *boutMaker) {
			m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 1, Order: 1, End: InJam("j1", sec(121))}})
		}, SitFullTime, NoSide, -1, false},
		{"injury", func(m *boutMaker) { m.at(KindInjury, "j1", NoSide, "", sec(70)) }, SitInjury, NoSide, -1, false},
		{"overtime", func(m *boutMaker) {
			m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 2, Order: 1, Overtime: true}})
		}, SitOvertime, NoSide, -1, false},
		{"last jam of the period", func(m *boutMaker) { m.jam("j2", 2, 1) }, SitLastJam, NoSide, -1, false},
		{"not the last jam", func(m *boutMaker) { m.jam("j2", 1, 2) }, SitLastJam, NoSide, -1, true},
		{"no pivot", func(m *boutMaker) {
			m.jam("j0", 1, 0)
			m.lineup("j0", Home, "1", "", "11", "12", "13", "14")
		}, SitNoPivot, Home, -1, false},
		{"scoreless", func(m *boutMaker) {
			m.trip("j1", Home, 2, 0, sec(60))
			m.trip("j1", Away, 1, 0, sec(70))
		}, SitScoreless, NoSide, -1, false},
		{"ten points or more", func(m *boutMaker) {
			for n := 2; n <= 4; n++ {
				m.trip("j1", Away, n, 4, sec(float64(n)*20))
			}
		}, SitBigJam, Away, -1, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := oneJam()
			tt.make(m)
			j := Derive(m.f).Jams[0]
			got := situationsOf(j, tt.kind)
			if tt.not {
				if len(got) > 0 {
					t.Fatalf("found %+v", got)
				}
				return
			}
			if len(got) != 1 || got[0].Side != tt.side || got[0].Whole != (tt.from < 0) || !got[0].Whole && got[0].Range.Start != sec(tt.from) {
				t.Fatalf("got %+v", j.Situations)
			}
			if len(got[0].Why) == 0 {
				t.Error("no reason")
			}
		})
	}
}

// 7 foul a skater out: with her 6th penalty in jam 1 at 40 s skater 11 is one
// away until her 7th in jam 2 at 30 s; in jam 3 she is fielded against the rules.
func TestNearFoulOut(t *testing.T) {
	m := oneJam()
	for k := range 6 {
		m.penalty(ID("p"+string(rune('1'+k))), "j1", Home, "11", "X", sec(float64(k+1)*40/6))
	}
	for _, id := range []ID{"j2", "j3"} {
		m.jam(id, 1, float64(id[1]))
		m.lineup(id, Home, "1", "10", "11", "12", "13")
	}
	m.penalty("p7", "j2", Home, "11", "C", sec(30))
	b := Derive(m.f)
	x, y := situationsOf(b.Jams[0], SitNearFoulOut), situationsOf(b.Jams[1], SitNearFoulOut)
	if len(x) != 1 || x[0].Range != (TimeRange{sec(40), sec(90)}) || x[0].Who != "11" {
		t.Errorf("jam 1: %+v", x)
	}
	if len(y) != 1 || y[0].Range != (TimeRange{0, sec(30)}) || y[0].Whole {
		t.Errorf("jam 2: %+v", y)
	}
	if z := situationsOf(b.Jams[2], SitNearFoulOut); len(z) != 0 {
		t.Errorf("jam 3: %+v", z)
	}
	if len(b.Fouls) != 1 || b.Fouls[0].FouledOut != "p7" || len(b.Fouls[0].Penalties) != 7 {
		t.Errorf("fouls %+v", b.Fouls)
	}
	if !hasProblem(b, ProblemRule, "j3") {
		t.Error("fielding a fouled-out skater is not reported")
	}
	if w := b.WhyFoulOut(SkaterRef{Home, "11"}); len(w) != 1 || w[0].Section != "4.5" || len(w[0].Tags) != 7 {
		t.Errorf("why %+v", w)
	}
}

// Jam 1: home 4 at 30 s; away 4 at 60 s (tied 4:4), home 3 at 80 s (leads again:
// no change). Jam 2: away 4 at 50 s, 8:7, the lead changes.
func TestScoreSituations(t *testing.T) {
	m := oneJam()
	m.trip("j1", Home, 2, 4, sec(30))
	m.trip("j1", Away, 2, 4, sec(60))
	m.trip("j1", Home, 3, 3, sec(80))
	m.jam("j2", 1, 2)
	m.trip("j2", Away, 2, 4, sec(50))
	b := Derive(m.f)
	if x := situationsOf(b.Jams[0], SitTied); len(x) != 1 || x[0].Range.Start != sec(60) {
		t.Errorf("tied: %+v", x)
	}
	if x := situationsOf(b.Jams[0], SitLeadChange); len(x) != 0 {
		t.Errorf("home led before the tie and after: %+v", x)
	}
	if x := situationsOf(b.Jams[1], SitLeadChange); len(x) != 1 || x[0].Side != Away || x[0].Range.Start != sec(50) {
		t.Errorf("lead change: %+v", x)
	}
	for at, want := range map[float64][2]int{10: {0, 0}, 30: {4, 0}, 79: {4, 4}, 85: {7, 4}} {
		if got, timed := b.Jams[0].ScoreAt(sec(at)); !timed || got != [2]Range{Exactly(want[0]), Exactly(want[1])} {
			t.Errorf("score at %v s is %v, want %v", at, got, want)
		}
	}
	// One trip not seen: nothing about the score after it is sure.
	for id, tag := range m.f.Tags {
		if tag.Kind == KindTrip && tag.Trip.Points == 3 {
			tag.Seen = NotSeen
			m.f.Tags[id] = tag
		}
	}
	if x := situationsOf(Derive(m.f).Jams[1], SitLeadChange); len(x) != 0 {
		t.Errorf("home has 4 to 8, away 8: a lead change is not sure, yet %+v", x)
	}
}
