package timeline

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

// What one side's trips count, by tags: home's trips of one jam.
func TestTripsAsTagged(t *testing.T) {
	type trip struct {
		n, points int
		seen      Seen
	}
	tests := []struct {
		name     string
		edition  string
		overtime bool
		trips    []trip
		want     Range
		problem  ProblemKind // the only kind of problem; empty: none
		settle   int
	}{
		{"4 + 3", "2025", false, []trip{{1, 0, Sure}, {2, 4, Sure}, {3, 3, Sure}}, Exactly(7), "", 0},
		{"initial trip left out", "2025", false, []trip{{2, 4, Sure}}, Exactly(4), "", 0},
		{"not seen: 4 + 0..4", "2025", false, []trip{{2, 4, Sure}, {3, 0, NotSeen}}, Range{4, 8}, "", 1},
		{"not seen before 2019: 4 + 0..5", "2017", false, []trip{{2, 4, Sure}, {3, 0, NotSeen}}, Range{4, 9}, "", 1},
		{"unsure 2: 1..3", "2025", false, []trip{{2, 2, Unsure}}, Range{1, 3}, "", 1},
		{"unsure 4: 3..4, a trip has no more", "2025", false, []trip{{2, 4, Unsure}}, Range{3, 4}, "", 1},
		{"initial trip not seen scores nothing anyway", "2025", false, []trip{{1, 0, NotSeen}, {2, 1, Sure}}, Exactly(1), "", 0},
		{"initial trip with points: 0..3", "2025", false, []trip{{1, 3, Sure}}, Range{0, 3}, ProblemRule, 1},
		{"overtime scores from the first trip", "2025", true, []trip{{1, 3, Sure}, {2, 4, Sure}}, Exactly(7), "", 0},
		{"2013: a lap of the jammer on the initial trip", "2013", false, []trip{{1, 1, Sure}, {2, 5, Sure}}, Exactly(6), "", 0},
		{"5 points are not possible today", "2025", false, []trip{{2, 5, Sure}}, Range{0, 4}, ProblemRule, 1},
		{"5 points were the most in 2017", "2017", false, []trip{{2, 5, Sure}}, Exactly(5), "", 0},
		{"a trip missing between", "2025", false, []trip{{2, 4, Sure}, {4, 4, Sure}}, Range{8, 12}, ProblemGap, 1},
		{"twice alike counts once", "2025", false, []trip{{2, 4, Sure}, {2, 4, Sure}}, Exactly(4), ProblemDuplicate, 0},
		{"twice and differently", "2025", false, []trip{{2, 2, Sure}, {2, 4, Sure}}, Range{2, 4}, ProblemContradict, 2},
		{"trip 0 is no trip", "2025", false, []trip{{0, 4, Sure}, {2, 1, Sure}}, Exactly(1), ProblemEmpty, 0},
		{"no trip: no initial, nothing", "2025", false, []trip{{1, 0, Sure}}, Exactly(0), "", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := newBout()
			m.f.Rules, _ = Edition(tt.edition)
			m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 1, Overtime: tt.overtime, End: InJam("j1", sec(90))}})
			for i, x := range tt.trips {
				m.add(Tag{Kind: KindTrip, Place: InJam("j1", sec(float64(10+i*10))), Side: Home, Seen: x.seen, Trip: &TripInfo{Number: x.n, Points: x.points}})
			}
			b := Derive(m.f)
			checkBout(t, b)
			if b.Score[0] != tt.want {
				t.Errorf("score %v, want %v", b.Score[0], tt.want)
			}
			for _, p := range b.Problems {
				if p.Kind != tt.problem {
					t.Errorf("problem %+v", p)
				}
			}
			if tt.problem != "" && len(b.Problems) != 1 {
				t.Errorf("problems %+v, want one of kind %q", b.Problems, tt.problem)
			}
			if len(b.Settle) != tt.settle {
				t.Errorf("settle %+v, want %d", b.Settle, tt.settle)
			}
			for _, tr := range b.Jams[0].Sides[0].Trips {
				if len(b.WhyTrip("j1", Home, tr.Number)) == 0 || b.WhyTrip("j1", Home, tr.Number)[0].Section == "" {
					t.Errorf("trip %d does not say why", tr.Number)
				}
			}
		})
	}
}

// The row of overtime keeps the initial trip's points with trip 2: 3 + 4 in the
// first column, 1 in the next.
func TestOvertimeRow(t *testing.T) {
	m := newBout()
	m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 2, Overtime: true}})
	m.trip("j1", Home, 1, 3, sec(20))
	m.trip("j1", Home, 2, 4, sec(40))
	m.trip("j1", Home, 3, 1, sec(60))
	r := Derive(m.f).Rows(Home)[0]
	if len(r.Trips) != 2 || r.Trips[0].Value != 7 || r.Trips[1].Value != 1 || r.JamTotal.Value != 8 || len(r.Trips[0].Tags) != 2 {
		t.Errorf("row %+v", r)
	}
}

