package overlay

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/vector"

	"whistlecut/timeline"
)

// Sizes as parts of the picture's measure, see measureOf. Chosen by eye on a phone.
const (
	usualLine  = 0.01
	textSize   = 0.055
	markerSize = 0.04 // half the disc's width
	dimmed     = 168  // of 255, how dark it is outside a spotlight
	tinted     = 90   // of 255, how much of an area's colour covers the film
)

// measureOf is what usual sizes are parts of: the height of a picture that is
// wider than high, less for upright ones, so that a drawing keeps its proportion
// to the people in it.
func measureOf(r image.Rectangle) float64 {
	return math.Min(float64(r.Dy()), float64(r.Dx())*9/16)
}

// Drawings paints drawings on a transparent picture of that size in pixels, to be
// laid over a film of that size. The screen uses [Painter.Paint], which paints the
// same.
func Drawings(width, height int, list []timeline.Drawing, colours Colours) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, max(width, 0), max(height, 0)))
	var p Painter
	p.Paint(img, list, colours)
	return img
}

// Painter paints drawings again and again without allocating. Its zero value is
// ready; it is used from one goroutine at a time.
type Painter struct {
	mask   mask
	fill   vector.Rasterizer
	alpha  image.Alpha
	path   []vec
	points []vec
	source image.Uniform
	colour color.NRGBA // of source

	dst   *image.RGBA
	at    vec     // the film's upper left corner in dst
	size  vec     // of the film in pixels
	unit  float64 // the measure in pixels
	width float64 // of the drawing's lines in pixels
	big   float64 // how much larger than usual letters and discs are
	ink   color.NRGBA
	halo  color.NRGBA
}

// Paint lays drawings over what dst shows; the film fills dst's bounds, which may
// be part of a larger picture (image.RGBA.SubImage). All spotlights together dim
// the picture first, then what is to be hidden is covered, then the rest follows
// in the order of the list, so that nothing brings back what is hidden. A drawing
// with too few points is left out.
//
// A hidden box is covered opaquely with whole pixels: what was blurred or made
// coarse can be guessed back from its neighbours and from other frames, a box of
// one colour holds nothing of the film. It hides only while it is shown and only
// where it is; somebody who moves needs several.
//
// A width that a drawing sets also makes its text or its disc larger, in
// proportion to the usual width, half to four times.
func (p *Painter) Paint(dst *image.RGBA, list []timeline.Drawing, colours Colours) {
	r := dst.Bounds()
	if r.Empty() {
		return
	}
	p.dst, p.at, p.size, p.unit = dst, vec{float64(r.Min.X), float64(r.Min.Y)}, vec{float64(r.Dx()), float64(r.Dy())}, measureOf(r)
	p.mask.reset(r)
	p.spotlights(list)
	for i := range list {
		if d := &list[i]; d.Shape == timeline.ShapeHide && p.begin(d, colours) {
			p.hide(d)
		}
	}
	for i := range list {
		if d := &list[i]; p.begin(d, colours) {
			p.shape(d)
		}
	}
	p.dst = nil
}

// shapeNeeds is the least number of points of each shape.
var shapeNeeds = map[timeline.Shape]int{
	timeline.ShapeArrow: 2, timeline.ShapeLine: 2, timeline.ShapeRing: 2, timeline.ShapeArea: 3, timeline.ShapeFree: 2,
	timeline.ShapeText: 1, timeline.ShapeSpotlight: 2, timeline.ShapeMarker: 1, timeline.ShapeHide: 2,
}

// begin makes ready for one drawing and says whether it can be painted.
func (p *Painter) begin(d *timeline.Drawing, colours Colours) bool {
	least, ok := shapeNeeds[d.Shape]
	if !ok || len(d.Points) < least || !sound(d.Points) {
		return false
	}
	p.ink = colours.Of(d.Colour)
	p.halo = against(p.ink)
	p.width, p.big = usualLine*p.unit, 1
	if d.Width > 0 {
		p.width = d.Width * p.size.y
		p.big = min(max(p.width/(usualLine*p.unit), 0.5), 4)
	}
	return true
}

// sound says whether all points are numbers near the picture.
func sound(points []timeline.Point) bool {
	for _, p := range points {
		if !(math.Abs(p.X) < 10 && math.Abs(p.Y) < 10) {
			return false
		}
	}
	return true
}

// shape paints one drawing; what dims or hides is painted before.
func (p *Painter) shape(d *timeline.Drawing) {
	switch d.Shape {
	case timeline.ShapeArrow:
		p.arrow(p.point(d.Points[0]), p.point(d.Points[len(d.Points)-1]))
	case timeline.ShapeLine:
		p.path = append(p.path[:0], p.point(d.Points[0]), p.point(d.Points[len(d.Points)-1]))
		p.stroke()
	case timeline.ShapeRing:
		p.path = ellipse(p.path[:0], p.point(d.Points[0]), p.point(d.Points[1]))
		p.stroke()
	case timeline.ShapeArea:
		p.area(d.Points)
	case timeline.ShapeFree:
		p.points = p.points[:0]
		for _, q := range d.Points {
			p.points = append(p.points, p.point(q))
		}
		p.path = smooth(p.path[:0], p.points, p.step())
		p.stroke()
	case timeline.ShapeText:
		p.label(p.point(d.Points[0]), d.Text)
	case timeline.ShapeMarker:
		p.marker(p.point(d.Points[0]), d.Number)
	}
}

// point is a stored point in pixels of dst.
func (p *Painter) point(q timeline.Point) vec {
	return vec{p.at.x + q.X*p.size.x, p.at.y + q.Y*p.size.y}
}

// step is how long the pieces of a free line are in pixels.
func (p *Painter) step() float64 { return max(p.unit/240, 0.4*p.width) }

// rim is how wide the halo of a line is in pixels.
func (p *Painter) rim() float64 { return max(0.4*p.width, 0.0025*p.unit) }

// stroke paints the path as a line with its halo.
func (p *Painter) stroke() {
	if len(p.path) == 1 {
		p.path = append(p.path, p.path[0])
	}
	for _, pass := range [2]struct {
		c    color.NRGBA
		grow float64
	}{{p.halo, p.rim()}, {p.ink, 0}} {
		for i := 1; i < len(p.path); i++ {
			p.mask.line(p.path[i-1], p.path[i], p.width/2+pass.grow)
		}
		p.mask.paint(p.dst, pass.c)
	}
}
