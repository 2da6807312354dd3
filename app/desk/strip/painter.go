package strip

import (
	"image"
	"image/color"
	"math"
	"time"

	"whistlecut/timeline"
)

// View is everything one picture of the strip shows.
type View struct {
	Axis    *Axis
	Model   *Model // nil: nothing yet
	Words   Words
	Colours Colours
	Now     time.Duration // strip time of the frame on screen
	HasNow  bool
	// Hover is what the pointer is on; nil: it is elsewhere.
	Hover *Hover
	// Drag is the edge being moved; nil: none.
	Drag *Drag
}

// Hover is a place of the pointer, in pixels, and what is there.
type Hover struct {
	X, Y int
	Hit  Hit
}

// Drag is an edge being moved, and where to.
type Drag struct {
	Item Item
	Edge Edge
	At   time.Duration
}

// moved is the item with the edge where it is now; an edge cannot pass the other.
func (d *Drag) moved() Item {
	i := d.Item
	switch d.Edge {
	case Begin:
		i.From = min(d.At, i.To)
	case End:
		i.To = max(d.At, i.From)
	case Moment:
		i.From, i.To = d.At, d.At
	}
	return i
}

// Painter paints views. It keeps glyphs and signs, so one Painter serves a strip
// for its life; it is not safe for use by several goroutines.
type Painter struct {
	text   *lettering
	signs  map[float64]shapes // by scale
	cover  []float32          // per column, reused
	margin [2][]float64       // low and high, reused
	// of the picture being painted
	View
	brush
	Layout
	inks inks
	sign shapes
}

// inks are the colours mixed from the palette.
type inks struct {
	block, gap, active, grid color.RGBA
	flow                     [2]color.RGBA // margin by side
	flowMaybe                [2]color.RGBA
	box, faint               [2]color.RGBA
	label                    [2]color.RGBA // of box visits, on the margin's area
}

// NewPainter makes a painter that letters with these fonts.
func NewPainter(fonts Fonts) (*Painter, error) {
	t, err := newLettering(fonts)
	if err != nil {
		return nil, err
	}
	return &Painter{text: t, signs: map[float64]shapes{}}, nil
}

// Arrange divides a picture of w by h pixels, scale of them for one at scale 1,
// and tells the axis where the zoomed part is. Paint does so by itself.
func (p *Painter) Arrange(w, h int, scale float64, words Words, axis *Axis) Layout {
	scale = max(scale, 0.25)
	if p.text.setScale(scale) != nil {
		scale = p.text.scale // keep what could be drawn
	}
	names := max(p.text.width(styleNote, words.Home), p.text.width(styleNote, words.Away), p.text.width(styleNote, words.Heard))
	l := NewLayout(w, h, scale, float64(min(names, w/4)))
	axis.SetView(float64(l.Zoomed.Min.X), float64(l.Zoomed.Dx()), scale)
	return l
}

// Paint paints a view over the whole of a picture, scale pixels for one at scale 1.
func (p *Painter) Paint(dst *image.RGBA, scale float64, v View) Layout {
	size := dst.Bounds().Size()
	p.Layout = p.Arrange(size.X, size.Y, scale, v.Words, v.Axis)
	p.View, p.brush = v, brush{img: dst, clip: dst.Bounds()}
	if p.signs[p.Scale] == nil {
		p.signs[p.Scale] = shapes{}
	}
	p.sign = p.signs[p.Scale]
	p.inks = mixInks(v.Colours)
	c := &p.Colours
	p.fill(dst.Bounds(), c.Panel)
	p.fill(image.Rect(0, 0, size.X, p.px(1)), c.Line)
	if v.Axis.Empty() || size.X < p.px(80) {
		p.say(v.Words.NoFilm, dst.Bounds())
		return p.Layout
	}
	if v.Model == nil {
		p.Model = &Model{}
	}
	p.overview()
	p.names()
	p.clip = p.Zoomed.Intersect(dst.Bounds())
	p.gaps()
	p.ruler()
	p.flow()
	p.boxes(LaneHomeBox)
	p.boxes(LaneAwayBox)
	p.jams()
	p.events(runEvents, LaneHomeTrips)
	p.events(runEventsAway, LaneAwayTrips)
	p.trips(LaneHomeTrips)
	p.trips(LaneAwayTrips)
	p.heard()
	p.points(LaneHomePoints)
	p.points(LaneAwayPoints)
	p.preview()
	p.pointer()
	p.now()
	p.clip = dst.Bounds()
	p.tip()
	return p.Layout
}