// Two jams, of which nobody logged the second: it is left out of the score and
// says so, instead of counting as nothing.
func TestUnloggedJam(t *testing.T) {
	m := newBout()
	m.jam("j1", 1, 1)
	m.jam("j2", 1, 2)
	m.lineup("j2", Home, "1", "2")
	m.jam("j3", 1, 3)
	for _, j := range []ID{"j1", "j3"} {
		m.trip(j, Home, 2, 4, sec(30))
		m.trip(j, Away, 1, 0, sec(30))
	}
	b := Derive(m.f)
	if b.Unlogged != [2]int{1, 1} || b.Score[0] != Exactly(8) {
		t.Errorf("unlogged %v, score %v", b.Unlogged, b.Score)
	}
	rows := b.Rows(Home)
	if rows[0].GameTotal.State != CellKnown || rows[1].JamTotal.State != CellAbsent || rows[1].Jammer.Value != "1" || rows[2].JamTotal.Value != 4 || rows[2].GameTotal.State != CellAbsent {
		t.Errorf("rows %+v", rows)
	}
	if w := b.WhyPoints("j2", Home); len(w) != 1 {
		t.Errorf("why %+v", w)
	}
	if w := b.WhyScore(Home); len(w) != 3 {
		t.Errorf("why %+v", w)
	}
}

// A bout in which only home's trips are logged says nothing of away's.
func TestOneSideLogged(t *testing.T) {
	m := newBout()
	m.jam("j1", 1, 1)
	m.trip("j1", Home, 2, 4, sec(30))
	b := Derive(m.f)
	if !b.Jams[0].Sides[0].Logged || b.Jams[0].Sides[1].Logged || b.Rows(Away)[0].JamTotal.State != CellAbsent {
		t.Errorf("logged %v %v, away's row %+v", b.Jams[0].Sides[0].Logged, b.Jams[0].Sides[1].Logged, b.Rows(Away)[0])
	}
}

// The no-initial mark stands on each row it is true for.
func TestNoInitial(t *testing.T) {
	known := func(v bool) Cell[bool] { return Known(v) }
	tests := []struct {
		name string
		make func(m *boutMaker)
		want []Cell[bool] // state and value, by row
	}{
		{"through", func(m *boutMaker) { m.trip("j1", Home, 1, 0, sec(20)) }, []Cell[bool]{known(false)}},
		{"not through", func(m *boutMaker) { m.trip("j1", Away, 1, 0, sec(20)) }, []Cell[bool]{known(true)}},
		{"neither before nor after the star pass", func(m *boutMaker) { m.star(sec(40)) }, []Cell[bool]{known(true), known(true)}},
		{"after the star pass", func(m *boutMaker) {
			m.star(sec(40))
			m.trip("j1", Home, 1, 0, sec(60))
		}, []Cell[bool]{known(true), known(false)}},
		{"before the star pass", func(m *boutMaker) {
			m.trip("j1", Home, 1, 0, sec(20))
			m.star(sec(40))
		}, []Cell[bool]{known(false), known(false)}},
		{"nobody tagged when", func(m *boutMaker) {
			m.star(sec(40))
			m.trip("j1", Home, 2, 3, sec(60))
		}, []Cell[bool]{{State: CellUnread}, known(false)}},
		{"initial trip unsure", func(m *boutMaker) {
			id := m.trip("j1", Home, 1, 0, sec(60))
			tag := m.f.Tags[id]
			tag.Seen, tag.Trip.Open = Unsure, true
			m.f.Tags[id] = tag
		}, []Cell[bool]{{State: CellUnread}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := oneJam()
			m.trip("j1", Away, 2, 0, sec(80))
			m.jam("j2", 1, 2)
			m.trip("j2", Home, 2, 0, sec(30)) // home's trips are logged somewhere
			tt.make(m)
			rows := Derive(m.f).Jams[0].Sides[0].Rows
			if len(rows) != len(tt.want) {
				t.Fatalf("%d rows", len(rows))
			}
			for i, w := range tt.want {
				if rows[i].NI.State != w.State || rows[i].NI.Value != w.Value {
					t.Errorf("row %d: %+v, want %+v", i, rows[i].NI, w)
				}
			}
		})
	}
}

func (m *boutMaker) star(at time.Duration) {
	m.add(Tag{Kind: KindStarPass, Place: InJam("j1", at), Side: Home, StarPass: &StarPassInfo{To: Who{Number: "10"}, Complete: true}})
}

