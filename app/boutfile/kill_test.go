package boutfile

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/app/database/crash"
	"whistlecut/timeline"
)

func init() { crash.Child("write", writeUntilKilled) }

// writeUntilKilled opens the bout and adds to it for ever. It prints an edit's
// ID as soon as the edit is confirmed. Now and then it closes and opens the file,
// so that a kill also falls into these.
func writeUntilKilled() int {
	for round := 0; ; round++ {
		f, err := Open(os.Getenv("WHISTLECUT_BOUT"), Options{Author: "Ada"})
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		for i := range 40 {
			var edits []timeline.Edit
			switch i % 10 {
			case 3:
				var step timeline.Step
				step, err = f.Undo()
				edits = step.Edits
			case 6:
				batch := make([]timeline.Change, batchSize)
				for n := range batch {
					batch[n] = note(fmt.Sprint("b", n), fmt.Sprint(f.Log().Len(), strings.Repeat("x", 1500)))
				}
				_, edits, err = f.Apply(batchLabel, batch...)
			case 8:
				_, edits, err = f.Apply("sheet", sheetOf(20_000, fmt.Sprintf(`{"v":%d}`, f.Log().Len())))
			default:
				_, edits, err = f.Apply("note", note(fmt.Sprint("t", i), fmt.Sprint(f.Log().Len())))
			}
			if err != nil {
				fmt.Fprintln(os.Stderr, err)
				return 1
			}
			for _, e := range edits {
				fmt.Println(e.ID) // one unbuffered write
			}
		}
		if err := f.Close(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
	}
}

const (
	batchSize  = 12
	batchLabel = "batch"
)

// TestKill kills a writer at random instants. Whatever it had confirmed must be
// there afterwards, and actions must be there as a whole or not at all.
func TestKill(t *testing.T) {
	kills := 20
	if os.Getenv("WHISTLECUT_SOAK") != "" {
		kills = 200
	}
	seed := uint64(time.Now().UnixNano())
	rnd := rand.New(rand.NewPCG(seed, 0))
	folder := t.TempDir()
	path := filepath.Join(folder, "kill.bout")
	mustClose(t, mustCreate(t, path))
	confirmed := map[timeline.ID]bool{}
	var withWAL, withLock int
	for k := range kills {
		// By turns counted from the start of the process, to fall into its opening,
		// too, and from the first confirmed edit, so that a slow machine shows something.
		ids := killWriter(t, path, time.Duration(rnd.Int64N(int64(200*time.Millisecond))), k%2 == 1)
		for _, id := range ids {
			confirmed[id] = true
		}
		if hasWAL(path) {
			withWAL++
		}
		if _, err := os.Stat(lockPath(path)); err == nil {
			withLock++
		}
		checkAfterKill(t, fmt.Sprintf("kill %d of seed %d", k, seed), path, Options{ReadOnly: true}, confirmed)
		if k%3 == 0 { // otherwise the next writer is the one that recovers
			checkAfterKill(t, fmt.Sprintf("kill %d of seed %d", k, seed), path, Options{Author: "Bea"}, confirmed)
			onlyFiles(t, folder, "kill.bout")
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("%d kills, %d confirmed edits all there; a write-ahead log was left %d times, a lock %d times", kills, len(confirmed), withWAL, withLock)
	if len(confirmed) < kills || withWAL == 0 || withLock == 0 {
		t.Error("the kills came too early or too late to show anything")
	}
}

// killWriter starts a writer, kills it after a while, counted from its start or
// its first confirmed edit, and returns what it confirmed.
func killWriter(t *testing.T, path string, after time.Duration, fromFirst bool) []timeline.ID {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = crash.Env("write", "WHISTLECUT_BOUT="+path)
	var ids []timeline.ID
	for _, line := range crash.Kill(t, cmd, func() { cmd.Process.Kill() }, after, fromFirst) {
		ids = append(ids, timeline.ID(line))
	}
	return ids
}

func checkAfterKill(t *testing.T, when, path string, o Options, confirmed map[timeline.ID]bool) {
	t.Helper()
	f, err := Open(path, o)
	if err != nil {
		t.Errorf("%s: %v", when, err)
		return
	}
	defer f.Close()
	for id := range confirmed {
		if !f.Log().Has(id) {
			t.Errorf("%s: edit %s was confirmed and is lost", when, id)
		}
	}
	for _, a := range f.Log().History() {
		if a.Label == batchLabel && a.Undoes == "" && len(a.Records) != batchSize {
			t.Errorf("%s: a batch has %d of %d edits", when, len(a.Records), batchSize)
		}
	}
}

func TestLockOfADeadProcessDoesNotBlock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.bout")
	mustClose(t, mustCreate(t, path))
	killWriter(t, path, 0, true)
	if _, err := os.Stat(lockPath(path)); err != nil {
		// Killed between closing and opening; a lock file as such must not block either.
		if err := os.WriteFile(lockPath(path), []byte("somebody\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	mustOpen(t, path, Options{Author: "Bea"})
}
