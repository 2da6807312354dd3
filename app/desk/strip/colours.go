package strip

import (
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Colours is everything the strip is painted with, all opaque.
type Colours struct {
	Ground, Panel, Raised, Line color.RGBA
	Text, Quiet                 color.RGBA
	Accent                      color.RGBA // now, and the window in the overview
	Side                        [2]color.RGBA
	OnSide                      [2]color.RGBA // text on the team colours
	States                      [4]color.RGBA // by State
}

func rgb(hex uint32) color.RGBA {
	return color.RGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 255}
}

// Dark is the palette for a dim room.
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

// Readable is the least contrast of text and shapes on the panel: the open web
// guidelines (WCAG 2.2, 1.4.3) ask for 4.5 to 1 of small text.
const Readable = 4.5

// WithTeams takes the teams' own colours ("#RRGGBB") where both are set and can
// be told apart; colours too close to the panel are made lighter or darker until
// they are readable on it. Otherwise the palette's own pair stays.
func (c Colours) WithTeams(home, away string) Colours {
	h, ok := parseColour(home)
	a, ok2 := parseColour(away)
	if !ok || !ok2 {
		return c
	}
	h, a = c.readable(h), c.readable(a)
	if distance(h, a) < 90 {
		return c
	}
	c.Side = [2]color.RGBA{h, a}
	for i, s := range c.Side {
		dark, light := rgb(0x15181D), rgb(0xFFFFFF)
		c.OnSide[i] = dark
		if Contrast(light, s) > Contrast(dark, s) {
			c.OnSide[i] = light
		}
	}
	return c
}

// readable moves a colour towards the text colour until it stands out of the panel.
func (c Colours) readable(x color.RGBA) color.RGBA { return c.readableOn(x, c.Panel) }

// readableOn does so for several grounds at once.
func (c Colours) readableOn(x color.RGBA, grounds ...color.RGBA) color.RGBA {
	for k := 0; k <= 20; k++ {
		y := mix(x, c.Text, float64(k)/20)
		if !slices.ContainsFunc(grounds, func(g color.RGBA) bool { return Contrast(y, g) < Readable }) {
			return y
		}
	}
	return c.Text
}

func parseColour(s string) (color.RGBA, bool) {
	s, ok := strings.CutPrefix(strings.TrimSpace(s), "#")
	if !ok || len(s) != 6 {
		return color.RGBA{}, false
	}
	v, err := strconv.ParseUint(s, 16, 32)
	return rgb(uint32(v)), err == nil
}

// mix is a share of b (0..1) in a.
func mix(a, b color.RGBA, share float64) color.RGBA {
	one := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*share)) }
	return color.RGBA{one(a.R, b.R), one(a.G, b.G), one(a.B, b.B), 255}
}

// Contrast is the contrast of two opaque colours, 1 to 21 (WCAG 2.2, contrast ratio).
func Contrast(a, b color.RGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// luminance is the relative luminance (WCAG 2.2).
func luminance(c color.RGBA) float64 {
	lin := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

// distance is how unlike two colours look, with red and blue weighed by the mean
// red; about 0 to 765 (a well-known cheap formula, from memory).
func distance(a, b color.RGBA) float64 {
	r := (float64(a.R) + float64(b.R)) / 2
	dr, dg, db := float64(a.R)-float64(b.R), float64(a.G)-float64(b.G), float64(a.B)-float64(b.B)
	return math.Sqrt((2+r/256)*dr*dr + 4*dg*dg + (2+(255-r)/256)*db*db)
}
