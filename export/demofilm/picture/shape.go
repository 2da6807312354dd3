package picture

import "math"

// oval is an ellipse with axes along the picture's.
type oval struct{ x, y, rx, ry float64 }

func (o oval) rows() (top, bottom float64) { return o.y - o.ry, o.y + o.ry }

func (o oval) span(y float64) (xl, xr float64) {
	t := (y - o.y) / o.ry
	half := o.rx * math.Sqrt(max(0, 1-t*t))
	return o.x - half, o.x + half
}

// limb is the hull of two discs: a rounded bar that may narrow.
type limb struct {
	x0, y0, r0, x1, y1, r1 float64
	quad                   [4]vec // corners where the straight sides touch the discs
	sides                  bool   // false when one disc lies within the other
}

type vec struct{ x, y float64 }

func newLimb(x0, y0, r0, x1, y1, r1 float64) limb {
	l := limb{x0: x0, y0: y0, r0: r0, x1: x1, y1: y1, r1: r1}
	dx, dy := x1-x0, y1-y0
	d := math.Hypot(dx, dy)
	if d <= math.Abs(r0-r1) {
		return l
	}
	// The normal of each side makes the same angle with the axis.
	sin := (r0 - r1) / d
	cos := math.Sqrt(1 - sin*sin)
	ux, uy := dx/d, dy/d
	n1 := vec{ux*sin - uy*cos, uy*sin + ux*cos}
	n2 := vec{ux*sin + uy*cos, uy*sin - ux*cos}
	l.sides = true
	l.quad = [4]vec{
		{x0 + n1.x*r0, y0 + n1.y*r0},
		{x1 + n1.x*r1, y1 + n1.y*r1},
		{x1 + n2.x*r1, y1 + n2.y*r1},
		{x0 + n2.x*r0, y0 + n2.y*r0},
	}
	return l
}

func (l limb) rows() (top, bottom float64) {
	return min(l.y0-l.r0, l.y1-l.r1), max(l.y0+l.r0, l.y1+l.r1)
}

func (l limb) span(y float64) (xl, xr float64) {
	xl, xr = math.Inf(1), math.Inf(-1)
	xl, xr = widen(xl, xr, l.x0, l.r0, y-l.y0)
	xl, xr = widen(xl, xr, l.x1, l.r1, y-l.y1)
	if l.sides {
		xl, xr = polySpan(l.quad[:], y, xl, xr)
	}
	return xl, xr
}

func widen(xl, xr, x, r, dy float64) (float64, float64) {
	if h := r*r - dy*dy; h > 0 {
		h = math.Sqrt(h)
		return min(xl, x-h), max(xr, x+h)
	}
	return xl, xr
}

func polySpan(p []vec, y, xl, xr float64) (float64, float64) {
	prev := p[len(p)-1]
	for _, q := range p {
		if (prev.y <= y) != (q.y <= y) {
			x := prev.x + (q.x-prev.x)*(y-prev.y)/(q.y-prev.y)
			xl, xr = min(xl, x), max(xr, x)
		}
		prev = q
	}
	return xl, xr
}

// quad is a convex four-sided shape.
type quad [4]vec

func (q quad) rows() (top, bottom float64) {
	return min(q[0].y, q[1].y, q[2].y, q[3].y), max(q[0].y, q[1].y, q[2].y, q[3].y)
}

func (q quad) span(y float64) (xl, xr float64) {
	return polySpan(q[:], y, math.Inf(1), math.Inf(-1))
}

func (c *coverage) oval(x, y, rx, ry float64, colour Colour, opacity float64) {
	if rx > 0 && ry > 0 && c.begin(x-rx, y-ry, x+rx, y+ry) {
		gather(c, oval{x, y, rx, ry})
		c.paint(colour, opacity)
	}
}

func (c *coverage) limb(x0, y0, r0, x1, y1, r1 float64, colour Colour) {
	if c.begin(min(x0-r0, x1-r1), min(y0-r0, y1-r1), max(x0+r0, x1+r1), max(y0+r0, y1+r1)) {
		gather(c, newLimb(x0, y0, r0, x1, y1, r1))
		c.paint(colour, 1)
	}
}

func (c *coverage) quad(q quad, colour Colour, opacity float64) {
	x0 := min(q[0].x, q[1].x, q[2].x, q[3].x)
	x1 := max(q[0].x, q[1].x, q[2].x, q[3].x)
	y0, y1 := q.rows()
	if c.begin(x0, y0, x1, y1) {
		gather(c, q)
		c.paint(colour, opacity)
	}
}

// star is a five-pointed star, one point up, as five kites that share no area.
func (c *coverage) star(x, y, r float64, colour Colour) {
	if !c.begin(x-r, y-r, x+r, y+r) {
		return
	}
	at := func(k int, radius float64) vec {
		sin, cos := math.Sincos(float64(k) * math.Pi / 5)
		return vec{x + radius*sin, y - radius*cos}
	}
	inner := r * 0.45
	for k := 0; k < 10; k += 2 {
		gather(c, quad{{x, y}, at(k-1, inner), at(k, r), at(k+1, inner)})
	}
	c.paint(colour, 1)
}
