package collection

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"whistlecut/app"
	"whistlecut/app/boutfile"
	"whistlecut/app/database/crash"
	"whistlecut/timeline"
)

// The test binary starts itself as a child that is killed.
func TestMain(m *testing.M) { crash.Main(m) }

func mustOpen(t testing.TB, path string) *Index {
	t.Helper()
	x, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { x.Close() })
	return x
}

func newIndex(t testing.TB) *Index {
	t.Helper()
	return mustOpen(t, filepath.Join(t.TempDir(), "collection.db"))
}

func mustPut(t testing.TB, x *Index, path string, f timeline.Facts) {
	t.Helper()
	if err := x.PutFacts(context.Background(), path, f); err != nil {
		t.Fatal(err)
	}
}

func mustSearch(t testing.TB, x *Index, q Query) []Entry {
	t.Helper()
	out, err := x.Search(context.Background(), q)
	if err != nil {
		t.Fatalf("%+v: %v", q, err)
	}
	return out
}

// writeBout makes a bout file of facts.
func writeBout(t testing.TB, path string, f timeline.Facts) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	b, err := boutfile.Create(path, boutfile.Options{Author: "Ada"})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := b.Apply("made", timeline.FactsChanges(f)...); err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
}

// edit changes a bout file.
func edit(t testing.TB, path string, changes ...timeline.Change) {
	t.Helper()
	b, err := boutfile.Open(path, boutfile.Options{Author: "Ada"})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := b.Apply("changed", changes...); err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
}

func quiet() *app.App { return &app.App{Author: "Ada"} }

func keysOf(list []Entry) []string {
	out := []string{}
	for _, e := range list {
		out = append(out, filepath.Base(e.Bout)+" "+e.Key)
	}
	return out
}

func progressed(f func(float64)) func(app.Progress) {
	return func(p app.Progress) { f(p.Fraction) }
}
