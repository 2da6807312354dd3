package timeline

import (
	"testing"
	"time"
)

// leadRow is one casebook scenario about lead, or about the start of a jam: who
// is lead from when, and what else follows.
type leadRow struct {
	id      string
	source  string
	edition string // 2025 when empty
	start   JamStart
	script  string
	lead    Side
	at      float64 // seconds of jam time when she became lead
	lost    [2]bool
	called  Side
	points  [2]int
	also    func(*testing.T, JamCount)
	// problems is how many events are rightly reported as impossible.
	problems int
}

var leadRows = []leadRow{
	{
		id: "C2.2.2.A", source: casebook + "C2.2.2.A: the star starts inside out and is reversed", lead: Home, at: 3.7,
		start: redWhite().with(func(f *Fielded) { f.NoStar = true }, "R"),
		script: `
			@1 R star on
			@3 R passes R1 W1 R2 W2 R3 W3 RP WP
			@5 jam ends`,
	},
	{
		id: "C2.2.2.A never reversed", source: casebook + "C2.2.2.A, stars never showing",
		start: redWhite().with(func(f *Fielded) { f.NoStar = true }, "R"),
		script: `
			@3 R passes R1 W1 R2 W2 R3 W3 RP WP
			@5 jam ends`,
	},
	{
		id: "C2.2.2.B", source: casebook + "C2.2.2.B: lead on standing", start: redWhite(), lead: Away, at: 20, lost: [2]bool{true, false},
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@4 R out by opponent
			@5 R passes WP
			@6 R in within
			@7 R exits                 // without lead
			@8 W within
			@9 W down by opponent
			@10 R1 drops behind W
			@11 W1 drops behind W
			@12 R2 drops behind W
			@13 W2 drops behind W
			@14 R3 drops behind W
			@15 W3 drops behind W
			@16 RP drops behind W
			@17 WP drops behind W
			@20 W up
			@22 jam ends`,
	},
	{
		id: "C2.2.2.C", source: casebook + "C2.2.2.C: not ahead of the foremost yet", start: redWhite(),
		script: `
			@2 W passes R1 W1 R2 W2 R3 W3 RP
			@4 R1 passes W
			@5 R1 passes WP
			@6 W passes WP
			@8 jam ends`,
	},
	{
		id: "C2.2.2.C then ahead", source: casebook + "C2.2.2.C, and ahead of the foremost at last", start: redWhite(), lead: Away, at: 7,
		script: `
			@2 W passes R1 W1 R2 W2 R3 W3 RP
			@4 R1 passes W
			@5 R1 passes WP
			@6 W passes WP
			@7 W passes R1
			@8 jam ends`,
	},
	{
		id: "C2.2.2.D", source: casebook + "C2.2.2.D: the last blocker out at the front", start: redWhite(), lead: Home, at: 5,
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@5 WP ahead
			@8 jam ends`,
	},
	{
		id: "C2.2.2.E", source: casebook + "C2.2.2.E: of two at once the one in front", start: redWhite(), lead: Home, at: 9,
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@4 W passes R1 W1 R2 W2 R3 W3 RP
			@9 WP ahead
			@12 jam ends`,
	},
	{
		id: "C2.2.2.E the other in front", source: casebook + "C2.2.2.E, sides turned", start: redWhite(), lead: Away, at: 9,
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@4 W passes R1 W1 R2 W2 R3 W3 RP R
			@9 WP ahead
			@12 jam ends`,
	},
	{
		id: "C2.2.2.F", source: casebook + "C2.2.2.F: a no pack excuses nobody from being passed", start: redWhite(),
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@5 no pack
			@8 jam ends`,
	},
	{
		id: "C2.2.2.F passed in the no pack", source: casebook + "C2.2.2.F, the foremost passed", start: redWhite(), lead: Home, at: 6,
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@5 no pack
			@6 R passes WP
			@8 jam ends`,
	},
	{
		id: "C2.2.2.F pack again", source: casebook + "C2.2.2.F, the pack again with WP ahead of it", start: redWhite(), lead: Home, at: 7,
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@5 no pack
			@6 WP ahead
			@7 pack
			@8 jam ends`,
	},
	{
		id: "C4.1.3.E", source: casebook + "C4.1.3.E: a penalty before the whistle", start: redWhite(), lead: Home, at: 2.7, lost: [2]bool{false, true},
		script: `
			@-3 W penalised
			@2 R passes R1 W1 R2 W2 R3 W3 RP WP
			@5 W sits
			@8 jam ends`,
	},
	{
		id: "C4.1.3.E alone", source: casebook + "C4.1.3.E: released, she still can't be lead", lost: [2]bool{false, true},
		start: redWhite().with(func(f *Fielded) { f.PenalisedInLineup = true }, "W"),
		script: `
			@2 W passes R1 W1 R2 W2 R3 W3 RP WP
			@8 jam ends`,
	},
	{
		id: "C4.3.C", source: casebook + "C4.3.C: no lead without the star", start: redWhite(),
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@4 R star off by opponent
			@5 R passes WP
			@6 R star on
			@8 jam ends`,
	},
	{
		id: "C4.3.C back on", source: casebook + "C4.3.C: eligible again with the star back", start: redWhite(), lead: Home, at: 8,
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@4 R star off by opponent
			@5 R passes WP
			@6 R star on
			@7 WP passes R
			@8 R passes WP
			@9 jam ends`,
	},
	{
		id: "2.2.2 call without the star", source: "Rules 2025, 2.2.2: lead kept when an opponent removes the star", start: redWhite(), lead: Home, at: 2.7, called: Home,
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP WP
			@4 R star off by opponent
			@5 R calls
			@6 jam ends`,
	},
	{
		id: "2.2.2 star taken off", source: "Rules 2025, 2.2.2: starting a star pass loses lead", start: redWhite(), lead: Home, at: 2.7, lost: [2]bool{true, false},
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP WP
			@4 R star off
			@4.5 R star on
			@5 R calls
			@6 jam ends`,
	},
	{
		id: "2.2.2 teammate takes it off", source: "Rules 2025, 2.2.2: by a teammate as by herself", start: redWhite(), lost: [2]bool{true, false},
		script: `
			@1 R star off by teammate
			@1.5 R star on
			@2 R passes R1 W1 R2 W2 R3 W3 RP WP
			@6 jam ends`,
	},
	{
		id: "2.2.2 penalised lead", source: "Rules 2025, 2.2.2, 3.4: lead gone, nobody else becomes lead", start: redWhite(), lead: Home, at: 2.7, lost: [2]bool{true, false},
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP WP
			@4 R penalised
			@5 R sits
			@6 W passes R1 W1 R2 W2 R3 W3 RP WP
			@7 R calls
			@8 W calls
			@9 jam ends`,
	},
	{
		id: "2.2.2 in front without the star", source: "Rules 2025, 2.2.2, C4.3.C: lead only with the star back on", start: redWhite(), lead: Home, at: 8,
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@4 R1 passes R
			@5 R passes WP             // every pass earned, R1 ahead
			@6 R star off by opponent
			@7 R passes R1
			@8 R star on
			@9 jam ends`,
	},
	{
		id: "2.2.2 new jammer", source: "Rules 2025, 2.2.2: who received the star can never be lead", start: redWhite(),
		script: `
			@1 R within
			@1.2 R star off by play
			@1.4 R takes star
			@1.6 R releases star to RP
			@1.8 RP star on
			@2 R passes RP
			@2.2 R1 passes RP
			@2.4 WP ahead
			@3 RP passes R R1 R2 R3 W1 W2 W3
			@6 jam ends`,
		problems: 5, // RP was ahead of those already
	},
	{
		id: "2.2.2 behind her initial trip", source: "Rules 2025, 2.2.2, 3.2: in from the front is no passing", start: redWhite(),
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP
			@4 R1 passes R
			@5 R passes WP
			@6 R behind                // clockwise round to the front
			@9 R ahead
			@10 R within
			@12 jam ends`,
	},
	{
		id: "1.5.1 overtime", source: "Rules 2025, 1.5.1: no lead, points from the first trip", points: [2]int{4, 0},
		start: JamStart{Skaters: redWhite().Skaters, Overtime: true},
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP WP
			@4 R exits
			@5 R calls
			@6 jam ends`,
	},
}

var startRows = []leadRow{
	{
		id: "C2.2.1.A", source: casebook + "C2.2.1.A: 27 (R3) has the star, 34 (R) has none; 27 is jammer, both penalised", lost: [2]bool{true, false},
		start: redWhite().with(func(f *Fielded) { f.Role, f.Order = Jammer, 1 }, "R3").with(func(f *Fielded) { f.NoStar = true }, "R"),
		script: `
			@0 R penalised
			@0 R3 penalised
			@4 jam ends`,
		also: func(t *testing.T, c JamCount) {
			if got := c.Sides[0].Jammer; got != "R3" {
				t.Errorf("jammer %s, want R3", got)
			}
		},
		problems: 1, // two named jammer
	},
	{
		id: "C2.2.6.E", source: casebook + "C2.2.6.E: not on the track at the whistle, not in the jam", points: [2]int{4, 0}, lead: Home, at: 2.6,
		start: redWhite().with(absent, "W1"),
		script: `
			@2 R passes R1 R2 W2 R3 W3 RP WP
			@4 R exits
			@5 R round
			@7 W1 passes R             // plays on all the same
			@8 R passes W2
			@9 R passes W3 WP
			@12 jam ends`,
		problems: 1,
	},
	{
		id: "C4.2.1.H", source: casebook + "C4.2.1.H: out during the end whistles", points: [2]int{2, 0}, lead: Home, at: 2.7, called: Home, start: redWhite(),
		script: `
			@2 R passes R1 W1 R2 W2 R3 W3 RP WP
			@4 R exits
			@5 R round
			@8 R passes W1 W2
			@10 R calls
			@10.5 R out
			@11.5 jam ends`,
	},
	{
		id: "C4.2.3.I", source: casebook + "C4.2.3.I: one blocker too many, taken off at once", points: [2]int{4, 0}, lead: Home, at: 2.7,
		start: JamStart{Skaters: append(redWhite().Skaters, Fielded{SkaterRef: scriptRef("W4"), Role: Blocker, Order: 2})},
		script: `
			@1 W4 off
			@2 R passes R1 W1 R2 W2 R3 W3 RP WP
			@4 R exits
			@5 R round
			@8 R passes W1 W2 W3 WP
			@10 jam ends`,
		problems: 1,
	},
}

func TestLead(t *testing.T)  { runLeadRows(t, leadRows) }
func TestStart(t *testing.T) { runLeadRows(t, startRows) }

func runLeadRows(t *testing.T, rows []leadRow) {
	for _, row := range rows {
		t.Run(row.id, func(t *testing.T) {
			if row.source == "" {
				t.Error("a row without a source")
			}
			edition := row.edition
			if edition == "" {
				edition = "2025"
			}
			got := recountScript(t, edition, row.start, row.script)
			for i, s := range got.Sides {
				if want := row.lead == Sides[i]; s.Lead != want {
					t.Errorf("%v lead %v, want %v", Sides[i], s.Lead, want)
				} else if want && s.LeadAt != time.Duration(row.at*float64(time.Second)) {
					t.Errorf("lead at %v, want %v s", s.LeadAt, row.at)
				}
				if s.Lost != row.lost[i] {
					t.Errorf("%v lost %v, want %v", Sides[i], s.Lost, row.lost[i])
				}
				if want := row.called == Sides[i]; s.Called != want {
					t.Errorf("%v called %v, want %v", Sides[i], s.Called, want)
				}
				if s.Points != row.points[i] {
					t.Errorf("%v %d points, want %d", Sides[i], s.Points, row.points[i])
				}
			}
			if row.called != NoSide && got.Ended != EndCalled {
				t.Errorf("ended by %q, want called", got.Ended)
			}
			if row.also != nil {
				row.also(t, got)
			}
			if len(got.Problems) != row.problems {
				t.Errorf("%d problems, want %d", len(got.Problems), row.problems)
			}
			checkReasons(t, got)
		})
	}
}
