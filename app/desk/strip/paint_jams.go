package strip

import (
	"image"
	"image/color"
	"time"
)

// jams draws the band in the middle: jams, and the stoppages between them.
func (p *Painter) jams() {
	lane := p.Lanes[LaneJams]
	items := p.shown(int(LaneJams))
	if len(p.Model.runs[LaneJams].items) == 0 {
		p.frame(lane.Inset(1), p.inks.grid, p.px(1))
		p.say(p.Words.NoJams, lane)
		return
	}
	line := (lane.Min.Y + lane.Max.Y) / 2
	p.fill(image.Rect(p.Zoomed.Min.X, line, p.Zoomed.Max.X, line+p.px(1)), p.Colours.Line)
	last := -1 << 30
	for k := range items {
		i := &items[k]
		if p.past(i) || p.dragged(i) {
			continue
		}
		r := p.bar(i, lane)
		if r.Dx() < thin {
			r.Max.X = r.Min.X + 1
			if r.Min.X == last {
				continue // the same column
			}
		}
		last = r.Min.X
		p.jamOrStop(i, r)
	}
}

func (p *Painter) jamOrStop(i *Item, r image.Rectangle) {
	if i.Kind == KindJam {
		p.jam(i, r)
	} else {
		p.stoppage(i, r)
	}
}

func (p *Painter) jam(i *Item, r image.Rectangle) {
	active := p.HasNow && p.Now >= i.From && p.Now < i.To
	edge, inside := p.Colours.Line, p.Colours.Raised
	if active {
		edge = mix(p.Colours.Panel, p.Colours.Accent, 0.75)
	}
	if i.Open {
		p.round(r, inside, p.corner())
		p.dashes(r, edge)
	} else {
		p.roundFrame(r, edge, inside, p.px(1), p.corner())
	}
	if active {
		done := r.Inset(p.px(1))
		done.Max.X = min(done.Max.X, p.x(p.Now))
		p.fill(done, p.inks.active)
	}
	p.jamText(i, r.Intersect(p.clip))
}

// jamText letters name and score, whichever have room in what is seen of the jam.
func (p *Painter) jamText(i *Item, seen image.Rectangle) {
	mid := (seen.Min.Y + seen.Max.Y) / 2
	pad := p.px(edgeSpace)
	room := seen.Dx() - 2*pad
	x := seen.Min.X + pad
	if sign := p.sign.get(shapeTriangle, p.px(9)); i.Open && room > 2*sign.Rect.Dx() {
		p.centre(sign, x+sign.Rect.Dx()/2, mid, p.Colours.States[Unsure])
		x += sign.Rect.Dx() + p.px(4)
		room -= sign.Rect.Dx() + p.px(4)
	}
	w := p.text.width(styleName, i.Label)
	if w > room {
		w = p.text.width(styleStrong, i.Short)
		if w+p.px(2) <= seen.Dx() && !i.Open || w <= room {
			p.text.draw(&p.brush, styleStrong, i.Short, max(x-pad, seen.Min.X)+(min(room+2*pad, seen.Dx())-w)/2, mid, p.Colours.Text)
		}
		return
	}
	p.text.draw(&p.brush, styleName, i.Label, x, mid, p.Colours.Text)
	if n := p.text.width(styleNote, i.Note); w+n+3*pad <= room {
		p.text.draw(&p.brush, styleNote, i.Note, seen.Max.X-pad-n, mid, p.Colours.Text)
	}
}

// stoppage draws a timeout, or a review with a bar at its head.
func (p *Painter) stoppage(i *Item, r image.Rectangle) {
	inset := r.Dy() / 4
	r.Min.Y, r.Max.Y = r.Min.Y+inset, r.Max.Y-inset
	c := p.side(i.Side)
	if i.Side == 0 {
		c = p.Colours.Quiet
	}
	p.fill(r, p.Colours.Panel)
	p.hatch(r, mix(p.Colours.Panel, c, 0.4), p.px(4))
	p.frame(r, mix(p.Colours.Panel, c, 0.8), p.px(1))
	head := p.px(2)
	if i.Kind == KindReview {
		head = p.px(4)
	}
	p.fill(image.Rect(r.Min.X, r.Min.Y, min(r.Min.X+head, r.Max.X), r.Max.Y), c)
	seen := r.Intersect(p.clip)
	text := i.Label
	w := p.text.width(styleNote, text)
	if w > seen.Dx()-p.px(14) {
		return // half a word says less than the hatching
	}
	x := seen.Min.X + p.px(8)
	p.fill(image.Rect(x-p.px(3), r.Min.Y+p.px(1), x+w+p.px(3), r.Max.Y-p.px(1)), p.Colours.Panel)
	p.text.draw(&p.brush, styleNote, text, x, (r.Min.Y+r.Max.Y)/2, c)
}

