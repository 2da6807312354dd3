package reel

import (
	"image/color"
	"strconv"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/timeline"
)

// partList is the list of a reel's parts: a click chooses one, a second click plays
// it, a drag puts it elsewhere.
type partList struct {
	t      *Task
	view   *fyne.Container
	scroll *container.Scroll
	rows   *fyne.Container
	all    []*partRow // as many as were ever needed
	line   *canvas.Rectangle
	shown  int // rows in use
	from   int // row dragged, -1 for none
	to     int // where it would go
}

// columns of a row: number, side, place, what it is, length, where it begins.
var partColumns = []look.Column{{Width: 18, Right: true}, {Width: 6}, {Width: 46}, {}, {Width: 34, Right: true}, {Width: 40, Right: true}}

func newPartList(t *Task) *partList {
	l := &partList{t: t, from: -1, line: canvas.NewRectangle(look.Now.Accent)}
	l.line.Hide()
	l.rows = container.New(&partRows{l})
	l.scroll = container.NewVScroll(l.rows)
	l.view = container.NewStack(l.scroll)
	return l
}

// set shows the parts anew.
func (l *partList) set(parts []timeline.Part, chosen int) {
	starts, _ := startOf(parts)
	for len(l.all) < len(parts) {
		l.all = append(l.all, newPartRow(l, len(l.all)))
	}
	if l.shown != len(parts) {
		l.shown = len(parts)
		l.rows.Objects = nil
		for _, r := range l.all[:l.shown] {
			l.rows.Objects = append(l.rows.Objects, r)
		}
		l.rows.Objects = append(l.rows.Objects, l.line)
		l.rows.Refresh()
	}
	for i, p := range parts {
		l.all[i].set(l.t.row(p, i, starts[i]), i == chosen)
	}
	if chosen >= 0 && l.from < 0 {
		l.reveal(chosen)
	}
}

// reveal scrolls to a row.
func (l *partList) reveal(i int) {
	top, high := float32(i)*look.RowHeight(), l.scroll.Size().Height
	switch {
	case high <= 0:
	case top < l.scroll.Offset.Y:
		l.scroll.ScrollToOffset(fyne.NewPos(0, top))
	case top+look.RowHeight() > l.scroll.Offset.Y+high:
		l.scroll.ScrollToOffset(fyne.NewPos(0, top+look.RowHeight()-high))
	}
}

// drag shows where a row would go, y below the list's upper edge.
func (l *partList) drag(from int, y float32) {
	l.from = from
	l.to = min(max(int((y+look.RowHeight()/2)/look.RowHeight()), 0), l.shown) // before this row
	switch edge := look.RowHeight(); {
	case y < l.scroll.Offset.Y+edge/2:
		l.scroll.ScrollToOffset(fyne.NewPos(0, max(l.scroll.Offset.Y-edge/2, 0)))
	case y > l.scroll.Offset.Y+l.scroll.Size().Height-edge/2:
		l.scroll.ScrollToOffset(l.scroll.Offset.AddXY(0, edge/2))
	}
	l.line.Move(fyne.NewPos(0, float32(l.to)*look.RowHeight()-1))
	l.line.Resize(fyne.NewSize(l.rows.Size().Width, 2))
	l.line.Show()
	canvas.Refresh(l.line)
}

// drop puts the row where the line stands.
func (l *partList) drop() {
	from, to := l.from, l.to
	l.from = -1
	l.line.Hide()
	if from < 0 {
		return
	}
	if to > from {
		to--
	}
	l.t.put(from, to)
}

// partRows lays the rows below each other.
type partRows struct{ l *partList }

func (p *partRows) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for i, o := range objects {
		if o == fyne.CanvasObject(p.l.line) {
			continue
		}
		o.Move(fyne.NewPos(0, float32(i)*look.RowHeight()))
		o.Resize(fyne.NewSize(size.Width, look.RowHeight()))
	}
}

func (p *partRows) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(120, float32(p.l.shown)*look.RowHeight())
}

