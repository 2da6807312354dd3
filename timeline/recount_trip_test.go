package timeline

import (
	"strings"
	"testing"
	"time"
)

// ruleRows are rules of scoring that have no casebook scenario of their own.
var ruleRows = []pointsRow{
	{
		id: "unearned, then re-passed", source: "Rules 2025, 3.1, 3.2: dropping back before leaving the engagement zone", start: redWhite(), red: 1,
		script: `
			R first trip
			R down
			R passes W1
			R up
			W1 passes R
			R passes W1
			jam ends`,
	},
	{
		id: "once per opponent and trip", source: "Rules 2025, 3.1", start: redWhite(), red: 1,
		script: `
			R first trip
			R passes W1
			W1 passes R
			R passes W1
			jam ends`,
	},
	{
		id: "two scoring trips", source: "Rules 2025, 3.1, 3.2", start: redWhite(), red: 8,
		script: `
			R first trip
			R passes W1 W2 W3 WP
			R exits
			R round
			R passes W1 W2 W3 WP
			jam ends`,
	},
	{
		id: "a closed trip is not reopened", source: "Rules 2025, 3.2: back from the front", start: redWhite(), red: 3,
		script: `
			R first trip
			R passes W1 W2 W3
			R exits                  // WP within: not earned
			R within                 // in again from the front
			W1 passes R
			WP passes R
			R passes WP W1           // on the trip before: nothing
			R exits
			R round
			jam ends`,
	},
	{
		id: "same trip after the box", source: "Rules 2025, 3.4", start: redWhite(), red: 4,
		script: `
			R first trip
			R passes W1 W2
			R penalised
			R sits
			R stands
			R freed
			R returns behind
			R within
			R passes W1 W2 W3 WP
			jam ends`,
	},
	{
		id: "nothing earned while penalised", source: "Rules 2025, 3.4", start: redWhite(), red: 0,
		script: `
			R first trip
			R penalised
			R passes W1 W2
			R sits
			jam ends`,
	},
	{
		id: "later ones follow at once", source: "Rules 2025, 2.5: later ones before the trip closes", start: redWhite(), red: 4,
		script: `
			R first trip
			R passes W1
			W2 penalised
			W3 penalised
			W2 sits
			WP off
			jam ends`,
	},
	{
		id: "knocked out, they still follow", source: "Rules 2025, 3.3: an opponent's act does not hold it", start: redWhite(), red: 2,
		script: `
			R first trip
			R passes W1
			R out by opponent
			W2 penalised
			jam ends`,
	},
	{
		id: "star ripped off, they still follow", source: "Rules 2025, 3.3", start: redWhite(), red: 2,
		script: `
			R first trip
			R passes W1
			R star off by opponent
			R passes W3              // not earned: no star
			W2 penalised
			jam ends`,
	},
	{
		id: "out by herself, held until back in", source: "Rules 2025, 3.3: her own act holds it", start: redWhite(), red: 1,
		script: `
			R first trip
			R passes W1
			R out
			W2 penalised
			W2 sits
			jam ends`,
	},
	{
		id: "never fielded", source: "Rules 2025, 2.5", start: JamStart{Skaters: redWhite().without("W3").Skaters, NotFielded: [2]int{0, 1}}, red: 4,
		script: `
			R first trip
			R passes W1 W2 WP
			jam ends`,
	},
	{
		id: "three fielded, nothing said of a fourth", source: "a line-up not fully known gives no points by itself", start: redWhite().without("W3"), red: 3,
		script: `
			R first trip
			R passes W1 W2 WP
			jam ends`,
	},
	{
		id: "from the box ahead of those out of play", source: "Rules 2025, 3.3: opponents out of play behind", start: redWhite(), red: 4,
		script: `
			R first trip
			R passes W1 W2 W3
			R penalised
			R sits
			WP behind                // out of play behind the pack
			R returns within
			R exits
			jam ends`,
	},
	{
		id: "from the box, and they pass her", source: "Rules 2025, 3.3: then there was an opportunity", start: redWhite(), red: 3,
		script: `
			R first trip
			R passes W1 W2 W3
			R penalised
			R sits
			WP behind
			R returns within
			WP within
			WP passes R
			jam ends`,
	},
	{
		id: "back ahead of a jammer on her way round", source: "Rules 2025, 2.5: she has to be passed", start: redWhite().with(inBox, "W1"), red: 1,
		script: `
			R first trip
			R ahead                  // her second trip, nobody passed: all stood within
			W1 returns within
			R round
			R passes W1
			jam ends`,
	},
	{
		id: "jumped from out of bounds", source: "Rules 2025, 2.5, C2.2.6.E: in the air she keeps out of bounds", start: redWhite(), red: 0,
		script: `
			R first trip
			R out by opponent
			R takes off
			R passes W1 W2
			R lands
			jam ends`,
	},
	{
		id: "came down on a knee", source: "Rules 2025, 2.5: first touchdown on a skate", start: redWhite(), red: 0,
		script: `
			R first trip
			@20 R takes off
			@20.3 R passes W1
			@21 R lands
			@21 R down
			@25 jam ends`,
	},
	{
		id: "behind a jammer who is down", source: "Rules 2025, 2.5: the opponent goes clockwise, in bounds is enough", start: redWhite(), red: 1,
		script: `
			R first trip
			R down
			W1 drops behind R
			jam ends`,
	},
	{
		id: "behind a jammer who is out", source: "Rules 2025, 2.5: the jammer must be in bounds", start: redWhite(), red: 0,
		script: `
			R first trip
			R out by opponent
			W1 drops behind R
			jam ends`,
	},
	{
		id: "jam ends on the way round", source: "Rules 2025, 3.3: not ahead of the rearmost pack skater", start: redWhite(), red: 4,
		script: `
			R first trip
			R passes W1 W2 W3
			WP ahead
			R exits
			jam ends`,
	},
	{
		id: "initial trip", source: "Rules 2025, 3.2: worth nothing", start: redWhite().with(inBox, "W1"), red: 0,
		script: `
			R passes W2 W3 WP
			R exits
			jam ends`,
	},
	{
		id: "overtime", source: "Rules 2025, 1.5.1: points from the first trip", start: JamStart{Skaters: redWhite().with(inBox, "W1").Skaters, Overtime: true}, red: 4,
		script: `
			R passes W2 W3 WP
			jam ends`,
	},
	{
		id: "in the no pack nothing comes by itself", source: "Casebook 2025, C2.2.2.F: no pack alone earns nothing", start: redWhite(), red: 1,
		script: `
			R first trip
			R passes W1
			no pack
			jam ends`,
	},
	{
		id: "last blocker stays", source: "Rules 2025, 5.4: still in active play, to be passed", start: redWhite().with(inBox, "W1", "W2"), red: 4,
		script: `
			R first trip
			W3 off
			WP penalised
			WP out
			R passes WP
			jam ends`,
	},
	{
		id: "penalised, not yet off the track", source: "Rules 2025, 3.3, 3.4: her own act holds it", start: redWhite(), red: 1,
		script: `
			R first trip
			R passes W1
			R penalised
			W2 penalised
			jam ends`,
	},
	{
		id: "only opponents behind her", source: "Rules 2025, 3.3: nobody she could have passed", start: redWhite(), red: 4,
		script: `
			R passes W1 W2 W3 WP
			R exits
			R penalised              // on the way round
			R sits
			W1 off
			W2 off
			W3 off
			WP behind                // out of play behind
			R returns within
			WP within
			WP off
			R exits
			jam ends`,
	},
	{
		id: "an opportunity missed", source: "Rules 2025, 3.3: she was among them before they left", start: redWhite(), red: 0,
		script: `
			R first trip
			W1 off
			W2 off
			W3 off
			WP off
			R passes R1 R2
			jam ends`,
	},
	{
		id: "back on the trip before at the end", source: "Rules 2025, 3.2, 3.3", start: redWhite(), red: 4,
		script: `
			R first trip
			R passes W1 W2 W3 WP
			R exits
			R within                 // from the front
			WP ahead
			jam ends`,
	},
	{
		id: "out at the front without the star", source: "Rules 2025, 3.3: her own act, no opportunity is owed", start: redWhite(), red: 3,
		script: `
			R first trip
			R passes W1 W2 W3
			R star off
			WP ahead
			R exits
			jam ends`,
	},
	{
		id: "the new jammer has it in hand", source: "Rules 2025, 2.5, 3.3: held until it is on her helmet", start: redWhite(), red: 1,
		script: `
			R first trip
			R passes W1
			R star off
			R releases star to RP
			W2 penalised
			jam ends`,
	},
	{
		id: "last blocker goes once a teammate is back", source: "Rules 2025, 5.4: then she is off to the box", start: redWhite().with(inBox, "W1", "W2"), red: 4,
		script: `
			R first trip
			W3 off
			WP penalised
			W1 returns within ahead of R
			R passes W1
			jam ends`,
	},
}

