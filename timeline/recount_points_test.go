package timeline

import "testing"

// pointsRow is one casebook scenario about points: the jam from its events, and
// what it comes to.
type pointsRow struct {
	id     string
	source string // where the facts of the row come from
	start  JamStart
	script string
	red    int
	white  int
}

const casebook = "Casebook, Rules of Flat Track Roller Derby 2025, scenario "

var pointsRows = []pointsRow{
	{
		id: "C2.5.A", source: casebook + "C2.5.A; 2.5", start: redWhite(),
		script: `
			W first trip
			RP penalised             // still touching in bounds
			W passes RP
			jam ends`,
		white: 1,
	},
	{
		id: "C2.5.A opens", source: casebook + "C2.5.A, what follows for the others", start: redWhite(),
		script: `
			R1 penalised
			R1 sits
			W first trip
			RP penalised
			W passes RP
			jam ends`,
		white: 2,
	},
	{
		id: "C3.1.A", source: casebook + "C3.1.A; 3.1", start: redWhite(),
		script: `
			W within
			R first trip
			R passes W1 W2 WP        // all but W3
			R out by opponent
			W1 passes R              // recycled: R is behind everybody again
			W2 passes R
			WP passes R
			W star off
			W grips star with WP
			W releases star to WP
			WP star on
			R in within behind W W1 W2 W3
			R passes W W1 W2 W3
			R exits
			jam ends`,
		red: 4,
	},
	{
		id: "C3.1.B", source: casebook + "C3.1.B; 3.1", start: redWhite(),
		script: `
			W first trip
			W behind
			R within
			R star off
			R grips star with RP
			R releases star to RP    // in the pack, ahead of W
			RP star on
			RP passes WP
			RP exits
			W within
			W passes R R1 R2 R3
			W exits
			jam ends`,
		white: 4,
	},
	{
		id: "C3.1.D", source: casebook + "C3.1.D; 2.5", start: redWhite(),
		script: `
			W first trip
			W takes off
			W passes R1 R2 R3 RP
			W lands                  // one skate in bounds
			W out                    // the other then out
			W in within
			jam ends`,
		white: 4,
	},
	{
		id: "C3.2.B", source: casebook + "C3.2.B; 2.5, 3.2", start: redWhite(),
		script: `
			WP penalised
			WP sits
			R first trip
			R passes W1 W2
			WP returns within
			jam ends`,
		red: 3,
	},
	{
		id: "C3.2.C", source: casebook + "C3.2.C; 3.2", start: redWhite(),
		script: `
			R within
			W out by opponent
			R behind                 // clockwise out at the rear
			R ahead                  // round to the front
			R within                 // in again from the front
			R1 passes R
			W1 passes R
			R2 passes R
			W2 passes R
			R3 passes R
			W3 passes R
			RP passes R
			WP passes R
			W in within behind R
			R passes W1 W2 W3 WP R1 R2 R3 RP
			R exits                  // on her initial trip now
			R round
			R passes W1 W2 W3 WP R1 R2 R3 RP
			R exits                  // initial trip completed
			jam ends`,
		red: 0,
	},
	{
		id: "C3.2.D", source: casebook + "C3.2.D; 2.5, 3.2", start: redWhite().with(inBox, "W1"),
		script: `
			R first trip
			W1 returns within behind R
			R passes W2 W3 WP
			R exits
			jam ends`,
		red: 4,
	},
	{
		id: "C3.2.D passed first", source: casebook + "C3.2.D, W1 ahead of R before the first earned pass", start: redWhite().with(inBox, "W1"),
		script: `
			R first trip
			W1 returns within behind R
			W1 passes R
			R passes W2 W3 WP
			jam ends`,
		red: 3,
	},
	{
		id: "C3.3.A", source: casebook + "C3.3.A; 3.3", start: redWhite(),
		script: `
			R first trip
			R passes W1 W2 W3
			WP ahead
			R exits
			jam ends`,
		red: 4,
	},
	{
		id: "C3.3.A-i", source: casebook + "C3.3.A, the jam ends first", start: redWhite(),
		script: `
			R first trip
			R passes W1 W2 W3
			WP ahead
			jam ends`,
		red: 4,
	},
	{
		id: "C3.3.A-ii", source: casebook + "C3.3.A, inside the engagement zone", start: redWhite(),
		script: `
			R first trip
			R passes W1 W2 W3
			jam ends`,
		red: 3,
	},
	{
		id: "C3.3.B", source: casebook + "C3.3.B; 3.2, 3.3", start: redWhite(),
		script: `
			W first trip
			W passes R1 R2 R3
			W out by opponent
			RP ahead
			W ahead                  // still out of bounds
			W passes RP              // behind W, who is out of bounds
			RP within
			W in ahead
			W round
			jam ends`,
		white: 3,
	},
	{
		id: "C3.3.C", source: casebook + "C3.3.C; 3.3", start: redWhite(),
		script: `
			W first trip
			R1 penalised
			R1 sits
			R2 off
			jam ends`,
		white: 0,
	},
	{
		id: "C3.3.C passed", source: casebook + "C3.3.C, with one pass earned", start: redWhite(),
		script: `
			W first trip
			R1 penalised
			R1 sits
			R2 off
			W passes R3
			jam ends`,
		white: 3,
	},
	{
		id: "C3.3.D", source: casebook + "C3.3.D; 3.3", start: redWhite().with(inBox, "R1", "R2"),
		script: `
			W passes W1 W2 W3 WP R3 RP
			W exits
			R3 penalised
			R3 sits
			RP off
			no pack
			W behind
			W within
			W passes W1 W2 W3 WP
			W exits
			jam ends`,
		white: 4,
	},
	{
		id: "C3.3.E", source: casebook + "C3.3.E; 2.5, 5.4", start: redWhite().with(inBox, "R1", "R2"),
		script: `
			W passes W1 W2 W3 WP R3 RP
			W exits
			W behind
			R3 off                   // a toe stop
			RP penalised             // the last of hers: told to stay
			RP out
			W within
			W passes W1 W2 W3 WP RP
			W exits
			jam ends`,
		white: 4,
	},
	{
		id: "C3.3.F", source: casebook + "C3.3.F; 3.3", start: redWhite(),
		script: `
			R first trip
			R penalised
			R sits
			W1 penalised
			W2 penalised
			W1 sits
			W2 sits
			R returns within
			W1 returns within behind R
			W2 returns within behind R
			jam ends`,
		red: 0,
	},
	{
		id: "C3.3.I", source: casebook + "C3.3.I; 3.3", start: redWhite(),
		script: `
			R first trip
			R passes W1
			R star off
			W2 penalised
			W3 penalised
			WP penalised
			W2 sits
			W3 sits
			WP sits
			jam ends`,
		red: 1,
	},
	{
		id: "C3.3.I on again", source: casebook + "C3.3.I, the star back on in time", start: redWhite(),
		script: `
			R first trip
			R passes W1
			R star off
			W2 penalised
			W3 penalised
			WP penalised
			W2 sits
			W3 sits
			WP sits
			R star on
			jam ends`,
		red: 4,
	},
	{
		id: "C3.3.J", source: casebook + "C3.3.J; 3.3", start: redWhite(),
		script: `
			W within
			R first trip
			R passes W               // ahead of the white jammer
			R passes W1 W2 W3
			W star off
			W grips star with WP
			W releases star to WP
			R exits
			jam ends`,
		red: 4,
	},
	{
		id: "C3.4.A", source: casebook + "C3.4.A; 3.4, 2.5", start: redWhite(),
		script: `
			R first trip
			R penalised
			R penalised
			R sits
			W1 penalised
			W2 penalised
			W1 sits
			W2 sits
			W3 penalised
			W1 stands
			W3 sits
			WP penalised
			W2 stands
			WP sits
			R returns behind
			jam ends`,
		red: 0,
	},
	{
		id: "C3.4.A earned before", source: casebook + "C3.4.A, with one pass earned before", start: redWhite(),
		script: `
			R first trip
			R passes WP
			R penalised
			R penalised
			R sits
			W1 penalised
			W2 penalised
			W1 sits
			W2 sits
			W3 penalised
			W1 stands
			W3 sits
			R returns behind
			jam ends`,
		red: 4,
	},
}