// What contradicts itself is reported, with what was taken.
func TestProblems(t *testing.T) {
	tests := []struct {
		name string
		make func(m *boutMaker)
		want ProblemKind
	}{
		{"lead of both sides", func(m *boutMaker) {
			m.at(KindLead, "j1", Home, "1", sec(9))
			m.at(KindLead, "j1", Away, "2", sec(10))
		}, ProblemContradict},
		{"lead tagged twice", func(m *boutMaker) {
			m.at(KindLead, "j1", Home, "1", sec(9))
			m.at(KindLead, "j1", Home, "1", sec(10))
		}, ProblemDuplicate},
		{"lead after a penalty", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "1", "X", sec(5))
			m.at(KindLead, "j1", Home, "1", sec(9))
		}, ProblemRule},
		{"call without lead", func(m *boutMaker) { m.at(KindCall, "j1", Home, "1", sec(80)) }, ProblemRule},
		{"call after losing lead", func(m *boutMaker) {
			m.at(KindLead, "j1", Home, "1", sec(9))
			m.at(KindLost, "j1", Home, "1", sec(20))
			m.at(KindCall, "j1", Home, "1", sec(80))
		}, ProblemRule},
		{"lead in overtime", func(m *boutMaker) {
			m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 1, Order: 1, Overtime: true}})
			m.at(KindLead, "j1", Home, "1", sec(9))
		}, ProblemRule},
		{"called and full time", func(m *boutMaker) {
			m.at(KindLead, "j1", Home, "1", sec(9))
			m.at(KindCall, "j1", Home, "1", sec(80))
			m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 1, Order: 1, Ended: EndTime}})
		}, ProblemContradict},
		{"star to another than the pivot", func(m *boutMaker) {
			m.add(Tag{Kind: KindStarPass, Place: InJam("j1", sec(30)), Side: Home, StarPass: &StarPassInfo{To: Who{Number: "11"}, Complete: true}})
		}, ProblemContradict},
		{"two star passes", func(m *boutMaker) {
			m.star(sec(30))
			m.star(sec(50))
		}, ProblemContradict},
		{"two line-ups that differ", func(m *boutMaker) { m.lineup("j1", Home, "1", "10", "11", "12", "14") }, ProblemContradict},
		{"two line-ups alike", func(m *boutMaker) { m.lineup("j1", Home, "1", "10", "11", "12", "13") }, ProblemDuplicate},
		{"a skater twice", func(m *boutMaker) {
			m.jam("j2", 1, 2)
			m.lineup("j2", Home, "1", "10", "11", "11", "13")
		}, ProblemContradict},
		{"five blockers", func(m *boutMaker) {
			m.jam("j2", 1, 2)
			m.lineup("j2", Home, "1", "10", "11", "12", "13", "14")
		}, ProblemRule},
		{"number not on the roster", func(m *boutMaker) {
			m.f.Teams[1].Roster = []Skater{{Number: "2"}, {Number: "20"}, {Number: "21"}, {Number: "22"}}
		}, ProblemRoster},
		{"no such code", func(m *boutMaker) { m.penalty("p", "j1", Home, "11", "?", sec(5)) }, ProblemContradict},
		{"the same penalty twice", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "11", "X", sec(5))
			m.penalty("q", "j1", Home, "11", "X", sec(5.4))
		}, ProblemDuplicate},
		{"trip tagged for another skater", func(m *boutMaker) {
			m.add(Tag{Kind: KindTrip, Place: InJam("j1", sec(30)), Side: Home, Who: Who{Number: "12"}, Trip: &TripInfo{Number: 2}})
		}, ProblemContradict},
		{"a trip after one not completed", func(m *boutMaker) {
			m.add(Tag{Kind: KindTrip, Place: InJam("j1", sec(30)), Side: Home, Trip: &TripInfo{Number: 1, Open: true}})
			m.trip("j1", Home, 2, 0, sec(50))
		}, ProblemContradict},
		{"star pass without a time: whose trip?", func(m *boutMaker) {
			m.add(Tag{Kind: KindStarPass, Place: JamAlone("j1"), Side: Home, StarPass: &StarPassInfo{To: Who{Number: "10"}, Complete: true}})
			m.trip("j1", Home, 2, 0, sec(50))
		}, ProblemAmbiguous},
		{"leaves the box early", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "11", "X", sec(5))
			m.box("b", "j1", Home, "11", sec(10), outAt("j1", sec(25)))
		}, ProblemBox},
		{"leaves the box before sitting down", func(m *boutMaker) { m.box("b", "j1", Home, "11", sec(30), outAt("j1", sec(20))) }, ProblemContradict},
		{"box visit for no penalty there is", func(m *boutMaker) {
			m.add(Tag{Kind: KindBox, Place: InJam("j1", sec(30)), Side: Home, Who: Who{Number: "11"}, Box: &BoxInfo{Penal: []ID{"nowhere"}}})
		}, ProblemDangling},
		{"mark for a jam that is not there", func(m *boutMaker) { m.mark("x", "nowhere", EdgeStart, "a", 0) }, ProblemDangling},
		{"mark on a film that is not there", func(m *boutMaker) { m.mark("x", "j1", EdgeStart, "a", 0) }, ProblemDangling},
		{"two jams at one place", func(m *boutMaker) { m.jam("j0", 1, 1) }, ProblemDuplicate},
		{"a tag of no side", func(m *boutMaker) { m.trip("j1", NoSide, 2, 4, sec(20)) }, ProblemEmpty},
		{"tag in two jams", func(m *boutMaker) {
			m.jam("j2", 1, 2)
			m.add(Tag{Kind: KindNote, Jam: "j1", Place: InJam("j2", 0)})
		}, ProblemContradict},
		{"clean", func(*boutMaker) {}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := oneJam()
			tt.make(m)
			b := Derive(m.f)
			checkBout(t, b)
			got := []ProblemKind{}
			for _, p := range b.Problems {
				got = append(got, p.Kind)
				if p.Text == "" {
					t.Errorf("%+v says nothing", p)
				}
			}
			if tt.want == "" && len(got) > 0 || tt.want != "" && !slices.Contains(got, tt.want) {
				t.Errorf("problems %+v, want %q", b.Problems, tt.want)
			}
		})
	}
}

