package reel

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/reel/pen"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// nudge is how far an arrow key moves a drawing, in parts of the picture's height.
const nudge = 0.01

// enter finishes an area; else it draws the shape in the middle of the picture,
// to be moved by the arrow keys.
func (d *drawing) enter() {
	switch {
	case d.nudging:
		d.endNudging()
	case d.tool.Begun():
		if made, ok := d.tool.Finish(); ok {
			d.add(made)
		}
	case d.tool.Shape != "":
		d.tool.Number = d.nextNumber()
		d.add(d.tool.Usual())
		if !d.live && d.chosen != "" {
			d.startNudging()
		}
	default:
		d.startNudging()
	}
	d.t.refresh()
}

// startNudging lets the arrow keys move the chosen drawing.
func (d *drawing) startNudging() {
	x, ok := d.current()
	if !ok {
		return
	}
	c := *x.Drawing
	d.moving, d.nudging, d.handle = &c, true, pen.Whole
	d.t.desk.Say(words.T("The arrow keys move the drawing, with Shift its last point; Enter leaves it there."))
}

func (d *drawing) endNudging() {
	if d.nudging {
		d.settle()
	}
}

// press sees keys before the desk does: while a drawing is moved by the arrow keys
// they are its own.
func (d *drawing) press(p keys.Press) bool {
	if !d.nudging || d.moving == nil || p.Ctrl || p.Alt {
		return false
	}
	dx, dy := 0.0, 0.0
	switch fyne.KeyName(p.Name) {
	case fyne.KeyLeft:
		dx = -nudge
	case fyne.KeyRight:
		dx = nudge
	case fyne.KeyUp:
		dy = -nudge
	case fyne.KeyDown:
		dy = nudge
	default:
		return false
	}
	h := pen.Whole
	if p.Shift {
		h = len(d.moving.Points) - 1
	}
	m := pen.Moved(*d.moving, h, dx/d.aspect(), dy)
	d.moving = &m
	d.t.stage.refresh()
	return true
}

// escape goes one step back; it reports false when there is none and drawing ends.
func (d *drawing) escape() bool {
	switch {
	case d.nudging:
		d.moving, d.nudging = nil, false
	case d.tool.Begun():
		d.tool.Cancel()
	case d.chosen != "":
		d.chosen = ""
	default:
		return false
	}
	d.t.refresh()
	return true
}

// edge makes the chosen drawing begin or end at the picture shown.
func (d *drawing) edge(end bool) {
	n := d.t.desk.Now()
	x, ok := d.current()
	switch {
	case !ok:
		d.t.desk.Say(words.T("Choose a drawing first: click it, or the arrow keys up and down."))
		return
	case n.Footage != x.Place.Footage || end && n.Film < x.Place.Film || !end && n.Film > x.Drawing.End.Film:
		d.t.desk.Say(words.T("A drawing comes before it goes: take the film to another place first."))
		return
	}
	d.change(func(x *timeline.Tag, c *timeline.Drawing) {
		if end {
			c.End = n.Place()
		} else {
			x.Place = n.Place()
		}
	})
}

// frozenOnly makes the chosen drawing one of a held picture only, which the clip
// then has, or one of running film again.
func (d *drawing) frozenOnly() {
	d.settle()
	x, ok := d.current()
	if !ok {
		d.t.desk.Say(words.T("Choose a drawing first: click it, or the arrow keys up and down."))
		return
	}
	c := *x.Drawing
	if c.End.Film > x.Place.Film {
		c.End = x.Place
	} else {
		c.End = timeline.OnFilm(x.Place.Footage, x.Place.Film+usualTime)
	}
	x.Drawing = &c
	changes := []timeline.Change{timeline.SetTag(x)}
	if p, i := d.t.part(); c.End == x.Place && i >= 0 && p.Clip != nil && p.Clip.Footage == x.Place.Footage {
		at := x.Place.Film
		clip := *p.Clip
		held := slices.ContainsFunc(clip.Freezes, func(f timeline.Freeze) bool { e := f.At - at; return e.Abs() < tiny/2 })
		if shown := clip.Shown(); !held && at >= shown.Start && at < shown.End {
			clip.Freezes = append(slices.Clone(clip.Freezes), timeline.Freeze{At: at, Length: 2 * holdLength})
			slices.SortFunc(clip.Freezes, func(a, b timeline.Freeze) int { return int(a.At - b.At) })
			p.Clip = &clip
			changes = append(changes, timeline.SetPart(p))
		}
	}
	d.t.apply(words.T("drawing on the held picture: {.shape}", "shape", shapeText(c.Shape)), changes...)
}

// nextColour takes the next colour, for the chosen drawing, too.
func (d *drawing) nextColour() {
	d.colour(colours[(max(slices.Index(colours, d.tool.Colour), 0)+1)%len(colours)])
}

func (d *drawing) colour(c string) {
	d.tool.Colour = c
	if _, ok := d.current(); ok {
		d.change(func(_ *timeline.Tag, x *timeline.Drawing) { x.Colour = c })
		return
	}
	d.t.refresh()
}

// nextWidth takes the next width of lines, for the chosen drawing, too.
func (d *drawing) nextWidth() {
	d.width = widths[(max(slices.Index(widths, d.width), 0)+1)%len(widths)]
	if _, ok := d.current(); ok {
		d.change(func(_ *timeline.Tag, x *timeline.Drawing) { x.Width = d.width })
		return
	}
	d.t.refresh()
}

// rewrite asks for the text of the chosen drawing anew.
func (d *drawing) rewrite() {
	x, ok := d.current()
	if !ok || x.Drawing.Shape != timeline.ShapeText {
		d.t.desk.Say(words.T("Choose a text first: click it, or the arrow keys up and down."))
		return
	}
	d.t.askText(x.Drawing.Text, func(text string) {
		d.change(func(_ *timeline.Tag, c *timeline.Drawing) { c.Text = text })
	})
}

// askText asks for the words of a text on the picture.
func (t *Task) askText(text string, done func(string)) {
	d := form.New(t.desk.Window(), words.T("Text on the picture"), fyne.NewSize(look.Size(380), look.Size(150)))
	e := d.Entry(text, words.T("a few words"))
	d.Accept = func() {
		words := strings.TrimSpace(e.Text)
		d.Close()
		if words != "" {
			done(words)
		}
	}
	d.Show(e, e, look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Write it"), words.T("Enter"), d.Accept).Strong())
	t.panel.asking = d
}

// shapeText names a shape.
func shapeText(s timeline.Shape) string {
	switch s {
	case timeline.ShapeArrow:
		return words.T("arrow")
	case timeline.ShapeLine:
		return words.T("line")
	case timeline.ShapeRing:
		return words.T("ring")
	case timeline.ShapeArea:
		return words.T("area")
	case timeline.ShapeFree:
		return words.T("free line")
	case timeline.ShapeText:
		return words.T("text")
	case timeline.ShapeSpotlight:
		return words.T("spotlight")
	case timeline.ShapeMarker:
		return words.T("marker")
	case timeline.ShapeHide:
		return words.T("hide")
	}
	return words.T("choose")
}
