package bench

import (
	"io"
	"math/rand/v2"
)

// painter gives raw frames in 4:2:0: drifting noise that makes an encoder work,
// and the frame's number.
type painter struct {
	w, h, frames int
	texture      []byte
	n            int
	buf          []byte
	pos          int
}

const textureSide = 1024

func newPainter(w, h, frames int) *painter {
	p := &painter{w: w, h: h, frames: frames, texture: make([]byte, textureSide*textureSide)}
	r := rand.New(rand.NewPCG(1, uint64(w)))
	for i := range p.texture {
		p.texture[i] = byte(90 + r.IntN(70))
	}
	// Smooth along rows and columns: plain noise is harsher than any film.
	for range 2 {
		for i := 1; i < len(p.texture); i++ {
			p.texture[i] = byte((int(p.texture[i]) + 2*int(p.texture[i-1])) / 3)
		}
		for i := textureSide; i < len(p.texture); i++ {
			p.texture[i] = byte((int(p.texture[i]) + 2*int(p.texture[i-textureSide])) / 3)
		}
	}
	return p
}

func (p *painter) Read(b []byte) (int, error) {
	if p.pos == len(p.buf) {
		if p.n == p.frames {
			return 0, io.EOF
		}
		p.paint()
		p.n++
		p.pos = 0
	}
	n := copy(b, p.buf[p.pos:])
	p.pos += n
	return n, nil
}

func (p *painter) paint() {
	w, h := p.w, p.h
	if p.buf == nil {
		p.buf = make([]byte, w*h+2*((w+1)/2)*((h+1)/2))
		for i := range p.buf[w*h:] {
			p.buf[w*h+i] = 128
		}
	}
	y := p.buf[:w*h]
	dx, dy := p.n*3, p.n
	for row := range h {
		line := y[row*w : row*w+w]
		from := p.texture[(row+dy)%textureSide*textureSide:]
		for x := 0; x < w; {
			at := (x + dx) % textureSide
			x += copy(line[x:], from[at:textureSide])
		}
	}
	// A square that wanders against the drift.
	side := h / 6
	x0, y0 := (w-side+p.n*5)%(w-side), h/2
	for row := y0; row < y0+side; row++ {
		for x := x0; x < x0+side; x++ {
			y[row*w+x] = byte(60 + (x^row)&63)
		}
	}
	drawCode(y, w, p.n)
}
