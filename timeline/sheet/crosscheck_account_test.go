package sheet_test

import (
	"slices"
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
		name   string
		change func(rows []timeline.JamRow) []timeline.JamRow
	}{
		{"a doubled row whose cells say nothing and still carry values", func(rows []timeline.JamRow) []timeline.JamRow {
			rows[0] = rows[1]
			rows[0].Trips = slices.Clone(rows[0].Trips)
			unread(&rows[0].Trips[0])
			rows[0].JamTotal.State = timeline.CellBlank
			rows[0].GameTotal.State = timeline.CellBlank
			return rows
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			rows := slices.Clone(clean.Rows)
			for i := range rows {
				rows[i].Trips = slices.Clone(rows[i].Trips)
			}
			b, f := bout(t, nil)
			accounted(t, sheet.Check(sheet.Sheet{Rows: c.change(rows)}, b, f))
		})
	}
}

func unread(c *timeline.Cell[int]) { *c = timeline.Cell[int]{State: timeline.CellUnread} }
