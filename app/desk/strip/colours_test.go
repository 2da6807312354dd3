package strip

import (
	"image/color"
	"testing"

	"pgregory.net/rapid"

	"whistlecut/app/desk/look"
)

// Dark is a palette that the kept pictures are painted in, whatever the desk wears.
func Dark() Colours {
	return Colours{
		Ground: rgb(0x15181D), Panel: rgb(0x1D2127), Raised: rgb(0x272C34), Line: rgb(0x3A414C),
		Text: rgb(0xE8E6E1), Quiet: rgb(0xA3A9B3), Accent: rgb(0xF2784B),
		Side:   [2]color.RGBA{rgb(0x56B4E9), rgb(0xCC79A7)},
		OnSide: [2]color.RGBA{rgb(0x15181D), rgb(0x15181D)},
		States: [4]color.RGBA{Agrees: rgb(0x2FBF8F), NotCheckable: rgb(0x8C93A0), Unsure: rgb(0xE6B33C), Differs: rgb(0xE8743B)},
	}
}

// Light is the same for daylight.
func Light() Colours {
	return Colours{
		Ground: rgb(0xEDEBE6), Panel: rgb(0xFBFAF8), Raised: rgb(0xEFEDE8), Line: rgb(0xC3BFB6),
		Text: rgb(0x1D2127), Quiet: rgb(0x555B66), Accent: rgb(0xB8431A),
		Side:   [2]color.RGBA{rgb(0x0A6AA6), rgb(0xA03C78)},
		OnSide: [2]color.RGBA{rgb(0xFFFFFF), rgb(0xFFFFFF)},
		States: [4]color.RGBA{Agrees: rgb(0x0B7350), NotCheckable: rgb(0x5C6370), Unsure: rgb(0x8A5F00), Differs: rgb(0xB8481A)},
	}
}

// palettes are the desk's own, with team colours too, and those of the kept pictures.
func palettes() map[string]Colours {
	return map[string]Colours{
		"dark": From(look.DarkPalette), "light": From(look.LightPalette),
		"dark, black and white teams":  From(look.DarkPalette.WithTeams("#000000", "#FFFFFF")),
		"light, black and white teams": From(look.LightPalette.WithTeams("#000000", "#FFDD00")),
		"dark pictures":                Dark(), "light pictures": Light(),
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
		p := look.DarkPalette
		if rapid.Bool().Draw(t, "light") {
			p = look.LightPalette
		}
		checkContrast(t, From(p.WithTeams(hex("home"), hex("away"))))
	})
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
