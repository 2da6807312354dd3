package form

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
)

// Dialog is one dialog: a title, what it asks, and a row of buttons. Make it, make
// its entries with it, then Show it.
type Dialog struct {
	// Accept is what Enter in a one-line entry does; nil does nothing.
	Accept func()
	// Keys sees keys that no entry takes; it reports whether it used one.
	Keys func(fyne.KeyName) bool
	// Closed is called when the dialog goes, however that came.
	Closed func()

	win   fyne.Window
	title *canvas.Text
	say   *widget.Label
	popup *widget.PopUp
	pad   *pad
	all   *fyne.Container
	size  fyne.Size
	open  bool
}

// New makes a dialog of about that size; it never outgrows its window.
func New(w fyne.Window, title string, size fyne.Size) *Dialog {
	d := &Dialog{win: w, title: look.Title(title), say: widget.NewLabel(""), size: size}
	d.say.Wrapping = fyne.TextWrapWord
	d.say.Importance = widget.DangerImportance
	d.say.Hide()
	d.pad = newPad(d)
	return d
}

// Show puts the dialog on the window; first gets the keyboard, if it is not nil.
func (d *Dialog) Show(content fyne.CanvasObject, first fyne.Focusable, buttons ...fyne.CanvasObject) {
	row := container.NewHBox(layout.NewSpacer())
	for _, b := range buttons {
		row.Add(b)
	}
	middle := container.NewStack(d.pad, content)
	d.all = container.New(&column{rest: middle, whole: true}, d.title, middle, d.say, row)
	d.popup = widget.NewModalPopUp(container.New(look.Inset{Side: look.Apart, Top: look.Near}, d.all), d.win.Canvas())
	room := d.win.Canvas().Size()
	d.size = fyne.NewSize(min(d.size.Width, room.Width-look.Wide), min(d.size.Height, room.Height-look.Wide))
	d.popup.Resize(d.size)
	d.Retitle(d.title.Text)
	d.open = true
	d.popup.Show()
	shown[d.popup] = d
	if first == nil {
		first = d.pad
	}
	d.win.Canvas().Focus(first)
}

// shown are the dialogs on all windows by what lies over the window, for keys that
// nothing in them has the focus for.
var shown = map[fyne.CanvasObject]*Dialog{}

// Press gives a key to the dialog that is an overlay; it reports whether there is
// such a dialog and it used the key. A key that closed it counts as used.
func Press(overlay fyne.CanvasObject, k fyne.KeyName) bool {
	d := shown[overlay]
	return d != nil && d.press(k)
}

// Retitle changes the title.
func (d *Dialog) Retitle(title string) {
	d.title.Text = look.Fit(title, d.size.Width-2*look.Apart-look.Near, d.title.TextSize, d.title.TextStyle)
	d.title.Refresh()
}

// Say shows what is wrong above the buttons; "" takes it away.
func (d *Dialog) Say(text string) {
	d.say.SetText(text)
	if text == "" {
		d.say.Hide()
	} else {
		d.say.Show()
	}
	d.Relay()
}

// Relay lays the dialog out anew, after a text in it changed its length.
func (d *Dialog) Relay() {
	if d.all != nil {
		d.all.Refresh()
	}
}

// Focus gives the keyboard to an entry, or with nil to the dialog itself.
func (d *Dialog) Focus(f fyne.Focusable) {
	if f == nil {
		f = d.pad
	}
	if d.open {
		d.win.Canvas().Focus(f)
	}
}

// Close takes the dialog off the window.
func (d *Dialog) Close() {
	if !d.open {
		return
	}
	d.open = false
	delete(shown, d.popup)
	d.popup.Hide()
	if d.Closed != nil {
		d.Closed()
	}
}

// IsOpen reports whether the dialog is shown.
func (d *Dialog) IsOpen() bool { return d.open }

// Said is what the dialog says is wrong, "" for nothing.
func (d *Dialog) Said() string { return d.say.Text }

// Button is a button of the dialog, that gives the keyboard back to it.
func (d *Dialog) Button(text, hint string, tapped func()) *look.Button {
	return look.NewButton(text, hint, func() {
		tapped()
		d.Focus(nil)
	})
}

// press is what a key does that no entry wanted.
func (d *Dialog) press(k fyne.KeyName) bool {
	if d.Keys != nil && d.Keys(k) {
		return true
	}
	switch k {
	case fyne.KeyEscape:
		d.Close()
		return true
	case fyne.KeyReturn, fyne.KeyEnter:
		if d.Accept != nil {
			d.Accept()
			return true
		}
	}
	return false
}

// pad takes the keys of a dialog in which no entry has the keyboard.
type pad struct {
	widget.BaseWidget
	d *Dialog
}

func newPad(d *Dialog) *pad {
	p := &pad{d: d}
	p.ExtendBaseWidget(p)
	return p
}

func (p *pad) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}
func (p *pad) FocusGained()              {}
func (p *pad) FocusLost()                {}
func (p *pad) TypedRune(rune)            {}
func (p *pad) TypedKey(e *fyne.KeyEvent) { p.d.press(e.Name) }
