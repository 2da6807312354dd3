package timeline

import (
	"testing"
	"time"
)

// bout builds small bouts for tests: jams one after the other with tags by hand.
type boutMaker struct {
	f Facts
	n int
}

func newBout() *boutMaker {
	r, _ := Edition("2025")
	return &boutMaker{f: Facts{Rules: r, Tags: map[ID]Tag{}, Footage: map[ID]Footage{}, Marks: map[ID]SyncMark{}}}
}

func (m *boutMaker) add(t Tag) ID {
	if t.ID == "" {
		m.n++
		t.ID = ID(string(t.Kind) + "-" + string(rune('A'+m.n/26)) + string(rune('a'+m.n%26)))
	}
	m.f.Tags[t.ID] = t
	return t.ID
}

func (m *boutMaker) jam(id ID, period int, order float64) ID {
	return m.add(Tag{ID: id, Kind: KindJam, JamInfo: &JamInfo{Period: period, Order: order, End: InJam(id, 90*time.Second)}})
}

func (m *boutMaker) trip(jam ID, s Side, n, points int, at time.Duration) ID {
	return m.add(Tag{Kind: KindTrip, Place: InJam(jam, at), Side: s, Trip: &TripInfo{Number: n, Points: points}})
}

func (m *boutMaker) lineup(jam ID, s Side, jammer, pivot Number, blockers ...Number) ID {
	l := &LineupInfo{Jammer: Who{Number: jammer}, Pivot: Who{Number: pivot}}
	for _, b := range blockers {
		l.Blockers = append(l.Blockers, Who{Number: b})
	}
	return m.add(Tag{Kind: KindLineup, Place: JamAlone(jam), Side: s, Lineup: l})
}

func (m *boutMaker) at(k Kind, jam ID, s Side, who Number, at time.Duration) ID {
	return m.add(Tag{Kind: k, Place: InJam(jam, at), Side: s, Who: Who{Number: who}})
}

func sec(x float64) time.Duration { return time.Duration(x * float64(time.Second)) }

// The example of the scorekeepers' paperwork: 02 is lead, scores 4 on trip 2
// and loses lead by taking her star off; 999 gets it and completes trips 3 and 4
// with 4 and 3. Row 1: 4, row SP: 7, game 11.
func TestStarPassRows(t *testing.T) {
	m := newBout()
	m.jam("j1", 1, 1)
	m.lineup("j1", Home, "02", "999", "10", "11", "12")
	m.at(KindLead, "j1", Home, "02", sec(12))
	m.trip("j1", Home, 1, 0, sec(14))
	m.trip("j1", Home, 2, 4, sec(30))
	m.add(Tag{Kind: KindStarPass, Place: InJam("j1", sec(40)), Side: Home, StarPass: &StarPassInfo{To: Who{Number: "999"}, Complete: true}})
	m.trip("j1", Home, 3, 4, sec(55))
	m.trip("j1", Home, 4, 3, sec(80))
	m.trip("j1", Away, 1, 0, sec(70))
	b := Derive(m.f)
	if b.Score[0] != Exactly(11) || b.Score[1] != Exactly(0) {
		t.Fatalf("score %v, want 11 to 0", b.Score)
	}
	rows := b.Rows(Home)
	if len(rows) != 2 || len(b.Rows(Away)) != 2 || !b.Rows(Away)[1].Spacer {
		t.Fatalf("want a row, its SP row and the others' spacer row; got %+v / %+v", rows, b.Rows(Away))
	}
	if r := rows[0]; r.Jammer.Value != "02" || !r.Lead.Value || !r.Lost.Value || r.NI.Value || r.JamTotal.Value != 4 || len(r.Trips) != 1 {
		t.Errorf("first row %+v", r)
	}
	if r := rows[1]; r.Jammer.Value != "999" || r.JamTotal.Value != 7 || r.GameTotal.Value != 11 || r.Trips[1].Value != 4 || r.Trips[2].Value != 3 {
		t.Errorf("SP row %+v", r)
	}
	if len(b.Problems) != 0 {
		t.Errorf("problems: %+v", b.Problems)
	}
}
