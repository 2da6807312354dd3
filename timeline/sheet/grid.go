package sheet

import "strings"

// Limits of what is read as a sheet. A full bout's paperwork is some hundred
// rows; these leave ample room and keep a hostile file from filling the memory.
const (
	MaxFileBytes   = 64 << 20 // of the file as it comes
	MaxUnpacked    = 96 << 20 // of a spreadsheet's parts together, unpacked
	MaxTables      = 100
	MaxRows        = 20_000 // per table
	MaxColumns     = 512    // per table; what stands further right is not read
	MaxCells       = 500_000
	MaxCellLetters = 4_000 // longer texts are cut
)

// Book is a spreadsheet file as text: its tables in order.
type Book struct {
	Name     string // file name, for messages
	Format   string // "xlsx", "ods" or "csv"
	Encoding string // of a CSV: "utf-8", "windows-1252"...
	Comma    string // separator of a CSV
	Tables   []Grid
	// Notes are remarks for a person: a cut table, a formula without a stored value.
	Notes []string
}

// Grid is one table of text cells. Rows may have different lengths; cells are
// trimmed of surrounding white space.
type Grid struct {
	Name  string
	Cells [][]string
}

// At returns the text at row r, column c (from 0); "" outside the table.
func (g Grid) At(r, c int) string {
	if r < 0 || c < 0 || r >= len(g.Cells) || c >= len(g.Cells[r]) {
		return ""
	}
	return g.Cells[r][c]
}

// Width is the length of the longest row.
func (g Grid) Width() int {
	w := 0
	for _, row := range g.Cells {
		w = max(w, len(row))
	}
	return w
}

// Ref names a cell as spreadsheets do, with its table: "Score P1!C7".
func (g Grid) Ref(r, c int) string { return g.Name + "!" + CellName(r, c) }

// Transpose swaps rows and columns.
func (g Grid) Transpose() Grid {
	w := g.Width()
	t := Grid{Name: g.Name, Cells: make([][]string, w)}
	for c := range w {
		t.Cells[c] = make([]string, len(g.Cells))
		for r := range g.Cells {
			t.Cells[c][r] = g.At(r, c)
		}
	}
	return t
}

// CellName is the spreadsheet name of a cell: row 6, column 2 (from 0) is "C7".
func CellName(r, c int) string {
	var b []byte
	for n := c; n >= 0; n = n/26 - 1 {
		b = append([]byte{byte('A' + n%26)}, b...)
	}
	return string(b) + itoa(r+1)
}

func itoa(n int) string {
	if n < 0 {
		return "-" + itoa(-n)
	}
	if n < 10 {
		return string(byte('0' + n))
	}
	return itoa(n/10) + string(byte('0'+n%10))
}

// filler collects cells of a book within the limits.
type filler struct {
	book  *Book
	cells int
}

// table starts a new table and reports whether there is room for it.
func (f *filler) table(name string) bool {
	if len(f.book.Tables) >= MaxTables {
		return false
	}
	f.book.Tables = append(f.book.Tables, Grid{Name: name})
	return true
}

// row appends one row to the last table. It reports false when the limits are reached.
func (f *filler) row(cells []string) bool {
	g := &f.book.Tables[len(f.book.Tables)-1]
	if len(cells) > MaxColumns {
		cells = cells[:MaxColumns]
	}
	n := len(cells)
	for n > 0 && strings.TrimSpace(cells[n-1]) == "" {
		n--
	}
	if len(g.Cells) >= MaxRows || f.cells+n > MaxCells {
		return false
	}
	row := make([]string, n)
	for i, s := range cells[:n] {
		row[i] = clean(s)
	}
	f.cells += n
	g.Cells = append(g.Cells, row)
	return true
}

// trim drops empty rows at the end of the last table.
func (f *filler) trim() {
	g := &f.book.Tables[len(f.book.Tables)-1]
	n := len(g.Cells)
	for n > 0 && len(g.Cells[n-1]) == 0 {
		n--
	}
	g.Cells = g.Cells[:n]
}

// clean trims a cell's text, turns every kind of space into one plain space and
// cuts what is far too long for a sheet.
func clean(s string) string {
	if len(s) > MaxCellLetters {
		s = strings.ToValidUTF8(s[:MaxCellLetters], "")
	}
	plain := true
	for i := 0; i < len(s); i++ {
		if b := s[i]; b < 0x21 || b > 0x7e {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	return strings.Join(strings.FieldsFunc(s, blank), " ")
}

// blank reports white space, controls, and the invisible marks that word
// processors leave in cells.
func blank(r rune) bool {
	switch {
	case r <= 0x20, r == 0x7f, r == 0x85, r == 0xa0, r == 0xfeff, r == 0x202f, r == 0x3000:
		return true
	case r >= 0x2000 && r <= 0x200f, r == 0x2028, r == 0x2029, r == 0x2060:
		return true
	}
	return false
}
