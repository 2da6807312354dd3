package check

import (
	"image/color"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

func number(n int) string { return strconv.Itoa(n) }

// entryLines draws an entryTable as the score rows are drawn: sheet above tags,
// the cells that differ boxed.
type entryLines struct {
	widget.BaseWidget
	table entryTable
	side  timeline.Side
}

func newEntryLines() *entryLines {
	e := &entryLines{}
	e.ExtendBaseWidget(e)
	return e
}

func (e *entryLines) set(t entryTable, side timeline.Side) {
	e.table, e.side = t, side
	e.Refresh()
}

// MinSize is that of a heading and two lines.
func (e *entryLines) MinSize() fyne.Size {
	e.ExtendBaseWidget(e)
	return fyne.NewSize(look.Size(260), look.Size(18)+2*(look.Size(26)+look.Tight))
}

// CreateRenderer draws the lines anew at each change.
func (e *entryLines) CreateRenderer() fyne.WidgetRenderer { return &entryRenderer{e: e} }

type entryRenderer struct {
	e       *entryLines
	objects []fyne.CanvasObject
	size    fyne.Size
}

func (r *entryRenderer) MinSize() fyne.Size           { return r.e.MinSize() }
func (r *entryRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *entryRenderer) Destroy()                     {}

func (r *entryRenderer) Refresh() {
	r.draw()
	canvas.Refresh(r.e)
}

func (r *entryRenderer) Layout(size fyne.Size) {
	r.size = size
	r.draw()
}

func (r *entryRenderer) text(s string, c color.Color, size float32, bold bool, x, y, w, h float32) {
	style := fyne.TextStyle{Bold: bold}
	t := canvas.NewText(look.Fit(s, w-4, size, style), c)
	t.TextSize, t.TextStyle = size, style
	m := t.MinSize()
	t.Move(fyne.NewPos(x+(w-m.Width)/2, y+(h-m.Height)/2))
	t.Resize(m)
	r.objects = append(r.objects, t)
}

func (r *entryRenderer) draw() {
	r.objects = r.objects[:0]
	t := r.e.table
	if len(t.heads) == 0 || r.size.Width == 0 {
		return
	}
	head := look.Size(46)
	w := (r.size.Width - head - look.Tight) / float32(len(t.heads))
	for i, h := range t.heads {
		r.text(h, look.Now.Quiet, look.Size(10), false, head+w*float32(i), 0, w, look.Size(16))
	}
	y, h := look.Size(18), look.Size(26)
	for n, line := range [][]string{t.paper, t.tags} {
		back := canvas.NewRectangle(look.Now.Raised)
		back.CornerRadius = 3
		back.Move(fyne.NewPos(0, y))
		back.Resize(fyne.NewSize(r.size.Width, h))
		edge := canvas.NewRectangle(look.Now.Of(r.e.side))
		edge.Move(fyne.NewPos(0, y))
		edge.Resize(fyne.NewSize(3, h))
		r.objects = append(r.objects, back, edge)
		name := words.T("sheet")
		if n == 1 {
			name = words.T("tags")
		}
		r.text(name, look.Now.Quiet, look.Size(look.NoteSize), false, 3, y, head-3, h)
		for i, s := range line {
			x := head + w*float32(i)
			if t.differs(i) {
				b := canvas.NewRectangle(color.Transparent)
				b.StrokeColor, b.StrokeWidth, b.CornerRadius = look.Now.Differs, 1.5, 3
				b.Move(fyne.NewPos(x+1, y+2))
				b.Resize(fyne.NewSize(w-2, h-4))
				r.objects = append(r.objects, b)
			}
			c := color.Color(look.Now.Text)
			if s == "?" {
				c = look.Now.Unsure
			}
			r.text(s, c, look.Size(look.RowSize), true, x, y, w, h)
		}
		y += h + look.Tight
	}
}
