package sheet

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"

	"github.com/xuri/excelize/v2"
)

// readXLSX reads the shown values of every worksheet. Formulas count by the
// value stored with them; one without a stored value is worked out where it is
// plain arithmetic (see formula).
func readXLSX(book *Book, data []byte, parts map[string]*zip.File) (err error) {
	book.Format = "xlsx"
	defer func() {
		// The library panics on some damaged parts; a person gets a sentence.
		if p := recover(); p != nil {
			err = errors.New("the spreadsheet is damaged; open it in a spreadsheet program, save it again and choose that")
		}
	}()
	if p := parts["xl/sharedStrings.xml"]; p != nil && p.UncompressedSize64 > MaxUnpacked/4 {
		return fmt.Errorf("unpacked, its texts would take more than %d MB, which no bout's sheet needs; save only the bout's tables and try again", MaxUnpacked/4>>20)
	}
	// Equal limits keep the library from unpacking parts into temporary files.
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		UnzipSizeLimit: MaxUnpacked, UnzipXMLSizeLimit: MaxUnpacked,
	})
	if err != nil {
		return fmt.Errorf("the spreadsheet can't be opened (%w); open it in a spreadsheet program, save it again and choose that", err)
	}
	defer f.Close() //nolint:errcheck // nothing was written

	fill := filler{book: book}
	for _, name := range f.GetSheetList() {
		if !fill.table(name) {
			break
		}
		if err := readWorksheet(&fill, f, name); err != nil {
			return fmt.Errorf("its table %q can't be read (%w); open it in a spreadsheet program, save it again and choose that", name, err)
		}
		fill.trim()
	}
	workOutFormulas(book, parts)
	return nil
}

func readWorksheet(fill *filler, f *excelize.File, name string) error {
	rows, err := f.Rows(name)
	if err != nil {
		var missing excelize.ErrSheetNotExist
		if errors.As(err, &missing) {
			return nil // a chart sheet: no cells
		}
		return err
	}
	defer rows.Close() //nolint:errcheck // only read
	empty := 0
	for rows.Next() {
		cells, err := rows.Columns()
		if err != nil {
			return err
		}
		filled := false
		for _, s := range cells[:min(len(cells), MaxColumns)] {
			filled = filled || s != ""
		}
		// Empty rows wait for a full one: a stray format can stand in the last row of all.
		if !filled && len(cells) == 0 {
			if empty++; empty > MaxRows {
				return nil
			}
			continue
		}
		ok := true
		for ; ok && empty > 0; empty-- {
			ok = fill.row(nil)
		}
		if !ok || !fill.row(cells) {
			fill.book.Notes = append(fill.book.Notes,
				fmt.Sprintf("table %q goes on after row %d; the rest was not read", name, len(fill.book.Tables[len(fill.book.Tables)-1].Cells)))
			return nil
		}
	}
	return rows.Error()
}