func TestScoringRules(t *testing.T) {
	for _, row := range ruleRows {
		t.Run(row.id, func(t *testing.T) {
			got := recountScript(t, "2025", row.start, row.script)
			if got.Sides[0].Points != row.red || got.Sides[1].Points != row.white || row.source == "" {
				t.Errorf("red %d white %d, want %d and %d", got.Sides[0].Points, got.Sides[1].Points, row.red, row.white)
			}
			checkReasons(t, got)
			for _, p := range got.Problems {
				t.Errorf("problem: %s", p.Text)
			}
		})
	}
}

// TestJamEnds holds what ends a jam (Rules 2025, 1.1, 2.2.2, 4.4.2, 5.2).
func TestJamEnds(t *testing.T) {
	rows := []struct {
		name   string
		start  JamStart
		script string
		want   Ended
		known  bool
	}{
		{"called", redWhite(), "@2 R passes R1 W1 R2 W2 R3 W3 RP WP\n@9 R calls\n@10 jam ends", EndCalled, true},
		{"full time", redWhite(), "@121.2 jam ends", EndTime, true},
		{"stopped by officials", redWhite(), "@40 jam ends", EndOfficial, true},
		{"no opposing jammer", redWhite().without("R"), "@10 W penalised\n@18 W sits\n@19 jam ends", EndNoJammer, true},
		{"both jammers boxed goes on", redWhite(), "@10 W penalised\n@12 R penalised\n@18 W sits\n@19 R sits\n@60 jam ends", EndOfficial, true},
		{"called, but not lead", redWhite(), "@10 R calls\n@11 jam ends", EndOfficial, true},
		{"not told", redWhite(), "@10 R within", EndUnknown, false},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			got := recountScript(t, "2025", row.start, row.script)
			if got.Ended != row.want || got.EndKnown != row.known {
				t.Errorf("ended %q known %v, want %q %v", got.Ended, got.EndKnown, row.want, row.known)
			}
			if row.known && got.EndWhy.Text == "" {
				t.Error("no why for the end")
			}
		})
	}
}

