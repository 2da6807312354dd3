package align

import (
	"image/color"
	"strconv"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/timeline"
)

// typeGrid is a page of score rows to type into. Typing fills the cell; Tab, Enter
// and the arrows move. In the columns of marks any letter sets and clears one.
type typeGrid struct {
	widget.BaseWidget
	rows     []typedRow
	side     timeline.Side
	row, col int
	top      int  // first row shown
	fresh    bool // the next letter begins the cell anew
	focused  bool
	shift    bool
	heads    [typedColumns]string
	key      func(fyne.KeyName) bool // keys the grid has no use for
	pan      func(fyne.KeyName)      // Alt with an arrow
	want     func()                  // asks for the keyboard
}

func newTypeGrid(heads [typedColumns]string) *typeGrid {
	g := &typeGrid{heads: heads, fresh: true}
	g.ExtendBaseWidget(g)
	return g
}

// set shows a page.
func (g *typeGrid) set(rows []typedRow, side timeline.Side) {
	g.rows, g.side = rows, side
	if len(g.rows) == 0 {
		g.rows = []typedRow{{colJam: "1"}}
	}
	g.row, g.col, g.top, g.fresh = 0, colJammer, 0, true
	g.Refresh()
}

// go moves to a cell; below the last row a new one begins.
func (g *typeGrid) move(row, col int) {
	if row >= len(g.rows) {
		if row > len(g.rows) || g.rows[len(g.rows)-1].empty() {
			row = len(g.rows) - 1
		} else {
			g.rows = append(g.rows, typedRow{colJam: g.next()})
		}
	}
	g.row, g.col, g.fresh = max(row, 0), min(max(col, 0), typedColumns-1), true
	if g.row < g.top {
		g.top = g.row
	}
	if n := g.visible(); g.row >= g.top+n {
		g.top = g.row - n + 1
	}
	g.Refresh()
}

// next is the number of the jam after the last.
func (g *typeGrid) next() string {
	for i := len(g.rows) - 1; i >= 0; i-- {
		if n, err := strconv.Atoi(g.rows[i][colJam]); err == nil {
			return strconv.Itoa(n + 1)
		}
	}
	return "1"
}

func (g *typeGrid) visible() int {
	return max(int((g.Size().Height-g.headHeight())/g.rowHeight()), 1)
}

func (g *typeGrid) rowHeight() float32  { return look.Size(22) }
func (g *typeGrid) headHeight() float32 { return look.Size(18) }

// insert puts an empty row before the one the cursor is in.
func (g *typeGrid) insert() {
	g.rows = append(g.rows[:g.row], append([]typedRow{{}}, g.rows[g.row:]...)...)
	g.move(g.row, colJam)
}

// drop takes out the row the cursor is in.
func (g *typeGrid) drop() {
	g.rows = append(g.rows[:g.row], g.rows[g.row+1:]...)
	if len(g.rows) == 0 {
		g.rows = []typedRow{{colJam: "1"}}
	}
	g.move(min(g.row, len(g.rows)-1), g.col)
}

func isMark(col int) bool { return col >= colLost && col <= colNI }

// TypedRune fills the cell.
func (g *typeGrid) TypedRune(r rune) {
	cell := &g.rows[g.row][g.col]
	switch {
	case isMark(g.col):
		switch {
		case r == '?':
			*cell = "?"
		case *cell == "":
			*cell = "x"
		default:
			*cell = ""
		}
	case unicode.IsPrint(r) && len([]rune(*cell)) < 12:
		if g.fresh {
			*cell = ""
		}
		*cell += strings.ToUpper(string(r))
		g.fresh = false
	}
	g.Refresh()
}

// TypedKey moves and clears.
func (g *typeGrid) TypedKey(e *fyne.KeyEvent) {
	last := typedColumns - 1
	switch e.Name {
	case fyne.KeyTab:
		if g.shift {
			g.step(-1)
		} else {
			g.step(1)
		}
	case fyne.KeyRight:
		g.step(1)
	case fyne.KeyLeft:
		g.step(-1)
	case fyne.KeyUp:
		g.move(g.row-1, g.col)
	case fyne.KeyDown:
		g.move(g.row+1, g.col)
	case fyne.KeyReturn, fyne.KeyEnter:
		g.move(g.row+1, colJammer)
	case fyne.KeyHome:
		g.move(g.row, 0)
	case fyne.KeyEnd:
		g.move(g.row, last)
	case fyne.KeyDelete:
		g.rows[g.row][g.col] = ""
		g.Refresh()
	case fyne.KeyBackspace:
		if t := []rune(g.rows[g.row][g.col]); len(t) > 0 {
			g.rows[g.row][g.col] = string(t[:len(t)-1])
			g.fresh = false
		}
		g.Refresh()
	default:
		if g.key != nil {
			g.key(e.Name)
		}
	}
}

// step goes to the next cell, over the row's end into the next row.
func (g *typeGrid) step(by int) {
	switch c := g.col + by; {
	case c < 0 && g.row > 0:
		g.move(g.row-1, typedColumns-1)
	case c >= typedColumns:
		g.move(g.row+1, colJammer)
	default:
		g.move(g.row, c)
	}
}

// KeyDown and KeyUp watch Shift, for Shift+Tab.
func (g *typeGrid) KeyDown(e *fyne.KeyEvent) { g.shifted(e, true) }

