package align

import (
	"whistlecut/app/desk/words"
	"whistlecut/timeline/sheet"
)

// numbered is a field with its number.
type numbered struct {
	field sheet.Field
	n     int
}

// fieldsOf are what a column of a kind of table can be read as.
func fieldsOf(k sheet.Kind) []numbered {
	var out []numbered
	add := func(fields ...sheet.Field) {
		for _, f := range fields {
			out = append(out, numbered{f, 0})
		}
	}
	count := func(f sheet.Field, from, to int) {
		for n := from; n <= to; n++ {
			out = append(out, numbered{f, n})
		}
	}
	switch k {
	case sheet.KindScore:
		add(sheet.FieldJam, sheet.FieldJammer, sheet.FieldLost, sheet.FieldLead, sheet.FieldCall, sheet.FieldInj, sheet.FieldNI)
		count(sheet.FieldTrip, 2, 10)
		add(sheet.FieldTrips, sheet.FieldMarks, sheet.FieldJamTotal, sheet.FieldGameTotal, sheet.FieldStarPass)
	case sheet.KindPenalties:
		add(sheet.FieldSkater, sheet.FieldName, sheet.FieldCode, sheet.FieldJam, sheet.FieldOut)
		count(sheet.FieldPenalty, 1, 9)
		count(sheet.FieldPenaltyJam, 1, 9)
	case sheet.KindLineups:
		add(sheet.FieldJam, sheet.FieldNoPivot, sheet.FieldJammer, sheet.FieldPivot)
		count(sheet.FieldBlocker, 1, 4)
		add(sheet.FieldBox, sheet.FieldStarPass, sheet.FieldSkater, sheet.FieldRole)
	case sheet.KindClock:
		add(sheet.FieldJam, sheet.FieldDuration, sheet.FieldClock, sheet.FieldClockEnd)
	case sheet.KindTimeouts:
		add(sheet.FieldJam, sheet.FieldType, sheet.FieldClock, sheet.FieldDuration, sheet.FieldRetained)
	case sheet.KindBox:
		add(sheet.FieldSkater, sheet.FieldRole, sheet.FieldJam, sheet.FieldIn, sheet.FieldStand, sheet.FieldDone, sheet.FieldOutJam, sheet.FieldBetween)
	case sheet.KindRoster:
		add(sheet.FieldSkater, sheet.FieldName)
	}
	add(sheet.FieldPeriod, sheet.FieldTeam, sheet.FieldKeep, sheet.FieldIgnore)
	return out
}

// fieldName is what a column holds, in the trade's words.
func fieldName(f sheet.Field, n int) string {
	switch f {
	case sheet.FieldKeep:
		return words.T("something else, kept")
	case sheet.FieldIgnore:
		return words.T("nothing we need")
	case sheet.FieldPeriod:
		return words.T("period")
	case sheet.FieldJam:
		return words.T("jam number")
	case sheet.FieldTeam:
		return words.T("team")
	case sheet.FieldJammer:
		return words.T("jammer")
	case sheet.FieldLost:
		return words.T("lost")
	case sheet.FieldLead:
		return words.T("lead")
	case sheet.FieldCall:
		return words.T("call")
	case sheet.FieldInj:
		return words.T("injury")
	case sheet.FieldNI:
		return words.T("no initial")
	case sheet.FieldTrip:
		return words.T("trip {.n}", "n", n)
	case sheet.FieldTrips:
		return words.T("all trips in one cell")
	case sheet.FieldMarks:
		return words.T("marks in one cell")
	case sheet.FieldJamTotal:
		return words.T("jam total")
	case sheet.FieldGameTotal:
		return words.T("game total")
	case sheet.FieldStarPass:
		return words.T("star pass")
	case sheet.FieldSkater:
		return words.T("skater number")
	case sheet.FieldName:
		return words.T("name")
	case sheet.FieldCode:
		return words.T("penalty code")
	case sheet.FieldPenalty:
		return words.T("penalty {.n}", "n", n)
	case sheet.FieldPenaltyJam:
		return words.T("jam of penalty {.n}", "n", n)
	case sheet.FieldOut:
		return words.T("foul-out or expulsion")
	}
	return moreFieldName(f, n)
}

// moreFieldName names the fields of line-ups, clock and box.
func moreFieldName(f sheet.Field, n int) string {
	switch f {
	case sheet.FieldNoPivot:
		return words.T("no pivot")
	case sheet.FieldPivot:
		return words.T("pivot")
	case sheet.FieldBlocker:
		return words.T("blocker {.n}", "n", n)
	case sheet.FieldBox:
		return words.T("box mark")
	case sheet.FieldRole:
		return words.T("role")
	case sheet.FieldDuration:
		return words.T("duration")
	case sheet.FieldClock:
		return words.T("period clock")
	case sheet.FieldClockEnd:
		return words.T("clock at the end")
	case sheet.FieldType:
		return words.T("type")
	case sheet.FieldRetained:
		return words.T("review retained")
	case sheet.FieldIn:
		return words.T("sat down")
	case sheet.FieldStand:
		return words.T("stood up")
	case sheet.FieldDone:
		return words.T("released")
	case sheet.FieldOutJam:
		return words.T("jam of release")
	case sheet.FieldBetween:
		return words.T("between jams")
	}
	return string(f)
}

// kindName is what a table of the paperwork is about.
func kindName(k sheet.Kind) string {
	switch k {
	case sheet.KindScore:
		return words.T("score")
	case sheet.KindPenalties:
		return words.T("penalties")
	case sheet.KindLineups:
		return words.T("line-ups")
	case sheet.KindClock:
		return words.T("jam clock")
	case sheet.KindTimeouts:
		return words.T("timeouts")
	case sheet.KindBox:
		return words.T("box")
	case sheet.KindRoster:
		return words.T("roster")
	}
	return words.T("other")
}
