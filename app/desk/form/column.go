package form

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
)

// column lays things out under each other at their own height, one of
// them (rest) taking what is left. Wrapped text and rows of buttons are as high
// as the width makes them.
type column struct {
	rest  fyne.CanvasObject
	whole bool // nothing gives way: the rest shrinks
}

// Column puts objects under each other, each as high as its text wraps to at the
// width there is; rest, one of them or nil, takes the height that is left.
func Column(rest fyne.CanvasObject, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&column{rest: rest}, objects...)
}

func (c *column) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		s := o.MinSize()
		m.Width = max(m.Width, s.Width)
		m.Height += look.Tight
		if o != c.rest {
			m.Height += s.Height
		}
	}
	return m
}

func (c *column) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	heights, sum := make([]float32, len(objects)), float32(0)
	for i, o := range objects {
		if !o.Visible() {
			continue
		}
		if o == c.rest {
			sum += look.Tight
			continue
		}
		o.Resize(fyne.NewSize(size.Width, o.MinSize().Height)) // the width first: text wraps to it
		heights[i] = o.MinSize().Height
		sum += heights[i] + look.Tight
	}
	// A list needs a few lines: in a low window what stands last (buttons, whose keys
	// go on working) gives way to it.
	last := len(objects)
	for i := len(objects) - 1; c.rest != nil && !c.whole && i > 0 && objects[i] != c.rest && size.Height-sum < look.Size(72); i-- {
		if objects[i].Visible() {
			sum -= heights[i] + look.Tight
			last = i
		}
	}
	y := float32(0)
	for i, o := range objects {
		if !o.Visible() {
			continue
		}
		if i >= last {
			o.Move(fyne.NewPos(0, outOfSight))
			continue
		}
		h := heights[i]
		if o == c.rest {
			h = max(size.Height-sum, 0)
		}
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		y += h + look.Tight
	}
}

// outOfSight is a place below any window.
const outOfSight = 1e5
