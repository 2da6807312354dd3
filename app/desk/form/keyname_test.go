package form

import (
	"testing"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/words"
)

func TestKeyNames(t *testing.T) {
	defer words.Set("en")
	for _, c := range []struct {
		name, language string
		chords         []string
		want           string
	}{
		{"pages", "en", []string{"Prior", "Next"}, "PgUp, PgDn"},
		{"both Enters are one", "en", []string{"Return", "KP Enter"}, "Enter"},
		{"arrows", "en", []string{"Shift+Left", "Alt+Up"}, "Shift+←, Alt+↑"},
		{"a letter", "en", []string{"Ctrl+Shift+Z"}, "Ctrl+Shift+Z"},
		{"a place on the keyboard", "en", []string{"upper 1"}, "Q"},
		{"in German", "de", []string{"Ctrl+Shift+Delete", "Home"}, "Strg+Umschalt+Entf, Pos1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			words.Set(c.language)
			var chords []keys.Chord
			for _, s := range c.chords {
				k := keys.Chord{Key: s} // a name with a space that is no position
				if s != "KP Enter" {
					k = keys.MustParse(s)
				}
				chords = append(chords, k)
			}
			if got := KeyNames(chords, keys.NewLegend("qwerty")); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
