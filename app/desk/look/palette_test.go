package look

import (
	"image/color"
	"testing"
)

// TestContrast holds every text and state colour to 4.5:1, the ratio WCAG 2.1
// asks for text (success criterion 1.4.3).
func TestContrast(t *testing.T) {
	for name, p := range map[string]Palette{"dark": DarkPalette, "light": LightPalette} {
		for on, ground := range map[string]color.NRGBA{"ground": p.Ground, "panel": p.Panel, "raised": p.Raised} {
			for what, c := range map[string]color.NRGBA{
				"text": p.Text, "quiet": p.Quiet, "accent": p.Accent, "home": p.Home, "away": p.Away,
				"differs": p.Differs, "unchecked": p.Unchecked, "unsure": p.Unsure, "agrees": p.Agrees,
			} {
				if r := Contrast(c, ground); r < 4.5 {
					t.Errorf("%s: %s on %s has %.2f:1", name, what, on, r)
				}
			}
		}
		if r := Contrast(p.OnAccent, p.Accent); r < 4.5 {
			t.Errorf("%s: text on the accent has %.2f:1", name, r)
		}
	}
	// Black on white is 21:1 by the definition.
	if r := Contrast(hex(0), hex(0xFFFFFF)); r < 20.99 || r > 21.01 {
		t.Errorf("black on white is %.2f:1", r)
	}
}

func TestTeamColours(t *testing.T) {
	for name, c := range map[string]struct {
		home, away string
		own        bool
	}{
		"far apart":            {"#FFD400", "#1040C0", true},
		"too alike":            {"#F07010", "#F08020", false},
		"unset":                {"", "#1040C0", false},
		"nonsense":             {"blue", "#1040C0", false},
		"both unset":           {"", "", false},
		"one unset":            {"#FF0000", "", false},
		"not a colour":         {"red", "#00FF00", false},
		"two blues":            {"#2050D0", "#2452CC", false},
		"yellow against green": {"#FFD000", "#30C060", true},
	} {
		p := DarkPalette.WithTeams(c.home, c.away)
		if own := p.Home != DarkPalette.Home; own != c.own {
			t.Errorf("%s: own colours %v", name, own)
		}
		for _, x := range []color.NRGBA{p.Home, p.Away} {
			if Contrast(x, p.Panel) < 4.5 {
				t.Errorf("%s: %v does not read on the panel", name, x)
			}
		}
	}
}
