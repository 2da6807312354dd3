package reel

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
)

// meter shows how much of the length wanted is used; what is too much is drawn in
// another colour and beyond a mark.
type meter struct {
	widget.BaseWidget
	part, over float32 // of the width: up to the length wanted, and beyond it
}

func newMeter() *meter {
	m := &meter{}
	m.ExtendBaseWidget(m)
	return m
}

func (m *meter) set(whole, target time.Duration) {
	m.part, m.over = 0, 0
	switch {
	case target <= 0:
	case whole <= target:
		m.part = float32(whole.Seconds() / target.Seconds())
	default:
		m.part = float32(target.Seconds() / whole.Seconds())
		m.over = 1 - m.part
	}
	m.Refresh()
}

// MinSize is a thin bar.
func (m *meter) MinSize() fyne.Size { return fyne.NewSize(40, 6) }

// CreateRenderer draws ground, use and what is too much.
func (m *meter) CreateRenderer() fyne.WidgetRenderer {
	r := &meterRenderer{m: m, ground: canvas.NewRectangle(look.Now.Raised), part: canvas.NewRectangle(look.Now.Quiet), over: canvas.NewRectangle(look.Now.Unsure)}
	r.Refresh()
	return r
}

type meterRenderer struct {
	m                  *meter
	ground, part, over *canvas.Rectangle
}

func (r *meterRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.part, r.over}
}
func (r *meterRenderer) MinSize() fyne.Size { return r.m.MinSize() }
func (r *meterRenderer) Destroy()           {}

func (r *meterRenderer) Layout(size fyne.Size) {
	r.ground.Resize(size)
	w := size.Width * r.m.part
	r.part.Resize(fyne.NewSize(w, size.Height))
	r.over.Move(fyne.NewPos(w+1, 0))
	r.over.Resize(fyne.NewSize(max(size.Width*r.m.over-1, 0), size.Height))
}

func (r *meterRenderer) Refresh() {
	r.Layout(r.m.Size())
	canvas.Refresh(r.m)
}
