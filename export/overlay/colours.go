package overlay

import (
	"image/color"
	"math"
)

// Colours are what drawings are painted in. Zero values mean the usual ones.
type Colours struct {
	Home, Away color.NRGBA // the teams'
	Usual      color.NRGBA // of a drawing that names none
}

// The usual colours: the teams' from the set that Okabe and Ito published for all
// kinds of colour vision (as on the desk), and a yellow that few uniforms and no
// floor have.
var usualColours = Colours{
	Home:  color.NRGBA{0x56, 0xB4, 0xE9, 255},
	Away:  color.NRGBA{0xD4, 0x86, 0xB4, 255},
	Usual: color.NRGBA{0xFF, 0xD8, 0x4D, 255},
}

// TeamColours takes the teams' colours as "#RRGGBB"; what is empty or no colour
// stays the usual one.
func TeamColours(home, away string) Colours {
	c := usualColours
	if h, ok := parseHex(home); ok {
		c.Home = h
	}
	if a, ok := parseHex(away); ok {
		c.Away = a
	}
	return c
}

// Of is the colour of a drawing by what is stored: "home", "away", "#RRGGBB" or
// nothing.
func (c Colours) Of(name string) color.NRGBA {
	pick := func(own, usual color.NRGBA) color.NRGBA {
		if own == (color.NRGBA{}) {
			return usual
		}
		own.A = 255
		return own
	}
	switch name {
	case "home":
		return pick(c.Home, usualColours.Home)
	case "away":
		return pick(c.Away, usualColours.Away)
	}
	if x, ok := parseHex(name); ok {
		return x
	}
	return pick(c.Usual, usualColours.Usual)
}

// parseHex reads "#RRGGBB"; it is called for every drawing of every picture and
// allocates nothing.
func parseHex(s string) (color.NRGBA, bool) {
	if len(s) != 7 || s[0] != '#' {
		return color.NRGBA{}, false
	}
	v := uint32(0)
	for i := 1; i < len(s); i++ {
		d := uint32(0)
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			d = uint32(c - '0')
		case c >= 'a' && c <= 'f':
			d = uint32(c-'a') + 10
		case c >= 'A' && c <= 'F':
			d = uint32(c-'A') + 10
		default:
			return color.NRGBA{}, false
		}
		v = v<<4 | d
	}
	return color.NRGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}, true
}

// against is black or white, whichever stands out more from a colour. Its contrast
// to the colour is never below 4.5:1, so one of the two stands out from any film,
// in black and white, too.
func against(c color.NRGBA) color.NRGBA {
	black, white := color.NRGBA{0, 0, 0, 255}, color.NRGBA{255, 255, 255, 255}
	if contrast(c, black) >= contrast(c, white) {
		return black
	}
	return white
}

// contrast is the contrast ratio of two opaque colours, 1..21 (WCAG 2.1,
// "contrast ratio" and "relative luminance").
func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(c color.NRGBA) float64 {
	return 0.2126*linear[c.R] + 0.7152*linear[c.G] + 0.0722*linear[c.B]
}

var linear = func() (out [256]float64) {
	for i := range out {
		x := float64(i) / 255
		if x <= 0.04045 {
			out[i] = x / 12.92
		} else {
			out[i] = math.Pow((x+0.055)/1.055, 2.4)
		}
	}
	return out
}()

// mixColours is a colour t of the way from a to b, opaque.
func mixColours(a, b color.NRGBA, t float64) color.NRGBA {
	m := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*t)) }
	return color.NRGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), 255}
}
