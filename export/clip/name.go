package clip

import (
	"fmt"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"
)

// DefaultName is the template for names of clips.
const DefaultName = "{n}[ P{period}][ J{jam}][ {kind}][ {skater}]"

// maxName bounds a name in bytes, ending and number not counted; file systems
// take 255.
const maxName = 120

// Name fills in a template for names of files. {n} is the clip's number, as
// wide as the largest; {film} the film's name without its ending; {kind} and
// any other {word} the moment's label. What stands in square brackets is left
// out if a label in it is empty. Characters that some file system refuses are
// replaced. The result has no ending.
func Name(template string, w Window, n, of int) (string, error) {
	lookup := func(word string) (string, bool) {
		switch word {
		case "n":
			return fmt.Sprintf("%0*d", len(fmt.Sprint(of)), n), true
		case "film":
			base := filepath.Base(w.Footage)
			return strings.TrimSuffix(base, filepath.Ext(base)), true
		}
		v := w.label(word)
		return v, v != ""
	}
	s, _, err := fill(template, lookup, false)
	if err != nil {
		return "", err
	}
	s = SafeName(s)
	if s == "" {
		s = fmt.Sprintf("clip %0*d", len(fmt.Sprint(of)), n)
	}
	return s, nil
}

// fill replaces words in braces; inner is true inside brackets. full is false
// if a word was empty.
func fill(t string, lookup func(string) (string, bool), inner bool) (out string, full bool, err error) {
	var b strings.Builder
	full = true
	for t != "" {
		i := strings.IndexAny(t, "{[]}")
		if i < 0 {
			b.WriteString(t)
			break
		}
		b.WriteString(t[:i])
		rest := t[i+1:]
		switch t[i] {
		case '{':
			word, after, ok := strings.Cut(rest, "}")
			if !ok || word == "" {
				return "", false, fmt.Errorf("the name template has a brace without its partner; write {n}, {period}, {jam}, {skater}, {kind}")
			}
			v, ok := lookup(word)
			full = full && ok
			b.WriteString(v)
			t = after
		case '[':
			part, after, ok := strings.Cut(rest, "]")
			if !ok || inner {
				return "", false, fmt.Errorf("the name template has a bracket without its partner; write [ J{jam}] for a part that may be missing")
			}
			v, complete, err := fill(part, lookup, true)
			if err != nil {
				return "", false, err
			}
			if complete {
				b.WriteString(v)
			}
			t = after
		default:
			return "", false, fmt.Errorf("the name template has a %q without its partner", t[i])
		}
	}
	return b.String(), full, nil
}

// SafeName replaces what Windows, macOS or Linux refuse in names of files; the
// result has no path and may be empty.
func SafeName(s string) string {
	s = strings.ToValidUTF8(s, "")
	s = strings.Map(func(r rune) rune {
		switch {
		case strings.ContainsRune(`/\:*?"<>|`, r):
			return '-'
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r) || !unicode.IsGraphic(r):
			return -1
		}
		return r
	}, s)
	s = strings.Join(strings.Fields(s), " ")
	for len(s) > maxName {
		_, size := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-size]
	}
	// Windows drops dots and spaces at the end; a leading dot hides the file.
	s = strings.Trim(s, " .")
	if stem, _, _ := strings.Cut(s, "."); reserved[strings.ToUpper(strings.TrimSpace(stem))] {
		s = "_" + s
	}
	return s
}

// reserved are names that Windows keeps for devices.
var reserved = func() map[string]bool {
	m := map[string]bool{"CON": true, "PRN": true, "AUX": true, "NUL": true}
	for i := '1'; i <= '9'; i++ {
		m["COM"+string(i)], m["LPT"+string(i)] = true, true
	}
	return m
}()

// unique makes a name that is not taken yet.
func unique(name string, taken func(string) bool) string {
	out := name
	for i := 2; taken(out); i++ {
		out = fmt.Sprintf("%s (%d)", name, i)
	}
	return out
}
