package ledger

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
	"whistlecut/timeline"
)

// Heading is a heading between tables.
func Heading(text string) fyne.CanvasObject {
	t := look.Line(text, look.Now.Text, look.TextSize)
	t.TextStyle.Bold = true
	return container.New(look.Inset{Top: look.Tight}, t)
}

// TeamHeading is a heading with the colour of a side before it.
func TeamHeading(text string, side timeline.Side) fyne.CanvasObject {
	bar := canvas.NewRectangle(look.Now.Of(side))
	bar.SetMinSize(fyne.NewSize(5, look.Size(look.TextSize)))
	return container.NewBorder(nil, nil, container.New(look.Inset{Top: look.Tight}, bar), nil, Heading(text))
}

// Text is quiet text that wraps.
func Text(text string) fyne.CanvasObject {
	return look.NewParagraph(text, look.Now.Quiet, look.NoteSize)
}

// Warning is text that has to be read first.
func Warning(text string) fyne.CanvasObject {
	return look.NewParagraph(text, look.Now.Differs, look.RowSize)
}
