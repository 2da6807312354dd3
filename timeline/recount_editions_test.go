package timeline

import (
	"testing"
	"time"
)

// editionRow is one difference between editions: the same events counted by the
// edition before and after the change.
type editionRow struct {
	id            string
	source        string
	before, after string
	start         JamStart
	script        string
	points        [2]int // red's points before and after
	also          func(*testing.T, JamCount, JamCount)
}

var editionRows = []editionRow{
	{
		id: "2013 lap points on the initial trip", source: "rule commentaries 2011-14 (2013, 8.3): independent of trips", before: "2017", after: "2013", start: redWhite(), points: [2]int{0, 1},
		script: `
			R within
			R passes W               // in front at the start and all round once with the pack
			jam ends`,
		also: func(t *testing.T, _, c2013 JamCount) {
			if len(c2013.Sides[0].Laps) != 1 || len(c2013.Sides[0].Trips[0].Points) != 0 {
				t.Errorf("laps %v; want one, outside the trips", c2013.Sides[0].Laps)
			}
		},
	},
	{
		id: "2013 passes must be upright", source: "rule commentaries 2011-14 (2013, 8.3.1)", before: "2013", after: "2025", start: redWhite(), points: [2]int{1, 1},
		script: `
			R first trip
			R down
			R passes W1
			R up
			R passes W2
			jam ends`,
	},
	{
		id: "2014 star pass on release", source: "men's association note 2014", before: "2013", after: "2014", start: redWhite(),
		script: `
			R within
			R star off
			R releases star to RP
			jam ends`,
		also: func(t *testing.T, c2013, c2014 JamCount) {
			if c2013.Sides[0].NewJammer != "" || c2014.Sides[0].NewJammer != "RP" {
				t.Errorf("new jammer %q by 2013, %q by 2014; want none and RP", c2013.Sides[0].NewJammer, c2014.Sides[0].NewJammer)
			}
		},
	},
	{
		id: "2013 star pass on the helmet", source: "rule commentaries 2011-14 (2013, 3.5.5): complete with the star on", before: "2013", after: "2014", start: redWhite(),
		script: `
			R within
			R star off
			R releases star to RP
			RP star on
			jam ends`,
		also: func(t *testing.T, c2013, c2014 JamCount) {
			a, b := c2013.Sides[0], c2014.Sides[0]
			if a.NewJammer != "RP" || b.NewJammer != "RP" || a.StarPassAt != 4*time.Second || b.StarPassAt != 3*time.Second {
				t.Errorf("passed to %q at %v by 2013, to %q at %v by 2014", a.NewJammer, a.StarPassAt, b.NewJammer, b.StarPassAt)
			}
		},
	},
	{
		id: "2013 star recovered by the pivot", source: "rule commentaries 2011-14: the pivot may recover a dropped star", before: "2013", after: "2014", start: redWhite(),
		script: `
			R within
			R star off
			R throws star
			RP takes star
			RP star on
			jam ends`,
		also: func(t *testing.T, c2013, c2014 JamCount) {
			if c2013.Sides[0].NewJammer != "RP" || c2014.Sides[0].NewJammer != "" {
				t.Errorf("new jammer %q by 2013, %q by 2014; want RP and none", c2013.Sides[0].NewJammer, c2014.Sides[0].NewJammer)
			}
		},
	},
	{
		id: "2017 lead kept when the cover is lost in play", source: "list of gameplay changes 2017", before: "2015", after: "2017", start: redWhite(),
		script: `
			R passes R1 W1 R2 W2 R3 W3 RP WP
			R star off by play
			R calls
			jam ends`,
		also: func(t *testing.T, c2015, c2017 JamCount) {
			a, b := c2015.Sides[0], c2017.Sides[0]
			if !a.Lost || a.Called || b.Lost || !b.Called {
				t.Errorf("2015: lost %v called %v; 2017: lost %v called %v", a.Lost, a.Called, b.Lost, b.Called)
			}
		},
	},
	{
		id: "2019 the opposing jammer is not lapped", source: "2019 release note", before: "2017", after: "2019", start: redWhite(), points: [2]int{5, 4},
		script: `
			R first trip
			R passes W               // stuck behind the pack
			R passes W1 W2 W3 WP
			R exits
			jam ends`,
	},
	{
		id: "2019 a boxed jammer is no point", source: "2019 release note: not among those not on the track", before: "2017", after: "2019", start: redWhite(), points: [2]int{5, 4},
		script: `
			W penalised
			W sits
			R first trip
			R passes W1 W2 W3 WP
			R exits
			jam ends`,
	},
	{
		id: "2019 no lap on a penalised jammer", source: "Rules before 2019, 3.4: no lapping position until both are in the game", before: "2017", after: "2019", start: redWhite(),
		script: `
			R first trip
			W penalised
			R passes W
			jam ends`,
	},
	{
		id: "2019 unearned lap", source: "Rules before 2019, 3.1: a lap not earned can be earned by a re-pass", before: "2017", after: "2019", start: redWhite(), points: [2]int{1, 0},
		script: `
			R first trip
			R down
			R passes W
			R up
			W passes R
			R passes W
			jam ends`,
	},
}

