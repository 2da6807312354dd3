package check

import (
	"regexp"
	"strings"

	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// causeText is a finding's cause in a few words that blame nobody.
func causeText(f sheet.Finding) string {
	if f.State == sheet.StateImpossible {
		return impossibleText(f.Cause)
	}
	switch f.Cause {
	case sheet.CauseTripDigit:
		return words.T("tags differ from sheet")
	case sheet.CauseShifted:
		return words.T("trips in the next column")
	case sheet.CauseWrongJammer:
		return words.T("another jammer")
	case sheet.CauseSwappedTeams:
		return words.T("the teams' lines swapped")
	case sheet.CauseMissingRow:
		return words.T("no row for this jam")
	case sheet.CauseDoubledRow:
		return words.T("one row more than jams")
	case sheet.CauseStarPass:
		return words.T("star-pass rows differ")
	case sheet.CauseLead, sheet.CauseLost, sheet.CauseCall, sheet.CauseInj, sheet.CauseNI:
		if f.Sheet == "marked" {
			return words.T("marked on the sheet only")
		}
		return words.T("marked by the tags only")
	case sheet.CauseRunning:
		return words.T("total carried differently")
	case sheet.CauseJamTotal:
		return words.T("jam total differs")
	case sheet.CausePenMissing:
		return words.T("penalty only in the tags")
	case sheet.CausePenExtra:
		return words.T("penalty only on the sheet")
	case sheet.CausePenJam:
		return words.T("penalty in another jam")
	case sheet.CausePenCode:
		return words.T("another penalty code")
	case sheet.CausePenSkater:
		return words.T("penalty on another skater")
	case sheet.CauseOut:
		return words.T("out of the game differs")
	case sheet.CauseBoxedMissing:
		return words.T("in the box, not lined up")
	case sheet.CauseBoxedRole:
		return words.T("in the box in another role")
	case sheet.CauseFouledFielded:
		return words.T("fielded after her last jam")
	case sheet.CauseUnknown:
		return words.T("number on neither roster")
	case sheet.CauseLineup:
		return words.T("line-ups differ")
	case sheet.CauseDuration:
		return words.T("length of the jam differs")
	}
	return words.T("tags differ from sheet")
}

// impossibleText is for what the sheet contradicts itself in.
func impossibleText(c sheet.Cause) string {
	switch c {
	case sheet.CauseRunning:
		return words.T("total does not add up")
	case sheet.CauseJamTotal:
		return words.T("trips make another total")
	case sheet.CauseTripDigit:
		return words.T("more than a trip can score")
	case sheet.CauseMissingRow:
		return words.T("no row for this jam")
	case sheet.CauseDoubledRow:
		return words.T("the row stands twice")
	case sheet.CauseUnknown:
		return words.T("number on neither roster")
	case sheet.CauseLead, sheet.CauseLost, sheet.CauseCall, sheet.CauseInj, sheet.CauseNI:
		return words.T("marks contradict each other")
	case sheet.CauseWrongJammer:
		return words.T("line-up has another jammer")
	case sheet.CauseBoxedMissing:
		return words.T("in the box, not lined up")
	case sheet.CauseBoxedRole:
		return words.T("in the box in another role")
	case sheet.CauseFouledFielded:
		return words.T("fielded after her last jam")
	case sheet.CauseOut, sheet.CausePenMissing:
		return words.T("penalties and foul-out differ")
	}
	return words.T("sheet contradicts itself")
}

// columnText names the column of a finding.
func columnText(f sheet.Finding) string {
	switch f.Column {
	case sheet.FieldTrip:
		if f.N > 0 {
			return words.T("trip {.n}", "n", f.N)
		}
		return words.T("trips")
	case sheet.FieldJamTotal:
		return words.T("jam total")
	case sheet.FieldGameTotal:
		return words.T("game total")
	case sheet.FieldStarPass:
		return words.T("star pass")
	case sheet.FieldJam:
		return words.T("row")
	case sheet.FieldCode, sheet.FieldPenalty, sheet.FieldPenaltyJam, sheet.FieldSkater, sheet.FieldOut,
		sheet.FieldPivot, sheet.FieldBlocker, sheet.FieldRole:
		if f.Skater != "" {
			return string(f.Skater)
		}
	}
	if f.Column == "" && f.Skater != "" {
		return string(f.Skater)
	}
	return columnName(string(f.Column))
}

// columnName is the name of a column as the trade has it; "" for none.
func columnName(c string) string {
	if n, ok := strings.CutPrefix(c, "trip "); ok {
		return words.T("trip {.n}", "n", n)
	}
	switch c {
	case "jammer":
		return words.T("jammer")
	case "pivot":
		return words.T("pivot")
	case "blocker":
		return words.T("blocker")
	case "lost":
		return words.T("lost")
	case "lead":
		return words.T("lead")
	case "call":
		return words.T("call")
	case "inj":
		return words.T("inj")
	case "ni":
		return words.T("NI")
	case "points":
		return words.T("points")
	case "penalty", "code":
		return words.T("penalty")
	case "FO/EXP", "out":
		return words.T("FO/EXP")
	case "duration":
		return words.T("length")
	case "game total":
		return words.T("game total")
	case "jam total":
		return words.T("jam total")
	case "star pass":
		return words.T("star pass")
	case "skater", "role":
		return words.T("skater")
	}
	return c
}

var (
	valueInJam    = regexp.MustCompile(`^(.+) in jam (\d+)(?: of period (\d+))?$`)
	valueRange    = regexp.MustCompile(`^(\d+) to (\d+)$`)
	valueRow      = regexp.MustCompile(`^row with (-?\d+) points$`)
	valueJam      = regexp.MustCompile(`^jam (\d+)$`)
	valueOut      = regexp.MustCompile(`^FO with (\d+) penalties$`)
	valueNoOut    = regexp.MustCompile(`^(\d+) penalties, no FO$`)
	valuePenaltys = regexp.MustCompile(`^(\d+) penalties$`)
)

// valueText is a value of the sheet or the tags in the language spoken.
func valueText(v string) string {
	switch v {
	case "":
		return words.T("nothing")
	case "marked":
		return words.T("marked")
	case "not marked":
		return words.T("not marked")
	case "none":
		return words.T("none")
	case "blank":
		return words.T("blank")
	case "no row":
		return words.T("no row")
	case "row", "jam":
		return words.T("a row")
	case "no such row":
		return words.T("no such row")
	case "own line":
		return words.T("her own team's line")
	case "other team's line":
		return words.T("the other team's line")
	case "SP row":
		return words.T("SP row")
	case "no SP row":
		return words.T("no SP row")
	case "row twice", "twice":
		return words.T("twice")
	case "row once", "once":
		return words.T("once")
	case "a number on the roster":
		return words.T("a number on the roster")
	case "another skater":
		return words.T("another skater")
	case "both teams":
		return words.T("both teams")
	case "one at most":
		return words.T("one at most")
	case "one team":
		return words.T("one team")
	case "both or none":
		return words.T("both or none")
	case "a jam she was fielded in":
		return words.T("a jam she was fielded in")
	case "call, no lead":
		return words.T("call, no lead")
	case "lead with a call":
		return words.T("lead with a call")
	case "call after lost":
		return words.T("call after lost")
	case "call or lost":
		return words.T("call or lost")
	case "lead or call":
		return words.T("lead or call")
	case "neither":
		return words.T("neither")
	case "lead in SP row":
		return words.T("lead in the SP row")
	case "no lead":
		return words.T("no lead")
	case "NI and points":
		return words.T("NI and points")
	case "one of them":
		return words.T("one of them")
	case timeline.Jammer.String(), timeline.Pivot.String(), timeline.Blocker.String():
		return columnName(v)
	case "(no code)":
		return words.T("no code")
	}
	if m := valueInJam.FindStringSubmatch(v); m != nil {
		if m[3] == "" {
			return words.T("{.code} in jam {.jam}", "code", valueText(m[1]), "jam", m[2])
		}
		return words.T("{.code} in jam {.jam} of period {.period}", "code", valueText(m[1]), "jam", m[2], "period", m[3])
	}
	if m := valueRange.FindStringSubmatch(v); m != nil {
		return words.T("{.low} to {.high}", "low", m[1], "high", m[2])
	}
	if m := valueRow.FindStringSubmatch(v); m != nil {
		return words.T("a row with points: {.points}", "points", m[1])
	}
	if m := valueJam.FindStringSubmatch(v); m != nil {
		return words.T("jam {.jam}", "jam", m[1])
	}
	if m := valueOut.FindStringSubmatch(v); m != nil {
		return words.T("FO with {.n} penalties", "n", m[1])
	}
	if m := valueNoOut.FindStringSubmatch(v); m != nil {
		return words.T("{.n} penalties, no FO", "n", m[1])
	}
	if m := valuePenaltys.FindStringSubmatch(v); m != nil {
		return words.T("{.n} penalties", "n", m[1])
	}
	return v
}
