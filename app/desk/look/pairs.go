package look

import "fyne.io/fyne/v2"

// Pairs puts a name before each thing it names, all of these alike wide: objects
// are name, thing, name, thing. A pair whose thing is hidden takes no room.
type Pairs struct{}

func (Pairs) names(objects []fyne.CanvasObject) (wide float32) {
	for i := 0; i+1 < len(objects); i += 2 {
		if objects[i+1].Visible() {
			wide = max(wide, objects[i].MinSize().Width)
		}
	}
	return wide + Near
}

// Layout gives each thing its width first, since chips and texts wrap by it.
func (p Pairs) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	wide, y := p.names(objects), float32(0)
	for i := 0; i+1 < len(objects); i += 2 {
		name, thing := objects[i], objects[i+1]
		if !thing.Visible() {
			name.Hide()
			continue
		}
		name.Show()
		room := max(size.Width-wide, 0)
		thing.Resize(fyne.NewSize(room, thing.Size().Height))
		a, b := name.MinSize(), thing.MinSize()
		high := max(a.Height, b.Height)
		// Beside several lines the name stands at the first.
		down := (high - a.Height) / 2
		if most := Size(TextSize); high > 3*a.Height {
			down = most / 3
		}
		name.Move(fyne.NewPos(0, y+down))
		name.Resize(a)
		thing.Move(fyne.NewPos(wide, y+(high-b.Height)/2))
		thing.Resize(fyne.NewSize(room, b.Height))
		y += high + Tight
	}
}

// MinSize is the height of all pairs at the last width.
func (p Pairs) MinSize(objects []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for i := 0; i+1 < len(objects); i += 2 {
		if objects[i+1].Visible() {
			h += max(objects[i].MinSize().Height, objects[i+1].MinSize().Height) + Tight
		}
	}
	return fyne.NewSize(p.names(objects)+60, max(h-Tight, 0))
}
