package boutfile

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"whistlecut/timeline"
)

// livingBout is a bout with a full write-ahead log, as a crash would leave it:
// the two files, and the edits in the order they were confirmed.
func livingBout(t *testing.T) (main, wal []byte, edits []timeline.Edit) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "a.bout")
	f := mustCreate(t, path)
	for i := range 30 {
		_, made, err := f.Apply("note", note(fmt.Sprint("t", i%4), fmt.Sprint("note ", i)), note("u", fmt.Sprint(i)))
		if err != nil {
			t.Fatal(err)
		}
		edits = append(edits, made...)
	}
	_, made, err := f.Apply("sheet", sheetOf(30_000, `{}`))
	if err != nil {
		t.Fatal(err)
	}
	edits = append(edits, made...)
	if main, err = os.ReadFile(path); err != nil {
		t.Fatal(err)
	}
	if wal, err = os.ReadFile(path + "-wal"); err != nil {
		t.Fatal(err)
	}
	return main, wal, edits
}

func lay(t *testing.T, path string, main, wal []byte) {
	t.Helper()
	for name, data := range map[string][]byte{path: main, path + "-wal": wal} {
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	os.Remove(path + "-shm")
}

// startOf returns how many of the edits are there, and fails if it is not the
// first so many.
func startOf(t *testing.T, when string, log *timeline.Log, edits []timeline.Edit) int {
	t.Helper()
	n := log.Len()
	if n > len(edits) {
		t.Fatalf("%s: %d edits, more than were made", when, n)
	}
	want := timeline.NewLog("", "")
	if _, err := want.Add(edits[:n]...); err != nil {
		t.Fatal(err)
	}
	sameLog(t, want, log)
	return n
}

func TestCutWALGivesAnOlderState(t *testing.T) {
	main, wal, edits := livingBout(t)
	const header, frame = 32, 24 + 4096
	var cuts []int
	for at := header; at <= len(wal); at += frame {
		cuts = append(cuts, at+len(cuts)%3-1) // at the edge of a frame, or one beside it
	}
	cuts = append(cuts, len(wal))
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		cuts = append(cuts, rnd.IntN(len(wal)))
	}
	path := filepath.Join(t.TempDir(), "a.bout")
	states := map[int]bool{}
	for _, at := range cuts {
		at = min(at, len(wal))
		when := fmt.Sprintf("cut at %d of %d", at, len(wal))
		lay(t, path, main, wal[:at])
		read, err := Open(path, Options{ReadOnly: true})
		if err != nil {
			t.Fatalf("%s: %v", when, err)
		}
		n := startOf(t, when, read.Log(), edits)
		states[n] = true
		if at == len(wal) && n != len(edits) {
			t.Errorf("the whole log gives %d of %d edits", n, len(edits))
		}
		f, err := Open(path, Options{Author: "Bea"})
		if err != nil {
			t.Fatalf("%s: %v", when, err)
		}
		if m := startOf(t, when, f.Log(), edits); m != n {
			t.Errorf("%s: a reader sees %d edits, a writer %d", when, n, m)
		}
		mustApply(t, f, "after", note("after", when))
		mustClose(t, f)
		sameLog(t, f.Log(), mustOpen(t, path, Options{ReadOnly: true}).Log())
	}
	if len(states) < 20 {
		t.Errorf("the cuts led to %d states only", len(states))
	}
}

func TestSpoiledWALGivesAnOlderStateOrASentence(t *testing.T) {
	main, wal, edits := livingBout(t)
	path := filepath.Join(t.TempDir(), "a.bout")
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		spoiled := append([]byte(nil), wal...)
		at := rnd.IntN(len(wal))
		for i := at; i < min(len(wal), at+1+rnd.IntN(64)); i++ {
			spoiled[i] ^= byte(1 + rnd.IntN(255))
		}
		lay(t, path, main, spoiled)
		f, err := Open(path, Options{Author: "Bea"})
		if err != nil {
			wantFault(t, err, nil)
			continue
		}
		startOf(t, fmt.Sprint("spoiled at ", at), f.Log(), edits)
		mustClose(t, f)
	}
}

// TestForeignWAL puts an older copy of the bout in its place while the newer
// one's write-ahead log is still there.
func TestForeignWAL(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.bout")
	f := mustCreate(t, path)
	fill(t, f)
	mustClose(t, f)
	old, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f = mustOpen(t, path, Options{Author: "Ada"})
	for i := range 200 {
		mustApply(t, f, "more", note(fmt.Sprint("m", i), "more"))
	}
	mustClose(t, f)
	f = mustOpen(t, path, Options{Author: "Ada"})
	for i := range 50 {
		mustApply(t, f, "even more", note(fmt.Sprint("m", i), "even more"))
	}
	all := f.Log().Edits()
	wal, err := os.ReadFile(path + "-wal")
	if err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(folder, "b.bout")
	lay(t, other, old, wal)
	g, err := Open(other, Options{Author: "Bea"})
	if err != nil {
		wantFault(t, err, nil)
		if now, _ := os.ReadFile(other); string(now) != string(old) {
			t.Error("the bout was refused but changed")
		}
		return
	}
	// Taking it is right only if what comes out is a state that was.
	defer g.Close()
	known := map[timeline.ID]bool{}
	for _, e := range all {
		known[e.ID] = true
	}
	for _, e := range g.Log().Edits() {
		if !known[e.ID] {
			t.Errorf("edit %s comes from nowhere", e.ID)
		}
	}
}

func TestReadingACrashedBoutChangesNothing(t *testing.T) {
	main, wal, edits := livingBout(t)
	path := filepath.Join(t.TempDir(), "a.bout")
	lay(t, path, main, wal)
	f := mustOpen(t, path, Options{ReadOnly: true})
	if n := startOf(t, "crashed", f.Log(), edits); n != len(edits) {
		t.Errorf("%d of %d edits", n, len(edits))
	}
	mustClose(t, f)
	now, err := os.ReadFile(path)
	nowWAL, errWAL := os.ReadFile(path + "-wal")
	if err := errors.Join(err, errWAL); err != nil {
		t.Fatal(err)
	}
	if string(now) != string(main) || string(nowWAL) != string(wal) {
		t.Error("reading changed the files")
	}
}
