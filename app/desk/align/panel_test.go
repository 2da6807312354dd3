package align

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// TestPanels compares what the sections show with what was looked at and found
// right. Fyne's own tests write what is new beside it, under testdata/failed.
func TestPanels(t *testing.T) {
	x, d := withCalls(t)
	doubt(t, d, 0.7, 0.4)
	film := d.Opened.Facts.Footage[tasktest.FilmID]
	film.Path = "/films/hall.mp4"
	d.Apply("path", timeline.SetFootage(film))
	for at, name := range []string{"film", "sheet", "rosters", "listen", "calls"} {
		x.show(at)
		test.AssertObjectRendersToMarkup(t, "panel-"+name+".xml", x.fold.box)
	}
}

// TestNothingIsCut looks in every language, at the usual and the least window, for
// texts that stick out of the panel.
func TestNothingIsCut(t *testing.T) {
	defer words.Set("en")
	x, d := withCalls(t)
	doubt(t, d, 0.7, 0.4)
	for _, l := range words.Languages {
		words.Set(l.Code)
		y := New(d)
		y.calls.found, y.calls.looked = x.calls.found, true
		d.Win.SetContent(look.Panel(y.Panel()))
		y.Shown()
		for _, size := range []fyne.Size{{Width: 412, Height: 504}, {Width: 330, Height: 400}} {
			d.Win.Resize(size)
			for at := range 5 {
				y.show(at)
				for _, o := range test.LaidOutObjects(d.Win.Content()) {
					c, ok := o.(*canvas.Text)
					if !ok || !c.Visible() || c.Text == "" {
						continue
					}
					p := fyne.CurrentApp().Driver().AbsolutePositionForObject(c)
					if right := p.X + c.MinSize().Width; p.X > 0 && right > size.Width+1 {
						t.Errorf("%s, %v, section %d: %q ends at %.0f", l.Code, size, at, c.Text, right)
					}
				}
				d.Picture(t, fmt.Sprintf("cut-%s%d-%.0f", l.Code, at, size.Width))
			}
		}
	}
}

// TestOtherLooks draws the panel light and with large text; tasktest.EnvPictures keeps
// the pictures, to be looked at.
func TestOtherLooks(t *testing.T) {
	x, d := withCalls(t)
	fyne.CurrentApp().Settings().SetTheme(look.Use(look.LightPalette, 1.4))
	defer look.Use(look.DarkPalette, 1)
	y := New(d)
	y.calls.found, y.calls.looked = x.calls.found, true
	d.Task = y
	doubt(t, d, 0.7, 0.4)
	d.Win.SetContent(look.Panel(y.Panel()))
	y.Shown()
	for at := range 5 {
		y.show(at)
		d.Picture(t, "light"+string(rune('0'+at)))
	}
}
