package numbers

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
)

func exactly(n int) timeline.Range { return timeline.Exactly(n) }

// Home scores 7 + 3 = 10, away 6 + 7 = 13 in twoJams.
func TestPageOfABlocker(t *testing.T) {
	p := twoJams().page("home 3")
	r := p.Record
	if r.All.Jams != 2 || r.Blocker.Jams != 2 || r.Jammer.Jams != 0 || r.All.For != exactly(10) || r.All.Against != exactly(13) {
		t.Errorf("jams %d, as blocker %d, points %v : %v; want 2, 2, 10 : 13", r.All.Jams, r.Blocker.Jams, r.All.For, r.All.Against)
	}
	// Plus-minus is 7-6 = +1 and 3-7 = -4: mean -1.5. s = 5/√2 = 3.5355; t(0.975, 1) =
	// 12.7062; half the interval 12.7062·3.5355/√2 = 31.766.
	if m := r.All.PerJam; m.Mean != -1.5 || math.Abs(m.High-m.Mean-31.766) > 0.001 || !m.Small {
		t.Errorf("per jam %+v, want -1.5 ± 31.766", m)
	}
	// Off the track from the call at 40 of jam 1 to 17 of jam 2. Home scored 4 of its 7
	// at 30, its 3 at 60 fall in that time; in jam 2 its 3 at 45 are after: 4 + 3 = 7.
	// Away scored 2 and 4 at 45 and 58 (away from the track), 4 at 14 too; 1 at 30 and
	// 2 at 50 are after: 0 + 3 = 3.
	if r.OnTrackFor.Range != exactly(7) || r.OnTrackAgainst.Range != exactly(3) || r.OnTrackFor.Basis != ByTrips {
		t.Errorf("on the track %v : %v (%s), want 7 : 3 by trip ends", r.OnTrackFor.Range, r.OnTrackAgainst.Range, r.OnTrackFor.Basis)
	}
	// Sitting from 47 of jam 1: away's 4 at 58, and 4 at 14 of jam 2; the 2 at 45 came
	// before she sat. Own: 3 at 60, which is the jam's end and she still sat.
	if r.Conceded.Range != exactly(8) || r.Scored.Range != exactly(3) {
		t.Errorf("while sitting conceded %v, scored %v; want 8 and 3", r.Conceded.Range, r.Scored.Range)
	}
	if len(p.Sittings) != 1 || len(p.Penalties) != 1 {
		t.Fatalf("%d stays, %d penalties", len(p.Sittings), len(p.Penalties))
	}
	s := p.Sittings[0]
	// 60-47 = 13 s and 17 s.
	if s.BoxTime != 30*time.Second || !s.BoxTimeKnown || len(s.Parts) != 2 {
		t.Fatalf("stay %+v, want 30 s over two jams", s)
	}
	for i, want := range []SittingPart{
		{Jam: "j1", Period: 1, Number: 1, From: sec(47), To: sec(60), Timed: true, Conceded: Points{exactly(4), ByTrips}},
		{Jam: "j2", Period: 1, Number: 2, From: 0, To: sec(17), Timed: true, Conceded: Points{exactly(4), ByTrips}},
	} {
		if d := cmp.Diff(want, s.Parts[i]); d != "" {
			t.Errorf("part %d (-want +got):\n%s", i, d)
		}
	}
	x := p.Penalties[0]
	// The clock of the first jam starts at 30:00, so 40 s in it shows 29:20. At the call
	// home led 4 to 0; away's first points came at 45.
	if x.Code != "X" || x.Role != timeline.Blocker || x.At != sec(40) || x.Clock != 29*time.Minute+20*time.Second || !x.ClockKnown ||
		x.Score != [2]timeline.Range{exactly(4), exactly(0)} || x.Conceded.Range != exactly(8) || x.Shared {
		t.Errorf("penalty %+v", x)
	}
	if d := cmp.Diff([]string{LeadOwn, WhenLeading}, x.Situations); d != "" {
		t.Errorf("situations (-want +got):\n%s", d)
	}
	f := p.Bouts[0].FoulOut
	if f.Penalties != 1 || f.Left != 6 || f.Limit != 7 || f.Nearest != 0 || f.FouledOut {
		t.Errorf("foul-out %+v", f)
	}
	// Penalties per jam: hers 1/2. The team's: 1 penalty over 2·5 jams fielded = 0.1.
	if c := p.Against.Penalties; c.Hers != 0.5 || c.Team != 0.1 || !c.Small {
		t.Errorf("penalties per jam %+v, want 0.5 and 0.1", c)
	}
	// She skated every jam, so she is the average.
	if c := p.Against.PlusMinus; c.Difference != 0 || c.Team != -1.5 {
		t.Errorf("plus-minus against the team %+v", c)
	}
}

