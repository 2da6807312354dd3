package timeline

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

var allEventKinds = []EventKind{
	EvPass, EvZone, EvNoPack, EvPack, EvDown, EvUp, EvOut, EvIn, EvTakesOff, EvLands, EvStarOff, EvStarOn,
	EvStripeOff, EvStripeOn, EvStarGrip, EvStarRelease, EvStarLost, EvStarTaken, EvPenalised, EvSits, EvStands,
	EvFreed, EvReturns, EvLeavesBox, EvOff, EvOn, EvCalls, EvJamEnds, "no such kind",
}

var allNames = []string{"R", "R1", "R2", "R3", "RP", "W", "W1", "W2", "W3", "WP"}

// drawRules is one of the editions.
func drawRules(t *rapid.T) RuleSet {
	return rapid.SampledFrom(Editions()).Draw(t, "rules")
}

// drawEvent is any event at all, whether it can have happened or not.
func drawEvent(t *rapid.T, kinds []EventKind, names []string) Event {
	ref := func(label string) SkaterRef {
		n := rapid.SampledFrom(names).Draw(t, label)
		return scriptRef(n)
	}
	e := Event{
		At:   time.Duration(rapid.IntRange(-3, 150).Draw(t, "at")) * time.Second,
		What: rapid.SampledFrom(kinds).Draw(t, "what"),
		Who:  ref("who"),
	}
	switch e.What {
	case EvPass, EvStarGrip, EvStarRelease, EvStarLost:
		e.Whom = ref("whom")
		e.Moved = rapid.SampledFrom([]Moved{MovedPasser, MovedPassed}).Draw(t, "moved")
	case EvZone, EvIn, EvReturns, EvOn, EvLands:
		e.Zone = rapid.SampledFrom([]Zone{ZoneUnknown, ZoneBehind, ZoneWithin, ZoneAhead, "nowhere"}).Draw(t, "zone")
		if rapid.Bool().Draw(t, "placed") {
			e.Behind = []SkaterRef{ref("behind")}
			e.AheadOf = []SkaterRef{ref("ahead of")}
		}
	case EvStarOff, EvOut, EvDown:
		e.By = rapid.SampledFrom([]Agent{BySelf, ByTeammate, ByOpponent, ByPlay, ByOfficial, "nobody"}).Draw(t, "by")
	}
	return e
}

// drawStart is any jam start, sound or not.
func drawStart(t *rapid.T) JamStart {
	start := JamStart{Overtime: rapid.Bool().Draw(t, "overtime")}
	for i := range rapid.IntRange(0, 12).Draw(t, "skaters") {
		n := rapid.SampledFrom(append(slices.Clone(allNames), "R4", "W4")).Draw(t, "name")
		f := Fielded{
			SkaterRef:         scriptRef(n),
			Role:              rapid.SampledFrom([]Role{NoRole, Jammer, Pivot, Blocker, 9}).Draw(t, "role"),
			Order:             rapid.IntRange(0, i).Draw(t, "order"),
			InBox:             rapid.IntRange(0, 5).Draw(t, "box") == 0,
			Queued:            rapid.Bool().Draw(t, "queued"),
			Absent:            rapid.IntRange(0, 5).Draw(t, "absent") == 0,
			PenalisedInLineup: rapid.IntRange(0, 5).Draw(t, "line-up") == 0,
			NoStar:            rapid.IntRange(0, 5).Draw(t, "no star") == 0,
			NoStripe:          rapid.IntRange(0, 5).Draw(t, "no stripe") == 0,
		}
		if rapid.IntRange(0, 20).Draw(t, "no side") == 0 {
			f.Side = NoSide
		}
		start.Skaters = append(start.Skaters, f)
	}
	start.NotFielded = [2]int{rapid.IntRange(-1, 6).Draw(t, "not fielded"), 0}
	return start
}

// TestAnyEventsAnyStart: whatever is told, the count ends, and what it says is
// sound in itself.
func TestAnyEventsAnyStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := drawStart(t)
		events := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Event {
			return drawEvent(t, allEventKinds, append(slices.Clone(allNames), "R9"))
		}), 0, 60).Draw(t, "events")
		c := RecountEvents(drawRules(t), start, events)
		checkSound(t, c, events, false)
	})
}

