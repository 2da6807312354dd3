package strip

import (
	"image"
	"image/color"
	"math"
	"unicode/utf8"

	"whistlecut/timeline"
)

// signSize is the size of the signs at scale 1; a finding's is a little larger.
const (
	signSize    = 11
	findingSize = 12
)

// heap is points that fall on one spot, of which the most urgent is drawn.
type heap struct {
	best *Item
	x    int // of the first
	last int
	n    int
}

// urgent reports whether a is to be drawn rather than b.
func urgent(a, b *Item) bool {
	if a.Kind != b.Kind {
		return a.Kind > b.Kind
	}
	return a.State > b.State
}

// crowd is how many points of a heap, none of them a finding, are drawn as a
// column as high as there are many: a wall of signs would say less.
const crowd = 8

// points draws the signs of one lane. Signs that would cover each other are one
// heap: its most urgent sign with a line under it as long as the heap.
func (p *Painter) points(l Lane) {
	lane := p.Lanes[l]
	wide := p.px(signSize + 2)
	h := heap{}
	items := p.shown(int(l))
	for k := range items {
		i := &items[k]
		if p.dragged(i) {
			continue
		}
		x := p.x(i.From)
		switch {
		case h.n > 0 && x-h.x < wide:
			h.n++
			h.last = x
			if urgent(i, h.best) {
				h.best = i
			}
			continue
		case h.n > 0:
			p.heap(h, lane, wide)
		}
		h = heap{i, x, x, 1}
	}
	if h.n > 0 {
		p.heap(h, lane, wide)
	}
}

func (p *Painter) heap(h heap, lane image.Rectangle, wide int) {
	if h.n == 1 {
		p.point(h.best, h.x, (lane.Min.Y+lane.Max.Y)/2)
		return
	}
	if h.n > crowd && h.best.Kind != KindFinding {
		high := min(int(float64(lane.Dy())*math.Log2(float64(h.n)/crowd*2)/5+0.5), lane.Dy())
		top := lane.Max.Y - max(high, 2)
		p.fill(image.Rect(h.x, top, h.x+wide-p.px(2), lane.Max.Y), mix(p.Colours.Panel, p.side(h.best.Side), 0.6))
		return
	}
	x := (h.x + h.last) / 2
	half := max((h.last-h.x)/2, p.px(4))
	y := lane.Max.Y - p.px(1)
	p.fill(image.Rect(x-half, y, x+half+1, y+p.px(1)), p.Colours.Quiet)
	p.point(h.best, x, (lane.Min.Y+lane.Max.Y)/2)
}

// point draws one sign with its middle at a pixel.
func (p *Painter) point(i *Item, x, y int) {
	what, c := p.signOf(i)
	size := p.px(signSize)
	if i.Kind == KindFinding {
		size = p.px(findingSize)
	}
	p.centre(p.sign.get(what, size), x, y, c)
	if i.Kind != KindPenalty {
		return
	}
	n := team(i.Side)
	ink := p.Colours.OnSide[n]
	if i.Open {
		p.centre(p.sign.get(shapePlate, size-2*p.px(1)), x, y, p.Colours.Panel)
		ink = c
	}
	text := i.Label
	if p.text.width(styleCode, text) > size {
		_, n := utf8.DecodeRuneInString(text)
		text = text[:n]
	}
	p.text.draw(&p.brush, styleCode, text, x-p.text.width(styleCode, text)/2, y, ink)
}

// signOf is the shape and colour of a point.
func (p *Painter) signOf(i *Item) (shape, color.RGBA) {
	c := p.side(i.Side)
	switch i.Kind {
	case KindFinding:
		return i.State.shape(), p.Colours.States[i.State&3]
	case KindStarPass:
		if i.Open {
			return shapeOpenStar, c
		}
		return shapeStar, c
	case KindLead:
		if i.Open {
			return shapeRing, c
		}
		return shapeDisc, c
	case KindLost:
		return shapeOpenDisc, c
	case KindCall:
		return shapeCall, c
	case KindPenalty:
		return shapePlate, c
	case KindInjury:
		return shapePlus, c
	case KindMark:
		return shapeFlag, c
	}
	return shapeNote, c
}

// heard draws the whistles: each kind of series in a shape of its own, and ticks
// of growing strength where they stand too close for that.
func (p *Painter) heard() {
	lane := p.Lanes[LaneHeard]
	d := p.density()
	edge := p.Zoomed.Min.X - p.px(20)
	items := p.shown(int(LaneHeard))
	for k := range items {
		i := &items[k]
		x := p.x(i.From)
		next := 1 << 30
		if k+1 < len(items) {
			next = p.x(items[k+1].From)
		}
		if x <= edge || next-x < p.px(5) && i.sound != soundShort {
			d.add(i.From, i.From)
			continue
		}
		edge = p.series(i, x, lane) + p.px(1)
	}
	if d.used {
		low := image.Rect(lane.Min.X, lane.Min.Y+lane.Dy()/3, lane.Max.X, lane.Max.Y)
		d.paint(low, timeline.NoSide)
	}
}

// series draws one series from a pixel on and returns where it ends.
func (p *Painter) series(i *Item, x int, lane image.Rectangle) int {
	c := p.Colours.Text
	if i.Faint {
		c = p.Colours.Quiet
	}
	tick := p.px(1.4)
	end := max(p.x(i.To), x+tick)
	mid := (lane.Min.Y + lane.Max.Y) / 2
	switch i.sound {
	case soundLong:
		end = max(end, x+p.px(7))
		p.fill(image.Rect(x, lane.Min.Y+p.px(1), x+tick, lane.Max.Y), c)
		p.fill(image.Rect(x, mid-p.px(1), end, mid+p.px(1)), c)
		return end
	case soundRolling:
		m := p.sign.get(shapeWave, p.px(8))
		p.mask(m, x, mid-m.Rect.Dy()/2, c)
		if rest := x + m.Rect.Dx(); end > rest {
			p.fill(image.Rect(rest, mid-p.px(0.5), end, mid+p.px(0.5)), c)
		}
		return max(end, x+m.Rect.Dx())
	case soundUnclear:
		m := p.sign.get(shapeRing, p.px(8))
		p.centre(m, x, mid, p.Colours.Quiet)
		return x + m.Rect.Dx()/2
	}
	if p.Axis.perPixel() < 2e7 { // 20 ms a pixel: the blasts as they sound
		for _, b := range i.blasts {
			p.fill(image.Rect(p.x(b.Start), lane.Min.Y, max(p.x(b.End), p.x(b.Start)+tick), lane.Max.Y), c)
		}
		return end
	}
	top := lane.Min.Y
	for n := range i.sound.ticks() {
		at := x + n*p.px(3.4)
		p.fill(image.Rect(at, top, at+tick, lane.Max.Y), c)
		end = max(end, at+tick)
	}
	return end
}
