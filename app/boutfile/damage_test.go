package boutfile

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"whistlecut/timeline"
)

func write(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestOpenRefuses(t *testing.T) {
	cases := []struct {
		name string
		make func(t *testing.T, path string) // path holds a good bout
		kind error
		says string
	}{
		{"nothing there", func(t *testing.T, p string) { os.Remove(p) }, os.ErrNotExist, "there is no such file"},
		{"a folder", func(t *testing.T, p string) { os.Remove(p); os.Mkdir(p, 0o755) }, ErrNotBout, "it is a folder"},
		{"an empty file", func(t *testing.T, p string) { write(t, p, nil) }, ErrNotBout, "it is empty"},
		{"a text", func(t *testing.T, p string) { write(t, p, []byte("Jam 1: four points\n")) }, ErrNotBout, "another format"},
		{"a long text", func(t *testing.T, p string) { write(t, p, make([]byte, 100_000)) }, ErrNotBout, "another format"},
		{"another database", func(t *testing.T, p string) {
			os.Remove(p)
			execOn(t, p, "CREATE TABLE x (y)")
		}, ErrNotBout, "another program's database"},
		{"only the first bytes", func(t *testing.T, p string) { truncate(t, p, 60) }, ErrDamaged, "it ends after 60 bytes"},
		{"half of it", func(t *testing.T, p string) { truncate(t, p, 20_000) }, ErrDamaged, "backup copy"},
		{"only the header page", func(t *testing.T, p string) { truncate(t, p, 4096) }, ErrDamaged, "backup copy"},
		{"a row missing", func(t *testing.T, p string) { execOn(t, p, "DELETE FROM edit WHERE n = 5") }, ErrDamaged, "row 5 of the journal is missing"},
		{"a row changed", func(t *testing.T, p string) { execOn(t, p, "UPDATE edit SET label = 'other' WHERE n = 5") }, ErrDamaged, "row 5 of the journal is not as it was written"},
		{"a sheet changed", func(t *testing.T, p string) { execOn(t, p, "UPDATE blob SET data = x'00'") }, ErrDamaged, "not as they were written"},
		{"a sheet missing", func(t *testing.T, p string) { execOn(t, p, "DELETE FROM blob") }, ErrDamaged, "bytes of its sheet are missing"},
		{"a table missing", func(t *testing.T, p string) { execOn(t, p, "DROP TABLE edit") }, ErrDamaged, "not those of a bout file"},
		{"a trigger planted", func(t *testing.T, p string) {
			execOn(t, p, "CREATE TRIGGER x AFTER INSERT ON edit BEGIN DELETE FROM blob; END")
		}, ErrDamaged, "not those of a bout file"},
		{"no schema", func(t *testing.T, p string) { execOn(t, p, "PRAGMA user_version = 0") }, ErrDamaged, "its schema is 0"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			folder := t.TempDir()
			path := filepath.Join(folder, "a.bout")
			f := mustCreate(t, path)
			fill(t, f)
			mustClose(t, f)
			c.make(t, path)
			before, _ := os.ReadFile(path)
			for _, o := range []Options{{ReadOnly: true}, {Author: "Ada"}} {
				_, err := Open(path, o)
				wantFault(t, err, c.kind, "cannot open ", c.says)
			}
			if now, _ := os.ReadFile(path); string(now) != string(before) {
				t.Error("the refused file was changed")
			}
			if c.name != "nothing there" {
				onlyFiles(t, folder, "a.bout")
			}
		})
	}
}

func truncate(t *testing.T, path string, size int64) {
	t.Helper()
	if err := os.Truncate(path, size); err != nil {
		t.Fatal(err)
	}
}

