package sheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
)

// WriteCSV writes the sheet in our own plain form as UTF-8 text with commas.
// Reading it back gives the same sheet, but for the places the values stand in.
// A column that only some rows have counts as there for all of them.
func WriteCSV(w io.Writer, s Sheet) error {
	var buf bytes.Buffer
	c := csv.NewWriter(&buf)
	write := func(row ...string) { c.Write(row) } //nolint:errcheck // a buffer takes it; Error is asked below
	write(ownMark, strconv.Itoa(ownVersion), s.Title)
	for _, t := range ownTables(s) {
		write("")
		write("[" + t.name + "]")
		write(t.head...)
		for _, row := range t.rows {
			write(row...)
		}
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return fmt.Errorf("write the sheet as CSV: %w", err)
	}
	if _, err := w.Write(buf.Bytes()); err != nil {
		return fmt.Errorf("write the sheet as CSV: %w; check that the place has room and may be written to", err)
	}
	return nil
}
