package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Paragraph is text that wraps at its width and stands flush with what is above
// and below it, without the space that a label has round it.
type Paragraph struct {
	widget.BaseWidget
	text   string
	size   float32
	colour color.Color
	width  float32
}

// NewParagraph makes a paragraph in a text size before scaling.
func NewParagraph(text string, c color.Color, size float32) *Paragraph {
	p := &Paragraph{text: text, size: size, colour: c}
	p.ExtendBaseWidget(p)
	return p
}

// Set changes the text.
func (p *Paragraph) Set(text string) {
	if p.text != text {
		p.text = text
		p.Refresh()
	}
}

// Text is what it says.
func (p *Paragraph) Text() string { return p.text }

// lines breaks the text at its width.
func (p *Paragraph) lines(width float32) []string {
	return Break(p.text, width, Size(p.size), fyne.TextStyle{})
}

// lineHeight is the distance of two lines.
func (p *Paragraph) lineHeight() float32 {
	return fyne.MeasureText("Hg", Size(p.size), fyne.TextStyle{}).Height + 1
}

// Resize keeps the width, by which the height is reckoned.
func (p *Paragraph) Resize(s fyne.Size) {
	p.width = s.Width
	p.BaseWidget.Resize(s)
}

// MinSize is the height at the last width.
func (p *Paragraph) MinSize() fyne.Size {
	p.ExtendBaseWidget(p)
	if p.text == "" {
		return fyne.NewSize(20, 0)
	}
	return fyne.NewSize(20, float32(len(p.lines(p.width)))*p.lineHeight())
}

// CreateRenderer draws the lines. One that is made anew, after the paragraph was off
// the window for a while, is not laid out again by the toolkit: it takes the width
// that the paragraph has.
func (p *Paragraph) CreateRenderer() fyne.WidgetRenderer {
	r := &paragraphRenderer{p: p, width: p.width}
	r.draw()
	return r
}

type paragraphRenderer struct {
	p       *Paragraph
	objects []fyne.CanvasObject
	width   float32
}

func (r *paragraphRenderer) MinSize() fyne.Size           { return r.p.MinSize() }
func (r *paragraphRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *paragraphRenderer) Destroy()                     {}

func (r *paragraphRenderer) Layout(s fyne.Size) {
	r.width = s.Width
	r.draw()
}

func (r *paragraphRenderer) Refresh() {
	r.draw()
	canvas.Refresh(r.p)
}

func (r *paragraphRenderer) draw() {
	r.objects = r.objects[:0]
	if r.p.text == "" || r.width == 0 {
		return
	}
	for i, l := range r.p.lines(r.width) {
		t := canvas.NewText(l, r.p.colour)
		t.TextSize = Size(r.p.size)
		t.Move(fyne.NewPos(0, float32(i)*r.p.lineHeight()))
		t.Resize(t.MinSize())
		r.objects = append(r.objects, t)
	}
}
