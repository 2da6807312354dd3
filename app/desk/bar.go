package desk

import (
	"image/color"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
)

// bar is the top of the window: which bout, the tasks with what waits in each,
// and the menus.
type bar struct {
	d     *Desk
	view  *fyne.Container
	names map[string]*tab
	title *canvas.Text
	date  *canvas.Text
}

func newBar(d *Desk) *bar {
	b := &bar{d: d, names: map[string]*tab{}}
	b.title = look.Line("", look.Now.Text, look.TextSize)
	b.title.TextStyle.Bold = true
	b.date = look.Line("", look.Now.Quiet, look.RowSize)
	tabs := container.NewHBox()
	for _, t := range d.tasks {
		n := newTab(t.Title(), func() { d.Show(t.ID()) })
		b.names[t.ID()] = n
		tabs.Add(n)
	}
	menus := container.NewHBox(
		link(words.T("Undo"), d.Undo),
		link(words.T("Marks"), d.showMarks),
		link(words.T("Bout"), d.showMenu),
		link(words.T("Preferences"), d.showPreferences),
	)
	under := canvas.NewRectangle(look.Now.Line)
	b.view = container.New(&barLayout{}, container.NewHBox(b.title, b.date), tabs, menus, under)
	b.refresh()
	return b
}

// refresh shows the title and what waits anew.
func (b *bar) refresh() {
	title, date := "Whistlecut", ""
	if b.d.session != nil {
		title, date = b.d.boutTitle(), b.d.session.Facts.Info.Date
	}
	b.title.Text, b.date.Text = look.Fit(title, look.Size(300), b.title.TextSize, b.title.TextStyle), date
	b.title.Refresh()
	b.date.Refresh()
	for _, t := range b.d.tasks {
		b.names[t.ID()].set(t.Waiting(), t.ID() == b.d.shown)
	}
	b.view.Refresh()
}

// barLayout puts the title left, the menus right, and the tasks between: in the
// middle of the window where there is room, else after the title.
type barLayout struct{}

func (barLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	left, mid, right := o[0].MinSize(), o[1].MinSize(), o[2].MinSize()
	y := func(m fyne.Size) float32 { return (size.Height - m.Height) / 2 }
	rightX := size.Width - right.Width - look.Near
	midX := min((size.Width-mid.Width)/2, rightX-mid.Width-look.Near)
	leftW := left.Width
	if midX < look.Apart+leftW+look.Near {
		midX = max(rightX-mid.Width-look.Near, look.Apart)
		leftW = max(midX-look.Apart-look.Near, 0)
	}
	if leftW < left.Width {
		o[0].Hide()
	} else {
		o[0].Show()
	}
	o[0].Move(fyne.NewPos(look.Apart, y(left)))
	o[0].Resize(fyne.NewSize(leftW, left.Height))
	o[1].Move(fyne.NewPos(midX, 0))
	o[1].Resize(fyne.NewSize(mid.Width, size.Height))
	o[2].Move(fyne.NewPos(rightX, y(right)))
	o[2].Resize(right)
	o[3].Move(fyne.NewPos(0, size.Height-1))
	o[3].Resize(fyne.NewSize(size.Width, 1))
}

func (barLayout) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, look.Size(40)) }

// tab is the name of a task with the number of things that wait in it.
type tab struct {
	widget.BaseWidget
	text    string
	waiting int
	active  bool
	tapped  func()
}

func newTab(text string, tapped func()) *tab {
	t := &tab{text: text, tapped: tapped}
	t.ExtendBaseWidget(t)
	return t
}

func (t *tab) set(waiting int, active bool) {
	t.waiting, t.active = waiting, active
	t.Refresh()
}

func (t *tab) Tapped(*fyne.PointEvent) { t.tapped() }

