package print

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"whistlecut/timeline/numbers"
)

// The tables say what the report says.
func TestTables(t *testing.T) {
	r := numbers.ReportOf(bout(12))
	by := map[string]Table{}
	for _, x := range Tables(r) {
		if _, twice := by[x.Name]; twice {
			t.Errorf("two tables are called %s", x.Name)
		}
		by[x.Name] = x
		for i, row := range x.Rows {
			if len(row) != len(x.Head) {
				t.Errorf("%s, row %d: %d cells under %d headings", x.Name, i, len(row), len(x.Head))
			}
		}
	}
	cell := func(table string, row int, head string) any {
		for i, h := range by[table].Head {
			if h == head {
				return by[table].Rows[row][i]
			}
		}
		t.Fatalf("%s has no column %s", table, head)
		return nil
	}
	last := len(r.PerJam) - 1
	if len(by["Jams"].Rows) != len(r.PerJam) || cell("Jams", last, "Home total") != r.Score[0].Low || cell("Jams", last, "Away total") != r.Score[1].Low {
		t.Errorf("the last jam stands at %v : %v, want %v", cell("Jams", last, "Home total"), cell("Jams", last, "Away total"), r.Score)
	}
	points, pens := 0, 0
	for i := range by["Jammers"].Rows {
		if cell("Jammers", i, "Team") == "home" {
			points += cell("Jammers", i, "Points from").(int)
		}
	}
	for i := range by["Penalties"].Rows {
		if cell("Penalties", i, "Team") == "home" {
			pens += cell("Penalties", i, "All").(int)
		}
	}
	if points != r.Score[0].Low || pens != r.Sides[0].Penalties.Total {
		t.Errorf("home's jammers scored %d of %d; %d of %d penalties", points, r.Score[0].Low, pens, r.Sides[0].Penalties.Total)
	}
	for i, n := range map[string]int{"Line-ups": len(r.Sides[0].Groups) + len(r.Sides[1].Groups), "Power jams": r.Sides[0].PowerJams.N + r.Sides[1].PowerJams.N, "Runs": len(r.Runs), "Lead changes": len(r.LeadChanges), "Score": len(r.Steps)} {
		if len(by[i].Rows) != n {
			t.Errorf("%s has %d rows, want %d", i, len(by[i].Rows), n)
		}
	}
}

// odd is a table of what spreadsheet programs like to change.
var odd = Table{Name: "Odd", Head: []string{"Text", "Number", "Nothing"}, Rows: [][]any{
	{"02", 2, nil}, {"1E5", 1.5, nil}, {"=SUM(A1:A2)", -3, nil}, {"+4", 0.25, nil}, {`a "quoted", word`, 7, nil}, {"Жанна", 1, nil},
}}

func TestWorkbookReadsBack(t *testing.T) {
	var b bytes.Buffer
	if err := WriteXLSX(&b, append(Tables(numbers.ReportOf(bout(4))), odd)); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if n := len(f.GetSheetList()); n != 11 {
		t.Errorf("%d worksheets: %v", n, f.GetSheetList())
	}
	rows, err := f.GetRows("Odd", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"Text", "Number", "Nothing"}, {"02", "2"}, {"1E5", "1.5"}, {"=SUM(A1:A2)", "-3"}, {"+4", "0.25"}, {`a "quoted", word`, "7"}, {"Жанна", "1"}}
	if d := cmp.Diff(want, rows); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	for i := range odd.Rows {
		at := fmt.Sprintf("A%d", i+2)
		if formula, _ := f.GetCellFormula("Odd", at); formula != "" {
			t.Errorf("%s became the formula %s", at, formula)
		}
		if kind, _ := f.GetCellType("Odd", at); kind != excelize.CellTypeSharedString && kind != excelize.CellTypeInlineString {
			t.Errorf("%s is no text", at)
		}
	}
}

func TestCSV(t *testing.T) {
	var b bytes.Buffer
	if err := WriteCSV(&b, odd); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"Text", "Number", "Nothing"}, {"02", "2", ""}, {"1E5", "1.5", ""}, {"'=SUM(A1:A2)", "-3", ""}, {"'+4", "0.25", ""}, {`a "quoted", word`, "7", ""}, {"Жанна", "1", ""}}
	if d := cmp.Diff(want, rows); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	seen := map[string]bool{}
	for _, x := range Tables(numbers.ReportOf(bout(4))) {
		name := x.FileName()
		if seen[name] || strings.ContainsAny(name, ` /\`) || !strings.HasSuffix(name, ".csv") {
			t.Errorf("a file called %q", name)
		}
		seen[name] = true
	}
}
