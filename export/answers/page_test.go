package answers

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
)

func TestPage(t *testing.T) {
	for language, want := range map[string]string{"en": "Hand in", "es": "Entregar", "fr": "Rendre", "de": "Abgeben", "xx": "Hand in"} {
		t.Run(language, func(t *testing.T) {
			var b bytes.Buffer
			if err := formOf(language).WritePage(&b); err != nil {
				t.Fatal(err)
			}
			page := b.String()
			for _, x := range []string{want, quizName, FairnessIn(language), "B: back block", "&lt;b&gt;night&lt;/b&gt;", "שלום 🛼", `name="q4"`} {
				if !strings.Contains(page, x) && !strings.Contains(page, strings.ReplaceAll(x, "'", "&#39;")) {
					t.Errorf("the page lacks %q", x)
				}
			}
			if bad := regexp.MustCompile(`ZgotmplZ|https?:|//[a-z]+\.|<link|@import|url\(|<b>night`).FindString(page); bad != "" {
				t.Errorf("the page holds %q", bad)
			}
			// Every choice has a label, every question its own legend.
			if n := strings.Count(page, `<input type="radio"`); n != strings.Count(page, "<label><input") || n != 3+4+3+3 {
				t.Errorf("%d choices", n)
			}
		})
	}
	f := formOf("en")
	f.Questions = nil
	if err := f.WritePage(&bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "no question") {
		t.Errorf("an empty form: %v", err)
	}
}

// Every text is there in every language, and every text used is in the table.
func TestEveryLanguage(t *testing.T) {
	for english, list := range texts {
		for _, l := range []string{"es", "fr", "de"} {
			if list[l] == "" {
				t.Errorf("%s lacks %q", l, english)
			}
		}
	}
	used := regexp.MustCompile(`\.T "([^"]+)"`).FindAllStringSubmatch(pageText, -1)
	if len(used) < 15 {
		t.Fatalf("only %d texts were found on the page", len(used))
	}
	for _, m := range used {
		if texts[m[1]] == nil {
			t.Errorf("the page says %q, which no language has", m[1])
		}
	}
}