func TestEditionDifferences(t *testing.T) {
	for _, row := range editionRows {
		t.Run(row.id, func(t *testing.T) {
			if row.source == "" {
				t.Error("a row without a source")
			}
			before := recountScript(t, row.before, row.start, row.script)
			after := recountScript(t, row.after, row.start, row.script)
			for i, c := range []JamCount{before, after} {
				if c.Sides[0].Points != row.points[i] {
					t.Errorf("by %s red has %d points, want %d", c.Edition, c.Sides[0].Points, row.points[i])
				}
				for _, p := range c.Problems {
					t.Errorf("by %s problem: %s", c.Edition, p.Text)
				}
				checkReasons(t, c)
			}
			if row.also != nil {
				row.also(t, before, after)
			}
		})
	}
}

// TestEditionNumbers holds the numbers that changed between editions.
func TestEditionNumbers(t *testing.T) {
	rows := []struct {
		edition string
		penalty time.Duration
		points  int
		timeout bool // a review may be spent as a timeout
		window  time.Duration
	}{
		{"2013", 60 * time.Second, 5, false, 0}, // 2013 rules 7.1
		{"2014", 30 * time.Second, 5, false, 0}, // 2014, 6.1.2
		{"2015", 30 * time.Second, 5, true, 0},  // rules news 2014
		{"2017", 30 * time.Second, 5, true, 0},  // league forum 2015: five per trip typical
		{"2019", 30 * time.Second, 4, true, 0},  // 2019 release note
		{"2025", 30 * time.Second, 4, true, 30 * time.Second},
	}
	if len(rows) != len(Editions()) {
		t.Fatalf("%d editions, %d tested", len(Editions()), len(rows))
	}
	for i, row := range rows {
		r, ok := Edition(row.edition)
		if !ok || Editions()[i].Edition != row.edition {
			t.Fatalf("edition %s: known %v, in its place %s", row.edition, ok, Editions()[i].Edition)
		}
		if r.PenaltyTime != row.penalty || r.PointsPerTrip != row.points || r.ReviewAsTimeout != row.timeout || r.ReviewWindow != row.window {
			t.Errorf("%s: penalty %v, points %d, review as timeout %v, window %v", row.edition, r.PenaltyTime, r.PointsPerTrip, r.ReviewAsTimeout, r.ReviewWindow)
		}
		if r.Source == "" || len(r.Codes) == 0 {
			t.Errorf("%s: source %q, %d codes", row.edition, r.Source, len(r.Codes))
		}
		if err := r.Check(); err != nil {
			t.Errorf("%s: %v", row.edition, err)
		}
	}
}

// TestLettersAreNotMappedAcrossYears: C was direction of game play in 2015 and
// is illegal contact from 2017 on.
func TestLettersAreNotMappedAcrossYears(t *testing.T) {
	old, _ := Edition("2015")
	now, _ := Edition("2025")
	a, ok := old.Code("C")
	b, ok2 := now.Code("C")
	if !ok || !ok2 || a.Name == b.Name {
		t.Errorf("C is %q in 2015 and %q in 2025", a.Name, b.Name)
	}
	if _, ok := now.Code("Z"); ok {
		t.Error("2025 has a letter Z")
	}
}

func TestRuleSetCheck(t *testing.T) {
	base, _ := Edition("2025")
	for name, change := range map[string]func(*RuleSet){
		"no period":                  func(r *RuleSet) { r.Periods = 0 },
		"no jam":                     func(r *RuleSet) { r.JamLength = 0 },
		"jam longer than the period": func(r *RuleSet) { r.JamLength = time.Hour },
		"penalty of no time":         func(r *RuleSet) { r.PenaltyTime = 0 },
		"standing all of it":         func(r *RuleSet) { r.StandTime = time.Minute },
		"negative line-up":           func(r *RuleSet) { r.LineupTime = -1 },
		"nobody fouls out":           func(r *RuleSet) { r.FoulOut = 0 },
		"no points":                  func(r *RuleSet) { r.PointsPerTrip = 0 },
		"boxed jammer without laps":  func(r *RuleSet) { r.BoxedJammerNOTT = true },
		"letter twice":               func(r *RuleSet) { r.Codes = append(r.Codes, r.Codes[0]) },
		"both serve too long":        func(r *RuleSet) { r.BothSeatedServe = time.Hour },
	} {
		r := base
		r.Codes = append([]PenaltyCode(nil), base.Codes...)
		change(&r)
		if r.Check() == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	if err := base.Check(); err != nil {
		t.Errorf("the edition itself: %v", err)
	}
}
