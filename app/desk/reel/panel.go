package reel

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// panel is what the task shows.
type panel struct {
	t    *Task
	root *fyne.Container

	all         *fyne.Container   // view, and below it what is always there
	view        fyne.CanvasObject // main with its bar
	main        *container.Scroll
	pile        *fyne.Container
	name        *look.Chip
	length      *canvas.Text
	meter       *meter
	from        *fyne.Container // where parts come from
	list        *partList
	info        *look.Paragraph
	editor      *fyne.Container
	texts       *fyne.Container // names and fields
	fields      []*field
	fieldIDs    []string
	chips       *fyne.Container
	drawer      *drawer
	foot        *fyne.Container
	play, draws *look.Chip
	asking      *form.Dialog // opened last
	form        *reelForm
	making      *makeForm
	other       *otherForm
	told        *look.Paragraph
}

func newPanel(t *Task) *panel {
	p := &panel{t: t, root: container.NewStack()}
	p.name = look.NewChip("", "R", t.chooseReel)
	p.length = look.Line("", look.Now.Quiet, look.NoteSize)
	head := container.New(&look.Flow{Gap: look.Tight, Ends: true}, p.name, look.NewChip(words.T("properties"), "F2", t.properties), p.length)
	p.meter = newMeter()
	p.from = container.New(&look.Flow{Gap: look.Tight},
		look.NewChip(words.T("marks"), "A", t.allMarks),
		look.NewChip(words.T("moment here"), "K", t.here),
		look.NewChip(words.T("another bout"), "O", t.fromOther),
		look.NewChip(words.T("card"), "X", t.card),
		look.NewChip(words.T("duplicate"), "U", t.twice),
		look.NewChip(words.T("take out"), words.T("Del"), t.remove))
	p.list = newPartList(t)
	p.info = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	p.texts = container.New(named{})
	p.chips = container.New(&look.Flow{Gap: look.Tight})
	p.editor = container.New(look.Pile{Gap: look.Near}, p.info, p.texts, p.chips)
	p.drawer = newDrawer(t)
	p.play = look.NewLargeChip("", "P", t.playThrough)
	p.draws = look.NewLargeChip("", "D", t.toggleDrawing)
	present := look.NewLargeChip(words.T("present"), "V", t.startShow)
	film := look.NewLargeChip(words.T("make the film"), "G", t.askMake)
	p.foot = container.New(&look.Flow{Gap: look.Tight}, p.play, p.draws, present, film)
	p.told = look.NewParagraph("", look.Now.Quiet, look.NoteSize)
	p.pile = container.New(look.Pile{Fill: p.list.view, Least: 5 * look.RowHeight(), Gap: look.Near},
		head, p.meter, p.from, p.list.view, look.Rule(), p.editor, p.drawer.view)
	p.view, p.main = look.Scroll(p.pile)
	p.all = container.New(look.Pile{Fill: p.view, Least: 4 * look.RowHeight(), Gap: look.Near}, p.view, p.told, p.foot)
	return p
}

// refresh shows the task's state anew.
func (p *panel) refresh() {
	t := p.t
	if e := p.empty(); e != nil {
		p.root.Objects = []fyne.CanvasObject{e}
		p.root.Refresh()
		return
	}
	r, _ := t.current()
	list := t.parts()
	part, at := t.part()
	p.name.Set(look.Fit(r.Name, look.Size(150), look.Size(look.RowSize), fyne.TextStyle{}), true)
	whole := reels.Length(list)
	p.length.Text = words.N(len(list), "{.n} part", "{.n} parts") + ", " + lengthText(whole, r.Target)
	p.meter.set(whole, r.Target)
	look.Show(p.meter, r.Target > 0)
	p.list.set(list, at)
	drawing := t.draw != nil
	look.Show(p.editor, !drawing && at >= 0)
	look.Show(p.drawer.view, drawing)
	look.Show(p.from, !drawing)
	p.told.Set(t.told)
	look.Show(p.told, t.told != "" && !drawing)
	if drawing {
		p.drawer.refresh()
	} else if at >= 0 {
		p.edit(r, part)
	}
	play, draws := words.T("play through"), words.T("draw")
	if t.run != nil {
		play = words.T("stop")
	}
	if drawing {
		draws = words.T("stop drawing")
	}
	p.play.Set(play, t.run != nil)
	p.draws.Set(draws, drawing)
	p.root.Objects = []fyne.CanvasObject{p.all}
	p.root.Refresh()
	p.all.Refresh()
	p.pile.Refresh()
	p.main.Refresh()
}

