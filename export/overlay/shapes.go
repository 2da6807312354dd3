package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"strconv"

	"github.com/go-text/typesetting/font/opentype"

	"whistlecut/timeline"
)

// arrow paints a line with a head at its end. A short arrow keeps its head and
// loses its line.
func (p *Painter) arrow(from, to vec) {
	along := to.sub(from)
	length := along.length()
	if length < 1e-6 {
		p.path = append(p.path[:0], from, to)
		p.stroke()
		return
	}
	dir := along.scale(1 / length)
	side := vec{-dir.y, dir.x}
	head := min(max(4.5*p.width, 0.03*p.unit), max(length, 1.5*p.width))
	foot := to.sub(dir.scale(head))
	corners := [3]vec{to, foot.add(side.scale(0.42 * head)), foot.sub(side.scale(0.42 * head))}
	end := to.sub(dir.scale(0.8 * head)) // the line's round end stays within the head
	if length < 0.8*head {
		end = from
	}
	for _, pass := range [2]struct {
		c    color.NRGBA
		grow float64
	}{{p.halo, p.rim()}, {p.ink, 0}} {
		p.mask.line(from, end, p.width/2+pass.grow)
		p.mask.convex(corners[:], pass.grow)
		p.mask.paint(p.dst, pass.c)
	}
}

// area tints a polygon and draws its edge.
func (p *Painter) area(points []timeline.Point) {
	p.path = p.path[:0]
	for _, q := range points {
		p.path = append(p.path, p.point(q))
	}
	p.path = append(p.path, p.path[0])
	b := p.box(p.path)
	if !b.Empty() {
		p.fill.Reset(b.Dx(), b.Dy())
		p.fill.DrawOp = draw.Over
		p.trace(p.path, b.Min)
		tint := p.ink
		tint.A = tinted
		p.pour(b, tint)
	}
	p.stroke()
}

// trace adds a closed outline to what is filled, moved so that origin is its corner.
func (p *Painter) trace(path []vec, origin image.Point) {
	for i, q := range path {
		x, y := float32(q.x-float64(origin.X)), float32(q.y-float64(origin.Y))
		if i == 0 {
			p.fill.MoveTo(x, y)
		} else {
			p.fill.LineTo(x, y)
		}
	}
	p.fill.ClosePath()
}

// pour paints what was traced.
func (p *Painter) pour(b image.Rectangle, c color.NRGBA) {
	p.colour = c
	p.source.C = &p.colour // a pointer, so that nothing is allocated
	p.fill.Draw(p.dst, b, &p.source, image.Point{})
}

// box is the pixels of the film that a path can touch.
func (p *Painter) box(path []vec) image.Rectangle {
	low, high := path[0], path[0]
	for _, q := range path[1:] {
		low, high = vec{min(low.x, q.x), min(low.y, q.y)}, vec{max(high.x, q.x), max(high.y, q.y)}
	}
	b := p.dst.Bounds()
	return image.Rect(
		floor(low.x, b.Min.X, b.Max.X), floor(low.y, b.Min.Y, b.Max.Y),
		min(floor(high.x, b.Min.X-1, b.Max.X)+1, b.Max.X), min(floor(high.y, b.Min.Y-1, b.Max.Y)+1, b.Max.Y),
	)
}

// spotlights dims the picture outside the ellipses of all spotlights of the list.
func (p *Painter) spotlights(list []timeline.Drawing) {
	b := p.dst.Bounds()
	p.fill.Reset(b.Dx(), b.Dy())
	p.fill.DrawOp = draw.Src
	lit := false
	for i := range list {
		d := &list[i]
		if d.Shape != timeline.ShapeSpotlight || len(d.Points) < 2 || !sound(d.Points) {
			continue
		}
		// All run the same way round: where two overlap they stay lit.
		p.path = ellipse(p.path[:0], p.point(d.Points[0]), p.point(d.Points[1]))
		p.trace(p.path, b.Min)
		lit = true
	}
	if !lit {
		return
	}
	// The mask's pixels serve as the picture of what is lit.
	p.alpha = image.Alpha{Pix: p.mask.pix, Stride: b.Dx(), Rect: b}
	p.colour = color.NRGBA{A: 255}
	p.source.C = &p.colour
	p.fill.Draw(&p.alpha, b, &p.source, image.Point{})
	for y := range b.Dy() {
		row := p.mask.pix[y*b.Dx() : (y+1)*b.Dx()]
		out := p.dst.Pix[p.dst.PixOffset(b.Min.X, b.Min.Y+y):]
		for i, v := range row {
			px := out[4*i : 4*i+4 : 4*i+4]
			switch v {
			case 0: // most of the picture
				px[0], px[1], px[2], px[3] = dim[px[0]], dim[px[1]], dim[px[2]], dim[px[3]]+dimmed
			case 255:
				row[i] = 0
			default:
				row[i] = 0
				lay(px, color.NRGBA{A: dimmed}, uint32(255-v))
			}
		}
	}
}

// dim is what is left of a value outside a spotlight.
var dim = func() (out [256]uint8) {
	for i := range out {
		out[i] = uint8(part(uint32(i) * (255 - dimmed)))
	}
	return out
}()

