package timeline

import "fmt"

// Shape is what a drawing looks like.
type Shape string

// The shapes a person can draw over the film.
const (
	ShapeArrow     Shape = "arrow"     // from the first point to the last
	ShapeLine      Shape = "line"      // from the first point to the last
	ShapeRing      Shape = "ring"      // an ellipse in the box of two points
	ShapeArea      Shape = "area"      // a tinted polygon of three points or more
	ShapeFree      Shape = "free line" // through all points
	ShapeText      Shape = "text"      // its upper left corner at the point
	ShapeSpotlight Shape = "spotlight" // all but an ellipse in the box of two points is dimmed
	ShapeMarker    Shape = "marker"    // a numbered disc at the point
	ShapeHide      Shape = "hide"      // the box of two points cannot be recognised any more
)

// shapePoints is how many points each shape needs, least and most.
var shapePoints = map[Shape][2]int{
	ShapeArrow: {2, 2}, ShapeLine: {2, 2}, ShapeRing: {2, 2}, ShapeArea: {3, 500}, ShapeFree: {2, 2000},
	ShapeText: {1, 1}, ShapeSpotlight: {2, 2}, ShapeMarker: {1, 1}, ShapeHide: {2, 2},
}

// Shapes lists all shapes in the order in which people are offered them.
func Shapes() []Shape {
	return []Shape{ShapeArrow, ShapeLine, ShapeRing, ShapeArea, ShapeFree, ShapeText, ShapeSpotlight, ShapeMarker, ShapeHide}
}

// Point is a place in the picture as it is shown (rotated upright): X from left
// and Y from top as parts of width and height, so that it holds for every size
// of the same film. Points may lie a little outside the picture.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Drawing is the payload of a drawing. The tag's Place is when it appears, on
// film; it belongs to that file and is seen in every clip that shows it.
type Drawing struct {
	Shape  Shape   `json:"shape"`
	Points []Point `json:"points"`
	// End is when it is gone, on the same film; a drawing of no length is seen
	// on a frozen picture of that instant only.
	End Place `json:"end"`
	// Colour: "home", "away" (the teams' colours), "#RRGGBB", or empty for the usual one.
	Colour string `json:"colour,omitempty"`
	// Width of lines as part of the picture's height, 0 for the usual one.
	Width  float64 `json:"width,omitempty"`
	Text   string  `json:"text,omitempty"`
	Number int     `json:"number,omitempty"` // of a marker
}

// Bounds of a drawing; they only keep out what cannot be meant.
const (
	farPoint      = 2.0 // pictures away from the picture's own corner
	widestLine    = 0.2
	longestLabel  = 500
	highestMarker = 999
)

func (c *checker) drawing(t Tag) {
	d := t.Drawing
	most, ok := shapePoints[d.Shape]
	if !ok {
		c.fail("drawing.shape", "%q is unknown; want one of %s", d.Shape, wordList(Shapes()))
		return
	}
	if n := len(d.Points); n < most[0] || n > most[1] {
		c.fail("drawing.points", "%d points; a drawing of shape %s has %d to %d", n, d.Shape, most[0], most[1])
	}
	for i, p := range d.Points {
		if !(p.X >= -farPoint && p.X <= 1+farPoint && p.Y >= -farPoint && p.Y <= 1+farPoint) {
			c.fail(fmt.Sprintf("drawing.points[%d]", i), "%g, %g is far outside the picture, which reaches from 0, 0 to 1, 1", p.X, p.Y)
		}
	}
	if t.Place.Footage == "" {
		c.fail("place", "a drawing is on film; want footage and film time")
	}
	c.place("drawing.end", d.End)
	if d.End.Footage != t.Place.Footage {
		c.fail("drawing.end", "it is on another film than the place")
	}
	c.after("drawing.end", t.Place, d.End)
	if d.Colour != "" && d.Colour != "home" && d.Colour != "away" && !isHexColour(d.Colour) {
		c.fail("drawing.colour", "%q is no colour; want home, away or #RRGGBB", d.Colour)
	}
	if !(d.Width >= 0 && d.Width <= widestLine) {
		c.fail("drawing.width", "%g is outside 0..%g", d.Width, widestLine)
	}
	c.text("drawing.text", d.Text, longestLabel)
	c.whole("drawing.number", d.Number, 0, highestMarker)
}

func isHexColour(s string) bool {
	if len(s) != 7 || s[0] != '#' {
		return false
	}
	for _, r := range s[1:] {
		if !(r >= '0' && r <= '9' || r >= 'a' && r <= 'f' || r >= 'A' && r <= 'F') {
			return false
		}
	}
	return true
}
