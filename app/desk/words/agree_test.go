package words

import (
	"encoding/json"
	"io/fs"
	"path"
	"testing"
)

// TestAreasAgree: an English text that several areas use has one translation.
// All areas of a language are loaded into one table, so the file read last would
// otherwise decide in silence for the others.
func TestAreasAgree(t *testing.T) {
	for _, l := range Languages[1:] {
		areas, err := fs.Glob(files, l.Code+"/*.json")
		if err != nil || len(areas) < 2 {
			t.Fatalf("%s: areas %v, %v", l.Code, areas, err)
		}
		type said struct {
			text Text
			area string
		}
		first := map[string]said{}
		for _, area := range areas {
			raw, err := files.ReadFile(area)
			if err != nil {
				t.Fatal(err)
			}
			texts := map[string]Text{}
			if err := json.Unmarshal(raw, &texts); err != nil {
				t.Fatalf("%s: %v", area, err)
			}
			for english, text := range texts {
				was, ok := first[english]
				if !ok {
					first[english] = said{text, path.Base(area)}
				} else if was.text != text {
					t.Errorf("%s: %q is %+v in %s and %+v in %s", l.Code, english, was.text, was.area, text, path.Base(area))
				}
			}
		}
	}
}
