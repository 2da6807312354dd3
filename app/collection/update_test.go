package collection

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/app/boutfile"
	"whistlecut/timeline"
)

func TestUpdate(t *testing.T) {
	ctx := context.Background()
	dir := resolve(t.TempDir())
	a, b := filepath.Join(dir, "season", "a.bout"), filepath.Join(dir, "season", "deep", "b.BOUT")
	spring, autumn := sample()
	writeBout(t, a, spring)
	writeBout(t, filepath.Join(dir, "b.bout"), autumn)
	if err := os.MkdirAll(filepath.Dir(b), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(dir, "b.bout"), b); err != nil {
		t.Fatal(err)
	}
	writeBout(t, filepath.Join(dir, "season", ".hidden", "c.bout"), autumn)
	x := newIndex(t)

	look := func(name string, do func() (Report, error), want Report) {
		t.Helper()
		got, err := do()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("%s: %s", name, d)
		}
	}
	add := func(paths ...string) func() (Report, error) {
		return func() (Report, error) { return x.Add(ctx, quiet(), paths...) }
	}
	update := func() (Report, error) { return x.Update(ctx, quiet()) }

	look("a folder", add(filepath.Join(dir, "season")), Report{Indexed: []string{a, b}})
	look("again", add(filepath.Join(dir, "season"), a), Report{Unchanged: 2})
	look("update", update, Report{Unchanged: 2})

	edit(t, a, timeline.SetTag(timeline.Tag{ID: "new", Kind: timeline.KindNote, Note: "afterthought"}))
	look("one changed", update, Report{Indexed: []string{a}, Unchanged: 1})
	if got := keysOf(mustSearch(t, x, Query{Words: "afterthought"})); !slices.Equal(got, []string{"a.bout new"}) {
		t.Error(got)
	}
	edit(t, a, timeline.DeleteTag("new"))
	look("taken back", update, Report{Indexed: []string{a}, Unchanged: 1})
	if got := mustSearch(t, x, Query{Words: "afterthought"}); len(got) > 0 {
		t.Error(keysOf(got))
	}
	before := mustSearch(t, x, Query{Limit: -1, Sensitive: SensitiveIn})

	now := time.Now().Add(time.Hour)
	if err := os.Chtimes(a, now, now); err != nil {
		t.Fatal(err)
	}
	look("written without a change", update, Report{Unchanged: 2})

	moved := filepath.Join(dir, "moved.bout")
	if err := os.Rename(a, moved); err != nil {
		t.Fatal(err)
	}
	look("gone", update, Report{Unchanged: 1, Away: []string{a}})
	look("still gone", update, Report{Unchanged: 1, Away: []string{a}})
	got := mustSearch(t, x, Query{Limit: -1, Sensitive: SensitiveIn})
	for i := range before {
		if before[i].Bout == a {
			before[i].State = Away
		}
	}
	if d := cmp.Diff(before, got); d != "" {
		t.Errorf("entries of a bout that is away: %s", d)
	}
	look("rebuild", func() (Report, error) { return x.Rebuild(ctx, quiet()) }, Report{Indexed: []string{b}, Away: []string{a}})
	if d := cmp.Diff(before, mustSearch(t, x, Query{Limit: -1, Sensitive: SensitiveIn})); d != "" {
		t.Errorf("after a rebuild: %s", d)
	}

	look("found elsewhere", add(moved), Report{Indexed: []string{moved}})
	list, err := x.Bouts(ctx)
	if err != nil || len(list) != 2 || list[0].Path != b || list[1].Path != moved || list[1].Examples != 5 || list[1].State != Here {
		t.Errorf("%+v, %v", list, err)
	}

	copied := filepath.Join(dir, "copy.bout")
	f, err := boutfile.Open(moved, boutfile.Options{ReadOnly: true})
	if err == nil {
		err = f.Backup(copied)
	}
	if err != nil {
		t.Fatal(err)
	}
	look("a copy", add(copied), Report{Indexed: []string{copied}})
	if list, err = x.Bouts(ctx); err != nil || list[2].Path != moved || list[2].CopyOf != copied || list[1].CopyOf != "" {
		t.Errorf("%+v, %v", list, err)
	}

	gone, err := x.Forget(ctx, copied, filepath.Join(dir, "season"), filepath.Join(dir, "nowhere"))
	if err != nil || !slices.Equal(gone, []string{copied, b}) {
		t.Error(gone, err)
	}
	if _, err := os.Stat(copied); err != nil {
		t.Error("forgetting took the bout away")
	}
	if got := x.readKnown(); !slices.Equal(got, []string{moved}) {
		t.Errorf("noted beside the index: %q", got)
	}
}