// KeyUp is the end of KeyDown.
func (g *typeGrid) KeyUp(e *fyne.KeyEvent) { g.shifted(e, false) }

func (g *typeGrid) shifted(e *fyne.KeyEvent, on bool) {
	if e.Name == desktop.KeyShiftLeft || e.Name == desktop.KeyShiftRight {
		g.shift = on
	}
}

// TypedShortcut moves the photo by Alt and an arrow.
func (g *typeGrid) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*desktop.CustomShortcut); ok && c.Modifier == fyne.KeyModifierAlt && g.pan != nil {
		g.pan(c.KeyName)
	}
}

// AcceptsTab keeps Tab in the grid.
func (g *typeGrid) AcceptsTab() bool { return true }

// FocusGained shows the cursor.
func (g *typeGrid) FocusGained() { g.focused = true; g.Refresh() }

// FocusLost hides it.
func (g *typeGrid) FocusLost() { g.focused, g.shift = false, false; g.Refresh() }

// Tapped goes to the cell that was clicked.
func (g *typeGrid) Tapped(e *fyne.PointEvent) {
	row := g.top + int((e.Position.Y-g.headHeight())/g.rowHeight())
	x, unit := float32(0), g.unit()
	for i := range typedColumns {
		x += weight(i) * unit
		if e.Position.X < x {
			g.move(min(row, len(g.rows)-1), i)
			break
		}
	}
	if g.want != nil {
		g.want()
	}
}

// Scrolled moves through the rows by the wheel.
func (g *typeGrid) Scrolled(e *fyne.ScrollEvent) {
	by := 1
	if e.Scrolled.DY > 0 {
		by = -1
	}
	g.top = min(max(g.top+by, 0), max(len(g.rows)-1, 0))
	g.Refresh()
}

// weight is a column's share of the width.
func weight(col int) float32 {
	switch {
	case col == colJamTotal, col == colGameTotal:
		return 2
	case col == colJammer:
		return 1.5
	case col == colJam:
		return 1.2
	}
	return 1
}

func (g *typeGrid) unit() float32 {
	sum := float32(0)
	for i := range typedColumns {
		sum += weight(i)
	}
	return g.Size().Width / sum
}

// MinSize has room for some rows.
func (g *typeGrid) MinSize() fyne.Size { return fyne.NewSize(look.Size(420), look.Size(160)) }

// CreateRenderer draws the rows that show.
func (g *typeGrid) CreateRenderer() fyne.WidgetRenderer { return &typeGridRenderer{g: g} }

type typeGridRenderer struct {
	g       *typeGrid
	objects []fyne.CanvasObject
}

func (r *typeGridRenderer) MinSize() fyne.Size           { return r.g.MinSize() }
func (r *typeGridRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *typeGridRenderer) Destroy()                     {}
func (r *typeGridRenderer) Layout(fyne.Size)             { r.draw() }
func (r *typeGridRenderer) Refresh()                     { r.draw(); canvas.Refresh(r.g) }

func (r *typeGridRenderer) box(x, y, w, h float32, fill, stroke color.Color) {
	b := canvas.NewRectangle(fill)
	b.StrokeColor = stroke
	if stroke != nil {
		b.StrokeWidth = 1.5
	} else {
		b.StrokeColor = color.Transparent
	}
	b.Move(fyne.NewPos(x, y))
	b.Resize(fyne.NewSize(w, h))
	r.objects = append(r.objects, b)
}

func (r *typeGridRenderer) text(s string, c color.Color, size, x, y, w, h float32, mono bool) {
	if s == "" {
		return
	}
	style := fyne.TextStyle{Monospace: mono}
	t := canvas.NewText(look.Fit(s, w, size, style), c)
	t.TextSize, t.TextStyle = size, style
	m := t.MinSize()
	t.Move(fyne.NewPos(x+(w-m.Width)/2, y+(h-m.Height)/2))
	t.Resize(m)
	r.objects = append(r.objects, t)
}

func (r *typeGridRenderer) draw() {
	g := r.g
	r.objects = r.objects[:0]
	unit, head, h := g.unit(), g.headHeight(), g.rowHeight()
	x := float32(0)
	for i, name := range g.heads {
		r.text(name, look.Now.Quiet, look.Size(10), x, 0, weight(i)*unit, head, false)
		x += weight(i) * unit
	}
	width := x
	for i := g.top; i < len(g.rows) && i < g.top+g.visible(); i++ {
		y := head + float32(i-g.top)*h
		r.box(0, y, width, h-2, look.Now.Raised, nil)
		r.box(0, y, 3, h-2, look.Now.Of(g.side), nil)
		x = 0
		for c := range typedColumns {
			w := weight(c) * unit
			if c > 0 {
				r.box(x, y, 1, h-2, look.Now.Line, nil)
			}
			if i == g.row && c == g.col && g.focused {
				r.box(x+1, y, w-1, h-2, look.Now.Ground, look.Now.Accent)
			}
			colour := look.Now.Text
			if strings.HasPrefix(g.rows[i][c], "?") {
				colour = look.Now.Unsure
			}
			if c == colJam {
				colour = look.Now.Quiet
			}
			r.text(g.rows[i][c], colour, look.Size(look.RowSize), x, y, w, h-2, true)
			x += w
		}
	}
}
