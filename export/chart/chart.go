package chart

import (
	"math"

	"whistlecut/timeline"
)

// Chart is one chart. X is in jams: jam i of the bout (from 0) lies from i to i+1.
// Y is in points.
type Chart struct {
	Jams      int
	Low, High float64 // of the field; there is some room above and below what is drawn
	Boxes     []Box
	Lines     []Line
	Unknown   []Spot // where nobody knows how high the chart is
}

// Box is a filled box of one side. A box that is not sure may not be there: it is
// the part of a range above its lower end.
type Box struct {
	Left, Right float64
	Low, High   float64
	Side        timeline.Side
	Sure        bool
}

// Line is a straight line.
type Line struct{ X1, Y1, X2, Y2 float64 }

// Spot is a place.
type Spot struct{ X, Y float64 }

// Step is a round distance between marks over a span, so that there are at most n
// of them; 1 at least.
func Step(span float64, n int) float64 {
	base := math.Pow(10, math.Floor(math.Log10(span/float64(n))))
	for _, m := range []float64{1, 2, 5, 10} {
		if span/(base*m) <= float64(n) {
			return max(base*m, 1)
		}
	}
	return max(base*10, 1)
}

// Levels are the values of the level lines of a chart, six at most about.
func (c Chart) Levels() []float64 {
	by := Step(c.High-c.Low, 6)
	var out []float64
	for v := math.Ceil(c.Low/by) * by; v <= c.High+1e-9; v += by {
		out = append(out, v)
	}
	return out
}