// TestFaults: a bout that cannot be read stands with its reason and stops no other.
func TestFaults(t *testing.T) {
	ctx := context.Background()
	dir := resolve(t.TempDir())
	spring, autumn := sample()
	good, bad := filepath.Join(dir, "z.bout"), filepath.Join(dir, "bad.bout")
	writeBout(t, good, autumn)
	writeBout(t, bad, spring)
	x := newIndex(t)
	if r, err := x.Add(ctx, quiet(), dir); err != nil || len(r.Indexed) != 2 {
		t.Fatalf("%+v, %v", r, err)
	}
	data, err := os.ReadFile(bad)
	if err != nil {
		t.Fatal(err)
	}
	newer := slices.Clone(data)
	newer[63] = 99 // the schema version in the header
	cases := []struct {
		name, says string
		data       []byte
	}{
		{"cut off", "the file is damaged", data[:5000]},
		{"newer", "newer version", newer},
		{"a text", "it is not a bout file", []byte("Jam 1: four points")},
		{"empty", "it is not a bout file", nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if err := os.WriteFile(bad, c.data, 0o644); err != nil {
				t.Fatal(err)
			}
			edit(t, good, timeline.SetTag(timeline.Tag{ID: "n", Kind: timeline.KindNote, Note: c.name}))
			r, err := x.Update(ctx, quiet())
			if err != nil || len(r.Faults) != 1 || !strings.Contains(r.Faults[0].Reason, c.says) || strings.Contains(r.Faults[0].Reason, dir) || len(r.Indexed) != 1 {
				t.Fatalf("%+v, %v", r, err)
			}
			list, err := x.Bouts(ctx)
			if err != nil || list[1].State != Unreadable || list[1].Reason != r.Faults[0].Reason {
				t.Errorf("%+v, %v", list, err)
			}
			if n, err := x.Count(ctx, Query{Bouts: []string{bad}}); err != nil || n < 10 {
				t.Errorf("%d entries are left (%v)", n, err)
			}
			if now, err := os.ReadFile(bad); err != nil || !slices.Equal(now, c.data) {
				t.Error("the bout was changed")
			}
		})
	}
	t.Run("open elsewhere", func(t *testing.T) {
		if err := os.WriteFile(bad, data, 0o644); err != nil {
			t.Fatal(err)
		}
		f, err := boutfile.Open(bad, boutfile.Options{Author: "Bea"})
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if _, _, err := f.Apply("x", timeline.SetTag(timeline.Tag{ID: "n", Kind: timeline.KindNote, Note: "meanwhile"})); err != nil {
			t.Fatal(err)
		}
		if r, err := x.Update(ctx, quiet()); err != nil || len(r.Faults) > 0 || !slices.Contains(r.Indexed, bad) {
			t.Fatalf("%+v, %v", r, err)
		}
		if got := keysOf(mustSearch(t, x, Query{Words: "meanwhile"})); len(got) != 1 {
			t.Error(got)
		}
	})
	r, err := x.Add(ctx, quiet(), filepath.Join(dir, "none.bout"))
	if err != nil || len(r.Faults) != 1 || r.Faults[0].Reason != "there is no such file or folder" {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestCancel(t *testing.T) {
	dir := resolve(t.TempDir())
	_, autumn := sample()
	var all []string
	for _, n := range []string{"a", "b", "c"} {
		all = append(all, filepath.Join(dir, n+".bout"))
		writeBout(t, all[len(all)-1], autumn)
	}
	x := newIndex(t)
	ctx, cancel := context.WithCancel(context.Background())
	a := quiet()
	a.Progress = progressed(func(f float64) {
		if f > 0.5 {
			cancel()
		}
	})
	r, err := x.Add(ctx, a, dir)
	if !errors.Is(err, context.Canceled) || !slices.Equal(r.Indexed, all[:2]) {
		t.Fatalf("%+v, %v", r, err)
	}
	if r, err = x.Add(context.Background(), quiet(), dir); err != nil || !slices.Equal(r.Indexed, all[2:]) || r.Unchanged != 2 {
		t.Errorf("%+v, %v", r, err)
	}
}
