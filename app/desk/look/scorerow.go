package look

import (
	"fmt"
	"image/color"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"whistlecut/timeline"
)

// ScoreRows shows lines of the score sheet under one heading, in the trade's
// columns: jam, jammer, lost, lead, call, inj, NI, the trips from 2, jam total,
// game total. What is not seen is a question mark or a range, never zero.
type ScoreRows struct {
	widget.BaseWidget
	lines []ScoreLine
	trips int
}

// ScoreLine is one line: a row, what stands in its first column, and the columns
// that are boxed because they differ.
type ScoreLine struct {
	Head string // "7", "sheet", "tags"
	Side timeline.Side
	Row  timeline.JamRow
	Box  map[string]bool // column names: "jammer", "lost", "lead", "call", "inj", "ni", "trip 2"..., "jam", "game"
}

// Headings are the column headings in the language shown; the desk sets them.
var Headings = struct{ Jam, Jammer, Lost, Lead, Call, Inj, NI, Game string }{
	"Jam", "Jammer", "Lost", "Lead", "Call", "Inj", "NI", "Game",
}

// NewScoreRows makes an empty sheet.
func NewScoreRows() *ScoreRows {
	s := &ScoreRows{}
	s.ExtendBaseWidget(s)
	return s
}

// Set shows lines, with columns for at least trips 2 to 4.
func (s *ScoreRows) Set(lines ...ScoreLine) {
	s.lines, s.trips = lines, 3
	for _, l := range lines {
		s.trips = min(max(s.trips, len(l.Row.Trips)), 9)
	}
	s.Refresh()
}

type scoreColumn struct {
	key, head string
	weight    float32
}

func (s *ScoreRows) columns() []scoreColumn {
	c := []scoreColumn{
		{"head", "", 1.15},
		{"jammer", Headings.Jammer, 1.5},
		{"lost", Headings.Lost, 1},
		{"lead", Headings.Lead, 1},
		{"call", Headings.Call, 1},
		{"inj", Headings.Inj, 0.8},
		{"ni", Headings.NI, 0.8},
	}
	for i := range s.trips {
		c = append(c, scoreColumn{"trip " + strconv.Itoa(i+2), strconv.Itoa(i + 2), 0.75})
	}
	return append(c, scoreColumn{"jam", Headings.Jam, 1.15}, scoreColumn{"game", Headings.Game, 1.35})
}

// cell is what a column of a row shows, and whether it is sure.
func cell(r timeline.JamRow, key string) (string, bool) {
	switch key {
	case "jammer":
		return text(r.Jammer.State, string(r.Jammer.Value), 0, 0)
	case "lost":
		return tick(r.Lost)
	case "lead":
		return tick(r.Lead)
	case "call":
		return tick(r.Call)
	case "inj":
		return tick(r.Inj)
	case "ni":
		return tick(r.NI)
	case "jam":
		return number(r.JamTotal)
	case "game":
		return number(r.GameTotal)
	}
	var n int
	if _, err := fmt.Sscanf(key, "trip %d", &n); err == nil && n >= 2 && n-2 < len(r.Trips) {
		if c := r.Trips[n-2]; c.State == timeline.CellRange && c.High-c.Low >= 4 {
			return "?", false // nobody saw it: the range says nothing more
		}
		return number(r.Trips[n-2])
	}
	return "", true
}

func tick(c timeline.Cell[bool]) (string, bool) {
	switch c.State {
	case timeline.CellKnown:
		if c.Value {
			return "●", true
		}
		return "", true
	case timeline.CellUnread, timeline.CellRange:
		return "?", false
	}
	return "", true
}

func number(c timeline.Cell[int]) (string, bool) {
	return text(c.State, strconv.Itoa(c.Value), c.Low, c.High)
}

func text(s timeline.CellState, v string, low, high int) (string, bool) {
	switch s {
	case timeline.CellKnown:
		return v, true
	case timeline.CellRange:
		return fmt.Sprintf("%d–%d", low, high), false
	case timeline.CellUnread:
		return "?", false
	}
	return "", true
}

