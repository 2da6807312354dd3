package align

import (
	"fmt"
	"math"
	"time"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// signed is a shift in seconds to the millisecond: "+0.040 s".
func signed(d time.Duration) string { return fmt.Sprintf("%+.3f s", d.Seconds()) }

// percent is a share of 1 in whole hundredths, never rounded up to sure.
func percent(x float64) string { return fmt.Sprintf("%d %%", int(math.Floor(100*x+1e-9))) }

// jamName is how a jam is called in lists.
func jamName(period, number int) string {
	return words.T("P{.period} J{.jam}", "period", period, "jam", number)
}

// headings are the names over the columns of a list.
type headings struct {
	widget.BaseWidget
	columns []look.Column
	names   []string
}

func newHeadings(columns []look.Column, names ...string) *headings {
	h := &headings{columns: columns, names: names}
	h.ExtendBaseWidget(h)
	return h
}

func (h *headings) CreateRenderer() fyne.WidgetRenderer {
	r := &headingsRenderer{h: h}
	for range h.names {
		r.texts = append(r.texts, canvas.NewText("", look.Now.Quiet))
	}
	return r
}

type headingsRenderer struct {
	h     *headings
	texts []*canvas.Text
	size  fyne.Size
}

func (r *headingsRenderer) MinSize() fyne.Size { return fyne.NewSize(60, look.Size(look.NoteSize)+4) }
func (r *headingsRenderer) Destroy()           {}
func (r *headingsRenderer) Refresh()           { r.Layout(r.size); canvas.Refresh(r.h) }
func (r *headingsRenderer) Objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(r.texts))
	for i, t := range r.texts {
		out[i] = t
	}
	return out
}

// Layout places the names as look.Rows places its cells.
func (r *headingsRenderer) Layout(size fyne.Size) {
	r.size = size
	slots := look.Slots(r.h.columns, size.Width)
	for i, t := range r.texts {
		c := r.h.columns[i]
		w, at := slots[i].W, slots[i].X
		t.Color, t.TextSize = look.Now.Quiet, look.Size(10)
		t.Text = look.Fit(r.h.names[i], w, t.TextSize, t.TextStyle)
		if slots[i].Below {
			t.Text = "" // the line below says what it is
		}
		m := t.MinSize()
		if c.Right {
			at += w - m.Width
		}
		t.Move(fyne.NewPos(at, (size.Height-m.Height)/2))
		t.Resize(m)
	}
}
