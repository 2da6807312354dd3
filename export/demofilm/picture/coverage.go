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

// coverage gathers shapes over a part of a frame. Between two uses all of acc is
// zero; only the touched part of each row is looked at.
type coverage struct {
	f              *Frame
	x0, y0, x1, y1 int     // even bounds of the part, x1 and y1 excluded
	stride         int     // x1-x0+2
	acc            []int32 // per row the differences of coverage from pixel to pixel
	touched        []extent
	alpha          [2][]uint16
}

// extent is the stretch of a row's acc that is not zero, the end excluded.
type extent struct{ from, to int }

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
	if n := c.stride * (c.y1 - c.y0); len(c.acc) < n {
		c.acc = make([]int32, n)
	}
	c.touched = c.touched[:0]
	for range c.y1 - c.y0 {
		c.touched = append(c.touched, extent{c.stride, 0})
	}
	return true
}

// gather adds one convex shape.
func gather[S convex](c *coverage, s S) {
	top, bottom := s.rows()
	first := max(c.y0, int(math.Floor(top)))
	last := min(c.y1-1, int(math.Floor(bottom)))
	for y := first; y <= last; y++ {
		for k := range subRows {
			yy := float64(y) + (float64(k)+0.5)/subRows
			if yy < top || yy > bottom {
				continue
			}
			xl, xr := s.span(yy)
			c.stretch(y-c.y0, xl, xr)
		}
	}
}

func (c *coverage) stretch(y int, xl, xr float64) {
	left, right := float64(c.x0), float64(c.x1)
	xl, xr = max(xl, left)-left, min(xr, right)-left
	if !(xl < xr) {
		return
	}
	row, t := c.acc[y*c.stride:][:c.stride], &c.touched[y]
	edge(row, xl, subArea)
	edge(row, xr, -subArea)
	t.from, t.to = min(t.from, int(xl)), max(t.to, int(xr)+2)
}

// spot adds coverage to one pixel.
func (c *coverage) spot(x, y int, area int32) {
	row, t := c.acc[y*c.stride:][:c.stride], &c.touched[y]
	row[x] += area
	row[x+1] -= area
	t.from, t.to = min(t.from, x), max(t.to, x+2)
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
	if n := c.x1 - c.x0; len(c.alpha[0]) < n {
		c.alpha[0], c.alpha[1] = make([]uint16, c.f.W), make([]uint16, c.f.W)
	}
	cw := c.f.W / 2
	for y := 0; y < c.y1-c.y0; y += 2 {
		a, b := c.touched[y], c.touched[y+1]
		from, to := min(a.from, b.from)&^1, max(a.to, b.to)
		to = min((to+1)&^1, c.x1-c.x0)
		if from >= to {
			// A shape of no width still left its edges.
			c.wipe(y, a)
			c.wipe(y+1, b)
			continue
		}
		c.row(y, from, to, op, colour.Y, c.alpha[0])
		c.row(y+1, from, to, op, colour.Y, c.alpha[1])
		a0, a1 := c.alpha[0][:to-from], c.alpha[1][:to-from]
		at := (c.y0+y)/2*cw + (c.x0+from)/2
		us, vs := c.f.U[at:at+len(a0)/2], c.f.V[at:at+len(a0)/2]
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

// row paints a stretch of one row's luma, leaves its alpha, and wipes acc.
func (c *coverage) row(y, from, to int, op int32, luma uint8, alpha []uint16) {
	acc := c.acc[y*c.stride:][from:to]
	at := (c.y0+y)*c.f.W + c.x0 + from
	dst := c.f.Y[at:][:len(acc)]
	alpha = alpha[:len(acc)]
	sum := int32(0)
	for i, d := range acc {
		sum += d
		if sum <= 0 {
			alpha[i] = 0
			continue
		}
		a := min(sum, full) >> 6 * op >> 8
		alpha[i] = uint16(a)
		dst[i] = blend(dst[i], luma, a)
	}
	c.wipe(y, extent{from, max(to, c.touched[y].to)})
}

func (c *coverage) wipe(y int, e extent) {
	if e.from < e.to {
		clear(c.acc[y*c.stride:][e.from:min(e.to, c.stride)])
	}
}

// blend moves a byte towards another by a/256.
func blend(from, to uint8, a int32) uint8 {
	return uint8(int32(from) + ((int32(to)-int32(from))*a+128)>>8)
}