// TestAnyEventsSoundStart: from a proper line-up, points keep their bounds too.
func TestAnyEventsSoundStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := redWhite()
		start.Overtime = rapid.IntRange(0, 9).Draw(t, "overtime") == 0
		var kinds []EventKind // passes and zones make trips: many of them
		for range 8 {
			kinds = append(kinds, EvPass, EvPass, EvZone)
		}
		kinds = append(kinds, allEventKinds...)
		kinds = slices.DeleteFunc(kinds, func(k EventKind) bool { return k == EvJamEnds })
		events := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Event {
			return drawEvent(t, kinds, append([]string{"R", "R", "R", "W", "W", "W", "RP", "WP"}, allNames...))
		}), 20, 120).Draw(t, "events")
		events = append(events, Event{At: 160 * time.Second, What: EvJamEnds})
		c := RecountEvents(drawRules(t), start, events)
		checkSound(t, c, events, true)
		if !c.EndKnown || c.EndAt != 160*time.Second {
			t.Fatalf("end known %v at %v", c.EndKnown, c.EndAt)
		}
	})
}

// checkSound holds what must be true of every count.
func checkSound(t *rapid.T, c JamCount, events []Event, soundStart bool) {
	rules, _ := Edition(c.Edition)
	leads := 0
	for i, s := range c.Sides {
		sum := len(s.Laps)
		for n, tr := range s.Trips {
			sum += len(tr.Points)
			if tr.Number != n+1 || tr.Open != (n == len(s.Trips)-1) && !tr.Open {
				t.Fatalf("%v: trip %d stands in place %d, open %v", Sides[i], tr.Number, n+1, tr.Open)
			}
			if tr.End < tr.Start || n > 0 && tr.Start != s.Trips[n-1].End {
				t.Fatalf("%v: trip %d from %v to %v", Sides[i], tr.Number, tr.Start, tr.End)
			}
			checkTrip(t, Sides[i], tr)
			if soundStart && len(tr.Points) > rules.PointsPerTrip {
				t.Fatalf("%v: %d points in trip %d", Sides[i], len(tr.Points), tr.Number)
			}
		}
		if sum != s.Points {
			t.Fatalf("%v: %d points, trips sum to %d", Sides[i], s.Points, sum)
		}
		if len(s.Laps) > 0 && !rules.LapJammerInitial || s.Called && !s.Lead {
			t.Fatalf("%v: laps %d, called %v, lead %v", Sides[i], len(s.Laps), s.Called, s.Lead)
		}
		if s.Called && s.Lost && s.LostAt < s.CallAt {
			t.Fatalf("%v called at %v having lost lead at %v", Sides[i], s.CallAt, s.LostAt)
		}
		if s.Lead {
			leads++
			if s.LeadBy != s.Jammer {
				t.Fatalf("lead by %q, the jammer at the start is %q", s.LeadBy, s.Jammer)
			}
		}
		if (s.NewJammer != "") != slices.ContainsFunc(s.StarPasses, func(p StarPassCount) bool { return p.Complete }) {
			t.Fatalf("%v: new jammer %q by %v", Sides[i], s.NewJammer, s.StarPasses)
		}
		for k, st := range s.Status {
			if st.Why.Text == "" || k > 0 && st.At < s.Status[k-1].At {
				t.Fatalf("status %d: %+v", k, st)
			}
		}
		if s.LeadWhy.Text == "" {
			t.Fatalf("%v: no why for lead", Sides[i])
		}
	}
	if leads > 1 {
		t.Fatal("two lead jammers")
	}
	for _, p := range c.Passes {
		if events[p.Event].What != EvPass || p.Why.Text == "" {
			t.Fatalf("a pass from event %d: %+v", p.Event, p)
		}
	}
	for _, p := range c.Problems {
		if p.Text == "" || p.Event >= len(events) {
			t.Fatalf("problem %+v", p)
		}
	}
}

