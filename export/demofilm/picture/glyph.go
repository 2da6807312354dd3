package picture

import (
	"fmt"
	"image"
	"math"
	"sync"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// inscription is a number as a mask in several sizes, each half the one before,
// so that any size on the picture is drawn from one at most twice as large.
type inscription struct {
	levels []mask
}

type mask struct {
	w, h int
	pix  []uint8
}

// inscriptionHeight is the height of the largest mask's digits in pixels: more
// than a number gets in a full HD picture.
const inscriptionHeight = 96

var (
	faceOnce sync.Once
	numbers  font.Face
	faceErr  error
	faceLock sync.Mutex // a font.Face is for one goroutine at a time
)

func numberFace() (font.Face, error) {
	faceOnce.Do(func() {
		f, err := opentype.Parse(dejavusanscondensedbold.TTF)
		if err != nil {
			faceErr = fmt.Errorf("cannot read the built-in font for skaters' numbers: %w", err)
			return
		}
		// Digits are 0.73 of the size high in this face.
		numbers, faceErr = opentype.NewFace(f, &opentype.FaceOptions{Size: inscriptionHeight / 0.73, DPI: 72})
	})
	return numbers, faceErr
}

// newInscription draws a text, cropped to its ink.
func newInscription(face font.Face, text string) *inscription {
	faceLock.Lock()
	defer faceLock.Unlock()
	bounds, _ := font.BoundString(face, text)
	x0, y0 := bounds.Min.X.Floor(), bounds.Min.Y.Floor()
	w, h := bounds.Max.X.Ceil()-x0, bounds.Max.Y.Ceil()-y0
	if w <= 0 || h <= 0 {
		return &inscription{}
	}
	m := image.NewAlpha(image.Rect(0, 0, w, h))
	d := font.Drawer{Dst: m, Src: image.Opaque, Face: face, Dot: fixed.P(-x0, -y0)}
	d.DrawString(text)
	level := mask{w, h, m.Pix}
	ins := &inscription{levels: []mask{level}}
	for level.w >= 8 && level.h >= 8 {
		level = level.half()
		ins.levels = append(ins.levels, level)
	}
	return ins
}

// half averages two by two pixels.
func (m mask) half() mask {
	s := mask{w: (m.w + 1) / 2, h: (m.h + 1) / 2}
	s.pix = make([]uint8, s.w*s.h)
	for y := range s.h {
		for x := range s.w {
			s.pix[y*s.w+x] = uint8((m.at(2*x, 2*y) + m.at(2*x+1, 2*y) + m.at(2*x, 2*y+1) + m.at(2*x+1, 2*y+1) + 2) / 4)
		}
	}
	return s
}

func (m mask) at(x, y int) int {
	if x < 0 || y < 0 || x >= m.w || y >= m.h {
		return 0
	}
	return int(m.pix[y*m.w+x])
}

// ratio is width over height; 0 for an empty text.
func (n *inscription) ratio() float64 {
	if len(n.levels) == 0 {
		return 0
	}
	return float64(n.levels[0].w) / float64(n.levels[0].h)
}

// inscribe draws the text centred at x, y with the given height; narrow below 1
// presses it together, turn is in radians.
func (c *coverage) inscribe(n *inscription, x, y, height, narrow, turn float64, colour Colour) {
	if len(n.levels) == 0 || height < 2 {
		return
	}
	k := 0
	for k+1 < len(n.levels) && float64(n.levels[k+1].h) >= height {
		k++
	}
	m := n.levels[k]
	perPixel := float64(m.h) / height
	hw, hh := float64(m.w)/perPixel*narrow/2, height/2
	sin, cos := math.Sincos(turn)
	bw, bh := math.Abs(hw*cos)+math.Abs(hh*sin)+1, math.Abs(hw*sin)+math.Abs(hh*cos)+1
	if !c.begin(x-bw, y-bh, x+bw, y+bh) {
		return
	}
	const unit = full / 255
	for py := c.y0; py < c.y1; py++ {
		for px := c.x0; px < c.x1; px++ {
			dx, dy := float64(px)+0.5-x, float64(py)+0.5-y
			u := (dx*cos+dy*sin)*perPixel/narrow + float64(m.w)/2
			v := (dy*cos-dx*sin)*perPixel + float64(m.h)/2
			if a := m.smooth(u-0.5, v-0.5); a > 0 {
				c.spot(px-c.x0, py-c.y0, int32(a*unit))
			}
		}
	}
	c.paint(colour, 1)
}

// smooth reads the mask bilinearly, 0..255.
func (m mask) smooth(u, v float64) float64 {
	if u <= -1 || v <= -1 || u >= float64(m.w) || v >= float64(m.h) {
		return 0
	}
	fu, fv := math.Floor(u), math.Floor(v)
	i, j := int(fu), int(fv)
	du, dv := u-fu, v-fv
	top := float64(m.at(i, j))*(1-du) + float64(m.at(i+1, j))*du
	low := float64(m.at(i, j+1))*(1-du) + float64(m.at(i+1, j+1))*du
	return top*(1-dv) + low*dv
}
