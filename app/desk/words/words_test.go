package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func TestSpeaks(t *testing.T) {
	defer Set("en")
	if got := T("Jam {.jam} of period {.period}", "jam", 7, "period", 2); got != "Jam 7 of period 2" {
		t.Errorf("got %q", got)
	}
	for n, want := range map[int]string{0: "0 findings", 1: "1 finding", 2: "2 findings"} {
		if got := N(n, "{.n} finding", "{.n} findings"); got != want {
			t.Errorf("%d: got %q", n, got)
		}
	}
	Set("xx")
	if Code() != "en" {
		t.Errorf("an unknown language is %q", Code())
	}
}

// used lists the English texts that the desk's source asks for, and whether each counts.
func used(t *testing.T) map[string]bool {
	t.Helper()
	got := map[string]bool{}
	err := filepath.WalkDir("..", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), p, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			c, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			s, ok := c.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			x, ok := s.X.(*ast.Ident)
			if !ok || x.Name != "words" {
				return true
			}
			at := map[string]int{"T": 0, "N": 2}
			i, ok := at[s.Sel.Name]
			if !ok || len(c.Args) <= i {
				return true
			}
			lit, ok := c.Args[i].(*ast.BasicLit)
			if !ok {
				return true // a text chosen at run time comes from a table that says Mark
			}
			v, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Errorf("%s: %v", p, err)
				return true
			}
			got[v] = s.Sel.Name == "N"
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

var place = regexp.MustCompile(`\{\.\w+\}`)

func places(s string) string {
	p := place.FindAllString(s, -1)
	slices.Sort(p)
	return strings.Join(slices.Compact(p), " ")
}

// TestEveryLanguage: each text of the desk is there in each language, with the
// same places to fill.
func TestEveryLanguage(t *testing.T) {
	asked := used(t)
	for _, l := range Languages[1:] {
		have, err := Texts(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		missing := 0
		for english, counts := range asked {
			tr, ok := have[english]
			if !ok || tr.Other == "" {
				if missing++; missing <= 20 {
					t.Errorf("%s lacks %q", l.Code, english)
				}
				continue
			}
			if counts && tr.One == "" {
				t.Errorf("%s: %q counts and needs one and other", l.Code, english)
			}
			if places(tr.Other) != places(english) {
				t.Errorf("%s: %q fills %s, English %q fills %s", l.Code, tr.Other, places(tr.Other), english, places(english))
			}
		}
		if missing > 20 {
			t.Errorf("%s lacks %d texts in all", l.Code, missing)
		}
	}
}