// Tags without a jam are listed with why, and count nothing.
func TestLoose(t *testing.T) {
	m := twoCameras()
	m.add(Tag{ID: "nowhere", Kind: KindMark})
	m.add(Tag{ID: "early", Kind: KindMark, Place: OnFilm("a", sec(5))})
	m.add(Tag{ID: "no film", Kind: KindMark, Place: OnFilm("x", sec(5))})
	m.add(Tag{ID: "no jam", Kind: KindTrip, Side: Home, Jam: "x", Trip: &TripInfo{Number: 2, Points: 4}})
	m.add(Tag{ID: "found", Kind: KindMark, Place: OnFilm("a", sec(100))})
	b := Derive(m.f)
	var got []ID
	for _, l := range b.Loose {
		got = append(got, l.Tag)
		if l.Why == "" {
			t.Errorf("%s says no reason", l.Tag)
		}
	}
	if want := []ID{"early", "no film", "no jam", "nowhere"}; !slices.Equal(got, want) {
		t.Errorf("loose %v, want %v", got, want)
	}
	if b.Score[0] != Exactly(0) || !slices.Contains(b.Jams[0].Tags, "found") {
		t.Errorf("score %v, tags of jam 1 %v", b.Score, b.Jams[0].Tags)
	}
}

// A line-up tagged on film between two jams belongs to the jam to come, a
// penalty to the jam just over.
func TestTagsBetweenJams(t *testing.T) {
	m := twoCameras() // jam 1: 60 to 130 s of film a; jam 2 starts at 170 s
	m.add(Tag{ID: "who", Kind: KindLineup, Side: Home, Place: OnFilm("a", sec(160)), Lineup: &LineupInfo{Jammer: Who{Number: "1"}}})
	m.add(Tag{ID: "pen", Kind: KindPenalty, Side: Home, Who: Who{Number: "1"}, Place: OnFilm("a", sec(140)), Penalty: &PenaltyInfo{Code: "X"}})
	m.add(Tag{ID: "box", Kind: KindBox, Side: Home, Who: Who{Number: "1"}, Place: OnFilm("a", sec(150)), Box: &BoxInfo{}})
	b := Derive(m.f)
	if b.Jams[1].Sides[0].Jammer.Number != "1" || b.Jams[0].Sides[0].Jammer.Number != "" {
		t.Errorf("jammers %+v, %+v", b.Jams[0].Sides[0].Jammer, b.Jams[1].Sides[0].Jammer)
	}
	if !slices.Equal(b.Jams[0].Sides[0].Penalties, []ID{"pen"}) {
		t.Errorf("penalties of jam 1 %v", b.Jams[0].Sides[0].Penalties)
	}
	if v := b.Visits[0]; v.InJam != 1 || v.In != sec(-20) || !b.Jams[1].Sides[0].BoxedAtStar["1"] {
		t.Errorf("visit %+v", v)
	}
}

// Jams are numbered by order within their period, whatever their IDs, and a
// fraction inserts one.
func TestJamNumbers(t *testing.T) {
	m := newBout()
	m.jam("z", 1, 1)
	m.jam("a", 1, 2)
	m.jam("m", 1, 1.5)
	m.jam("b", 2, 1)
	got := ""
	for _, j := range Derive(m.f).Jams {
		got += fmt.Sprintf("%s=%s ", j.Name(), j.ID)
	}
	if want := "1-1=z 1-2=m 1-3=a 2-1=b "; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
