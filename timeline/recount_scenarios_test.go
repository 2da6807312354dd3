package timeline

import (
	"slices"
	"strings"
	"testing"
)

// The scenarios of the casebook (Rules of Flat Track Roller Derby 2025) by
// subject. Every one is either tested from physical events, by its name, in the
// table of its subject, or stands in notExpressible with the reason.
var scenarios = map[string][]string{
	"points": {
		"C2.5.A", "C3.1.A", "C3.1.B", "C3.1.D", "C3.2.B", "C3.2.C", "C3.2.D", "C3.3.A", "C3.3.A-i", "C3.3.A-ii",
		"C3.3.B", "C3.3.C", "C3.3.D", "C3.3.E", "C3.3.F", "C3.3.I", "C3.3.J", "C3.4.A",
	},
	"lead": {
		"C2.2.2.A", "C2.2.2.B", "C2.2.2.C", "C2.2.2.D", "C2.2.2.E", "C2.2.2.F", "C4.1.3.E", "C4.3.C",
	},
	"star pass": {
		"C2.2.4.A", "C2.2.4.B", "C2.2.4.C", "C2.2.4.D", "C2.2.4.E", "C2.2.4.F", "C4.2.1.F", "C4.2.1.N", "C4.3.D",
	},
	"start, clock, whistle": {
		"C2.2.1.A", "C2.2.1.B", "C2.2.6.A", "C2.2.6.B", "C2.2.6.D", "C2.2.6.E", "C4.2.1.H", "C4.2.3.A", "C4.2.3.D",
		"C4.2.3.E", "C4.2.3.F", "C4.2.3.I",
	},
	"pack, position": {
		"C2.3.A", "C2.3.B", "C2.3.C", "C4.2.1.A", "C4.2.1.C", "C4.2.1.E", "C4.2.1.I", "C4.2.1.J", "C4.2.1.M",
		"C4.2.2.A", "C4.2.2.C", "C4.2.2.D", "C4.2.2.F", "C4.2.2.H", "C4.2.2.I", "C4.2.2.J", "C4.2.2.M",
	},
	"contact": {
		"C4.1.1.D", "C4.1.1.I", "C4.1.1.J", "C4.1.2.A", "C4.1.2.E", "C4.1.3.A", "C4.1.4.A",
	},
	"two jammers": {"1", "2", "3", "4", "5", "6", "7"}, // Rules 4.4.2, C4.4.2.A-D
	"editions": {
		"2006 periods", "2012 minors", "2012 two-stage start", "2013 minors abolished", "2013 60 s", "2013 upright",
		"2013 lap points", "2014 30 s", "2014 release", "2015 review as timeout", "2015 points error rules",
		"2015 illegal passes", "2017 no jammer lined up", "2017 ceding a cut", "2017 lead kept", "2019 five per trip",
		"2019 boxed jammer", "2019 failed star pass unpenalised", "2019 back contact", "2013 swap over a minute",
	},
}

const (
	falseStart = "whether a skater started from her place is measured against lines; only an official's penalty is an event, and it has no outcome in points here beyond that"
	asksCall   = "asks whether to call a penalty; a call is an input of the recount, never its result"
	geometry   = "asks for the pack from distances; the recount is told no pack and pack, package simulate works the distances out"
	between    = "happens between jams, with no event inside a jam; the bout's timeouts and line-ups are looked at as a whole"
	before2013 = "before the oldest edition kept"
)

