package reel

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/export/overlay"
	"whistlecut/timeline"
)

// drawer is the panel of the pens: shapes, colour, width, the drawings there are,
// and from when to when the chosen one is seen.
type drawer struct {
	t             *Task
	view          *fyne.Container
	shapes        []*look.Chip
	choose        *look.Chip
	colour, width *look.Chip
	rows          *look.Rows
	tags          []timeline.Tag
	says          *look.Paragraph
	times         *fyne.Container
	from, to      *look.Chip
	frozen        *look.Chip
	words, remove *look.Chip
}

func newDrawer(t *Task) *drawer {
	d := &drawer{t: t}
	tools := container.New(&look.Flow{Gap: look.Tight})
	for i, s := range timeline.Shapes() {
		c := look.NewChip(shapeText(s), strconv.Itoa(i+1), func() { t.startDrawing(s) })
		d.shapes = append(d.shapes, c)
		tools.Add(c)
	}
	d.choose = look.NewChip(words.T("choose"), "0", func() { t.startDrawing("") })
	tools.Add(d.choose)
	d.colour = look.NewChip("", "Q", t.drawingColour)
	d.colour.Shape = look.Square
	d.width = look.NewChip("", "W", t.besideOrWidth)
	d.frozen = look.NewChip(words.T("on the held picture only"), "H", func() { t.hold(false) })
	d.from = look.NewChip("", "Ctrl+B", func() { t.edge(false) })
	d.to = look.NewChip("", "Ctrl+E", func() { t.edge(true) })
	d.words = look.NewChip(words.T("other words"), "T", t.writePoint)
	d.remove = look.NewChip(words.T("delete"), words.T("Del"), t.remove)
	d.says = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	d.times = container.New(&look.Flow{Gap: look.Tight}, d.colour, d.width, d.from, d.to, d.frozen, d.words, d.remove)
	d.rows = look.NewRows([]look.Column{{Width: 12}, {}, {Width: 54, Right: true}, {Width: 54, Right: true}}, func() int { return len(d.tags) }, d.cells)
	d.rows.Chosen = func(i int) {
		if t.draw != nil && i < len(d.tags) {
			t.draw.choose(d.tags[i])
		}
	}
	sized := canvas.NewRectangle(look.Now.Panel)
	sized.SetMinSize(fyne.NewSize(40, 3.3*look.RowHeight()))
	d.view = container.New(look.Pile{Gap: look.Near}, tools, container.NewStack(sized, d.rows), d.says, d.times)
	return d
}

// refresh shows the state of drawing anew.
func (d *drawer) refresh() {
	x := d.t.draw
	for i, s := range timeline.Shapes() {
		d.shapes[i].Set(shapeText(s), x.tool.Shape == s)
	}
	d.choose.Set(words.T("choose"), x.tool.Shape == "")
	d.tags = x.list()
	at := slices.IndexFunc(d.tags, func(t timeline.Tag) bool { return t.ID == x.chosen })
	d.rows.Mark(at)
	colour, width := x.tool.Colour, x.width
	tag, ok := x.current()
	if ok {
		colour, width = tag.Drawing.Colour, tag.Drawing.Width
		d.from.Set(words.T("from {.time}", "time", terms.Clock(tag.Place.Film, 1)), false)
		d.to.Set(words.T("to {.time}", "time", terms.Clock(tag.Drawing.End.Film, 1)), false)
		d.frozen.Set(words.T("on the held picture only"), tag.Drawing.End.Film <= tag.Place.Film)
	}
	f := d.t.facts()
	d.colour.Colour = overlay.TeamColours(f.Teams[0].Colour, f.Teams[1].Colour).Of(colour)
	d.colour.Text = colourText(colour)
	d.colour.Refresh()
	d.width.Set(words.T("line {.n}", "n", max(slices.Index(widths, width), 0)+1), width > 0)
	for _, c := range []fyne.CanvasObject{d.from, d.to, d.frozen, d.remove} {
		look.Show(c, ok)
	}
	look.Show(d.words, ok && tag.Drawing.Shape == timeline.ShapeText)
	says := words.T("Drag on the picture; Enter puts the shape in its middle. The drawing is seen for two seconds from this picture on.")
	switch {
	case x.nudging:
		says = words.T("The arrow keys move the drawing, with Shift its last point; Enter leaves it there.")
	case ok:
		says = words.T("Go on in the film and press O for where it goes, or I for where it comes; H shows it on a held picture only.")
	case x.tool.Shape == "":
		says = words.T("Click a drawing to choose it, drag it to move it.")
	}
	d.says.Set(says)
	d.times.Refresh()
	d.view.Refresh()
}

// cells draws a row of the list of drawings.
func (d *drawer) cells(i int) []look.Cell {
	if i >= len(d.tags) {
		return nil
	}
	x := d.tags[i]
	f := d.t.facts()
	text := shapeText(x.Drawing.Shape)
	switch {
	case x.Drawing.Text != "":
		text += ": " + x.Drawing.Text
	case x.Drawing.Number > 0:
		text += " " + strconv.Itoa(x.Drawing.Number)
	}
	to := look.Cell{Text: terms.Clock(x.Drawing.End.Film, 1), Colour: look.Now.Quiet}
	if x.Drawing.End.Film <= x.Place.Film {
		to.Text = words.T("held")
	}
	return []look.Cell{
		{Shape: look.Square, Colour: overlay.TeamColours(f.Teams[0].Colour, f.Teams[1].Colour).Of(x.Drawing.Colour)},
		{Text: text},
		{Text: terms.Clock(x.Place.Film, 1), Colour: look.Now.Quiet},
		to,
	}
}

// colourText names a stored colour.
func colourText(c string) string {
	switch c {
	case "":
		return words.T("usual colour")
	case "home":
		return words.T("home")
	case "away":
		return words.T("away")
	}
	return c
}
