package timeline

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"testing"
)

// findBout: two jams on one film and a third that no film shows.
//
//	jam 1 (film 100 to 190 s): home 1 jammer, lead at 10; penalty X of home 11 at
//	20, box 25 to 55; away trip 2, 4 points at 60
//	jam 2 (film 220 to 310 s): home 11 jammer, penalty F of away jammer 2 at 30,
//	box 35 to 65, home trip 2, 3 points at 50
//	jam 3 (not on film): penalty X of home 11
func findBout() Facts {
	m := newBout()
	m.f.Footage["a"] = Footage{Camera: "stand", Duration: sec(400)}
	m.f.Teams[0].Roster = []Skater{{Number: "1", Name: "Ada"}, {Number: "10"}, {Number: "11", Name: "Bea"}, {Number: "12"}, {Number: "13"}}
	for i, at := range []float64{100, 220} {
		id := ID(fmt.Sprintf("j%d", i+1))
		m.add(Tag{ID: id, Kind: KindJam, Place: OnFilm("a", sec(at)), JamInfo: &JamInfo{Period: 1, Order: float64(i), End: OnFilm("a", sec(at+90))}})
	}
	m.add(Tag{ID: "j3", Kind: KindJam, JamInfo: &JamInfo{Period: 2, Order: 1, End: InJam("j3", sec(60))}})
	m.lineup("j1", Home, "1", "10", "11", "12", "13")
	m.lineup("j2", Home, "11", "10", "1", "12", "13")
	m.lineup("j2", Away, "2", "20", "21", "22", "23")
	m.add(Tag{ID: "lead", Kind: KindLead, Place: OnFilm("a", sec(110)), Side: Home})
	m.penalty("p1", "j1", Home, "11", "X", sec(20))
	m.box("b1", "j1", Home, "11", sec(25), outAt("j1", sec(55)))
	m.add(Tag{ID: "t1", Kind: KindTrip, Place: OnFilm("a", sec(160)), Side: Away, Trip: &TripInfo{Number: 2, Points: 4}})
	m.add(Tag{ID: "p2", Kind: KindPenalty, Place: OnFilm("a", sec(250)), Side: Away, Who: Who{Number: "2"}, Penalty: &PenaltyInfo{Code: "F", Act: OnFilm("a", sec(246))}})
	m.box("b2", "j2", Away, "2", sec(35), outAt("j2", sec(65)))
	m.add(Tag{ID: "t2", Kind: KindTrip, Place: OnFilm("a", sec(270)), Side: Home, Trip: &TripInfo{Number: 2, Points: 3}})
	m.add(Tag{ID: "p3", Kind: KindPenalty, Place: JamAlone("j3"), Side: Home, Who: Who{Number: "11"}, Penalty: &PenaltyInfo{Code: "X"}})
	m.add(Tag{ID: "note", Kind: KindNote, Place: OnFilm("a", sec(115)), Note: "Nice bridge here"})
	m.add(Tag{ID: "to", Kind: KindTimeout, Place: OnFilm("a", sec(200)), Side: Away, Timeout: &TimeoutInfo{}})
	return m.f
}

