package strip

import (
	"image"
	"math"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"whistlecut/timeline"
)

// ThemeFonts are the window's own fonts.
func ThemeFonts() Fonts {
	return Fonts{
		Regular: theme.DefaultTextFont().Content(),
		Bold:    theme.DefaultTextBoldFont().Content(),
		Mono:    theme.DefaultTextMonospaceFont().Content(),
	}
}

// Strip is the widget. All its methods are for the window's own goroutine.
//
// The wheel zooms at the pointer, with Ctrl faster; with Shift, and sideways, it
// pans. A click seeks, a drag pans or moves an edge.
type Strip struct {
	widget.BaseWidget

	// OnSeek is told where a person clicked. Nothing else calls it.
	OnSeek func(footage timeline.ID, film time.Duration)
	// OnDrag is told where the edge of a tag was dropped.
	OnDrag func(id timeline.ID, edge Edge, footage timeline.ID, film time.Duration)
	// OnPick is told which item was clicked, before OnSeek; nil: nobody asks.
	OnPick func(Item)

	painter *Painter
	raster  *canvas.Raster
	buffers [3]*image.RGBA // the window reads one while the next is painted
	turn    int
	layout  Layout
	scale   float64
	view    View
	hand    hand
	follow  bool
	astray  bool // a person moved the window away from now: it is not followed
	now     moment
	// modifiers are the keys held; tests set them.
	modifiers func() fyne.KeyModifier
}

// moment is a frame of one file.
type moment struct {
	footage timeline.ID
	film    time.Duration
}

// New makes an empty strip.
func New(fonts Fonts, words Words, colours Colours) (*Strip, error) {
	p, err := NewPainter(fonts)
	if err != nil {
		return nil, err
	}
	s := &Strip{painter: p, scale: 1, view: View{Axis: NewAxis(nil), Words: words, Colours: colours}, modifiers: heldKeys}
	s.raster = canvas.NewRaster(s.paint)
	s.ExtendBaseWidget(s)
	return s, nil
}

func heldKeys() fyne.KeyModifier {
	if app := fyne.CurrentApp(); app != nil {
		if d, ok := app.Driver().(desktop.Driver); ok {
			return d.CurrentKeyModifiers()
		}
	}
	return 0
}

// CreateRenderer is for the toolkit.
func (s *Strip) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(s.raster) }

// MinSize is the least the strip is of use in.
func (s *Strip) MinSize() fyne.Size { return fyne.NewSize(320, NormalHeight) }

// Refresh paints anew.
func (s *Strip) Refresh() { s.raster.Refresh() }

// paint is called by the toolkit with the size in device pixels.
func (s *Strip) paint(w, h int) image.Image {
	w, h = max(w, 1), max(h, 1)
	if wide := s.Size().Width; wide > 0 {
		s.scale = float64(w) / float64(wide)
	}
	s.turn = (s.turn + 1) % len(s.buffers)
	b := s.buffers[s.turn]
	if b == nil || b.Rect.Dx() != w || b.Rect.Dy() != h {
		b = image.NewRGBA(image.Rect(0, 0, w, h))
		s.buffers[s.turn] = b
	}
	s.view.Drag = s.hand.drag(s.view.Axis)
	s.layout = s.painter.Paint(b, s.scale, s.view)
	return b
}

// arrange makes the layout fit the present size, for events before a first picture.
func (s *Strip) arrange() {
	size := s.Size()
	w, h := int(float64(size.Width)*s.scale+0.5), int(float64(size.Height)*s.scale+0.5)
	s.layout = s.painter.Arrange(max(w, 1), max(h, 1), s.scale, s.view.Words, s.view.Axis)
}

// SetBout shows a bout. Building takes up to 0.2 s with 20,000 tags: build
// the model elsewhere and call Set where that matters.
func (s *Strip) SetBout(in Input, frames map[timeline.ID]Frames) {
	in.Words = s.view.Words
	pieces := Pieces(in.Facts, in.Camera, frames)
	s.Set(pieces, Build(in, NewAxis(pieces)))
}

// Set shows a model built with an axis of the same pieces. The window stays
// where it was on film, if that film is still there.
func (s *Strip) Set(pieces []Piece, m *Model) {
	old := s.view.Axis
	s.view.Model = m
	if next := NewAxis(pieces); !slices.Equal(next.pieces, old.pieces) {
		s.hand.cancel(old)
		s.view.Axis = next
		s.arrange()
		s.keepWindow(old)
		s.place()
	}
	s.view.Hover = nil
	s.Refresh()
}

// Untimed says that a file is shown without the times of its frames.
func (s *Strip) Untimed(footage timeline.ID) bool {
	i, ok := s.view.Axis.index[footage]
	return ok && s.view.Axis.pieces[i].Frames == nil
}

