package words

import "github.com/nicksnyder/go-i18n/v2/i18n"

// In is a text in a language of its own, whatever the desk speaks: captions and
// prints are made for other people. An unknown language is English.
func In(code, english string, pairs ...any) string {
	m := &i18n.Message{ID: english, Other: english, LeftDelim: "{", RightDelim: "}"}
	s, err := i18n.NewLocalizer(bundle, code, "en").Localize(&i18n.LocalizeConfig{DefaultMessage: m, TemplateData: data(pairs)})
	if err != nil && s == "" {
		return m.Other
	}
	return s
}
