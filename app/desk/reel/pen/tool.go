// Package pen is drawing with a pointer as plain code: what a press, a drag and a
// release make of a shape, which drawing lies under the pointer, and how one is
// moved. Points are parts of the picture's width and height; distances are parts
// of its height, so that they look alike in both directions.
package pen

import (
	"math"

	"whistlecut/timeline"
)

// Distances, in parts of the picture's height. Chosen by hand with a mouse.
const (
	slip     = 0.012 // a drag shorter than this was a click
	joint    = 0.03  // a click so near an area's first corner closes it
	smooth   = 0.003 // how far a free line may be from the hand
	mostFree = 2000  // points of a free line that the bout keeps
	mostArea = 500   // corners of an area that it keeps
)

// Tool makes drawings of one shape.
type Tool struct {
	Shape  timeline.Shape
	Colour string  // as it is stored: "", "home", "away", "#RRGGBB"
	Number int     // of the next marker
	Aspect float64 // width of the picture by its height; 0 is 16:9

	points []timeline.Point
	down   bool
	moved  bool
}

func (t *Tool) aspect() float64 {
	if t.Aspect > 0 {
		return t.Aspect
	}
	return 16.0 / 9
}

// Down is a press of the pointer.
func (t *Tool) Down(p timeline.Point) {
	p = within(p)
	if t.Shape != timeline.ShapeArea || t.moved {
		t.points = nil
	}
	t.down, t.moved = true, false
	t.points = append(t.points, p)
}

// Drag is a move with the pointer pressed.
func (t *Tool) Drag(p timeline.Point) {
	if !t.down || len(t.points) == 0 {
		return
	}
	p = within(p)
	switch t.Shape {
	case timeline.ShapeText, timeline.ShapeMarker:
		t.points[0] = p
	case timeline.ShapeFree:
		t.points = append(t.points, p)
	case timeline.ShapeArea:
		// A drag from the first corner on goes round what is meant; later ones only
		// set their corner.
		if len(t.points) == 1 && !t.moved {
			t.moved = t.far(t.points[0], p)
		}
		if t.moved {
			t.points = append(t.points, p)
		} else if len(t.points) > 1 {
			t.points[len(t.points)-1] = p
		}
	default:
		t.points = append(t.points[:1], p)
	}
}

// Up is the release; done says that the drawing is finished.
func (t *Tool) Up(p timeline.Point) (d timeline.Drawing, done bool) {
	if !t.down {
		return d, false
	}
	t.Drag(p)
	t.down = false
	if t.Shape == timeline.ShapeArea && !t.moved {
		if n := len(t.points); n > 3 && t.distance(t.points[0], t.points[n-1]) < joint {
			t.points = t.points[:n-1]
			return t.Finish()
		}
		return d, false
	}
	return t.Finish()
}

// Finish ends a drawing of several clicks, as an area.
func (t *Tool) Finish() (timeline.Drawing, bool) {
	d, ok := t.Draft()
	ok = ok && t.large(d.Points)
	t.Cancel()
	return d, ok
}

// Cancel drops what was begun.
func (t *Tool) Cancel() { t.points, t.down, t.moved = nil, false, false }

// Begun reports whether a drawing was begun and not finished.
func (t *Tool) Begun() bool { return len(t.points) > 0 }

// Draft is the drawing as it would be if it was finished now; ok is false when it
// has too few points.
func (t *Tool) Draft() (d timeline.Drawing, ok bool) {
	d = timeline.Drawing{Shape: t.Shape, Colour: t.Colour, Points: append([]timeline.Point(nil), t.points...)}
	least := 2
	switch t.Shape {
	case timeline.ShapeText:
		least = 1
	case timeline.ShapeMarker:
		least, d.Number = 1, t.Number
	case timeline.ShapeArea:
		if t.moved {
			d.Points = t.thin(d.Points, mostArea)
		}
		if len(d.Points) == 2 { // its first side, until there are three corners
			d.Shape = timeline.ShapeLine
			return d, t.Begun() && t.down
		}
		least = 3
	case timeline.ShapeFree:
		d.Points = t.thin(d.Points, mostFree)
	}
	return d, len(d.Points) >= least
}

// large says that a drawing was drawn on purpose.
func (t *Tool) large(p []timeline.Point) bool {
	if len(p) == 1 {
		return true
	}
	for _, q := range p[1:] {
		if t.far(p[0], q) {
			return true
		}
	}
	return false
}

func (t *Tool) far(a, b timeline.Point) bool { return t.distance(a, b) > slip }

func (t *Tool) distance(a, b timeline.Point) float64 {
	return math.Hypot((a.X-b.X)*t.aspect(), a.Y-b.Y)
}

// thin leaves out points of a line that tell nothing (Douglas and Peucker 1973),
// with more tolerance until there are no more than so many.
func (t *Tool) thin(p []timeline.Point, most int) []timeline.Point {
	out := p
	for tolerance := smooth; ; tolerance *= 2 {
		keep := make([]bool, len(p))
		if len(p) > 0 {
			keep[0], keep[len(p)-1] = true, true
		}
		t.split(p, keep, 0, len(p)-1, tolerance)
		out = out[:0:0]
		for i, k := range keep {
			if k {
				out = append(out, p[i])
			}
		}
		if len(out) <= most {
			return out
		}
	}
}

func (t *Tool) split(p []timeline.Point, keep []bool, from, to int, tolerance float64) {
	worst, at := 0.0, -1
	for i := from + 1; i < to; i++ {
		if d := toSegment(p[i], p[from], p[to], t.aspect()); d > worst {
			worst, at = d, i
		}
	}
	if at >= 0 && worst > tolerance {
		keep[at] = true
		t.split(p, keep, from, at, tolerance)
		t.split(p, keep, at, to, tolerance)
	}
}

// within keeps a point on the picture.
func within(p timeline.Point) timeline.Point {
	return timeline.Point{X: min(max(p.X, 0), 1), Y: min(max(p.Y, 0), 1)}
}

// Usual is a drawing of a shape in the middle of the picture, for those who draw
// by keys and move it then.
func (t *Tool) Usual() timeline.Drawing {
	d := timeline.Drawing{Shape: t.Shape, Colour: t.Colour}
	w := 0.12 / t.aspect()
	at := func(x, y float64) timeline.Point { return timeline.Point{X: 0.5 + x*w, Y: 0.5 + y*0.12} }
	switch t.Shape {
	case timeline.ShapeText:
		d.Points = []timeline.Point{at(-1, 0)}
	case timeline.ShapeMarker:
		d.Points, d.Number = []timeline.Point{at(0, 0)}, t.Number
	case timeline.ShapeArea:
		d.Points = []timeline.Point{at(-1, 1), at(1, 1), at(1, -1), at(-1, -1)}
	case timeline.ShapeLine, timeline.ShapeFree, timeline.ShapeArrow:
		d.Points = []timeline.Point{at(-1, 1), at(1, -1)}
	default:
		d.Points = []timeline.Point{at(-1, -1), at(1, 1)}
	}
	return d
}
