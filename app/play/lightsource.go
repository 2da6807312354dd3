package play

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"io"
	"sync"

	xdraw "golang.org/x/image/draw"

	"whistlecut/timeline/footage"
)

// lights answers from light copies. Pictures are decoded here, without a child.
type lights struct {
	proxies *Proxies
	files   func(film int) *footage.File
	pool    *pool
	out     chan<- answer
	wg      *sync.WaitGroup
}

// covers says whether a frame can be had.
func (s *lights) covers(p pos) *light { return s.proxies.covered(s.files(p.film), p.frame) }

func (s *lights) start(r request) *run {
	if s.covers(pos{r.film, r.first}) == nil {
		return nil
	}
	x := newRun(r)
	x.light = true
	file := s.files(r.film)
	s.wg.Go(func() {
		defer x.cancel()
		var buf []byte
		for n := r.first; n <= r.last; n++ {
			if !x.wait(n) {
				return
			}
			img, err := s.decode(file, n, r.size, &buf)
			if err != nil {
				x.send(s.out, answer{from: x, next: n, err: err})
				return
			}
			pic := &picture{pos: pos{r.film, n}, img: img, light: img.Rect.Dx() < r.size.X}
			if !x.send(s.out, answer{from: x, pic: pic}) {
				s.pool.put(img)
				return
			}
		}
		x.send(s.out, answer{from: x, next: r.last + 1, err: io.EOF})
	})
	return x
}

// decode reads one picture, at most of a size.
func (s *lights) decode(file *footage.File, frame int, size image.Point, buf *[]byte) (*image.RGBA, error) {
	f := s.proxies.covered(file, frame)
	if f == nil {
		return nil, io.EOF
	}
	data, err := f.read(frame, *buf)
	if err != nil {
		return nil, err
	}
	*buf = data
	src, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	b := src.Bounds()
	if b.Dx() <= size.X {
		img := s.pool.get(b.Dx(), b.Dy())
		draw.Draw(img, img.Rect, src, b.Min, draw.Src)
		return img, nil
	}
	img := s.pool.get(size.X, size.Y)
	xdraw.ApproxBiLinear.Scale(img, img.Rect, src, b, xdraw.Src, nil)
	return img, nil
}
