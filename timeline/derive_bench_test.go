package timeline

import (
	"fmt"
	"testing"
	"time"
)

// fullBout is a bout of two periods with the tags of a whole logging pass, on
// two cameras; extra adds notes and marks until there are that many tags.
func fullBout(extra int) Facts {
	m := newBout()
	m.f.Footage["f1"] = Footage{Camera: "stand", Order: 1, Duration: 50 * time.Minute}
	m.f.Footage["f2"] = Footage{Camera: "stand", Order: 2, Duration: 50 * time.Minute}
	m.f.Footage["g1"] = Footage{Camera: "turn", Order: 1, Duration: 2 * time.Hour}
	n := 0
	add := func(t Tag) ID {
		n++
		t.ID = ID(fmt.Sprintf("t%06d", n))
		m.f.Tags[t.ID] = t
		return t.ID
	}
	for p := 1; p <= 2; p++ {
		film := ID(fmt.Sprintf("f%d", p))
		for k := range 23 {
			start := sec(20 + float64(k)*110)
			id := ID(fmt.Sprintf("jam%d-%02d", p, k))
			m.f.Tags[id] = Tag{ID: id, Kind: KindJam, Place: OnFilm(film, start), JamInfo: &JamInfo{Period: p, Order: float64(k), End: OnFilm(film, start+sec(78))}}
			if k%5 == 0 {
				m.f.Marks["m"+id] = SyncMark{Jam: id, Edge: EdgeStart, Footage: "g1", Film: start + sec(float64(p)*3000), Hand: true}
			}
			at := func(s float64) Place { return OnFilm(film, start+sec(s)) }
			for si, s := range Sides {
				num := func(i int) Number { return Number(fmt.Sprint((k*5 + i) % 15)) }
				l := &LineupInfo{Jammer: Who{Number: num(0)}, Pivot: Who{Number: num(1)}}
				for i := 2; i < 5; i++ {
					l.Blockers = append(l.Blockers, Who{Number: num(i)})
				}
				add(Tag{Kind: KindLineup, Jam: id, Side: s, Lineup: l})
				for trip := 1; trip <= 4; trip++ {
					pts := 0
					if trip > 1 {
						pts = (k + trip + si) % 5
					}
					add(Tag{Kind: KindTrip, Place: at(float64(trip) * 17), Side: s, Trip: &TripInfo{Number: trip, Points: pts}})
				}
				pen := add(Tag{Kind: KindPenalty, Place: at(20), Side: s, Who: Who{Number: num(k % 5)}, Penalty: &PenaltyInfo{Code: "X"}})
				add(Tag{Kind: KindBox, Place: at(28), Side: s, Who: Who{Number: num(k % 5)}, Box: &BoxInfo{Penal: []ID{pen}, Out: at(58)}})
			}
			add(Tag{Kind: KindLead, Place: at(15), Side: Sides[k%2]})
			add(Tag{Kind: KindCall, Place: at(77), Side: Sides[k%2]})
			if k%6 == 5 {
				add(Tag{Kind: KindTimeout, Place: at(85), Timeout: &TimeoutInfo{}})
			}
		}
	}
	for k := 0; len(m.f.Tags) < extra; k++ {
		film, at := ID(fmt.Sprintf("f%d", 1+k%2)), sec(30+float64(k%2500))
		switch k % 4 {
		case 0:
			add(Tag{Kind: KindMark, Place: OnFilm(film, at)})
		case 1:
			add(Tag{Kind: KindNote, Place: OnFilm(film, at), Note: "look at the bridge"})
		case 2:
			add(Tag{Kind: KindPenalty, Place: OnFilm(film, at), Side: Sides[k%2], Who: Who{Number: Number(fmt.Sprint(100 + k%40))}, Penalty: &PenaltyInfo{Code: "F"}})
		case 3:
			add(Tag{Kind: KindBox, Place: OnFilm(film, at), Side: Sides[k%2], Who: Who{Number: Number(fmt.Sprint(100 + k%40))}, Box: &BoxInfo{Out: OnFilm(film, at+sec(30))}})
		}
	}
	return m.f
}

func BenchmarkDeriveFullBout(b *testing.B) {
	f := fullBout(0)
	b.ReportMetric(float64(len(f.Tags)), "tags")
	b.ReportAllocs()
	for b.Loop() {
		Derive(f)
	}
}

func BenchmarkDerive20000Tags(b *testing.B) {
	f := fullBout(20_000)
	b.ReportAllocs()
	for b.Loop() {
		Derive(f)
	}
}

func BenchmarkFind20000Tags(b *testing.B) {
	f := fullBout(20_000)
	bout := Derive(f)
	for b.Loop() {
		Find(bout, f, Selection{Kinds: []Kind{KindPenalty}, Situations: []SituationKind{SitPowerJam}})
	}
}

// The bench bout is a sane one, so that its figures mean something.
func TestFullBoutIsClean(t *testing.T) {
	b := Derive(fullBout(0))
	checkBout(t, b)
	if len(b.Loose) > 0 || !b.Score[0].Sure() || b.Score[0].Low == 0 {
		t.Errorf("score %v, loose %v", b.Score, b.Loose)
	}
	for _, p := range b.Problems {
		if p.Kind != ProblemBox && p.Kind != ProblemRule && p.Kind != ProblemClock {
			t.Errorf("%+v", p)
		}
	}
}
