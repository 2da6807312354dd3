package print

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// WriteXLSX writes tables as a workbook, one worksheet each. Text is stored as
// text, so that no program makes a number or a formula of it.
func WriteXLSX(w io.Writer, tables []Table) error {
	fail := func(err error) error { return fmt.Errorf("make the workbook: %w", err) }
	f := excelize.NewFile()
	defer f.Close() //nolint:errcheck // the file lives in memory
	head, err := f.NewStyle(&excelize.Style{
		Font: &excelize.Font{Bold: true}, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E4E7EB"}},
		Alignment: &excelize.Alignment{WrapText: true, Vertical: "center"},
	})
	if err != nil {
		return fail(err)
	}
	text, err := f.NewStyle(&excelize.Style{NumFmt: 49})
	if err != nil {
		return fail(err)
	}
	two, err := f.NewStyle(&excelize.Style{NumFmt: 2})
	if err != nil {
		return fail(err)
	}
	for i, t := range tables {
		if i == 0 {
			err = f.SetSheetName("Sheet1", t.Name)
		} else {
			_, err = f.NewSheet(t.Name)
		}
		if err != nil {
			return fail(err)
		}
		for c, h := range t.Head {
			if err := put(f, t.Name, c, 0, h, head, len(h)); err != nil {
				return fail(err)
			}
		}
		for r, row := range t.Rows {
			for c, v := range row {
				style := 0
				switch v.(type) {
				case string:
					style = text
				case float64:
					style = two
				case nil:
					continue
				}
				if err := put(f, t.Name, c, r+1, v, style, 0); err != nil {
					return fail(err)
				}
			}
		}
		if err := f.SetPanes(t.Name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
			return fail(err)
		}
	}
	var buf bytes.Buffer
	if err := f.Write(&buf); err != nil {
		return fail(err)
	}
	if _, err := w.Write(buf.Bytes()); err != nil {
		return fmt.Errorf("write the workbook: %w; check that the place has room and may be written to", err)
	}
	return nil
}

// put sets one cell; a length above 0 makes its column wide enough for a heading.
func put(f *excelize.File, sheet string, c, r int, v any, style, length int) error {
	at, err := excelize.CoordinatesToCellName(c+1, r+1)
	if err != nil {
		return err
	}
	if s, ok := v.(string); ok {
		err = f.SetCellStr(sheet, at, s)
	} else {
		err = f.SetCellValue(sheet, at, v)
	}
	if err != nil {
		return err
	}
	if length > 0 {
		name, _ := excelize.ColumnNumberToName(c + 1)
		if err := f.SetColWidth(sheet, name, name, float64(min(max(length+2, 8), 24))); err != nil {
			return err
		}
	}
	if style == 0 {
		return nil
	}
	return f.SetCellStyle(sheet, at, at, style)
}

// WriteCSV writes one table as UTF-8 with commas and a head; what is not known is
// an empty cell. A text that a spreadsheet program would take for a formula gets an
// apostrophe before it.
func WriteCSV(w io.Writer, t Table) error {
	var buf bytes.Buffer
	c := csv.NewWriter(&buf)
	if err := c.Write(t.Head); err != nil {
		return fmt.Errorf("make the CSV: %w", err)
	}
	for _, row := range t.Rows {
		cells := make([]string, len(row))
		for i, v := range row {
			switch v := v.(type) {
			case nil:
			case string:
				cells[i] = harmless(v)
			case float64:
				cells[i] = strconv.FormatFloat(v, 'f', -1, 64)
			default:
				cells[i] = fmt.Sprint(v)
			}
		}
		if err := c.Write(cells); err != nil {
			return fmt.Errorf("make the CSV: %w", err)
		}
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return fmt.Errorf("make the CSV: %w", err)
	}
	if _, err := w.Write(buf.Bytes()); err != nil {
		return fmt.Errorf("write the CSV: %w; check that the place has room and may be written to", err)
	}
	return nil
}

// harmless keeps spreadsheet programs from running a name as a formula (the
// common advice on CSV injection; common practice, no source).
func harmless(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
