// Package phrase says in a few words, in any of the program's languages, what a
// moment of a bout is: for captions, cards and prints, which are made for other
// people than the one at the desk.
package phrase

import (
	"strings"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Moment is a caption for a moment: what happened and who it was, as
// "Penalty B, back block: 052 Jane Fonder".
func Moment(s *app.Session, m timeline.Moment, code string) string {
	text := upper(What(s, m, code))
	if who := Who(m, code); who != "" {
		text += ": " + who
	}
	return text
}

// Place names period and jam, as "Period 2, jam 7"; empty for what has no jam.
func Place(m timeline.Moment, code string) string {
	if m.Number == 0 {
		return ""
	}
	return words.In(code, "Period {.period}, jam {.jam}", "period", m.Period, "jam", m.Number)
}

// Who is the skater's number and name; "against" stands before the opposing
// jammer of a power jam, who sits.
func Who(m timeline.Moment, code string) string {
	name := strings.TrimSpace(string(m.Who) + " " + m.Name)
	if name != "" && app.Against(m) {
		return words.In(code, "against {.who}", "who", name)
	}
	return name
}

// What is what happened.
func What(s *app.Session, m timeline.Moment, code string) string {
	switch {
	case m.Situation == timeline.SitShort && m.N > 0:
		return words.In(code, "short-handed by {.n}", "n", m.N)
	case m.Situation != "":
		return words.In(code, situations[m.Situation])
	case m.Kind == timeline.KindPenalty:
		if m.Code == "" {
			return words.In(code, "penalty, code not seen")
		}
		if c, ok := s.Bout.Rules.Code(m.Code); ok {
			return words.In(code, "penalty {.code}, {.name}", "code", m.Code, "name", words.In(code, c.Name))
		}
		return words.In(code, "penalty {.code}", "code", m.Code)
	case m.Kind == timeline.KindMark || m.Kind == timeline.KindNote:
		if m.Note != "" {
			return m.Note
		}
	}
	if k := kinds[m.Kind]; k != "" {
		return words.In(code, k)
	}
	return string(m.Kind)
}

// upper makes the first letter a capital one.
func upper(s string) string {
	for i := range s {
		if i > 0 {
			return strings.ToUpper(s[:i]) + s[i:]
		}
	}
	return strings.ToUpper(s)
}

// situations and kinds are in the words of the desk, whose translations are used.
var situations = map[timeline.SituationKind]string{
	timeline.SitPowerJam: "power jam", timeline.SitShort: "short-handed", timeline.SitNoLead: "no lead",
	timeline.SitLeadLost: "lead lost", timeline.SitStarPass: "after a star pass", timeline.SitFullTime: "full two minutes",
	timeline.SitCalled: "called off", timeline.SitLastJam: "last jam of a period", timeline.SitNearFoulOut: "one from fouling out",
	timeline.SitLeadChange: "lead change in the score", timeline.SitTied: "score tied", timeline.SitNoPivot: "no pivot",
	timeline.SitInjury: "ended by injury", timeline.SitOvertime: "overtime", timeline.SitScoreless: "scoreless jam",
	timeline.SitBigJam: "ten points or more",
}

var kinds = map[timeline.Kind]string{
	timeline.KindJam: "jam", timeline.KindLineup: "line-up", timeline.KindLead: "lead", timeline.KindLost: "lead lost",
	timeline.KindCall: "call-off", timeline.KindStarPass: "star pass", timeline.KindTrip: "trip",
	timeline.KindPenalty: "penalty", timeline.KindBox: "time in the box", timeline.KindTimeout: "timeout",
	timeline.KindReview: "official review", timeline.KindInjury: "injury", timeline.KindNote: "note",
	timeline.KindMark: "mark", timeline.KindDrawing: "drawing", timeline.KindExample: "example",
}
