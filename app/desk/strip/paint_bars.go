package strip

import (
	"image"
	"time"

	"whistlecut/timeline"
)

// thin is the width in pixels below which bars are merged into a density.
const thin = 2

// bar is the rectangle of an item in a lane; bars that touch keep a pixel apart.
func (p *Painter) bar(i *Item, lane image.Rectangle) image.Rectangle {
	r := image.Rect(p.x(i.From), lane.Min.Y, p.x(i.To), lane.Max.Y)
	if r.Dx() > 3*thin {
		r.Max.X -= p.px(1)
	}
	return r
}

// density collects what is too thin to draw and paints it as columns, the
// stronger the fuller.
type density struct {
	p    *Painter
	from int
	used bool
}

func (p *Painter) density() density {
	n := p.Zoomed.Dx()
	if cap(p.cover) < n {
		p.cover = make([]float32, n)
	}
	p.cover = p.cover[:n]
	clear(p.cover)
	return density{p: p, from: p.Zoomed.Min.X}
}

func (d *density) add(t0, t1 time.Duration) {
	x0, x1 := d.p.Axis.X(t0)-float64(d.from), d.p.Axis.X(t1)-float64(d.from)
	k := int(x0)
	if x0 < 0 || k >= len(d.p.cover) {
		return
	}
	d.used = true
	d.p.cover[k] += float32(max(x1-x0, 0.35))
}

func (d *density) paint(lane image.Rectangle, side timeline.Side) {
	if !d.used {
		return
	}
	c := d.p.side(side)
	for k, v := range d.p.cover {
		if v > 0 {
			x := d.from + k
			d.p.blend(image.Rect(x, lane.Min.Y, x+1, lane.Max.Y), c, uint32(min(90+v*165, 255)))
		}
	}
}

// trips draws the trips of one side with their points.
func (p *Painter) trips(l Lane) {
	lane := p.Lanes[l]
	side := timeline.Home
	if l == LaneAwayTrips {
		side = timeline.Away
	}
	d := p.density()
	items := p.shown(int(l))
	for k := range items {
		i := &items[k]
		if p.past(i) || p.dragged(i) {
			continue
		}
		r := p.bar(i, lane)
		if r.Dx() < thin {
			if !i.Faint {
				d.add(i.From, i.To)
			}
			continue
		}
		p.trip(i, r)
	}
	d.paint(lane, side)
}

func (p *Painter) trip(i *Item, r image.Rectangle) {
	n := team(i.Side)
	ink := p.Colours.OnSide[n]
	switch {
	case i.Open:
		p.roundFrame(r, p.Colours.Side[n], p.Colours.Panel, p.px(1.4), p.corner())
		ink = p.Colours.Side[n]
	case i.Faint:
		p.roundFrame(r, p.inks.box[n], p.inks.faint[n], p.px(1), p.corner())
		ink = p.Colours.Text
	default:
		p.round(r, p.Colours.Side[n], p.corner())
	}
	if seen := r.Intersect(p.clip); i.Label != "" && seen.Dx() > 0 {
		if w := p.text.width(styleStrong, i.Label); w+p.px(3) <= seen.Dx() {
			p.text.draw(&p.brush, styleStrong, i.Label, seen.Min.X+(seen.Dx()-w)/2, (r.Min.Y+r.Max.Y)/2, ink)
		}
	}
}

// boxes draws the box visits of one side, with who it is where there is room.
func (p *Painter) boxes(l Lane) {
	lane := p.Lanes[l]
	side := timeline.Home
	if l == LaneAwayBox {
		side = timeline.Away
	}
	d := p.density()
	items := p.shown(int(l))
	covered := [stackRows]int{} // what lies under bars of the same row is not drawn
	for k := range items {
		i := &items[k]
		if p.past(i) || p.dragged(i) {
			continue
		}
		r := p.bar(i, p.boxRow(lane, i))
		if r.Max.X <= covered[i.Row] {
			continue
		}
		covered[i.Row] = r.Max.X
		if r.Dx() < thin {
			d.add(i.From, i.To)
			continue
		}
		p.box(i, r)
		if r.Min.X >= p.Zoomed.Max.X {
			break
		}
		room := p.Zoomed.Max.X
		if k+1 < len(items) {
			room = min(room, p.x(items[k+1].From))
		}
		p.boxLabel(i, r, room)
	}
	d.paint(image.Rect(lane.Min.X, lane.Min.Y+lane.Dy()/4, lane.Max.X, lane.Max.Y-lane.Dy()/4), side)
}

// boxRow is the part of the lane for one visit: all visits at the same time share it.
func (p *Painter) boxRow(lane image.Rectangle, i *Item) image.Rectangle {
	if i.Rows <= 1 {
		inset := lane.Dy() / 4
		return image.Rect(lane.Min.X, lane.Min.Y+inset, lane.Max.X, lane.Max.Y-inset)
	}
	gap := p.px(1)
	rows, row := int(i.Rows), int(i.Row)
	high := (lane.Dy() - gap*(rows-1)) / rows
	top := lane.Min.Y + row*(high+gap)
	return image.Rect(lane.Min.X, top, lane.Max.X, top+max(high, 1))
}

// box draws one visit; one whose end nobody knows stays open to the right.
func (p *Painter) box(i *Item, r image.Rectangle) {
	n := team(i.Side)
	if !i.Open {
		p.round(r, p.inks.box[n], p.sign.get(shapeCorner, p.px(2)))
		return
	}
	half := (r.Min.X + r.Max.X) / 2
	p.fill(image.Rect(r.Min.X, r.Min.Y, half, r.Max.Y), p.inks.box[n])
	step := p.px(6)
	first := half + max(p.clip.Min.X-half, 0)/step*step
	for x := first; x < min(r.Max.X, p.clip.Max.X); x += step {
		p.fill(image.Rect(x, r.Min.Y, min(x+p.px(3), r.Max.X), r.Max.Y), p.inks.box[n])
	}
}

// boxLabel letters the visit after its bar, up to where the next begins.
func (p *Painter) boxLabel(i *Item, r image.Rectangle, room int) {
	if i.Rows > 1 || r.Max.X >= p.Zoomed.Max.X || r.Max.X < p.Zoomed.Min.X {
		return
	}
	x := r.Max.X + p.px(5)
	for _, text := range [2]string{i.Label, i.Short} {
		if x+p.text.width(styleNote, text)+p.px(4) <= room {
			p.text.draw(&p.brush, styleNote, text, x, (r.Min.Y+r.Max.Y)/2, p.inks.label[team(i.Side)])
			return
		}
	}
}

// events draws the physical events of one side as specks at the trips' inner edge.
func (p *Painter) events(run int, l Lane) {
	lane := p.Lanes[l]
	y := lane.Max.Y + p.px(0.6)
	if l == LaneAwayTrips {
		y = lane.Min.Y - p.px(2)
	}
	last := -1 << 30
	items := p.shown(run)
	for k := range items {
		if x := p.x(items[k].From); x > last {
			p.fill(image.Rect(x, y, x+p.px(1), y+p.px(2)), p.Colours.Quiet)
			last = x
		}
	}
}

// dragged reports whether an item is being moved, so that only its preview is drawn.
func (p *Painter) dragged(i *Item) bool {
	return p.Drag != nil && i.ID != "" && i.ID == p.Drag.Item.ID && i.Kind == p.Drag.Item.Kind
}

// past reports whether an item ends before the window: a long visit before it
// makes the look-up start early.
func (p *Painter) past(i *Item) bool { return float64(i.To) < p.Axis.from-p.Axis.perPixel()*16*p.Scale }
