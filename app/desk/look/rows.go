package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Cell is one field of a row.
type Cell struct {
	Text   string
	Colour color.NRGBA // zero is the text colour
	Shape  Shape       // drawn instead of text
	Mono   bool
	Bold   bool
}

// Column is how the cells below each other stand. One column has no width and
// takes what is left; its text is cut with an ellipsis.
type Column struct {
	Width float32 // before text scale; 0 takes the rest
	Right bool    // aligned at the right
}

// Rows is a list of rows in columns, drawn only as far as it shows, in one line
// each. The chosen row is marked by the accent at its left. Keys are the desk's:
// the list never keeps the keyboard focus to itself.
type Rows struct {
	widget.List
	Columns []Column
	// Row gives the cells of row i.
	Row func(i int) []Cell
	// Chosen is called when a person clicks a row or Choose moves to one.
	Chosen func(i int)
	// Opened is called on a second click on the chosen row.
	Opened func(i int)
	chosen int
	quiet  bool
}

// NewRows makes a list of n() rows.
func NewRows(columns []Column, n func() int, row func(i int) []Cell) *Rows {
	r := &Rows{Columns: columns, Row: row, chosen: -1}
	r.Length = n
	r.CreateItem = func() fyne.CanvasObject { return newRowItem(r.Columns) }
	r.UpdateItem = func(id widget.ListItemID, o fyne.CanvasObject) {
		o.(*rowItem).set(r.Row(id), id == r.chosen)
	}
	r.HideSeparators = true
	r.OnSelected = func(id widget.ListItemID) {
		again := id == r.chosen
		r.chosen = id
		r.UnselectAll()
		r.unfocus()
		r.Refresh()
		if r.quiet {
			return
		}
		if again && r.Opened != nil {
			r.Opened(id)
		} else if r.Chosen != nil {
			r.Chosen(id)
		}
	}
	r.ExtendBaseWidget(r)
	return r
}

// FocusGained gives the focus away: arrows and Enter are the desk's.
func (r *Rows) FocusGained() { r.unfocus() }

func (r *Rows) unfocus() {
	if a := fyne.CurrentApp(); a != nil {
		if c := a.Driver().CanvasForObject(r); c != nil && c.Focused() == fyne.Focusable(r) {
			c.Unfocus()
		}
	}
}

// Index is the chosen row, -1 for none.
func (r *Rows) Index() int { return r.chosen }

// Mark shows a row as the chosen one without calling Chosen.
func (r *Rows) Mark(i int) {
	if n := r.Length(); i >= n {
		i = n - 1
	}
	r.chosen = i
	if i >= 0 {
		r.ScrollTo(i)
	}
	r.Refresh()
}

// Choose moves to a row as if it was clicked, held within the list.
func (r *Rows) Choose(i int) {
	n := r.Length()
	if n == 0 {
		return
	}
	r.Mark(min(max(i, 0), n-1))
	if r.Chosen != nil {
		r.Chosen(r.chosen)
	}
}

// Advance chooses the row so many further down.
func (r *Rows) Advance(by int) {
	if r.chosen < 0 && by < 0 {
		by = r.Length()
	}
	r.Choose(r.chosen + by)
}

// rowItem draws one row.
type rowItem struct {
	widget.BaseWidget
	columns []Column
	cells   []Cell
	chosen  bool
}

func newRowItem(c []Column) *rowItem {
	i := &rowItem{columns: c}
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
	for range i.columns {
		t := canvas.NewText("", Now.Text)
		t.TextSize = Size(RowSize)
		s := canvas.NewImageFromResource(nil)
		s.FillMode = canvas.ImageFillContain
		s.Hide()
		r.texts, r.shapes = append(r.texts, t), append(r.shapes, s)
		r.objects = append(r.objects, t, s)
	}
	r.Refresh()
	return r
}

type rowRenderer struct {
	item       *rowItem
	back, edge *canvas.Rectangle
	texts      []*canvas.Text
	shapes     []*canvas.Image
	objects    []fyne.CanvasObject
	size       fyne.Size
}

func (r *rowRenderer) MinSize() fyne.Size { return fyne.NewSize(60, Size(RowSize)+10) }

func (r *rowRenderer) Layout(size fyne.Size) {
	r.size = size
	r.back.Resize(size)
	r.edge.Resize(fyne.NewSize(3, size.Height))
	fixed, rest := float32(0), 0
	for _, c := range r.item.columns {
		fixed += Size(c.Width)
		if c.Width == 0 {
			rest++
		}
	}
	gaps := Near * float32(len(r.item.columns)+1)
	free := max(size.Width-fixed-gaps, 0)
	x := Near
	for i, c := range r.item.columns {
		w := Size(c.Width)
		if c.Width == 0 {
			w = free / float32(rest)
		}
		t, s := r.texts[i], r.shapes[i]
		full := ""
		if i < len(r.item.cells) {
			full = r.item.cells[i].Text
		}
		t.Text = Fit(full, w, t.TextSize, t.TextStyle)
		m := t.MinSize()
		tx := x
		if c.Right {
			tx = x + w - m.Width
		}
		t.Move(fyne.NewPos(tx, (size.Height-m.Height)/2))
		t.Resize(m)
		d := Size(12)
		s.Move(fyne.NewPos(x+(min(w, d+4)-d)/2, (size.Height-d)/2))
		s.Resize(fyne.NewSquareSize(d))
		x += w + Near
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

// Fit cuts a text with an ellipsis to a width.
func Fit(s string, width, size float32, style fyne.TextStyle) string {
	if fyne.MeasureText(s, size, style).Width <= width {
		return s
	}
	runes := []rune(s)
	low, high := 0, len(runes)
	for low < high {
		mid := (low + high + 1) / 2
		if fyne.MeasureText(string(runes[:mid])+"…", size, style).Width <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	if low == 0 {
		return ""
	}
	return string(runes[:low]) + "…"
}
