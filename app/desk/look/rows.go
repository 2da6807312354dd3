package look

import (
	"image/color"

	"fyne.io/fyne/v2"
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

// Column is how the cells below each other stand. Columns without a width share
// what is left; what is too long is cut with an ellipsis.
type Column struct {
	Width float32 // before text scale; 0 takes the rest
	Right bool    // aligned at the right
	// Least, of one column at most, says that its text is read in full: it goes on in
	// a second line, and where less than this width is left to it (before text
	// scale) it stands below the others.
	Least float32
}

// Rows is a list of rows in columns, drawn only as far as it shows. The chosen row
// is marked by the accent at its left. Keys are the desk's: the list never keeps
// the keyboard focus to itself.
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
	tall   map[int]float32 // heights of rows that are not the usual one
}

// NewRows makes a list of n() rows.
func NewRows(columns []Column, n func() int, row func(i int) []Cell) *Rows {
	r := &Rows{Columns: columns, Row: row, chosen: -1}
	r.Length = n
	r.CreateItem = func() fyne.CanvasObject { return newRowItem(r) }
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

// Disabled keeps the Tab key from stopping at the list, which would give the focus
// away again: what comes after it would never be reached. Rows can be clicked.
func (r *Rows) Disabled() bool { return true }

// Enable and Disable belong to it and do nothing.
func (r *Rows) Enable() {}

// Disable does nothing.
func (r *Rows) Disable() {}

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

// Steer moves by the keys of a list, page rows at a time by PageUp and PageDown; it
// reports whether the key was one. For windows that keep the keyboard elsewhere.
func (r *Rows) Steer(k fyne.KeyName, page int) bool {
	switch k {
	case fyne.KeyUp:
		r.Advance(-1)
	case fyne.KeyDown:
		r.Advance(1)
	case fyne.KeyPageUp:
		r.Advance(-page)
	case fyne.KeyPageDown:
		r.Advance(page)
	default:
		return false
	}
	return true
}