func TestPageOfThePivotWhoGotTheStar(t *testing.T) {
	p := twoJams().page("Ravens 2")
	r := p.Record
	if r.Pivot.Jams != 2 || r.StarPass.Jams != 1 || r.Jammer.Jams != 0 || r.Jamming.StarPass != 1 || r.Jamming.Jams != 0 {
		t.Errorf("as pivot %d, after a star pass %d", r.Pivot.Jams, r.StarPass.Jams)
	}
	// Trip 2 (3 points) and trip 3 (0, open) of jam 2 are hers: 3 points on 2 trips.
	low, high, ok := r.Jamming.PerTrip()
	if r.Jamming.Trips != 2 || r.Jamming.Completed != 1 || r.Jamming.Points != exactly(3) || low != 1.5 || high != 1.5 || !ok {
		t.Errorf("%+v, %v to %v per trip; want 3 points on 2 trips", r.Jamming, low, high)
	}
	if r.Jamming.Lead.Of != 0 {
		t.Error("a jam joined by a star pass has no lead to gain")
	}
}

func TestPageOfTheJammers(t *testing.T) {
	b := twoJams()
	one, six := b.page("Ada").Record.Jamming, b.page("home 6").Record.Jamming
	// 1: one jam, lead, trips 2 and 3 with 4 + 3 points.
	if one.Jams != 1 || one.Lead.Low != 1 || one.Lead.Of != 1 || one.Trips != 2 || one.Completed != 1 || one.Points != exactly(7) || one.NoInitial != 0 {
		t.Errorf("jammer 1: %+v", one)
	}
	// 6: one jam, no lead, gave the star before completing the initial trip.
	if six.Jams != 1 || six.Lead.High != 0 || six.Lead.Of != 1 || six.Trips != 0 || six.Points != exactly(0) || six.NoInitial != 1 || six.Given != 1 {
		t.Errorf("jammer 6: %+v", six)
	}
}

func TestPageWithWhatWasNotSeen(t *testing.T) {
	b := newBench()
	b.starts(1, 60, ravens, wolves)
	b.trip(timeline.Home, 2, 4, 30, false)
	id := b.trip(timeline.Away, 2, 0, 40, false)
	x := b.f.Tags[id]
	x.Seen = timeline.NotSeen
	b.f.Tags[id] = x
	p := b.penalty(timeline.Home, "3", "B", 20)
	b.sits(timeline.Home, "3", 25, "j1", 55, p)
	r := b.page("home 3").Record
	// Away's trip 2 may be anything from 0 to 4, and it ended while she sat.
	if r.All.Against != (timeline.Range{Low: 0, High: 4}) || r.Conceded.Range != (timeline.Range{Low: 0, High: 4}) || r.All.PerJam.N != 0 {
		t.Errorf("against %v, conceded %v, %d jams counted exactly", r.All.Against, r.Conceded.Range, r.All.PerJam.N)
	}
	b.trip(timeline.Away, 3, 2, untimed, false)
	q := b.page("home 3")
	if q.Record.Conceded.Basis != NotKnown || q.Record.Conceded.Range != (timeline.Range{Low: 0, High: 6}) {
		t.Errorf("with an untimed trip: %+v, want not known, 0 to 6", q.Record.Conceded)
	}
	if !hasNote(q, NoteNoTimes) || !hasNote(q, NoteRanges) || !hasNote(q, NoteSmall) {
		t.Errorf("notes %v", q.Notes)
	}
}

