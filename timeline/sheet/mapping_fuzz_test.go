package sheet

import (
	"bytes"
	"encoding/json"
	"testing"

	"whistlecut/timeline"
)

// FuzzMapping reads a sheet by mappings that a person wrote by hand or that were
// kept for another sheet.
func FuzzMapping(f *testing.F) {
	odd, err := ReadGrid("a.csv", oddLayout(8, 1))
	if err != nil {
		f.Fatal(err)
	}
	var own bytes.Buffer
	if err := WriteCSV(&own, judged()); err != nil {
		f.Fatal(err)
	}
	form, err := ReadGrid("own.csv", own.Bytes())
	if err != nil {
		f.Fatal(err)
	}
	for _, m := range []Mapping{
		Recognise(odd), Recognise(form),
		{Blocks: []Block{{
			Table: "a", Kind: KindScore, Side: timeline.Home, Head: 1, First: 2, Last: 9,
			Columns: []Column{{Index: 0, Heading: "Runda", Field: FieldJam}, {Index: 2, Heading: "Wynik", Field: FieldTrip, N: 2}},
		}}},
		{Blocks: []Block{{Table: "a", Kind: KindPenalties, Transposed: true}}},
	} {
		b, err := json.Marshal(m)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var m Mapping
		if json.Unmarshal(data, &m) != nil {
			return
		}
		for _, b := range []Book{odd, form} {
			Read(b, m)
			if m, ok := (Template{Name: "t", Mapping: m}).Match(b); ok {
				Read(b, m)
			}
		}
	})
}