func checkTrip(t *rapid.T, side Side, tr TripCount) {
	on := map[SkaterRef]bool{}
	for _, p := range tr.Points {
		if p.On.Side != side.Other() || p.Why.Text == "" || p.Why.Section == "" {
			t.Fatalf("a point for %v on %v: %+v", side, p.On, p.Why)
		}
		if on[p.On] && p.On.Number != "" {
			t.Fatalf("two points on %v in trip %d", p.On, tr.Number)
		}
		on[p.On] = true
		if p.At < tr.Start || p.At > tr.End {
			t.Fatalf("a point at %v in the trip from %v to %v", p.At, tr.Start, tr.End)
		}
	}
	for _, u := range tr.Unscored {
		if on[u.On] && u.On.Number != "" || u.Why.Text == "" {
			t.Fatalf("%v both scored on and not: %+v", u.On, u.Why)
		}
	}
}

// TestEqualTimesOrderOfPasses: passed at the same moment, opponents give the
// same points in whatever order they are told, boxed ones included.
func TestEqualTimesOrderOfPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		boxed := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"W1", "W2", "W3", "WP"}), 0, 3, rapid.ID[string]).Draw(t, "boxed")
		start := redWhite().with(inBox, boxed...)
		var passes []Event
		for _, w := range []string{"W1", "W2", "W3", "WP"} {
			if !slices.Contains(boxed, w) && rapid.Bool().Draw(t, w) {
				passes = append(passes, Event{At: 30 * time.Second, What: EvPass, Who: scriptRef("R"), Whom: scriptRef(w)})
			}
		}
		exit := rapid.Bool().Draw(t, "exit")
		count := func(p []Event) (int, map[SkaterRef]bool) {
			events := []Event{
				{At: 5 * time.Second, What: EvZone, Who: scriptRef("R"), Zone: ZoneWithin},
				{At: 6 * time.Second, What: EvZone, Who: scriptRef("R"), Zone: ZoneAhead},
				{At: 20 * time.Second, What: EvZone, Who: scriptRef("R"), Zone: ZoneBehind},
				{At: 25 * time.Second, What: EvZone, Who: scriptRef("R"), Zone: ZoneWithin},
			}
			events = append(events, p...)
			if exit {
				events = append(events, Event{At: 30 * time.Second, What: EvZone, Who: scriptRef("R"), Zone: ZoneAhead})
			}
			events = append(events, Event{At: 40 * time.Second, What: EvJamEnds})
			s := RecountEvents(drawn2025(), start, events).Sides[0]
			on := map[SkaterRef]bool{}
			for _, pt := range s.Trips[1].Points {
				on[pt.On] = true
			}
			return s.Points, on
		}
		want, wantOn := count(passes)
		expect := len(passes)
		if expect > 0 {
			expect += len(boxed)
		}
		if want != expect {
			t.Fatalf("%d points for %d passes with %v boxed", want, len(passes), boxed)
		}
		got, gotOn := count(rapid.Permutation(passes).Draw(t, "order"))
		if got != want || fmt.Sprint(gotOn) != fmt.Sprint(wantOn) {
			t.Fatalf("%d points on %v, in another order %d on %v", want, wantOn, got, gotOn)
		}
	})
}

func drawn2025() RuleSet {
	r, _ := Edition("2025")
	return r
}

// TestEqualTimesLanding: where she lands may be told before or after that she
// lands.
func TestEqualTimesLanding(t *testing.T) {
	for _, how := range []EventKind{EvOut, EvDown} {
		land := []Event{
			{At: 12 * time.Second, What: EvLands, Who: scriptRef("R")},
			{At: 12 * time.Second, What: how, Who: scriptRef("R")},
		}
		var got []string
		for range 2 {
			events := scriptEvents(t, redWhite(), "R first trip\n@10 R takes off\n@11 R passes W1\n@20 jam ends")
			c := RecountEvents(drawn2025(), redWhite(), slices.Concat(events[:len(events)-1], land, events[len(events)-1:]))
			got = append(got, fmt.Sprint(c.Sides[0].Points, c.Passes[len(c.Passes)-1]))
			if c.Sides[0].Points != 0 {
				t.Errorf("%s on landing: %d points", how, c.Sides[0].Points)
			}
			slices.Reverse(land)
		}
		if got[0] != got[1] {
			t.Errorf("%s: %s, turned %s", how, got[0], got[1])
		}
	}
}

