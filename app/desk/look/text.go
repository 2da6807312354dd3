package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Title is a panel's heading.
func Title(s string) *canvas.Text {
	t := canvas.NewText(s, Now.Text)
	t.TextSize, t.TextStyle.Bold = Size(TitleSize), true
	return t
}

// Line is one line of text in a colour and size that does not wrap.
func Line(s string, c color.Color, size float32) *canvas.Text {
	t := canvas.NewText(s, c)
	t.TextSize = Size(size)
	return t
}

// Figures is a line in the fixed-width face, for times and numbers.
func Figures(s string, c color.Color, size float32) *canvas.Text {
	t := Line(s, c, size)
	t.TextStyle.Monospace = true
	return t
}

// Note is quiet text that wraps.
func Note(s string) *widget.Label {
	l := widget.NewLabel(s)
	l.Wrapping = fyne.TextWrapWord
	l.Importance = widget.LowImportance
	l.SizeName = theme.SizeNameCaptionText
	return l
}

// Prose is text that wraps.
func Prose(s string) *widget.Label {
	l := widget.NewLabel(s)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// Gap is empty height.
func Gap(h float32) fyne.CanvasObject {
	r := canvas.NewRectangle(color.Transparent)
	r.SetMinSize(fyne.NewSize(1, h))
	return r
}

// Rule is a thin line between groups.
func Rule() fyne.CanvasObject {
	r := canvas.NewRectangle(Now.Line)
	r.SetMinSize(fyne.NewSize(1, 1))
	return r
}

// Empty is what a panel shows when there is nothing yet: what it is, and what to
// do next.
func Empty(title, next string, actions ...fyne.CanvasObject) fyne.CanvasObject {
	box := container.New(Pile{Gap: Near}, Title(title), NewParagraph(next, Now.Text, TextSize))
	for _, a := range actions {
		box.Add(a)
	}
	return container.New(Inset{0, Tight}, box)
}

// Panel puts content on the panel's colour with space round it. What scrolls in it
// has its bar in the space at the right (Scroll).
func Panel(content fyne.CanvasObject) fyne.CanvasObject {
	back := canvas.NewRectangle(Now.Panel)
	back.StrokeColor, back.StrokeWidth, back.CornerRadius = Now.Line, 1, 4
	return container.NewStack(back, container.New(Inset{Apart, Near}, content))
}

// Scroll lets content scroll up and down. The bar stands beside it, in the space
// that a panel has at the right, never over it.
func Scroll(content fyne.CanvasObject) (view fyne.CanvasObject, scroll *container.Scroll) {
	scroll = container.NewVScroll(container.New(beside{}, content))
	return container.New(outward{}, scroll), scroll
}

// beside leaves room for the bar; outward gives that room from what is around.
type (
	beside  struct{}
	outward struct{}
)

func (beside) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(fyne.NewSize(size.Width-barBeside, size.Height))
	}
}

func (beside) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return Inset{}.MinSize(objects).AddWidthHeight(barBeside, 0)
}

func (outward) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(fyne.NewSize(size.Width+barBeside, size.Height))
	}
}

func (outward) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return Inset{}.MinSize(objects).SubtractWidthHeight(barBeside, 0)
}

// barBeside is how far the bar stands outside; a panel has more space than that.
const barBeside = Apart - 3

// Inset is a layout with space at the sides and above and below.
type Inset struct{ Side, Top float32 }

// Layout gives every object the inner room.
func (i Inset) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Move(fyne.NewPos(i.Side, i.Top))
		o.Resize(fyne.NewSize(size.Width-2*i.Side, size.Height-2*i.Top))
	}
}

// MinSize is that of the largest object and the space.
func (i Inset) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for _, o := range objects {
		m = m.Max(o.MinSize())
	}
	return m.AddWidthHeight(2*i.Side, 2*i.Top)
}
