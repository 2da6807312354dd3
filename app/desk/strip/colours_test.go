package strip

import (
	"image/color"
	"testing"

	"pgregory.net/rapid"
)

// palettes are both palettes, with the teams' own colours too.
func palettes() map[string]Colours {
	return map[string]Colours{
		"dark": Dark(), "light": Light(),
		"dark, black and white teams":  Dark().WithTeams("#000000", "#FFFFFF"),
		"light, black and white teams": Light().WithTeams("#000000", "#FFDD00"),
	}
}

func checkContrast(t interface{ Errorf(string, ...any) }, c Colours) {
	k := mixInks(c)
	for _, x := range []struct {
		what   string
		on     color.RGBA
		colour color.RGBA
	}{
		{"text on the panel", c.Panel, c.Text},
		{"text on a jam", c.Raised, c.Text},
		{"text on the running jam", k.active, c.Text},
		{"quiet text on the panel", c.Panel, c.Quiet},
		{"quiet text on the tip", c.Raised, c.Quiet},
		{"quiet text on a gap", c.Ground, c.Quiet},
		{"accent", c.Panel, c.Accent},
		{"home", c.Panel, c.Side[0]},
		{"away", c.Panel, c.Side[1]},
		{"points of home", c.Side[0], c.OnSide[0]},
		{"points of away", c.Side[1], c.OnSide[1]},
		{"no points of home", k.faint[0], c.Text},
		{"no points of away", k.faint[1], c.Text},
		{"box label of home over the margin", k.flow[0], k.label[0]},
		{"box label of home over the other margin", k.flow[1], k.label[0]},
		{"box label of away over the margin", k.flow[1], k.label[1]},
		{"box label of away over the other margin", k.flow[0], k.label[1]},
		{"agrees", c.Panel, c.States[Agrees]},
		{"not checkable", c.Panel, c.States[NotCheckable]},
		{"unsure", c.Panel, c.States[Unsure]},
		{"unsure on a jam", c.Raised, c.States[Unsure]},
		{"differs", c.Panel, c.States[Differs]},
	} {
		if got := Contrast(x.colour, x.on); got < Readable {
			t.Errorf("%s: contrast %.2f, want %.1f", x.what, got, Readable)
		}
	}
}

func TestEverythingIsReadable(t *testing.T) {
	for name, c := range palettes() {
		t.Run(name, func(t *testing.T) { checkContrast(t, c) })
	}
}

// Whatever colours the teams wear, their points can be read.
func TestTeamColoursAreReadable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hex := func(name string) string { return rapid.StringMatching(`#[0-9A-F]{6}`).Draw(t, name) }
		c := Dark()
		if rapid.Bool().Draw(t, "light") {
			c = Light()
		}
		checkContrast(t, c.WithTeams(hex("home"), hex("away")))
	})
}

func TestTeamColours(t *testing.T) {
	own := Dark().Side
	for _, c := range []struct {
		name, home, away string
		kept             bool // the palette's pair
	}{
		{"unset", "", "", true},
		{"one unset", "#FF0000", "", true},
		{"not a colour", "red", "#00FF00", true},
		{"too alike", "#2050D0", "#2452CC", true},
		{"told apart", "#FFD000", "#30C060", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Dark().WithTeams(c.home, c.away).Side == own; got != c.kept {
				t.Errorf("the palette's pair kept: %v, want %v", got, c.kept)
			}
		})
	}
}

func TestContrastOfKnownPairs(t *testing.T) {
	white, black := rgb(0xFFFFFF), rgb(0)
	if got := Contrast(white, black); got < 20.99 || got > 21.01 {
		t.Errorf("white on black %.3f, want 21 (WCAG 2.2)", got)
	}
	if got := Contrast(white, white); got != 1 {
		t.Errorf("white on white %.3f, want 1", got)
	}
}
