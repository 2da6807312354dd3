package timeline

import "testing"

// starRow is one casebook scenario about the star.
type starRow struct {
	id      string
	source  string
	edition string // 2025 when empty
	script  string
	// attempts are red's star passes, each completed or not.
	attempts  []bool
	newJammer Number
	lost      bool // red's lead or eligibility
	points    int  // red's
	trips     []Number
	ni        [2]bool
}

var starRows = []starRow{
	{
		id: "C2.2.4.A", source: casebook + "C2.2.4.A: to a non-pivot, dropped at once", attempts: []bool{false}, lost: true, trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			R star off
			R grips star with R3
			R releases star to R3
			R3 throws star
			jam ends`,
	},
	{
		id: "C2.2.4.B", source: casebook + "C2.2.4.B: the pivot went out just before release", attempts: []bool{false}, lost: true, trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			R star off
			R grips star with RP
			RP out by opponent
			R releases star to RP
			jam ends`,
	},
	{
		id: "C2.2.4.C", source: casebook + "C2.2.4.C: the stripe had fallen off", attempts: []bool{false}, lost: true, trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			RP stripe off
			R star off
			R grips star with RP
			R releases star to RP
			jam ends`,
	},
	{
		id: "C2.2.4.D", source: casebook + "C2.2.4.D: thrown, handed back, both grip, released", attempts: []bool{false, true}, newJammer: "RP", lost: true,
		trips: []Number{"RP"}, ni: [2]bool{true, true},
		script: `
			R within
			R star off
			R throws star to RP
			RP takes star
			RP grips star with R
			R releases star to RP
			RP star on
			jam ends`,
	},
	{
		id: "C2.2.4.E", source: casebook + "C2.2.4.E: sticks to an opponent, dropped out of bounds", trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			R star off by play
			W1 takes star
			W1 throws star
			jam ends`,
	},
	{
		id: "C4.2.1.F", source: casebook + "C4.2.1.F: leaves the track to fetch the star", trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			R star off by play
			R out
			R takes star
			R in within
			R star on
			jam ends`,
	},
	{
		id: "C4.2.1.N", source: casebook + "C4.2.1.N: kneels briefly to fetch the star", trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			R star off by play
			R down
			R takes star
			R up
			R star on
			jam ends`,
	},
	{
		id: "C4.3.D", source: casebook + "C4.3.D: hides the star; a penalty", lost: true, points: 0, trips: []Number{"R", "R"},
		script: `
			R first trip
			R star off
			R passes W1 W2
			R penalised
			jam ends`,
	},
	{
		id: "2.2.4 inherits", source: "Rules 2025, 2.2.4: the pivot goes on with trip, passes and points", attempts: []bool{true}, newJammer: "RP", lost: true, points: 4,
		trips: []Number{"R", "RP", "RP"},
		script: `
			R first trip
			R passes W1 W2 W3
			R star off
			R releases star to RP
			RP star on
			RP passes WP
			RP exits
			jam ends`,
	},
	{
		id: "2.2.4 in hand", source: "Rules 2025, 2.5: no pass is earned with the star in hand", attempts: []bool{true}, newJammer: "RP", lost: true, points: 2,
		trips: []Number{"R", "RP"},
		script: `
			R first trip
			R passes W1 W2
			R star off
			R releases star to RP
			RP passes WP
			jam ends`,
	},
	{
		id: "2.2.4 once", source: "Rules 2025, Glossary: once per jam, the pivot's role never transfers", attempts: []bool{true, false}, newJammer: "RP", lost: true,
		trips: []Number{"RP"}, ni: [2]bool{true, true},
		script: `
			R within
			R releases star to RP
			RP star on
			RP releases star to R
			jam ends`,
	},
	{
		id: "2.2.4 heading to the box", source: "Rules 2025, 2.2.4: neither heading to the box nor queued", attempts: []bool{false}, lost: true, trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			R penalised
			R releases star to RP
			jam ends`,
	},
	{
		id: "2.2.4 out of play", source: "Rules 2025, 2.2.4: both in play", attempts: []bool{false}, lost: true, trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			RP ahead
			R releases star to RP
			jam ends`,
	},
	{
		id: "2.2.4 no pack", source: "Rules 2025, 2.2.4, 2.3: with no pack every blocker is out of play", attempts: []bool{false}, lost: true, trips: []Number{"R"}, ni: [2]bool{true, false},
		script: `
			R within
			no pack
			R releases star to RP
			jam ends`,
	},
	{
		id: "NI before", source: "Officials' training material: NI on each row it is true for", attempts: []bool{true}, newJammer: "RP", lost: true,
		trips: []Number{"RP", "RP"}, ni: [2]bool{true, false},
		script: `
			R within
			R releases star to RP
			RP star on
			RP passes WP
			RP exits
			jam ends`,
	},
}

func TestStarPass(t *testing.T) {
	for _, row := range starRows {
		t.Run(row.id, func(t *testing.T) {
			edition := row.edition
			if edition == "" {
				edition = "2025"
			}
			if row.source == "" {
				t.Error("a row without a source")
			}
			got := recountScript(t, edition, redWhite(), row.script)
			s := got.Sides[0]
			if len(s.StarPasses) != len(row.attempts) {
				t.Fatalf("%d attempts, want %d", len(s.StarPasses), len(row.attempts))
			}
			for i, a := range s.StarPasses {
				if a.Complete != row.attempts[i] || a.Why.Text == "" || a.Why.Section != "2.2.4" {
					t.Errorf("attempt %d: complete %v because %q, want %v", i, a.Complete, a.Why.Text, row.attempts[i])
				}
			}
			if s.NewJammer != row.newJammer || s.Lost != row.lost || s.Points != row.points || s.NoInitial != row.ni {
				t.Errorf("new jammer %q lost %v points %d NI %v, want %q %v %d %v",
					s.NewJammer, s.Lost, s.Points, s.NoInitial, row.newJammer, row.lost, row.points, row.ni)
			}
			if len(s.Trips) != len(row.trips) {
				t.Fatalf("%d trips, want %d", len(s.Trips), len(row.trips))
			}
			for i, tr := range s.Trips {
				if tr.Jammer != row.trips[i] {
					t.Errorf("trip %d by %s, want %s", tr.Number, tr.Jammer, row.trips[i])
				}
			}
			for _, p := range got.Problems {
				t.Errorf("problem: %s", p.Text)
			}
			checkReasons(t, got)
		})
	}
}
