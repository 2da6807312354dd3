package strip

import (
	"image/color"
	"slices"

	"whistlecut/app/desk/look"
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

// From are the strip's colours in the desk's palette, team colours and all.
func From(p look.Palette) Colours {
	c := Colours{
		Ground: rgba(p.Ground), Panel: rgba(p.Panel), Raised: rgba(p.Raised), Line: rgba(p.Line),
		Text: rgba(p.Text), Quiet: rgba(p.Quiet), Accent: rgba(p.Accent),
		Side: [2]color.RGBA{rgba(p.Home), rgba(p.Away)},
	}
	for i, s := range c.Side {
		dark, light := rgb(0x15181D), rgb(0xFFFFFF)
		c.OnSide[i] = dark
		if Contrast(light, s) > Contrast(dark, s) {
			c.OnSide[i] = light
		}
	}
	c.States[Agrees], c.States[NotCheckable] = rgba(p.Agrees), rgba(p.Unchecked)
	c.States[Unsure], c.States[Differs] = rgba(p.Unsure), rgba(p.Differs)
	return c
}

// Readable is the least contrast of text and shapes on the panel: the open web
// guidelines (WCAG 2.2, 1.4.3) ask for 4.5 to 1 of small text.
const Readable = 4.5

// readableOn moves a colour towards the text colour until it stands out of all grounds.
func (c Colours) readableOn(x color.RGBA, grounds ...color.RGBA) color.RGBA {
	for k := 0; k <= 20; k++ {
		y := mix(x, c.Text, float64(k)/20)
		if !slices.ContainsFunc(grounds, func(g color.RGBA) bool { return Contrast(y, g) < Readable }) {
			return y
		}
	}
	return c.Text
}

// mix is a share of b (0..1) in a.
func mix(a, b color.RGBA, share float64) color.RGBA {
	return rgba(look.Mix(color.NRGBA(a), color.NRGBA(b), share))
}

// Contrast is the contrast of two opaque colours, 1 to 21.
func Contrast(a, b color.RGBA) float64 { return look.Contrast(color.NRGBA(a), color.NRGBA(b)) }

// rgba is an opaque colour of the palette.
func rgba(c color.NRGBA) color.RGBA { return color.RGBA{c.R, c.G, c.B, 0xFF} }
