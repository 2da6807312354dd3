package overlay

import (
	"image"

	"golang.org/x/image/draw"
)

// Card paints a title card that fills a film of that size: a title, and below a
// rule quieter lines, all centred and broken between words. Where there is more
// than fits, everything is painted smaller, down to half; what is left over then
// ends with an ellipsis.
func Card(width, height int, title string, lines ...string) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, max(width, 0), max(height, 0)))
	if img.Bounds().Empty() {
		return img
	}
	opaque := ground
	opaque.A = 255
	draw.Draw(img, img.Bounds(), image.NewUniform(opaque), image.Point{}, draw.Src)
	c := layCard(width, height, title, lines, 1)
	for scale := 0.9; c.tall > 0.86*float64(height) && scale >= 0.5; scale -= 0.1 {
		c = layCard(width, height, title, lines, scale)
	}
	p := Painter{dst: img}
	y := max((float64(height)-c.tall)/2, 0.03*float64(height))
	for _, b := range c.blocks {
		if b.par == nil {
			r := image.Rect(width/2-int(c.rule), int(y), width/2+int(c.rule), int(y+max(c.thick, 1)))
			draw.Draw(img, r, image.NewUniform(accent), image.Point{}, draw.Src)
			y += b.gap
			continue
		}
		ink := quiet
		if b.title {
			ink = text
		}
		for i := range b.par.lines {
			l := &b.par.lines[i]
			p.write(l, float64(width)/2-float64(l.width)*b.size/2, y+ascent*b.size, b.size, ink)
			y += lineStep * b.size
		}
		y += b.gap
	}
	return img
}

// card is a card laid out: blocks from top to bottom, a block without a paragraph
// is the rule.
type card struct {
	blocks      []cardBlock
	tall        float64
	rule, thick float64 // half the rule's length, its height
}

type cardBlock struct {
	par   *paragraph
	title bool
	size  float64
	gap   float64 // below it
}

func layCard(width, height int, title string, lines []string, scale float64) card {
	unit := float64(min(width, height))
	room := 0.86 * float64(width)
	large, small := 0.11*unit*scale, 0.062*unit*scale
	c := card{rule: 0.07 * unit, thick: 0.008 * unit}
	add := func(s string, st style, size float64, most int) {
		if par := set(setting{text: s, style: st, room: float32(room / size), most: most}); par.width > 0 {
			c.blocks = append(c.blocks, cardBlock{par: par, title: st == bold, size: size, gap: 0.3 * small})
		}
	}
	add(title, bold, large, 4)
	titled := len(c.blocks) > 0
	if titled {
		c.blocks = append(c.blocks, cardBlock{gap: 0.7 * small})
		c.blocks[0].gap = 0.35 * small
	}
	for _, s := range lines {
		add(s, plain, small, 3)
	}
	if titled && len(c.blocks) == 2 {
		c.blocks = c.blocks[:1] // a title alone needs no rule
	}
	for _, b := range c.blocks {
		if b.par != nil {
			c.tall += lineStep * b.size * float64(len(b.par.lines))
		}
		c.tall += b.gap
	}
	return c
}
