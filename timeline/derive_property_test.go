package timeline

import (
	"fmt"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// anyID draws from few names, so that references hit, clash and dangle.
func anyID(t *rapid.T, what string) ID {
	return ID(rapid.SampledFrom([]string{"", "a", "b", "c", "d", "e", "f", "g", "h", "nowhere"}).Draw(t, what))
}

func anyTime(t *rapid.T, what string) time.Duration {
	return rapid.OneOf(
		rapid.Map(rapid.Int64Range(-60_000, 200_000), func(n int64) time.Duration { return time.Duration(n) * time.Millisecond }),
		rapid.Map(rapid.Int64(), func(n int64) time.Duration { return time.Duration(n) }),
	).Draw(t, what)
}

func anyPlace(t *rapid.T, what string) Place {
	return Place{
		Footage: anyID(t, what+" footage"), Film: anyTime(t, what+" film"),
		Jam: anyID(t, what+" jam"), InJam: rapid.Bool().Draw(t, what+" in jam"), Offset: anyTime(t, what+" offset"),
	}
}

func anyWho(t *rapid.T, what string) Who {
	return Who{
		Number: Number(rapid.SampledFrom([]string{"", "0", "00", "1", "12", "7", "99"}).Draw(t, what)),
		Seen:   Seen(rapid.IntRange(0, 3).Draw(t, what+" seen")),
	}
}

var everyKind = []Kind{
	KindJam, KindLineup, KindLead, KindLost, KindCall, KindStarPass, KindTrip, KindEvent, KindPenalty,
	KindBox, KindTimeout, KindReview, KindInjury, KindNote, "no such kind",
}

// anyTag draws a tag of any kind whose payload may be there, missing or another's.
func anyTag(t *rapid.T) Tag {
	tag := Tag{
		Kind:  rapid.SampledFrom(everyKind).Draw(t, "kind"),
		Place: anyPlace(t, "place"), Jam: anyID(t, "jam"),
		Side: Side(rapid.IntRange(0, 3).Draw(t, "side")), Who: anyWho(t, "who"),
		Seen:   Seen(rapid.IntRange(0, 3).Draw(t, "seen")),
		Source: rapid.SampledFrom([]string{"", "listener"}).Draw(t, "source"), Confidence: rapid.Float64().Draw(t, "confidence"),
	}
	with := func(k Kind) bool { return tag.Kind == k && rapid.IntRange(0, 9).Draw(t, "payload") > 0 }
	if with(KindJam) {
		tag.JamInfo = &JamInfo{
			Period: rapid.IntRange(-1, 3).Draw(t, "period"), Order: rapid.Float64().Draw(t, "order"),
			Overtime: rapid.Bool().Draw(t, "overtime"), End: anyPlace(t, "end"),
			Ended: rapid.SampledFrom([]Ended{EndUnknown, EndTime, EndCalled, EndInjury, EndOfficial, EndNoJammer, "odd"}).Draw(t, "ended"),
		}
	}
	if with(KindLineup) {
		tag.Lineup = &LineupInfo{Jammer: anyWho(t, "jammer"), Pivot: anyWho(t, "pivot")}
		for range rapid.IntRange(0, 5).Draw(t, "blockers") {
			tag.Lineup.Blockers = append(tag.Lineup.Blockers, anyWho(t, "blocker"))
		}
	}
	if with(KindTrip) {
		tag.Trip = &TripInfo{
			Number: rapid.IntRange(-1, 70).Draw(t, "trip"), Points: rapid.IntRange(-2, 9).Draw(t, "points"),
			Open: rapid.Bool().Draw(t, "open"), Start: anyPlace(t, "start"),
		}
	}
	if with(KindEvent) {
		tag.Event = &Event{
			At: anyTime(t, "at"), What: rapid.SampledFrom([]EventKind{EvPass, EvZone, EvSits, EvPenalised, EvStarRelease, EvStarOff, EvCalls, EvJamEnds}).Draw(t, "what"),
			Who: SkaterRef{Side(rapid.IntRange(0, 3).Draw(t, "who side")), anyWho(t, "who").Number}, Whom: SkaterRef{Side(rapid.IntRange(0, 3).Draw(t, "whom side")), anyWho(t, "whom").Number},
			Zone: rapid.SampledFrom([]Zone{"", ZoneAhead, ZoneBehind, ZoneWithin}).Draw(t, "zone"),
		}
	}
	if with(KindStarPass) {
		tag.StarPass = &StarPassInfo{To: anyWho(t, "to"), Complete: rapid.Bool().Draw(t, "complete")}
	}
	if with(KindPenalty) {
		tag.Penalty = &PenaltyInfo{Code: rapid.SampledFrom([]string{"", "X", "F", "?"}).Draw(t, "code"), Act: anyPlace(t, "act"), Expelled: rapid.IntRange(0, 9).Draw(t, "exp") == 0, Served: anyWho(t, "served")}
	}
	if with(KindBox) {
		tag.Box = &BoxInfo{Stand: anyPlace(t, "stand"), Out: anyPlace(t, "out"), Role: Role(rapid.IntRange(0, 4).Draw(t, "role"))}
		for range rapid.IntRange(0, 3).Draw(t, "penalties") {
			tag.Box.Penal = append(tag.Box.Penal, anyID(t, "penalty"))
		}
	}
	if with(KindTimeout) {
		tag.Timeout = &TimeoutInfo{End: anyPlace(t, "end"), Clock: anyTime(t, "clock"), AfterJam: anyID(t, "after")}
	}
	if with(KindReview) {
		tag.Review = &ReviewInfo{End: anyPlace(t, "end"), Clock: anyTime(t, "clock"), AfterJam: anyID(t, "after")}
	}
	return tag
}

// anyFacts draws facts with no regard for whether they make sense.
func anyFacts(t *rapid.T) Facts {
	f := Facts{Tags: map[ID]Tag{}, Footage: map[ID]Footage{}, Marks: map[ID]SyncMark{}}
	if rapid.Bool().Draw(t, "rules") {
		f.Rules, _ = Edition(rapid.SampledFrom([]string{"2013", "2017", "2025"}).Draw(t, "edition"))
	} else {
		f.Rules = RuleSet{PointsPerTrip: rapid.IntRange(-1, 5).Draw(t, "most"), FoulOut: rapid.IntRange(-1, 3).Draw(t, "foul out"), PenaltyTime: anyTime(t, "penalty time"), JamLength: anyTime(t, "jam length")}
	}
	for i := range f.Teams {
		for range rapid.IntRange(0, 3).Draw(t, "roster") {
			f.Teams[i].Roster = append(f.Teams[i].Roster, Skater{Number: anyWho(t, "skater").Number})
		}
	}
	for n := range rapid.IntRange(0, 4).Draw(t, "films") {
		f.Footage[anyID(t, "film")] = Footage{
			Camera: rapid.SampledFrom([]string{"", "stand", "turn"}).Draw(t, "camera"), Order: float64(n),
			Duration: anyTime(t, "length"), Joined: rapid.Bool().Draw(t, "joined"),
			Range: TimeRange{anyTime(t, "from"), anyTime(t, "to")},
		}
	}
	for range rapid.IntRange(0, 5).Draw(t, "marks") {
		f.Marks[anyID(t, "mark")] = SyncMark{
			Jam: anyID(t, "of jam"), Footage: anyID(t, "on film"), Film: anyTime(t, "film"),
			Edge: rapid.SampledFrom([]Edge{EdgeStart, EdgeEnd, ""}).Draw(t, "edge"), Hand: rapid.Bool().Draw(t, "hand"), Confidence: rapid.Float64().Draw(t, "confidence"),
		}
	}
	for n := range rapid.IntRange(0, 30).Draw(t, "tags") {
		id := anyID(t, "tag")
		if n > 8 {
			id = ID(fmt.Sprintf("t%d", n))
		}
		f.Tags[id] = anyTag(t)
	}
	return f
}

// Whatever the facts say, Derive answers, the same each time, and what it
// answers is in itself consistent.
func TestDeriveAnyFacts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFacts(t)
		b := Derive(f)
		copied := f
		copied.Tags = map[ID]Tag{}
		for id, tag := range f.Tags {
			copied.Tags[id] = tag
		}
		if again := Derive(copied); !reflect.DeepEqual(b, again) {
			t.Fatalf("two derivations of the same facts differ")
		}
		checkBout(t, b)
		for _, j := range b.Jams {
			for _, s := range Sides {
				b.WhyPoints(j.ID, s)
				b.WhyStatus(j.ID, s)
			}
		}
		for id := range f.Footage {
			b.ClockAt(id, anyTime(t, "clock at"))
		}
		for _, sel := range []Selection{{}, {Kinds: everyKind}, {Situations: []SituationKind{SitPowerJam, SitShort, SitNoLead, SitTied}}, {Roles: []Role{Jammer}}, {Kinds: []Kind{KindPenalty}, Situations: []SituationKind{SitPowerJam}, Score: &ScoreState{Side: Away, State: Leading}}} {
			Find(b, f, sel)
		}
	})
}

