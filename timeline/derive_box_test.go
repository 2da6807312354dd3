package timeline

import (
	"slices"
	"testing"
)

// threeJams are 60 s each, with line-ups of both sides: jammers 1 and 2.
func threeJams() *boutMaker {
	m := newBout()
	for i, id := range []ID{"j1", "j2", "j3"} {
		m.add(Tag{ID: id, Kind: KindJam, JamInfo: &JamInfo{Period: 1, Order: float64(i), End: InJam(id, sec(60))}})
		m.lineup(id, Home, "1", "10", "11", "12", "13")
		m.lineup(id, Away, "2", "20", "21", "22", "23")
	}
	return m
}

func TestVisits(t *testing.T) {
	tests := []struct {
		name   string
		make   func(m *boutMaker)
		served float64
		owed   float64
		outJam int
		out    float64
		known  bool
		guess  bool // computed
		pens   []ID
		boxed  []int // jams she sat in the box at the start of
	}{
		// 30 s within one jam.
		{"within a jam", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "11", "X", sec(5))
			m.box("b", "j1", Home, "11", sec(10), outAt("j1", sec(40)))
		}, 30, 30, 0, 40, true, false, []ID{"p"}, nil},
		// 50 to 60 of jam 1 are 10 s, the line-up counts nothing, 20 s of jam 2.
		{"over the line-up", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "11", "X", sec(45))
			m.box("b", "j1", Home, "11", sec(50), outAt("j2", sec(20)))
		}, 30, 30, 1, 20, true, false, []ID{"p"}, []int{1}},
		{"the same, release not tagged", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "11", "X", sec(45))
			m.box("b", "j1", Home, "11", sec(50), nil)
		}, 30, 30, 1, 20, true, true, []ID{"p"}, []int{1}},
		// Sat down before jam 2: the clock starts with the jam.
		{"sat between jams", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "11", "X", sec(58))
			m.box("b", "j2", Home, "11", sec(-12), nil)
		}, 30, 30, 1, 30, true, true, []ID{"p"}, []int{1}},
		// Two penalties, 60 s: 20 s of jam 1 and 40 s of jam 2.
		{"two penalties", func(m *boutMaker) {
			m.penalty("p", "j1", Home, "11", "X", sec(30))
			m.penalty("q", "j1", Home, "11", "B", sec(33))
			m.box("b", "j1", Home, "11", sec(40), nil)
		}, 60, 60, 1, 40, true, true, []ID{"p", "q"}, []int{1}},
		// 10 s of jam 1, all 60 s of jam 2, 20 s of jam 3 make 90 s.
		{"three penalties over three jams", func(m *boutMaker) {
			for i, id := range []ID{"p", "q", "r"} {
				m.penalty(id, "j1", Home, "11", "X", sec(float64(40+i)))
			}
			m.box("b", "j1", Home, "11", sec(50), nil)
		}, 90, 90, 2, 20, true, true, []ID{"p", "q", "r"}, []int{1, 2}},
		{"before 2014 a penalty is 60 s", func(m *boutMaker) {
			m.f.Rules, _ = Edition("2013")
			m.penalty("p", "j1", Home, "11", "X", sec(30))
			m.box("b", "j1", Home, "11", sec(40), nil)
		}, 60, 60, 1, 40, true, true, []ID{"p"}, []int{1}},
		{"the last jam ends first", func(m *boutMaker) {
			m.penalty("p", "j3", Home, "11", "X", sec(40))
			m.box("b", "j3", Home, "11", sec(45), nil)
		}, 0, 30, -1, 0, false, false, []ID{"p"}, nil},
		{"length of the jam not known", func(m *boutMaker) {
			m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 1}})
			m.penalty("p", "j1", Home, "11", "X", sec(45))
			m.box("b", "j1", Home, "11", sec(50), outAt("j2", sec(20)))
		}, 0, 30, 1, 20, false, false, []ID{"p"}, []int{1}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := threeJams()
			tt.make(m)
			b := Derive(m.f)
			if len(b.Visits) != 1 {
				t.Fatalf("visits %+v", b.Visits)
			}
			v := b.Visits[0]
			if v.Served != sec(tt.served) || v.Owed != sec(tt.owed) || v.OutJam != tt.outJam || v.Out != sec(tt.out) || v.Known != tt.known || v.Computed != tt.guess || !slices.Equal(v.Penalties, tt.pens) {
				t.Errorf("visit %+v", v)
			}
			var boxed []int
			for i := range b.Jams {
				if b.Jams[i].Sides[0].BoxedAtStar["11"] {
					boxed = append(boxed, i)
				}
			}
			if !slices.Equal(boxed, tt.boxed) {
				t.Errorf("in the box at the start of jams %v, want %v", boxed, tt.boxed)
			}
			if tt.known && len(b.WhyBox("b")) == 0 {
				t.Error("no reason")
			}
			for _, p := range b.Problems {
				t.Errorf("problem %+v", p)
			}
		})
	}
}

