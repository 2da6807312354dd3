package strip

import (
	"image"
	"time"
)

// preview draws the item being dragged where it would end up.
func (p *Painter) preview() {
	if p.Drag == nil {
		return
	}
	moved := p.Drag.moved()
	i := &moved
	lane := p.Lanes[i.lane()]
	switch i.Kind {
	case KindTrip:
		r := p.bar(i, lane)
		p.trip(i, r)
		p.frame(r, p.Colours.Text, p.px(1))
	case KindBox:
		r := p.bar(i, p.boxRow(lane, i))
		p.box(i, r)
		p.frame(r, p.Colours.Text, p.px(1))
	case KindJam, KindTimeout, KindReview:
		r := p.bar(i, lane)
		p.jamOrStop(i, r)
		p.frame(r, p.Colours.Text, p.px(1))
	default:
		p.point(i, p.x(i.From), (lane.Min.Y+lane.Max.Y)/2)
	}
	x := p.x(p.Drag.At)
	for y := p.Lanes[LaneRuler].Max.Y; y < p.Zoomed.Max.Y; y += 2 * p.px(3) {
		p.fill(image.Rect(x, y, x+p.px(1), y+p.px(3)), p.Colours.Text)
	}
}

// tipItems is how many items hovering lists before it says how many more there are.
const tipItems = 3

// tip says what is under the pointer, or where a dragged edge is.
func (p *Painter) tip() {
	var lines []string
	var at time.Duration
	x, y := 0, 0
	switch {
	case p.Drag != nil:
		at, x, y = p.Drag.At, p.x(p.Drag.At), p.Lanes[p.Drag.Item.lane()].Min.Y
		lines = []string{p.Drag.Item.Tip}
	case p.Hover != nil:
		at, x, y = p.Hover.Hit.At, p.Hover.X, p.Hover.Y
		for n, i := range p.Hover.Hit.Items {
			if n == tipItems && len(p.Hover.Hit.Items) > tipItems+1 {
				lines = append(lines, p.Words.More(len(p.Hover.Hit.Items)-tipItems))
				break
			}
			lines = append(lines, i.Tip)
		}
		if len(lines) == 1 && p.Hover.Hit.Items[0].From == p.Hover.Hit.Items[0].To {
			at = p.Hover.Hit.Items[0].From
		}
	default:
		return
	}
	lines = append(lines, p.where(at))
	bounds := p.img.Rect
	pad, step := p.px(8), p.px(16)
	wide := 0
	for n, s := range lines {
		lines[n] = p.text.fit(styleTip, s, bounds.Dx()-4*pad)
		wide = max(wide, p.text.width(styleTip, lines[n]))
	}
	box := image.Rect(0, 0, wide+2*pad, len(lines)*step+pad)
	to := image.Pt(x+p.px(12), y-box.Dy()-p.px(8))
	if to.Y < bounds.Min.Y+p.px(2) {
		to.Y = y + p.px(16)
	}
	to.X = max(min(to.X, bounds.Max.X-box.Dx()-p.px(4)), bounds.Min.X+p.px(4))
	to.Y = max(min(to.Y, bounds.Max.Y-box.Dy()-p.px(2)), bounds.Min.Y+p.px(2))
	if x >= to.X && x < to.X+box.Dx() && y >= to.Y && y < to.Y+box.Dy() { // not under the pointer
		if left := x - p.px(12) - box.Dx(); left > bounds.Min.X {
			to.X = left
		}
	}
	box = box.Add(to)
	p.roundFrame(box, p.Colours.Quiet, p.Colours.Raised, p.px(1), p.corner())
	for n, s := range lines {
		c := p.Colours.Text
		if n == len(lines)-1 {
			c = p.Colours.Quiet
		}
		p.text.draw(&p.brush, styleTip, s, box.Min.X+pad, box.Min.Y+pad/2+n*step+step/2, c)
	}
}

// where names a moment by its jam and film time.
func (p *Painter) where(t time.Duration) string {
	_, film, _ := p.Axis.Film(t)
	if jam, ok := p.Model.Jam(t); ok {
		return p.Words.Where(jam.Label, t-jam.From, film)
	}
	return p.Words.Where("", 0, film)
}
