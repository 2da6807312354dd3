package quiz

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// TestWords: what a group or the trainer reads on film and paper is there in every
// language, and so are the names of all penalties of the newest edition.
func TestWords(t *testing.T) {
	used := map[string]bool{consent: true, opinion: true, "no answer": true}
	for _, q := range timeline.Questions() {
		used[questions[q]] = true
		for _, c := range q.Choices() {
			used[choiceNames[q][c]] = true
		}
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) < 2 {
				return true
			}
			fun, ok := call.Fun.(*ast.SelectorExpr)
			if !ok || fun.Sel.Name != "In" {
				return true
			}
			if lit, ok := call.Args[1].(*ast.BasicLit); ok && lit.Kind == token.STRING {
				s, err := strconv.Unquote(lit.Value)
				if err != nil {
					t.Fatal(err)
				}
				used[s] = true
			}
			return true
		})
	}
	if used[""] || len(used) < 30 {
		t.Fatalf("only %d texts were found, or an answer has no words", len(used))
	}
	editions := timeline.Editions()
	for _, c := range editions[len(editions)-1].Codes {
		used[c.Name] = true
	}
	for _, l := range words.Languages[1:] {
		have, err := words.Texts(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		for s := range used {
			if have[s].Other == "" {
				t.Errorf("%s lacks %q", l.Name, s)
			}
		}
	}
}

func TestAnswerText(t *testing.T) {
	codes := []timeline.PenaltyCode{{Letter: "B", Name: "back block", Section: "4.1.1"}}
	for _, c := range []struct {
		name, language, want string
		ask                  timeline.Question
		a                    timeline.Answer
	}{
		{"with its letter", "en", "penalty B, back block (4.1.1)", timeline.AskPenalty, timeline.Answer{Choice: timeline.ChoiceYes, Code: "B"}},
		{"a section of its own", "de", "Strafe B, Back Block (4.1)", timeline.AskPenalty, timeline.Answer{Choice: timeline.ChoiceYes, Code: "B", Section: "4.1"}},
		{"a letter nobody knows", "en", "penalty Z", timeline.AskPenalty, timeline.Answer{Choice: timeline.ChoiceYes, Code: "Z"}},
		{"no", "fr", "pas de pénalité", timeline.AskPenalty, timeline.Answer{Choice: timeline.ChoiceNo}},
		{"a pass", "es", "ganado (3.1)", timeline.AskPass, timeline.Answer{Choice: timeline.ChoiceYes, Section: "3.1"}},
		{"nothing", "en", "no answer", timeline.AskPass, timeline.Answer{}},
	} {
		if got := AnswerText(c.ask, c.a, codes, c.language); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if got := Asking(timeline.AskPack, timeline.Words{"es": "¿Seguro?"}, "es") + Asking(timeline.AskPack, nil, "de"); got != "¿Seguro?Gibt es ein Pack?" {
		t.Errorf("asked %q", got)
	}
}