func (t *tab) CreateRenderer() fyne.WidgetRenderer {
	r := &tabRenderer{
		t: t, name: look.Line("", look.Now.Text, look.TextSize), count: look.Line("", look.Now.Quiet, look.NoteSize),
		pill: canvas.NewRectangle(look.Now.Raised), line: canvas.NewRectangle(look.Now.Accent),
	}
	r.pill.CornerRadius = 8
	r.Refresh()
	return r
}

type tabRenderer struct {
	t           *tab
	name, count *canvas.Text
	pill, line  *canvas.Rectangle
	size        fyne.Size
}

func (r *tabRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.name, r.pill, r.count, r.line}
}
func (r *tabRenderer) Destroy() {}

func (r *tabRenderer) MinSize() fyne.Size {
	bold := fyne.TextStyle{Bold: true} // the width of the active state, so that nothing jumps
	w := fyne.MeasureText(r.t.text, r.name.TextSize, bold).Width + look.Apart
	if r.t.waiting > 0 {
		w += r.count.MinSize().Width + look.Near + look.Tight
	}
	return fyne.NewSize(w, look.Size(40))
}

func (r *tabRenderer) Layout(size fyne.Size) {
	r.size = size
	n := r.name.MinSize()
	x := look.Apart / 2
	r.name.Move(fyne.NewPos(x, (size.Height-n.Height)/2))
	r.name.Resize(n)
	r.line.Move(fyne.NewPos(x, size.Height-3))
	r.line.Resize(fyne.NewSize(n.Width, 3))
	c := r.count.MinSize()
	cx := x + n.Width + look.Near
	r.count.Move(fyne.NewPos(cx, (size.Height-c.Height)/2))
	r.count.Resize(c)
	r.pill.Move(fyne.NewPos(cx-look.Tight, (size.Height-c.Height)/2-1))
	r.pill.Resize(fyne.NewSize(c.Width+2*look.Tight, c.Height+2))
}

func (r *tabRenderer) Refresh() {
	r.name.Text = r.t.text
	r.name.Color, r.name.TextStyle.Bold = look.Now.Quiet, r.t.active
	r.line.FillColor = color.Transparent
	if r.t.active {
		r.name.Color, r.line.FillColor = look.Now.Text, look.Now.Accent
	}
	r.count.Text = strconv.Itoa(r.t.waiting)
	r.count.Hidden, r.pill.Hidden = r.t.waiting == 0, r.t.waiting == 0
	r.Layout(r.size)
	canvas.Refresh(r.t)
}

// quietLink is a word that can be clicked.
type quietLink struct {
	widget.BaseWidget
	text   string
	tapped func()
}

func link(text string, tapped func()) *quietLink {
	l := &quietLink{text: text, tapped: tapped}
	l.ExtendBaseWidget(l)
	return l
}

func (l *quietLink) Tapped(*fyne.PointEvent) { l.tapped() }

func (l *quietLink) CreateRenderer() fyne.WidgetRenderer {
	t := look.Line(l.text, look.Now.Quiet, look.RowSize)
	return widget.NewSimpleRenderer(container.NewPadded(t))
}

// Show brings a task on the desk.
func (d *Desk) Show(id string) {
	if d.session == nil {
		return
	}
	for _, t := range d.all() {
		if t.ID() != id {
			continue
		}
		if l, ok := d.current().(task.Leaver); ok && d.shown != id {
			l.Leave()
		}
		if d.shown != id && !d.isPage(d.shown) {
			d.links.before = d.shown
		}
		wide := d.wide()
		d.shown = id
		if d.panels[id] == nil {
			d.panels[id] = t.Panel()
		}
		d.middle.show(d.panels[id])
		t.Shown()
		t.Moved(d.Now())
		d.bar.refresh()
		if wide != d.wide() {
			d.arrange() // the panel is wider or narrower
		}
		return
	}
}

// current is the task on the desk.
func (d *Desk) current() task.Task {
	for _, t := range d.all() {
		if t.ID() == d.shown {
			return t
		}
	}
	return nil
}