// TestEqualTimesLead: two jammers past the last blocker at the same moment: the
// one in front is lead, whichever is told first.
func TestEqualTimesLead(t *testing.T) {
	events := scriptEvents(t, redWhite(), `
		@2 R passes R1 W1 R2 W2 R3 W3 RP
		@4 W passes R1 W1 R2 W2 R3 W3 RP
		@9 R passes WP
		@9 W passes WP
		@12 jam ends`)
	n := len(events)
	for range 2 {
		c := RecountEvents(drawn2025(), redWhite(), events)
		if !c.Sides[0].Lead || c.Sides[1].Lead {
			t.Errorf("lead %v and %v, want red's alone", c.Sides[0].Lead, c.Sides[1].Lead)
		}
		events[n-3], events[n-2] = events[n-2], events[n-3]
	}
}

// TestBoxAnyEvents: whatever happens at the box, time adds up.
func TestBoxAnyEvents(t *testing.T) {
	kinds := []BoxMove{BoxPenalised, BoxSits, BoxSits, BoxRises, BoxStays, BoxStands, BoxLeaves, BoxCancelled, "hops"}
	rapid.Check(t, func(t *rapid.T) {
		rules := drawRules(t)
		rules.CancelEachPenalty = rapid.Bool().Draw(t, "cancel")
		jams := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) BoxJam {
			return BoxJam{Length: time.Duration(rapid.IntRange(0, 120).Draw(t, "length")) * time.Second}
		}), 0, 5).Draw(t, "jams")
		events := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) BoxEvent {
			e := boxAt(rapid.IntRange(-1, 5).Draw(t, "jam"), float64(rapid.IntRange(-20, 140).Draw(t, "at")),
				rapid.SampledFrom(allNames).Draw(t, "who"), rapid.SampledFrom(kinds).Draw(t, "what"))
			return e
		}), 0, 40).Draw(t, "events")
		got := ServeBox(rules, jams, events)
		var total time.Duration
		for _, j := range lengths(jams, events) {
			total += j.Length
		}
		for _, s := range got.Stays {
			checkServed(t, s, total)
		}
		for who, d := range got.Owed {
			if d <= 0 {
				t.Fatalf("%v owes %v", who, d)
			}
		}
	})
}

func checkServed(t *rapid.T, s BoxServed, total time.Duration) {
	if s.Served < 0 || s.Forgiven < 0 || s.Remains < 0 || s.Served > total {
		t.Fatalf("stay %+v", s)
	}
	if s.SentBack {
		return
	}
	// Leaving within the tolerance of the end counts as served.
	if d := s.Owed - s.Served - s.Forgiven - s.Remains; d < 0 || d > boxTolerance || d > 0 && !s.Released {
		t.Fatalf("owed %v, served %v, let off %v, left %v", s.Owed, s.Served, s.Forgiven, s.Remains)
	}
	if s.Released && s.Remains != 0 || s.Released && s.Left || len(s.Why) == 0 {
		t.Fatalf("stay %+v", s)
	}
}

// TestSwapServesAlike: one penalty each, however far apart: both serve the same,
// and neither more than a penalty.
func TestSwapServesAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rules := drawRules(t)
		a := rapid.IntRange(0, 100).Draw(t, "first")
		b := a + rapid.IntRange(0, int(rules.PenaltyTime/time.Second)-1).Draw(t, "later")
		got := ServeBox(rules, longJams(float64(a)+1, 300), boxEvents(penalisedAndSits(0, float64(a), "W", 1), penalisedAndSits(1, float64(b-a), "R", 1)))
		if len(got.Stays) != 2 || !got.Stays[0].Released || !got.Stays[1].Released {
			t.Fatalf("stays %+v", got.Stays)
		}
		w, r := got.Stays[0].Served, got.Stays[1].Served
		if w > rules.PenaltyTime || w != r && w != rules.PenaltyTime {
			t.Fatalf("W served %v, R %v", w, r)
		}
	})
}