// row is what a part's row says.
func (t *Task) row(p timeline.Part, i int, start time.Duration) []look.Cell {
	quiet := look.Now.Quiet
	mark := look.Cell{}
	if s := side(p); s != timeline.NoSide {
		mark = look.Cell{Shape: look.Bar, Colour: look.Now.Of(s)}
	}
	text := look.Cell{Text: t.partText(p)}
	if p.Clip != nil {
		if n := len(p.Clip.Speeds); n > 0 {
			text.Text = strconv.FormatFloat(p.Clip.Speeds[0].Rate, 'g', -1, 64) + "×  " + text.Text
		}
	} else {
		text.Bold = true
	}
	return []look.Cell{
		{Text: strconv.Itoa(i + 1), Colour: quiet},
		mark,
		{Text: t.placeText(p), Colour: quiet},
		text,
		{Text: terms.Clock(p.Length(), 0)},
		{Text: terms.Clock(start, 0), Colour: quiet},
	}
}

// partRow is one row.
type partRow struct {
	widget.BaseWidget
	l      *partList
	i      int
	cells  []look.Cell
	chosen bool
}

func newPartRow(l *partList, i int) *partRow {
	r := &partRow{l: l, i: i}
	r.ExtendBaseWidget(r)
	return r
}

func (r *partRow) set(cells []look.Cell, chosen bool) {
	same := r.chosen == chosen && len(r.cells) == len(cells)
	for i := 0; same && i < len(cells); i++ {
		same = r.cells[i] == cells[i]
	}
	if !same {
		r.cells, r.chosen = cells, chosen
		r.Refresh()
	}
}

// Tapped chooses the part, or plays it when it is chosen already.
func (r *partRow) Tapped(*fyne.PointEvent) {
	if r.chosen && r.l.t.draw == nil {
		r.l.t.enter()
		return
	}
	r.l.t.choose(r.i)
}

// Dragged takes the row along.
func (r *partRow) Dragged(e *fyne.DragEvent) {
	r.l.drag(r.i, r.Position().Y+e.Position.Y)
}

// DragEnd puts it down.
func (r *partRow) DragEnd() { r.l.drop() }

// CreateRenderer draws back, edge and cells.
func (r *partRow) CreateRenderer() fyne.WidgetRenderer {
	x := &partRowRenderer{r: r, back: canvas.NewRectangle(color.Transparent), edge: canvas.NewRectangle(color.Transparent)}
	x.objects = []fyne.CanvasObject{x.back, x.edge}
	for range partColumns {
		t, s := look.Line("", look.Now.Text, look.RowSize), canvas.NewRectangle(color.Transparent)
		x.texts, x.bars = append(x.texts, t), append(x.bars, s)
		x.objects = append(x.objects, t, s)
	}
	x.Refresh()
	return x
}

type partRowRenderer struct {
	r          *partRow
	back, edge *canvas.Rectangle
	texts      []*canvas.Text
	bars       []*canvas.Rectangle
	objects    []fyne.CanvasObject
}

func (x *partRowRenderer) Objects() []fyne.CanvasObject { return x.objects }
func (x *partRowRenderer) Destroy()                     {}
func (x *partRowRenderer) MinSize() fyne.Size           { return fyne.NewSize(120, look.RowHeight()) }

func (x *partRowRenderer) Layout(size fyne.Size) {
	x.back.Resize(size)
	x.edge.Resize(fyne.NewSize(3, size.Height))
	for i, at := range look.Slots(partColumns, size.Width) {
		if i >= len(x.r.cells) {
			return
		}
		t := x.texts[i]
		t.Text = look.Fit(x.r.cells[i].Text, at.W+1, t.TextSize, t.TextStyle)
		m := t.MinSize()
		left := at.X
		if partColumns[i].Right {
			left += at.W - m.Width
		}
		t.Move(fyne.NewPos(left, (size.Height-m.Height)/2))
		t.Resize(m)
		x.bars[i].Move(fyne.NewPos(at.X+1, 3))
		x.bars[i].Resize(fyne.NewSize(4, size.Height-6))
	}
}

func (x *partRowRenderer) Refresh() {
	x.back.FillColor, x.edge.FillColor = color.Transparent, color.Transparent
	if x.r.chosen {
		x.back.FillColor, x.edge.FillColor = look.Now.Raised, look.Now.Accent
	}
	for i, c := range x.r.cells {
		x.texts[i].Color, x.texts[i].TextStyle.Bold = look.Now.Text, c.Bold
		if c.Colour.A > 0 {
			x.texts[i].Color = c.Colour
		}
		x.bars[i].FillColor = color.Transparent
		if c.Shape == look.Bar {
			x.bars[i].FillColor = c.Colour
		}
	}
	x.Layout(x.r.Size())
	canvas.Refresh(x.r)
}
