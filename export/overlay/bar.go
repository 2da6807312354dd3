package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"strings"
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
	right := p.figures(c, width-p.pad)
	x := p.block(c.place(), right) + p.pad
	if lines == 2 {
		p.base += float64(h)
		x, right = p.pad, width-p.pad
	}
	if c.Kind != "" && right > x {
		x += p.text(bold, x, c.Kind, right-x, text) + p.pad
	}
	if c.Skater != "" && right > x {
		p.text(plain, x, c.Skater, right-x, text)
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
	paint  Painter
	h, pad int
	base   float64
	size   float64 // of the letters
}

func newPen(img *image.RGBA, h int) *pen {
	return &pen{
		paint: Painter{dst: img}, h: h, pad: max(6, h/3), base: float64(h*7/10 - h/40), size: float64(h) * 0.56,
	}
}

// figures writes score and clock against the right edge and returns where the
// room left of them ends.
func (p *pen) figures(c Caption, right int) int {
	if c.Score != "" {
		right -= p.width(bold, c.Score)
		p.text(bold, right, c.Score, 0, text)
		right -= p.pad
	}
	if c.Clock != "" {
		right -= p.width(plain, c.Clock)
		p.text(plain, right, c.Clock, 0, quiet)
		right -= p.pad
	}
	return right
}

// block writes period and jam on the accent and returns where it ends.
func (p *pen) block(where string, right int) int {
	room := right - 2*p.pad
	if where == "" || room <= 0 || p.line(bold, where, room) == nil {
		return 0
	}
	w := int(math.Ceil(float64(p.line(bold, where, room).width)*p.size)) + 2*p.pad
	draw.Draw(p.paint.dst, image.Rect(0, 0, w, p.h), image.NewUniform(accent), image.Point{}, draw.Src)
	p.text(bold, p.pad, where, room, ink)
	return w
}

// text writes one line and returns how wide it is; where it is wider than room it
// is cut and ends with an ellipsis. A room of 0 is any.
func (p *pen) text(s style, x int, what string, room int, c color.NRGBA) int {
	l := p.line(s, what, room)
	if l == nil {
		return 0
	}
	p.paint.write(l, float64(x), p.base, p.size, c)
	return int(math.Ceil(float64(l.width) * p.size))
}

func (p *pen) width(s style, what string) int {
	l := p.line(s, what, 0)
	if l == nil {
		return 0
	}
	return int(math.Ceil(float64(l.width) * p.size))
}

// line is text on one line, nil where not even the ellipsis fits.
func (p *pen) line(s style, what string, room int) *textLine {
	par := set(setting{text: strings.ReplaceAll(what, "\n", " "), style: s, room: float32(float64(room) / p.size), most: 1})
	if len(par.lines) == 0 || par.width == 0 || room > 0 && float64(par.width)*p.size > float64(room) {
		return nil
	}
	return &par.lines[0]
}
