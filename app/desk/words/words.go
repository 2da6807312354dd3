// Package words is the one place where the desk's text gets its language. A
// text is written in English where it is shown, words.T("Add footage"), and that
// English is the key of its translations: one JSON file per language and part
// of the desk, es/log.json. A test reads the source and fails on a text that a
// language lacks.
package words

import (
	"embed"
	"encoding/json"
	"io/fs"
	"os"
	"path"
	"strings"
	"sync/atomic"

	"github.com/nicksnyder/go-i18n/v2/i18n"
	"golang.org/x/text/language"
)

//go:embed es fr de
var files embed.FS

// Languages are those the desk speaks, each with its own name for itself.
var Languages = []struct{ Code, Name string }{
	{"en", "English"}, {"es", "Español"}, {"fr", "Français"}, {"de", "Deutsch"},
}

var (
	bundle  = load()
	current atomic.Pointer[speaker]
)

type speaker struct {
	code string
	l    *i18n.Localizer
}

func init() { Set("en") }

// load reads every translation. A broken file is a mistake of ours that a test
// finds; here it is left out, and its texts stay English.
func load() *i18n.Bundle {
	b := i18n.NewBundle(language.English)
	for _, l := range Languages[1:] {
		texts, err := Texts(l.Code)
		if err != nil {
			continue
		}
		tag := language.Make(l.Code)
		for id, t := range texts {
			m := &i18n.Message{ID: id, LeftDelim: "{", RightDelim: "}"}
			m.Other, m.One = t.Other, t.One
			_ = b.AddMessages(tag, m)
		}
	}
	return b
}

// Text is one translation; One is only there for texts that count.
type Text struct{ One, Other string }

// UnmarshalJSON reads "text" or {"one": "...", "other": "..."}.
func (t *Text) UnmarshalJSON(data []byte) error {
	if len(data) > 0 && data[0] == '"' {
		return json.Unmarshal(data, &t.Other)
	}
	var x struct{ One, Other string }
	if err := json.Unmarshal(data, &x); err != nil {
		return err
	}
	*t = Text(x)
	return nil
}

// Texts are all translations of one language, by their English.
func Texts(code string) (map[string]Text, error) {
	all := map[string]Text{}
	names, err := fs.Glob(files, path.Join(code, "*.json"))
	if err != nil {
		return nil, err
	}
	for _, n := range names {
		data, err := files.ReadFile(n)
		if err != nil {
			return nil, err
		}
		part := map[string]Text{}
		if err := json.Unmarshal(data, &part); err != nil {
			return nil, &fs.PathError{Op: "read", Path: n, Err: err}
		}
		for k, v := range part {
			all[k] = v
		}
	}
	return all, nil
}

// Set chooses the language by its code; "" follows the system. An unknown one
// is English.
func Set(code string) {
	if code == "" {
		code = system()
	}
	known := "en"
	for _, l := range Languages {
		if l.Code == code {
			known = code
		}
	}
	current.Store(&speaker{code: known, l: i18n.NewLocalizer(bundle, known)})
}

// Code is the language spoken now.
func Code() string { return current.Load().code }

func system() string {
	for _, v := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if s := os.Getenv(v); s != "" {
			return strings.ToLower(s[:min(2, len(s))])
		}
	}
	return "en"
}

// T is a text in the language spoken. Pairs fill its {.name} places:
//
//	words.T("Jam {.jam} of period {.period}", "jam", 7, "period", 1)
//
// The English text is what is shown where no translation is.
func T(english string, pairs ...any) string {
	return localize(&i18n.Message{ID: english, Other: english}, nil, data(pairs))
}

// N is a text that counts: one for n = 1 (in French for 0, too), else other, whose English is
// the key of both. {.n} is the number.
func N(n int, one, other string, pairs ...any) string {
	d := data(pairs)
	d["n"] = n
	return localize(&i18n.Message{ID: other, One: one, Other: other}, n, d)
}

func data(pairs []any) map[string]any {
	d := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		if k, ok := pairs[i].(string); ok {
			d[k] = pairs[i+1]
		}
	}
	return d
}

func localize(m *i18n.Message, count any, d map[string]any) string {
	m.LeftDelim, m.RightDelim = "{", "}"
	s, err := current.Load().l.Localize(&i18n.LocalizeConfig{DefaultMessage: m, PluralCount: count, TemplateData: d})
	if err != nil && s == "" {
		return m.Other
	}
	return s
}
