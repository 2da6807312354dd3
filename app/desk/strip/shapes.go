package strip

import (
	"image"
	"math"

	"golang.org/x/image/vector"
)

// shape is one of the small signs of the strip.
type shape uint8

const (
	shapeDiamond  shape = iota // differs
	shapeRing                  // not checkable
	shapeTriangle              // unsure
	shapeCheck                 // agrees
	shapeStar                  // star pass
	shapeDisc                  // lead
	shapeOpenDisc              // lead lost
	shapeCall                  // called off: a bow
	shapeFlag                  // mark
	shapeNote                  // note: a leaf of paper
	shapePlus                  // injury
	shapePlate                 // penalty: a plate for its letter
	shapeNow                   // head of the now-line
	shapeWave                  // rolling whistle
	shapeCorner                // top left corner of a rounded rectangle
	shapeOpenStar              // star pass not completed
)

// shapes are masks of the signs, made once for each size in pixels.
type shapes map[shapeKey]*image.Alpha

type shapeKey struct {
	s    shape
	size int
}

func (s shapes) get(what shape, size int) *image.Alpha {
	size = max(size, 2)
	k := shapeKey{what, size}
	m, ok := s[k]
	if !ok {
		m = drawShape(what, size)
		s[k] = m
	}
	return m
}

type point struct{ x, y float64 }

// drawShape draws a sign into a square of size pixels (a wave is twice as wide).
func drawShape(what shape, size int) *image.Alpha {
	w := size
	if what == shapeWave {
		w = 2 * size
	}
	r := vector.NewRasterizer(w, size)
	n := float64(size)
	poly := func(ps ...point) {
		for i, p := range ps {
			if i == 0 {
				r.MoveTo(float32(p.x*n), float32(p.y*n))
			} else {
				r.LineTo(float32(p.x*n), float32(p.y*n))
			}
		}
		r.ClosePath()
	}
	// circle goes round the other way when turned, which leaves a hole.
	circle := func(cx, cy, radius float64, turned bool) {
		var ps []point
		for i := range 32 {
			a := 2 * math.Pi * float64(i) / 32
			if turned {
				a = -a
			}
			ps = append(ps, point{cx + radius*math.Cos(a), cy + radius*math.Sin(a)})
		}
		poly(ps...)
	}
	star := func(outer float64, turned bool) {
		var ps []point
		for i := range 10 {
			radius := outer
			if i%2 == 1 {
				radius = outer * 0.45
			}
			a := -math.Pi/2 + math.Pi*float64(i)/5
			if turned {
				a = -math.Pi/2 - math.Pi*float64(i)/5
			}
			ps = append(ps, point{0.5 + radius*math.Cos(a), 0.54 + radius*math.Sin(a)})
		}
		poly(ps...)
	}
	line := 1.6 / max(n, 8) * max(n/11, 1) // of an outline, in parts of the size
	switch what {
	case shapeDiamond:
		poly(point{0.5, 0}, point{1, 0.5}, point{0.5, 1}, point{0, 0.5})
	case shapeRing:
		circle(0.5, 0.5, 0.48, false)
		circle(0.5, 0.5, 0.48-line, true)
	case shapeTriangle:
		poly(point{0.5, 0.02}, point{1, 0.94}, point{0, 0.94})
	case shapeCheck:
		poly(point{0.02, 0.55}, point{0.16, 0.41}, point{0.38, 0.62}, point{0.84, 0.12}, point{0.98, 0.25}, point{0.38, 0.9})
	case shapeStar:
		star(0.54, false)
	case shapeOpenStar:
		star(0.54, false)
		star(0.30, true)
	case shapeDisc:
		circle(0.5, 0.5, 0.38, false)
	case shapeOpenDisc:
		circle(0.5, 0.5, 0.40, false)
		circle(0.5, 0.5, 0.40-line, true)
	case shapeCall:
		poly(point{0.06, 0.12}, point{0.5, 0.42}, point{0.94, 0.12}, point{0.94, 0.88}, point{0.5, 0.58}, point{0.06, 0.88})
	case shapeFlag:
		poly(point{0.12, 0}, point{0.12 + line, 0}, point{0.12 + line, 1}, point{0.12, 1})
		poly(point{0.12 + line, 0.02}, point{0.98, 0.3}, point{0.12 + line, 0.58})
	case shapeNote:
		poly(point{0.12, 0.04}, point{0.64, 0.04}, point{0.88, 0.28}, point{0.88, 0.96}, point{0.12, 0.96})
	case shapePlus:
		poly(point{0.36, 0.06}, point{0.64, 0.06}, point{0.64, 0.36}, point{0.94, 0.36}, point{0.94, 0.64}, point{0.64, 0.64}, point{0.64, 0.94}, point{0.36, 0.94}, point{0.36, 0.64}, point{0.06, 0.64}, point{0.06, 0.36}, point{0.36, 0.36})
	case shapePlate:
		poly(point{0.14, 0}, point{0.86, 0}, point{1, 0.14}, point{1, 0.86}, point{0.86, 1}, point{0.14, 1}, point{0, 0.86}, point{0, 0.14})
	case shapeNow:
		poly(point{0, 0.1}, point{1, 0.1}, point{0.5, 0.95})
	case shapeWave:
		var up, down []point
		for i := range 41 {
			x := float64(i) / 40
			y := 0.5 + 0.28*math.Sin(x*2*math.Pi*2.5)
			up = append(up, point{2 * x, y - line/1.6})
			down = append(down, point{2 * x, y + line/1.6})
		}
		for i := len(down) - 1; i >= 0; i-- {
			up = append(up, down[i])
		}
		poly(up...)
	case shapeCorner:
		poly(point{1, 1}, point{0, 1}, point{0.08, 0.617}, point{0.293, 0.293}, point{0.617, 0.08}, point{1, 0})
	}
	m := image.NewAlpha(image.Rect(0, 0, w, size))
	r.Draw(m, m.Rect, image.Opaque, image.Point{})
	return m
}

// shape of a finding's state.
func (s State) shape() shape {
	return [4]shape{Agrees: shapeCheck, NotCheckable: shapeRing, Unsure: shapeTriangle, Differs: shapeDiamond}[s&3]
}