// TestImpossibleEvents: each is reported with its event and time, and changes
// no points.
func TestImpossibleEvents(t *testing.T) {
	rows := []struct{ name, script, says string }{
		{"a boxed skater passes", "W1 penalised\nW1 sits\nW1 passes R", "can't pass anybody"},
		{"a boxed skater is passed", "W1 penalised\nW1 sits\nR passes W1", "can't be passed"},
		{"nobody of that name", "R passes W7", "not fielded"},
		{"passes herself", "R passes R", "herself"},
		{"comes back without having left", "W1 returns", "without having left"},
		{"sits for nothing", "W1 sits", "without a penalty"},
		{"stands outside the box", "W1 stands", "not in the box"},
		{"lands without taking off", "R lands", "without having taken off"},
		{"a star that is not there", "R1 star off", "no star"},
		{"ends twice", "jam ends\njam ends", "already ended"},
		{"a pass after the end", "jam ends\nR passes W1", "nothing counts"},
		{"a pass before the start", "@-4 R passes W1", "before the jam-start whistle"},
		{"ends before it starts", "@-4 jam ends", "before it starts"},
		{"passes the same one twice", "R passes W1\nR passes W1", "already ahead"},
		{"out of bounds in the box", "W1 penalised\nW1 sits\nW1 out", "can't be out of bounds"},
		{"zone in the box", "W1 penalised\nW1 sits\nW1 ahead", "in no zone"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			got := recountScript(t, "2025", redWhite(), row.script)
			if len(got.Problems) != 1 || !strings.Contains(got.Problems[0].Text, row.says) {
				t.Fatalf("problems %+v, want one that says %q", got.Problems, row.says)
			}
			p := got.Problems[0]
			if p.Event < 0 || len(p.Tags) != 1 {
				t.Errorf("problem names event %d and tags %v", p.Event, p.Tags)
			}
			if got.Sides[0].Points+got.Sides[1].Points != 0 {
				t.Errorf("%d and %d points", got.Sides[0].Points, got.Sides[1].Points)
			}
		})
	}
}

