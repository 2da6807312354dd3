package boutfile

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"testing"

	"whistlecut/timeline"
)

// FuzzImport takes arbitrary exchange files into a small bout. What is refused
// must leave the bout as it was; what is taken in must be on the disk.
func FuzzImport(f *testing.F) {
	good := small(f)
	from := mustCreate(f, filepath.Join(f.TempDir(), "other.bout"))
	mustApply(f, from, "three", note("a", "three"), timeline.SetTeam(timeline.Home, timeline.Team{Name: "H"}))
	mustApply(f, from, "four", note("b", "four"))
	if _, err := from.Undo(); err != nil {
		f.Fatal(err)
	}
	for _, export := range []func() ([]byte, error){
		func() ([]byte, error) { return timeline.ExportHistory(from.Log()) },
		func() ([]byte, error) { return timeline.ExportFacts(from.Log().Facts()) },
		func() ([]byte, error) { return timeline.ExportTags(from.Log().Facts().Tags) },
	} {
		data, err := export()
		if err != nil {
			f.Fatal(err)
		}
		var flat bytes.Buffer
		if err := json.Compact(&flat, data); err != nil {
			f.Fatal(err)
		}
		f.Add(flat.Bytes())
	}
	mustClose(f, from)
	f.Fuzz(func(t *testing.T, data []byte) {
		path := filepath.Join(t.TempDir(), "a.bout")
		write(t, path, good)
		b := mustOpen(t, path, Options{Author: "Bea"})
		before := b.Log().Edits()
		if _, err := b.ImportFrom("in.json", data); err != nil {
			wantFault(t, err, nil)
			same(t, "edits after a refusal", before, b.Log().Edits())
		}
		mustClose(t, b)
		sameLog(t, b.Log(), mustOpen(t, path, Options{ReadOnly: true}).Log())
	})
}
