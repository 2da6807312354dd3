package picture

import (
	"math"
	"runtime"
	"sync"
)

// Hall is everything that stands still, painted once as a panorama on a
// cylinder round one camera place. It is not changed after NewHall and may be
// used by several painters at once.
type Hall struct {
	Place Place
	W, H  int // size of the frames it is made for

	tex     texture
	azimuth float64 // of the panorama's left edge
	scale   float64 // texels per radian, and per unit of tan(elevation)
	top     float64 // tan(elevation) of the upper edge
}

// What the panorama covers: a bit more than the operator may show.
const (
	panoramaHalf   = 1.04 // radians to each side of Place.Facing
	panoramaTop    = 0.24 // tan(elevation)
	panoramaBottom = -0.70
	texelsPerWidth = 1.05 // panorama scale over frame width: close to the usual focal length
)

// NewHall paints the hall for frames of w by h pixels from one place. It takes
// about a second at 1280x720.
func NewHall(place Place, w, h int) (*Hall, error) {
	if err := checkSize(w, h); err != nil {
		return nil, err
	}
	scale := texelsPerWidth * float64(w)
	if r := float64(h) / float64(w); r > 0.75 {
		scale *= 0.75 / r // upright frames see more height: the sharpness goes down a bit
	}
	even := func(v float64) int { return int(v) &^ 1 }
	t := &Hall{Place: place, W: w, H: h, azimuth: place.Facing - panoramaHalf, scale: scale, top: panoramaTop}
	pan := newFrame(even(2*panoramaHalf*scale), even((panoramaTop-panoramaBottom)*scale))
	t.paintSurfaces(pan)
	t.seatCrowd(pan)
	t.setChairs(pan)
	t.tex = newTexture(pan)
	return t, nil
}

// texel turns a point of the hall into panorama coordinates and their scale in
// texels per foot at that distance.
func (h *Hall) texel(x, y, z float64) (tx, ty, perFoot float64) {
	d := math.Hypot(x-h.Place.X, y-h.Place.Y)
	az := turnTo(h.azimuth, h.Place.azimuth(x, y))
	return az * h.scale, (h.top - (z-h.Place.Z)/d) * h.scale, h.scale / d
}

// paintSurfaces casts several rays per texel at floor, stands and walls.
func (h *Hall) paintSurfaces(pan *Frame) {
	workers := runtime.GOMAXPROCS(0)
	var group sync.WaitGroup
	for k := range workers {
		group.Go(func() {
			for y := 2 * k; y < pan.H; y += 2 * workers {
				h.paintRows(pan, y)
			}
		})
	}
	group.Wait()
}

// paintRows fills two rows of luma and the row of chroma they share.
func (h *Hall) paintRows(t *Frame, y int) {
	for x := 0; x < t.W; x += 2 {
		var sum tint
		for dy := range 2 {
			for dx := range 2 {
				c := h.texelTint(x+dx, y+dy)
				sum = sum.plus(c)
				t.Y[(y+dy)*t.W+x+dx] = c.colour().Y
			}
		}
		c := sum.times(0.25).colour()
		at := y/2*(t.W/2) + x/2
		t.U[at], t.V[at] = c.U, c.V
	}
}

func (h *Hall) texelTint(x, y int) tint {
	var sum tint
	const across = 2 // samples
	up := 2
	if tan := h.top - float64(y)/h.scale; tan > -0.35 && tan < 0 {
		up = 5 // far lines on the floor are thinner than a texel
	}
	for j := range up {
		tan := h.top - (float64(y)+(float64(j)+0.5)/float64(up))/h.scale
		for i := range across {
			az := h.azimuth + (float64(x)+(float64(i)+0.5)/across)/h.scale
			sum = sum.plus(cast(h.Place, az, tan))
		}
	}
	return sum.times(1 / float64(across*up))
}

// tint is a colour in 0..255 before rounding.
type tint struct{ r, g, b float64 }

func (t tint) plus(o tint) tint          { return tint{t.r + o.r, t.g + o.g, t.b + o.b} }
func (t tint) times(k float64) tint      { return tint{t.r * k, t.g * k, t.b * k} }
func (t tint) to(o tint, k float64) tint { return t.times(1 - k).plus(o.times(k)) }
func (t tint) colour() Colour            { return rgbF(t.r, t.g, t.b) }
