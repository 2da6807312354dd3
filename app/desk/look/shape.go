package look

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
)

// Shape is the form a state has, so that colour never says it alone.
type Shape string

// The shapes of states.
const (
	NoShape  Shape = ""
	Diamond  Shape = "diamond"  // tags differ from sheet
	Ring     Shape = "ring"     // not checkable
	Triangle Shape = "triangle" // unsure, not seen
	Tick     Shape = "tick"     // agrees, settled
	Square   Shape = "square"   // a mark
	Bar      Shape = "bar"      // a side
)

// Colour is the colour that goes with a shape.
func (p Palette) Colour(s Shape) color.NRGBA {
	switch s {
	case Diamond:
		return p.Differs
	case Ring:
		return p.Unchecked
	case Triangle:
		return p.Unsure
	case Tick:
		return p.Agrees
	}
	return p.Text
}

var paths = map[Shape]string{
	Diamond:  `<path d="M8 1 L15 8 L8 15 L1 8 Z" fill="%s"/>`,
	Ring:     `<circle cx="8" cy="8" r="5.5" fill="none" stroke="%s" stroke-width="2.2"/>`,
	Triangle: `<path d="M8 1.5 L15.5 14.5 L0.5 14.5 Z" fill="%s"/>`,
	Tick:     `<path d="M1.5 8.5 L6 13 L14.5 3.5" fill="none" stroke="%s" stroke-width="2.6"/>`,
	Square:   `<path d="M2 2 H14 V14 H2 Z" fill="%s"/>`,
	Bar:      `<path d="M6 0 H10 V16 H6 Z" fill="%s"/>`,
}

// ShapeResource is a shape as a picture, for buttons and images.
func ShapeResource(s Shape, c color.NRGBA) fyne.Resource {
	rgb := fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B)
	body := ""
	if p, ok := paths[s]; ok {
		body = fmt.Sprintf(p, rgb)
	}
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="16" height="16" viewBox="0 0 16 16">` + body + `</svg>`
	return fyne.NewStaticResource(fmt.Sprintf("%s-%s.svg", s, rgb), []byte(svg))
}
