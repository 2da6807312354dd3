package desk

import (
	"embed"
	"os"

	"fyne.io/fyne/v2/lang"
)

//go:embed none.json
var none embed.FS

// spoken is the language Fyne speaks.
var spoken string

// speakFyne makes Fyne's own dialogs speak a language. Fyne has no call for it:
// it looks at the environment whenever translations are added.
func speakFyne(code string) {
	if code == spoken {
		return
	}
	spoken = code
	locale := map[string]string{"en": "en_GB.UTF-8", "es": "es_ES.UTF-8", "fr": "fr_FR.UTF-8", "de": "de_DE.UTF-8"}[code]
	os.Setenv("LC_ALL", locale)
	os.Setenv("LANG", locale)
	_ = lang.AddTranslationsFS(none, ".") // nothing to add; it only makes Fyne look
}
