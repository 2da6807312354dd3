package collection

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"whistlecut/app/database/crash"
	"whistlecut/timeline"
)

func init() { crash.Child("index", indexUntilKilled) }

// killBout is a bout of which every entry tells which version of it was read.
func killBout(version int) timeline.Facts {
	f := timeline.Facts{Info: timeline.Info{Date: "2026-05-01"}, Tags: map[timeline.ID]timeline.Tag{}}
	f.Rules, _ = timeline.Edition("2025")
	for i := range killEntries {
		id := timeline.ID(fmt.Sprint("n", i))
		f.Tags[id] = timeline.Tag{ID: id, Kind: timeline.KindNote, Note: fmt.Sprintf("version%d of note %d", version, i)}
	}
	return f
}

const (
	killEntries = 40
	killBouts   = 5
)

// indexUntilKilled takes bouts into an index for ever. It prints which bout of
// which version as soon as that is confirmed. Now and then it closes and opens the
// index, so that a kill also falls into these.
func indexUntilKilled() int {
	var first int
	if _, err := fmt.Sscan(os.Getenv("WHISTLECUT_VERSION"), &first); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	for version := first; ; version++ {
		x, err := Open(os.Getenv("WHISTLECUT_INDEX"))
		if err == nil && len(x.Notices()) > 0 {
			err = errors.New(x.Notices()[0])
		}
		for b := 0; b < killBouts && err == nil; b++ {
			if err = x.PutFacts(context.Background(), fmt.Sprintf("/kill/%d.bout", b), killBout(version)); err == nil {
				fmt.Println(b, version) // one unbuffered write
			}
		}
		if err == nil {
			err = x.Close()
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
	}
}

// TestKill kills an indexer at random instants. Each bout must be there afterwards
// as a whole, of the version confirmed last or the one after it, in its entries as
// in the words.
func TestKill(t *testing.T) {
	kills := 14
	if os.Getenv("WHISTLECUT_SOAK") != "" {
		kills = 200
	}
	seed := uint64(time.Now().UnixNano())
	rnd := rand.New(rand.NewPCG(seed, 0))
	path := filepath.Join(t.TempDir(), "collection.db")
	last := map[int]int{} // version confirmed last, by bout
	next, withWAL := 1, 0
	for k := range kills {
		for b, v := range killIndexer(t, path, next, time.Duration(rnd.Int64N(int64(200*time.Millisecond))), k%2 == 1) {
			last[b] = v
			next = max(next, v)
		}
		if info, err := os.Stat(path + "-wal"); err == nil && info.Size() > 0 {
			withWAL++
		}
		checkKilled(t, fmt.Sprintf("kill %d of seed %d", k, seed), path, last)
		if t.Failed() {
			return
		}
		next++
	}
	t.Logf("%d kills, up to version %d, a write-ahead log was left %d times", kills, next, withWAL)
	if len(last) < killBouts || withWAL == 0 {
		t.Error("the kills came too early or too late to show anything")
	}
}

// killIndexer starts an indexer and kills it; it returns which version of each bout
// was confirmed last.
func killIndexer(t *testing.T, path string, version int, after time.Duration, fromFirst bool) map[int]int {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = crash.Env("index", "WHISTLECUT_INDEX="+path, fmt.Sprint("WHISTLECUT_VERSION=", version))
	confirmed := map[int]int{}
	for _, line := range crash.Kill(t, cmd, func() { cmd.Process.Kill() }, after, fromFirst) {
		var b, v int
		if _, err := fmt.Sscan(line, &b, &v); err != nil {
			t.Fatal(err)
		}
		confirmed[b] = v
	}
	return confirmed
}

func checkKilled(t *testing.T, when, path string, last map[int]int) {
	t.Helper()
	x, err := Open(path)
	if err != nil {
		t.Fatalf("%s: %v", when, err)
	}
	defer x.Close()
	if n := x.Notices(); len(n) > 0 {
		t.Fatalf("%s: %s", when, n)
	}
	if err := x.wholly(t.Context()); err != nil {
		t.Fatalf("%s: %v", when, err)
	}
	list, err := x.Bouts(t.Context())
	if err != nil {
		t.Fatalf("%s: %v", when, err)
	}
	there := map[string]bool{}
	for _, b := range list {
		there[b.Path] = true
		entries := mustSearch(t, x, Query{Bouts: []string{b.Path}, Limit: -1})
		if len(entries) != killEntries || b.Entries != killEntries {
			t.Errorf("%s: %s has %d entries, %d counted", when, b.Path, len(entries), b.Entries)
			continue
		}
		var bout, version int
		if _, err := fmt.Sscanf(b.Path, "/kill/%d.bout", &bout); err != nil {
			t.Fatal(err)
		}
		if _, err := fmt.Sscanf(entries[0].Note, "version%d", &version); err != nil {
			t.Fatal(err)
		}
		if last[bout] > version {
			t.Errorf("%s: version %d of bout %d was confirmed, and %d is there", when, last[bout], bout, version)
		}
		if n, err := x.Count(t.Context(), Query{Bouts: []string{b.Path}, Words: fmt.Sprintf("version%d note", version)}); err != nil || n != killEntries {
			t.Errorf("%s: by words %d of %d entries are of version %d (%v)", when, n, killEntries, version, err)
		}
	}
	for b := range last {
		if !there[fmt.Sprintf("/kill/%d.bout", b)] {
			t.Errorf("%s: bout %d was confirmed and is lost", when, b)
		}
	}
}
