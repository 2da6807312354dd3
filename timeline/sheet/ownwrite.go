package sheet

import (
	"strconv"
	"strings"

	"whistlecut/timeline"
)

// ownTable is one table of the form, ready to be written.
type ownTable struct {
	name    string
	head    []string
	numbers []bool // columns of whole numbers
	rows    [][]string
}

// encode makes a table of items. A column absent everywhere is left out.
func encode[T any](name string, items []T, cols []ownColumn[T], raw map[string]string) ownTable {
	t := ownTable{name: name}
	var kept []ownColumn[T]
	for _, c := range cols {
		for i := range items {
			if c.get(&items[i]).state != timeline.CellAbsent {
				kept = append(kept, c)
				break
			}
		}
	}
	for _, c := range kept {
		t.head = append(t.head, c.name)
		t.numbers = append(t.numbers, c.number)
	}
	for i := range items {
		var row []string
		for _, c := range kept {
			row = append(row, ownCell(c.get(&items[i]), raw))
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// ownCell writes one cell: empty when blank, "?" and the text when it could not
// be read, "3..7" for a value known only within bounds.
func ownCell(o ownText, raw map[string]string) string {
	switch o.state {
	case timeline.CellKnown:
		if strings.HasPrefix(o.text, "?") || strings.HasPrefix(o.text, `\`) {
			return `\` + o.text
		}
		return o.text
	case timeline.CellUnread:
		return "?" + raw[o.from]
	case timeline.CellRange:
		return "?" + strconv.Itoa(o.low) + ".." + strconv.Itoa(o.high)
	}
	return ""
}

// ownTables are all tables of a sheet in the form's order; empty ones are left out.
func ownTables(s Sheet) []ownTable {
	var teams []teamLine
	var roster []rosterEntry
	for _, side := range timeline.Sides {
		t := s.Teams[side.Index()]
		if t.Name.State != timeline.CellAbsent {
			teams = append(teams, teamLine{side, t.Name})
		}
		for _, l := range t.Roster {
			roster = append(roster, rosterEntry{side, l})
		}
	}
	last, blockers := 1, 0
	for _, r := range s.Rows {
		last = max(last, len(r.Trips)+1)
	}
	for _, l := range s.Lineups {
		blockers = max(blockers, len(l.Blockers))
	}
	all := []ownTable{
		encode("Teams", teams, teamColumns(), s.Raw),
		encode("Rosters", roster, rosterColumns(), s.Raw),
		encode("Score", s.Rows, scoreColumns(last), s.Raw),
		encode("Totals", s.Totals, totalColumns(), s.Raw),
		encode("Penalties", s.Penalties, penaltyColumns(), s.Raw),
		encode("Outs", s.Outs, outColumns(), s.Raw),
		encode("Line-ups", s.Lineups, lineupColumns(blockers), s.Raw),
		encode("Clock", s.Clock, clockColumns(), s.Raw),
		encode("Timeouts", s.Timeouts, timeoutColumns(), s.Raw),
		encode("Box", s.Box, boxColumns(), s.Raw),
		encode("Kept", s.Kept, keptColumns(), s.Raw),
	}
	var out []ownTable
	for _, t := range all {
		if len(t.rows) > 0 {
			out = append(out, t)
		}
	}
	return out
}
