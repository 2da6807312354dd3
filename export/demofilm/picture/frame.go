package picture

import (
	"fmt"
	"image"
	"math"
)

// Frame is one picture in planar YUV 4:2:0, 8 bits, BT.709 coefficients, limited
// range. Width and height are even. Buf holds the three planes one after the
// other without padding, as ffmpeg's rawvideo yuv420p wants them.
type Frame struct {
	W, H    int
	Buf     []byte
	Y, U, V []byte // parts of Buf
}

// NewFrame makes a black frame. Odd or tiny sizes are refused.
func NewFrame(w, h int) (*Frame, error) {
	if err := checkSize(w, h); err != nil {
		return nil, err
	}
	return newFrame(w, h), nil
}

func checkSize(w, h int) error {
	if w < 64 || h < 64 || w > 8192 || h > 8192 || w%2 != 0 || h%2 != 0 {
		return fmt.Errorf("a demo film cannot be %dx%d pixels: choose even numbers from 64 to 8192", w, h)
	}
	return nil
}

func newFrame(w, h int) *Frame {
	n := w * h
	f := &Frame{W: w, H: h, Buf: make([]byte, n+n/2)}
	f.Y, f.U, f.V = f.Buf[:n:n], f.Buf[n:n+n/4:n+n/4], f.Buf[n+n/4:]
	f.Fill(Colour{16, 128, 128})
	return f
}

// Fill paints the whole frame in one colour.
func (f *Frame) Fill(c Colour) {
	fill(f.Y, c.Y)
	fill(f.U, c.U)
	fill(f.V, c.V)
}

func fill(plane []byte, v byte) {
	for i := range plane {
		plane[i] = v
	}
}

// Copy makes f the same picture as g, which must have its size.
func (f *Frame) Copy(g *Frame) { copy(f.Buf, g.Buf) }

// RGBA converts the frame, for tests and still pictures.
func (f *Frame) RGBA() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, f.W, f.H))
	for y := range f.H {
		for x := range f.W {
			yy := (float64(f.Y[y*f.W+x]) - 16) / 219
			c := y/2*(f.W/2) + x/2
			u := (float64(f.U[c]) - 128) / 224
			v := (float64(f.V[c]) - 128) / 224
			p := m.Pix[m.PixOffset(x, y):]
			p[0] = clampByte(255 * (yy + 1.5748*v))
			p[1] = clampByte(255 * (yy - 0.1873*u - 0.4681*v))
			p[2] = clampByte(255 * (yy + 1.8556*u))
			p[3] = 255
		}
	}
	return m
}

// Colour is one colour in the frame's own form.
type Colour struct{ Y, U, V uint8 }

// RGB converts an sRGB colour (Rec. ITU-R BT.709, limited range).
func RGB(r, g, b uint8) Colour { return rgbF(float64(r), float64(g), float64(b)) }

func rgbF(r, g, b float64) Colour {
	y := 0.2126*r + 0.7152*g + 0.0722*b
	return Colour{
		Y: clampByte(16 + y*219/255),
		U: clampByte(128 + (b-y)/1.8556*224/255),
		V: clampByte(128 + (r-y)/1.5748*224/255),
	}
}

// Hex reads "#RRGGBB".
func Hex(s string) (Colour, error) {
	var r, g, b uint8
	if len(s) != 7 {
		return Colour{}, fmt.Errorf("colour %q: want # and six hexadecimal digits", s)
	}
	if _, err := fmt.Sscanf(s, "#%02x%02x%02x", &r, &g, &b); err != nil {
		return Colour{}, fmt.Errorf("colour %q: want # and six hexadecimal digits: %w", s, err)
	}
	return RGB(r, g, b), nil
}

// mix blends c towards d by t in 0..1.
func (c Colour) mix(d Colour, t float64) Colour {
	at := func(a, b uint8) uint8 { return clampByte(float64(a) + (float64(b)-float64(a))*t) }
	return Colour{at(c.Y, d.Y), at(c.U, d.U), at(c.V, d.V)}
}

// light reports whether dark text reads better on the colour than light text.
func (c Colour) light() bool { return c.Y > 110 }

func clampByte(v float64) uint8 { return uint8(math.Round(min(255, max(0, v)))) }
