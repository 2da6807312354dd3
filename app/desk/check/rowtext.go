package check

import (
	"fmt"
	"strings"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// columns of the list: state, place, side, column, cause, points.
func columns() []look.Column {
	return []look.Column{{Width: 12}, {Width: 54}, {Width: 6}, {Width: 66}, {Least: 150}, {Width: 34, Right: true}}
}

// cells draws one row.
func cells(i item) []look.Cell {
	place := look.Cell{Text: placeText(i.period(), i.jam())}
	side := look.Cell{}
	if i.side() != timeline.NoSide {
		side = look.Cell{Shape: look.Bar, Colour: look.Now.Of(i.side())}
	} else if i.finding != nil {
		side = look.Cell{Shape: look.Bar, Colour: look.Now.Both}
	}
	quiet := func(s string) look.Cell { return look.Cell{Text: s, Colour: look.Now.Quiet} }
	if u := i.unchecked; u != nil {
		return []look.Cell{{Shape: uncheckedShape(*u)}, place, side, quiet(uncheckedColumns(*u)), quiet(uncheckedText(u.Why)), {Text: "?", Colour: look.Now.Quiet}}
	}
	f := i.finding
	text := look.Cell{Text: causeText(*f)}
	points := look.Cell{Text: stakeText(*f), Bold: true}
	if f.Points() == 0 {
		points = quiet("0")
	}
	if !i.open() {
		text.Text, text.Colour = verdictText(f.Resolution.Verdict), look.Now.Quiet
		points.Bold, points.Colour = false, look.Now.Quiet
	}
	return []look.Cell{{Shape: findingShape(*f)}, place, side, quiet(columnText(*f)), text, points}
}

// findingShape is the state of a finding: it differs, it is settled, or it was
// left as unclear.
func findingShape(f sheet.Finding) look.Shape {
	switch {
	case f.Resolution == nil, f.Resolution.Verdict == timeline.VerdictTagWrong:
		return look.Diamond
	case f.Resolution.Verdict == timeline.VerdictUnclear:
		return look.Triangle
	}
	return look.Tick
}

// verdictText is a decision as a row shows it.
func verdictText(v string) string {
	switch v {
	case timeline.VerdictTagWrong:
		return words.T("tag to be corrected")
	case timeline.VerdictSheetDiffers:
		return words.T("sheet differs")
	case timeline.VerdictUnclear:
		return words.T("unclear")
	}
	return v
}

// placeText is "P2 J7".
func placeText(period, jam int) string {
	switch {
	case period > 0 && jam > 0:
		return words.T("P{.period} J{.jam}", "period", period, "jam", jam)
	case period > 0:
		return words.T("P{.period}", "period", period)
	case jam > 0:
		return words.T("J{.jam}", "jam", jam)
	}
	return "–"
}

// stakeText is what the sheet has more than the tags, in points: "+1", or of both
// sides "+4 −3".
func stakeText(f sheet.Finding) string {
	var parts []string
	for _, n := range f.Stake {
		if n != 0 {
			parts = append(parts, signed(n))
		}
	}
	if len(parts) == 0 {
		return "0"
	}
	return strings.Join(parts, " ")
}

func signed(n int) string {
	if n < 0 {
		return fmt.Sprintf("−%d", -n)
	}
	return fmt.Sprintf("+%d", n)
}

// sideText is the side's name in the language spoken, or that it is both.
func sideText(s timeline.Side) string {
	if n := terms.Side(s); n != "" {
		return n
	}
	return words.T("both sides")
}

// whereText is the place as a heading: "Period 2, jam 7, away".
func whereText(i item) string {
	var parts []string
	switch {
	case i.period() > 0 && i.jam() > 0:
		parts = append(parts, words.T("Period {.period}, jam {.jam}", "period", i.period(), "jam", i.jam()))
	case i.period() > 0:
		parts = append(parts, words.T("Period {.period}", "period", i.period()))
	case i.jam() > 0:
		parts = append(parts, words.T("Jam {.jam}", "jam", i.jam()))
	case i.unchecked != nil:
		parts = append(parts, tableText(i.unchecked.Table))
	default:
		parts = append(parts, tableText(i.finding.Table))
	}
	if i.side() != timeline.NoSide {
		parts = append(parts, sideText(i.side()))
	}
	return strings.Join(parts, ", ")
}

// atStake says what a finding weighs: "sheet 1 point more".
func atStake(f sheet.Finding) string {
	var parts []string
	for i, n := range f.Stake {
		if n == 0 {
			continue
		}
		var s string
		if n > 0 {
			s = words.N(n, "sheet has {.n} point more", "sheet has {.n} points more")
		} else {
			s = words.N(-n, "sheet has {.n} point less", "sheet has {.n} points less")
		}
		if f.Stake[1-i] != 0 {
			s = sideText(timeline.Sides[i]) + ": " + s
		}
		parts = append(parts, s)
	}
	if len(parts) == 0 {
		return words.T("no points at stake")
	}
	return strings.Join(parts, ", ")
}
