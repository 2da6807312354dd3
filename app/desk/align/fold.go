package align

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
)

// section is one part of the panel. Only one is open at a time.
type section interface {
	title() string
	// status is what is said of it at the right of its heading.
	status() (string, look.Shape)
	// content is built once, when the section is opened first.
	content() fyne.CanvasObject
	// refresh shows the facts anew.
	refresh()
	// shown is called when the section comes into sight.
	shown()
	// do is one of the verbs of the task's keys; it reports whether it means
	// something here.
	do(verb string) bool
}

// fold shows sections under each other, one of them open.
type fold struct {
	box      *fyne.Container
	sections []section
	heads    []*head
	built    []fyne.CanvasObject
	at       int
	changed  func()
}

func newFold(sections ...section) *fold {
	f := &fold{sections: sections, built: make([]fyne.CanvasObject, len(sections)), at: -1}
	f.box = container.New(foldLayout{f})
	for i := range sections {
		f.heads = append(f.heads, newHead(func() { f.show(i) }))
		f.box.Add(f.heads[i])
	}
	return f
}

// show opens section i, held within those there are.
func (f *fold) show(i int) {
	i = min(max(i, 0), len(f.sections)-1)
	if i == f.at {
		return
	}
	if f.at >= 0 {
		f.built[f.at].Hide()
	}
	f.at = i
	if f.built[i] == nil {
		f.built[i] = f.sections[i].content()
		f.box.Add(f.built[i])
	}
	f.built[i].Show()
	f.refresh()
	if f.changed != nil {
		f.changed()
	}
}

// refresh shows the headings and the open section anew.
func (f *fold) refresh() {
	for i, h := range f.heads {
		text, shape := f.sections[i].status()
		h.set(f.sections[i].title(), text, shape, i == f.at)
	}
	if f.at >= 0 {
		f.sections[f.at].refresh()
	}
	f.box.Refresh()
}

// foldLayout gives the headings their height and the open section the rest.
type foldLayout struct{ f *fold }

func (l foldLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	h := headHeight()
	m := fyne.NewSize(0, float32(len(l.f.heads))*(h+look.Tight))
	if l.f.at >= 0 && l.f.built[l.f.at] != nil {
		m.Width = l.f.built[l.f.at].MinSize().Width
	}
	m.Height += look.Size(90)
	return m
}

func (l foldLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	h := headHeight()
	rest := max(size.Height-float32(len(l.f.heads))*(h+look.Tight), 0)
	y := float32(0)
	for i, head := range l.f.heads {
		head.Move(fyne.NewPos(0, y))
		head.Resize(fyne.NewSize(size.Width, h))
		y += h + look.Tight
		if i == l.f.at && l.f.built[i] != nil {
			l.f.built[i].Move(fyne.NewPos(0, y))
			l.f.built[i].Resize(fyne.NewSize(size.Width, max(rest-look.Tight, 0)))
			y += rest
		}
	}
}

func headHeight() float32 { return look.Size(look.TextSize) + 14 }

// head is the heading of a section: it can be clicked like a button.
type head struct {
	widget.BaseWidget
	title, status string
	shape         look.Shape
	open          bool
	tap           func()
}

func newHead(tap func()) *head {
	h := &head{tap: tap}
	h.ExtendBaseWidget(h)
	return h
}

func (h *head) set(title, status string, shape look.Shape, open bool) {
	h.title, h.status, h.shape, h.open = title, status, shape, open
	h.Refresh()
}

// Tapped opens the section.
func (h *head) Tapped(*fyne.PointEvent) { h.tap() }

func (h *head) MinSize() fyne.Size { return fyne.NewSize(look.Size(120), headHeight()) }

func (h *head) CreateRenderer() fyne.WidgetRenderer {
	r := &headRenderer{
		h: h, back: canvas.NewRectangle(look.Now.Raised), edge: canvas.NewRectangle(look.Now.Accent),
		title: canvas.NewText("", look.Now.Text), status: canvas.NewText("", look.Now.Quiet), shape: canvas.NewImageFromResource(nil),
	}
	r.back.CornerRadius = 3
	r.title.TextSize, r.status.TextSize = look.Size(look.TextSize), look.Size(look.NoteSize)
	r.shape.FillMode = canvas.ImageFillContain
	r.Refresh()
	return r
}

type headRenderer struct {
	h             *head
	back, edge    *canvas.Rectangle
	title, status *canvas.Text
	shape         *canvas.Image
	size          fyne.Size
}

func (r *headRenderer) MinSize() fyne.Size { return r.h.MinSize() }
func (r *headRenderer) Destroy()           {}
func (r *headRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.back, r.edge, r.title, r.status, r.shape}
}

func (r *headRenderer) Layout(size fyne.Size) {
	r.size = size
	r.back.Resize(size)
	r.edge.Resize(fyne.NewSize(3, size.Height))
	r.title.Text = r.h.title
	t := r.title.MinSize()
	r.title.Move(fyne.NewPos(look.Near+2, (size.Height-t.Height)/2))
	r.title.Resize(t)
	right := size.Width - look.Near
	if r.h.shape != look.NoShape {
		d := look.Size(11)
		r.shape.Move(fyne.NewPos(right-d, (size.Height-d)/2))
		r.shape.Resize(fyne.NewSquareSize(d))
		right -= d + look.Tight
	}
	r.status.Text = look.Fit(r.h.status, max(right-t.Width-2*look.Near-2, 0), r.status.TextSize, r.status.TextStyle)
	m := r.status.MinSize()
	r.status.Move(fyne.NewPos(right-m.Width, (size.Height-m.Height)/2))
	r.status.Resize(m)
}

func (r *headRenderer) Refresh() {
	r.back.FillColor, r.title.Color, r.status.Color = look.Now.Raised, look.Now.Text, look.Now.Quiet
	r.edge.FillColor = look.Now.Accent
	r.edge.Hidden = !r.h.open
	r.title.TextStyle.Bold = r.h.open
	r.shape.Hidden = r.h.shape == look.NoShape
	if !r.shape.Hidden {
		r.shape.Resource = look.ShapeResource(r.h.shape, look.Now.Colour(r.h.shape))
		r.shape.Refresh()
	}
	r.Layout(r.size)
	canvas.Refresh(r.h)
}