// Who sits through a whole jam concedes all of its points, timed or not.
func TestConcededOfAWholeJamNeedsNoTimes(t *testing.T) {
	b := newBench()
	b.starts(1, 30, ravens, wolves)
	b.trip(timeline.Home, 1, 0, 20, false)
	p1 := b.penalty(timeline.Home, "3", "B", 28)
	p2 := b.penalty(timeline.Home, "3", "C", 29)
	b.starts(1, 40, ravens, wolves)
	b.sits(timeline.Home, "3", -10, "j3", 20, p1, p2) // between the jams: 40 + 20 s
	b.trip(timeline.Away, 2, 4, untimed, false)
	b.trip(timeline.Away, 3, 3, untimed, false)
	b.starts(1, 60, ravens, wolves)
	b.trip(timeline.Away, 1, 0, 30, false)
	p := b.page("home 3")
	if c := p.Record.Conceded; c.Range != exactly(7) || c.Basis != ByJams {
		t.Errorf("conceded %+v, want 7 by whole jams", c)
	}
	if !p.Sittings[0].Between || p.Sittings[0].BoxTime != 60*time.Second {
		t.Errorf("stay %+v", p.Sittings[0])
	}
	if !p.Penalties[0].Shared || p.Penalties[0].Conceded.Range != exactly(7) {
		t.Errorf("penalty %+v", p.Penalties[0])
	}
}

func TestConcededByPassTimes(t *testing.T) {
	b := newBench()
	b.starts(1, 60, ravens, wolves)
	event := func(at float64, e timeline.Event) {
		e.At = sec(at)
		b.add(timeline.Tag{Kind: timeline.KindEvent, Place: b.at(at), Jam: b.jam, Side: e.Who.Side, Who: timeline.Who{Number: e.Who.Number}, Event: &e})
	}
	away := timeline.SkaterRef{Side: timeline.Away, Number: "11"}
	home := func(n timeline.Number) timeline.SkaterRef {
		return timeline.SkaterRef{Side: timeline.Home, Number: n}
	}
	// The initial trip; then 4 is passed at 30, 5 at 36, 2 at 44, and the trip ends at 50.
	// 3 is off to the box from 32 on, seated at 35: not on the track, she is scored on
	// with the pass at 36 as it is the first after (2.5).
	for at, n := range map[float64]timeline.Number{5: "2", 6: "3", 7: "4", 8: "5"} {
		event(at, timeline.Event{What: timeline.EvPass, Who: away, Whom: home(n)})
	}
	event(4, timeline.Event{What: timeline.EvZone, Who: away, Zone: timeline.ZoneWithin})
	event(9, timeline.Event{What: timeline.EvZone, Who: away, Zone: timeline.ZoneAhead})
	event(20, timeline.Event{What: timeline.EvZone, Who: away, Zone: timeline.ZoneBehind})
	event(25, timeline.Event{What: timeline.EvZone, Who: away, Zone: timeline.ZoneWithin})
	event(30, timeline.Event{What: timeline.EvPass, Who: away, Whom: home("4")})
	event(32, timeline.Event{What: timeline.EvPenalised, Who: home("3"), Code: "X"})
	event(35, timeline.Event{What: timeline.EvSits, Who: home("3")})
	event(36, timeline.Event{What: timeline.EvPass, Who: away, Whom: home("5")})
	event(44, timeline.Event{What: timeline.EvPass, Who: away, Whom: home("2")})
	event(50, timeline.Event{What: timeline.EvZone, Who: away, Zone: timeline.ZoneAhead})
	p := b.penalty(timeline.Home, "3", "X", 32)
	b.sits(timeline.Home, "3", 35, "j1", 43, p)
	src := b.source()
	got := b.page("home 3")
	if src.Bout.Score[1] != exactly(4) {
		t.Fatalf("away scored %v", src.Bout.Score[1])
	}
	// Between 35 and 43 the pass at 36 alone; her own point came at 32 when she left
	// the track with a pass on another already earned; 44 is after her release. By the
	// trip's end, at 50, it would have been none.
	if c := got.Record.Conceded; c.Range != exactly(1) || c.Basis != ByPasses {
		t.Errorf("conceded %+v, want 1 by pass times", c)
	}
}

