// Package screen is the widget that shows the film: the frame as large as it
// fits, or a sentence where there is none. It knows no task.
package screen

import (
	"image"
	"image/color"
	"math"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/app/play"
)

// Screen shows one camera.
type Screen struct {
	widget.BaseWidget
	// OnSize is told how many pixels there are for the picture.
	OnSize func(w, h int)
	// OnTap is called when the picture is clicked.
	OnTap func()
	// Words gives the sentence for a state without a picture; nil says nothing.
	Words func(play.State) string

	later   func(func()) // lets the window's goroutine do something
	newest  atomic.Pointer[play.Shown]
	waiting atomic.Bool
	shown   play.Shown
	caption string
	picture *canvas.Image
}

// New makes an empty screen.
func New() *Screen {
	s := &Screen{later: fyne.Do, picture: &canvas.Image{ScaleMode: canvas.ImageScaleFastest, FillMode: canvas.ImageFillContain}}
	s.ExtendBaseWidget(s)
	return s
}

// SetShown shows a frame. It may be called from any goroutine; of several calls
// before the window paints only the newest counts.
func (s *Screen) SetShown(p play.Shown) {
	s.newest.Store(&p)
	if s.waiting.Swap(true) {
		return
	}
	s.later(func() {
		s.waiting.Store(false)
		s.take(*s.newest.Load())
	})
}

// SetCaption shows a line over the lower edge of the picture, "" none.
func (s *Screen) SetCaption(text string) {
	if s.caption != text {
		s.caption = text
		s.Refresh()
	}
}

func (s *Screen) take(p play.Shown) {
	before := s.shown
	s.shown = p
	var img image.Image
	if p.Image != nil {
		img = p.Image
	}
	s.picture.Image = img
	if before.State != p.State || before.Note != p.Note || (before.Image == nil) != (p.Image == nil) {
		s.Refresh()
		return
	}
	s.picture.Refresh()
}

// Tapped is a click on the picture.
func (s *Screen) Tapped(*fyne.PointEvent) {
	if s.OnTap != nil {
		s.OnTap()
	}
}

// MinSize is the least a picture is of use in.
func (s *Screen) MinSize() fyne.Size { return fyne.NewSize(160, 90) }

// CreateRenderer is for the toolkit.
func (s *Screen) CreateRenderer() fyne.WidgetRenderer {
	r := &renderer{
		s: s, ground: canvas.NewRectangle(color.Black),
		said: look.NewParagraph("", color.White, look.TextSize), plate: canvas.NewRectangle(color.NRGBA{0, 0, 0, 0xB8}),
		caption: look.Line("", color.White, look.TextSize), bar: canvas.NewRectangle(color.NRGBA{0, 0, 0, 0xA0}),
	}
	r.plate.CornerRadius = 4
	r.caption.TextStyle.Bold = true
	r.Refresh()
	return r
}

// widest is how long a line of the sentence gets, in the toolkit's units.
const widest = 560

type renderer struct {
	s          *Screen
	ground     *canvas.Rectangle
	plate, bar *canvas.Rectangle
	said       *look.Paragraph
	caption    *canvas.Text
	size       fyne.Size
}

func (r *renderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.s.picture, r.bar, r.caption, r.plate, r.said}
}
func (r *renderer) MinSize() fyne.Size { return r.s.MinSize() }
func (r *renderer) Destroy()           {}

func (r *renderer) Layout(size fyne.Size) {
	if size != r.size && r.s.OnSize != nil && size.Width > 1 && size.Height > 1 {
		scale := float32(1)
		if c := fyne.CurrentApp().Driver().CanvasForObject(r.s); c != nil {
			scale = c.Scale()
		}
		r.s.OnSize(int(math.Round(float64(size.Width*scale))), int(math.Round(float64(size.Height*scale))))
	}
	r.size = size
	r.ground.Resize(size)
	r.s.picture.Resize(size)
	// As wide as it needs, over several lines where it is long: it says where the
	// film is missing and what to do.
	said := r.sentence()
	r.said.Set(said)
	room := max(40, min(size.Width-2*look.Wide, widest))
	m := fyne.NewSize(min(room, fyne.MeasureText(said, look.Size(look.TextSize), fyne.TextStyle{}).Width+1), 0)
	r.said.Resize(m)
	m.Height = r.said.MinSize().Height
	r.said.Resize(m)
	r.said.Move(fyne.NewPos((size.Width-m.Width)/2, (size.Height-m.Height)/2))
	r.plate.Move(r.said.Position().SubtractXY(look.Apart, look.Near))
	r.plate.Resize(m.AddWidthHeight(2*look.Apart, 2*look.Near))
	c := r.caption.MinSize()
	r.caption.Move(fyne.NewPos(look.Apart+look.Near, size.Height-c.Height-look.Apart-look.Tight))
	r.caption.Resize(c)
	r.bar.Move(r.caption.Position().SubtractXY(look.Near, look.Tight))
	r.bar.Resize(c.AddWidthHeight(2*look.Near, 2*look.Tight))
}

// sentence is what is said in the middle: the note of a state in which the
// picture does not go on, or what to do when there is none.
func (r *renderer) sentence() string {
	p := r.s.shown
	switch p.State {
	case play.Missing, play.Broken:
		if p.Note != "" {
			return p.Note
		}
	case play.Playing, play.Paused, play.Ended:
		if p.Image != nil {
			return ""
		}
	}
	if r.s.Words != nil {
		return r.s.Words(p.State)
	}
	return ""
}

func (r *renderer) Refresh() {
	r.caption.Text = r.s.caption
	r.caption.Hidden, r.bar.Hidden = r.s.caption == "", r.s.caption == ""
	none := r.sentence() == ""
	r.said.Hidden, r.plate.Hidden = none, none
	r.Layout(r.size)
	canvas.Refresh(r.s)
}
