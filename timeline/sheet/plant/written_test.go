package plant

import (
	"bytes"
	"fmt"
	"slices"
	"testing"
	"time"

	"whistlecut/timeline/sheet"
)

// TestPlantedWrittenRead: mistakes are found alike in the sheet itself and in
// the file it was written to and read back from, with a place in that file.
func TestPlantedWrittenRead(t *testing.T) {
	get := bouts(2, 6*time.Minute)
	for seed := range uint64(8) {
		b, err := get(seed)
		if err != nil {
			t.Fatal(err)
		}
		s, planted := Plant(b.Sheet, seed, 6)
		want := causes(sheet.Check(s, b.Bout, b.Facts))
		if len(want) < len(planted) {
			t.Errorf("seed %d: %d findings for %d mistakes", seed, len(want), len(planted))
		}
		for _, form := range []struct {
			name  string
			write func(*bytes.Buffer) error
		}{
			{"s.csv", func(w *bytes.Buffer) error { return sheet.WriteCSV(w, s) }},
			{"s.xlsx", func(w *bytes.Buffer) error { return sheet.WriteXLSX(w, s) }},
		} {
			var buf bytes.Buffer
			if err := form.write(&buf); err != nil {
				t.Fatal(err)
			}
			book, err := sheet.ReadGrid(form.name, buf.Bytes())
			if err != nil {
				t.Fatal(err)
			}
			read, problems := sheet.Read(book, sheet.Recognise(book))
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			r := sheet.Check(read, b.Bout, b.Facts)
			if got := causes(r); !slices.Equal(got, want) {
				t.Errorf("seed %d, %s: found\n%v, want\n%v", seed, form.name, got, want)
			}
			for _, f := range r.Findings {
				if len(f.From) == 0 && f.Cause != sheet.CauseMissingRow && f.Cause != sheet.CausePenMissing && f.Cause != sheet.CauseBoxedMissing {
					t.Errorf("seed %d, %s: no cell named: %s: %s", seed, form.name, f.Cause, f.Text)
				}
			}
		}
	}
}

func causes(r sheet.Report) []string {
	var out []string
	for _, f := range r.Findings {
		out = append(out, fmt.Sprint(f.Cause, ", ", f.Where()))
	}
	return out
}
