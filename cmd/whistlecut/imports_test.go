package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// level orders the folders: a package may import its own level or a lower one,
// never a higher. The timeline root is lowest; its subfolders stand on it.
func level(pkg string) int {
	switch top, _, _ := strings.Cut(pkg, "/"); top {
	case "cmd":
		return 4
	case "app":
		return 3
	case "export":
		return 2
	case "timeline":
		if pkg == "timeline" {
			return 0
		}
		return 1
	}
	return -1
}

// pure packages know no process, no SQL and no window.
var pure = []string{"timeline", "timeline/simulate", "timeline/sheet", "timeline/whistle", "timeline/align", "timeline/numbers", "timeline/agreement"}

func isPure(pkg string) bool {
	for _, p := range pure {
		if pkg == p || p != "timeline" && strings.HasPrefix(pkg, p+"/") {
			return true
		}
	}
	return false
}

// backArrow says what is wrong with pkg importing imp, or "".
func backArrow(pkg, imp string, test bool) string {
	own, isOwn := strings.CutPrefix(imp, "whistlecut/")
	std := !strings.Contains(strings.Split(imp, "/")[0], ".") && !isOwn
	switch {
	case isOwn && level(own) > level(pkg):
		return "an arrow back up"
	case pkg == "timeline" && !std && !isOwn && !test:
		return "the timeline root imports the standard library only"
	case isPure(pkg) && !test && (imp == "os/exec" || strings.HasPrefix(imp, "database/sql") ||
		strings.HasPrefix(imp, "modernc.org/sqlite") || strings.HasPrefix(imp, "fyne.io/")):
		return "a pure package knows no process, no SQL and no window"
	case strings.HasPrefix(imp, "fyne.io/") && pkg != "app/desk" && !strings.HasPrefix(pkg, "app/desk/"):
		return "only app/desk knows the window"
	case imp == "github.com/u2takey/ffmpeg-go" && pkg != "timeline/footage/ffmpeg":
		return "only timeline/footage/ffmpeg composes with ffmpeg-go"
	case imp == "os/exec" && !test && pkg != "timeline/footage/ffmpeg":
		return "only timeline/footage/ffmpeg starts processes"
	}
	return ""
}

func TestImportsPointOneWay(t *testing.T) {
	root := filepath.Join("..", "..")
	files := 0
	for _, top := range []string{"cmd", "app", "export", "timeline"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() && (d.Name() == "testdata" || d.Name() == "awsstub") {
				return filepath.SkipDir // awsstub is a module of its own
			}
			if d.IsDir() || !strings.HasSuffix(path, ".go") {
				return nil
			}
			files++
			rel, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			pkg := filepath.ToSlash(filepath.Dir(rel))
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			for _, spec := range f.Imports {
				imp := strings.Trim(spec.Path.Value, `"`)
				if wrong := backArrow(pkg, imp, strings.HasSuffix(path, "_test.go")); wrong != "" {
					t.Errorf("%s imports %s: %s", rel, imp, wrong)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if files < 20 {
		t.Fatalf("only %d Go files were looked at; the test walks the wrong folder", files)
	}
}

// The rule itself is tested, so that a broken walk cannot pass for a clean tree.
func TestBackArrow(t *testing.T) {
	for _, c := range []struct {
		name, pkg, imp string
		test, wrong    bool
	}{
		{"the core takes the standard library", "timeline", "encoding/json", false, false},
		{"the core takes nothing else", "timeline", "gonum.org/v1/gonum/stat", false, true},
		{"the core's tests may use a property tester", "timeline", "pgregory.net/rapid", true, false},
		{"the core never looks up", "timeline", "whistlecut/timeline/sheet", true, true},
		{"export looks down", "export/clip", "whistlecut/timeline/footage", false, false},
		{"export never looks at app", "export/clip", "whistlecut/app/boutfile", false, true},
		{"app looks at export", "app/bench", "whistlecut/export/clip", false, false},
		{"the sheet opens no database", "timeline/sheet", "database/sql", false, true},
		{"the sheet starts no process", "timeline/sheet", "os/exec", false, true},
		{"processes start in one place", "export/clip", "os/exec", false, true},
		{"the window stays in the desk", "app/play", "fyne.io/fyne/v2", false, true},
		{"the desk is the window", "app/desk/strip", "fyne.io/fyne/v2", false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := backArrow(c.pkg, c.imp, c.test) != ""; got != c.wrong {
				t.Errorf("%s importing %s: refused %v, want %v", c.pkg, c.imp, got, c.wrong)
			}
		})
	}
}
