package log

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
)

// askBar is one line of its own height, so that nothing jumps: what is asked for,
// what was typed, and the keys that go on from there.
type askBar struct {
	widget.BaseWidget
	what, value, hint string
	edge              color.Color
}

func newAskBar() *askBar {
	a := &askBar{edge: color.Transparent}
	a.ExtendBaseWidget(a)
	return a
}

func (a *askBar) set(what, value, hint string, edge color.Color) {
	if a.what != what || a.value != value || a.hint != hint || a.edge != edge {
		a.what, a.value, a.hint, a.edge = what, value, hint, edge
		a.Refresh()
	}
}

// MinSize is one line.
func (a *askBar) MinSize() fyne.Size {
	a.ExtendBaseWidget(a)
	return fyne.NewSize(look.Size(120), look.Size(look.TextSize)+14)
}

// CreateRenderer draws box, edge and three texts.
func (a *askBar) CreateRenderer() fyne.WidgetRenderer {
	r := &askRenderer{
		a: a, box: canvas.NewRectangle(look.Now.Raised), edge: canvas.NewRectangle(color.Transparent),
		what: look.Line("", look.Now.Text, look.RowSize), value: look.Line("", look.Now.Text, look.RowSize), hint: look.Line("", look.Now.Quiet, look.NoteSize),
	}
	r.value.TextStyle.Bold = true
	r.box.CornerRadius = 3
	return r
}

type askRenderer struct {
	a                 *askBar
	box, edge         *canvas.Rectangle
	what, value, hint *canvas.Text
	size              fyne.Size
}

func (r *askRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.box, r.edge, r.what, r.value, r.hint}
}
func (r *askRenderer) MinSize() fyne.Size { return r.a.MinSize() }
func (r *askRenderer) Destroy()           {}

func (r *askRenderer) Layout(size fyne.Size) {
	r.size = size
	r.box.Resize(size)
	r.edge.Resize(fyne.NewSize(3, size.Height))
	x := look.Near
	put := func(t *canvas.Text, s string, room float32) {
		t.Text = look.Fit(s, room, t.TextSize, t.TextStyle)
		m := t.MinSize()
		t.Move(fyne.NewPos(x, (size.Height-m.Height)/2))
		t.Resize(m)
		x += m.Width + look.Near
	}
	put(r.what, r.a.what, size.Width*0.5)
	put(r.value, r.a.value, max(size.Width-x-look.Near, 0))
	if r.a.what == "" && r.a.value == "" {
		x = look.Near
		put(r.hint, r.a.hint, size.Width-2*look.Near)
		return
	}
	room := max(size.Width-x-look.Near, 0)
	r.hint.Text = look.Fit(r.a.hint, room, r.hint.TextSize, r.hint.TextStyle)
	m := r.hint.MinSize()
	r.hint.Move(fyne.NewPos(size.Width-m.Width-look.Near, (size.Height-m.Height)/2))
	r.hint.Resize(m)
}

func (r *askRenderer) Refresh() {
	r.edge.FillColor = r.a.edge
	r.Layout(r.size)
	canvas.Refresh(r.a)
}
