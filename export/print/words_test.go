package print

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// texts are all English texts a page can hold: those written in t("…") and the
// ones that come from what the numbers name.
func texts(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{consentText: true, decisionText: true}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) == 0 {
				return true
			}
			name := ""
			switch fun := call.Fun.(type) {
			case *ast.SelectorExpr:
				name = fun.Sel.Name
			case *ast.Ident:
				name = fun.Name
			}
			lit, ok := call.Args[0].(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING || name != "t" && !(name == "add" && f == "skater.go") {
				return true
			}
			s, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Fatal(err)
			}
			out[s] = true
			return true
		})
	}
	for _, s := range noteTexts {
		out[s] = true
	}
	for _, b := range []numbers.Basis{numbers.ByJams, numbers.ByPasses, numbers.ByTrips, numbers.NotKnown} {
		out["by "+string(b)] = true
	}
	for _, s := range []string{
		numbers.PatternCode, numbers.PatternRole, numbers.PatternSituation, numbers.PowerFor, numbers.PowerAgainst, numbers.ShortOwn, numbers.ShortOther,
		numbers.LeadOwn, numbers.LeadOther, numbers.LeadNobody, numbers.StarPassOwn, numbers.StarPassOther, numbers.OneLeft, numbers.InOvertime,
		numbers.InLastJam, numbers.WithoutPivot, numbers.InLineup, numbers.WhenLeading, numbers.WhenTrailing, numbers.WhenTied,
		timeline.VerdictTagWrong, timeline.VerdictSheetDiffers, timeline.VerdictUnclear,
	} {
		out[s] = true
	}
	for _, s := range timeline.Sides {
		out[s.String()] = true
	}
	for _, r := range []timeline.Role{timeline.Jammer, timeline.Pivot, timeline.Blocker, timeline.NoRole} {
		out[r.String()] = true
	}
	delete(out, "by ") // the stem of the bases
	return out
}

// Every text is there in every language, with the same places for values, and no
// table holds a text that no page has.
func TestEveryLanguage(t *testing.T) {
	all := texts(t)
	if len(all) < 100 {
		t.Fatalf("only %d texts found; the search is broken", len(all))
	}
	for code, table := range languages {
		for s := range all {
			if table[s] == "" {
				t.Errorf("%s lacks %q", code, s)
			} else if !slices.Equal(verbs(s), verbs(table[s])) {
				t.Errorf("%s: %q has other places for values than %q", code, table[s], s)
			}
		}
		for s := range table {
			if !all[s] {
				t.Errorf("%s has %q, which no page has", code, s)
			}
		}
	}
}

// verbs are the places for values in a text, in order.
func verbs(s string) (out []string) {
	for i := 0; i+1 < len(s); i++ {
		if s[i] == '%' && s[i+1] != ' ' {
			out = append(out, s[i:i+2])
			i++
		}
	}
	return out
}

func TestPagesInOtherLanguages(t *testing.T) {
	src := bout(4)
	in := skaterOf(t, src, most(src))
	for code, words := range map[string][]string{
		"es": {"Pregúntale antes de compartirla", "Faltas: ", "Junto a la media"},
		"fr": {"Demande-lui avant de la partager", "Pénalités: ", "jammeuse"},
		"de": {"Frag sie, bevor du sie weitergibst", "Strafen: ", "Neben dem Schnitt"},
		"xx": {"Ask her before you share it"},
	} {
		t.Run(code, func(t *testing.T) {
			_, text := printed(t, "skater-"+code, func(b *bytes.Buffer) error { return WriteSkater(b, in, Options{Language: code}) })
			if code == "fr" && !strings.Contains(text, words[2]) {
				words = words[:2] // she may have been no jammer
			}
			holds(t, text, words...)
			_, text = printed(t, "numbers-"+code, func(b *bytes.Buffer) error { return WriteNumbers(b, numbers.ReportOf(src), Options{Language: code}) })
			if code != "xx" {
				for _, english := range []string{"Points per jam", "Longest runs", "four blockers", "small sample"} {
					if strings.Contains(text, english) {
						t.Errorf("the numbers say %q in English", english)
					}
				}
			}
		})
	}
}
