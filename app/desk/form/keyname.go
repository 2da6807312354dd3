package form

import (
	"slices"
	"strings"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/words"
)

// KeyName is a chord as it stands on a keyboard of the person's language: "Strg+
// Entf" rather than "Ctrl+Delete". The legend, which may be nil, knows the letters.
func KeyName(c keys.Chord, legend *keys.Legend) string {
	key := c.Key
	if legend != nil {
		key = legend.Of(keys.Chord{Key: c.Key})
	}
	switch c.Key {
	case "Return", "KP Enter", "KP_Enter":
		key = words.T("Enter")
	case "Escape":
		key = words.T("Esc")
	case "Delete":
		key = words.T("Del")
	case "Insert":
		key = words.T("Ins")
	case "BackSpace":
		key = words.T("Backspace")
	case "Prior":
		key = words.T("PgUp")
	case "Next":
		key = words.T("PgDn")
	case "Space":
		key = words.T("Space")
	case "Home":
		key = words.T("Home")
	case "End":
		key = words.T("End")
	case "Up":
		key = "↑"
	case "Down":
		key = "↓"
	case "Left":
		key = "←"
	case "Right":
		key = "→"
	}
	s := ""
	if c.Ctrl {
		s += words.T("Ctrl") + "+"
	}
	if c.Alt {
		s += "Alt+"
	}
	if c.Shift {
		s += words.T("Shift") + "+"
	}
	return s + key
}

// KeyNames are the chords of an action, each name once.
func KeyNames(chords []keys.Chord, legend *keys.Legend) string {
	var out []string
	for _, c := range chords {
		if n := KeyName(c, legend); !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return strings.Join(out, ", ")
}
