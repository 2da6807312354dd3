package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
)

// oddLayout is a table whose headings no list knows, for a person to map.
func oddLayout(jams, skip int) []byte {
	var b strings.Builder
	for range skip {
		b.WriteString("some words of the club\n")
	}
	b.WriteString("Runda,Numer,Wynik\n")
	for j := 1; j <= jams; j++ {
		fmt.Fprintf(&b, "%d,%d,%d\n", j, 30+j, j%5)
	}
	return []byte(b.String())
}

// TestTemplate: a mapping that a person corrected reads the next book of that
// layout, with more rows and other lines above, and refuses another layout.
func TestTemplate(t *testing.T) {
	book, err := ReadGrid("a.csv", oddLayout(8, 1))
	if err != nil {
		t.Fatal(err)
	}
	m := Mapping{Version: MappingVersion, Blocks: []Block{{
		Table: "a", Kind: KindScore, Side: timeline.Home, Head: 1, First: 2, Last: 9,
		Columns: []Column{
			{Index: 0, Heading: "Runda", Field: FieldJam, Certainty: 1},
			{Index: 1, Heading: "Numer", Field: FieldJammer, Certainty: 1},
			{Index: 2, Heading: "Wynik", Field: FieldJamTotal, Certainty: 1},
		},
	}}}
	s, problems := Read(book, m)
	if len(s.Rows) != 8 || len(problems) > 0 || s.Rows[7].JamTotal.Value != 3 || s.Rows[7].JamTotal.From != "a!C10" {
		t.Fatalf("%d rows, problems %v", len(s.Rows), problems)
	}
	var kept Template
	stored, err := json.Marshal(Template{Name: "our hall", Mapping: m})
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(stored, &kept); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(m, kept.Mapping); d != "" {
		t.Fatalf("the mapping changed in storage: %s", d)
	}
	next, err := ReadGrid("b.csv", oddLayout(12, 3))
	if err != nil {
		t.Fatal(err)
	}
	got, ok := kept.Match(next)
	if !ok {
		t.Fatal("the same layout was not recognised")
	}
	if s, _ := Read(next, got); len(s.Rows) != 12 || s.Rows[11].Jammer.Value != "42" {
		t.Errorf("%d rows", len(s.Rows))
	}
	other, err := ReadGrid("c.csv", []byte("Jam,Home,Away\n1,4,0\n2,0,3\n3,1,1\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := kept.Match(other); ok {
		t.Error("another layout was taken for the same")
	}
}

// TestTemplateOfRecognised: what was recognised serves as a template of itself.
func TestTemplateOfRecognised(t *testing.T) {
	text := "Home\nJam,Jammer,Lead,2,3,Total\n1,32,x,4,0,4\n2,5,,,,0\n3,32,,1,,1\nAway\nJam,Jammer,Lead,2,3,Total\n1,7,,,,0\n2,9,x,4,4,8\n3,7,,2,,2\n"
	book, err := ReadGrid("x.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	m := Recognise(book)
	got, ok := Template{Mapping: m}.Match(book)
	if !ok {
		t.Fatalf("no match with itself: %+v", m)
	}
	a, _ := Read(book, m)
	b, _ := Read(book, got)
	if len(a.Rows) != 6 {
		t.Fatalf("%d rows", len(a.Rows))
	}
	if d := cmp.Diff(a.Rows, b.Rows); d != "" {
		t.Error(d)
	}
}

// TestOwnTemplate: our own form needs no columns mapped.
func TestOwnTemplate(t *testing.T) {
	var buf bytes.Buffer
	if err := WriteCSV(&buf, Sheet{Rows: []timeline.JamRow{{Period: 1, Jam: 1, Side: timeline.Home, JamTotal: timeline.Known(3)}}}); err != nil {
		t.Fatal(err)
	}
	book, err := ReadGrid("own.csv", buf.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if m, ok := (Template{Mapping: Recognise(book)}).Match(book); !ok || !m.Own {
		t.Errorf("own form: %+v", m)
	}
}
