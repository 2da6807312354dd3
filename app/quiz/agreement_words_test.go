package quiz

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"whistlecut/app/desk/words"
	"whistlecut/timeline/agreement"
)

// Every text of the report is there in every language: those written in t("…"), and
// the readings of measures.
func TestReportInEveryLanguage(t *testing.T) {
	tree, err := parser.ParseFile(token.NewFileSet(), "agreement_report.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]bool{TrainingNote: true}
	ast.Inspect(tree, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok || len(call.Args) == 0 {
			return true
		}
		if s, ok := call.Fun.(*ast.SelectorExpr); ok && s.Sel.Name == "t" {
			if lit, ok := call.Args[0].(*ast.BasicLit); ok {
				text, err := strconv.Unquote(lit.Value)
				if err != nil {
					t.Fatal(err)
				}
				all[text] = true
			}
		}
		return true
	})
	for _, v := range []float64{1, 0.7, 0.3, -1} {
		all[agreement.ReadAlpha(agreement.Coefficient{Value: v}).Text] = true
	}
	for _, v := range []float64{0.9, 0.7, 0.5, 0.3, 0.1, -1} {
		all[agreement.ReadKappa(agreement.Coefficient{Value: v}).Text] = true
	}
	for _, w := range []agreement.Why{agreement.NoAnswers, agreement.NoPairs, agreement.NoVariation, agreement.NoComplete, agreement.TooFewUnits, agreement.Unstable} {
		all[agreement.ReadAlpha(agreement.Coefficient{Why: w}).Text] = true
	}
	if len(all) < 60 {
		t.Fatalf("only %d texts were found; the search is broken", len(all))
	}
	for _, l := range words.Languages[1:] {
		have, err := words.Texts(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		for text := range all {
			if have[text].Other == "" {
				t.Errorf("%s lacks %q", l.Code, text)
			}
		}
	}
}

// The report is printed in all languages; people stand in it only when asked for.
func TestReport(t *testing.T) {
	p := testPlan(t, 12)
	a, err := MeasureAgreement(p, Collected{Sheets: SimulateGroup(p, 9, 2), Notes: []Note{{"x.json", "something"}}}, 1)
	if err != nil {
		t.Fatal(err)
	}
	for language, want := range map[string]string{"en": "never corrections of the officials", "es": "Nunca son correcciones", "fr": "ne corrigent jamais", "de": "nie Korrekturen"} {
		path := filepath.Join(t.TempDir(), "agreement.pdf")
		if err := AgreementPDF(path, a.Report(p, language, true), language, time.Time{}); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
		if err != nil {
			t.Logf("pdftotext (poppler-utils): %v; only the making is tested", err)
			continue
		}
		for _, w := range []string{want, "Official 03", "Krippendorff's alpha", "x.json: something"} {
			if !bytes.Contains(out, []byte(w)) {
				t.Errorf("%s: the page lacks %q", language, w)
			}
		}
	}
	for _, part := range a.Report(p, "en", false).Parts {
		for _, row := range part.Rows {
			if strings.Contains(strings.Join(row, " "), "Official 0") {
				t.Errorf("a person stands in %q: %v", part.Heading, row)
			}
		}
	}
	if rows := a.Table().Rows; len(rows) != 24 || len(rows[0]) != len(a.Table().Head) {
		t.Errorf("%d rows of data", len(rows))
	}
}
