package boutfile

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

func TestBackup(t *testing.T) {
	folder := t.TempDir()
	path, copied := filepath.Join(folder, "a.bout"), filepath.Join(folder, "copy.bout")
	f := mustCreate(t, path)
	fill(t, f)
	if err := f.Backup(copied); err != nil {
		t.Fatal(err)
	}
	mustApply(t, f, "later", note("later", "x"))
	first := mustOpen(t, copied, Options{ReadOnly: true})
	if first.Log().Len() != f.Log().Len()-1 {
		t.Errorf("the copy has %d edits, the bout had %d", first.Log().Len(), f.Log().Len()-1)
	}
	// Again over the earlier copy, then from a reader.
	if err := f.Backup(copied); err != nil {
		t.Fatal(err)
	}
	sameLog(t, f.Log(), mustOpen(t, copied, Options{ReadOnly: true}).Log())
	mustClose(t, f)
	read := mustOpen(t, path, Options{ReadOnly: true})
	if err := read.Backup(copied); err != nil {
		t.Fatal(err)
	}
	g := mustOpen(t, copied, Options{Author: "Bea"})
	sameLog(t, f.Log(), g.Log())
	mustApply(t, g, "on the copy", note("g", "g"))
	mustClose(t, g)
	onlyFiles(t, folder, "a.bout", "copy.bout")
}

func TestBackupRefuses(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.bout")
	f := mustCreate(t, path)
	fill(t, f)
	wantFault(t, f.Backup(path), nil, "it is the bout itself")
	photo := filepath.Join(folder, "photo.jpg")
	write(t, photo, []byte("a photo"))
	wantFault(t, f.Backup(photo), nil, "no good bout file")
	if b, _ := os.ReadFile(photo); string(b) != "a photo" {
		t.Error("the photo is gone")
	}
	open := filepath.Join(folder, "open.bout")
	g := mustCreate(t, open)
	mustApply(t, g, "g", note("g", "g"))
	wantFault(t, f.Backup(open), nil, "choose another name")
	wantFault(t, f.Backup(filepath.Join(folder, "none", "b.bout")), os.ErrNotExist)
	mustClose(t, g)
	mustClose(t, f)
	wantFault(t, f.Backup(filepath.Join(folder, "b.bout")), ErrClosed)
	onlyFiles(t, folder, "a.bout", "open.bout", "photo.jpg")
}

func TestMergeOfTwoCopies(t *testing.T) {
	folder := t.TempDir()
	pathA, pathB := filepath.Join(folder, "a.bout"), filepath.Join(folder, "b.bout")
	a := mustCreate(t, pathA)
	fill(t, a)
	if err := a.Backup(pathB); err != nil {
		t.Fatal(err)
	}
	b := mustOpen(t, pathB, Options{Author: "Bea"})
	mustApply(t, a, "Ada's", note("t0", "Ada"), note("ada", "x"))
	mustApply(t, b, "Bea's", note("t0", "Bea"), note("bea", "x"), sheetOf(9_000, `{}`))

	// b is open and being written: merging only reads it.
	got, err := a.Merge(pathB)
	if err != nil {
		t.Fatal(err)
	}
	if got.Added != 3 || got.Known != b.Log().Len()-3 || len(got.Conflicts) != 1 || got.Conflicts[0].Record.Key != "t0" {
		t.Errorf("report %+v", got)
	}
	if got, err = a.Merge(pathB); err != nil || got.Added != 0 {
		t.Errorf("merged again: %+v, %v", got, err)
	}
	if got, err = b.Merge(pathA); err != nil || got.Added != 2 || len(got.Conflicts) != 1 {
		t.Errorf("merged the other way: %+v, %v", got, err)
	}
	sameLog(t, a.Log(), b.Log())
	mustApply(t, b, "decided", note("t0", "Ada"))
	if _, err = a.Merge(pathB); err != nil {
		t.Fatal(err)
	}
	mustClose(t, a)
	again := mustOpen(t, pathA, Options{Author: "Ada"})
	if c := again.Log().Conflicts(); len(c) != 0 {
		t.Errorf("conflicts after the decision was merged: %+v", c)
	}
	sameLog(t, b.Log(), again.Log())

	_, err = again.Merge(pathA)
	wantFault(t, err, nil, "it is the bout itself")
	text := filepath.Join(folder, "text.bout")
	write(t, text, []byte("text"))
	_, err = again.Merge(text)
	wantFault(t, err, ErrNotBout)
	if again.Log().Len() != b.Log().Len() {
		t.Error("a refused merge changed the bout")
	}
}

