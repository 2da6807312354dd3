package desk

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
)

// stop is one step of the tour: a task, the part of the window it is about, and
// what to know.
type stop struct {
	task        string
	part        func() fyne.CanvasObject
	title, text string
}

func (d *Desk) stops() []stop {
	return []stop{
		{task.Align, func() fyne.CanvasObject { return d.middle.host }, words.T("1. Align: film and sheet come together"), words.T("Whistlecut hears the officials' whistles and places the sheet's jams on the film. You only confirm the few it is not sure of.")},
		{task.Log, func() fyne.CanvasObject { return d.middle.host }, words.T("2. Log: a jam by keys, at full speed"), words.T("The upper letter row is home, the lower row away. What nobody could see is tagged as not seen, and the score becomes a range instead of a guess.")},
		{task.Check, func() fyne.CanvasObject { return d.middle.host }, words.T("3. Check: sheet and tags, line by line"), words.T("Each difference is one finding with its points at stake. Enter shows it on film. It says where to look; the head referee's decision is final.")},
		{task.Find, func() fyne.CanvasObject { return d.middle.host }, words.T("4. Find: the moments you want, as clips"), words.T("Choose a skater, a situation or a penalty code; see how many moments and how long; play them through or cut them.")},
		{task.Log, func() fyne.CanvasObject { return d.strip }, words.T("5. The strip: the whole bout, always below"), words.T("Home above, away below, the margin along the middle, whistles at the bottom. Click to go there, turn the wheel to zoom. F marks a moment in every task, F1 lists all keys.")},
	}
}

// showTour walks through the desk in five steps. Enter or the right arrow goes on,
// Escape ends it; it can be opened again any time.
func (d *Desk) showTour() {
	if d.session == nil || d.full {
		return
	}
	if p := d.topPage(); p != nil {
		p.close()
	}
	stops := d.stops()
	at := 0
	title, text := look.Title(""), look.Prose("")
	next := look.NewButton("", "", nil).Strong()
	back := look.NewButton(words.T("Back"), "←", nil)
	skip := look.NewButton(words.T("End the tour"), words.T("Esc"), nil)
	card := container.New(look.Inset{Side: look.Apart, Top: look.Apart},
		container.NewBorder(title, container.NewHBox(back, next, skip), nil, nil, text))
	ring := canvas.NewRectangle(color.Transparent)
	ring.StrokeColor, ring.StrokeWidth, ring.CornerRadius = look.Now.Accent, 3, 6
	back0 := canvas.NewRectangle(look.Now.Panel)
	back0.StrokeColor, back0.StrokeWidth, back0.CornerRadius = look.Now.Line, 1, 6
	shade := canvas.NewRectangle(color.NRGBA{A: 0x60})
	over := container.New(&tourLayout{d: d, stop: func() stop { return stops[at] }}, shade, ring, container.NewStack(back0, card))
	was := d.shown
	pg := &page{d: d, over: over}
	d.pages = append(d.pages, pg)
	show := func() {
		s := stops[at]
		d.Show(s.task)
		title.Text = s.title
		text.SetText(s.text)
		back.Hidden = at == 0
		n := words.T("Next")
		if at == len(stops)-1 {
			n = words.T("Start")
		}
		next.SetText(n + "  ↵")
		title.Refresh()
		over.Refresh()
	}
	pg.closed = func() {
		d.set.TourSeen = true
		d.keep()
		d.Show(was)
	}
	move := func(by int) {
		if at+by >= len(stops) {
			pg.close()
			return
		}
		at = max(at+by, 0)
		show()
	}
	next.OnTapped = func() { move(1) }
	back.OnTapped = func() { move(-1) }
	skip.OnTapped = func() { pg.close() }
	pg.key = func(p keys.Press) bool {
		switch p.Name {
		case string(fyne.KeyReturn), string(fyne.KeyEnter), string(fyne.KeyRight), string(fyne.KeySpace):
			move(1)
		case string(fyne.KeyLeft):
			move(-1)
		default:
			return false
		}
		return true
	}
	c := d.win.Canvas()
	c.Overlays().Add(over)
	over.Resize(c.Size())
	show()
}

// tourLayout darkens the window, rings the part in question and puts the card
// where it does not cover it.
type tourLayout struct {
	d    *Desk
	stop func() stop
}

func (l *tourLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(size)
	drv := fyne.CurrentApp().Driver()
	part := l.stop().part()
	origin := drv.AbsolutePositionForObject(o[0])
	at := drv.AbsolutePositionForObject(part).Subtract(origin)
	o[1].Move(at.SubtractXY(look.Tight, look.Tight))
	o[1].Resize(part.Size().AddWidthHeight(2*look.Tight, 2*look.Tight))
	w, h := min(look.Size(440), size.Width-2*look.Wide), look.Size(190)
	o[2].Move(fyne.NewPos(min(look.Size(110), size.Width-w-look.Wide), max((size.Height-h)*0.42, look.Wide)))
	o[2].Resize(fyne.NewSize(w, h))
}

func (l *tourLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(320, 240)
}
