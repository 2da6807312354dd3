package align

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// Columns of a typed score row.
const (
	colJam = iota
	colJammer
	colLost
	colLead
	colCall
	colInj
	colNI
	colTrips          // trip 2
	colJamTotal  = 16 // after trips 2 to 10
	colGameTotal = 17 //
	typedColumns = 18 //
	typedName    = "typed sheet.csv"
)

// typedRow is one line of the score sheet as it is typed: its jam is a number, SP
// for the line after a star pass, SP* for the empty line beside the other team's.
type typedRow [typedColumns]string

func (r typedRow) empty() bool {
	for i, c := range r {
		if i != colJam && strings.TrimSpace(c) != "" {
			return false
		}
	}
	return !starLine(r[colJam])
}

// trips is how many trips the row has: up to the last one that says something.
func (r typedRow) trips() int {
	n := 0
	for i := colTrips; i < colJamTotal; i++ {
		if strings.TrimSpace(r[i]) != "" {
			n = i - colTrips + 1
		}
	}
	return n
}

func starLine(s string) bool {
	s = strings.ToUpper(strings.TrimSpace(s))
	return s == "SP" || s == "SP*"
}

// typedSheet are the score rows by page: period and side.
type typedSheet struct {
	pages [][]typedRow // home of period 1, away of period 1, home of period 2 ...
	base  sheet.Sheet  // the tables that are not typed here stay as they were
}

// page is the number of a period's and side's page.
func page(period int, side timeline.Side) int { return 2*(max(period, 1)-1) + side.Index() }

func (t *typedSheet) put(at int, r typedRow) {
	for len(t.pages) <= at {
		t.pages = append(t.pages, nil)
	}
	t.pages[at] = append(t.pages[at], r)
}

// typedOf are the rows of a sheet, to type on.
func typedOf(s sheet.Sheet, periods int) *typedSheet {
	t := &typedSheet{base: s, pages: make([][]typedRow, 2*max(periods, 1))}
	for _, r := range s.Rows {
		if r.Side == timeline.NoSide {
			continue
		}
		var x typedRow
		x[colJam] = strconv.Itoa(r.Jam)
		switch {
		case r.StarPass:
			x[colJam] = "SP"
		case r.Spacer:
			x[colJam] = "SP*"
		}
		x[colJammer] = cellText(r.Jammer, s.Raw, func(n timeline.Number) string { return string(n) })
		for i, c := range []timeline.Cell[bool]{r.Lost, r.Lead, r.Call, r.Inj, r.NI} {
			x[colLost+i] = cellText(c, s.Raw, func(on bool) string {
				if on {
					return "x"
				}
				return "no"
			})
		}
		for i, c := range r.Trips {
			if colTrips+i < colJamTotal {
				x[colTrips+i] = cellText(c, s.Raw, strconv.Itoa)
			}
		}
		x[colJamTotal] = cellText(r.JamTotal, s.Raw, strconv.Itoa)
		x[colGameTotal] = cellText(r.GameTotal, s.Raw, strconv.Itoa)
		t.put(page(r.Period, r.Side), x)
	}
	return t
}

func cellText[V comparable](c timeline.Cell[V], raw map[string]string, known func(V) string) string {
	switch c.State {
	case timeline.CellKnown:
		return known(c.Value)
	case timeline.CellRange:
		return fmt.Sprintf("?%d..%d", c.Low, c.High)
	case timeline.CellUnread:
		return "?" + raw[c.From]
	}
	return ""
}

// sheet makes a sheet of what was typed. What can't be read as its column's kind
// stays as it stands, marked as not readable; it is never guessed.
func (t *typedSheet) sheet() sheet.Sheet {
	out := t.base
	out.Rows, out.Raw = nil, map[string]string{}
	for from, text := range t.base.Raw {
		out.Raw[from] = text
	}
	for p, rows := range t.pages {
		side := timeline.Sides[p%2]
		jam := 0
		for i, r := range rows {
			if r.empty() {
				if n, err := strconv.Atoi(strings.TrimSpace(r[colJam])); err == nil {
					jam = n
				}
				continue
			}
			row := timeline.JamRow{Period: p/2 + 1, Side: side}
			switch star := strings.ToUpper(strings.TrimSpace(r[colJam])); star {
			case "SP":
				row.StarPass = true
			case "SP*":
				row.Spacer = true
			default:
				jam++
				if n, err := strconv.Atoi(star); err == nil {
					jam = n
				}
			}
			row.Jam = jam
			at := func(col int) string { return fmt.Sprintf("typed %d.%d.%d", p, i, col) }
			row.Jammer = typedCell(r[colJammer], at(colJammer), out.Raw, func(s string) (timeline.Number, bool) { return timeline.Number(s), true })
			for k, c := range []*timeline.Cell[bool]{&row.Lost, &row.Lead, &row.Call, &row.Inj, &row.NI} {
				*c = typedCell(r[colLost+k], at(colLost+k), out.Raw, mark)
			}
			for k := range r.trips() {
				row.Trips = append(row.Trips, typedCell(r[colTrips+k], at(colTrips+k), out.Raw, whole))
			}
			row.JamTotal = typedCell(r[colJamTotal], at(colJamTotal), out.Raw, whole)
			row.GameTotal = typedCell(r[colGameTotal], at(colGameTotal), out.Raw, whole)
			out.Rows = append(out.Rows, row)
		}
	}
	return out
}

func typedCell[V comparable](text, from string, raw map[string]string, parse func(string) (V, bool)) timeline.Cell[V] {
	text = strings.TrimSpace(text)
	if text == "" {
		return timeline.Cell[V]{State: timeline.CellBlank}
	}
	if unread, ok := strings.CutPrefix(text, "?"); ok {
		var low, high int
		if n, err := fmt.Sscanf(unread, "%d..%d", &low, &high); n == 2 && err == nil {
			return timeline.Cell[V]{State: timeline.CellRange, Low: low, High: high}
		}
		text = unread
	} else if v, ok := parse(text); ok {
		return timeline.Known(v)
	}
	raw[from] = text
	return timeline.Cell[V]{State: timeline.CellUnread, From: from}
}

func mark(s string) (bool, bool) {
	switch strings.ToLower(s) {
	case "x":
		return true, true
	case "no":
		return false, true
	}
	return false, false
}

func whole(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil && n >= 0
}

// csv is the sheet in the program's own plain form.
func (t *typedSheet) csv(teams [2]timeline.Team) ([]byte, error) {
	s := t.sheet()
	for i, team := range teams {
		if s.Teams[i].Name.State != timeline.CellKnown && team.Name != "" {
			s.Teams[i].Name = timeline.Known(team.Name)
		}
	}
	var b bytes.Buffer
	err := sheet.WriteCSV(&b, s)
	return b.Bytes(), err
}
