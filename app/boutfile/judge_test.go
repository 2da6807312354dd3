package boutfile

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestJudgeIntegrity asks SQLite's own command, which shares no build with the
// library linked here, whether files in every state are sound, and counts the
// edits with it.
func TestJudgeIntegrity(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") != "1" {
		t.Skip("outside programs judge with WHISTLECUT_JUDGES=1, as in make judges")
	}
	sqlite := func(args ...string) string {
		t.Helper()
		var errs bytes.Buffer
		cmd := exec.Command("sqlite3", args...)
		cmd.Stderr = &errs
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("sqlite3 %s: %v\n%s", strings.Join(args, " "), err, errs.Bytes())
		}
		return strings.TrimSpace(string(out))
	}
	folder := t.TempDir()
	full, copied, old := filepath.Join(folder, "full.bout"), filepath.Join(folder, "copy.bout"), filepath.Join(folder, "old.bout")
	f := mustCreate(t, full)
	fill(t, f)
	if err := f.Backup(copied); err != nil {
		t.Fatal(err)
	}
	first := f.Log().Len()
	mustApply(t, f, "later", note("later", "after the copy"))
	if _, err := f.Undo(); err != nil {
		t.Fatal(err)
	}
	record := fmt.Sprintf("What SQLite's own command says of bout files written here.\nsqlite3 %s; sqlite3 -readonly FILE 'PRAGMA integrity_check; PRAGMA foreign_key_check; SELECT count(*) FROM edit'\nMade by TestJudgeIntegrity (make judges), %s\n\n",
		sqlite("--version"), time.Now().UTC().Format("2006-01-02"))
	judge := func(name, path string, edits int) {
		t.Helper()
		said := sqlite("-readonly", path, "PRAGMA integrity_check; PRAGMA foreign_key_check; SELECT count(*) FROM edit")
		if want := fmt.Sprintf("ok\n%d", edits); said != want {
			t.Errorf("%s: sqlite3 says %q, want %q", name, said, want)
		}
		record += fmt.Sprintf("%s: %s\n", name, strings.ReplaceAll(said, "\n", ", "))
	}
	judge("open, with its log of changes", full, f.Log().Len())
	judge("safe copy made while open", copied, first)
	mustClose(t, f)
	judge("closed", full, f.Log().Len())
	v1, err := os.ReadFile(filepath.Join("testdata", "v1.bout"))
	if err != nil {
		t.Fatal(err)
	}
	write(t, old, v1)
	g := mustOpen(t, old, Options{Author: "Bea"})
	mustApply(t, g, "on the old file", note("new", "new"))
	mustClose(t, g)
	judge("carried over from the first form", old, g.Log().Len())
	if t.Failed() {
		return
	}
	if err := os.WriteFile(filepath.Join("testdata", "judge-sqlite3.txt"), []byte(record), 0o644); err != nil {
		t.Fatal(err)
	}
}
