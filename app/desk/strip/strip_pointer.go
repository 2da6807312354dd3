package strip

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// What the toolkit asks of a widget that takes the pointer.
var (
	_ desktop.Hoverable  = (*Strip)(nil)
	_ desktop.Mouseable  = (*Strip)(nil)
	_ desktop.Cursorable = (*Strip)(nil)
	_ fyne.Draggable     = (*Strip)(nil)
	_ fyne.Scrollable    = (*Strip)(nil)
)

// pixel is a position in device pixels.
func (s *Strip) pixel(p fyne.Position) (x, y float64) {
	return float64(p.X) * s.scale, float64(p.Y) * s.scale
}

// MouseIn is for the toolkit.
func (s *Strip) MouseIn(e *desktop.MouseEvent) { s.MouseMoved(e) }

// MouseMoved reads what is under the pointer.
func (s *Strip) MouseMoved(e *desktop.MouseEvent) {
	if s.hand.doing != idle {
		s.drag(e.Position)
		return
	}
	s.arrange()
	x, y := s.pixel(e.Position)
	was := s.view.Hover
	h := &Hover{X: int(x), Y: int(y), Hit: HitAt(s.layout, s.view.Axis, s.view.Model, x, y)}
	s.view.Hover = h
	if h.Hit.Lane == LaneOverview || s.view.Axis.Empty() || int(x) < s.layout.Zoomed.Min.X {
		s.view.Hover = nil
	}
	if was != nil || s.view.Hover != nil {
		s.Refresh()
	}
}

// MouseOut is for the toolkit.
func (s *Strip) MouseOut() {
	if s.view.Hover != nil {
		s.view.Hover = nil
		s.Refresh()
	}
}

// MouseDown begins a click or a drag, with the first button only.
func (s *Strip) MouseDown(e *desktop.MouseEvent) {
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	s.arrange()
	x, y := s.pixel(e.Position)
	s.hand.press(s.layout, s.view.Axis, s.view.Model, x, y)
	s.view.Hover = nil
	s.Refresh()
}

// MouseUp ends it.
func (s *Strip) MouseUp(e *desktop.MouseEvent) {
	if e.Button == desktop.MouseButtonPrimary {
		s.release()
	}
}

// Dragged is for the toolkit, which goes on telling when the pointer has left the strip.
func (s *Strip) Dragged(e *fyne.DragEvent) { s.drag(e.Position) }

// DragEnd is for the toolkit.
func (s *Strip) DragEnd() { s.release() }

func (s *Strip) drag(p fyne.Position) {
	x, y := s.pixel(p)
	if !s.hand.move(s.layout, s.view.Axis, x, y) {
		return
	}
	if s.hand.doing == pulling {
		s.Refresh()
		return
	}
	s.strayed()
}

// release tells what the pointer did. It comes twice after a drag; the second
// time the hand is idle.
func (s *Strip) release() {
	if s.hand.doing == idle {
		return
	}
	var picked []Item
	if s.hand.doing == pressed {
		picked = s.hand.hit.Items
	}
	dropped, seek, click := s.hand.release(s.view.Axis)
	s.Refresh()
	switch {
	case dropped != nil && s.OnDrag != nil:
		if footage, film, ok := s.view.Axis.Film(dropped.At); ok {
			s.OnDrag(dropped.Item.ID, dropped.Edge, footage, film)
		}
	case click:
		if len(picked) > 0 && s.OnPick != nil {
			s.OnPick(picked[0])
		}
		if footage, film, _ := s.view.Axis.Film(seek); footage != "" && s.OnSeek != nil {
			s.OnSeek(footage, film)
		}
	}
}

// Wheel: how much one unit of the toolkit's scrolling (ten for a notch) zooms
// and pans.
const (
	wheelZoom = 0.02
	wheelFast = 3
	wheelPan  = 6
)

// Scrolled zooms at the pointer or pans.
func (s *Strip) Scrolled(e *fyne.ScrollEvent) {
	s.arrange()
	x, _ := s.pixel(e.Position)
	dx, dy := float64(e.Scrolled.DX), float64(e.Scrolled.DY)
	held := s.modifiers()
	switch {
	case held&fyne.KeyModifierShift != 0:
		s.view.Axis.Pan(-(dx + dy) * wheelPan * s.scale)
	case math.Abs(dx) > math.Abs(dy):
		s.view.Axis.Pan(-dx * wheelPan * s.scale)
	case held&fyne.KeyModifierControl != 0:
		s.view.Axis.Zoom(math.Exp(dy*wheelZoom*wheelFast), x)
	default:
		s.view.Axis.Zoom(math.Exp(dy*wheelZoom), x)
	}
	s.strayed()
}

// Cursor shows what a press would take hold of.
func (s *Strip) Cursor() desktop.Cursor {
	h := s.view.Hover
	switch {
	case s.hand.doing == pulling || h != nil && (h.Hit.Edge == Begin || h.Hit.Edge == End):
		return desktop.HResizeCursor
	case h != nil && len(h.Hit.Items) > 0:
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}
