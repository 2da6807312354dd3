package reel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
)

// notes is a second window for the person who speaks: what the part is, what to
// say, and what comes next. The team does not see it.
type notes struct {
	win                              fyne.Window
	place                            *canvas.Text
	caption, point, private, next    *look.Paragraph
	pointName, privateName, nextName *canvas.Text
	pile                             *fyne.Container
	rule                             fyne.CanvasObject
}

// toggleNotes opens the window or closes it.
func (s *showing) toggleNotes() {
	if s.notes != nil {
		s.closeNotes()
		return
	}
	n := &notes{win: fyne.CurrentApp().NewWindow(words.T("Notes of the reel"))}
	n.place, n.rule = look.Title(""), look.Rule()
	n.caption = look.NewParagraph("", look.Now.Text, noteSize)
	n.point = look.NewParagraph("", look.Now.Text, noteSize)
	n.private = look.NewParagraph("", look.Now.Text, noteSize)
	n.next = look.NewParagraph("", look.Now.Quiet, noteSize)
	name := func(s string) *canvas.Text { return look.Line(s, look.Now.Quiet, look.RowSize) }
	n.pointName, n.privateName, n.nextName = name(words.T("talking point")), name(words.T("private note")), name(words.T("next"))
	n.pile = container.New(look.Pile{Gap: look.Near}, n.place, n.caption, n.rule, n.pointName, n.point, n.privateName, n.private, look.Rule(), n.nextName, n.next)
	n.win.SetContent(container.NewStack(canvas.NewRectangle(look.Now.Ground), container.NewVScroll(container.New(look.Inset{Side: look.Apart, Top: look.Apart}, n.pile))))
	n.win.SetPadded(false)
	n.win.Resize(fyne.NewSize(look.Size(520), look.Size(420)))
	n.win.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) {
		s.press(keys.Press{Name: string(e.Name), Code: e.Physical.ScanCode})
	})
	n.win.SetOnClosed(func() {
		if s.notes == n {
			s.notes = nil
		}
	})
	s.notes = n
	s.tell()
	n.win.Show()
}

// noteSize is larger than elsewhere: it is read from a little away.
const noteSize float32 = 17

func (s *showing) closeNotes() {
	if n := s.notes; n != nil {
		s.notes = nil
		n.win.Close()
	}
}

// tell shows the notes of what is shown now.
func (s *showing) tell() {
	n, t := s.notes, s.t
	if n == nil || t.run == nil {
		return
	}
	r := t.run
	p := r.part()
	starts, whole := startOf(r.parts)
	n.place.Text = words.T("Part {.n} of {.all}  |  {.at} of {.length}", "n", r.at+1, "all", len(r.parts),
		"at", terms.Clock(starts[r.at], 0), "length", terms.Clock(whole, 0))
	if s.black {
		n.place.Text += "  |  " + words.T("black")
	}
	n.place.Refresh()
	n.caption.Set(t.partText(p))
	n.point.Set(p.Point)
	n.private.Set(p.Private)
	look.Show(n.rule, p.Point+p.Private != "")
	look.Show(n.pointName, p.Point != "")
	look.Show(n.point, p.Point != "")
	look.Show(n.privateName, p.Private != "")
	look.Show(n.private, p.Private != "")
	next := words.T("the end")
	if r.at+1 < len(r.parts) {
		next = t.partText(r.parts[r.at+1])
	}
	n.next.Set(next)
	n.pile.Refresh()
}