func TestFind(t *testing.T) {
	bea := SkaterRef{Home, "11"}
	tests := []struct {
		name string
		sel  Selection
		want []string // keys, in order
	}{
		{"all jams", Selection{}, []string{"j1", "j2", "j3"}},
		{"her penalties", Selection{Kinds: []Kind{KindPenalty}, Skaters: []SkaterRef{bea}}, []string{"p1", "p3"}},
		{"everything of hers", Selection{Skaters: []SkaterRef{bea}}, []string{"p1", "b1", "line-up-Ab", "t2", "line-up-Ac", "p3"}},
		{"jams she jammed", Selection{Kinds: []Kind{KindJam}, Skaters: []SkaterRef{bea}, Roles: []Role{Jammer}}, []string{"j2"}},
		{"jams she was in", Selection{Kinds: []Kind{KindJam}, Skaters: []SkaterRef{bea}}, []string{"j1", "j2"}},
		{"a code", Selection{Codes: []string{"X"}}, []string{"p1", "p3"}},
		{"a code of one side in one period", Selection{Codes: []string{"X", "F"}, Periods: []int{1}, Side: Away}, []string{"p2"}},
		{"penalties of jammers", Selection{Kinds: []Kind{KindPenalty}, Roles: []Role{Jammer}}, []string{"p2"}},
		{"power jams", Selection{Situations: []SituationKind{SitPowerJam}}, []string{"situation/power jam/j2/1"}},
		{"power jams against home", Selection{Situations: []SituationKind{SitPowerJam}, Side: Away}, nil},
		{"power jams she was in", Selection{Situations: []SituationKind{SitPowerJam}, Skaters: []SkaterRef{bea}}, []string{"situation/power jam/j2/1"}},
		{"trips in power jams", Selection{Kinds: []Kind{KindTrip}, Situations: []SituationKind{SitPowerJam}}, []string{"t2"}},
		{"jams with a power jam", Selection{Kinds: []Kind{KindJam}, Situations: []SituationKind{SitPowerJam}}, []string{"j2"}},
		{"short by two at least", Selection{Situations: []SituationKind{SitShort}, ShortBy: 2}, nil},
		{"home trailing", Selection{Kinds: []Kind{KindPenalty, KindTrip, KindLead}, Score: &ScoreState{Side: Home, State: Trailing}}, []string{"t1", "p2", "t2"}},
		{"home trailing by 1 to 3", Selection{Kinds: []Kind{KindJam, KindPenalty}, Score: &ScoreState{Side: Home, State: Trailing, ByMin: 1, ByMax: 3}}, nil},
		{"tied", Selection{Kinds: []Kind{KindPenalty, KindLead}, Score: &ScoreState{State: Tied}}, []string{"lead", "p1"}},
		{"timeouts", Selection{Kinds: []Kind{KindTimeout}}, []string{"to"}},
		{"words", Selection{Words: "BRIDGE"}, []string{"note"}},
		{"by tag", Selection{Tags: []ID{"t1", "j3"}}, []string{"t1", "j3"}},
		{"a jam", Selection{Jams: []ID{"j1"}, Kinds: []Kind{KindPenalty, KindBox}}, []string{"p1", "b1"}},
		{"on film", Selection{Codes: []string{"X"}, OnFilm: true}, []string{"p1"}},
		{"a camera that is not there", Selection{Codes: []string{"X"}, Cameras: []string{"turn"}}, nil},
	}
	f := findBout()
	b := Derive(f)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, m := range Find(b, f, tt.sel) {
				got = append(got, m.Key)
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("found %v, want %v", got, tt.want)
			}
			data, err := json.Marshal(tt.sel)
			if err != nil {
				t.Fatal(err)
			}
			var back Selection
			if err := json.Unmarshal(data, &back); err != nil || !reflect.DeepEqual(back, tt.sel) {
				t.Errorf("kept as %s and read as %+v (%v)", data, back, err)
			}
		})
	}
}

