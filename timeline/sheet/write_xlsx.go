package sheet

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// WriteXLSX writes the sheet in our own plain form, one worksheet per table.
// Totals that are what their trips and the row above add up to are formulas
// with their values stored beside them; a total that is not is written as it
// stands, so that nothing is put right in silence.
func WriteXLSX(w io.Writer, s Sheet) error {
	fail := func(err error) error {
		return fmt.Errorf("write the sheet as XLSX: %w; check that the place has room and may be written to", err)
	}
	f := excelize.NewFile()
	defer f.Close() //nolint:errcheck // the file lives in memory
	style, err := newStyles(f)
	if err != nil {
		return fail(err)
	}
	const about = "Whistlecut"
	if err := f.SetSheetName("Sheet1", about); err != nil {
		return fail(err)
	}
	for cell, v := range map[string]any{"A1": ownMark, "B1": ownVersion, "C1": s.Title} {
		if err := f.SetCellValue(about, cell, v); err != nil {
			return fail(err)
		}
	}
	for _, t := range ownTables(s) {
		if err := writeTable(f, t, style, s); err != nil {
			return fail(err)
		}
	}
	if i, err := f.GetSheetIndex("Score"); err == nil && i >= 0 {
		f.SetActiveSheet(i)
	}
	var buf bytes.Buffer
	if err := f.Write(&buf); err != nil {
		return fail(err)
	}
	if _, err := w.Write(buf.Bytes()); err != nil {
		return fail(err)
	}
	return nil
}

type xlsxStyles struct{ head, text, number, spRow int }

func newStyles(f *excelize.File) (xlsxStyles, error) {
	var s xlsxStyles
	thin := []excelize.Border{{Type: "bottom", Color: "B8B8B8", Style: 1}}
	for at, st := range map[*int]*excelize.Style{
		&s.head: {
			Font: &excelize.Font{Bold: true}, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E4E7EB"}},
			Alignment: &excelize.Alignment{Horizontal: "center", WrapText: true, Vertical: "center"}, Border: thin,
		},
		&s.text:   {Alignment: &excelize.Alignment{Horizontal: "center"}, NumFmt: 49}, // as text: 02 keeps its zero
		&s.number: {Alignment: &excelize.Alignment{Horizontal: "right"}},
		&s.spRow:  {Alignment: &excelize.Alignment{Horizontal: "center"}, Font: &excelize.Font{Italic: true}, NumFmt: 49},
	} {
		id, err := f.NewStyle(st)
		if err != nil {
			return s, err
		}
		*at = id
	}
	return s, nil
}

func writeTable(f *excelize.File, t ownTable, style xlsxStyles, s Sheet) error {
	if _, err := f.NewSheet(t.name); err != nil {
		return err
	}
	w, err := f.NewStreamWriter(t.name)
	if err != nil {
		return err
	}
	for c, h := range t.head {
		width := float64(utf8.RuneCountInString(h)) + 2
		for _, row := range t.rows {
			width = max(width, min(float64(utf8.RuneCountInString(row[c]))+2, 40))
		}
		if err := w.SetColWidth(c+1, c+1, width); err != nil {
			return err
		}
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	head := make([]any, len(t.head))
	for i, h := range t.head {
		head[i] = excelize.Cell{StyleID: style.head, Value: h}
	}
	if err := w.SetRow("A1", head); err != nil {
		return err
	}
	sums := newSums(t)
	for r, row := range t.rows {
		cells := make([]any, len(row))
		for c, v := range row {
			n, err := strconv.Atoi(v)
			switch {
			case v == "":
			case t.numbers[c] && err == nil && strconv.Itoa(n) == v:
				cells[c] = excelize.Cell{StyleID: style.number, Value: n, Formula: sums.formula(r, c, n)}
			case t.name == "Score" && len(s.Rows) > r && s.Rows[r].StarPass:
				cells[c] = excelize.Cell{StyleID: style.spRow, Value: v}
			default:
				cells[c] = excelize.Cell{StyleID: style.text, Value: v}
			}
		}
		if err := w.SetRow("A"+strconv.Itoa(r+2), cells); err != nil {
			return err
		}
	}
	return w.Flush()
}

// sums knows which totals of the score table are sums, to write them as formulas.
type sums struct {
	t                      ownTable
	team, first, jam, game int            // columns; -1 without
	trips                  int            // trip columns
	last, lastValue        map[string]int // a team's last game total: row and value
}

func newSums(t ownTable) *sums {
	s := &sums{t: t, team: -1, first: -1, jam: -1, game: -1, last: map[string]int{}, lastValue: map[string]int{}}
	if t.name != "Score" {
		return s
	}
	for c, h := range t.head {
		switch {
		case h == "Team":
			s.team = c
		case h == "Trip 2":
			s.first = c
		case h == "Jam total":
			s.jam = c
		case h == "Game total":
			s.game = c
		}
	}
	if s.first >= 0 && s.jam > s.first {
		s.trips = s.jam - s.first
	}
	return s
}

// formula is the sum that gives n in row r, column c, or "" where none does.
func (s *sums) formula(r, c, n int) string {
	switch {
	case c == s.jam && s.trips > 0:
		sum, any := 0, false
		for i := s.first; i < s.jam; i++ {
			if v, err := strconv.Atoi(s.t.rows[r][i]); err == nil {
				sum, any = sum+v, true
			}
		}
		if any && sum == n {
			return "SUM(" + CellName(r+1, s.first) + ":" + CellName(r+1, s.jam-1) + ")"
		}
	case c == s.game && s.game >= 0 && s.team >= 0 && s.jam >= 0:
		team := s.t.rows[r][s.team]
		prev, before := s.last[team], s.lastValue[team]
		s.last[team], s.lastValue[team] = r+2, n
		jam, err := strconv.Atoi(s.t.rows[r][s.jam])
		if prev > 0 && err == nil && before+jam == n {
			return CellName(prev-1, s.game) + "+" + CellName(r+1, s.jam)
		}
	}
	return ""
}
