package boutfile

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"whistlecut/app/database/crash"
	"whistlecut/timeline"
)

// The test binary starts itself as a child that is killed, or that lives in a
// small disk of its own.
func TestMain(m *testing.M) { crash.Main(m) }

func note(id, text string) timeline.Change {
	return timeline.SetTag(timeline.Tag{ID: timeline.ID(id), Kind: timeline.KindNote, Note: text})
}

func mustCreate(t testing.TB, path string) *File {
	t.Helper()
	f, err := Create(path, Options{Author: "Ada"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func mustOpen(t testing.TB, path string, o Options) *File {
	t.Helper()
	f, err := Open(path, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func mustApply(t testing.TB, f *File, label string, changes ...timeline.Change) {
	t.Helper()
	if _, _, err := f.Apply(label, changes...); err != nil {
		t.Fatal(err)
	}
}

func mustClose(t testing.TB, f *File) {
	t.Helper()
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// sameLog compares all that two logs hold and say.
func sameLog(t testing.TB, want, got *timeline.Log) {
	t.Helper()
	same(t, "edits", want.Edits(), got.Edits())
	same(t, "facts", want.Facts(), got.Facts())
	same(t, "conflicts", want.Conflicts(), got.Conflicts())
}

// same compares quickly and explains at leisure: cmp takes long over a sheet's bytes.
func same(t testing.TB, what string, want, got any) {
	t.Helper()
	if !reflect.DeepEqual(want, got) {
		t.Fatalf("%s differ:\n%s", what, cmp.Diff(want, got))
	}
}

// onlyFiles checks what stands in a folder.
func onlyFiles(t testing.TB, folder string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("files in the folder:\n%s", d)
	}
}

// sheetOf is a sheet of some size whose bytes don't compress to nothing.
func sheetOf(n int, mapping string) timeline.Change {
	data := make([]byte, n)
	for i := range data {
		data[i] = byte(i*i>>3 ^ i)
	}
	return timeline.SetSheet(timeline.StoredSheet{Name: "sheet.xlsx", Data: data, Mapping: []byte(mapping)})
}

// fill gives a bout some history: all collections, undo and redo.
func fill(t testing.TB, f *File) {
	t.Helper()
	mustApply(t, f, "start", timeline.SetInfo(timeline.Info{Title: "Gale Force – Ñandú's Night"}),
		timeline.SetTeam(timeline.Home, timeline.Team{Name: "Harbour Gale"}), timeline.SetTeam(timeline.Away, timeline.Team{Name: "Mill Street"}))
	mustApply(t, f, "film", timeline.SetFootage(timeline.Footage{ID: "f1", Path: "a.mp4"}), timeline.SetMark(timeline.SyncMark{ID: "m1", Footage: "f1", Jam: "j1"}))
	mustApply(t, f, "sheet", sheetOf(50_000, `{"a":1}`))
	mustApply(t, f, "mapping", sheetOf(50_000, `{"a":2}`))
	for i := range 20 {
		mustApply(t, f, fmt.Sprint("note ", i), note(fmt.Sprint("t", i%7), fmt.Sprint("note ", i)))
	}
	for range 3 {
		if _, err := f.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := f.Redo(); err != nil {
		t.Fatal(err)
	}
	mustApply(t, f, "rest", timeline.DeleteTag("t1"), timeline.SetResolution(timeline.Resolution{ID: "x", Verdict: timeline.VerdictUnclear}),
		timeline.Change{Record: timeline.Record{Collection: "reel", Key: "r1"}, Value: []byte(`{"clips":[]}`)})
}

func TestReopenFindsEverything(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "odd name %20 ?#&.bout")
	f := mustCreate(t, path)
	fill(t, f)
	mustClose(t, f)
	onlyFiles(t, folder, filepath.Base(path))

	again := mustOpen(t, path, Options{Author: "Bea"})
	sameLog(t, f.Log(), again.Log())
	if again.Log().Session() == f.Log().Session() {
		t.Error("two openings share one session")
	}
	mustApply(t, again, "more", note("t9", "more"))
	mustClose(t, again)
	mustClose(t, again)

	read := mustOpen(t, path, Options{ReadOnly: true})
	sameLog(t, again.Log(), read.Log())
	onlyFiles(t, folder, filepath.Base(path))
}

func TestUndoReachesOverSessions(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.bout")
	f := mustCreate(t, path)
	mustApply(t, f, "one", note("a", "one"))
	mustApply(t, f, "two", note("a", "two"))
	mustClose(t, f)
	f = mustOpen(t, path, Options{Author: "Ada"})
	step, err := f.Undo()
	if err != nil || step.Label != "two" || f.Log().Facts().Tags["a"].Note != "one" {
		t.Fatalf("undo after reopening: %+v, %v", step, err)
	}
	mustClose(t, f)
	f = mustOpen(t, path, Options{Author: "Ada"})
	if step, err = f.Redo(); err != nil || step.Label != "two" || f.Log().Facts().Tags["a"].Note != "two" {
		t.Fatalf("redo after reopening: %+v, %v", step, err)
	}
}

func TestSheetBytesStandOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.bout")
	f := mustCreate(t, path)
	const size = 300_000
	for i := range 5 {
		mustApply(t, f, "mapping", sheetOf(size, fmt.Sprintf(`{"v":%d}`, i)))
	}
	mustClose(t, f)
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if info.Size() > size+size/4 {
		t.Errorf("the file has %d bytes with five mappings of a sheet of %d", info.Size(), size)
	}
	sameLog(t, f.Log(), mustOpen(t, path, Options{}).Log())
}

func TestSecondWriterIsToldWho(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.bout")
	f := mustCreate(t, path)
	mustApply(t, f, "one", note("a", "one"))
	_, err := Open(path, Options{Author: "Bea"})
	wantFault(t, err, ErrInUse, "it is open elsewhere (Ada, process ", "reading only")

	link := filepath.Join(t.TempDir(), "b.bout")
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	_, err = Open(link, Options{Author: "Bea"})
	wantFault(t, err, ErrInUse)

	// Reading goes on while the writer writes, and sees the state of its opening.
	read := mustOpen(t, path, Options{ReadOnly: true})
	sameLog(t, f.Log(), read.Log())
	mustApply(t, f, "two", note("a", "two"))
	if got := read.Log().Facts().Tags["a"].Note; got != "one" {
		t.Errorf("the reader sees %q", got)
	}
	sameLog(t, f.Log(), mustOpen(t, path, Options{ReadOnly: true}).Log())
	_, _, err = read.Apply("x", note("b", "x"))
	wantFault(t, err, ErrReadOnly)

	mustClose(t, f)
	_, _, err = f.Apply("x", note("b", "x"))
	wantFault(t, err, ErrClosed)
	if _, err := f.Undo(); err == nil {
		t.Error("undo on a closed file is taken")
	}
	mustOpen(t, path, Options{Author: "Bea"})
}

func TestCreateRefusesATakenName(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.bout")
	if err := os.WriteFile(path, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Create(path, Options{})
	wantFault(t, err, os.ErrExist, "choose another name")
	if b, _ := os.ReadFile(path); string(b) != "mine" {
		t.Error("the file that was there was changed")
	}
	_, err = Create(filepath.Join(folder, "none", "a.bout"), Options{})
	wantFault(t, err, os.ErrNotExist)
	onlyFiles(t, folder, "a.bout")
}

// wantFault checks that an error is of a kind and says the given words.
func wantFault(t testing.TB, err, kind error, words ...string) {
	t.Helper()
	if err == nil {
		t.Fatal("no error")
	}
	var f *Fault
	if !errors.As(err, &f) {
		t.Errorf("not told as a sentence: %v", err)
	}
	if strings.Contains(err.Error(), "failed inside") {
		t.Errorf("a panic was caught: %v", err)
	}
	if kind != nil && !errors.Is(err, kind) {
		t.Errorf("the error is of another kind: %v", err)
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("the error does not say %q: %v", w, err)
		}
	}
}
