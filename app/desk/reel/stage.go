package reel

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/export/overlay"
	"whistlecut/timeline"
)

// stage lies over the picture: it shows drawings, captions and cards, and takes
// the pointer while a shape is drawn.
type stage struct {
	widget.BaseWidget
	t       *Task
	painter overlay.Painter
	scene   scene
	pixels  image.Point // what was painted
	picture *canvas.Image
	hint    string // over the upper edge
}

func newStage(t *Task) *stage {
	s := &stage{t: t, picture: &canvas.Image{FillMode: canvas.ImageFillStretch, ScaleMode: canvas.ImageScaleFastest}}
	s.ExtendBaseWidget(s)
	return s
}

// rect is where the film's picture stands in the widget: in the middle, as large
// as it fits. Without a picture it is as wide as films are.
func (s *stage) rect(size fyne.Size) (at fyne.Position, of fyne.Size) {
	f := s.t.desk.Frame()
	if f.X <= 0 || f.Y <= 0 {
		f = image.Pt(16, 9)
	}
	k := min(size.Width/float32(f.X), size.Height/float32(f.Y))
	of = fyne.NewSize(float32(f.X)*k, float32(f.Y)*k)
	return fyne.NewPos((size.Width-of.Width)/2, (size.Height-of.Height)/2), of
}

// point is a place of the widget as a place of the picture.
func (s *stage) point(p fyne.Position) timeline.Point {
	at, of := s.rect(s.Size())
	if of.Width <= 0 || of.Height <= 0 {
		return timeline.Point{}
	}
	return timeline.Point{X: float64((p.X - at.X) / of.Width), Y: float64((p.Y - at.Y) / of.Height)}
}

// refresh paints what lies over the film now, where that is not what is painted.
func (s *stage) refresh() {
	now := s.t.scene()
	hint := s.t.stageHint()
	if now.same(s.scene) && s.want() == s.pixels && hint == s.hint {
		return
	}
	s.scene, s.hint = now, hint
	s.Refresh()
}

// want is how many pixels the picture has on the screen.
func (s *stage) want() image.Point {
	_, of := s.rect(s.Size())
	scale := float32(1)
	if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil {
		scale = c.Scale()
	}
	return image.Pt(int(math.Round(float64(of.Width*scale))), int(math.Round(float64(of.Height*scale))))
}

// MouseDown begins a shape, or takes one to move it.
func (s *stage) MouseDown(e *desktop.MouseEvent) {
	if d := s.t.draw; d != nil && e.Button == desktop.MouseButtonPrimary {
		d.down(s.point(e.Position))
	}
}

// MouseUp does nothing: the toolkit takes the keyboard away from everything after
// it, also from the field that a text asks for. Tapped and DragEnd come later.
func (s *stage) MouseUp(*desktop.MouseEvent) {}

// Dragged draws on.
func (s *stage) Dragged(e *fyne.DragEvent) {
	if d := s.t.draw; d != nil {
		d.drag(s.point(e.Position))
		d.lastDrag = s.point(e.Position)
	}
}

// DragEnd ends what was dragged.
func (s *stage) DragEnd() {
	if d := s.t.draw; d != nil {
		d.up(d.lastDrag)
	}
}

// Tapped is a click: it ends what MouseDown began, or plays and pauses, as a click
// on the film does elsewhere.
func (s *stage) Tapped(e *fyne.PointEvent) {
	if d := s.t.draw; d != nil {
		d.up(s.point(e.Position))
		return
	}
	s.t.toggle()
}

// Cursor is a cross while a shape is drawn.
func (s *stage) Cursor() desktop.Cursor {
	if s.t.draw != nil && s.t.draw.tool.Shape != "" {
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}

// MinSize asks for nothing: the screen says how large it is.
func (s *stage) MinSize() fyne.Size { return fyne.NewSize(1, 1) }

// mostPoints is how many points of a chosen drawing are shown.
const mostPoints = 12

// CreateRenderer shows the painted picture, the chosen drawing's points and the hint.
func (s *stage) CreateRenderer() fyne.WidgetRenderer {
	r := &stageRenderer{s: s, plate: canvas.NewRectangle(color.NRGBA{0, 0, 0, 0xB8}), hint: look.Line("", color.White, look.RowSize), black: canvas.NewRectangle(color.Black)}
	r.plate.CornerRadius = 4
	for range mostPoints {
		c := canvas.NewCircle(color.White)
		c.StrokeColor, c.StrokeWidth = look.Now.Accent, 3
		c.Hide()
		r.points = append(r.points, c)
	}
	r.Refresh()
	return r
}

type stageRenderer struct {
	s      *stage
	points []*canvas.Circle
	plate  *canvas.Rectangle
	black  *canvas.Rectangle
	hint   *canvas.Text
}

func (r *stageRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.black, r.s.picture}
	for _, p := range r.points {
		out = append(out, p)
	}
	return append(out, r.plate, r.hint)
}
func (r *stageRenderer) MinSize() fyne.Size { return r.s.MinSize() }
func (r *stageRenderer) Destroy()           {}

func (r *stageRenderer) Layout(size fyne.Size) {
	r.black.Resize(size)
	at, of := r.s.rect(size)
	r.s.picture.Move(at)
	r.s.picture.Resize(of)
	const d = 12
	for i, c := range r.points {
		if c.Hidden = i >= len(r.s.scene.points) || len(r.s.scene.points) > mostPoints; !c.Hidden {
			p := r.s.scene.points[i]
			c.Move(fyne.NewPos(at.X+float32(p.X)*of.Width-d/2, at.Y+float32(p.Y)*of.Height-d/2))
			c.Resize(fyne.NewSquareSize(d))
		}
	}
	r.hint.Text = look.Fit(r.s.hint, size.Width-4*look.Near, r.hint.TextSize, r.hint.TextStyle)
	m := r.hint.MinSize()
	r.hint.Move(fyne.NewPos((size.Width-m.Width)/2, look.Near+look.Tight))
	r.hint.Resize(m)
	r.plate.Move(r.hint.Position().SubtractXY(look.Near, look.Tight))
	r.plate.Resize(m.AddWidthHeight(2*look.Near, 2*look.Tight))
	if r.s.want() != r.s.pixels {
		r.paint()
	}
}

func (r *stageRenderer) Refresh() {
	r.hint.Hidden, r.plate.Hidden = r.s.hint == "", r.s.hint == ""
	r.black.Hidden = r.s.scene.card == nil && !r.s.scene.black
	r.paint()
	r.Layout(r.s.Size())
	canvas.Refresh(r.s)
}

// paint paints the scene as large as it is shown.
func (r *stageRenderer) paint() {
	s := r.s
	s.pixels = s.want()
	s.picture.Hidden = s.scene.empty() || s.pixels.X < 1 || s.pixels.Y < 1
	if s.picture.Hidden {
		s.picture.Image = nil
		return
	}
	s.picture.Image = s.scene.paint(s.pixels, &s.painter)
	s.picture.Refresh()
}