// dashes is the outline of a jam whose place is not sure.
func (p *Painter) dashes(r image.Rectangle, c color.RGBA) {
	line, dash := p.px(1.2), p.px(4)
	from := max(r.Min.X, p.clip.Min.X-(p.clip.Min.X-r.Min.X)%(2*dash))
	for x := from; x < min(r.Max.X, p.clip.Max.X); x += 2 * dash {
		to := min(x+dash, r.Max.X)
		p.fill(image.Rect(x, r.Min.Y, to, r.Min.Y+line), c)
		p.fill(image.Rect(x, r.Max.Y-line, to, r.Max.Y), c)
	}
	for y := r.Min.Y; y < r.Max.Y; y += 2 * dash {
		to := min(y+dash, r.Max.Y)
		p.fill(image.Rect(r.Min.X, y, r.Min.X+line, to), c)
		p.fill(image.Rect(r.Max.X-line, y, r.Max.X, to), c)
	}
}

// flow draws the running margin as an area round the jams: above when home
// leads, below when away does. Where points are not sure the possible part is paler.
func (p *Painter) flow() {
	if p.Model.peak == 0 {
		return
	}
	mid := (p.Lanes[LaneJams].Min.Y + p.Lanes[LaneJams].Max.Y) / 2
	up := float64(mid - p.Lanes[LaneHomeTrips].Min.Y)
	down := float64(p.Lanes[LaneAwayTrips].Max.Y - mid)
	peak := float64(max(p.Model.peak, 12))
	width := p.Zoomed.Dx()
	p.marginColumns(width)
	y := func(v float64) int {
		if v > 0 {
			return mid - int(v/peak*up+0.5)
		}
		return mid + int(-v/peak*down+0.5)
	}
	for k := range width {
		x := p.Zoomed.Min.X + k
		low, high := p.margin[0][k], p.margin[1][k]
		if high > 0 {
			sure := max(low, 0)
			p.column(x, y(high), y(sure), p.inks.flowMaybe[0])
			p.column(x, y(sure), mid, p.inks.flow[0])
		}
		if low < 0 {
			sure := min(high, 0)
			p.column(x, mid, y(sure), p.inks.flow[1])
			p.column(x, y(sure), y(low), p.inks.flowMaybe[1])
		}
	}
}

func (p *Painter) column(x, y0, y1 int, c color.RGBA) {
	for y := y0; y < y1; y++ {
		o := p.img.PixOffset(x, y)
		pix := p.img.Pix[o : o+3 : o+3]
		pix[0], pix[1], pix[2] = c.R, c.G, c.B
	}
}

// marginColumns fills in the margin of each column, steps worn smooth over a few
// columns so that it flows.
func (p *Painter) marginColumns(width int) {
	reach := p.px(5)
	n := width + 2*reach
	for k := range p.margin {
		if cap(p.margin[k]) < n {
			p.margin[k] = make([]float64, n)
		}
		p.margin[k] = p.margin[k][:n]
	}
	steps := p.Model.margin
	ns := p.Axis.perPixel()
	from, _ := p.Axis.Window()
	at := func(k int) time.Duration { return from + time.Duration(float64(k-reach)*ns) }
	next := 0
	low, high := marginAt(steps, at(0))
	for next < len(steps) && steps[next].at <= at(0) {
		next++
	}
	for k := range n {
		for t := at(k); next < len(steps) && steps[next].at <= t; next++ {
			low, high = steps[next].low, steps[next].high
		}
		p.margin[0][k], p.margin[1][k] = float64(low), float64(high)
	}
	for k := range p.margin {
		smooth(p.margin[k], reach)
	}
}

// smooth replaces v[k] by the mean of v[k..k+2*reach], in place.
func smooth(v []float64, reach int) {
	span := 2*reach + 1
	sum := 0.0
	for k := range min(span-1, len(v)) {
		sum += v[k]
	}
	for k := 0; k+span <= len(v); k++ {
		sum += v[k+span-1]
		first := v[k]
		v[k] = sum / float64(span)
		sum -= first
	}
}
