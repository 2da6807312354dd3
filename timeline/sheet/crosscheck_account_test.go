package sheet_test

import (
	"testing"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
)

// TestAccountCases: sheets whose account once did not add up, by name. TestAccount
// looks for others.
func TestAccountCases(t *testing.T) {
	clean := plant.Sheet(game())
	for _, c := range []struct {
		name  string
		slips []slip
		gaps  []gap
	}{
		{"a doubled row whose cells say nothing and still carry values", []slip{
			{What: "delete"},
			{What: "double"},
			{What: "no trip", State: timeline.CellUnread},
			{What: "no total", State: timeline.CellBlank},
			{What: "no game", State: timeline.CellBlank},
		}, nil},
		{"one team's second period alone", []slip{{What: "a period's rows go"}, {What: "one side's rows go"}}, nil},
		{"no points anywhere", []slip{{What: "no trips anywhere"}, {What: "no game totals"}, {What: "no jam totals"}}, nil},
		{"one row, which has no points", []slip{
			{What: "one side's rows go"}, {What: "other team", Row: 91}, {What: "no game totals"}, {What: "no trips", Row: 159}, {What: "no jam totals"},
		}, nil},
		{"half the points of a star pass, and no log", []slip{
			{What: "no trips anywhere"}, {What: "no game totals"}, {What: "no jam totals"}, {What: "jam total", Row: 8, N: 4},
		}, []gap{{What: "logs"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, f := bout(t, func(f *timeline.Facts) { gapped(f, c.gaps...) })
			r := sheet.Check(sheet.Sheet{Rows: slipped(clean.Rows, c.slips...)}, b, f)
			accounted(t, r)
			checked(t, r)
		})
	}
}
