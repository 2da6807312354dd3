package ledger

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/export/chart"
	"whistlecut/timeline"
)

// Chart shows a chart of a bout: one painted picture with letters over it. A click
// is on a jam.
type Chart struct {
	widget.BaseWidget
	Chart chart.Chart
	// Label names jam i under the field; Split reports that a period begins with it.
	Label func(i int) string
	Split func(i int) bool
	Jam   func(i int)
	now   int // jam marked, -1 for none
}

// NewChart makes a chart.
func NewChart(c chart.Chart) *Chart {
	x := &Chart{Chart: c, now: -1}
	x.ExtendBaseWidget(x)
	return x
}

// SetNow marks the jam that the film shows; -1 marks none.
func (c *Chart) SetNow(jam int) {
	if c.now != jam {
		c.now = jam
		c.Refresh()
	}
}

// MinSize is a height at which bars of a few points can be told from each other.
func (c *Chart) MinSize() fyne.Size {
	c.ExtendBaseWidget(c)
	return fyne.NewSize(120, look.Size(132))
}

// Tapped goes to the jam under the pointer.
func (c *Chart) Tapped(e *fyne.PointEvent) {
	f := c.field(c.Size())
	if c.Jam == nil || c.Chart.Jams == 0 || f.w <= 0 {
		return
	}
	i := int(math.Floor(float64((e.Position.X - f.x) / f.w * float32(c.Chart.Jams))))
	if i >= 0 && i < c.Chart.Jams {
		c.Jam(i)
	}
}

// field is where the chart is drawn within its widget.
type field struct{ x, y, w, h float32 }

func (c *Chart) field(s fyne.Size) field {
	left, below := look.Size(26), look.Size(look.NoteSize)+5
	return field{left, 2, max(s.Width-left-4, 0), max(s.Height-below-4, 0)}
}

// CreateRenderer draws picture, values and names.
func (c *Chart) CreateRenderer() fyne.WidgetRenderer {
	r := &chartRenderer{c: c}
	r.picture = canvas.NewRaster(c.paint)
	return r
}

type chartRenderer struct {
	c       *Chart
	picture *canvas.Raster
	objects []fyne.CanvasObject
}

func (r *chartRenderer) MinSize() fyne.Size           { return r.c.MinSize() }
func (r *chartRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *chartRenderer) Destroy()                     {}
func (r *chartRenderer) Refresh() {
	r.Layout(r.c.Size())
	r.picture.Refresh()
	canvas.Refresh(r.c)
}

func (r *chartRenderer) Layout(s fyne.Size) {
	c, f := r.c, r.c.field(s)
	r.objects = []fyne.CanvasObject{r.picture}
	r.picture.Move(fyne.NewPos(f.x, f.y))
	r.picture.Resize(fyne.NewSize(f.w, f.h))
	put := func(text string, place func(m fyne.Size) fyne.Position) {
		t := look.Line(text, look.Now.Quiet, look.NoteSize-1)
		m := t.MinSize()
		t.Move(place(m))
		t.Resize(m)
		r.objects = append(r.objects, t)
	}
	for _, v := range c.Chart.Levels() {
		y := f.y + f.h*float32((c.Chart.High-v)/(c.Chart.High-c.Chart.Low))
		put(strconv.Itoa(int(math.Abs(v))), func(m fyne.Size) fyne.Position { return fyne.NewPos(f.x-m.Width-4, y-m.Height/2) })
	}
	for _, u := range c.Chart.Unknown {
		x, y := f.x+f.w*float32(u.X/float64(c.Chart.Jams)), f.y+f.h*float32((c.Chart.High-u.Y)/(c.Chart.High-c.Chart.Low))
		put("?", func(m fyne.Size) fyne.Position { return fyne.NewPos(x-m.Width/2, y-m.Height/2) })
	}
	if c.Label == nil {
		return
	}
	free := float32(0)
	for i := range c.Chart.Jams {
		x := f.x + f.w*(float32(i)+0.5)/float32(c.Chart.Jams)
		m := fyne.MeasureText(c.Label(i), look.Size(look.NoteSize-1), fyne.TextStyle{})
		if x-m.Width/2 < free {
			continue
		}
		free = x + m.Width/2 + look.Near
		put(c.Label(i), func(m fyne.Size) fyne.Position { return fyne.NewPos(x-m.Width/2, f.y+f.h+2) })
	}
}

// paint paints the field of w by h pixels.
func (c *Chart) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	k := c.Chart
	px := func(x float64) int { return int(math.Round(x / float64(max(k.Jams, 1)) * float64(w))) }
	py := func(y float64) int { return int(math.Round((k.High - y) / (k.High - k.Low) * float64(h))) }
	fill := func(x0, y0, x1, y1 int, col color.Color) {
		draw.Draw(img, image.Rect(x0, y0, x1, y1), image.NewUniform(col), image.Point{}, draw.Src)
	}
	thin := max(h/130, 1)
	p := look.Now
	fill(0, 0, w, h, look.Mix(p.Panel, p.Ground, 0.6))
	if c.now >= 0 && c.now < k.Jams {
		fill(px(float64(c.now)), 0, px(float64(c.now+1)), h, look.Mix(p.Panel, p.Accent, 0.3))
	}
	for _, v := range k.Levels() {
		col, y := look.Mix(p.Panel, p.Line, 0.7), py(v)
		if math.Abs(v) < 1e-9 {
			col = p.Quiet
		}
		fill(0, y, w, y+thin, col)
	}
	if c.Split != nil {
		for i := 1; i < k.Jams; i++ {
			if c.Split(i) {
				for y := 0; y < h; y += 6 * thin {
					fill(px(float64(i)), y, px(float64(i))+thin, y+3*thin, p.Quiet)
				}
			}
		}
	}
	for _, b := range k.Boxes {
		x0, x1, y0, y1 := px(b.Left), max(px(b.Right), px(b.Left)+1), py(b.High), py(b.Low)
		col := p.Of(b.Side)
		if len(k.Lines) > 0 { // an area under a line is paler than a bar
			col = look.Mix(p.Panel, col, 0.55)
		}
		fill(x0, y0, x1, y1, col)
		if !b.Sure {
			fill(x0+thin, y0+thin, x1-thin, y1-thin, p.Panel)
		}
	}
	for _, l := range k.Lines {
		x0, x1, y0, y1 := px(min(l.X1, l.X2)), px(max(l.X1, l.X2)), py(max(l.Y1, l.Y2)), py(min(l.Y1, l.Y2))
		ink := p.Text
		switch {
		case l.Y1+l.Y2 > 0:
			ink = p.Of(timeline.Home)
		case l.Y1+l.Y2 < 0:
			ink = p.Of(timeline.Away)
		}
		fill(x0, y0, x1+2*thin, y1+2*thin, ink)
	}
	return img
}
