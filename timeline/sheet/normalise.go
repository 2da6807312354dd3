package sheet

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// plain reduces a heading to lower-case words without accents or punctuation,
// so that "N° d'Équipe", "n equipe" and "No. Equipe" meet: words joined by one
// space, digits apart from letters ("T2" is "t 2"). '#' and "n°" are "no".
func plain(s string) string {
	var b strings.Builder
	last := ' ' // kind of the last rune written: ' ', 'a' letter, '0' digit
	put := func(r, kind rune) {
		if last != ' ' && kind != ' ' && kind != last {
			b.WriteByte(' ')
		}
		if kind == ' ' {
			if last == ' ' {
				return
			}
			r = ' '
		}
		b.WriteRune(r)
		last = kind
	}
	s = strings.NewReplacer("n°", "no ", "N°", "no ", "nº", "no ", "Nº", "no ", "№", "no ", "n.º", "no ", "N.º", "no ").Replace(s)
	for _, r := range norm.NFD.String(strings.ToLower(s)) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case r == 'ß':
			put('s', 'a')
			put('s', 'a')
		case r == 'œ':
			put('o', 'a')
			put('e', 'a')
		case r == 'æ':
			put('a', 'a')
			put('e', 'a')
		case r == 'ª' || r == 'º' || r == '°' || r == '\'' || r == '’' || r == '`':
			put(' ', ' ')
		case r == '#':
			put(' ', ' ')
			put('n', 'a')
			put('o', 'a')
			put(' ', ' ')
		case unicode.IsLetter(r):
			put(r, 'a')
		case unicode.IsDigit(r):
			put(r, '0')
		default:
			put(' ', ' ')
		}
	}
	return strings.TrimSpace(joinInitials(b.String()))
}

// joinInitials turns "n i" (from "N.I.") into "ni": single letters in a row are
// one abbreviation.
func joinInitials(s string) string {
	words := strings.Fields(s)
	var out []string
	for i := 0; i < len(words); {
		j := i
		for j < len(words) && len(words[j]) == 1 && words[j][0] >= 'a' {
			j++
		}
		if j-i >= 2 {
			out = append(out, strings.Join(words[i:j], ""))
			i = j
			continue
		}
		out = append(out, words[i])
		i++
	}
	return strings.Join(out, " ")
}

// noise are words that headings carry without meaning: articles, "number", "mark".
var noise = wordSet(`no nr num numero numeros number nummer de del du des la le les el los of the der die das den dem
	von zur zum al au aux et y und and un una une pro par por for pour en im am mark marca marque markierung x s l d
	ref bout roller derby official oficial officiel offiziell offizielle`)

func wordSet(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

// near reports whether two words of at least five letters differ by one letter
// more, less, other, or swapped: a slip of typing.
func near(a, b string) bool {
	if len(a) < 5 || len(b) < 5 {
		return false
	}
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch {
	case len(a) < len(b):
		return a[i:] == b[i+1:]
	case i == len(a):
		return true
	}
	return a[i+1:] == b[i+1:] ||
		i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}
