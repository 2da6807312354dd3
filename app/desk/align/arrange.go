package align

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
)

// flow lays things out in lines, as many to a line as fit.
type flow struct{ width float32 }

func newFlow(objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&flow{width: look.Size(370)}, objects...)
}

func (f *flow) each(objects []fyne.CanvasObject, put func(o fyne.CanvasObject, x, y float32, s fyne.Size)) float32 {
	x, y, line := float32(0), float32(0), float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		s := o.MinSize()
		s.Width = min(s.Width, f.width)
		if x > 0 && x+s.Width > f.width {
			x, y, line = 0, y+line+look.Tight, 0
		}
		put(o, x, y, s)
		x += s.Width + look.Tight
		line = max(line, s.Height)
	}
	return y + line
}

func (f *flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	h := f.each(objects, func(fyne.CanvasObject, float32, float32, fyne.Size) {})
	return fyne.NewSize(look.Size(120), h)
}

func (f *flow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	f.width = size.Width
	f.each(objects, func(o fyne.CanvasObject, x, y float32, s fyne.Size) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(s)
	})
}

// either shows one of two things: what a section is for while it is empty, or
// what it holds.
type either struct {
	box          *fyne.Container
	empty, whole fyne.CanvasObject
}

func newEither(empty, whole fyne.CanvasObject) *either {
	return &either{box: container.NewStack(empty, whole), empty: empty, whole: whole}
}

func (e *either) show(empty bool) {
	if empty {
		e.empty.Show()
		e.whole.Hide()
	} else {
		e.empty.Hide()
		e.whole.Show()
	}
}

// relay lays the section out anew, after a text in it got longer or shorter.
func (e *either) relay() {
	if c, ok := e.whole.(*fyne.Container); ok && e.whole.Visible() {
		c.Layout.Layout(c.Objects, c.Size())
	}
}

// note is a quiet line that wraps and can change.
func note() *widget.Label { return look.Note("") }

// wideCap gives a key room for a time beside its name.
func wideCap(o fyne.CanvasObject) fyne.CanvasObject { return container.New(atLeast(72), o) }

// atLeast is a layout of a least width, before text scale.
type atLeast float32

func (a atLeast) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := fyne.NewSize(look.Size(float32(a)), 0)
	for _, o := range objects {
		m = m.Max(o.MinSize())
	}
	return m
}

func (a atLeast) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
	}
}