func TestSeveralBouts(t *testing.T) {
	one, two := twoJams(), twoJams()
	// In the second bout the Ravens are the away team and Cleo has another number.
	two.f.Teams[0], two.f.Teams[1] = two.f.Teams[1], two.f.Teams[0]
	for id, x := range two.f.Tags {
		x.Side = x.Side.Other()
		if x.Lineup != nil {
			for i, w := range x.Lineup.Blockers {
				if w.Number == "3" {
					x.Lineup.Blockers[i].Number = "33"
				}
			}
		}
		if x.Who.Number == "3" {
			x.Who.Number = "33"
		}
		two.f.Tags[id] = x
	}
	two.f.Teams[1].Roster[2].Number = "33"
	bouts := []Source{one.source(), two.source()}
	for _, c := range []struct {
		name, who string
		jams, in  int
	}{
		{"by her name", "cleo", 4, 2},
		{"by side and number, found by the team's name", "home 4", 4, 2},
		{"a number that changed", "home 3", 2, 1},
		{"by team and number", "ravens 33", 2, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			n, err := ParseName(c.who, bouts)
			if err != nil {
				t.Fatal(err)
			}
			p, err := PageOf(bouts, n)
			if err != nil || p.Record.All.Jams != c.jams || len(p.Bouts) != c.in {
				t.Errorf("%d jams of %d bouts, %v", p.Record.All.Jams, len(p.Bouts), err)
			}
			if hasNote(p, NoteMissing) != (c.in < 2) {
				t.Errorf("notes %v", p.Notes)
			}
		})
	}
	n, _ := ParseName("Cleo", bouts)
	p, _ := PageOf(bouts, n)
	if p.Record.Conceded.Range != exactly(16) || p.Record.Penalties != 2 || p.Record.BoxTime != time.Minute {
		t.Errorf("both bouts: conceded %v, %d penalties, %v in the box; want 16, 2, 1 min", p.Record.Conceded.Range, p.Record.Penalties, p.Record.BoxTime)
	}
	// The same letter and the same role twice.
	found := map[string]int{}
	for _, x := range p.Patterns {
		found[x.Kind+" "+x.Key] = len(x.Penalties)
	}
	if found["code X"] != 2 || found["role blocker"] != 2 || found["situation "+LeadOwn] != 2 {
		t.Errorf("patterns %v", p.Patterns)
	}
}

func TestCopiesOfABoutAreTold(t *testing.T) {
	one, other := twoJams(), twoJams()
	other.f.Info.Date = "2026-06-02"
	for _, c := range []struct {
		name string
		in   []Source
		told bool
	}{
		{"a copy", []Source{one.source(), one.source()}, true},
		{"another day", []Source{one.source(), other.source()}, false},
		{"one bout", []Source{one.source()}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := PageOf(c.in, Name{Team: "Ravens", Number: "3"})
			if err != nil || hasNote(p, NoteCopies) != c.told {
				t.Errorf("notes %v, %v", p.Notes, err)
			}
		})
	}
}

func TestWhoIsNobody(t *testing.T) {
	src := []Source{twoJams().source()}
	if _, err := ParseName("", src); err == nil {
		t.Error("no name is somebody")
	}
	if _, err := ParseName("Nobody At All", src); err == nil {
		t.Error("an unknown name is somebody")
	}
	n, err := ParseName("home 99", src)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := PageOf(src, n); !errors.Is(err, ErrNobody) {
		t.Errorf("a number nobody wears: %v", err)
	}
}

func TestFoulingOut(t *testing.T) {
	b := newBench()
	for range 4 {
		b.starts(1, 60, ravens, wolves)
		b.penalty(timeline.Home, "4", "F", 20)
		b.penalty(timeline.Home, "4", "L", 40)
	}
	p := b.page("home 4")
	f := p.Bouts[0].FoulOut
	// The seventh of eight fouls her out (4.5): the first of jam 4.
	if !f.FouledOut || f.Left != 0 || f.Nearest != 6 || p.Penalties[6].Number != 4 || !p.Penalties[6].FouledOut {
		t.Errorf("%+v", f)
	}
	// The sixth is at 40 s of jam 3; the seventh, at 20 s of jam 4, finds her one from it.
	if !slices.Contains(p.Penalties[6].Situations, OneLeft) || slices.Contains(p.Penalties[5].Situations, OneLeft) {
		t.Errorf("at the seventh: %v", p.Penalties[6].Situations)
	}
}

func hasNote(p Page, k NoteKey) bool {
	for _, n := range p.Notes {
		if n.Key == k {
			return true
		}
	}
	return false
}
