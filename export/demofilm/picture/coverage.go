package picture

import "math"

// Shapes are drawn by exact horizontal coverage on four sub-scanlines a row:
// smooth edges at any position, so that nothing crawls or pops when a figure
// moves by a fraction of a pixel. Several shapes can be gathered before they
// are painted in one colour; where they overlap, coverage stops at full.

const (
	subRows = 4
	subArea = 4096 // coverage of one sub-scanline over a whole pixel
	full    = subRows * subArea
)

// convex is a shape that every horizontal line meets in at most one stretch.
type convex interface {
	rows() (top, bottom float64)
	// span is the stretch at height y; xl >= xr means none.
	span(y float64) (xl, xr float64)
}

// coverage gathers shapes over a part of a frame.
type coverage struct {
	f              *Frame
	x0, y0, x1, y1 int     // even bounds of the part, x1 and y1 excluded
	stride         int     // x1-x0+2
	acc            []int32 // per row the differences of coverage from pixel to pixel
	alpha          [2][]uint16
}

// begin starts gathering within a rectangle given in pixels; it returns false
// when nothing of it lies in the frame.
func (c *coverage) begin(x0, y0, x1, y1 float64) bool {
	if !(x0 < float64(c.f.W) && y0 < float64(c.f.H) && x1 > 0 && y1 > 0) {
		return false
	}
	c.x0 = max(0, int(math.Floor(x0))) &^ 1
	c.y0 = max(0, int(math.Floor(y0))) &^ 1
	c.x1 = min(c.f.W, (int(math.Ceil(x1))+1)&^1)
	c.y1 = min(c.f.H, (int(math.Ceil(y1))+1)&^1)
	if c.x0 >= c.x1 || c.y0 >= c.y1 {
		return false
	}
	c.stride = c.x1 - c.x0 + 2
	n := c.stride * (c.y1 - c.y0)
	if cap(c.acc) < n {
		c.acc = make([]int32, n)
	}
	c.acc = c.acc[:n]
	clear(c.acc)
	return true
}

// gather adds one convex shape.
func gather[S convex](c *coverage, s S) {
	top, bottom := s.rows()
	first := max(c.y0, int(math.Floor(top)))
	last := min(c.y1-1, int(math.Floor(bottom)))
	for y := first; y <= last; y++ {
		row := c.acc[(y-c.y0)*c.stride:][:c.stride]
		for k := range subRows {
			yy := float64(y) + (float64(k)+0.5)/subRows
			if yy < top || yy > bottom {
				continue
			}
			xl, xr := s.span(yy)
			c.stretch(row, xl, xr)
		}
	}
}

func (c *coverage) stretch(row []int32, xl, xr float64) {
	left, right := float64(c.x0), float64(c.x1)
	xl, xr = max(xl, left), min(xr, right)
	if !(xl < xr) {
		return
	}
	edge(row, xl-left, subArea)
	edge(row, xr-left, -subArea)
}

// edge lets coverage change by area from x on.
func edge(row []int32, x float64, area int32) {
	i := int(x)
	part := int32((x - float64(i)) * float64(area))
	row[i] += area - part
	row[i+1] += part
}

// paint blends the gathered shapes into the frame; opacity is 0..1.
func (c *coverage) paint(colour Colour, opacity float64) {
	op := int32(min(1, max(0, opacity)) * 256)
	if op == 0 {
		return
	}
	w := c.x1 - c.x0
	for k := range c.alpha {
		if cap(c.alpha[k]) < w {
			c.alpha[k] = make([]uint16, c.f.W)
		}
		c.alpha[k] = c.alpha[k][:w]
	}
	cw := c.f.W / 2
	for y := c.y0; y < c.y1; y += 2 {
		any0 := c.row(y, op, colour.Y, c.alpha[0])
		any1 := c.row(y+1, op, colour.Y, c.alpha[1])
		if !any0 && !any1 {
			continue
		}
		a0, a1 := c.alpha[0], c.alpha[1]
		at := y/2*cw + c.x0/2
		us, vs := c.f.U[at:at+w/2], c.f.V[at:at+w/2]
		for i := range us {
			a := (int32(a0[2*i]) + int32(a0[2*i+1]) + int32(a1[2*i]) + int32(a1[2*i+1])) >> 2
			if a == 0 {
				continue
			}
			us[i] = blend(us[i], colour.U, a)
			vs[i] = blend(vs[i], colour.V, a)
		}
	}
}

// row paints one row's luma and leaves its alpha; it reports whether any is set.
func (c *coverage) row(y int, op int32, luma uint8, alpha []uint16) bool {
	acc := c.acc[(y-c.y0)*c.stride:][:c.stride]
	dst := c.f.Y[y*c.f.W+c.x0:][:len(alpha)]
	sum, seen := int32(0), false
	for i := range alpha {
		sum += acc[i]
		if sum <= 0 {
			alpha[i] = 0
			continue
		}
		a := min(sum, full) >> 6 * op >> 8
		alpha[i] = uint16(a)
		dst[i] = blend(dst[i], luma, a)
		seen = true
	}
	return seen
}

// blend moves a byte towards another by a/256.
func blend(from, to uint8, a int32) uint8 {
	return uint8(int32(from) + ((int32(to)-int32(from))*a+128)>>8)
}
