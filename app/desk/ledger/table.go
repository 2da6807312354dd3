package ledger

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
)

// Column is one column of a table. It is as wide as its widest cell, but for the
// one that takes the rest.
type Column struct {
	Title string
	Right bool // aligned at the right
	Rest  bool // takes what the others leave; its text is cut where that is too little
}

// Row is one row of a table.
type Row struct {
	Cells []look.Cell
	// Under is quiet text below the cells, as many lines as it needs; in a row without
	// cells it is what the row says.
	Under string
	// Open goes where the row leads; nil leads nowhere.
	Open func()
	// Strong sets the row apart, as a sum.
	Strong bool
}

// Table is a table that shows all its rows. Columns that have no room at its width
// are named below their row instead, the last ones first.
type Table struct {
	widget.BaseWidget
	Columns []Column
	Rows    []Row
	page    *Page
	chosen  int // row, -1 for none
	width   float32
}

// NewTable makes a table.
func NewTable(columns []Column, rows ...Row) *Table {
	t := &Table{Columns: columns, Rows: rows, chosen: -1}
	t.ExtendBaseWidget(t)
	return t
}

// Cells are plain texts as cells.
func Cells(texts ...string) []look.Cell {
	out := make([]look.Cell, len(texts))
	for i, s := range texts {
		out[i].Text = s
	}
	return out
}

const (
	pad       = 7  // above and below the text of a row, together
	leastRest = 64 // width of the column that takes the rest, before text scale
	signWidth = 12 // of a cell that is a shape
)

func lineHeight() float32 { return look.Size(look.RowSize) + 5 }

// plan is how a table stands at a width.
type plan struct {
	shown  []int     // columns
	x, w   []float32 // by shown column
	folded []int     // columns named below the rows
	head   float32   // height of the heading
	tops   []float32 // of the rows
	under  [][]string
	height float32
}

func (t *Table) measure(width float32) plan {
	style := func(c look.Cell, strong bool) fyne.TextStyle {
		return fyne.TextStyle{Bold: c.Bold || strong, Monospace: c.Mono}
	}
	size, note := look.Size(look.RowSize), look.Size(look.NoteSize)
	need := make([]float32, len(t.Columns))
	rest := -1
	for i, c := range t.Columns {
		need[i] = fyne.MeasureText(c.Title, note, fyne.TextStyle{}).Width
		if c.Rest {
			rest, need[i] = i, look.Size(leastRest)
			continue
		}
		for _, r := range t.Rows {
			if i >= len(r.Cells) {
				continue
			}
			if r.Cells[i].Shape != look.NoShape {
				need[i] = max(need[i], look.Size(signWidth))
			}
			need[i] = max(need[i], fyne.MeasureText(r.Cells[i].Text, size, style(r.Cells[i], r.Strong)).Width)
		}
	}
	var p plan
	used := look.Tight
	for i := range t.Columns {
		p.shown = append(p.shown, i)
		used += need[i] + look.Near
	}
	for used > width && len(p.shown) > 2 {
		last := p.shown[len(p.shown)-1]
		if last == rest {
			break
		}
		p.shown, p.folded = p.shown[:len(p.shown)-1], append([]int{last}, p.folded...)
		used -= need[last] + look.Near
	}
	if rest >= 0 {
		need[rest] += max(width-used, 0)
	}
	x := look.Tight + 2
	for _, i := range p.shown {
		p.x, p.w = append(p.x, x), append(p.w, need[i])
		x += need[i] + look.Near
	}
	titled := false
	for _, i := range p.shown {
		titled = titled || t.Columns[i].Title != ""
	}
	if titled {
		p.head = note + 6
	}
	y := p.head
	for _, r := range t.Rows {
		p.tops = append(p.tops, y)
		if len(r.Cells) > 0 {
			y += size + pad
		}
		under := t.under(r, p, width)
		p.under = append(p.under, under)
		if len(under) > 0 {
			y += float32(len(under))*lineHeight() + 2
		}
	}
	p.height = y
	return p
}

// under are the lines below a row: the columns that have no room, then its own text.
func (t *Table) under(r Row, p plan, width float32) []string {
	var parts []string
	for _, i := range p.folded {
		if i < len(r.Cells) && r.Cells[i].Text != "" {
			parts = append(parts, strings.TrimSpace(t.Columns[i].Title+" "+r.Cells[i].Text))
		}
	}
	text := strings.Join(parts, "  |  ")
	if text != "" && r.Under != "" {
		text += "\n"
	}
	if text += r.Under; text == "" {
		return nil
	}
	return look.Break(text, width-t.underAt(p)-look.Tight, look.Size(look.NoteSize), fyne.TextStyle{})
}

