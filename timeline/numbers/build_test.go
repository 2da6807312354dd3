package numbers

import (
	"fmt"
	"time"

	"whistlecut/timeline"
)

// bench writes small bouts down for the hand-worked examples.
type bench struct {
	f   timeline.Facts
	jam timeline.ID
	n   int
}

// newBench starts a bout by the 2025 edition between Ravens (home) and Wolves.
func newBench() *bench {
	rules, _ := timeline.Edition("2025")
	b := &bench{f: timeline.Facts{
		Info:  timeline.Info{Title: "Ravens : Wolves", Date: "2026-05-02"},
		Rules: rules, Tags: map[timeline.ID]timeline.Tag{},
	}}
	b.f.Teams[0] = timeline.Team{Name: "Ravens", Roster: []timeline.Skater{{Number: "1", Name: "Ada"}, {Number: "2", Name: "Bea"}, {Number: "3", Name: "Cleo"}, {Number: "4", Name: "Dot"}, {Number: "5", Name: "Eve"}, {Number: "6", Name: "Fay"}}}
	b.f.Teams[1] = timeline.Team{Name: "Wolves", Roster: []timeline.Skater{{Number: "11"}, {Number: "12"}, {Number: "13"}, {Number: "14"}, {Number: "15"}}}
	return b
}

func sec(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

func (b *bench) add(t timeline.Tag) timeline.ID {
	b.n++
	if t.ID == "" {
		t.ID = timeline.ID(fmt.Sprintf("t%03d", b.n))
	}
	b.f.Tags[t.ID] = t
	return t.ID
}

// starts adds a jam of a period; length 0 is not known. Both line-ups are the
// numbers given: jammer, pivot, three blockers.
func (b *bench) starts(period int, length float64, home, away []timeline.Number) {
	order := 1.0
	for _, t := range b.f.Tags {
		if t.Kind == timeline.KindJam {
			order++
		}
	}
	b.jam = timeline.ID(fmt.Sprintf("j%d", int(order)))
	info := &timeline.JamInfo{Period: period, Order: order}
	if length > 0 {
		info.End = timeline.InJam(b.jam, sec(length))
	}
	b.add(timeline.Tag{ID: b.jam, Kind: timeline.KindJam, Place: timeline.InJam(b.jam, 0), JamInfo: info})
	for i, who := range [][]timeline.Number{home, away} {
		if who == nil {
			continue
		}
		l := &timeline.LineupInfo{Jammer: timeline.Who{Number: who[0]}, Pivot: timeline.Who{Number: who[1]}}
		for _, n := range who[2:] {
			l.Blockers = append(l.Blockers, timeline.Who{Number: n})
		}
		b.add(timeline.Tag{Kind: timeline.KindLineup, Place: timeline.JamAlone(b.jam), Side: timeline.Sides[i], Lineup: l})
	}
}

func (b *bench) at(s float64) timeline.Place {
	if s < -1000 {
		return timeline.JamAlone(b.jam)
	}
	return timeline.InJam(b.jam, sec(s))
}

// untimed is the time of a tag that names its jam alone.
const untimed = -9999

func (b *bench) trip(side timeline.Side, number, points int, at float64, open bool) timeline.ID {
	return b.add(timeline.Tag{
		Kind: timeline.KindTrip, Place: b.at(at), Jam: b.jam, Side: side,
		Trip: &timeline.TripInfo{Number: number, Points: points, Open: open},
	})
}

func (b *bench) lead(side timeline.Side, who timeline.Number, at float64) {
	b.add(timeline.Tag{Kind: timeline.KindLead, Place: b.at(at), Jam: b.jam, Side: side, Who: timeline.Who{Number: who}})
}

func (b *bench) penalty(side timeline.Side, who timeline.Number, code string, at float64) timeline.ID {
	return b.add(timeline.Tag{
		Kind: timeline.KindPenalty, Place: b.at(at), Jam: b.jam, Side: side, Who: timeline.Who{Number: who},
		Penalty: &timeline.PenaltyInfo{Code: code, Act: b.at(at - 2)},
	})
}

// sits adds a box visit from this jam; outJam "" leaves the release to the rules.
func (b *bench) sits(side timeline.Side, who timeline.Number, at float64, outJam timeline.ID, out float64, pens ...timeline.ID) {
	t := timeline.Tag{Kind: timeline.KindBox, Place: b.at(at), Jam: b.jam, Side: side, Who: timeline.Who{Number: who}, Box: &timeline.BoxInfo{Penal: pens}}
	if outJam != "" {
		t.Box.Out = timeline.InJam(outJam, sec(out))
	}
	b.add(t)
}

func (b *bench) source() Source { return SourceOf(b.f) }

func (b *bench) page(who string) Page {
	src := []Source{b.source()}
	n, err := ParseName(who, src)
	if err != nil {
		panic(err)
	}
	p, err := PageOf(src, n)
	if err != nil {
		panic(err)
	}
	return p
}

var (
	ravens = []timeline.Number{"1", "2", "3", "4", "5"}
	wolves = []timeline.Number{"11", "12", "13", "14", "15"}
)

// twoJams is the bout of most hand-worked examples: a blocker's penalty that lasts
// into the second jam, and a jammer who passes the star.
//
//	jam 1, 60 s: home jammer 1, pivot 2; lead to home at 12 s.
//	  home trips: 1 at 12; 2 scores 4 at 30; 3 scores 3 at 60, closed by the end.
//	  away trips: 1 at 20; 2 scores 2 at 45; 3 scores 4 at 58.
//	  home blocker 3: X called at 40, sits at 47.
//	jam 2, 50 s: home jammer 6, pivot 2, blockers 3 4 5; star pass to 2 at 20 s.
//	  home trips: 1 at 25 (by 2), 2 scores 3 at 45 (by 2), 3 scores 0, closed by the end.
//	  away trips: 1 at 10; 2 scores 4 at 14; 3 scores 1 at 30; 4 scores 2 at 50, closed by the end.
//	  3 is released at 17: 13 s in jam 1 and 17 s in jam 2 make 30 s.
func twoJams() *bench {
	b := newBench()
	b.starts(1, 60, ravens, wolves)
	b.lead(timeline.Home, "1", 12)
	b.trip(timeline.Home, 1, 0, 12, false)
	b.trip(timeline.Home, 2, 4, 30, false)
	b.trip(timeline.Home, 3, 3, 60, true)
	b.trip(timeline.Away, 1, 0, 20, false)
	b.trip(timeline.Away, 2, 2, 45, false)
	b.trip(timeline.Away, 3, 4, 58, false)
	p := b.penalty(timeline.Home, "3", "X", 40)
	b.sits(timeline.Home, "3", 47, "j2", 17, p)
	b.starts(1, 50, []timeline.Number{"6", "2", "3", "4", "5"}, wolves)
	b.add(timeline.Tag{
		Kind: timeline.KindStarPass, Place: b.at(20), Jam: b.jam, Side: timeline.Home, Who: timeline.Who{Number: "6"},
		StarPass: &timeline.StarPassInfo{To: timeline.Who{Number: "2"}, Complete: true},
	})
	b.trip(timeline.Home, 1, 0, 25, false)
	b.trip(timeline.Home, 2, 3, 45, false)
	b.trip(timeline.Home, 3, 0, 50, true)
	b.trip(timeline.Away, 1, 0, 10, false)
	b.trip(timeline.Away, 2, 4, 14, false)
	b.trip(timeline.Away, 3, 1, 30, false)
	b.trip(timeline.Away, 4, 2, 50, true)
	return b
}
