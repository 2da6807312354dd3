package sheet

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Namespaces of OpenDocument 1.2 and later (OASIS OpenDocument, part 3).
const (
	nsTable  = "urn:oasis:names:tc:opendocument:xmlns:table:1.0"
	nsText   = "urn:oasis:names:tc:opendocument:xmlns:text:1.0"
	nsOffice = "urn:oasis:names:tc:opendocument:xmlns:office:1.0"
)

// readODS streams content.xml. Repeat counts are honoured only as far as the
// limits go, so that a row "repeated" a million times costs nothing.
func readODS(book *Book, parts map[string]*zip.File) error {
	book.Format = "ods"
	if m := parts["META-INF/manifest.xml"]; m != nil && m.UncompressedSize64 < 1<<20 {
		if b, err := readPart(m); err == nil && strings.Contains(string(b), "encryption-data") {
			return errors.New("the spreadsheet is protected by a password; open it in a spreadsheet program, save a copy without the password and choose that")
		}
	}
	rc, err := parts["content.xml"].Open()
	if err != nil {
		return fmt.Errorf("the spreadsheet's content can't be unpacked (%w); copy or download it again", err)
	}
	defer rc.Close() //nolint:errcheck // only read
	r := odsReader{f: filler{book: book}, dec: xml.NewDecoder(io.LimitReader(rc, MaxUnpacked))}
	if err := r.run(); err != nil {
		return fmt.Errorf("the spreadsheet is cut short or damaged (%w); copy or download it again", err)
	}
	return nil
}

func readPart(f *zip.File) ([]byte, error) {
	rc, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer rc.Close() //nolint:errcheck // only read
	return io.ReadAll(io.LimitReader(rc, MaxUnpacked))
}

// odsReader is the state of walking content.xml.
type odsReader struct {
	f     filler
	dec   *xml.Decoder
	depth int // of table:table, nested ones are skipped

	row       []string
	rowRepeat int
	empty     int // empty rows not yet written: they matter only before a full one

	inCell     bool
	cellRepeat int
	value      string // from the value attributes, used when no text is shown
	text       strings.Builder
	paras      int
	full       bool
}

func (r *odsReader) run() error {
	for {
		tok, err := r.dec.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch t := tok.(type) {
		case xml.StartElement:
			if err := r.start(t); err != nil {
				return err
			}
		case xml.EndElement:
			r.end(t.Name)
		case xml.CharData:
			if r.inCell && r.paras > 0 && r.text.Len() < MaxCellLetters {
				r.text.Write(t)
			}
		}
	}
}

func (r *odsReader) start(t xml.StartElement) error {
	switch {
	case t.Name.Space == nsOffice && t.Name.Local == "annotation":
		return r.dec.Skip()
	case t.Name.Space == nsTable && t.Name.Local == "table":
		r.depth++
		if r.depth > 1 {
			r.depth--
			return r.dec.Skip()
		}
		r.full, r.empty = false, 0
		if !r.f.table(attr(t, nsTable, "name")) {
			r.depth--
			return r.dec.Skip()
		}
	case r.depth == 0:
	case t.Name.Space == nsTable && t.Name.Local == "table-row":
		r.row, r.rowRepeat = r.row[:0], repeat(t, "number-rows-repeated", 1<<20)
	case t.Name.Space == nsTable && (t.Name.Local == "table-cell" || t.Name.Local == "covered-table-cell"):
		r.inCell, r.paras = true, 0
		r.cellRepeat = repeat(t, "number-columns-repeated", 1<<20)
		r.value = cellValue(t)
		r.text.Reset()
	case r.inCell && t.Name.Space == nsText && t.Name.Local == "p":
		if r.paras > 0 {
			r.text.WriteByte(' ')
		}
		r.paras++
	case r.inCell && t.Name.Space == nsText && (t.Name.Local == "s" || t.Name.Local == "tab" || t.Name.Local == "line-break"):
		r.text.WriteByte(' ')
	}
	return nil
}

func (r *odsReader) end(n xml.Name) {
	if n.Space != nsTable || r.depth == 0 {
		return
	}
	switch n.Local {
	case "table":
		r.depth--
		r.f.trim()
	case "table-cell", "covered-table-cell":
		r.inCell = false
		s := r.text.String()
		if strings.TrimSpace(s) == "" {
			s = r.value
		}
		for i := 0; i < r.cellRepeat && len(r.row) < MaxColumns; i++ {
			r.row = append(r.row, s)
		}
	case "table-row":
		r.endRow()
	}
}

// endRow writes the row as often as it is repeated. Empty rows wait until a row
// with text follows, since programs end a table with a million of them.
func (r *odsReader) endRow() {
	if r.full {
		return
	}
	filled := false
	for _, s := range r.row {
		filled = filled || strings.TrimSpace(s) != ""
	}
	if !filled {
		r.empty += r.rowRepeat
		return
	}
	ok := r.empty < MaxRows
	for ; ok && r.empty > 0; r.empty-- {
		ok = r.f.row(nil)
	}
	for i := 0; ok && i < r.rowRepeat; i++ {
		ok = r.f.row(r.row)
	}
	if !ok {
		r.full = true
		g := r.f.book.Tables[len(r.f.book.Tables)-1]
		r.f.book.Notes = append(r.f.book.Notes, fmt.Sprintf("table %q goes on after row %d; the rest was not read", g.Name, len(g.Cells)))
	}
}

func attr(t xml.StartElement, space, local string) string {
	for _, a := range t.Attr {
		if a.Name.Local == local && a.Name.Space == space {
			return a.Value
		}
	}
	return ""
}

func repeat(t xml.StartElement, local string, most int) int {
	n, err := strconv.Atoi(attr(t, nsTable, local))
	if err != nil || n < 1 {
		return 1
	}
	return min(n, most)
}

// cellValue is a cell's stored value, for files whose cells show no text.
func cellValue(t xml.StartElement) string {
	for _, name := range [...]string{"value", "string-value", "time-value", "date-value", "boolean-value"} {
		if v := attr(t, nsOffice, name); v != "" {
			return v
		}
	}
	return ""
}
