package check

import (
	"regexp"
	"slices"
	"strings"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline/sheet"
)

var (
	whyAllows   = regexp.MustCompile(`^the tags allow (\d+)(?: to (\d+))?, which (-?\d+) is within; not seen or unsure$`)
	whyNoPeriod = regexp.MustCompile(`^the sheet has no rows of period (\d+)$`)
)

// openWhys are the reasons that a tag leaves open: more film or a closer look
// settles them. The others are for want of tags, of film or of a readable sheet.
var openWhys = []string{
	"the tags leave it open", "the tags leave a place of this line-up open", "the tags do not say who the jammer was",
	"skater, code or jam is not seen or can't be read",
}

// uncheckedShape is the ring of what cannot be checked, or the triangle of what
// nobody has seen.
func uncheckedShape(u sheet.Unchecked) look.Shape {
	if slices.Contains(openWhys, u.Why) || whyAllows.MatchString(u.Why) {
		return look.Triangle
	}
	return look.Ring
}

// uncheckedText says in the language spoken why something could not be checked.
func uncheckedText(why string) string {
	if m := whyAllows.FindStringSubmatch(why); m != nil {
		high := m[2]
		if high == "" {
			high = m[1]
		}
		return words.T("not seen: the tags allow {.low} to {.high}, the sheet has {.points}", "low", m[1], "high", high, "points", m[3])
	}
	if m := whyNoPeriod.FindStringSubmatch(why); m != nil {
		return words.T("the sheet has no rows of period {.period}", "period", m[1])
	}
	switch why {
	case "its points from before are of a period that is not on the sheet":
		return words.T("its points from before are of a period that is not on the sheet")
	case "no jam is tagged for this row":
		return words.T("no jam is tagged for this row")
	case "no line-up is tagged":
		return words.T("no line-up is tagged")
	case "no penalties are tagged":
		return words.T("no penalties are tagged")
	case "nobody logged this jam for this side":
		return words.T("nobody logged this jam for this side")
	case "nobody logged this jam":
		return words.T("nobody logged this jam")
	case "skater, code or jam is not seen or can't be read":
		return words.T("skater, code or jam is not seen or can't be read")
	case "the jam's length is not known from the tags":
		return words.T("the jam's length is not known from the tags")
	case "the sheet has no points that can be read here":
		return words.T("the sheet has no points that can be read here")
	case "the sheet notes no foul-outs at all":
		return words.T("the sheet notes no foul-outs at all")
	case "the sheet's cell can't be read":
		return words.T("the sheet's cell can't be read")
	case "the sheet's entry can't be read":
		return words.T("the sheet's entry can't be read")
	case "the tags do not say who the jammer was":
		return words.T("the tags do not say who the jammer was")
	case "the tags leave a place of this line-up open":
		return words.T("the tags leave a place of this line-up open")
	case "the tags leave it open":
		return words.T("the tags leave it open")
	case "this sheet has no star-pass rows; the line holds both jammers' trips":
		return words.T("this sheet has no star-pass rows; the line holds both jammers' trips")
	}
	return why
}

// uncheckedColumns names the columns, or the table, of something unchecked.
func uncheckedColumns(u sheet.Unchecked) string {
	if len(u.Columns) == 0 {
		return tableText(u.Table)
	}
	var out []string
	for _, c := range u.Columns {
		out = append(out, columnName(c))
	}
	return strings.Join(out, ", ")
}

// tableText names a table of the paperwork.
func tableText(k sheet.Kind) string {
	switch k {
	case sheet.KindScore:
		return words.T("score row")
	case sheet.KindPenalties:
		return words.T("penalties")
	case sheet.KindLineups:
		return words.T("line-up")
	case sheet.KindClock:
		return words.T("jam clock")
	case sheet.KindTimeouts:
		return words.T("timeouts")
	case sheet.KindBox:
		return words.T("box")
	case sheet.KindRoster:
		return words.T("roster")
	}
	return string(k)
}
