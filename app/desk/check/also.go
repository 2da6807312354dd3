package check

import (
	"regexp"
	"strings"

	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// followText says what follows from a finding's cause: how many places, and which.
func followText(f sheet.Finding) string {
	if len(f.Also) == 0 {
		return ""
	}
	var list []string
	for _, a := range f.Also {
		list = append(list, alsoText(a))
	}
	return words.T("From this follows: {.list}", "list", strings.Join(list, " "))
}

// also is one form of sentence that the cross-check writes beside a finding, and
// how it is said in the language spoken.
type also struct {
	form *regexp.Regexp
	say  func(m []string) string
}

func says(pattern string, say func(m []string) string) also {
	return also{regexp.MustCompile("^" + pattern + "$"), say}
}

// alsos are all of them; a test reads the forms from the cross-check's source.
var alsos = []also{
	says(`The game total of (-?\d+) does not follow it\.`, func(m []string) string {
		return words.T("The game total of {.n} does not follow it.", "n", m[1])
	}),
	says(`The next game total is right again\.`, func([]string) string { return words.T("The next game total is right again.") }),
	says(`The jam total of (-?\d+) is the tags'\.`, func(m []string) string {
		return words.T("The jam total of {.n} is the tags'.", "n", m[1])
	}),
	says(`(.+) is marked on the sheet, not by the tags\.`, func(m []string) string {
		return words.T("{.column} is marked on the sheet, not by the tags.", "column", upper(columnName(strings.ToLower(m[1]))))
	}),
	says(`(.+) is not marked on the sheet, but by the tags\.`, func(m []string) string {
		return words.T("{.column} is not marked on the sheet, but by the tags.", "column", upper(columnName(strings.ToLower(m[1]))))
	}),
	says(`(.+) is not noted as out of the game on the sheet, but by the tags\.`, func(m []string) string {
		return words.T("{.who} is not noted as out of the game on the sheet, but by the tags.", "who", m[1])
	}),
	says(`(.+) is noted as out of the game on the sheet, not by the tags\.`, func(m []string) string {
		return words.T("{.who} is noted as out of the game on the sheet, not by the tags.", "who", m[1])
	}),
	says(`The row of jam (\d+) of period (\d+) repeats the one before on the sheet of (.+)\.`, func(m []string) string {
		return words.T("The row of jam {.jam} of period {.period} repeats the one before ({.side}).", "jam", m[1], "period", m[2], "side", sideNamed(m[3]))
	}),
	says(`Jam (\d+) of period (\d+) stands twice on the sheet of (.+)\.`, func(m []string) string {
		return words.T("Jam {.jam} of period {.period} stands twice ({.side}).", "jam", m[1], "period", m[2], "side", sideNamed(m[3]))
	}),
	says(`Jam (\d+) of period (\d+) has no row on the score sheet of ([^;]+); .+\.`, func(m []string) string {
		return words.T("Jam {.jam} of period {.period} has no score row ({.side}).", "jam", m[1], "period", m[2], "side", sideNamed(m[3]))
	}),
	says(`Jammer (.+) of jam (\d+) is on neither roster\.`, func(m []string) string {
		return words.T("Jammer {.who} of jam {.jam} is on neither roster.", "who", m[1], "jam", m[2])
	}),
	says(`(.+) stands in the line-up of jam (\d+) and is on neither roster\.`, func(m []string) string {
		return words.T("{.who} stands in the line-up of jam {.jam} and is on neither roster.", "who", m[1], "jam", m[2])
	}),
	says(`(.+) stands twice in the line-up of jam (\d+)\.`, func(m []string) string {
		return words.T("{.who} stands twice in the line-up of jam {.jam}.", "who", m[1], "jam", m[2])
	}),
	says(`The score sheet has jammer (.+) in jam (\d+), the line-up (.+)\.`, func(m []string) string {
		return words.T("The score sheet has jammer {.who} in jam {.jam}, the line-up {.other}.", "who", m[1], "jam", m[2], "other", m[3])
	}),
	says(`The SP row of jam (\d+) has (.+); only the pivot, (.+) in the line-up, can get the star\.`, func(m []string) string {
		return words.T("The SP row of jam {.jam} has {.who}; only the pivot, {.pivot} in the line-up, can get the star.", "jam", m[1], "who", m[2], "pivot", m[3])
	}),
	says(`(.+) was still in the box at the end of jam (\d+) and counts as fielded in jam (\d+); the line-up does not have her\.`, func(m []string) string {
		return words.T("{.who} was still in the box at the end of jam {.jam} and counts as fielded in jam {.next}; the line-up does not have her.", "who", m[1], "jam", m[2], "next", m[3])
	}),
	says(`(.+) was still in the box at the end of jam (\d+) as (.+); the line-up of jam (\d+) has her as (.+)\.`, func(m []string) string {
		return words.T("{.who} was still in the box at the end of jam {.jam} as {.role}; the line-up of jam {.next} has her as {.other}.",
			"who", m[1], "jam", m[2], "role", columnName(m[3]), "next", m[4], "other", columnName(m[5]))
	}),
	says(`A penalty stands on (.+), who is on neither roster\.`, func(m []string) string {
		return words.T("A penalty stands on {.who}, who is on neither roster.", "who", m[1])
	}),
	says(`(.+) has a penalty in jam (\d+), whose line-up does not have her\.`, func(m []string) string {
		return words.T("{.who} has a penalty in jam {.jam}, whose line-up does not have her.", "who", m[1], "jam", m[2])
	}),
	says(`(.+) sits in the box in jam (\d+) and is on neither roster\.`, func(m []string) string {
		return words.T("{.who} sits in the box in jam {.jam} and is on neither roster.", "who", m[1], "jam", m[2])
	}),
	says(`(.+) is noted as fouled out with (\d+) penalties on the sheet; it takes (\d+)\.`, func(m []string) string {
		return words.T("{.who} is noted as fouled out with {.n} penalties; it takes {.most}.", "who", m[1], "n", m[2], "most", m[3])
	}),
	says(`(.+) has (\d+) penalties and is not noted as fouled out\.`, func(m []string) string {
		return words.T("{.who} has {.n} penalties and is not noted as fouled out.", "who", m[1], "n", m[2])
	}),
	says(`(.+) is fielded in jam (\d+) of period (\d+); by the penalty sheet her bout was over in jam (\d+) of period (\d+)\.`, func(m []string) string {
		return words.T("{.who} is fielded in jam {.jam} of period {.period}; by the penalty sheet her bout was over in jam {.last} of period {.then}.",
			"who", m[1], "jam", m[2], "period", m[3], "last", m[4], "then", m[5])
	}),
	says(`The game total is (-?\d+); the total before and this row's points make (-?\d+)\.`, func(m []string) string {
		return words.T("The game total is {.n}; the total before and this row's points make {.sum}.", "n", m[1], "sum", m[2])
	}),
	says(`The jam total is (-?\d+); the row's trips make (-?\d+)\.`, func(m []string) string {
		return words.T("The jam total is {.n}; the row's trips make {.sum}.", "n", m[1], "sum", m[2])
	}),
	says(`Trip (\d+) has (\d+) points; a trip can score (\d+) at most by the (.+) rules\.`, func(m []string) string {
		return words.T("Trip {.trip} has {.n} points; by the rules of {.edition} it can score {.most} at most.", "trip", m[1], "n", m[2], "most", m[3], "edition", m[4])
	}),
	says(`The displayed total of (.+) is (-?\d+); the rows make (-?\d+)\.`, func(m []string) string {
		return words.T("The total shown on the sheet is {.n}; the rows make {.sum}.", "n", m[2], "sum", m[3])
	}),
	says(`Both teams have lead in jam (\d+)\.`, func(m []string) string {
		return words.T("Both teams have lead in jam {.jam}.", "jam", m[1])
	}),
	says(`Injury is marked on one team's sheet of jam (\d+) only\.`, func(m []string) string {
		return words.T("Injury is marked on one team's sheet of jam {.jam} only.", "jam", m[1])
	}),
	says(`Jam (\d+) is called off without lead\.`, func(m []string) string {
		return words.T("Jam {.jam} is called off without lead.", "jam", m[1])
	}),
	says(`Jam (\d+) is called off after lead was lost\.`, func(m []string) string {
		return words.T("Jam {.jam} is called off after lead was lost.", "jam", m[1])
	}),
	says(`Jam (\d+) is overtime, where there is no lead and no call-off\.`, func(m []string) string {
		return words.T("Jam {.jam} is overtime, where there is no lead and no call-off.", "jam", m[1])
	}),
	says(`The new jammer of jam (\d+) has lead, which a star pass does not hand on\.`, func(m []string) string {
		return words.T("The new jammer of jam {.jam} has lead, which a star pass does not hand on.", "jam", m[1])
	}),
	says(`Jam (\d+) has points in a row marked as without a completed initial trip\.`, func(m []string) string {
		return words.T("Jam {.jam} has points in a row marked as without a completed initial trip.", "jam", m[1])
	}),
}

// alsoText is a sentence of the cross-check in the language spoken.
func alsoText(s string) string {
	for _, a := range alsos {
		if m := a.form.FindStringSubmatch(s); m != nil {
			return a.say(m)
		}
	}
	return s
}

// sideNamed is the side that the cross-check's English names.
func sideNamed(s string) string {
	for _, side := range timeline.Sides {
		if s == side.String() {
			return terms.Side(side)
		}
	}
	return s
}
