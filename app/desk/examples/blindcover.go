package examples

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// blindCover lies over the film while a second opinion is given: the question and
// the answers on a plate at the lower edge.
type blindCover struct {
	widget.BaseWidget
	b      *blind
	plate  *fyne.Container
	pile   *fyne.Container
	head   *look.Paragraph // a question too long for one line with its answers
	line   *canvas.Text    // any other
	hint   *look.Paragraph // while the first example is shown
	chips  *fyne.Container
	why    *whyEntry
	writes bool // the words are being written
}

// whyEntry takes a reason in words; Enter keeps the opinion.
type whyEntry struct {
	widget.Entry
	b *blind
}

// TypedKey keeps on Enter and leaves on Escape.
func (e *whyEntry) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		e.b.keep(e.Text)
	case fyne.KeyEscape:
		e.b.t.leaveBlind()
	default:
		e.Entry.TypedKey(k)
	}
}

func newBlindCover(b *blind) *blindCover {
	c := &blindCover{b: b}
	c.head = look.NewParagraph("", look.Now.Text, look.TitleSize)
	c.line = look.Line("", look.Now.Text, look.TitleSize)
	c.hint = look.NewParagraph("", look.Now.Quiet, look.RowSize)
	c.chips = container.New(&look.Flow{Gap: look.Near})
	c.why = &whyEntry{b: b}
	c.why.ExtendBaseWidget(c.why)
	c.why.SetPlaceHolder(words.T("why, if you like; Enter stores the opinion"))
	c.pile = container.New(look.Pile{Gap: look.Near}, c.head, c.chips, c.why, c.hint)
	ground := look.Now.Panel
	ground.A = 0xE4 // the film goes on below it
	back := canvas.NewRectangle(ground)
	c.plate = container.NewStack(back, container.New(look.Inset{Side: look.Apart, Top: look.Near}, c.pile))
	c.ExtendBaseWidget(c)
	return c
}

// set shows the step the answer is at.
func (c *blindCover) set() {
	b := c.b
	if b.at < 0 || b.at >= len(b.list) {
		return
	}
	x := b.current()
	c.chips.Objects = nil
	chip := func(text, key string, tap func()) {
		c.chips.Add(look.NewLargeChip(text, key, tap))
	}
	asks := words.T("{.n} of {.all}: {.question}", "n", b.at+1, "all", len(b.list), "question", asking(x.e.Ask, x.e.Asked))
	long := fyne.MeasureText(asks, c.line.TextSize, c.line.TextStyle).Width > c.Size().Width/2
	c.head.Set(asks)
	look.Show(c.head, long)
	if c.line.Text = asks; !long {
		c.chips.Add(c.line)
	}
	switch b.step {
	case askChoice:
		for i, choice := range x.e.Ask.Choices() {
			chip(choiceText(x.e.Ask, choice), ordinalKey(i), func() { b.choose(choice) })
		}
		chip(words.T("no opinion"), "0", b.next)
	case askCode:
		for _, p := range b.rules().Codes {
			chip(codeText(b.rules(), p.Letter), "", func() { b.choosePenalty(p.Letter) })
		}
		chip(words.T("any"), words.T("Enter"), func() { b.choosePenalty("") })
	case askWhy:
		chip(cited(b.rules(), x.e.Ask, b.pick), "", b.back)
		chip(words.T("store"), words.T("Enter"), func() { b.keep(c.why.Text) })
	}
	c.hint.Set(words.T("{.who} judges. Space plays, arrows step, Backspace goes back, Esc ends.", "who", b.by))
	look.Show(c.hint, b.at == 0)
	look.Show(c.why, b.step == askWhy)
	canv := fyne.CurrentApp().Driver().CanvasForObject(c)
	switch {
	case b.step == askWhy && !c.writes:
		c.writes = true
		c.why.SetText("")
		if canv != nil {
			canv.Focus(c.why)
		}
	case b.step != askWhy && c.writes:
		c.writes = false
		if canv != nil {
			canv.Unfocus()
		}
	}
	c.chips.Refresh()
	c.Refresh()
}

// Tapped plays or pauses, as a click on the film does elsewhere.
func (c *blindCover) Tapped(*fyne.PointEvent) {
	d := c.b.t.desk
	if d.Now().Playing {
		d.Pause()
	} else {
		d.Play()
	}
}

// MinSize asks for nothing: the screen says how large it is.
func (c *blindCover) MinSize() fyne.Size { return fyne.NewSize(1, 1) }

// CreateRenderer shows the plate and nothing else.
func (c *blindCover) CreateRenderer() fyne.WidgetRenderer { return &blindRenderer{c} }

type blindRenderer struct{ c *blindCover }

func (r *blindRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.c.plate} }
func (r *blindRenderer) MinSize() fyne.Size           { return r.c.MinSize() }
func (r *blindRenderer) Destroy()                     {}

// Layout puts the plate at the lower edge, as high as its texts wrap to.
func (r *blindRenderer) Layout(size fyne.Size) {
	r.c.plate.Resize(fyne.NewSize(size.Width, r.c.plate.Size().Height))
	high := r.c.plate.MinSize().Height
	r.c.plate.Move(fyne.NewPos(0, max(size.Height-high, 0)))
	r.c.plate.Resize(fyne.NewSize(size.Width, high))
}

func (r *blindRenderer) Refresh() {
	r.Layout(r.c.Size())
	r.c.plate.Refresh()
	canvas.Refresh(r.c)
}