// underAt is where the lines below a row begin: under the second column, where the
// first is a sign or a number.
func (t *Table) underAt(p plan) float32 {
	if len(p.x) > 1 && p.w[0] < look.Size(28) {
		return p.x[1]
	}
	return look.Tight + 2
}

// MinSize is the height at the last width.
func (t *Table) MinSize() fyne.Size {
	t.ExtendBaseWidget(t)
	return fyne.NewSize(80, t.measure(t.width).height)
}

// Resize keeps the width, by which the height is reckoned.
func (t *Table) Resize(s fyne.Size) {
	t.width = s.Width
	t.BaseWidget.Resize(s)
}

// at is the row at a height, -1 for none.
func (t *Table) at(y float32) int {
	p := t.measure(t.width)
	for i := len(p.tops) - 1; i >= 0; i-- {
		if y >= p.tops[i] {
			return i
		}
	}
	return -1
}

// Tapped chooses a row and goes where it leads.
func (t *Table) Tapped(e *fyne.PointEvent) {
	if i := t.at(e.Position.Y); i >= 0 && t.Rows[i].Open != nil {
		if t.page != nil {
			t.page.choose(t, i)
		}
		t.Rows[i].Open()
	}
}

// mark shows a row as the chosen one.
func (t *Table) mark(i int) {
	if t.chosen != i {
		t.chosen = i
		t.Refresh()
	}
}

// CreateRenderer draws the table.
func (t *Table) CreateRenderer() fyne.WidgetRenderer { return &tableRenderer{t: t} }

type tableRenderer struct {
	t       *Table
	objects []fyne.CanvasObject
	width   float32
}

func (r *tableRenderer) MinSize() fyne.Size           { return r.t.MinSize() }
func (r *tableRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *tableRenderer) Destroy()                     {}

func (r *tableRenderer) Layout(s fyne.Size) {
	r.width = s.Width
	r.draw()
}

func (r *tableRenderer) Refresh() {
	r.draw()
	canvas.Refresh(r.t)
}

func (r *tableRenderer) text(s string, x, w, middle float32, right bool, size float32, c color.Color, style fyne.TextStyle) {
	x2 := canvas.NewText("", c)
	x2.TextSize, x2.TextStyle = size, style
	x2.Text = look.Fit(s, w+1, size, style)
	m := x2.MinSize()
	if right {
		x += w - m.Width
	}
	x2.Move(fyne.NewPos(x, middle-m.Height/2))
	x2.Resize(m)
	r.objects = append(r.objects, x2)
}

func (r *tableRenderer) draw() {
	t := r.t
	r.objects = nil
	if r.width <= 0 {
		return
	}
	p := t.measure(r.width)
	size, note := look.Size(look.RowSize), look.Size(look.NoteSize)
	rect := func(c color.Color, x, y, w, h float32) {
		o := canvas.NewRectangle(c)
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
		r.objects = append(r.objects, o)
	}
	if p.head > 0 {
		for k, i := range p.shown {
			r.text(t.Columns[i].Title, p.x[k], p.w[k], (p.head-2)/2, t.Columns[i].Right, note, look.Now.Quiet, fyne.TextStyle{})
		}
		rect(look.Now.Line, 0, p.head-1, r.width, 1)
	}
	for n, row := range t.Rows {
		y, end := p.tops[n], p.height
		if n+1 < len(p.tops) {
			end = p.tops[n+1]
		}
		if n == t.chosen {
			rect(look.Now.Raised, 0, y, r.width, end-y)
			rect(look.Now.Accent, 0, y, 3, end-y)
		}
		middle := y + (size+pad)/2
		for k, i := range p.shown {
			if i >= len(row.Cells) {
				continue
			}
			c := row.Cells[i]
			ink := c.Colour
			if c.Shape != look.NoShape {
				if ink.A == 0 {
					ink = look.Now.Colour(c.Shape)
				}
				s := canvas.NewImageFromResource(look.ShapeResource(c.Shape, ink))
				s.FillMode = canvas.ImageFillContain
				d := look.Size(signWidth)
				s.Move(fyne.NewPos(p.x[k], middle-d/2))
				s.Resize(fyne.NewSquareSize(d))
				r.objects = append(r.objects, s)
				continue
			}
			if ink.A == 0 {
				ink = look.Now.Text
			}
			r.text(c.Text, p.x[k], p.w[k], middle, t.Columns[i].Right, size, ink, fyne.TextStyle{Bold: c.Bold || row.Strong, Monospace: c.Mono})
		}
		for k, l := range p.under[n] {
			below, ink := size+pad, look.Now.Quiet
			if len(row.Cells) == 0 {
				below, ink = 1, look.Now.Text
			}
			r.text(l, t.underAt(p), r.width-t.underAt(p), y+below+float32(k)*lineHeight()+lineHeight()/2-1, false, note, ink, fyne.TextStyle{})
		}
	}
}
