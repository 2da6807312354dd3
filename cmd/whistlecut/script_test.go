package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"whistlecut": func() { main() },
	})
}

// staged is one small demo bout that scripts copy.
var staged struct {
	once sync.Once
	dir  string
	err  error
}

func stageOnce(t testing.TB) string {
	t.Helper()
	staged.once.Do(func() {
		staged.dir, staged.err = os.MkdirTemp("", "whistlecut-script-*")
		if staged.err != nil {
			return
		}
		var out, errOut bytes.Buffer
		args := []string{"stage", filepath.Join(staged.dir, "demo"), "--size", "320x180", "--jams", "3", "--periods", "1", "--seed", "7", "--mistakes", "4"}
		if code := run(context.Background(), args, strings.NewReader(""), &out, &errOut); code != exitDone {
			staged.err = fmt.Errorf("stage exited with %d: %s", code, errOut.String())
		}
	})
	if staged.err != nil {
		t.Fatal(staged.err)
	}
	return filepath.Join(staged.dir, "demo")
}

func TestScripts(t *testing.T) {
	demo := stageOnce(t)
	t.Cleanup(func() { os.RemoveAll(staged.dir) })
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			// Nothing of the person who runs the tests is read or written.
			e.Setenv("HOME", filepath.Join(e.WorkDir, "home"))
			e.Setenv("XDG_CONFIG_HOME", filepath.Join(e.WorkDir, "config"))
			e.Setenv("XDG_DATA_HOME", filepath.Join(e.WorkDir, "data"))
			e.Setenv("XDG_CACHE_HOME", filepath.Join(e.WorkDir, "cache"))
			e.Setenv("WHISTLECUT_AUTHOR", "Tester")
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			// demo DIR copies the staged bout.
			"demo": func(ts *testscript.TestScript, _ bool, args []string) {
				ts.Check(os.CopyFS(ts.MkAbs(args[0]), os.DirFS(demo)))
			},
			// exits CODE COMMAND... runs a command that must exit with the code.
			"exits": func(ts *testscript.TestScript, _ bool, args []string) {
				err := ts.Exec(args[1], args[2:]...)
				got := "0"
				if err != nil {
					got = strings.TrimPrefix(err.Error(), "exit status ")
				}
				if got != args[0] {
					ts.Fatalf("exit status %s, want %s", got, args[0])
				}
			},
			// truncate FILE BYTES cuts a file off.
			"truncate": func(ts *testscript.TestScript, _ bool, args []string) {
				var n int64
				_, err := fmt.Sscan(args[1], &n)
				ts.Check(err)
				ts.Check(os.Truncate(ts.MkAbs(args[0]), n))
			},
			// nothingin DIR fails if a folder holds any file, hidden ones, too.
			"nothingin": func(ts *testscript.TestScript, _ bool, args []string) {
				list, err := os.ReadDir(ts.MkAbs(args[0]))
				if err != nil && !os.IsNotExist(err) {
					ts.Fatalf("%v", err)
				}
				for _, f := range list {
					ts.Fatalf("%s was left in %s", f.Name(), args[0])
				}
			},
		},
	})
}
