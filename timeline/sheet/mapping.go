package sheet

import (
	"strings"

	"whistlecut/timeline"
)

// Mapping says which table and column of a book holds what. Recognise proposes
// one; a person can change any part of it; it is plain data that is stored as
// JSON with the sheet.
type Mapping struct {
	Version int  `json:"version"` // MappingVersion
	Own     bool `json:"own,omitempty"`
	// Blocks are the tables found. A worksheet may hold several.
	Blocks []Block `json:"blocks,omitempty"`
	// Names says which side a text in a team column or heading means (as plain words).
	Names map[string]timeline.Side `json:"names,omitempty"`
	// Certainty is that of the least sure column that a score rests on, 0..1.
	Certainty float64 `json:"certainty"`
}

// MappingVersion is the version that Mapping is written with.
const MappingVersion = 1

// Block is one table of one kind: a rectangle of rows under a heading.
type Block struct {
	Table      string `json:"table"`
	Index      int    `json:"index"` // of the table in the book
	Kind       Kind   `json:"kind"`
	Transposed bool   `json:"transposed,omitempty"` // headings stand in a column; all places below are of the turned table
	// Side is the team the block is about; NoSide with a team column or by row.
	Side timeline.Side `json:"side,omitempty"`
	// Period is the block's period; 0 when a column says so or the jam numbers tell.
	Period    int      `json:"period,omitempty"`
	Label     string   `json:"label,omitempty"` // the text that named side or period
	Head      int      `json:"head"`            // last row of the heading, from 0; -1 without one
	First     int      `json:"first"`           // first row of values
	Last      int      `json:"last"`            // last row of values
	Certainty float64  `json:"certainty"`
	Reason    string   `json:"reason,omitempty"`
	Columns   []Column `json:"columns"`
}

// Column is one column of a block.
type Column struct {
	Index     int     `json:"index"` // from 0
	Heading   string  `json:"heading,omitempty"`
	Field     Field   `json:"field"`
	N         int     `json:"n,omitempty"`
	Certainty float64 `json:"certainty"`
	Reason    string  `json:"reason,omitempty"`
}

// column returns the index of the first column with that field and number (0 any), or -1.
func (b Block) column(f Field, n int) int {
	for _, c := range b.Columns {
		if c.Field == f && (n == 0 || c.N == n) {
			return c.Index
		}
	}
	return -1
}

// has reports whether the block has a column with that field.
func (b Block) has(f Field) bool { return b.column(f, 0) >= 0 }

// Template is a mapping kept for the next book of the same layout.
type Template struct {
	Name    string  `json:"name"`
	Mapping Mapping `json:"mapping"`
}

// Match applies the template to another book. It reports false when any block's
// headings are not found there; a table may have another name or more rows.
func (t Template) Match(b Book) (Mapping, bool) {
	m := t.Mapping
	if m.Own {
		return m, ownForm(b)
	}
	m.Blocks = append([]Block(nil), m.Blocks...)
	taken := map[[3]int]bool{}
	for i, block := range m.Blocks {
		found := false
		for _, at := range order(b, block.Table, block.Index) {
			g := b.Tables[at]
			if block.Transposed {
				g = g.Transpose()
			}
			head, ok := findHeading(g, block, func(row int) bool { return taken[[3]int{at, row, block.Columns[0].Index*8 + kindNumber(block.Kind)}] })
			if !ok {
				continue
			}
			taken[[3]int{at, head, block.Columns[0].Index*8 + kindNumber(block.Kind)}] = true
			m.Blocks[i].Table, m.Blocks[i].Index, m.Blocks[i].Head = g.Name, at, head
			m.Blocks[i].First, m.Blocks[i].Last = head+1, len(g.Cells)-1
			found = true
			break
		}
		if !found {
			return Mapping{}, false
		}
	}
	// A block ends where the next one of the same columns begins.
	for i, a := range m.Blocks {
		for _, c := range m.Blocks {
			if c.Index == a.Index && c.Head > a.Head && c.Head-1 < m.Blocks[i].Last {
				m.Blocks[i].Last = c.Head - 1
			}
		}
	}
	return m, len(m.Blocks) > 0
}

func kindNumber(k Kind) int {
	for i, x := range kinds {
		if x == k {
			return i
		}
	}
	return 0
}

// order lists the tables of a book to look in: the one of that name, the one at
// that place, then the others.
func order(b Book, name string, index int) []int {
	var out []int
	for i, g := range b.Tables {
		if g.Name == name {
			out = append(out, i)
		}
	}
	if len(out) > 0 {
		return out
	}
	if index < len(b.Tables) {
		out = append(out, index)
	}
	for i := range b.Tables {
		if i != index {
			out = append(out, i)
		}
	}
	return out
}

// findHeading finds the row under which the block's columns have the same headings.
func findHeading(g Grid, b Block, taken func(row int) bool) (int, bool) {
	if len(b.Columns) == 0 {
		return 0, false
	}
	if b.Head < 0 {
		return -1, len(g.Cells) > b.First
	}
	for r := range g.Cells {
		if taken(r) {
			continue
		}
		same, named := true, 0
		for _, c := range b.Columns {
			if c.Heading == "" {
				continue
			}
			named++
			if plain(headingText(g, r, c.Index)) != plain(c.Heading) && plain(g.At(r, c.Index)) != plain(c.Heading) {
				same = false
				break
			}
		}
		if same && named > 0 {
			return r, true
		}
	}
	return 0, false
}

// headingText is the heading of a column whose heading ends in row r: the
// lowest text of rows r, r-1, r-2.
func headingText(g Grid, r, c int) string {
	for i := r; i >= 0 && i > r-3; i-- {
		if s := strings.TrimSpace(g.At(i, c)); s != "" {
			return s
		}
	}
	return ""
}
