package desk

import (
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// firstPage is what the window shows without a bout: start one, open one, or go on
// with one of the last.
func (d *Desk) firstPage() fyne.CanvasObject {
	title := canvas.NewText("Whistlecut", look.Now.Text)
	title.TextSize, title.TextStyle.Bold = look.Size(26), true
	what := look.Prose(words.T("Lines your footage up with the bout, checks the official sheet against what you tag, and cuts the moments you want to see."))
	start := look.NewButton(words.T("New bout from film or sheet"), form.Ctrl("N"), d.newBout).Strong()
	open := look.NewButton(words.T("Open a bout"), form.Ctrl("O"), d.askOpen)
	page := container.NewVBox(title, what, look.Gap(look.Near), container.NewHBox(start, open), look.Gap(look.Apart))
	if len(d.set.Recent) > 0 {
		page.Add(look.Line(words.T("Bouts opened last"), look.Now.Quiet, look.TextSize))
		rows := look.NewRows([]look.Column{{Width: 230}, {}}, func() int { return len(d.set.Recent) }, func(i int) []look.Cell {
			p := d.set.Recent[i]
			dir := look.Cell{Text: filepath.Dir(p), Colour: look.Now.Quiet}
			if _, err := os.Stat(p); err != nil {
				dir = look.Cell{Text: words.T("not there any more: {.path}", "path", p), Colour: look.Now.Unsure}
			}
			return []look.Cell{{Text: filepath.Base(p), Bold: true}, dir}
		})
		rows.Chosen = func(i int) { d.Open(d.set.Recent[i]) }
		h := min(float32(len(d.set.Recent)), 7) * (rows.MinSize().Height + 2)
		page.Add(container.New(fixedHeight(h), rows))
	}
	page.Add(look.Note(words.T("Films and sheets can be dropped onto this window. Nothing leaves this machine. The head referee's decision is final.")))
	return container.New(&centred{width: look.Size(620)}, page)
}

// fixedHeight gives its one object a height.
type fixedHeight float32

func (h fixedHeight) Layout(o []fyne.CanvasObject, size fyne.Size) {
	for _, x := range o {
		x.Resize(size)
	}
}

func (h fixedHeight) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(100, float32(h)) }

// centred puts one object of a given width in the middle, a little high.
type centred struct{ width float32 }

func (c *centred) Layout(o []fyne.CanvasObject, size fyne.Size) {
	w := min(c.width, size.Width-2*look.Wide)
	for _, x := range o {
		h := x.MinSize().Height
		x.Move(fyne.NewPos((size.Width-w)/2, max((size.Height-h)*0.4, look.Near)))
		x.Resize(fyne.NewSize(w, h))
	}
}

func (c *centred) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(320, 200) }
