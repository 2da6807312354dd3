package sheet

import (
	"bytes"
	"testing"
	"unicode/utf8"

	"whistlecut/timeline"
)

// readAll runs the whole way from bytes to findings.
func readAll(t *testing.T, name string, data []byte) {
	book, err := ReadGrid(name, data)
	if err != nil {
		return
	}
	cells := 0
	for _, g := range book.Tables {
		if len(g.Cells) > MaxRows || g.Width() > MaxColumns {
			t.Fatalf("%d rows, %d columns", len(g.Cells), g.Width())
		}
		for _, row := range g.Cells {
			cells += len(row)
			for _, s := range row {
				if len(s) > MaxCellLetters+8 || !utf8.ValidString(s) && book.Format == "csv" {
					t.Fatalf("cell of %d letters", len(s))
				}
			}
		}
	}
	if cells > MaxCells {
		t.Fatalf("%d cells", cells)
	}
	s, _ := Read(book, Recognise(book))
	rules, _ := timeline.Edition("2025")
	SelfCheck(s, rules)
	var out bytes.Buffer
	if err := WriteCSV(&out, s); err != nil {
		t.Fatal(err)
	}
}

func FuzzCSV(f *testing.F) {
	f.Add([]byte("Jam,Jammer,Lead,2,3,Total\n1,32,x,4,0,4\nSP,7,,,3,3\n2,5,,1,,1\n"))
	f.Add([]byte("Whistlecut sheet,1\n\n[Score]\nPeriod,Jam,Team,Row,Trip 2,Jam total\n1,1,home,,4,4\n1,1,home,SP,?x,3\n"))
	f.Add([]byte("Heim;;Jam;;Gast\nSumme;Lead;Jam;Lead;Summe\n4;x;1;;0\n0;;2;x;3\n1;;3;;2\n"))
	f.Add([]byte("\xff\xfeJ\x00a\x00m\x00"))
	f.Add([]byte("sep=|\nNr|Strafen||\n23|B10|C2|\n"))
	f.Fuzz(func(t *testing.T, data []byte) { readAll(t, "fuzz.csv", data) })
}

func FuzzXLSX(f *testing.F) {
	f.Add(workbook(f))
	var own bytes.Buffer
	if err := WriteXLSX(&own, Sheet{Title: "x", Rows: []timeline.JamRow{{Period: 1, Jam: 1, Side: timeline.Home, JamTotal: timeline.Known(4)}}}); err != nil {
		f.Fatal(err)
	}
	f.Add(own.Bytes())
	f.Add([]byte(`<row r="1"><c r="A1" t="inlineStr"><is><t>Jam</t></is></c><c r="B1" t="str"><v>2</v></c></row><row r="2"><c r="A2"><v>1</v></c><c r="B2"><f>SUM(A2:A2)+1</f></c></row>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		readAll(t, "fuzz.xlsx", data)
		// As a worksheet's rows the same bytes get past the zip reader.
		readAll(t, "fuzz.xlsx", rawWorkbook(t, string(data)))
	})
}

func FuzzODS(f *testing.F) {
	f.Add([]byte(`<table:table table:name="t"><table:table-row><table:table-cell table:number-columns-repeated="3"><text:p>Jam</text:p></table:table-cell></table:table-row></table:table>`))
	f.Add([]byte(`<table:table table:name="t"><table:table-row table:number-rows-repeated="9"><table:table-cell office:value="4"/></table:table-row><table:table/></table:table>`))
	f.Fuzz(func(t *testing.T, body []byte) {
		readAll(t, "fuzz.ods", zipOf(t, map[string]string{"content.xml": odsHead + string(body) + odsTail}))
		readAll(t, "fuzz.ods", body)
	})
}