// TestTripsOfTheSheet: a started scoring trip without points is there with 0, and
// each trip has its times and who completed it.
func TestTripsOfTheSheet(t *testing.T) {
	c := recountScript(t, "2025", redWhite(), `
		@5 R first trip
		@20 R passes W1
		@25 R exits
		@40 jam ends`)
	trips := c.Sides[0].Trips
	if len(trips) != 3 || trips[1].End != 25*time.Second || len(trips[1].Points) != 1 || len(trips[1].Unscored) != 3 {
		t.Fatalf("trips %+v", trips)
	}
	if last := trips[2]; len(last.Points) != 0 || !last.Open || last.Start != 25*time.Second || last.End != 40*time.Second {
		t.Errorf("last trip %+v, want open from 25 s to 40 s with no point", last)
	}
	if p := trips[1].Points[0]; len(p.Why.Tags) != 1 || p.At != 20*time.Second || p.Kind != PointPass {
		t.Errorf("point %+v, want one by the pass's tag at 20 s", p)
	}
	if w := c.Sides[1]; len(w.Trips) != 1 || !w.NoInitial[0] || w.Trips[0].Jammer != "W" {
		t.Errorf("white %+v", w)
	}
}

// TestRearmostPackSkater: told who is in the pack, only they decide at the jam's
// end whether the jammer is ahead of the rearmost pack skater (Rules 2025, 3.3).
func TestRearmostPackSkater(t *testing.T) {
	events := scriptEvents(t, redWhite(), `
		R first trip
		R passes R1
		WP ahead
		@39 jam ends`)
	told := func(pack ...string) []Event {
		e := Event{At: 38 * time.Second, What: EvPack}
		for _, n := range pack {
			e.Pack = append(e.Pack, scriptRef(n))
		}
		return append(append([]Event(nil), events...), e)
	}
	for _, row := range []struct {
		name   string
		events []Event
		want   int
	}{
		{"not told", events, 1},
		{"R1 is in the pack", told("R1", "W1", "R2", "W2"), 1},
		{"R1 is behind the pack", told("W1", "R2", "W2", "R3"), 0},
	} {
		if c := RecountEvents(drawn2025(), redWhite(), row.events); c.Sides[0].Points != row.want {
			t.Errorf("%s: %d points, want %d", row.name, c.Sides[0].Points, row.want)
		}
	}
}