func TestPoints(t *testing.T) {
	for _, row := range pointsRows {
		t.Run(row.id, func(t *testing.T) {
			if row.source == "" {
				t.Error("a row without a source")
			}
			got := recountScript(t, "2025", row.start, row.script)
			if got.Sides[0].Points != row.red || got.Sides[1].Points != row.white {
				t.Errorf("red %d white %d, want %d and %d", got.Sides[0].Points, got.Sides[1].Points, row.red, row.white)
			}
			checkReasons(t, got)
			for _, p := range got.Problems {
				t.Errorf("problem: %s", p.Text)
			}
		})
	}
}

// checkReasons fails for a point, a status or an unscored opponent that can't
// say why.
func checkReasons(t testing.TB, c JamCount) {
	t.Helper()
	for i, s := range c.Sides {
		sum := len(s.Laps)
		for _, tr := range s.Trips {
			sum += len(tr.Points)
			for _, p := range tr.Points {
				if p.Why.Text == "" || p.Why.Section == "" || p.Kind == "" {
					t.Errorf("%v: a point on %v without a why", Sides[i], p.On)
				}
			}
			for _, u := range tr.Unscored {
				if u.Why.Text == "" || u.Why.Section == "" {
					t.Errorf("%v: no why for no point on %v", Sides[i], u.On)
				}
			}
			if tr.EndWhy.Text == "" {
				t.Errorf("%v: trip %d has no why for its end", Sides[i], tr.Number)
			}
		}
		if sum != s.Points {
			t.Errorf("%v: %d points, but trips and laps sum to %d", Sides[i], s.Points, sum)
		}
		for _, st := range s.Status {
			if st.Why.Text == "" || st.Why.Section == "" {
				t.Errorf("%v: %s without a why", Sides[i], st.Status)
			}
		}
		if s.LeadWhy.Text == "" {
			t.Errorf("%v: no why for lead %v", Sides[i], s.Lead)
		}
		if s.Lost && s.LostWhy.Text == "" || s.Called && s.CallWhy.Text == "" {
			t.Errorf("%v: lost or called without a why", Sides[i])
		}
	}
	for _, p := range c.Passes {
		if p.Why.Text == "" || p.Why.Section == "" {
			t.Errorf("pass of %v over %v without a why", p.Who, p.Whom)
		}
	}
}