// TestSpoiledPages overwrites parts of a good file. What opens must be the very
// bout; all else must be a sentence.
func TestSpoiledPages(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.bout")
	f := mustCreate(t, path)
	fill(t, f)
	mustClose(t, f)
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const page = 4096
	rnd := rand.New(rand.NewPCG(5, 6))
	type spoil struct {
		what string
		data []byte
	}
	var all []spoil
	changed := func(what string, at, n int, b func() byte) {
		data := append([]byte(nil), good...)
		for i := at; i < min(at+n, len(data)); i++ {
			data[i] = b()
		}
		all = append(all, spoil{what, data})
	}
	for at := 0; at < len(good); at += page {
		changed(fmt.Sprint("page zeroed at ", at), at, page, func() byte { return 0 })
		changed(fmt.Sprint("noise at ", at), at+100, page-100, func() byte { return byte(rnd.IntN(256)) })
		changed(fmt.Sprint("page header at ", at), at, 12, func() byte { return byte(rnd.IntN(256)) })
	}
	for range 150 {
		at := rnd.IntN(len(good))
		bit := byte(1) << rnd.IntN(8)
		changed(fmt.Sprint("bit at ", at), at, 1, func() byte { return good[at] ^ bit })
	}
	refused := 0
	for _, s := range all {
		write(t, path, s.data)
		read, err := Open(path, Options{ReadOnly: true})
		if err != nil {
			wantFault(t, err, nil)
			refused++
			continue
		}
		if read.Log().Len() != f.Log().Len() {
			t.Errorf("%s: %d edits of %d", s.what, read.Log().Len(), f.Log().Len())
		}
		sameLog(t, f.Log(), read.Log())
	}
	t.Logf("%d spoiled files, %d refused, the others unharmed where it counts", len(all), refused)
	if refused < len(all)/3 {
		t.Error("hardly any damage was noticed")
	}
}

// small is the bytes of a small good bout.
func small(f testing.TB) []byte {
	path := filepath.Join(f.TempDir(), "small.bout")
	b := mustCreate(f, path)
	mustApply(f, b, "one", note("a", "one"), timeline.SetSheet(timeline.StoredSheet{Name: "s", Data: []byte{1, 2, 3}}))
	mustApply(f, b, "two", note("a", "two"))
	mustClose(f, b)
	data, err := os.ReadFile(path)
	if err != nil {
		f.Fatal(err)
	}
	return data
}

// openAny opens bytes as a bout; what opens must take an edit and keep it.
func openAny(t *testing.T, data []byte) {
	path := filepath.Join(t.TempDir(), "any.bout")
	write(t, path, data)
	read, err := Open(path, Options{ReadOnly: true})
	if err != nil {
		wantFault(t, err, nil)
		return
	}
	f, err := Open(path, Options{Author: "Ada"})
	if err != nil {
		wantFault(t, err, nil)
		return
	}
	defer f.Close()
	sameLog(t, read.Log(), f.Log())
	if _, _, err = f.Apply("note", note("fuzz", "note")); err != nil {
		wantFault(t, err, nil)
		sameLog(t, read.Log(), f.Log())
		return
	}
	if err := f.Close(); err != nil {
		wantFault(t, err, nil)
		return
	}
	again, err := Open(path, Options{ReadOnly: true})
	if err != nil {
		t.Fatalf("taken, written and then refused: %v", err)
	}
	sameLog(t, f.Log(), again.Log())
}

func FuzzOpenAnyBytes(f *testing.F) {
	f.Add([]byte("SQLite format 3\x00"))
	f.Add([]byte("Jam 1"))
	f.Add(small(f)[:4096])
	f.Fuzz(func(t *testing.T, data []byte) { openAny(t, data) })
}

// FuzzOpenMutated changes a good file in up to three places and its length.
func FuzzOpenMutated(f *testing.F) {
	good := small(f)
	f.Add(uint32(18), byte(1), uint32(60), byte(3), uint32(4100), []byte{0x0d, 0}, uint32(0))
	f.Add(uint32(28), byte(0), uint32(5000), byte(255), uint32(8192), []byte("text"), uint32(100))
	f.Fuzz(func(t *testing.T, at1 uint32, b1 byte, at2 uint32, b2 byte, at3 uint32, run []byte, cut uint32) {
		data := append([]byte(nil), good...)
		n := uint32(len(data))
		data[at1%n], data[at2%n] = b1, b2
		copy(data[at3%n:], run)
		openAny(t, data[:n-cut%n])
	})
}
