// Package look is how the desk looks: colours, theme, the shapes of states, and
// the few widgets that several tasks show. It knows no task and no bout file.
package look

import (
	"fmt"
	"image/color"
	"math"

	"whistlecut/timeline"
)

// Palette are the colours of one theme. There is one accent, kept for what is
// active or now. Home, away and the states are from or near the set that Okabe
// and Ito published for all kinds of colour vision ("Color Universal Design",
// 2002, values from memory); a state is always a shape as well.
type Palette struct {
	Dark                        bool
	Ground, Panel, Raised, Line color.NRGBA
	Text, Quiet                 color.NRGBA
	Accent, OnAccent            color.NRGBA
	Home, Away, Both            color.NRGBA
	Differs, Unchecked          color.NRGBA
	Unsure, Agrees              color.NRGBA
}

func hex(v uint32) color.NRGBA {
	return color.NRGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 0xFF}
}

// The two palettes. Each text and state colour has at least 4.5:1 on ground,
// panel and raised (palette_test.go).
var (
	DarkPalette = Palette{
		Dark: true, Ground: hex(0x15181D), Panel: hex(0x1D2127), Raised: hex(0x272C34), Line: hex(0x3A414C),
		Text: hex(0xE8E6E1), Quiet: hex(0xA3A9B3), Accent: hex(0xF2784B), OnAccent: hex(0x15181D),
		Home: hex(0x56B4E9), Away: hex(0xD486B4), Both: hex(0xA3A9B3),
		Differs: hex(0xEE7F4E), Unchecked: hex(0x9BA2AE), Unsure: hex(0xE6B33C), Agrees: hex(0x2FBF8F),
	}
	LightPalette = Palette{
		Ground: hex(0xECEAE5), Panel: hex(0xF8F7F4), Raised: hex(0xE6E3DC), Line: hex(0xBDB8AD),
		Text: hex(0x1B1E23), Quiet: hex(0x50565F), Accent: hex(0xA63C12), OnAccent: hex(0xFFFFFF),
		Home: hex(0x005F94), Away: hex(0x96336F), Both: hex(0x50565F),
		Differs: hex(0xA63F12), Unchecked: hex(0x565C66), Unsure: hex(0x775300), Agrees: hex(0x00664A),
	}
)

// Now is the palette in use; the desk sets it before it builds the window.
var Now = DarkPalette

// Of is the colour of a side.
func (p Palette) Of(s timeline.Side) color.NRGBA {
	switch s {
	case timeline.Home:
		return p.Home
	case timeline.Away:
		return p.Away
	}
	return p.Both
}

// WithTeams takes the teams' own colours where they can be told from each other
// and from the panel; else the palette's pair stays.
func (p Palette) WithTeams(home, away string) Palette {
	h, err1 := ParseHex(home)
	a, err2 := ParseHex(away)
	if err1 != nil || err2 != nil {
		return p
	}
	h, a = p.readable(h), p.readable(a)
	if distance(h, a) < 0.2 {
		return p
	}
	p.Home, p.Away = h, a
	return p
}

// readable moves a colour towards the text's until it reads on every surface.
func (p Palette) readable(c color.NRGBA) color.NRGBA {
	for i := range 20 {
		t := float64(i) / 20
		m := Mix(c, p.Text, t)
		if min(Contrast(m, p.Ground), Contrast(m, p.Panel), Contrast(m, p.Raised)) >= 4.5 {
			return m
		}
	}
	return p.Text
}

// Mix is a colour t of the way from a to b.
func Mix(a, b color.NRGBA, t float64) color.NRGBA {
	m := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*t)) }
	return color.NRGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), 0xFF}
}

// distance is how far two colours are apart, 0..1, as seen with either kind of
// red-green blindness, too: only lightness and blue against yellow count fully.
func distance(a, b color.NRGBA) float64 {
	l := math.Abs(Luminance(a) - Luminance(b))
	yb := math.Abs((float64(a.B)-float64(a.R)/2-float64(a.G)/2)-(float64(b.B)-float64(b.R)/2-float64(b.G)/2)) / 510
	return math.Hypot(l, yb)
}

// ParseHex reads "#RRGGBB".
func ParseHex(s string) (color.NRGBA, error) {
	var v uint32
	if n, err := fmt.Sscanf(s, "#%06x", &v); n != 1 || err != nil || len(s) != 7 {
		return color.NRGBA{}, fmt.Errorf("%q is no colour; write #RRGGBB", s)
	}
	return hex(v), nil
}

// Luminance is the relative luminance, 0..1 (WCAG 2.1, "relative luminance").
func Luminance(c color.NRGBA) float64 {
	lin := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

// Contrast is the contrast ratio of two colours, 1..21 (WCAG 2.1, "contrast ratio").
func Contrast(a, b color.NRGBA) float64 {
	x, y := Luminance(a), Luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}
