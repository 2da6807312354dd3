package bench

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/boutfile"
	"whistlecut/app/collection"
	"whistlecut/timeline"
)

// CollectOptions choose how large a collection is measured.
type CollectOptions struct {
	Seed     uint64
	Bouts    int // 0 is 300
	Entries  int // a bout; 0 is 334
	Searches int // of each kind; 0 is 60
	// Files is how many of the bouts are written as files, too, so that reading them
	// is timed; 0 is 20.
	Files int
	Dir   string // where the index is made; a temporary folder when empty
}

func (o CollectOptions) withDefaults() CollectOptions {
	set := func(n *int, usual int) {
		if *n == 0 {
			*n = usual
		}
	}
	set(&o.Bouts, 300)
	set(&o.Entries, 334)
	set(&o.Searches, 60)
	set(&o.Files, 20)
	return o
}

// CollectReport is what was measured.
type CollectReport struct {
	Bouts, Entries, Examples int
	// Made is how long all bouts took from facts to the index, Derive included.
	Made time.Duration
	// Read and Unchanged are for one bout file: all of it, and seeing that it did not change.
	Read, Unchanged time.Duration
	Bytes           int64 // of the index
	Search          Spread
	Rows            []CollectRow
}

// CollectRow is one kind of search: the first page, and how many there are.
type CollectRow struct {
	Name          string
	Search, Count Spread
	Found         int // by all searches of the row together
}

// Collect makes an index of generated bouts without film and measures how long
// its making and a mix of searches take.
func Collect(ctx context.Context, out io.Writer, o CollectOptions) (rep CollectReport, err error) {
	o = o.withDefaults()
	dir, done, err := workFolder(o.Dir, "whistlecut-collect-*")
	if err != nil {
		return rep, err
	}
	defer done()
	path := filepath.Join(dir, fmt.Sprintf("collect-%d.db", o.Bouts))
	if _, err := os.Stat(path); err == nil {
		return rep, fmt.Errorf("there is a file %s already; remove it or name another folder", path)
	}
	x, err := collection.Open(path)
	if err != nil {
		return rep, err
	}
	defer x.Close()
	fmt.Fprintf(out, "An index of %d bouts with %d entries each. %s.\n", o.Bouts, o.Entries, loadLine())
	g := newSeason(o.Seed, o.Bouts, o.Entries)
	if err := rep.make(ctx, x, g, o); err != nil {
		return rep, err
	}
	if err := rep.files(ctx, x, g, filepath.Join(dir, "bouts"), o); err != nil {
		return rep, err
	}
	for _, suffix := range []string{"", "-wal"} {
		if info, err := os.Stat(path + suffix); err == nil {
			rep.Bytes += info.Size()
		}
	}
	fmt.Fprintf(out, "%d entries, %d of them examples; made from facts in %s, %.1f ms a bout; %.1f MB, %.0f bytes an entry\n",
		rep.Entries, rep.Examples, rep.Made.Round(10*time.Millisecond), ms(rep.Made)/float64(o.Bouts), float64(rep.Bytes)/1e6, float64(rep.Bytes)/float64(rep.Entries))
	fmt.Fprintf(out, "a bout file (%d tried): read and taken in %.1f ms, found unchanged %.2f ms\n\n", o.Files, ms(rep.Read), ms(rep.Unchanged))
	if err := rep.searches(ctx, out, x, g, o); err != nil {
		return rep, err
	}
	fmt.Fprintf(out, "%s.\n", loadLine())
	return rep, nil
}

func (rep *CollectReport) make(ctx context.Context, x *collection.Index, g *season, o CollectOptions) error {
	var facts time.Duration
	start := time.Now()
	for i := range o.Bouts {
		before := time.Now()
		f := g.bout(i)
		facts += time.Since(before)
		if err := x.PutFacts(ctx, fmt.Sprintf("/season/%04d.bout", i), f); err != nil {
			return err
		}
	}
	rep.Made = time.Since(start) - facts // inventing them is no part of it
	list, err := x.Bouts(ctx)
	if err != nil {
		return err
	}
	rep.Bouts = len(list)
	for _, b := range list {
		rep.Entries += b.Entries
		rep.Examples += b.Examples
	}
	return nil
}