// MinSize is that of the heading and its lines.
func (s *ScoreRows) MinSize() fyne.Size {
	s.ExtendBaseWidget(s)
	return fyne.NewSize(Size(300), Size(18)+float32(max(len(s.lines), 1))*(Size(26)+Tight))
}

// CreateRenderer draws the lines anew at each change: there are at most a few.
func (s *ScoreRows) CreateRenderer() fyne.WidgetRenderer {
	return &scoreRenderer{s: s}
}

type scoreRenderer struct {
	s       *ScoreRows
	objects []fyne.CanvasObject
	size    fyne.Size
}

func (r *scoreRenderer) MinSize() fyne.Size           { return r.s.MinSize() }
func (r *scoreRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *scoreRenderer) Destroy()                     {}

func (r *scoreRenderer) Refresh() {
	r.draw()
	canvas.Refresh(r.s)
}

func (r *scoreRenderer) Layout(size fyne.Size) {
	r.size = size
	r.draw()
}

func (r *scoreRenderer) draw() {
	r.objects = r.objects[:0]
	cols := r.s.columns()
	sum := float32(0)
	for _, c := range cols {
		sum += c.weight
	}
	unit := r.size.Width / sum
	// A long word at the left is read in full; the figures share what is left.
	head := cols[0].weight * unit
	for _, l := range r.s.lines {
		if _, err := strconv.Atoi(l.Head); err != nil {
			head = max(head, fyne.MeasureText(l.Head, Size(NoteSize), fyne.TextStyle{}).Width+10)
		}
	}
	unit = (r.size.Width - head) / (sum - cols[0].weight)
	width := func(c scoreColumn) float32 {
		if c.key == "head" {
			return head
		}
		return c.weight * unit
	}
	put := func(text string, colour color.Color, size float32, style fyne.TextStyle, x, y, w, h float32) {
		t := canvas.NewText(Fit(text, w, size, style), colour)
		t.TextSize, t.TextStyle = size, style
		m := t.MinSize()
		t.Move(fyne.NewPos(x+(w-m.Width)/2, y+(h-m.Height)/2))
		t.Resize(m)
		r.objects = append(r.objects, t)
	}
	x := float32(0)
	for _, c := range cols {
		put(c.head, Now.Quiet, Size(10), fyne.TextStyle{}, x, 0, width(c), Size(16))
		x += width(c)
	}
	y, h := Size(18), Size(26)
	for _, l := range r.s.lines {
		back := canvas.NewRectangle(Now.Raised)
		back.Move(fyne.NewPos(0, y))
		back.Resize(fyne.NewSize(r.size.Width, h))
		back.CornerRadius = 3
		edge := canvas.NewRectangle(Now.Of(l.Side))
		edge.Move(fyne.NewPos(0, y))
		edge.Resize(fyne.NewSize(3, h))
		r.objects = append(r.objects, back, edge)
		x = 0
		for _, c := range cols {
			w := width(c)
			text, sure := cell(l.Row, c.key)
			style, size, colour := fyne.TextStyle{Bold: true}, Size(RowSize), Now.Text
			if c.key == "head" {
				text = l.Head
				if _, err := strconv.Atoi(l.Head); err != nil {
					style, size, colour = fyne.TextStyle{}, Size(NoteSize), Now.Quiet
				}
			}
			if !sure {
				colour = Now.Unsure
			}
			if l.Box[c.key] {
				b := canvas.NewRectangle(color.Transparent)
				b.StrokeColor, b.StrokeWidth, b.CornerRadius = Now.Differs, 1.5, 3
				b.Move(fyne.NewPos(x+1, y+2))
				b.Resize(fyne.NewSize(w-2, h-4))
				r.objects = append(r.objects, b)
			}
			left := x
			if c.key == "head" {
				left += 3 // beside the side's bar
			}
			put(text, colour, size, style, left, y, w-(left-x), h)
			x += w
		}
		y += h + Tight
	}
}