// lengthText is how long the reel is, and what it should be.
func lengthText(whole, target time.Duration) string {
	if target > 0 {
		if whole > target {
			return words.T("{.length} of {.target}, {.over} too long", "length", terms.Clock(whole, 0), "target", terms.Clock(target, 0), "over", terms.Clock(whole-target, 0))
		}
		return words.T("{.length} of {.target}", "length", terms.Clock(whole, 0), "target", terms.Clock(target, 0))
	}
	return terms.Clock(whole, 0)
}

// empty is what stands there when there is nothing yet: what to do next.
func (p *panel) empty() fyne.CanvasObject {
	t := p.t
	s := t.desk.Session()
	if s == nil {
		return look.Empty(words.T("No bout is open"), words.T("Open a bout, and a reel is made of its moments here."))
	}
	r, some := t.current()
	if some && len(t.parts()) > 0 || t.draw != nil {
		return nil
	}
	var buttons []fyne.CanvasObject
	if n := len(reels.FromMarks(s)); n > 0 {
		buttons = append(buttons, look.NewButton(words.N(n, "Take the mark", "Take all {.n} marks"), "A", t.allMarks).Strong())
	}
	buttons = append(buttons, look.NewButton(words.T("Choose in Find"), "Ctrl+4", func() { t.desk.Show(task.Find) }))
	row := container.New(&look.Flow{Gap: look.Near}, buttons...)
	text := words.T("A reel is film you show to others: moments one after the other, with captions and drawings. Choose moments in Find and press E there, or take the marks of this bout; K takes the moment the film shows. In Check, E takes the finding.")
	if some {
		title := words.T("{.reel} is empty", "reel", r.Name)
		other := look.NewButton(words.T("Other reels"), "R", t.chooseReel)
		return look.Empty(title, text, row, container.NewHBox(other, look.NewButton(words.T("properties"), "F2", t.properties)))
	}
	return look.Empty(words.T("No reel yet"), text, row)
}

// edit shows the chosen part's texts and what is done with its film.
func (p *panel) edit(r timeline.Reel, part timeline.Part) {
	list := textsOf(r, part)
	var ids []string
	for _, x := range list {
		ids = append(ids, x.id)
	}
	if !slices.Equal(ids, p.fieldIDs) {
		p.fieldIDs, p.fields, p.texts.Objects = ids, nil, nil
		for _, x := range list {
			f := newField(p.t, x)
			p.fields = append(p.fields, f)
			p.texts.Objects = append(p.texts.Objects, fieldName(x.name), f)
		}
	}
	for i, x := range list {
		p.fields[i].show(part.ID, x.get(part))
	}
	p.info.Set(p.t.infoText(part))
	p.chips.Objects = p.t.partChips(part)
	p.texts.Refresh()
	p.chips.Refresh()
	p.editor.Refresh()
}

// focus puts the cursor into a field; it scrolls to it.
func (p *panel) focus(f *field) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p.root); c != nil {
		y := p.editor.Position().Y + p.texts.Position().Y + f.Position().Y
		if y+f.Size().Height > p.main.Offset.Y+p.main.Size().Height {
			p.main.ScrollToOffset(fyne.NewPos(0, y+f.Size().Height-p.main.Size().Height))
		}
		c.Focus(f)
		f.CursorColumn = len([]rune(f.Text))
		f.Entry.Refresh()
	}
}
