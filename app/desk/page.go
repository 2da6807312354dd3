package desk

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// page is a card over the desk: the list of marks, the history, the keys. Escape
// closes it; other keys go to it while it is on top.
type page struct {
	d    *Desk
	over fyne.CanvasObject // what lies over the desk
	// key gets the presses nobody has the focus for; it reports whether it took one.
	key    func(keys.Press) bool
	closed func()
}

// openPage shows content under a title, as large as asked and as the window allows.
func (d *Desk) openPage(title string, size fyne.Size, content fyne.CanvasObject, key func(keys.Press) bool, buttons ...fyne.CanvasObject) *page {
	p := &page{d: d, key: key}
	foot := container.NewHBox()
	for _, b := range buttons {
		foot.Add(b)
	}
	foot.Add(look.NewButton(words.T("Close"), words.T("Esc"), func() { p.close() }))
	body := container.NewBorder(container.NewVBox(look.Title(title), look.Gap(look.Tight)), container.NewBorder(nil, nil, nil, foot), nil, nil, content)
	c := d.win.Canvas()
	popup := widget.NewModalPopUp(container.New(look.Inset{Side: look.Apart, Top: look.Apart}, body), c)
	room := c.Size()
	popup.Resize(fyne.NewSize(min(size.Width, room.Width-2*look.Apart), min(size.Height, room.Height-2*look.Apart)))
	p.over = popup
	d.pages = append(d.pages, p)
	popup.Show()
	return p
}

// close takes the card away.
func (p *page) close() {
	p.over.Hide()
	p.d.win.Canvas().Overlays().Remove(p.over)
	for i, x := range p.d.pages {
		if x == p {
			p.d.pages = append(p.d.pages[:i], p.d.pages[i+1:]...)
			break
		}
	}
	p.d.win.Canvas().Unfocus()
	if p.closed != nil {
		p.closed()
	}
}

// topPage is the card on top, when nothing lies over it.
func (d *Desk) topPage() *page {
	if n := len(d.pages); n > 0 && d.win.Canvas().Overlays().Top() == d.pages[n-1].over {
		return d.pages[n-1]
	}
	return nil
}
