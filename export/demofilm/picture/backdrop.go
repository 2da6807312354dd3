package picture

import (
	"encoding/binary"
	"math"
)

// span is how many pixels of a row are taken along a straight line of the
// panorama: over 32 the error stays below a tenth of a pixel.
const span = 32

// texture is the panorama in the order it is read: every texel stands beside
// the one below it, and u beside v, so that one load brings the four neighbours
// a bilinear sample needs and one multiplication does several of them.
type texture struct {
	w, h   int
	luma   []byte // per texel: Y, Y of the row below
	chroma []byte // per texel: U, U below, V, V below; half as wide and high
}

func newTexture(f *Frame) texture {
	t := texture{w: f.W, h: f.H, luma: make([]byte, 2*f.W*f.H), chroma: make([]byte, f.W*f.H)}
	for y := range f.H {
		below := min(y+1, f.H-1)
		for x := range f.W {
			at := 2 * (y*f.W + x)
			t.luma[at], t.luma[at+1] = f.Y[y*f.W+x], f.Y[below*f.W+x]
		}
	}
	w, h := f.W/2, f.H/2
	for y := range h {
		below := min(y+1, h-1)
		for x := range w {
			at, p, q := 4*(y*w+x), y*w+x, below*w+x
			t.chroma[at], t.chroma[at+1], t.chroma[at+2], t.chroma[at+3] = f.U[p], f.U[q], f.V[p], f.V[q]
		}
	}
	return t
}

// backdrop bends the panorama to the camera's direction and fills the frame.
func (h *Hall) backdrop(f *Frame, cam Camera) {
	l := line{hall: h, cam: cam, step: 1, tw: h.tex.w, th: h.tex.h}
	l.prepare()
	for y := range f.H {
		l.row(y, f.W)
		dst := f.Y[y*f.W : (y+1)*f.W]
		for x := 0; x < f.W; x += span {
			n := min(span, f.W-x)
			at, step := l.span(x, n)
			sampleLuma(dst[x:x+n], h.tex.luma, h.tex.w, at, step)
		}
	}
	l = line{hall: h, cam: cam, step: 2, tw: h.tex.w / 2, th: h.tex.h / 2}
	l.prepare()
	for y := range f.H / 2 {
		w := f.W / 2
		l.row(y, w)
		us, vs := f.U[y*w:(y+1)*w], f.V[y*w:(y+1)*w]
		for x := 0; x < w; x += span {
			n := min(span, w-x)
			at, step := l.span(x, n)
			sampleChroma(us[x:x+n], vs[x:x+n], h.tex.chroma, l.tw, at, step)
		}
	}
}

// line follows one row of the picture through the panorama. In a row of a
// camera that does not roll, only the sideways part of the ray changes: azimuth
// is yaw + atan(q), q being linear in x, and tan(elevation) falls with
// 1/sqrt(1+q²).
type line struct {
	hall   *Hall
	cam    Camera
	step   float64 // luma pixels per pixel of this plane
	tw, th int

	sin, cos, left, scale float64
	half, dq, rel         float64
	u, v                  int // end of the last span, 16.16
}

func (l *line) prepare() {
	l.sin, l.cos = math.Sincos(l.cam.Pitch)
	l.scale = l.hall.scale / l.step
	l.left = turnTo(l.hall.azimuth, l.cam.Yaw) * l.scale
}

func (l *line) row(y, w int) {
	b := (float64(l.cam.H)/2 - (float64(y)+0.5)*l.step) / l.cam.Focal
	ahead := l.cos + b*l.sin
	l.rel = (b*l.cos - l.sin) / ahead
	l.dq = l.step / (l.cam.Focal * ahead)
	l.half = float64(w)/2 - 0.5
	l.u, l.v = l.at(0)
}

// at gives the place of pixel x of the row in texels, 16.16 fixed point.
func (l *line) at(x int) (u, v int) {
	q := (float64(x) - l.half) * l.dq
	fu := l.left + atan(q)*l.scale - 0.5
	fv := (l.hall.top-l.rel/math.Sqrt(1+q*q))*l.scale - 0.5
	return int(min(float64(l.tw-2), max(0, fu)) * 65536), int(min(float64(l.th-2), max(0, fv)) * 65536)
}

// atan is good to 1e-5 radians (Abramowitz and Stegun, Handbook of Mathematical
// Functions, 4.4.49), a hundredth of a pixel, at a third of math.Atan's time.
func atan(q float64) float64 {
	if q < -1 || q > 1 {
		return math.Atan(q)
	}
	z := q * q
	return q * (0.9998660 + z*(-0.3302995+z*(0.1801410+z*(-0.0851330+z*0.0208351))))
}

// span returns the start of n pixels from x on and the step through them, in
// the form that sample takes; calls follow one another from left to right.
func (l *line) span(x, n int) (place, step uint64) {
	u, v := l.u, l.v
	l.u, l.v = l.at(x + n)
	return pack(u, v), pack((l.u-u)/n, (l.v-v)/n)
}

// pack puts v into the upper and u into the lower half of one number. Sums of
// packed numbers are right as long as u and v themselves stay positive.
func pack(u, v int) uint64 { return uint64(v)<<32 + uint64(u) }

// sampleLuma reads bilinearly along a line of the panorama. With two 16-bit
// lanes (the left and the right column) a lerp is one multiplication: a borrow
// out of the lower lane's difference is made good by its own sum.
func sampleLuma(dst, tex []byte, tw int, at, step uint64) {
	const lanes = 0x00ff00ff
	for i := range dst {
		q := binary.LittleEndian.Uint32(tex[2*(int(at>>48)*tw+int(at>>16&0xffff)):])
		upper := q & lanes
		c := upper<<8 + (q>>8&lanes-upper)*uint32(at>>40&255)
		left := c & 0xffff
		dst[i] = byte((left<<8 + (c>>16-left)*uint32(at>>8&255) + 1<<15) >> 16)
		at += step
	}
}

// sampleChroma is sampleLuma for U and V at once, in four lanes.
func sampleChroma(us, vs, tex []byte, tw int, at, step uint64) {
	const lanes, two = 0x00ff00ff00ff00ff, 0x0000ffff0000ffff
	vs = vs[:len(us)]
	for i := range us {
		q := binary.LittleEndian.Uint64(tex[4*(int(at>>48)*tw+int(at>>16&0xffff)):])
		upper := q & lanes
		c := upper<<8 + (q>>8&lanes-upper)*(at>>40&255)
		fx := at >> 8 & 255
		u, v := c&two, c>>16&two // each: left in the lower half, right in the upper
		us[i] = byte((u&0xffff*(256-fx) + u>>32*fx + 1<<15) >> 16)
		vs[i] = byte((v&0xffff*(256-fx) + v>>32*fx + 1<<15) >> 16)
		at += step
	}
}