func (s *Strip) keepWindow(old *Axis) {
	if old.Empty() || old.span >= old.total {
		return
	}
	from, to := old.Window()
	f1, t1, _ := old.Film(from)
	f2, t2, _ := old.Film(to)
	a, ok := s.view.Axis.Strip(f1, t1)
	b, ok2 := s.view.Axis.Strip(f2, t2)
	if ok && ok2 && b > a {
		s.view.Axis.Show(a, b)
	}
}

// SetColours changes the palette.
func (s *Strip) SetColours(c Colours) {
	s.view.Colours = c
	s.Refresh()
}

// SetWords changes the language; the caller builds the model anew for it.
func (s *Strip) SetWords(w Words) {
	s.view.Words = w
	s.Refresh()
}

// SetNow moves the now-line to the frame on screen. It never seeks.
func (s *Strip) SetNow(footage timeline.ID, film time.Duration) {
	s.now = moment{footage, film}
	was, had := s.view.Now, s.view.HasNow
	s.place()
	if s.view.HasNow && s.follow && s.hand.doing == idle {
		if s.astray = s.astray && !s.seen(s.view.Now); !s.astray && s.view.Axis.Reveal(s.view.Now) {
			s.Refresh()
			return
		}
	}
	// Nobody sees a move of less than half a pixel.
	if had != s.view.HasNow || math.Abs(s.view.Axis.X(was)-s.view.Axis.X(s.view.Now)) >= 0.5 || s.pageOf(was) != s.pageOf(s.view.Now) {
		s.Refresh()
	} else if had {
		s.view.Now = was // small moves add up
	}
}

// pageOf tells overview pixel and jam of a strip time.
func (s *Strip) pageOf(t time.Duration) (p struct {
	x   int
	jam timeline.ID
},
) {
	p.x = s.layout.overviewX(s.view.Axis, t)
	if s.view.Model != nil {
		if j, ok := s.view.Model.Jam(t); ok {
			p.jam = j.ID
		}
	}
	return p
}

func (s *Strip) place() {
	s.view.Now, s.view.HasNow = s.view.Axis.Strip(s.now.footage, s.now.film)
}

func (s *Strip) seen(t time.Duration) bool {
	from, to := s.view.Axis.Window()
	return t >= from && t <= to
}

// Follow keeps the now-line in the window while it moves. A person who moves the
// window away is left alone until the line is in it again.
func (s *Strip) Follow(on bool) {
	s.follow, s.astray = on, false
	if on && s.view.HasNow && s.view.Axis.Reveal(s.view.Now) {
		s.Refresh()
	}
}

// strayed notes that a person moved the window.
func (s *Strip) strayed() {
	s.astray = s.view.HasNow && !s.seen(s.view.Now)
	s.view.Hover = nil
	s.Refresh()
}

// ZoomIn shows half as much, round the now-line where that is in sight.
func (s *Strip) ZoomIn() { s.zoom(2) }

// ZoomOut shows twice as much.
func (s *Strip) ZoomOut() { s.zoom(0.5) }

func (s *Strip) zoom(factor float64) {
	s.arrange()
	a := s.view.Axis
	x := a.left + a.width/2
	if s.view.HasNow && s.seen(s.view.Now) {
		x = a.X(s.view.Now)
	}
	a.Zoom(factor, x)
	s.strayed()
}

// Pan moves the window along by a share of its width: 0.25 a quarter later.
func (s *Strip) Pan(share float64) {
	s.arrange()
	s.view.Axis.Pan(share * s.view.Axis.width)
	s.strayed()
}

// ShowAll shows the whole bout.
func (s *Strip) ShowAll() {
	s.view.Axis.ShowAll()
	s.strayed()
}

// ShowJam shows one jam with a little round it; it reports whether the jam is on
// this camera.
func (s *Strip) ShowJam(id timeline.ID) bool {
	if s.view.Model == nil {
		return false
	}
	i, ok := s.view.Model.Find(id)
	if !ok {
		return false
	}
	s.arrange()
	around := (i.To - i.From) / 8
	s.view.Axis.Show(i.From-around, i.To+around)
	s.strayed()
	s.astray = false // asked for by name, not moved away from: it is followed again
	return true
}

// ShowFrames zooms to single frames round the now-line.
func (s *Strip) ShowFrames() {
	s.arrange()
	from, to := s.view.Axis.Window()
	middle := from + (to-from)/2
	if s.view.HasNow {
		middle = s.view.Now
	}
	s.view.Axis.Show(middle, middle)
	s.strayed()
}

// Cancel ends a drag without a result; for the Escape key. It reports whether
// there was one.
func (s *Strip) Cancel() bool {
	if !s.hand.cancel(s.view.Axis) {
		return false
	}
	s.Refresh()
	return true
}
