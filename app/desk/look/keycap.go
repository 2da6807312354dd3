package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Keycap is one key of a legend: the letter on it and what it does. It can be
// clicked like the key, and lights while its action is the last one done.
type Keycap struct {
	widget.BaseWidget
	Letter, Does string
	Colour       color.NRGBA
	Lit          bool
	Tap          func()
}

// NewKeycap makes a key in a side's colour.
func NewKeycap(letter, does string, colour color.NRGBA, tap func()) *Keycap {
	k := &Keycap{Letter: letter, Does: does, Colour: colour, Tap: tap}
	k.ExtendBaseWidget(k)
	return k
}

// Tapped is a click.
func (k *Keycap) Tapped(*fyne.PointEvent) {
	if k.Tap != nil {
		k.Tap()
	}
}

// Light sets whether the key is lit.
func (k *Keycap) Light(on bool) {
	if k.Lit != on {
		k.Lit = on
		k.Refresh()
	}
}

// MinSize is small enough for ten in a row of the narrowest panel.
func (k *Keycap) MinSize() fyne.Size { return fyne.NewSize(Size(28), Size(36)) }

// CreateRenderer draws box, letter and word.
func (k *Keycap) CreateRenderer() fyne.WidgetRenderer {
	r := &keycapRenderer{k: k, box: canvas.NewRectangle(Now.Raised), letter: canvas.NewText("", Now.Text), does: canvas.NewText("", Now.Quiet)}
	r.box.CornerRadius, r.box.StrokeWidth = 4, 1.2
	r.letter.TextStyle.Bold = true
	r.Refresh()
	return r
}

type keycapRenderer struct {
	k            *Keycap
	box          *canvas.Rectangle
	letter, does *canvas.Text
	size         fyne.Size
}

func (r *keycapRenderer) MinSize() fyne.Size { return r.k.MinSize() }
func (r *keycapRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.box, r.letter, r.does}
}
func (r *keycapRenderer) Destroy() {}

func (r *keycapRenderer) Layout(size fyne.Size) {
	r.size = size
	r.box.Resize(size)
	place := func(t *canvas.Text, full string, size0 float32, y float32) {
		t.TextSize = Size(size0)
		t.Text = Fit(full, size.Width-2, t.TextSize, t.TextStyle)
		m := t.MinSize()
		t.Move(fyne.NewPos((size.Width-m.Width)/2, y))
		t.Resize(m)
	}
	place(r.letter, r.k.Letter, RowSize, size.Height*0.06)
	place(r.does, r.k.Does, 9, size.Height*0.56)
}

func (r *keycapRenderer) Refresh() {
	r.box.StrokeColor, r.box.FillColor = r.k.Colour, Now.Raised
	r.letter.Color, r.does.Color = Now.Text, Now.Quiet
	if r.k.Lit {
		r.box.FillColor = r.k.Colour
		r.letter.Color, r.does.Color = Now.Ground, Now.Ground
	}
	r.Layout(r.size)
	canvas.Refresh(r.k)
}