type failer interface {
	Helper()
	Fatalf(string, ...any)
}

// checkBout checks what holds for every bout: rows add up to the jams and these
// to the score, ranges are the right way round, trips are in order.
func checkBout(t failer, b Bout) {
	t.Helper()
	for _, s := range Sides {
		total := Range{}
		for _, j := range b.Jams {
			side := j.Sides[s.Index()]
			if side.GameBefore != total {
				t.Fatalf("jam %s: score before is %v, the jams so far make %v", j.Name(), side.GameBefore, total)
			}
			trips, rows := Range{}, Range{}
			for i, tr := range side.Trips {
				trips = trips.Add(tr.Points)
				if tr.Points.Low > tr.Points.High || tr.Points.Low < 0 || tr.End < tr.Start {
					t.Fatalf("jam %s: trip %+v", j.Name(), tr)
				}
				if i > 0 && tr.Number <= side.Trips[i-1].Number {
					t.Fatalf("jam %s: trips out of order: %+v", j.Name(), side.Trips)
				}
			}
			for _, r := range side.Rows {
				cells := Range{}
				for _, c := range r.Trips {
					cells = cells.Add(c.span())
				}
				if side.Logged && !r.Spacer && cells != r.JamTotal.span() {
					t.Fatalf("jam %s %s: trip cells make %v, row total %v", j.Name(), s, cells, r.JamTotal)
				}
				rows = rows.Add(cells)
			}
			if trips != side.Points || side.Logged && rows != side.Points || !side.Logged && side.Points != (Range{}) {
				t.Fatalf("jam %s %s: trips %v, rows %v, points %v", j.Name(), s, trips, rows, side.Points)
			}
			total = total.Add(side.Points)
			if n := len(side.Rows); side.GameKnown && !side.Rows[n-1].Spacer && side.Rows[n-1].GameTotal.span() != total {
				t.Fatalf("jam %s %s: running total %v, want %v", j.Name(), s, side.Rows[n-1].GameTotal, total)
			}
			if len(j.Sides[0].Rows) != len(j.Sides[1].Rows) {
				t.Fatalf("jam %s: %d rows beside %d", j.Name(), len(j.Sides[0].Rows), len(j.Sides[1].Rows))
			}
		}
		if b.Score[s.Index()] != total {
			t.Fatalf("score of %s is %v, the jams make %v", s, b.Score[s.Index()], total)
		}
	}
	for _, j := range b.Jams {
		for _, s := range j.Situations {
			if s.Range.End < s.Range.Start {
				t.Fatalf("jam %s: situation %+v ends before it starts", j.Name(), s)
			}
		}
	}
}

