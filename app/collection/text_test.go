package collection

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
)

func TestTokens(t *testing.T) {
	cases := []struct {
		name, text string
		want       []string
	}{
		{"signs part words", `Back-block, "by" the #052!`, []string{"back", "block", "by", "the", "052"}},
		{"accents", "Élan naïve Ñandú ångström", []string{"elan", "naive", "nandu", "angstrom"}},
		{"composed and not", "é e\u0301", []string{"e", "e"}},
		{"Greek", "ΖΩΉ Ρόδα τους", []string{"ζωη", "ροδα", "τουσ"}},
		{"Cyrillic", "Ёлка ЙОД", []string{"елка", "иод"}},
		{"sharp s and ligatures", "Straße ﬁn Ǆ", []string{"strasse", "fin", "dz"}},
		{"Turkish", "İstanbul ısı", []string{"istanbul", "ısı"}},
		{"apostrophes part", "l'arrière O’Neil", []string{"l", "arriere", "o", "neil"}},
		{"a script without blanks", "背中", []string{"背中"}},
		{"signs only", `"* :-) \x00`, []string{"x00"}},
		{"no text", "", nil},
		{"broken bytes", "a\xff\xfeb \xc3", []string{"a", "b"}},
		{"private signs are no letters", "\uE004abc", []string{"abc"}},
		{"a very long word", strings.Repeat("Ж", 5000), []string{strings.Repeat("ж", longestToken)}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if d := cmp.Diff(c.want, tokens(c.text)); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestSections(t *testing.T) {
	for in, want := range map[string]string{"4.1.1": "4.1.1", " § 4.1. ": "4.1", "Rule 4.1.1": "rule4.1.1", "..": "", "C4": "c4"} {
		if got := section(in); got != want {
			t.Errorf("%q is %q, want %q", in, got, want)
		}
	}
	if got := sections("4.10.2"); !slices.Equal(got, []string{"4.10.2", "4.10", "4"}) {
		t.Error(got)
	}
}

// hostile are texts that mean something to databases, shells or nobody.
var hostile = []string{
	`"`, `""`, `'`, `';--`, `'; DROP TABLE entry; --`, `back" OR "1"="1`, "NEAR(a b, 3)", "NOT", "AND", "a AND", "OR OR", "said:back", "-said:back",
	"^back", "back*", "*", "(", ")", "((((((", "{said}:x", "+", "a + b", "%", "_", "\x00", "a\x00b", "\uE001", "\uE001b", "\xff\xfe", "\\", "?1", ":x", "@x", "$x",
	strings.Repeat("word ", 5000), strings.Repeat("x", 200_000), strings.Repeat("(", 5000), "\u202Eback", "🛼", "é\u0301\u0301\u0301", "ﷺ", "\n\t\r",
}

// TestHostile: no text makes a search fail, whichever field it stands in.
func TestHostile(t *testing.T) {
	x := sampleIndex(t)
	for _, h := range append(hostile, manyWords()) {
		for _, q := range []Query{
			{Words: h},
			{Skaters: []string{h}, Teams: []string{h}},
			{Codes: []string{h}, Rules: []string{h}, Editions: []string{h}, From: h, To: h},
			{Kinds: []timeline.Kind{timeline.Kind(h)}, Bouts: []string{h}, Newest: h, Outdated: true},
		} {
			if _, err := x.Search(context.Background(), q); err != nil {
				t.Errorf("%.40q: %v", h, err)
			}
			if _, err := x.Counts(context.Background(), q, FacetKind); err != nil {
				t.Errorf("%.40q counted: %v", h, err)
			}
		}
	}
	if n, err := x.Count(context.Background(), everything); err != nil || n < 20 {
		t.Errorf("%d entries are left (%v)", n, err)
	}
}

// manyWords is a text of thousands of different words.
func manyWords() string {
	var b strings.Builder
	for i := range 5000 {
		for n := i; ; n /= 26 {
			b.WriteByte(byte('a' + n%26))
			if n < 26 {
				break
			}
		}
		b.WriteByte(' ')
	}
	return b.String()
}

func FuzzSearch(f *testing.F) {
	for _, h := range hostile {
		if len(h) < 1000 {
			f.Add(h)
		}
	}
	x := sampleIndex(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, q := range []Query{{Words: text}, {Skaters: []string{text}, Rules: []string{text}, To: text}} {
			list, err := x.Search(t.Context(), q)
			if err != nil {
				t.Fatalf("%q: %v", text, err)
			}
			if n, err := x.Count(t.Context(), q); err != nil || n != len(list) {
				t.Fatalf("%q: %d of %d, %v", text, n, len(list), err)
			}
		}
		for _, w := range tokens(text) {
			if got := tokens(w); len(got) != 1 || got[0] != w {
				t.Fatalf("the word %q of %q becomes %q", w, text, got)
			}
		}
	})
}