func TestExportAndImport(t *testing.T) {
	folder := t.TempDir()
	f := mustCreate(t, filepath.Join(folder, "a.bout"))
	fill(t, f)
	for _, what := range []string{timeline.ExchangeHistory, timeline.ExchangeFacts, timeline.ExchangeTags} {
		t.Run(what, func(t *testing.T) {
			out := filepath.Join(folder, what+".json")
			if err := f.Export(out, what); err != nil {
				t.Fatal(err)
			}
			g := mustCreate(t, filepath.Join(t.TempDir(), "b.bout"))
			got, err := g.Import(out)
			if err != nil || got.Added == 0 {
				t.Fatalf("%+v, %v", got, err)
			}
			if again, err := g.Import(out); err != nil || again.Added != 0 || again.Known != got.Added {
				t.Errorf("imported again: %+v, %v", again, err)
			}
			want, have := f.Log().Facts(), g.Log().Facts()
			switch what {
			case timeline.ExchangeHistory:
				sameLog(t, f.Log(), g.Log())
			case timeline.ExchangeFacts:
				same(t, "facts", want, have)
			case timeline.ExchangeTags:
				same(t, "facts", timeline.Facts{Tags: want.Tags}, have)
			}
			if what != timeline.ExchangeHistory {
				if _, err := g.Undo(); err != nil {
					t.Fatal(err)
				}
				same(t, "facts after undoing the import", timeline.Facts{}, g.Log().Facts())
			}
		})
	}
	wrong := filepath.Join(folder, "wrong.json")
	write(t, wrong, []byte(`[{"id":"ok","kind":"note"},{"id":"b","kind":"trip","side":"home","trip":{"number":2,"points":12}}]`))
	before := f.Log().Len()
	_, err := f.Import(wrong)
	wantFault(t, err, nil, "tags[1] (b).trip.points: 12 is outside 0..9")
	if f.Log().Len() != before {
		t.Error("a part of the refused import was taken")
	}
	_, err = f.Import(filepath.Join(folder, "none.json"))
	wantFault(t, err, os.ErrNotExist)
	if err := f.Export(filepath.Join(folder, "none", "x.json"), timeline.ExchangeTags); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("export into no folder: %v", err)
	}
}

// TestSimulatedBoutRoundTrip stores a whole simulated bout, exports it and reads
// it into another file: nothing of a real bout's size and kinds may be refused.
func TestSimulatedBoutRoundTrip(t *testing.T) {
	folder := t.TempDir()
	facts := simulate.Play(4, simulate.Options{}).Facts()
	f := mustCreate(t, filepath.Join(folder, "a.bout"))
	mustApply(t, f, "staged", timeline.FactsChanges(facts)...)
	if len(facts.Tags) < 20 {
		t.Fatalf("the bout has only %d tags", len(facts.Tags))
	}
	for _, what := range []string{timeline.ExchangeFacts, timeline.ExchangeTags} {
		out := filepath.Join(folder, what+".json")
		if err := f.Export(out, what); err != nil {
			t.Fatal(err)
		}
		g := mustCreate(t, filepath.Join(t.TempDir(), "b.bout"))
		if _, err := g.Import(out); err != nil {
			t.Fatal(err)
		}
		same(t, "tags", f.Log().Facts().Tags, g.Log().Facts().Tags)
	}
}
