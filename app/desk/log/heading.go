package log

import (
	"fyne.io/fyne/v2"

	"whistlecut/app/desk/look"
)

// heading sets texts side by side on one line from the left, and chips, or
// without any the last text, at the right edge.
type heading struct{}

func (heading) split(objects []fyne.CanvasObject) int {
	for i, o := range objects {
		if _, ok := o.(*look.Chip); ok {
			return i
		}
	}
	return max(len(objects)-1, 0)
}

func (h heading) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	n := h.split(objects)
	right := size.Width
	for i := len(objects) - 1; i >= n; i-- {
		if !objects[i].Visible() {
			continue
		}
		m := objects[i].MinSize()
		right -= m.Width
		objects[i].Move(fyne.NewPos(right, (size.Height-m.Height)/2))
		objects[i].Resize(m)
		right -= look.Tight
	}
	x := float32(0)
	for _, o := range objects[:n] {
		m := o.MinSize()
		o.Move(fyne.NewPos(x, (size.Height-m.Height)/2))
		o.Resize(m)
		x += m.Width + look.Near
	}
}

func (h heading) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for _, o := range objects {
		m := o.MinSize()
		s.Width += m.Width + look.Tight
		s.Height = max(s.Height, m.Height)
	}
	s.Width = min(s.Width, look.Size(300))
	return s
}

// even gives every object the same width, to the pixel of the whole width.
type even struct{}

const evenGap = 3

func (even) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	n := float32(len(objects))
	w := (size.Width - evenGap*(n-1)) / n
	for i, o := range objects {
		o.Move(fyne.NewPos(float32(i)*(w+evenGap), 0))
		o.Resize(fyne.NewSize(w, size.Height))
	}
}

func (even) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for _, o := range objects {
		s = s.Max(o.MinSize())
	}
	if len(objects) < 3 {
		return fyne.NewSize(look.Size(200), s.Height)
	}
	n := float32(len(objects))
	return fyne.NewSize(n*s.Width+evenGap*(n-1), s.Height)
}
