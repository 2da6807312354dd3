package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
)

// Caption is what a bar says. Empty fields are left out.
type Caption struct {
	Period string // "1"
	Jam    string // "12"
	Clock  string // period clock, "12:34"
	Score  string // "88–91"
	Skater string // number and name
	Kind   string // "penalty", "power jam"
}

// Empty says whether there is nothing to show.
func (c Caption) Empty() bool { return c == Caption{} }

// lineHeight is the height in pixels of one line of the bar: a fourteenth of the
// picture's height, less for upright pictures, never too low to be read.
func lineHeight(width, height int) int {
	return max(26, (min(height, width*9/16)*7/100+1)/2*2)
}

// Bar paints the caption bar for a film of that size in pixels: a picture as
// wide as the film, to be laid along its lower edge. Upright films get two
// lines. What does not fit ends with an ellipsis; score and clock are never
// cut.
func Bar(width, height int, c Caption) *image.RGBA {
	h := lineHeight(width, height)
	lines := 1
	if (width < 20*h || width < height) && (c.Kind != "" || c.Skater != "") && (c.place() != "" || c.Score != "" || c.Clock != "") {
		lines = 2
	}
	img := image.NewRGBA(image.Rect(0, 0, width, lines*h))
	draw.Draw(img, img.Bounds(), image.NewUniform(ground), image.Point{}, draw.Src)
	if c.Empty() {
		return img
	}
	p := newPen(img, h)
	defer p.close()
	right := p.figures(c, width-p.pad)
	x := p.block(c.place(), right) + p.pad
	if lines == 2 {
		p.base += fixed.I(h)
		x, right = p.pad, width-p.pad
	}
	if c.Kind != "" && right > x {
		kind := fit(p.bold, c.Kind, right-x)
		p.text(p.bold, x, kind, text)
		x += measure(p.bold, kind) + p.pad
	}
	if c.Skater != "" && right > x {
		p.text(p.plain, x, fit(p.plain, c.Skater, right-x), text)
	}
	return img
}

// place names period and jam as score sheets do.
func (c Caption) place() string {
	var parts []string
	if c.Period != "" {
		parts = append(parts, "P"+c.Period)
	}
	if c.Jam != "" {
		parts = append(parts, "J"+c.Jam)
	}
	return strings.Join(parts, " ")
}

// pen writes on one line of a bar.
type pen struct {
	img         *image.RGBA
	h, pad      int
	base        fixed.Int26_6
	bold, plain font.Face
}

func newPen(img *image.RGBA, h int) *pen {
	size := float64(h) * 0.56
	return &pen{
		img: img, h: h, pad: max(6, h/3), base: fixed.I(h*7/10 - h/40),
		bold: face(size, true), plain: face(size, false),
	}
}

func (p *pen) close() {
	p.bold.Close()
	p.plain.Close()
}

// figures writes score and clock against the right edge and returns where the
// room left of them ends.
func (p *pen) figures(c Caption, right int) int {
	if c.Score != "" {
		right -= measure(p.bold, c.Score)
		p.text(p.bold, right, c.Score, text)
		right -= p.pad
	}
	if c.Clock != "" {
		right -= measure(p.plain, c.Clock)
		p.text(p.plain, right, c.Clock, quiet)
		right -= p.pad
	}
	return right
}

// block writes period and jam on the accent and returns where it ends.
func (p *pen) block(where string, right int) int {
	where = fit(p.bold, where, max(0, right-2*p.pad))
	if where == "" {
		return 0
	}
	w := measure(p.bold, where) + 2*p.pad
	draw.Draw(p.img, image.Rect(0, 0, w, p.h), image.NewUniform(accent), image.Point{}, draw.Src)
	p.text(p.bold, p.pad, where, ink)
	return w
}

func (p *pen) text(f font.Face, x int, s string, c color.Color) {
	d := font.Drawer{Dst: p.img, Src: image.NewUniform(c), Face: f, Dot: fixed.Point26_6{X: fixed.I(x), Y: p.base}}
	d.DrawString(s)
}

func measure(f font.Face, s string) int { return font.MeasureString(f, s).Ceil() }

// fit shortens s until it is at most room pixels wide.
func fit(f font.Face, s string, room int) string {
	if measure(f, s) <= room {
		return s
	}
	runes := []rune(s)
	for n := len(runes) - 1; n > 0; n-- {
		short := strings.TrimRight(string(runes[:n]), " ") + "…"
		if measure(f, short) <= room {
			return short
		}
	}
	return ""
}
