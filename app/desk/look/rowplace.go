package look

import "fyne.io/fyne/v2"

const (
	rowPad    = 10  // above and below the text of a row, together
	mostTall  = 150 // rows whose heights differ; in a longer list all are alike
	mostLines = 2   // of a text that is read in full
)

// RowHeight is the height of a row of one line.
func RowHeight() float32 { return Size(RowSize) + rowPad }

// lineStep is how far a second line is below the first.
func lineStep() float32 { return Size(RowSize) + 5 }

// Slot is where the cell of a column stands in a row: from X on, W wide.
type Slot struct {
	X, W  float32
	Below bool // under the other cells
}

// BarRoom is left free at the right of what scrolls, for the bar.
const BarRoom float32 = 6

// Slots places the columns of rows in a width. The room of the scroll bar at the
// right is left free.
func Slots(columns []Column, width float32) []Slot {
	width -= BarRoom
	fixed, rest, full := float32(0), 0, -1
	for i, c := range columns {
		fixed += Size(c.Width)
		if c.Width == 0 {
			rest++
		}
		if c.Least > 0 {
			full = i
		}
	}
	free := max(width-fixed-Near*float32(len(columns)+1), 0)
	below := full >= 0 && free/float32(max(rest, 1)) < Size(columns[full].Least)
	if below {
		free += Near
		rest--
	}
	out := make([]Slot, len(columns))
	x := Near
	for i, c := range columns {
		if below && i == full {
			continue
		}
		w := Size(c.Width)
		if c.Width == 0 {
			w = free / float32(rest)
		}
		if below && rest == 0 && i == full-1 {
			w += free // its neighbour takes the room; what follows stays at the right edge
		}
		out[i] = Slot{X: x, W: w}
		x += w + Near
	}
	if below {
		at := Near
		if full > 0 {
			at = out[full-1].X // under the text it belongs to
		}
		out[full] = Slot{X: at, W: max(width-at-Near, 0), Below: true}
	}
	return out
}

// usual is the height of most rows.
func (r *Rows) usual() float32 {
	for i, s := range Slots(r.Columns, r.Size().Width) {
		if r.Columns[i].Least > 0 && s.Below && r.Size().Width > 0 {
			return RowHeight() + lineStep()
		}
	}
	return RowHeight()
}

// measure gives the rows whose text needs it their height. That is done for lists
// that a person looks through; in long ones the text is cut.
func (r *Rows) measure() {
	width := r.Size().Width
	full := -1
	for i, c := range r.Columns {
		if c.Least > 0 {
			full = i
		}
	}
	if full < 0 || width <= 0 {
		return
	}
	usual, at := r.usual(), Slots(r.Columns, width)[full]
	want := map[int]float32{}
	if n := r.Length(); n <= mostTall {
		for i := range n {
			c := r.Row(i)
			if full >= len(c) {
				continue
			}
			style := fyne.TextStyle{Bold: c[full].Bold, Monospace: c[full].Mono}
			if lines := len(breakTo(mostLines, c[full].Text, at.W, Size(RowSize), style)); lines > 1 {
				want[i] = usual + lineStep()*float32(lines-1)
			}
		}
	}
	for i := range r.tall {
		if _, ok := want[i]; !ok {
			r.SetItemHeight(i, usual)
		}
	}
	for i, h := range want {
		r.SetItemHeight(i, h)
	}
	// A height once set stays set in the list: it has to follow the usual one.
	for i := range r.tall {
		if _, ok := want[i]; !ok {
			want[i] = usual
		}
	}
	r.tall = want
}

// Refresh draws the rows anew, each as high as its text needs.
func (r *Rows) Refresh() {
	r.measure()
	r.List.Refresh()
}

// Resize breaks the texts anew where the width is another one.
func (r *Rows) Resize(s fyne.Size) {
	was := r.Size().Width
	r.List.Resize(s)
	if s.Width != was {
		r.Refresh()
	}
}
