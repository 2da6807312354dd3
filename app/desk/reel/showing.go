package reel

import (
	"fyne.io/fyne/v2"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// showing is a reel in front of a team: the film alone in full screen, part by
// part as the person who speaks wants it.
type showing struct {
	t     *Task
	black bool
	help  bool // the keys are named on the picture
	// loose drawings were drawn just now and nobody has kept them.
	loose []timeline.Drawing
	notes *notes
}

// startShow shows the reel from the chosen part on.
func (t *Task) startShow() {
	list := t.parts()
	_, i := t.part()
	if i < 0 {
		return
	}
	t.leaveDrawing()
	t.stop()
	s := &showing{t: t, help: true}
	r := &runner{desk: t.desk, later: t.later, local: t.local, parts: list, waits: true}
	r.changed = func() {
		t.chosen = r.part().ID
		t.refresh()
		s.tell()
	}
	// A person who takes the film elsewhere ends a play-through; here it stands still.
	r.ended = func(bool) { t.refresh() }
	t.show, t.run = s, r
	t.desk.Alone(true)
	r.start(i)
}

// leaveShow ends it.
func (t *Task) leaveShow() {
	s := t.show
	if s == nil {
		return
	}
	t.leaveDrawing()
	t.show = nil
	t.stop()
	s.closeNotes()
	t.desk.Beside("")
	t.desk.Alone(false)
	t.refresh()
}

// press is a key while the reel is shown; the keys of clickers are among them.
// It takes all but those of the sound.
func (s *showing) press(p keys.Press) bool {
	t, r := s.t, s.t.run
	if r == nil {
		t.leaveShow()
		return true
	}
	if p.Held {
		return true
	}
	if s.help && p.Name != "H" {
		s.help = false
	}
	if t.draw != nil && s.drawKey(p) {
		return true
	}
	switch fyne.KeyName(p.Name) {
	case fyne.KeyF3, fyne.KeyF4:
		return false
	case fyne.KeyPageDown, fyne.KeyRight, fyne.KeyDown, fyne.KeyReturn, fyne.KeyEnter:
		s.step(1)
	case fyne.KeyPageUp, fyne.KeyLeft, fyne.KeyUp, fyne.KeyBackspace:
		s.step(-1)
	case fyne.KeySpace:
		s.goOn()
	case "R", fyne.KeyHome:
		s.again()
	case "B", fyne.KeyPeriod:
		s.black = !s.black
		if s.black {
			r.hold()
		}
		s.fresh()
	case "D":
		s.draw("")
	case "N":
		s.toggleNotes()
	case "H", fyne.KeyF1:
		s.help = !s.help
		s.fresh()
	case fyne.KeyEscape:
		t.leaveShow()
	default:
		if shape, ok := shapeKey(p.Name); ok {
			s.draw(shape)
		}
	}
	return true
}

// step shows the part so many further on; after the last the screen is black.
func (s *showing) step(by int) {
	r := s.t.run
	s.clear()
	switch i := r.at + by; {
	case s.black && by < 0: // back to what was shown
		s.black = false
		s.again()
	case i >= len(r.parts):
		s.black = true
		r.hold()
		s.fresh()
	case i >= 0:
		s.black = false
		r.start(i)
	default:
		s.again()
	}
}

// goOn pauses or goes on; after a part's end it shows the next one.
func (s *showing) goOn() {
	r := s.t.run
	switch {
	case s.black:
		s.black = false
		s.fresh()
	case r.over:
		s.step(1)
	default:
		s.clear()
		r.toggle()
		s.fresh()
	}
}

// again shows the part from its beginning.
func (s *showing) again() {
	s.clear()
	s.black = false
	s.t.run.start(s.t.run.at)
}

// clear takes away what was drawn and not kept.
func (s *showing) clear() {
	s.loose = nil
	s.t.leaveDrawing()
}

func (s *showing) fresh() {
	s.t.stage.refresh()
	s.tell()
}

// draw takes a pen in the hand; the picture stands still.
func (s *showing) draw(shape timeline.Shape) {
	t := s.t
	if shape == "" {
		if t.draw != nil {
			s.putAway()
			return
		}
		shape = timeline.ShapeFree
	}
	if s.black || t.run.card() {
		return
	}
	t.run.hold()
	t.startDrawing(shape)
	if t.draw != nil {
		t.draw.live = true
		if len(t.draw.loose) == 0 {
			t.draw.loose = s.loose
		}
	}
	s.fresh()
}

// putAway puts the pen away; what was drawn stays until the film goes on.
func (s *showing) putAway() {
	s.loose = s.t.draw.loose
	s.t.leaveDrawing()
	s.fresh()
}

// drawKey is a key while the pen is in the hand.
func (s *showing) drawKey(p keys.Press) bool {
	d := s.t.draw
	switch fyne.KeyName(p.Name) {
	case fyne.KeyEscape:
		if !d.escape() {
			s.putAway()
		}
	case fyne.KeyBackspace, fyne.KeyDelete:
		d.remove()
	case "Z":
		if !p.Ctrl {
			return false
		}
		d.remove()
	case "Q":
		d.nextColour()
	case "W":
		d.nextWidth()
	case fyne.KeyReturn, fyne.KeyEnter:
		if !d.tool.Begun() {
			return false
		}
		d.enter()
	case "K":
		s.keep()
	default:
		return false
	}
	s.fresh()
	return true
}

// keep stores what was drawn, as drawings of the picture shown.
func (s *showing) keep() {
	t := s.t
	n := t.desk.Now()
	if t.away() {
		t.desk.Say(words.T("Drawings are kept on the films of this bout only."))
		return
	}
	if t.draw == nil || len(t.draw.loose) == 0 || n.Footage == "" {
		return
	}
	var changes []timeline.Change
	for _, d := range t.draw.loose {
		changes = append(changes, timeline.SetTag(t.tagOf(d, n)))
	}
	k := len(changes)
	if t.apply(words.N(k, "{.n} drawing kept", "{.n} drawings kept"), changes...) {
		t.draw.loose, s.loose = nil, nil
		t.refresh()
	}
}

// shapeKey is the shape that a number key takes in the hand.
func shapeKey(name string) (timeline.Shape, bool) {
	shapes := timeline.Shapes()
	if len(name) == 1 && name[0] >= '1' && int(name[0]-'1') < len(shapes) {
		return shapes[name[0]-'1'], true
	}
	return "", false
}

// stageHint is what stands over the picture's upper edge.
func (t *Task) stageHint() string {
	switch {
	case t.show != nil && t.draw != nil:
		return words.T("{.shape}: drag  |  1–9 shape  |  Q colour  |  Backspace last one away  |  K keep  |  Esc ends", "shape", shapeText(t.draw.tool.Shape))
	case t.show != nil && t.show.help:
		return words.T("Page Down next  |  Page Up back  |  Space pause  |  R again  |  B black  |  D draw  |  N notes  |  H keys  |  Esc ends")
	case t.draw != nil && t.draw.tool.Shape == timeline.ShapeArea && t.draw.tool.Begun():
		return words.T("Click the corners; Enter or the first corner closes the area.")
	}
	return ""
}