func TestMomentFields(t *testing.T) {
	f := findBout()
	b := Derive(f)
	one := func(id ID) Moment {
		got := Find(b, f, Selection{Tags: []ID{id}})
		if len(got) != 1 {
			t.Fatalf("%s: %+v", id, got)
		}
		return got[0]
	}
	t.Run("penalty from act to call", func(t *testing.T) {
		m := one("p2")
		if m.Range != (TimeRange{sec(26), sec(30)}) || m.Code != "F" || m.Role != Jammer || m.State != FilmShown || m.Jam != "j2" || m.Number != 2 {
			t.Errorf("%+v", m)
		}
		if len(m.Film) != 1 || m.Film[0] != (FilmStretch{"stand", "a", sec(246), sec(250)}) {
			t.Errorf("film %+v", m.Film)
		}
		// A timeout stopped the clock at 28:20, 100 s after the first whistle.
		if !m.ClockKnown || m.Clock != sec(1700-26) {
			t.Errorf("clock %v %v", m.Clock, m.ClockKnown)
		}
		if m.Score != [2]Range{Exactly(0), Exactly(4)} {
			t.Errorf("score %v", m.Score)
		}
	})
	t.Run("name from the roster", func(t *testing.T) {
		if m := one("p1"); m.Name != "Bea" || m.Role != Blocker || m.Place != InJam("j1", sec(20)) || m.Film[0].From != sec(120) {
			t.Errorf("%+v", m)
		}
	})
	t.Run("box visit from sitting down to release", func(t *testing.T) {
		if m := one("b1"); m.Range != (TimeRange{sec(25), sec(55)}) || len(m.Why) == 0 {
			t.Errorf("%+v", m)
		}
	})
	t.Run("not on film", func(t *testing.T) {
		if m := one("p3"); m.State != FilmNone || m.Timed || len(m.Film) != 0 {
			t.Errorf("%+v", m)
		}
	})
	t.Run("line-up has no time, its jam is on film", func(t *testing.T) {
		if m := one("line-up-Ab"); m.State != FilmNoTime || len(m.Film) != 1 || m.Film[0].From != sec(100) || m.Film[0].To != sec(190) {
			t.Errorf("%+v", m)
		}
	})
	t.Run("power jam", func(t *testing.T) {
		m := Find(b, f, Selection{Situations: []SituationKind{SitPowerJam}})[0]
		// From the call at 30 s to the release at 65 s of jam 2.
		if m.Side != Home || m.Skater != (SkaterRef{Away, "2"}) || m.Role != Jammer || m.Range != (TimeRange{sec(30), sec(65)}) || m.Film[0].From != sec(250) || m.Film[0].To != sec(285) || m.Points == nil || *m.Points != Exactly(3) {
			t.Errorf("%+v", m)
		}
	})
	t.Run("partly on film", func(t *testing.T) {
		cut := findBout()
		cut.Footage["a"] = Footage{Camera: "stand", Duration: sec(270)}
		m := Find(Derive(cut), cut, Selection{Situations: []SituationKind{SitPowerJam}})[0]
		if m.State != FilmPartly || m.Film[0].To != sec(270) {
			t.Errorf("%+v", m)
		}
	})
	t.Run("a mark on film alone, without any jam", func(t *testing.T) {
		bare := Facts{Footage: map[ID]Footage{"x": {Camera: "phone"}}, Tags: map[ID]Tag{"k": {Kind: KindMark, Place: OnFilm("x", sec(3))}}}
		got := Find(Derive(bare), bare, Selection{Kinds: []Kind{KindMark}})
		if len(got) != 1 || got[0].State != FilmShown || got[0].Film[0] != (FilmStretch{"phone", "x", sec(3), sec(3)}) {
			t.Errorf("%+v", got)
		}
	})
}

// A power jam names a skater of the other side; so does the moment.
func TestPowerJamName(t *testing.T) {
	f := findBout()
	f.Teams[0].Roster = append(f.Teams[0].Roster, Skater{Number: "2", Name: "Dot"})
	f.Teams[1].Roster = []Skater{{Number: "2", Name: "Cleo"}, {Number: "20"}, {Number: "21"}, {Number: "22"}, {Number: "23"}}
	if m := Find(Derive(f), f, Selection{Situations: []SituationKind{SitPowerJam}})[0]; m.Name != "Cleo" {
		t.Errorf("name %q", m.Name)
	}
}

func TestScoreState(t *testing.T) {
	sure := func(h, a int) [2]Range { return [2]Range{Exactly(h), Exactly(a)} }
	open := [2]Range{{4, 8}, {6, 6}}
	tests := []struct {
		name  string
		state ScoreState
		score [2]Range
		want  bool
	}{
		{"leading", ScoreState{Side: Home, State: Leading}, sure(5, 4), true},
		{"not leading", ScoreState{Side: Away, State: Leading}, sure(5, 4), false},
		{"trailing by 1", ScoreState{Side: Away, State: Trailing, ByMin: 1, ByMax: 1}, sure(5, 4), true},
		{"by more than asked", ScoreState{Side: Away, State: Trailing, ByMax: 3}, sure(9, 4), false},
		{"within 5 either way", ScoreState{Side: Home, ByMax: 5}, sure(9, 4), true},
		{"within 4 either way", ScoreState{Side: Home, ByMax: 4}, sure(9, 4), false},
		{"either way by 5 at least", ScoreState{Side: Home, ByMin: 5}, sure(4, 9), true},
		{"a range across a tie tells nothing", ScoreState{Side: Home, State: Leading}, open, false},
		{"nor a tie", ScoreState{Side: Home, State: Tied}, open, false},
		{"but that it is close", ScoreState{Side: Home, ByMax: 2}, open, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.state.matches(tt.score); got != tt.want {
				t.Errorf("%+v matches %v: %v", tt.state, tt.score, got)
			}
		})
	}
}