// sensible draws a bout without contradictions: every trip numbered once.
func sensible(t *rapid.T) *boutMaker {
	m := newBout()
	for n := range rapid.IntRange(1, 6).Draw(t, "jams") {
		j := m.jam(ID(fmt.Sprintf("j%d", n)), 1+n/4, float64(n))
		for _, s := range Sides {
			at := time.Duration(0)
			for trip := 1; trip <= rapid.IntRange(0, 5).Draw(t, "trips"); trip++ {
				at += sec(float64(rapid.IntRange(3, 15).Draw(t, "seconds")))
				pts := 0
				if trip > 1 {
					pts = rapid.IntRange(0, 4).Draw(t, "points")
				}
				m.trip(j, s, trip, pts, at)
			}
			if rapid.Bool().Draw(t, "star pass") {
				m.add(Tag{Kind: KindStarPass, Place: InJam(j, sec(20)), Side: s, StarPass: &StarPassInfo{To: Who{Number: "9"}, Complete: true}})
			}
		}
	}
	return m
}

// A trip left as not seen makes a range that holds the score with any number
// that could be filled in, and Settle names that trip.
func TestNotSeenRangeHoldsEveryValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := sensible(t)
		var trips []ID
		for id, tag := range m.f.Tags {
			if tag.Kind == KindTrip && tag.Trip.Number > 1 {
				trips = append(trips, id)
			}
		}
		if len(trips) == 0 {
			return
		}
		sortIDs(trips)
		id := rapid.SampledFrom(trips).Draw(t, "hidden trip")
		hidden := m.f.Tags[id]
		hidden.Seen = NotSeen
		m.f.Tags[id] = hidden
		b := Derive(m.f)
		checkBout(t, b)
		found := false
		for _, s := range b.Settle {
			found = found || s.Tag == id && s.Gain == 4
		}
		if !found {
			t.Fatalf("Settle does not name %s: %+v", id, b.Settle)
		}
		for p := range 5 {
			shown := hidden
			info := *hidden.Trip
			info.Points = p
			shown.Seen, shown.Trip = Sure, &info
			m.f.Tags[id] = shown
			got := Derive(m.f).Score
			for n := range got {
				if !got[n].Sure() || !b.Score[n].Contains(got[n].Low) {
					t.Fatalf("with %d points the score is %v, outside %v", p, got, b.Score)
				}
			}
			if p == 0 && got[hidden.Side.Index()].Low != b.Score[hidden.Side.Index()].Low || p == 4 && got[hidden.Side.Index()].High != b.Score[hidden.Side.Index()].High {
				t.Fatalf("range %v is wider than 0 to 4 points allow (%d points: %v)", b.Score, p, got)
			}
		}
	})
}

// One more trip adds exactly its points to its side and nothing to the other.
func TestTripAddsItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := sensible(t)
		before := Derive(m.f)
		j := rapid.SampledFrom(before.Jams).Draw(t, "jam")
		s := rapid.SampledFrom(Sides[:]).Draw(t, "side")
		next := 2
		for _, tr := range j.Sides[s.Index()].Trips {
			next = max(next, tr.Number+1)
		}
		p := rapid.IntRange(0, 4).Draw(t, "points")
		m.trip(j.ID, s, next, p, sec(89))
		after := Derive(m.f)
		checkBout(t, after)
		for _, x := range Sides {
			want := before.Score[x.Index()].Low
			if x == s {
				want += p
			}
			if after.Score[x.Index()] != Exactly(want) {
				t.Fatalf("score %v after a trip of %s with %d points on %v", after.Score, s, p, before.Score)
			}
		}
	})
}

func sortIDs(ids []ID) {
	for i := range ids {
		for k := i; k > 0 && ids[k] < ids[k-1]; k-- {
			ids[k], ids[k-1] = ids[k-1], ids[k]
		}
	}
}
