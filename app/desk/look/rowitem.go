package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// rowItem draws one row.
type rowItem struct {
	widget.BaseWidget
	rows   *Rows
	cells  []Cell
	chosen bool
}

func newRowItem(r *Rows) *rowItem {
	i := &rowItem{rows: r}
	i.ExtendBaseWidget(i)
	return i
}

func (i *rowItem) set(c []Cell, chosen bool) {
	i.cells, i.chosen = c, chosen
	i.Refresh()
}

func (i *rowItem) CreateRenderer() fyne.WidgetRenderer {
	r := &rowRenderer{item: i, back: canvas.NewRectangle(color.Transparent), edge: canvas.NewRectangle(color.Transparent)}
	r.objects = []fyne.CanvasObject{r.back, r.edge}
	text := func() *canvas.Text {
		t := canvas.NewText("", Now.Text)
		t.TextSize = Size(RowSize)
		r.objects = append(r.objects, t)
		return t
	}
	for range i.rows.Columns {
		s := canvas.NewImageFromResource(nil)
		s.FillMode = canvas.ImageFillContain
		s.Hide()
		r.texts, r.shapes = append(r.texts, text()), append(r.shapes, s)
		r.objects = append(r.objects, s)
	}
	r.second = text()
	r.second.Hide()
	r.Refresh()
	return r
}

type rowRenderer struct {
	item       *rowItem
	back, edge *canvas.Rectangle
	texts      []*canvas.Text
	second     *canvas.Text // second line of the text that is read in full
	shapes     []*canvas.Image
	objects    []fyne.CanvasObject
	size       fyne.Size
}

func (r *rowRenderer) MinSize() fyne.Size { return fyne.NewSize(60, r.item.rows.usual()) }

func (r *rowRenderer) Layout(size fyne.Size) {
	r.size = size
	r.back.Resize(size)
	r.edge.Resize(fyne.NewSize(3, size.Height))
	slots := Slots(r.item.rows.Columns, size.Width)
	r.second.Hide()
	for i, at := range slots {
		c := r.item.rows.Columns[i]
		t, s := r.texts[i], r.shapes[i]
		full := ""
		if i < len(r.item.cells) {
			full = r.item.cells[i].Text
		}
		// The first line stands in the middle of a row of one line, else at the top.
		middle := size.Height / 2
		if size.Height > RowHeight()+1 {
			middle = RowHeight() / 2
		}
		lines := []string{Fit(full, at.W, t.TextSize, t.TextStyle)}
		if c.Least > 0 {
			if at.Below {
				middle = RowHeight() + lineStep()/2 - rowPad/2
			}
			lines = breakTo(mostLines, full, at.W, t.TextSize, t.TextStyle)
			if len(lines) > 1 && !t.Hidden {
				r.second.Show()
				r.second.Text, r.second.Color, r.second.TextStyle = lines[1], t.Color, t.TextStyle
				m := r.second.MinSize()
				r.second.Move(fyne.NewPos(at.X, middle+lineStep()-m.Height/2))
				r.second.Resize(m)
			}
		}
		t.Text = lines[0]
		m := t.MinSize()
		tx := at.X
		if c.Right {
			tx = at.X + at.W - m.Width
		}
		t.Move(fyne.NewPos(tx, middle-m.Height/2))
		t.Resize(m)
		d := Size(12)
		s.Move(fyne.NewPos(at.X+(min(at.W, d+4)-d)/2, middle-d/2))
		s.Resize(fyne.NewSquareSize(d))
	}
}

func (r *rowRenderer) Refresh() {
	r.back.FillColor, r.edge.FillColor = color.Transparent, color.Transparent
	if r.item.chosen {
		r.back.FillColor, r.edge.FillColor = Now.Raised, Now.Accent
	}
	for i := range r.texts {
		var c Cell
		if i < len(r.item.cells) {
			c = r.item.cells[i]
		}
		t := r.texts[i]
		t.Color = c.Colour
		if c.Colour.A == 0 {
			t.Color = Now.Text
		}
		t.TextStyle = fyne.TextStyle{Bold: c.Bold, Monospace: c.Mono}
		t.Hidden = c.Shape != NoShape
		s := r.shapes[i]
		s.Hidden = c.Shape == NoShape
		if c.Shape != NoShape {
			col := c.Colour
			if col.A == 0 {
				col = Now.Colour(c.Shape)
			}
			s.Resource = ShapeResource(c.Shape, col)
			s.Refresh()
		}
	}
	r.Layout(r.size)
	canvas.Refresh(r.item)
}

func (r *rowRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *rowRenderer) Destroy()                     {}
