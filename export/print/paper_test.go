package print

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// No line is wider than it may be, and no character is lost.
func TestWrap(t *testing.T) {
	p := newPaper("x", Options{})
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		w := rapid.Float64Range(5, 60).Draw(t, "width")
		list := p.wrap(s, w)
		for _, l := range list {
			if p.width(l) > w+1e-9 && len([]rune(l)) > 1 {
				t.Fatalf("%q is %.2f mm wide, %.2f are there", l, p.width(l), w)
			}
		}
		solid := func(s string) string {
			return strings.Join(strings.FieldsFunc(clean(strings.ReplaceAll(s, "\r", "")), blank), "")
		}
		if got, want := solid(strings.Join(list, "")), solid(s); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

// Whatever stands in a table, it stays on the page and the file is made.
func TestAnyTable(t *testing.T) {
	p := newPaper("x", Options{})
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "columns")
		cols := make([]column, n)
		for i := range cols {
			cols[i] = column{title: rapid.StringN(0, 20, -1).Draw(t, "title"), right: rapid.Bool().Draw(t, "right"), wrap: rapid.Bool().Draw(t, "wrap")}
		}
		rows := make([][]string, rapid.IntRange(0, 40).Draw(t, "rows"))
		for i := range rows {
			for range n {
				rows[i] = append(rows[i], rapid.StringN(0, 30, -1).Draw(t, "cell"))
			}
		}
		sum := 0.0
		for _, w := range p.columnWidths(cols, rows) {
			sum += w
		}
		if sum > inner+1e-6 {
			t.Fatalf("the table is %.2f mm wide, the page %.2f", sum, inner)
		}
		p.grid(cols, rows)
		if err := p.pdf.Error(); err != nil {
			t.Fatal(err)
		}
	})
	if err := p.write(&bytes.Buffer{}); err != nil {
		t.Fatal(err)
	}
}