// hide covers the box of two points, grown to whole pairs of pixels: films keep
// colour for every second pixel only, and half a pair would let some through. Two
// tones in stripes say that it is meant.
func (p *Painter) hide(d *timeline.Drawing) {
	a, b := p.point(d.Points[0]), p.point(d.Points[1])
	r := p.dst.Bounds()
	x0, x1 := pairs(min(a.x, b.x)-p.at.x, max(a.x, b.x)-p.at.x, r.Dx())
	y0, y1 := pairs(min(a.y, b.y)-p.at.y, max(a.y, b.y)-p.at.y, r.Dy())
	first, second := mixColours(p.ink, color.NRGBA{A: 255}, 0.65), mixColours(p.ink, color.NRGBA{A: 255}, 0.78)
	if d.Colour == "" {
		first, second = color.NRGBA{0x3A, 0x41, 0x4C, 255}, color.NRGBA{0x27, 0x2C, 0x34, 255}
	}
	wide := max(p.unit/30, 2)
	for y := y0; y < y1; y++ {
		out := p.dst.Pix[p.dst.PixOffset(r.Min.X+x0, r.Min.Y+y):]
		for x := x0; x < x1; x++ {
			c := first
			if int(float64(x+y+1)/wide)%2 == 1 {
				c = second
			}
			i := 4 * (x - x0)
			out[i], out[i+1], out[i+2], out[i+3] = c.R, c.G, c.B, 255
		}
	}
}

// pairs grows a stretch to even pixels and keeps it in the picture.
func pairs(from, to float64, most int) (int, int) {
	a, b := floor(from, 0, most), floor(to, -1, most)+1
	return a / 2 * 2, min((b+1)/2*2, most)
}

// marker paints a disc with a number in it.
func (p *Painter) marker(at vec, number int) {
	r := markerSize * p.unit * p.big
	p.mask.line(at, at, r+max(0.08*r, 0.0025*p.unit))
	p.mask.paint(p.dst, p.halo)
	p.mask.line(at, at, r)
	p.mask.paint(p.dst, p.ink)
	text := set(setting{text: numeral(number), style: bold, most: 1})
	if len(text.lines) == 0 {
		return
	}
	size := min(1.3*r, 1.6*r/float64(max(text.width, 0.1)))
	p.write(&text.lines[0], at.x-size*float64(text.width)/2, at.y+0.365*size, size, p.halo)
}

// numerals are the texts of markers, made once.
var numerals = func() (out [1000]string) {
	for i := range out {
		out[i] = strconv.Itoa(i)
	}
	return out
}()

func numeral(n int) string {
	if n >= 0 && n < len(numerals) {
		return numerals[n]
	}
	return strconv.Itoa(n)
}

// label paints text on a ground of its own, in lines of at most three fifths of
// the picture's width; at is the ground's upper left corner.
func (p *Painter) label(at vec, text string) {
	size := textSize * p.unit * p.big
	par := set(setting{text: text, style: bold, room: float32(0.6 * p.size.x / size), most: 12})
	if par.width == 0 {
		return
	}
	pad := 0.3 * size
	w, h := float64(par.width)*size+2*pad, lineStep*size*float64(len(par.lines))+pad
	edge := 0.09 * size
	corner := 0.16 * size
	ground := p.halo
	box := [4]vec{at.add(vec{corner, corner}), at.add(vec{w - corner, corner}), at.add(vec{w - corner, h - corner}), at.add(vec{corner, h - corner})}
	p.mask.convex(box[:], corner+edge)
	p.mask.paint(p.dst, p.ink)
	p.mask.convex(box[:], corner)
	p.mask.paint(p.dst, ground)
	for i := range par.lines {
		l := &par.lines[i]
		x := at.x + pad
		if l.rtl {
			x = at.x + w - pad - float64(l.width)*size
		}
		p.write(l, x, at.y+pad/2+size*(ascent+lineStep*float64(i)), size, p.ink)
	}
}

// write paints a line of letters; x and y are where its baseline begins.
func (p *Painter) write(l *textLine, x, y, size float64, c color.NRGBA) {
	p.path = append(p.path[:0], vec{x - 0.3*size, y - 1.3*size}, vec{x + (float64(l.width)+0.3)*size, y + 0.5*size})
	b := p.box(p.path)
	if b.Empty() || len(l.strokes) == 0 {
		return
	}
	p.fill.Reset(b.Dx(), b.Dy())
	p.fill.DrawOp = draw.Over
	dx, dy, s := float32(x-float64(b.Min.X)), float32(y-float64(b.Min.Y)), float32(size)
	for i := range l.strokes {
		st := &l.strokes[i]
		q := st.p
		for k := range q {
			q[k] = [2]float32{dx + q[k][0]*s, dy + q[k][1]*s}
		}
		switch st.op {
		case opentype.SegmentOpMoveTo:
			p.fill.ClosePath()
			p.fill.MoveTo(q[0][0], q[0][1])
		case opentype.SegmentOpLineTo:
			p.fill.LineTo(q[0][0], q[0][1])
		case opentype.SegmentOpQuadTo:
			p.fill.QuadTo(q[0][0], q[0][1], q[1][0], q[1][1])
		case opentype.SegmentOpCubeTo:
			p.fill.CubeTo(q[0][0], q[0][1], q[1][0], q[1][1], q[2][0], q[2][1])
		}
	}
	p.fill.ClosePath()
	p.pour(b, c)
}
