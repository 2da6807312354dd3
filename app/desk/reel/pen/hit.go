package pen

import (
	"math"

	"whistlecut/timeline"
)

// Reach is how far the pointer may be from a line, in parts of the picture's height.
const Reach = 0.02

// Sizes of what stands at one point, in parts of the picture's height: the half
// width of a marker's disc, the height of a text's letters and how wide one is.
const (
	disc   = 0.045
	letter = 0.055
	wide   = 0.5 * letter
)

// Whole is the handle of a drawing that was taken elsewhere than at one of its points.
const Whole = -1

// Hit reports whether a drawing lies under the pointer, and which of its points
// was taken (Whole for none). aspect is the picture's width by its height.
func Hit(d timeline.Drawing, p timeline.Point, aspect float64) (handle int, ok bool) {
	n := len(d.Points)
	if n == 0 {
		return Whole, false
	}
	dist := func(a timeline.Point) float64 { return math.Hypot((a.X-p.X)*aspect, a.Y-p.Y) }
	if n > 1 && d.Shape != timeline.ShapeFree {
		for i, q := range d.Points {
			if dist(q) < Reach {
				return i, true
			}
		}
	}
	switch d.Shape {
	case timeline.ShapeMarker:
		return Whole, dist(d.Points[0]) < disc
	case timeline.ShapeText:
		x, y := (p.X-d.Points[0].X)*aspect, p.Y-d.Points[0].Y
		long, lines, line := 0, 1, 0
		for _, r := range d.Text {
			if line++; r == '\n' {
				lines, line = lines+1, 0
			}
			long = max(long, line)
		}
		return Whole, x > -Reach && y > -Reach && x < float64(max(long, 2))*wide+Reach && y < 1.3*letter*float64(lines)+Reach
	case timeline.ShapeRing, timeline.ShapeSpotlight:
		if n < 2 {
			return Whole, false
		}
		return Whole, ellipse(d.Points[0], d.Points[1], p, aspect)
	case timeline.ShapeHide:
		if n < 2 {
			return Whole, false
		}
		a, b := d.Points[0], d.Points[1]
		return Whole, p.X >= min(a.X, b.X) && p.X <= max(a.X, b.X) && p.Y >= min(a.Y, b.Y) && p.Y <= max(a.Y, b.Y)
	case timeline.ShapeArea:
		return Whole, inside(d.Points, p)
	}
	for i := 1; i < n; i++ {
		if toSegment(p, d.Points[i-1], d.Points[i], aspect) < Reach {
			return Whole, true
		}
	}
	return Whole, false
}

// ellipse reports whether p is in the ellipse of a box, or a little outside.
func ellipse(a, b, p timeline.Point, aspect float64) bool {
	rx, ry := math.Abs(a.X-b.X)/2*aspect+Reach, math.Abs(a.Y-b.Y)/2+Reach
	x, y := (p.X-(a.X+b.X)/2)*aspect, p.Y-(a.Y+b.Y)/2
	return x*x/(rx*rx)+y*y/(ry*ry) <= 1
}

// inside reports whether p is in a polygon: a ray from it crosses an odd number
// of sides.
func inside(poly []timeline.Point, p timeline.Point) bool {
	in := false
	for i, j := 0, len(poly)-1; i < len(poly); j, i = i, i+1 {
		a, b := poly[i], poly[j]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}

// toSegment is the distance of p from the line a to b, in parts of the height.
func toSegment(p, a, b timeline.Point, aspect float64) float64 {
	px, py, ax, ay, bx, by := p.X*aspect, p.Y, a.X*aspect, a.Y, b.X*aspect, b.Y
	dx, dy := bx-ax, by-ay
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(max(((px-ax)*dx+(py-ay)*dy)/l, 0), 1)
	}
	return math.Hypot(px-ax-t*dx, py-ay-t*dy)
}

// Pick is the drawing on top under the pointer, -1 for none; the last of the list
// lies on top.
func Pick(list []timeline.Drawing, p timeline.Point, aspect float64) (i, handle int) {
	for i := len(list) - 1; i >= 0; i-- {
		if h, ok := Hit(list[i], p, aspect); ok {
			return i, h
		}
	}
	return -1, Whole
}

// Moved is a drawing moved by parts of the picture: all of it, or one of its
// points. What lies in the picture stays in it.
func Moved(d timeline.Drawing, handle int, dx, dy float64) timeline.Drawing {
	points := append([]timeline.Point(nil), d.Points...)
	if handle >= 0 && handle < len(points) {
		points[handle] = within(timeline.Point{X: points[handle].X + dx, Y: points[handle].Y + dy})
		d.Points = points
		return d
	}
	left, right, top, bottom := edges(points)
	if left >= 0 && right <= 1 {
		dx = min(max(dx, -left), 1-right)
	}
	if top >= 0 && bottom <= 1 {
		dy = min(max(dy, -top), 1-bottom)
	}
	for i, q := range points {
		points[i] = timeline.Point{X: q.X + dx, Y: q.Y + dy}
	}
	d.Points = points
	return d
}

func edges(p []timeline.Point) (left, right, top, bottom float64) {
	left, top, right, bottom = 1, 1, 0, 0
	for _, q := range p {
		left, right, top, bottom = min(left, q.X), max(right, q.X), min(top, q.Y), max(bottom, q.Y)
	}
	return left, right, top, bottom
}
