package collection

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/zeebo/xxh3"
	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// longestToken is where a word is cut off, in letters; nobody types more.
const longestToken = 60

// tokens splits a text into words as they are compared: letters and digits of any
// script, in one case, without accents (NFKD without marks, then case folding, as
// Unicode defines them). Index and query go through it alike, so the database never
// sees anything of a query but these.
func tokens(text string) []string {
	var out []string
	var b strings.Builder
	n := 0
	end := func() {
		if b.Len() > 0 {
			out = append(out, b.String())
			b.Reset()
			n = 0
		}
	}
	for _, r := range fold(text) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsNumber(r):
			if n < longestToken {
				b.WriteRune(r)
			}
			n++
		case unicode.IsMark(r): // an accent: part of the word, and not compared
		default:
			end()
		}
	}
	end()
	return out
}

func fold(text string) string {
	ascii := true
	for i := 0; i < len(text) && ascii; i++ {
		ascii = text[i] < utf8.RuneSelf
	}
	if ascii {
		return strings.ToLower(text)
	}
	text = strings.ToValidUTF8(text, " ")
	// Folding may bring marks back together (İ), so it is decomposed once more.
	return norm.NFKD.String(cases.Fold().String(norm.NFKD.String(text)))
}

// keyOf is a name as it is compared: its words, one blank between them.
func keyOf(name string) string { return strings.Join(tokens(name), " ") }

// An entry's marks are words of the index that no person can type, since they
// begin with a sign of Unicode's private area: one for each value that an entry
// may have several of. So one look-up answers words and values together.
const (
	markCode    = '\uE001' // letter
	markRule    = '\uE002' // section, and each section above it
	markVerdict = '\uE003' // choice
	markSkater  = '\uE004' // name, team and number, side and number, number alone
	markTeam    = '\uE005' // name, and each beginning of it that ends with a word
)

func mark(kind rune, value string) string {
	return fmt.Sprintf("%c%016x", kind, xxh3.HashString(value))
}

// sections lists a section and those above it: 4.1.1, 4.1 and 4.
func sections(s string) []string {
	var out []string
	for s != "" {
		out = append(out, s)
		s = s[:max(strings.LastIndexByte(s, '.'), 0)]
	}
	return out
}

// section is a section as it is compared: "§ 4.1.1." is 4.1.1.
func section(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		if r == '.' || unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
		}
	}
	parts := strings.FieldsFunc(b.String(), func(r rune) bool { return r == '.' })
	return strings.Join(parts, ".")
}