// files times bout files, which are forgotten again.
func (rep *CollectReport) files(ctx context.Context, x *collection.Index, g *season, dir string, o CollectOptions) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	a := &app.App{Author: "bench"}
	for i := range o.Files {
		f, err := boutfile.Create(filepath.Join(dir, fmt.Sprintf("%d.bout", i)), boutfile.Options{Author: "bench"})
		if err != nil {
			return err
		}
		_, _, err = f.Apply("made", timeline.FactsChanges(g.bout(i))...)
		if cerr := f.Close(); err == nil {
			err = cerr
		}
		if err != nil {
			return err
		}
	}
	for _, d := range []*time.Duration{&rep.Read, &rep.Unchanged} {
		start := time.Now()
		r, err := x.Add(ctx, a, dir)
		if err != nil {
			return err
		}
		if len(r.Faults) > 0 {
			return fmt.Errorf("%s: %s", r.Faults[0].Path, r.Faults[0].Reason)
		}
		*d = time.Since(start) / time.Duration(max(o.Files, 1))
	}
	_, err := x.Forget(ctx, dir)
	return err
}

const collectLine = "%-46s %9s %9s %9s %9s %9s\n"

func (rep *CollectReport) searches(ctx context.Context, out io.Writer, x *collection.Index, g *season, o CollectOptions) error {
	fmt.Fprintf(out, collectLine, "the first 50, and how many there are; ms", "list p50", "p95", "count p50", "p95", "found")
	var all []time.Duration
	for _, k := range searchKinds {
		rnd := rand.New(rand.NewPCG(o.Seed, 7))
		row := CollectRow{Name: k.name}
		var list, count []time.Duration
		for range o.Searches {
			if err := ctx.Err(); err != nil {
				return err
			}
			q := k.make(rnd, g)
			if q.Limit == 0 {
				q.Limit = 50
			}
			start := time.Now()
			if _, err := x.Search(ctx, q); err != nil {
				return err
			}
			middle := time.Now()
			n, err := x.Count(ctx, q)
			if err != nil {
				return err
			}
			list, count = append(list, middle.Sub(start)), append(count, time.Since(middle))
			row.Found += n
		}
		row.Search, row.Count = spreadOf(list), spreadOf(count)
		rep.Rows = append(rep.Rows, row)
		all = append(all, list...)
		fmt.Fprintf(out, collectLine, row.Name, tenth(row.Search.P50), tenth(row.Search.P95), tenth(row.Count.P50), tenth(row.Count.P95), fmt.Sprintf("%.1f", float64(row.Found)/float64(o.Searches)))
	}
	rep.Search = spreadOf(all)
	fmt.Fprintf(out, collectLine, "all lists", tenth(rep.Search.P50), tenth(rep.Search.P95), "", "", "")
	return rep.facets(ctx, out, x, g, o)
}

// facets times what a list shows beside it: how many there are of each value.
func (rep *CollectReport) facets(ctx context.Context, out io.Writer, x *collection.Index, g *season, o CollectOptions) error {
	facets := []collection.Facet{collection.FacetKind, collection.FacetCode, collection.FacetVerdict, collection.FacetDifficulty, collection.FacetEdition, collection.FacetBout}
	fmt.Fprintf(out, "\nentries counted by %d facets at once; ms\n", len(facets))
	for _, k := range searchKinds {
		if !k.facets {
			continue
		}
		rnd := rand.New(rand.NewPCG(o.Seed, 7))
		var d []time.Duration
		for range max(o.Searches/6, 3) {
			if err := ctx.Err(); err != nil {
				return err
			}
			start := time.Now()
			if _, err := x.Counts(ctx, k.make(rnd, g), facets...); err != nil {
				return err
			}
			d = append(d, time.Since(start))
		}
		q := spreadOf(d)
		fmt.Fprintf(out, collectLine, k.name, tenth(q.P50), tenth(q.P95), "", "", "")
	}
	return nil
}

func tenth(d time.Duration) string { return fmt.Sprintf("%.1f", ms(d)) }

// loadLine says on what and beside how much other work it is measured.
func loadLine() string {
	line := fmt.Sprintf("%d processors", runtime.NumCPU())
	if b, err := os.ReadFile("/proc/loadavg"); err == nil {
		if f := strings.Fields(string(b)); len(f) > 2 {
			line += ", load " + strings.Join(f[:3], " ")
		}
	}
	return line
}
