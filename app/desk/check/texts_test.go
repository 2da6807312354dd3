package check

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// texts reads the literals that a field is given in a package's source: plain
// ones, and the formats of those that are made with Sprintf.
func texts(t *testing.T, dir, field string) (plain, formats []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(files) == 0 {
		t.Fatal(dir, err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			kv, ok := n.(*ast.KeyValueExpr)
			if !ok {
				return true
			}
			if k, ok := kv.Key.(*ast.Ident); !ok || k.Name != field {
				return true
			}
			switch v := kv.Value.(type) {
			case *ast.BasicLit:
				s, _ := strconv.Unquote(v.Value)
				plain = append(plain, s)
			case *ast.CallExpr:
				if len(v.Args) > 0 {
					if l, ok := v.Args[0].(*ast.BasicLit); ok {
						s, _ := strconv.Unquote(l.Value)
						formats = append(formats, s)
					}
				}
			}
			return true
		})
	}
	return plain, formats
}

// TestUncheckedSpoken: every reason that the cross-check can give for not having
// checked something is known here, so that it is never shown in English only.
func TestUncheckedSpoken(t *testing.T) {
	words.Set("de")
	defer words.Set("en")
	plain, formats := texts(t, "../../../timeline/sheet", "Why")
	for _, f := range formats {
		plain = append(plain, strings.NewReplacer("%s", "2 to 4", "%d", "3").Replace(f))
	}
	if len(plain) < 15 {
		t.Fatalf("only %d reasons were found in the source", len(plain))
	}
	for _, w := range plain {
		if got := uncheckedText(w); got == w {
			t.Errorf("%q is not translated", w)
		}
	}
}

// TestCausesSpoken: each cause has words of its own in each language.
func TestCausesSpoken(t *testing.T) {
	defer words.Set("en")
	for _, l := range words.Languages {
		words.Set(l.Code)
		other := causeText(sheet.Finding{Cause: sheet.CauseOther})
		for _, c := range sheet.Causes {
			got := causeText(sheet.Finding{Cause: c, State: sheet.StateDiffers, Sheet: "marked"})
			if got == "" || got == other && c != sheet.CauseOther && c != sheet.CauseTripDigit {
				t.Errorf("%s: %q is %q", l.Code, c, got)
			}
			if n := len([]rune(got)); n > 32 {
				t.Errorf("%s: %q has %d letters, too long for a row", l.Code, got, n)
			}
		}
	}
}

func TestReasonsSpoken(t *testing.T) {
	words.Set("de")
	defer words.Set("en")
	for text, want := range map[string]string{
		"trip 3: 4 as tagged":                                "Trip 3: 4 wie getaggt",
		"trip 2: not seen: 0 to 4":                           "Trip 2: nicht gesehen: 0 bis 4",
		"served 28.5 s of jam time; penalties owed: 30 s":    "saß 28.5 s Jamzeit ab; schuldig waren 30 s",
		"fouled out: 7 penalties are recorded":               "Foul-out: 7 Strafen sind vermerkt",
		"the jam was called off, and only lead can do that":  "der Jam endete durch Call-off, und das kann nur Lead",
		"earned: she went clockwise behind the jammer in it": "earned: she went clockwise behind the jammer in it",
	} {
		if got := reasonText(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

// TestReasonsMade: what a whole bout's recount gives as reasons is translated.
func TestReasonsMade(t *testing.T) {
	d := tasktest.New(t, tasktest.Options{Seed: 9, Jams: 6})
	words.Set("fr")
	defer words.Set("en")
	n := 0
	see := func(list []timeline.Reason) {
		for _, r := range list {
			n++
			if reasonText(r.Text) == r.Text {
				t.Errorf("%q is not translated", r.Text)
			}
		}
	}
	for _, j := range d.Opened.Bout.Jams {
		for _, s := range timeline.Sides {
			see(d.Opened.Bout.WhyPoints(j.ID, s))
			see(d.Opened.Bout.WhyStatus(j.ID, s))
		}
		see([]timeline.Reason{d.Opened.Bout.WhyEnded(j.ID)})
	}
	for _, v := range d.Opened.Bout.Visits {
		see(v.Why)
	}
	for _, f := range d.Opened.Bout.Fouls {
		see(d.Opened.Bout.WhyFoulOut(f.Skater))
	}
	if n < 50 {
		t.Errorf("only %d reasons were seen", n)
	}
}

func TestValues(t *testing.T) {
	for v, want := range map[string]string{
		"": "nothing", "4": "4", "2 to 6": "2 to 6", "X in jam 7 of period 1": "X in jam 7 of period 1",
		"(no code) in jam 2": "no code in jam 2", "row with -3 points": "a row with points: -3", "7 penalties, no FO": "7 penalties, no FO",
	} {
		if got := valueText(v); got != want {
			t.Errorf("%q is %q, want %q", v, got, want)
		}
	}
}

// TestKeys: no key clashes with another of the task, nor with those that hold
// everywhere on the desk.
func TestKeys(t *testing.T) {
	d := tasktest.New(t, tasktest.Options{Seed: 3, NoTags: true})
	b := keys.NewBook(nil)
	for _, k := range []string{"Space", "Left", "Right", "Shift+Left", "Shift+Right", "Home", "End", "F", "L", "F1", "F3", "F4", "F6", "F7", "F8", "F10", "F11"} {
		b.Add(keys.Action{ID: "desk." + k, Keys: []keys.Chord{keys.MustParse(k)}})
	}
	b.Add(New(d).Actions()...)
	if c := b.Clashes(); len(c) != 0 {
		t.Errorf("clashes %v", c)
	}
	for _, a := range New(d).Actions() {
		if a.Title == "" || a.Group == "" || a.Run == nil {
			t.Errorf("%s is incomplete", a.ID)
		}
		for _, c := range a.Keys {
			if len(c.Key) == 1 || c.Key == "Prior" || c.Key == "Next" {
				continue
			}
			switch fyne.KeyName(c.Key) {
			case fyne.KeyUp, fyne.KeyDown, fyne.KeyReturn, fyne.KeyEnter, fyne.KeyDelete:
			default:
				t.Errorf("%s has key %q, which no window sends", a.ID, c.Key)
			}
		}
	}
}

// TestAlsoSpoken: every sentence that the cross-check can write beside a finding is
// known here. They are those of the sheet's check of itself, and what is appended
// to Also.
func TestAlsoSpoken(t *testing.T) {
	words.Set("de")
	defer words.Set("en")
	files, err := filepath.Glob("../../../timeline/sheet/*check*.go")
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		self := strings.Contains(name, "selfcheck")
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			c, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			also := false
			if len(c.Args) == 2 {
				s, ok := c.Args[0].(*ast.SelectorExpr)
				also = ok && s.Sel.Name == "Also"
			}
			if !self && !also {
				return true
			}
			for _, a := range c.Args {
				ast.Inspect(a, func(n ast.Node) bool {
					if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
						if s, _ := strconv.Unquote(l.Value); strings.HasSuffix(s, ".") && strings.Contains(s, " ") {
							all = append(all, s)
						}
					}
					return true
				})
			}
			return true
		})
	}
	if len(all) < 25 {
		t.Fatalf("only %d sentences were found in the source", len(all))
	}
	for _, s := range all {
		s = strings.NewReplacer("%s", "052", "%d", "3").Replace(s)
		if got := alsoText(s); got == s {
			t.Errorf("%q is not translated", s)
		}
	}
}