func mixInks(c Colours) inks {
	k := inks{
		block: mix(c.Panel, c.Quiet, 0.5), gap: mix(c.Panel, c.Line, 0.7),
		active: mix(c.Panel, c.Accent, 0.42), grid: mix(c.Panel, c.Line, 0.45),
	}
	for i, s := range c.Side {
		k.flow[i] = mix(mix(c.Panel, c.Line, 0.65), s, 0.14)
		k.flowMaybe[i] = mix(c.Panel, k.flow[i], 0.55)
		k.box[i] = mix(c.Panel, s, 0.68)
		k.faint[i] = mix(c.Panel, s, 0.2)
	}
	for i, s := range c.Side {
		k.label[i] = c.readableOn(s, c.Panel, k.flow[0], k.flow[1])
	}
	return k
}

// px is a length at scale 1 in pixels, at least one.
func (p *Painter) px(n float64) int { return max(int(math.Round(n*p.Scale)), 1) }

// x is the pixel of a strip time, kept near the picture so that it never overflows.
func (p *Painter) x(t time.Duration) int {
	return int(math.Round(min(max(p.Axis.X(t), -1e5), 1e5)))
}

// shown are the items of a run that touch the window, with some room for what is
// drawn beside an item.
func (p *Painter) shown(run int) []Item {
	from, to := p.Axis.Window()
	room := time.Duration(p.Axis.perPixel() * float64(p.px(16)))
	return p.Model.runs[run].in(from-room, to+room)
}

func (p *Painter) corner() *image.Alpha { return p.sign.get(shapeCorner, p.px(3)) }

// say writes a sentence in the middle.
func (p *Painter) say(text string, r image.Rectangle) {
	text = p.text.fit(styleTip, text, r.Dx()-2*p.px(edgeSpace))
	w := p.text.width(styleTip, text)
	p.text.draw(&p.brush, styleTip, text, r.Min.X+(r.Dx()-w)/2, (r.Min.Y+r.Max.Y)/2, p.Colours.Quiet)
}

// names letters the lanes' names.
func (p *Painter) names() {
	room := p.Zoomed.Min.X - p.px(edgeSpace)
	name := func(l Lane, text string, c color.RGBA) {
		mid := (p.Lanes[l].Min.Y + p.Lanes[l].Max.Y) / 2
		p.text.draw(&p.brush, styleNote, p.text.fit(styleNote, text, room), p.px(edgeSpace), mid, c)
	}
	name(LaneHomeTrips, p.Words.Home, p.Colours.Side[0])
	name(LaneAwayTrips, p.Words.Away, p.Colours.Side[1])
	name(LaneHeard, p.Words.Heard, p.Colours.Quiet)
}

// gaps hatches what the camera did not film.
func (p *Painter) gaps() {
	for _, g := range p.Axis.Gaps() {
		r := image.Rect(p.x(g.Start), p.Lanes[LaneHomePoints].Min.Y, p.x(g.End), p.Zoomed.Max.Y)
		if r = r.Intersect(p.clip); r.Empty() {
			continue
		}
		p.fill(r, p.Colours.Ground)
		p.hatch(r, p.inks.gap, p.px(6))
		if w := p.text.width(styleNote, p.Words.Gap); w+p.px(12) < r.Dx() {
			mid := (r.Min.Y + r.Max.Y) / 2
			x := r.Min.X + (r.Dx()-w)/2
			p.fill(image.Rect(x-p.px(4), mid-p.px(8), x+w+p.px(4), mid+p.px(8)), p.Colours.Ground)
			p.text.draw(&p.brush, styleNote, p.Words.Gap, x, mid, p.Colours.Quiet)
		}
	}
}

// now draws the line at the frame on screen.
func (p *Painter) now() {
	if !p.HasNow {
		return
	}
	x := p.x(p.Now)
	line := p.px(1.6)
	top := p.Lanes[LaneRuler].Min.Y
	p.fill(image.Rect(x-line/2, top, x-line/2+line, p.img.Rect.Max.Y), p.Colours.Accent)
	head := p.sign.get(shapeNow, p.px(11))
	p.mask(head, x-line/2+line/2-head.Rect.Dx()/2, top-p.px(1), p.Colours.Accent)
}

// side is the colour of a side; what belongs to none has the text's.
func (p *Painter) side(s timeline.Side) color.RGBA {
	if s == timeline.NoSide {
		return p.Colours.Text
	}
	return p.Colours.Side[s.Index()]
}

// pointer draws a faint line under the pointer, so that lanes can be compared.
func (p *Painter) pointer() {
	if p.Hover != nil && p.Drag == nil && p.Hover.Hit.Lane != LaneOverview && p.Hover.X >= p.Zoomed.Min.X {
		p.blend(image.Rect(p.Hover.X, p.Lanes[LaneRuler].Max.Y, p.Hover.X+p.px(1), p.img.Rect.Max.Y), p.Colours.Quiet, 110)
	}
}

// team indexes the team colours. A tag that should name a side and does not is
// drawn where things of no side are, above.
func team(s timeline.Side) int {
	if s == timeline.Away {
		return 1
	}
	return 0
}
