package timeline

import "testing"

// eventJam is one jam with events as tags, the field as noted, and both line-ups.
func eventJam(t *testing.T, script string) *boutMaker {
	m := newBout()
	start := redWhite()
	m.add(Tag{ID: "j1", Kind: KindJam, JamInfo: &JamInfo{Period: 1, Order: 1, Field: &start}})
	m.lineup("j1", Home, "R", "RP", "R1", "R2", "R3")
	m.lineup("j1", Away, "W", "WP", "W1", "W2", "W3")
	for i, e := range scriptEvents(t, start, script) {
		id := ID("e" + string(rune('a'+i/26)) + string(rune('a'+i%26)))
		m.add(Tag{ID: id, Kind: KindEvent, Place: InJam("j1", e.At), Event: &e})
	}
	return m
}

// The first trip of casebook C2.5.A at pass level: one point, for passing the
// penalised pivot; with R's pivot out of play nobody else counts.
const oneForPivot = `
	W first trip
	RP penalised
	W passes RP
	jam ends`

func TestPassLevel(t *testing.T) {
	m := eventJam(t, oneForPivot)
	b := Derive(m.f)
	checkBout(t, b)
	w := b.Jams[0].Sides[1]
	if !w.PassLevel || b.Score != [2]Range{Exactly(0), Exactly(1)} {
		t.Fatalf("score %v, pass level %v, want 0 to 1 (problems %+v)", b.Score, w.PassLevel, b.Problems)
	}
	if len(b.WhyTrip("j1", Away, 2)) != 1 || b.WhyTrip("j1", Away, 2)[0].Section == "" {
		t.Errorf("why %+v", b.WhyTrip("j1", Away, 2))
	}
	if !w.Lead || w.NoInitial || b.Jams[0].Duration == 0 {
		t.Errorf("lead %v, no initial %v, duration %v", w.Lead, w.NoInitial, b.Jams[0].Duration)
	}
	if !b.Jams[0].Sides[0].NoInitial || !b.Jams[0].Sides[0].Rows[0].NI.Value {
		t.Errorf("red never passed anybody, row %+v", b.Jams[0].Sides[0].Rows[0])
	}
}

func TestBothLevels(t *testing.T) {
	end := Derive(eventJam(t, oneForPivot).f).Jams[0].Duration
	tests := []struct {
		name   string
		points int
		seen   Seen
		differ bool
	}{
		{"agree", 1, Sure, false},
		{"tags say 2", 2, Sure, true},
		{"not seen allows it", 0, NotSeen, false},
		{"unsure 2 allows 1", 2, Unsure, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := eventJam(t, oneForPivot)
			m.add(Tag{Kind: KindTrip, Place: InJam("j1", end), Side: Away, Seen: tt.seen, Trip: &TripInfo{Number: 2, Points: tt.points, Open: true}})
			b := Derive(m.f)
			checkBout(t, b)
			if b.Score[1] != Exactly(1) {
				t.Errorf("score %v; the events make 1", b.Score)
			}
			if got := hasProblem(b, ProblemLevels, "j1"); got != tt.differ {
				t.Errorf("levels differ: %v, problems %+v", got, b.Problems)
			}
			if n := len(b.Jams[0].Sides[1].Trips[1].Tags); n != 1 {
				t.Errorf("the trip rests on %d tags", n)
			}
		})
	}
}

// The official's signal stands where it differs from what the events make of
// it, and the difference is reported.
func TestTaggedLeadAgainstEvents(t *testing.T) {
	m := eventJam(t, oneForPivot)
	m.at(KindLead, "j1", Home, "R", sec(5))
	b := Derive(m.f)
	if !b.Jams[0].Sides[0].Lead || b.Jams[0].Sides[1].Lead || !hasProblem(b, ProblemLevels, "j1") {
		t.Errorf("lead %v %v, problems %+v", b.Jams[0].Sides[0].Lead, b.Jams[0].Sides[1].Lead, b.Problems)
	}
}

// Only white's passes are logged; red has her trip tagged: each side counts by
// what there is of it.
func TestLevelsPerSide(t *testing.T) {
	m := eventJam(t, oneForPivot)
	m.trip("j1", Home, 2, 3, sec(20))
	b := Derive(m.f)
	if b.Score != [2]Range{Exactly(3), Exactly(1)} || b.Jams[0].Sides[0].PassLevel || !b.Jams[0].Sides[1].PassLevel {
		t.Errorf("score %v, pass level %v %v", b.Score, b.Jams[0].Sides[0].PassLevel, b.Jams[0].Sides[1].PassLevel)
	}
}
