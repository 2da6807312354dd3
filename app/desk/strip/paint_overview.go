package strip

import (
	"image"
	"math"
	"time"
)

// overviewX is the pixel of a strip time in the overview.
func (l *Layout) overviewX(a *Axis, t time.Duration) int {
	r := l.Lanes[LaneOverview]
	if a.total == 0 {
		return r.Min.X
	}
	return r.Min.X + int(math.Round(float64(t)/a.total*float64(r.Dx())))
}

// OverviewAt is the strip time at a pixel of the overview, limited to the bout.
func (l *Layout) OverviewAt(a *Axis, x float64) time.Duration {
	r := l.Lanes[LaneOverview]
	share := (x - float64(r.Min.X)) / float64(max(r.Dx(), 1))
	return time.Duration(min(max(share, 0), 1) * a.total)
}

// overview draws the whole bout: jams as blocks, what the camera missed, findings
// over the blocks, and a frame round what the zoomed part shows.
func (p *Painter) overview() {
	lane := p.Lanes[LaneOverview]
	x := func(t time.Duration) int { return p.overviewX(p.Axis, t) }
	from, to := p.Axis.Window()
	window := image.Rect(x(from), lane.Min.Y, max(x(to), x(from)+p.px(5)), lane.Max.Y)
	p.blend(window, p.Colours.Text, 16)
	block := image.Rect(0, lane.Min.Y+p.px(5), 0, lane.Max.Y-p.px(4))
	for _, g := range p.Axis.Gaps() {
		r := image.Rect(x(g.Start), block.Min.Y, max(x(g.End), x(g.Start)+p.px(2)), block.Max.Y)
		p.hatch(r, p.Colours.Line, p.px(3))
	}
	last := -1 << 30
	jams := p.Model.runs[LaneJams].items
	for k := range jams {
		i := &jams[k]
		r := block
		r.Min.X, r.Max.X = x(i.From), x(i.To)
		r.Max.X = max(r.Max.X-p.px(1), r.Min.X+1)
		if r.Max.X <= last {
			continue
		}
		last = r.Max.X
		c := p.inks.block
		switch {
		case i.Kind != KindJam:
			mid := (r.Min.Y + r.Max.Y) / 2
			r.Min.Y, r.Max.Y = mid, mid+p.px(1)
		case p.HasNow && p.Now >= i.From && p.Now < i.To:
			c = p.Colours.Accent
		}
		p.round(r, c, p.sign.get(shapeCorner, p.px(2)))
	}
	p.overviewFindings(x)
	p.windowFrame(window)
	if p.HasNow {
		n := x(p.Now)
		p.fill(image.Rect(n, lane.Min.Y, n+p.px(1), lane.Max.Y), p.Colours.Accent)
	}
}

// overviewFindings puts a small sign over each jam that something is the matter with.
func (p *Painter) overviewFindings(x func(time.Duration) int) {
	last := -1 << 30
	for _, i := range p.Model.findings {
		if at := x(i.From); at-last > p.px(4) {
			p.centre(p.sign.get(i.State.shape(), p.px(6)), at, p.Lanes[LaneOverview].Min.Y+p.px(3.5), p.Colours.States[i.State&3])
			last = at
		}
	}
}

// windowFrame is the frame round what is shown, with blunt corners.
func (p *Painter) windowFrame(r image.Rectangle) {
	line := p.px(1.6)
	blunt := p.px(1)
	c := p.Colours.Accent
	p.fill(image.Rect(r.Min.X+blunt, r.Min.Y, r.Max.X-blunt, r.Min.Y+line), c)
	p.fill(image.Rect(r.Min.X+blunt, r.Max.Y-line, r.Max.X-blunt, r.Max.Y), c)
	p.fill(image.Rect(r.Min.X, r.Min.Y+blunt, r.Min.X+line, r.Max.Y-blunt), c)
	p.fill(image.Rect(r.Max.X-line, r.Min.Y+blunt, r.Max.X, r.Max.Y-blunt), c)
}
