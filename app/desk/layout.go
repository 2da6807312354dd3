package desk

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
)

// frame lays out bar, middle, line and strip from top to bottom. On a low window
// the strip gives way first.
type frame struct{ d *Desk }

func (frame) heights(size fyne.Size) (bar, line, strip float32) {
	bar, line = look.Size(40), look.Size(26)
	strip = max(min(look.Size(158), size.Height*0.24), 96)
	return bar, line, strip
}

func (f *frame) Layout(o []fyne.CanvasObject, size fyne.Size) {
	bar, line, strip := f.heights(size)
	mid := max(size.Height-bar-strip, 0)
	put := func(i int, x, y, w, h float32) {
		o[i].Move(fyne.NewPos(x, y))
		o[i].Resize(fyne.NewSize(w, h))
	}
	put(0, 0, 0, size.Width, bar)
	panel := f.d.panelWidth(size.Width)
	put(1, 0, bar, size.Width, mid)
	// The line lies under the screen, beside the panel.
	put(2, look.Apart, bar+mid-line-2, max(size.Width-panel-2*look.Apart-look.Near, 0), line)
	put(3, 0, bar+mid, size.Width, strip)
}

func (frame) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(640, 400) }

// panelWidth is how wide the task's panel is: a third, within what its rows need;
// half for tables.
func (d *Desk) panelWidth(window float32) float32 {
	if d.wide() {
		return min(max(window*0.5, look.Size(540)), max(look.Size(760), window*0.4), window*0.62)
	}
	return min(max(window*0.325, look.Size(372)), max(look.Size(520), window*0.3))
}

// middle is the screen (or two side by side) and the panel.
type middle struct {
	d     *Desk
	host  *fyne.Container // the shown task's panel
	films *fyne.Container
	box   *fyne.Container
}

func newMiddle(d *Desk) *middle {
	m := &middle{d: d, host: container.NewStack(), films: container.NewStack()}
	m.box = container.New(&middleLayout{d}, m.films, look.Panel(m.host))
	return m
}

// screens is one screen, or two in step beside each other.
func (m *middle) screens() fyne.CanvasObject {
	black := canvas.NewRectangle(look.Now.Ground)
	m.films.Objects = []fyne.CanvasObject{black, m.d.covered()}
	if m.d.other != "" {
		m.films.Objects = []fyne.CanvasObject{black, container.NewGridWithColumns(2, m.d.covered(), m.d.screen2)}
	}
	m.films.Refresh()
	return m.films
}

func (m *middle) view() fyne.CanvasObject {
	m.screens()
	return m.box
}

// show puts a panel beside the screen.
func (m *middle) show(panel fyne.CanvasObject) {
	m.host.Objects = []fyne.CanvasObject{panel}
	m.host.Refresh()
}

type middleLayout struct{ d *Desk }

func (m middleLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	panel := m.d.panelWidth(size.Width)
	line := look.Size(26)
	h := max(size.Height-look.Near, 0)
	o[0].Move(fyne.NewPos(look.Apart, look.Near))
	o[0].Resize(fyne.NewSize(max(size.Width-panel-2*look.Apart-look.Near, 0), max(h-line-look.Near, 0)))
	o[1].Move(fyne.NewPos(size.Width-panel-look.Apart, look.Near))
	o[1].Resize(fyne.NewSize(panel, h-look.Tight))
}

func (middleLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(640, 240) }
