package strip

import (
	"fmt"
	"image"
	"image/color"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Fonts are the font files to letter with (TrueType or OpenType). Bold and Mono
// fall back on Regular where they are nil.
type Fonts struct{ Regular, Bold, Mono []byte }

// style is a font at a size.
type style uint8

const (
	styleNote   style = iota // 10, notes and lane names
	styleStrong              // 11 bold, points
	styleName                // 12 bold, jams
	styleTime                // 10 of fixed width, the ruler
	styleCode                // 9 bold, penalty letters
	styleTip                 // 12, hovering
	styleCount
)

var styleSizes = [styleCount]struct {
	size float64
	font int // 0 regular, 1 bold, 2 mono
}{{10, 0}, {11, 1}, {12, 1}, {10, 2}, {9, 1}, {12, 0}}

// lettering draws text with glyph masks that are made once.
type lettering struct {
	fonts [3]*sfnt.Font
	faces [styleCount]lettered
	scale float64
}

// lettered is one face with its glyphs.
type lettered struct {
	face   font.Face
	glyphs map[rune]glyph
	cap    int // height of a capital letter, in pixels
}

type glyph struct {
	mask    *image.Alpha
	off     image.Point
	advance fixed.Int26_6
}

func newLettering(f Fonts) (*lettering, error) {
	l := &lettering{}
	for i, data := range [3][]byte{f.Regular, f.Bold, f.Mono} {
		if data == nil {
			data = f.Regular
		}
		parsed, err := opentype.Parse(data)
		if err != nil {
			return nil, fmt.Errorf("the strip's font number %d cannot be read: %w", i+1, err)
		}
		l.fonts[i] = parsed
	}
	return l, l.setScale(1)
}

// setScale makes the faces for so many pixels per pixel at scale 1.
func (l *lettering) setScale(scale float64) error {
	if scale == l.scale {
		return nil
	}
	for i, s := range styleSizes {
		face, err := opentype.NewFace(l.fonts[s.font], &opentype.FaceOptions{Size: s.size * scale, DPI: 72, Hinting: font.HintingVertical})
		if err != nil {
			return fmt.Errorf("the strip's font cannot be drawn at %.1f pixels: %w", s.size*scale, err)
		}
		high := face.Metrics().CapHeight.Round()
		if high <= 0 {
			high = int(s.size * scale * 0.7)
		}
		l.faces[i] = lettered{face: face, glyphs: map[rune]glyph{}, cap: high}
	}
	l.scale = scale
	return nil
}

func (l *lettered) glyph(r rune) glyph {
	g, ok := l.glyphs[r]
	if ok {
		return g
	}
	dr, mask, from, advance, ok := l.face.Glyph(fixed.Point26_6{}, r)
	if ok {
		g = glyph{mask: image.NewAlpha(image.Rect(0, 0, dr.Dx(), dr.Dy())), off: dr.Min, advance: advance}
		for y := range dr.Dy() { // the face reuses its mask
			for x := range dr.Dx() {
				_, _, _, a := mask.At(from.X+x, from.Y+y).RGBA()
				g.mask.Pix[y*g.mask.Stride+x] = uint8(a >> 8)
			}
		}
	}
	l.glyphs[r] = g
	return g
}

// width is how wide a text is, in pixels.
func (l *lettering) width(s style, text string) int {
	f := &l.faces[s]
	x := fixed.Int26_6(0)
	for _, r := range text {
		x += f.glyph(r).advance
	}
	return x.Ceil()
}

// draw letters a text from x on, its capitals centred on the height mid.
func (l *lettering) draw(b *brush, s style, text string, x, mid int, c color.RGBA) {
	f := &l.faces[s]
	base := mid + (f.cap+1)/2
	at := fixed.I(x)
	for _, r := range text {
		g := f.glyph(r)
		if g.mask != nil {
			b.mask(g.mask, at.Round()+g.off.X, base+g.off.Y, c)
		}
		at += g.advance
	}
}

// fit shortens a text to a width, with an ellipsis; "" where not even two
// letters and the ellipsis fit.
func (l *lettering) fit(s style, text string, width int) string {
	if l.width(s, text) <= width {
		return text
	}
	f := &l.faces[s]
	room := fixed.I(width) - f.glyph('…').advance
	x := fixed.Int26_6(0)
	n := 0
	for i, r := range text {
		x += f.glyph(r).advance
		if x > room {
			if n < 2 {
				return ""
			}
			return text[:i] + "…"
		}
		n++
	}
	return text
}