var notExpressible = map[string]string{
	"C2.2.1.B": falseStart, "C2.2.6.A": falseStart, "C2.2.6.B": falseStart, "C2.2.6.D": falseStart,
	"C4.2.3.A": between, "C4.2.3.D": between, "C4.2.3.E": between, "C4.2.3.F": between,

	"C2.3.A": geometry, "C2.3.B": geometry, "C2.3.C": geometry, "C4.2.1.E": geometry, "C4.2.1.I": geometry,
	"C4.2.1.A": asksCall, "C4.2.1.C": asksCall, "C4.2.1.J": asksCall, "C4.2.1.M": asksCall,
	"C4.2.2.A": asksCall, "C4.2.2.C": asksCall, "C4.2.2.D": asksCall, "C4.2.2.F": asksCall, "C4.2.2.H": asksCall,
	"C4.2.2.I": asksCall, "C4.2.2.J": asksCall, "C4.2.2.M": asksCall,

	"C4.1.1.D": asksCall, "C4.1.1.I": asksCall, "C4.1.1.J": asksCall, "C4.1.2.A": asksCall, "C4.1.2.E": asksCall,
	"C4.1.3.A": asksCall, "C4.1.4.A": asksCall,

	"2006 periods": before2013, "2012 minors": before2013, "2012 two-stage start": before2013,
	"2013 minors abolished":             "without minors nothing is left to tell apart: no event is a minor",
	"2015 points error rules":           "what officials may correct until when; the recount has no reported score to correct",
	"2015 illegal passes":               "whether an unpenalised pass was illegal is judged by contact; no event carries it",
	"2017 no jammer lined up":           between,
	"2017 ceding a cut":                 asksCall,
	"2019 failed star pass unpenalised": asksCall,
	"2019 back contact":                 asksCall,
}

// elsewhere are scenarios tested under another name or in another test.
var elsewhere = map[string]string{
	"C2.2.4.F":                "C2.2.4.F", // box rules
	"2013 60 s":               "TestEditionNumbers",
	"2014 30 s":               "TestEditionNumbers",
	"2015 review as timeout":  "TestEditionNumbers",
	"2013 upright":            "2013 passes must be upright",
	"2013 lap points":         "2013 lap points on the initial trip",
	"2014 release":            "2014 star pass on release",
	"2017 lead kept":          "2017 lead kept when the cover is lost in play",
	"2019 five per trip":      "2019 the opposing jammer is not lapped",
	"2019 boxed jammer":       "2019 a boxed jammer is no point",
	"2013 swap over a minute": "2013 over a minute",
}

// testedNames collects the names of every table's rows.
func testedNames() []string {
	names := []string{"TestEditionNumbers"}
	for _, r := range pointsRows {
		names = append(names, r.id)
	}
	for _, r := range slices.Concat(leadRows, startRows) {
		names = append(names, r.id)
	}
	for _, r := range starRows {
		names = append(names, r.id)
	}
	for _, r := range slices.Concat(twoJammerRows, boxRuleRows) {
		names = append(names, r.id)
	}
	for _, r := range editionRows {
		names = append(names, r.id)
	}
	return names
}

// TestEveryScenario fails for a scenario neither tested nor listed with a
// reason, for one that is both, and for a casebook row that is no scenario.
func TestEveryScenario(t *testing.T) {
	names := testedNames()
	known := map[string]bool{}
	for subject, ids := range scenarios {
		for _, id := range ids {
			if known[id] {
				t.Errorf("%s: %s is listed twice", subject, id)
			}
			known[id] = true
			want := id
			if other, ok := elsewhere[id]; ok {
				want = other
			}
			tested := slices.ContainsFunc(names, func(n string) bool {
				return n == want || len(id) <= 1 && strings.HasPrefix(n, id+" ")
			})
			reason := notExpressible[id]
			switch {
			case tested && reason != "":
				t.Errorf("%s is tested and yet listed as not expressible", id)
			case !tested && reason == "":
				t.Errorf("%s (%s) is neither tested nor listed with a reason", id, subject)
			}
		}
	}
	for id := range notExpressible {
		if !known[id] {
			t.Errorf("%s is listed as not expressible, but is no scenario", id)
		}
	}
	for _, n := range names {
		id, _, _ := strings.Cut(n, " ")
		if strings.HasPrefix(id, "C") && !known[id] {
			t.Errorf("%s is tested, but is no scenario", n)
		}
	}
}
