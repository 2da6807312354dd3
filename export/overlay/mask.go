package overlay

import (
	"image"
	"image/color"
	"math"
)

// mask collects how much of each pixel a shape covers, 0..255. Parts of one shape
// are joined by the larger value, so that joints of a line neither thicken nor
// show, and the same shape grown by a few pixels is its halo.
type mask struct {
	bounds image.Rectangle
	pix    []uint8
	dirty  image.Rectangle
}

// reset makes the mask as large as a picture; it is empty before and after.
func (m *mask) reset(r image.Rectangle) {
	m.bounds, m.dirty = r, image.Rectangle{}
	if n := r.Dx() * r.Dy(); cap(m.pix) < n {
		m.pix = make([]uint8, n)
	} else {
		m.pix = m.pix[:n]
	}
}

// window clips a box in pixels to the picture and notes it as touched.
func (m *mask) window(x0, y0, x1, y1 float64) image.Rectangle {
	r := image.Rectangle{
		image.Point{floor(x0, m.bounds.Min.X, m.bounds.Max.X), floor(y0, m.bounds.Min.Y, m.bounds.Max.Y)},
		image.Point{floor(x1, m.bounds.Min.X, m.bounds.Max.X-1) + 1, floor(y1, m.bounds.Min.Y, m.bounds.Max.Y-1) + 1},
	}
	if r.Empty() {
		return image.Rectangle{}
	}
	m.dirty = m.dirty.Union(r)
	return r
}

// floor is the whole number below x, kept between two bounds; NaN is the lower.
func floor(x float64, low, high int) int {
	switch {
	case !(x > float64(low)):
		return low
	case x >= float64(high):
		return high
	}
	return int(math.Floor(x))
}

func (m *mask) row(y, x0, x1 int) []uint8 {
	at := (y - m.bounds.Min.Y) * m.bounds.Dx()
	return m.pix[at+x0-m.bounds.Min.X : at+x1-m.bounds.Min.X]
}

// share is the part of a pixel that lies inside an edge, from the distance of its
// centre to the edge, outside positive.
func share(d float64) uint8 { return uint8(255*min(max(0.5-d, 0), 1) + 0.5) }

// line covers all that is at most radius from the line between two points: a line
// with round ends, or a disc where both are the same.
func (m *mask) line(a, b vec, radius float64) {
	if !(radius > 0) {
		return
	}
	reach := radius + 1
	w := m.window(min(a.x, b.x)-reach, min(a.y, b.y)-reach, max(a.x, b.x)+reach, max(a.y, b.y)+reach)
	along := b.sub(a)
	length := along.length()
	dir := vec{}
	if length > 0 {
		dir = along.scale(1 / length)
	}
	inner := max(radius-0.5, 0)
	for y := w.Min.Y; y < w.Max.Y; y++ {
		p := vec{0, float64(y) + 0.5 - a.y}
		x0, x1 := w.Min.X, w.Max.X
		if math.Abs(dir.y) > 1e-6 { // only where the line crosses this row
			mid, half := a.x+p.y*dir.x/dir.y, reach/math.Abs(dir.y)
			x0, x1 = floor(mid-half, w.Min.X, w.Max.X), floor(mid+half, w.Min.X-1, w.Max.X-1)+1
		}
		if x0 >= x1 {
			continue
		}
		row := m.row(y, x0, x1)
		for i := range row {
			p.x = float64(x0+i) + 0.5 - a.x
			t := min(max(p.x*dir.x+p.y*dir.y, 0), length)
			dx, dy := p.x-t*dir.x, p.y-t*dir.y
			d2 := dx*dx + dy*dy
			switch {
			case d2 <= inner*inner:
				row[i] = 255
			case d2 < reach*reach:
				row[i] = max(row[i], share(math.Sqrt(d2)-radius))
			}
		}
	}
}

// edge is one side of a polygon: from a corner along a unit vector, with the unit
// vector that points out of the polygon.
type edge struct {
	from, dir, out vec
	length         float64
}

// mostEdges is the most corners that convex takes.
const mostEdges = 4

// convex covers a polygon of at most four corners without dents, grown by so many
// pixels with round corners. Its corners go either way round.
func (m *mask) convex(corners []vec, grow float64) {
	low, high := corners[0], corners[0]
	turn := 0.0
	for i, c := range corners {
		low, high = vec{min(low.x, c.x), min(low.y, c.y)}, vec{max(high.x, c.x), max(high.y, c.y)}
		n := corners[(i+1)%len(corners)]
		turn += c.x*n.y - c.y*n.x
	}
	if turn == 0 || math.IsNaN(turn) {
		return
	}
	turn = math.Copysign(1, turn)
	var list [mostEdges]edge
	edges := list[:0]
	for i, c := range corners {
		along := corners[(i+1)%len(corners)].sub(c)
		if l := along.length(); l > 0 {
			d := along.scale(1 / l)
			edges = append(edges, edge{c, d, vec{turn * d.y, -turn * d.x}, l})
		}
	}
	w := m.window(low.x-grow-1, low.y-grow-1, high.x+grow+1, high.y+grow+1)
	for y := w.Min.Y; y < w.Max.Y; y++ {
		row := m.row(y, w.Min.X, w.Max.X)
		for i := range row {
			p := vec{float64(w.Min.X+i) + 0.5, float64(y) + 0.5}
			d := math.Inf(-1) // inside, the distance to the nearest edge; outside, at most the distance
			for k := range edges {
				d = max(d, p.sub(edges[k].from).dot(edges[k].out))
			}
			if d > grow+0.5 {
				continue
			}
			if d > 0 {
				near := math.Inf(1)
				for k := range edges {
					q := p.sub(edges[k].from)
					q = q.sub(edges[k].dir.scale(min(max(q.dot(edges[k].dir), 0), edges[k].length)))
					near = min(near, q.dot(q))
				}
				d = math.Sqrt(near)
			}
			row[i] = max(row[i], share(d-grow))
		}
	}
}

// paint lays a colour over a picture where the mask covers it, and empties the mask.
func (m *mask) paint(dst *image.RGBA, c color.NRGBA) {
	w := m.dirty
	for y := w.Min.Y; y < w.Max.Y; y++ {
		row := m.row(y, w.Min.X, w.Max.X)
		out := dst.Pix[dst.PixOffset(w.Min.X, y):]
		for i, v := range row {
			if v == 0 {
				continue
			}
			row[i] = 0
			lay(out[4*i:4*i+4:4*i+4], c, uint32(v))
		}
	}
	m.dirty = image.Rectangle{}
}

// lay lays a colour over one pixel; cover is 0..255.
func lay(px []uint8, c color.NRGBA, cover uint32) {
	a := part(uint32(c.A) * cover)
	if a == 255 {
		px[0], px[1], px[2], px[3] = c.R, c.G, c.B, 255
		return
	}
	left := 255 - a
	px[0] = uint8(part(uint32(c.R)*a + uint32(px[0])*left))
	px[1] = uint8(part(uint32(c.G)*a + uint32(px[1])*left))
	px[2] = uint8(part(uint32(c.B)*a + uint32(px[2])*left))
	px[3] = uint8(part(255*a + uint32(px[3])*left))
}

// part is x/255, rounded, for x up to 255*255.
func part(x uint32) uint32 {
	x += 128
	return (x + x>>8) >> 8
}