// A captain serves another's penalty: her visit takes it, the record keeps it
// with whom it was given to.
func TestServedByAnother(t *testing.T) {
	m := threeJams()
	m.add(Tag{ID: "p", Kind: KindPenalty, Place: InJam("j1", sec(5)), Side: Home, Who: Who{Number: "99"}, Penalty: &PenaltyInfo{Code: "G", Served: Who{Number: "12"}}})
	m.box("b", "j1", Home, "12", sec(10), nil)
	b := Derive(m.f)
	if v := b.Visits[0]; !slices.Equal(v.Penalties, []ID{"p"}) || v.Skater.Number != "12" {
		t.Errorf("visit %+v", v)
	}
	if len(b.Fouls) != 1 || b.Fouls[0].Skater.Number != "99" {
		t.Errorf("fouls %+v", b.Fouls)
	}
}

func TestExpulsion(t *testing.T) {
	m := threeJams()
	m.add(Tag{ID: "p", Kind: KindPenalty, Place: InJam("j1", sec(5)), Side: Home, Who: Who{Number: "11"}, Penalty: &PenaltyInfo{Code: "G", Expelled: true}})
	b := Derive(m.f)
	if b.Fouls[0].Expelled != "p" || b.Fouls[0].FouledOut != "" || !hasProblem(b, ProblemRule, "j2") || !hasProblem(b, ProblemRule, "j3") || hasProblem(b, ProblemRule, "j1") {
		t.Errorf("fouls %+v, problems %+v", b.Fouls, b.Problems)
	}
}

// 11 fouls out with two penalties at once: she sits at 40 s of jam 1 and serves
// 20 s; 12 sits down for her before jam 2, where 40 s are left.
func TestSubstituteServesTheRest(t *testing.T) {
	m := threeJams()
	m.penalty("p", "j1", Home, "11", "X", sec(30))
	m.penalty("q", "j1", Home, "11", "B", sec(31))
	visit := func(id ID, jam ID, who Number, at, out float64) {
		tag := Tag{ID: id, Kind: KindBox, Place: InJam(jam, sec(at)), Side: Home, Who: Who{Number: who}, Box: &BoxInfo{Penal: []ID{"p", "q"}}}
		if out > 0 {
			tag.Box.Out = InJam(jam, sec(out))
		}
		m.add(tag)
	}
	visit("a", "j1", "11", 40, 60)
	visit("b", "j2", "12", -10, 0)
	b := Derive(m.f)
	v := b.Visits[1]
	if v.Owed != sec(40) || v.Out != sec(40) || v.OutJam != 1 || !v.Computed || len(b.Problems) > 0 {
		t.Errorf("the substitute's visit %+v, problems %+v", v, b.Problems)
	}
	visit("b", "j2", "12", -10, 15)
	if b := Derive(m.f); !hasProblem(b, ProblemBox, "j2") {
		t.Errorf("she leaves with 25 s to serve, problems %+v", b.Problems)
	}
}

// She leaves with 15 s to serve, is sent back, and owes just those: 25 + 15 = 40.
func TestBackToTheBox(t *testing.T) {
	m := threeJams()
	m.penalty("p", "j1", Home, "11", "X", sec(1))
	m.box("a", "j1", Home, "11", sec(5), outAt("j1", sec(20)))
	m.box("b", "j1", Home, "11", sec(25), nil)
	if v := Derive(m.f).Visits[1]; v.Out != sec(40) || !v.Computed {
		t.Errorf("second visit %+v, want out at 40 s", v)
	}
}
