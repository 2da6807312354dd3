package reel

import (
	"slices"
	"time"

	"whistlecut/app/desk/reel/pen"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// drawing is drawing on the picture: which tool is in the hand, which drawing is
// chosen, and what the pointer is doing.
type drawing struct {
	t      *Task
	tool   pen.Tool // its shape is "" while drawings are only chosen and moved
	width  float64
	chosen timeline.ID
	// loose drawings belong to what is shown to a team just now; they are stored
	// only when a person keeps them.
	live  bool
	loose []timeline.Drawing

	moving  *timeline.Drawing // the chosen one as it would be after the move
	handle  int
	last    timeline.Point
	pressed bool
	// lastDrag is where the pointer was seen last, for when it is let go elsewhere.
	lastDrag timeline.Point
	nudging  bool // the arrow keys move the chosen one
}

// usualTime is how long a drawing is seen that nobody gave another time.
const usualTime = 2 * time.Second

// widths of lines that are offered, in parts of the picture's height; 0 is the usual.
var widths = []float64{0, 0.014, 0.022}

// colours that are offered: the usual one and the teams'.
var colours = []string{"", "home", "away"}

// startDrawing takes a shape in the hand; the film stands still. The same shape
// again puts it away.
func (t *Task) startDrawing(shape timeline.Shape) {
	n := t.desk.Now()
	if n.Footage == "" || t.run != nil && t.show == nil && t.run.card() {
		t.desk.Say(words.T("There is no picture to draw on."))
		return
	}
	if t.show == nil && t.away() {
		t.desk.Say(words.T("This film is of another bout: draw there, and the drawing comes with the clip."))
		return
	}
	if t.show == nil {
		t.stop()
	}
	t.desk.Pause()
	t.desk.Unloop()
	if t.draw == nil {
		t.draw = &drawing{t: t}
	}
	d := t.draw
	d.settle()
	d.tool.Cancel()
	d.tool.Shape = shape
	if s := t.desk.Frame(); s.X > 0 && s.Y > 0 {
		d.tool.Aspect = float64(s.X) / float64(s.Y)
	}
	t.refresh()
}

// toggleDrawing goes into drawing and out of it.
func (t *Task) toggleDrawing() {
	if t.draw != nil {
		t.leaveDrawing()
		t.refresh()
		return
	}
	t.startDrawing(timeline.ShapeArrow)
}

// leaveDrawing puts the tool away.
func (t *Task) leaveDrawing() {
	if t.draw != nil {
		t.draw.settle()
		t.draw = nil
	}
}

func (d *drawing) aspect() float64 {
	if d.tool.Aspect > 0 {
		return d.tool.Aspect
	}
	return 16.0 / 9
}

// seen are the stored drawings on the picture shown.
func (d *drawing) seen() []timeline.Tag { return d.t.seenAt(d.t.desk.Now()) }

// seenAt are the stored drawings at a place of the film.
func (t *Task) seenAt(n task.Now) []timeline.Tag {
	if n.Footage == "" {
		return nil
	}
	return pen.Seen(t.sketches, n.Footage, n.Film, !n.Playing)
}

// down is a press of the pointer at a place of the picture.
func (d *drawing) down(p timeline.Point) {
	d.endNudging()
	d.pressed, d.last, d.handle = true, p, pen.Whole
	if x, ok := d.current(); ok {
		h, hit := pen.Hit(*x.Drawing, p, d.aspect())
		if hit && (h >= 0 || d.tool.Shape == "") && !d.tool.Begun() {
			d.take(x, h)
			return
		}
	}
	if d.tool.Shape == "" {
		list := d.seen()
		i, h := pen.Pick(pen.Drawings(list), p, d.aspect())
		if i < 0 {
			d.chosen = ""
			d.t.refresh()
			return
		}
		d.take(list[i], h)
		return
	}
	d.tool.Number = d.nextNumber()
	d.tool.Down(p)
	d.t.stage.refresh()
}

// take begins to move a drawing.
func (d *drawing) take(x timeline.Tag, handle int) {
	c := *x.Drawing
	d.chosen, d.moving, d.handle = x.ID, &c, handle
	d.t.refresh()
}

func (d *drawing) nextNumber() int {
	return pen.NextNumber(append(pen.Drawings(d.seen()), d.loose...))
}

// drag is a move with the pointer pressed.
func (d *drawing) drag(p timeline.Point) {
	switch {
	case !d.pressed:
		return
	case d.moving != nil:
		m := pen.Moved(*d.moving, d.handle, p.X-d.last.X, p.Y-d.last.Y)
		d.moving, d.last = &m, p
	default:
		d.tool.Drag(p)
	}
	d.t.stage.refresh()
}

// up is the release: a shape is done, or a drawing is where it shall be.
func (d *drawing) up(p timeline.Point) {
	if !d.pressed {
		return
	}
	d.drag(p)
	d.pressed = false
	if d.moving != nil {
		d.settle()
		return
	}
	if d.tool.Shape == "" {
		return
	}
	made, done := d.tool.Up(p)
	switch {
	case done:
		d.add(made)
	case !d.tool.Begun():
		// A click that drew nothing chooses what lies there.
		list := d.seen()
		if i, _ := pen.Pick(pen.Drawings(list), p, d.aspect()); i >= 0 {
			d.chosen = list[i].ID
		} else {
			d.chosen = ""
		}
	}
	d.t.refresh()
}

// add stores a drawing that was drawn, or keeps it loose in front of a team.
func (d *drawing) add(made timeline.Drawing) {
	made.Width = d.width
	if made.Shape == timeline.ShapeText && made.Text == "" {
		d.t.askText("", func(text string) {
			made.Text = text
			d.add(made)
		})
		return
	}
	if d.live {
		d.loose = append(d.loose, made)
		d.t.refresh()
		return
	}
	s := d.t.desk.Session()
	n := d.t.desk.Now()
	if s == nil || n.Footage == "" {
		return
	}
	tag := d.t.tagOf(made, n)
	if d.t.apply(words.T("drawing: {.shape}", "shape", shapeText(made.Shape)), timeline.SetTag(tag)) {
		d.chosen = tag.ID
		d.t.refresh()
	}
}

// tagOf is a drawing as it is stored: from the picture shown on for a while.
func (t *Task) tagOf(made timeline.Drawing, n task.Now) timeline.Tag {
	end := n.Film + usualTime
	if long := t.facts().Footage[n.Footage].Duration; long > 0 {
		end = max(min(end, long), n.Film)
	}
	made.End = timeline.OnFilm(n.Footage, end)
	return timeline.Tag{ID: t.desk.Session().File.Log().NewID(), Kind: timeline.KindDrawing, Place: n.Place(), Drawing: &made}
}

// current is the chosen drawing, as it would be after a move that goes on.
func (d *drawing) current() (timeline.Tag, bool) {
	x, ok := d.t.facts().Tags[d.chosen]
	if !ok || x.Drawing == nil {
		return x, false
	}
	if d.moving != nil {
		x.Drawing = d.moving
	}
	return x, true
}

// change stores the chosen drawing with what do changes.
func (d *drawing) change(do func(x *timeline.Tag, c *timeline.Drawing)) {
	d.settle()
	x, ok := d.current()
	if !ok {
		d.t.refresh()
		return
	}
	c := *x.Drawing
	do(&x, &c)
	x.Drawing = &c
	d.t.apply(words.T("drawing changed: {.shape}", "shape", shapeText(c.Shape)), timeline.SetTag(x))
}

// settle stores a move that was made.
func (d *drawing) settle() {
	m := d.moving
	d.moving, d.nudging, d.pressed = nil, false, false
	if x, ok := d.current(); ok && m != nil && !slices.Equal(m.Points, x.Drawing.Points) {
		x.Drawing = m
		d.t.apply(words.T("drawing moved: {.shape}", "shape", shapeText(m.Shape)), timeline.SetTag(x))
	}
}

// list are the drawings to choose from: those that the chosen clip shows, else
// those near the film's place.
func (d *drawing) list() []timeline.Tag {
	n := d.t.desk.Now()
	r := timeline.TimeRange{Start: n.Film - 5*time.Second, End: n.Film + 5*time.Second}
	if p, i := d.t.part(); i >= 0 && p.Clip != nil && p.Clip.Footage == n.Footage && d.t.show == nil {
		if s := p.Clip.Shown(); n.Film >= s.Start && n.Film <= s.End {
			r = s
		}
	}
	return pen.Within(d.t.facts(), n.Footage, r)
}

// advance chooses another drawing of the list; the film goes to it where it is
// not seen.
func (d *drawing) advance(by int) {
	list := d.list()
	if len(list) == 0 {
		return
	}
	i := slices.IndexFunc(list, func(x timeline.Tag) bool { return x.ID == d.chosen })
	if i < 0 && by < 0 {
		i = 0
	}
	d.choose(list[min(max(i+by, 0), len(list)-1)])
}

func (d *drawing) choose(x timeline.Tag) {
	d.settle()
	d.chosen = x.ID
	n := d.t.desk.Now()
	if n.Film < x.Place.Film || n.Film >= x.Drawing.End.Film {
		d.t.desk.GoFilm(x.Place.Footage, x.Place.Film)
	}
	d.t.refresh()
}

// remove deletes the chosen drawing, or in front of a team the last one drawn.
func (d *drawing) remove() {
	d.moving, d.nudging = nil, false
	switch {
	case d.tool.Begun():
		d.tool.Cancel()
	case d.live && len(d.loose) > 0:
		d.loose = d.loose[:len(d.loose)-1]
	default:
		if x, ok := d.current(); ok {
			d.chosen = ""
			d.t.apply(words.T("drawing deleted: {.shape}", "shape", shapeText(x.Drawing.Shape)), timeline.DeleteTag(x.ID))
		}
	}
	d.t.refresh()
}
