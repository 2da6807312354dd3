package look

import "fyne.io/fyne/v2"

// Pile lays things out one below the other at the full width, each as high as
// what it holds needs at that width; one of them takes the height that is left.
type Pile struct {
	Fill  fyne.CanvasObject // takes the rest; nil for none
	Least float32           // height that it has at least
	Gap   float32
}

// Layout first gives each its width, since texts wrap by it.
func (p Pile) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	left, n := size.Height, 0
	heights := make([]float32, len(objects))
	for i, o := range objects {
		if !o.Visible() {
			continue
		}
		n++
		if o == p.Fill {
			continue
		}
		o.Resize(fyne.NewSize(size.Width, o.Size().Height))
		heights[i] = o.MinSize().Height
		left -= heights[i]
	}
	left -= p.Gap * float32(max(n-1, 0))
	y := float32(0)
	for i, o := range objects {
		if !o.Visible() {
			continue
		}
		h := heights[i]
		if o == p.Fill {
			h = max(left, p.Least)
		}
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		y += h + p.Gap
	}
}

// MinSize is right once the width is known.
func (p Pile) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	n := 0
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		n++
		m := o.MinSize()
		if o == p.Fill {
			m.Height = p.Least
		}
		s.Width, s.Height = max(s.Width, m.Width), s.Height+m.Height
	}
	s.Height += p.Gap * float32(max(n-1, 0))
	return s
}

// Flow sets things side by side and goes on in the next line where the width is
// used up. With Ends the last one of a single line stands at the right edge.
type Flow struct {
	Gap   float32
	Ends  bool
	width float32
}

func (f *Flow) place(objects []fyne.CanvasObject, width float32, put func(o fyne.CanvasObject, x, y float32, m fyne.Size)) float32 {
	x, y, high, lines := float32(0), float32(0), float32(0), 1
	var last fyne.CanvasObject
	var lastX, lastY float32
	var lastSize fyne.Size
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		m.Width = min(m.Width, width)
		if x > 0 && x+m.Width > width+0.5 {
			x, y, high = 0, y+high+f.Gap, 0
			lines++
		}
		put(o, x, y, m)
		last, lastX, lastY, lastSize = o, x, y, m
		x += m.Width + f.Gap
		high = max(high, m.Height)
	}
	if f.Ends && last != nil && lines == 1 && lastX > 0 {
		put(last, width-lastSize.Width, lastY, lastSize)
	}
	return y + high
}

// Layout places the objects for the width given.
func (f *Flow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	f.width = size.Width
	f.place(objects, size.Width, func(o fyne.CanvasObject, x, y float32, m fyne.Size) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(m)
	})
}

// MinSize is the height at the last width; before there was one, that of one line.
func (f *Flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	w := f.width
	if w == 0 {
		w = 1e6
	}
	return fyne.NewSize(40, f.place(objects, w, func(fyne.CanvasObject, float32, float32, fyne.Size) {}))
}
