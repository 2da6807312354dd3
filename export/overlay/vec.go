package overlay

import "math"

// vec is a place or a way in pixels, Y pointing down.
type vec struct{ x, y float64 }

func (a vec) add(b vec) vec            { return vec{a.x + b.x, a.y + b.y} }
func (a vec) sub(b vec) vec            { return vec{a.x - b.x, a.y - b.y} }
func (a vec) scale(f float64) vec      { return vec{a.x * f, a.y * f} }
func (a vec) dot(b vec) float64        { return a.x*b.x + a.y*b.y }
func (a vec) length() float64          { return math.Hypot(a.x, a.y) }
func (a vec) mix(b vec, t float64) vec { return vec{a.x + (b.x-a.x)*t, a.y + (b.y-a.y)*t} }

// smooth appends a line through all points without corners: a Catmull-Rom spline
// with knots by the square root of the distance, which makes neither loops nor
// overshoot between close points (Yuksel, Schaefer, Keyser: "On the
// Parameterization of Catmull-Rom Curves", 2009). Pieces are about step long.
func smooth(out, points []vec, step float64) []vec {
	// Points in one place say nothing and have no knot of their own.
	n := 0
	for i, p := range points {
		if i == 0 || p.sub(points[n-1]).length() > step/4 {
			points[n] = p
			n++
		}
	}
	points = points[:n]
	if n < 3 {
		return append(out, points...)
	}
	for i := range n - 1 {
		p1, p2 := points[i], points[i+1]
		p0, p3 := p1.add(p1.sub(p2)), p2.add(p2.sub(p1))
		if i > 0 {
			p0 = points[i-1]
		}
		if i+2 < n {
			p3 = points[i+2]
		}
		t1 := math.Sqrt(p1.sub(p0).length())
		t2 := t1 + math.Sqrt(p2.sub(p1).length())
		t3 := t2 + math.Sqrt(p3.sub(p2).length())
		pieces := int(min(max(math.Ceil(p2.sub(p1).length()/step), 1), 200))
		for k := range pieces {
			t := t1 + (t2-t1)*float64(k)/float64(pieces)
			a1, a2, a3 := p0.mix(p1, t/t1), p1.mix(p2, (t-t1)/(t2-t1)), p2.mix(p3, (t-t2)/(t3-t2))
			b1, b2 := a1.mix(a2, t/t2), a2.mix(a3, (t-t1)/(t3-t1))
			out = append(out, b1.mix(b2, (t-t1)/(t2-t1)))
		}
	}
	return append(out, points[n-1])
}

// ellipse appends the outline of the ellipse in a box, its first point again at
// the end, always the same way round. Its chords keep within a twentieth of a
// pixel of the curve: a chord of a circle of radius r over an angle of a is
// r(1-cos(a/2)) away from it.
func ellipse(out []vec, a, b vec) []vec {
	mid, half := a.mix(b, 0.5), vec{math.Abs(b.x-a.x) / 2, math.Abs(b.y-a.y) / 2}
	n := int(min(max(math.Ceil(math.Pi/math.Acos(1-0.05/max(half.x, half.y, 1))), 16), 400))
	for i := range n + 1 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out = append(out, vec{mid.x + half.x*cos, mid.y + half.y*sin})
	}
	return out
}
