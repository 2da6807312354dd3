package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Chip is a small choice: a word, the key that does the same, and whether it is
// on. It never takes the focus, so that the desk's keys go on working.
type Chip struct {
	widget.BaseWidget
	Text, Hint string
	On         bool
	Shape      Shape       // before the text
	Colour     color.NRGBA // of the shape; zero is its own
	Tap        func()
	Large      bool // as large as a button
	hovered    bool
}

// NewChip makes a chip; hint is the key that does the same ("" for none).
func NewChip(text, hint string, tap func()) *Chip {
	c := &Chip{Text: text, Hint: hint, Tap: tap}
	c.ExtendBaseWidget(c)
	return c
}

// NewLargeChip makes a chip as large as a button, for what can be done below a panel.
func NewLargeChip(text, hint string, tap func()) *Chip {
	c := NewChip(text, hint, tap)
	c.Large = true
	return c
}

func (c *Chip) size() (text, side, top float32) {
	if c.Large {
		return Size(RowSize), Near - 2, 16
	}
	return Size(NoteSize), Near, 11
}

// Set changes text and state.
func (c *Chip) Set(text string, on bool) {
	if c.Text != text || c.On != on {
		c.Text, c.On = text, on
		c.Refresh()
	}
}

// Tapped is a click.
func (c *Chip) Tapped(*fyne.PointEvent) {
	if c.Tap != nil {
		c.Tap()
	}
}

// MouseIn lights the edge.
func (c *Chip) MouseIn(*desktop.MouseEvent) { c.hover(true) }

// MouseMoved does nothing.
func (c *Chip) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends MouseIn.
func (c *Chip) MouseOut() { c.hover(false) }

func (c *Chip) hover(on bool) {
	c.hovered = on
	c.Refresh()
}

// CreateRenderer draws edge, shape, text and key.
func (c *Chip) CreateRenderer() fyne.WidgetRenderer {
	r := &chipRenderer{c: c, box: canvas.NewRectangle(Now.Raised), shape: canvas.NewImageFromResource(nil), text: canvas.NewText("", Now.Text), hint: canvas.NewText("", Now.Quiet)}
	r.box.CornerRadius, r.box.StrokeWidth = 4, 1
	r.shape.FillMode = canvas.ImageFillContain
	r.hint.TextStyle.Monospace = true
	r.Refresh()
	return r
}

type chipRenderer struct {
	c          *Chip
	box        *canvas.Rectangle
	shape      *canvas.Image
	text, hint *canvas.Text
	size       fyne.Size
}

func (r *chipRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.box, r.shape, r.text, r.hint}
}
func (r *chipRenderer) Destroy() {}

func (r *chipRenderer) MinSize() fyne.Size {
	size, side, top := r.c.size()
	w := fyne.MeasureText(r.c.Text, size, fyne.TextStyle{}).Width + 2*side
	if r.c.Shape != NoShape {
		w += Size(10)
		if r.c.Text != "" {
			w += Tight
		}
	}
	if r.c.Hint != "" {
		w += Tight + 1 + fyne.MeasureText(r.c.Hint, size, fyne.TextStyle{Monospace: true}).Width
	}
	return fyne.NewSize(w, size+top)
}

func (r *chipRenderer) Layout(size fyne.Size) {
	r.size = size
	r.box.Resize(size)
	_, side, _ := r.c.size()
	x := side
	if r.c.Shape != NoShape {
		d := Size(10)
		r.shape.Move(fyne.NewPos(x, (size.Height-d)/2))
		r.shape.Resize(fyne.NewSquareSize(d))
		x += d + Tight
	}
	hint := fyne.MeasureText(r.hint.Text, r.hint.TextSize, r.hint.TextStyle)
	room := size.Width - x - side
	if r.c.Hint != "" {
		room -= hint.Width + Tight
		r.hint.Move(fyne.NewPos(size.Width-side-hint.Width, (size.Height-hint.Height)/2))
		r.hint.Resize(hint)
	}
	r.text.Text = Fit(r.c.Text, room+1, r.text.TextSize, r.text.TextStyle)
	m := r.text.MinSize()
	r.text.Move(fyne.NewPos(x, (size.Height-m.Height)/2))
	r.text.Resize(m)
}

func (r *chipRenderer) Refresh() {
	r.box.FillColor, r.box.StrokeColor = Now.Raised, Now.Line
	if r.c.hovered {
		r.box.StrokeColor = Now.Quiet
	}
	if r.c.On {
		r.box.StrokeColor = Now.Accent
	}
	large, _, _ := r.c.size()
	r.text.Color, r.text.TextSize = Now.Text, large
	r.hint.Color, r.hint.TextSize, r.hint.Text = Now.Quiet, large, r.c.Hint
	r.shape.Hidden = r.c.Shape == NoShape
	if r.c.Shape != NoShape {
		col := r.c.Colour
		if col.A == 0 {
			col = Now.Colour(r.c.Shape)
		}
		r.shape.Resource = ShapeResource(r.c.Shape, col)
		r.shape.Refresh()
	}
	r.Layout(r.size)
	canvas.Refresh(r.c)
}
