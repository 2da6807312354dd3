package collection

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// fileIndex is an index of the two sample bouts, closed, with its whole content.
func fileIndex(t *testing.T) (path string, all []Entry) {
	t.Helper()
	dir := resolve(t.TempDir())
	spring, autumn := sample()
	writeBout(t, filepath.Join(dir, "bouts", "spring.bout"), spring)
	writeBout(t, filepath.Join(dir, "bouts", "autumn.bout"), autumn)
	path = filepath.Join(dir, "index", "collection.db")
	x := mustOpen(t, path)
	if r, err := x.Add(context.Background(), quiet(), filepath.Join(dir, "bouts")); err != nil || len(r.Indexed) != 2 {
		t.Fatalf("%+v, %v", r, err)
	}
	all = mustSearch(t, x, everything)
	if err := x.Close(); err != nil {
		t.Fatal(err)
	}
	return path, all
}

var everything = Query{Limit: -1, Sensitive: SensitiveIn}

// TestDamaged: an index that cannot be used is set aside, and the bouts are read again.
func TestDamaged(t *testing.T) {
	cases := []struct {
		name string
		make func(data []byte) []byte
		says string
	}{
		{"empty", func([]byte) []byte { return nil }, "was damaged"},
		{"a text", func([]byte) []byte { return []byte("bouts: none") }, "was damaged"},
		{"cut off", func(b []byte) []byte { return b[:len(b)/2] }, "was damaged"},
		{"only its header", func(b []byte) []byte { return b[:4096] }, "was damaged"},
		{"zeroes in the middle", func(b []byte) []byte { clear(b[len(b)/3 : len(b)/2]); return b }, "was damaged"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			path, all := fileIndex(t)
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, c.make(data), 0o644); err != nil {
				t.Fatal(err)
			}
			x := mustOpen(t, path)
			notes := strings.Join(x.Notices(), "\n")
			if !strings.Contains(notes, c.says) || !strings.Contains(notes, "set aside as") {
				t.Errorf("it says %q", notes)
			}
			if aside, _ := filepath.Glob(path + ".aside-*[0-9]"); len(aside) != 1 {
				t.Errorf("set aside: %q", aside)
			}
			if _, err := x.Update(context.Background(), quiet()); err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(all, mustSearch(t, x, everything)); d != "" {
				t.Error(d)
			}
			if _, err := x.Rebuild(context.Background(), quiet()); err != nil {
				t.Fatal(err)
			}
			if err := x.Close(); err != nil {
				t.Fatal(err)
			}
			again := mustOpen(t, path)
			if n := again.Notices(); len(n) > 0 {
				t.Errorf("opened again: %q", n)
			}
			if d := cmp.Diff(all, mustSearch(t, again, everything)); d != "" {
				t.Errorf("opened again: %s", d)
			}
		})
	}
}

func TestRefused(t *testing.T) {
	cases := []struct {
		name, says string
		kind       error
		make       func(t *testing.T, path string)
	}{
		{"newer", "newer version", ErrNewer, func(t *testing.T, path string) {
			x := mustOpen(t, path)
			if _, err := x.write.Exec("PRAGMA user_version = 9"); err != nil {
				t.Fatal(err)
			}
			x.Close()
		}},
		{"a bout file", "another program's database", ErrForeign, func(t *testing.T, path string) {
			spring, _ := sample()
			writeBout(t, path, spring)
		}},
		{"a folder", "it is a folder", ErrForeign, func(t *testing.T, path string) { os.Mkdir(path, 0o755) }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "x.db")
			c.make(t, path)
			before, _ := os.ReadFile(path)
			_, err := Open(path)
			if !errors.Is(err, c.kind) || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "--index") {
				t.Errorf("%v", err)
			}
			if now, _ := os.ReadFile(path); string(now) != string(before) {
				t.Error("it was changed")
			}
		})
	}
}

// TestOlder: an index of an older version knows its bouts and reads them again.
func TestOlder(t *testing.T) {
	path, all := fileIndex(t)
	x := mustOpen(t, path)
	if _, err := x.write.Exec("UPDATE bout SET made = 'older'; DELETE FROM entry"); err != nil {
		t.Fatal(err)
	}
	if r, err := x.Update(context.Background(), quiet()); err != nil || len(r.Indexed) != 2 {
		t.Errorf("%+v, %v", r, err)
	}
	if d := cmp.Diff(all, mustSearch(t, x, everything)); d != "" {
		t.Error(d)
	}
}

// TestSpoiled overwrites parts of an index while nobody looks. Nothing may panic;
// what fails says so, and a rebuild always brings everything back.
func TestSpoiled(t *testing.T) {
	path, all := fileIndex(t)
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rnd := rand.New(rand.NewPCG(3, 4))
	ctx := context.Background()
	failed := 0
	for range 25 {
		data := append([]byte(nil), good...)
		at := rnd.IntN(len(data))
		for i := at; i < min(at+1+rnd.IntN(3000), len(data)); i++ {
			data[i] = byte(rnd.IntN(256))
		}
		x := mustOpen(t, path)
		if n := x.Notices(); len(n) > 0 {
			t.Fatalf("after a rebuild: %q", n)
		}
		// The file is exchanged under the open index, so that Open's own look misses it.
		x.disconnect()
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		if err := x.connect(); err != nil {
			failed++
			if err := x.renew(ErrDamaged); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := x.Search(ctx, Query{Words: "back", Limit: -1}); err != nil {
			failed++
		}
		if _, err := x.Rebuild(ctx, quiet()); err != nil {
			t.Fatalf("spoiled at %d: %v", at, err)
		}
		if d := cmp.Diff(all, mustSearch(t, x, everything)); d != "" {
			t.Fatalf("spoiled at %d: %s", at, d)
		}
		if err := x.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if failed == 0 {
		t.Error("no damage was noticed")
	}
}
