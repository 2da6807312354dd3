package strip

import (
	"image"
	"image/color"
)

// brush paints plain shapes into a picture, inside a clip. It writes bytes
// itself: image/draw is several times slower for many small shapes.
type brush struct {
	img  *image.RGBA
	clip image.Rectangle
}

// fill fills a rectangle.
func (b *brush) fill(r image.Rectangle, c color.RGBA) {
	r = r.Intersect(b.clip)
	if r.Empty() {
		return
	}
	first := b.img.Pix[b.img.PixOffset(r.Min.X, r.Min.Y):][:4*r.Dx()]
	first[0], first[1], first[2], first[3] = c.R, c.G, c.B, 255
	for n := 4; n < len(first); n *= 2 {
		copy(first[n:], first[:n])
	}
	for y := r.Min.Y + 1; y < r.Max.Y; y++ {
		copy(b.img.Pix[b.img.PixOffset(r.Min.X, y):], first)
	}
}

// blend mixes a share of a colour (0..255) into a rectangle.
func (b *brush) blend(r image.Rectangle, c color.RGBA, alpha uint32) {
	r = r.Intersect(b.clip)
	if alpha >= 255 {
		b.fill(r, c)
		return
	}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := b.img.Pix[b.img.PixOffset(r.Min.X, y):][:4*r.Dx()]
		for k := 0; k < len(row); k += 4 {
			over(row[k:k+4:k+4], c, alpha)
		}
	}
}

// over mixes a share of a colour (0..255) into one pixel.
func over(p []uint8, c color.RGBA, alpha uint32) {
	rest := 255 - alpha
	p[0] = uint8((uint32(p[0])*rest + uint32(c.R)*alpha + 127) / 255)
	p[1] = uint8((uint32(p[1])*rest + uint32(c.G)*alpha + 127) / 255)
	p[2] = uint8((uint32(p[2])*rest + uint32(c.B)*alpha + 127) / 255)
	p[3] = 255
}

// mask blends a colour through a mask whose top left corner is put at (x, y).
func (b *brush) mask(m *image.Alpha, x, y int, c color.RGBA) {
	r := image.Rect(x, y, x+m.Rect.Dx(), y+m.Rect.Dy()).Intersect(b.clip)
	for py := r.Min.Y; py < r.Max.Y; py++ {
		row := b.img.Pix[b.img.PixOffset(r.Min.X, py):][:4*r.Dx()]
		cover := m.Pix[(py-y)*m.Stride+r.Min.X-x:][:r.Dx()]
		for k, a := range cover {
			switch a {
			case 0:
			case 255:
				p := row[4*k : 4*k+4 : 4*k+4]
				p[0], p[1], p[2], p[3] = c.R, c.G, c.B, 255
			default:
				over(row[4*k:4*k+4:4*k+4], c, uint32(a))
			}
		}
	}
}

// centre is mask with its middle put at (x, y).
func (b *brush) centre(m *image.Alpha, x, y int, c color.RGBA) {
	b.mask(m, x-m.Rect.Dx()/2, y-m.Rect.Dy()/2, c)
}

// round fills a rectangle whose corners are rounded by the corner mask.
func (b *brush) round(r image.Rectangle, c color.RGBA, corner *image.Alpha) {
	n := corner.Rect.Dx()
	if n == 0 || r.Dx() < 2*n || r.Dy() < 2*n {
		b.fill(r, c)
		return
	}
	b.fill(image.Rect(r.Min.X+n, r.Min.Y, r.Max.X-n, r.Min.Y+n), c)
	b.fill(image.Rect(r.Min.X, r.Min.Y+n, r.Max.X, r.Max.Y-n), c)
	b.fill(image.Rect(r.Min.X+n, r.Max.Y-n, r.Max.X-n, r.Max.Y), c)
	b.corners(r, c, corner)
}

// corners blends the four corners; corner is the top left one.
func (b *brush) corners(r image.Rectangle, c color.RGBA, corner *image.Alpha) {
	n := corner.Rect.Dx()
	for y := range n {
		for x := range n {
			a := uint32(corner.Pix[y*corner.Stride+x])
			if a == 0 {
				continue
			}
			b.dot(r.Min.X+x, r.Min.Y+y, c, a)
			b.dot(r.Max.X-1-x, r.Min.Y+y, c, a)
			b.dot(r.Min.X+x, r.Max.Y-1-y, c, a)
			b.dot(r.Max.X-1-x, r.Max.Y-1-y, c, a)
		}
	}
}

func (b *brush) dot(x, y int, c color.RGBA, alpha uint32) {
	if (image.Point{x, y}).In(b.clip) {
		over(b.img.Pix[b.img.PixOffset(x, y):][:4:4], c, alpha)
	}
}

// frame draws the outline of a rectangle inside its edge, line pixels wide.
func (b *brush) frame(r image.Rectangle, c color.RGBA, line int) {
	b.fill(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+line), c)
	b.fill(image.Rect(r.Min.X, r.Max.Y-line, r.Max.X, r.Max.Y), c)
	b.fill(image.Rect(r.Min.X, r.Min.Y+line, r.Min.X+line, r.Max.Y-line), c)
	b.fill(image.Rect(r.Max.X-line, r.Min.Y+line, r.Max.X, r.Max.Y-line), c)
}

// roundFrame fills a rounded rectangle with an outline.
func (b *brush) roundFrame(r image.Rectangle, edge, inside color.RGBA, line int, corner *image.Alpha) {
	b.round(r, edge, corner)
	b.round(r.Inset(line), inside, corner)
}

// hatch draws slanted lines, pitch pixels apart.
func (b *brush) hatch(r image.Rectangle, c color.RGBA, pitch int) {
	r = r.Intersect(b.clip)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X + (pitch-(r.Min.X+y)%pitch)%pitch; x < r.Max.X; x += pitch {
			p := b.img.PixOffset(x, y)
			b.img.Pix[p], b.img.Pix[p+1], b.img.Pix[p+2] = c.R, c.G, c.B
		}
	}
}
