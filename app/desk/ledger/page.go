package ledger

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
)

// Page is what scrolls: things one below the other. Of all rows of its tables that
// lead somewhere one can be chosen.
type Page struct {
	View   fyne.CanvasObject
	scroll *container.Scroll
	pile   *fyne.Container
	tables []*Table
	table  *Table // the chosen row's
	row    int
}

// NewPage makes an empty page.
func NewPage() *Page {
	p := &Page{pile: container.New(look.Pile{Gap: look.Near}), row: -1}
	p.View, p.scroll = look.Scroll(p.pile)
	return p
}

// Set shows other things; the chosen row stays in its place where there is one.
func (p *Page) Set(objects ...fyne.CanvasObject) {
	at := p.index()
	p.pile.Objects, p.tables, p.table, p.row = objects, nil, nil, -1
	for _, o := range objects {
		if t, ok := o.(*Table); ok {
			t.page = p
			p.tables = append(p.tables, t)
		}
	}
	if list := p.rows(); at >= 0 && len(list) > 0 {
		x := list[min(at, len(list)-1)]
		p.table, p.row = x.t, x.row
		x.t.mark(x.row)
	}
	p.pile.Refresh()
	p.scroll.Refresh()
}

// Top scrolls to the top; no row is chosen.
func (p *Page) Top() {
	if p.table != nil {
		p.table.mark(-1)
	}
	p.table, p.row = nil, -1
	p.scroll.ScrollToTop()
}

// spot is a row that leads somewhere.
type spot struct {
	t   *Table
	row int
}

func (p *Page) rows() []spot {
	var out []spot
	for _, t := range p.tables {
		for i, r := range t.Rows {
			if r.Open != nil {
				out = append(out, spot{t, i})
			}
		}
	}
	return out
}

// index is the number of the chosen row among all, -1 for none.
func (p *Page) index() int {
	for i, s := range p.rows() {
		if s.t == p.table && s.row == p.row {
			return i
		}
	}
	return -1
}

// Advance chooses the row so many further on; beyond the last or first one the
// page scrolls to its end.
func (p *Page) Advance(by int) {
	list := p.rows()
	i := p.index() + by
	switch {
	case len(list) == 0:
		p.Turn(float32(by) / 8)
	case i < 0:
		p.choose(list[0].t, list[0].row)
		p.scroll.ScrollToTop()
	case i >= len(list):
		p.choose(list[len(list)-1].t, list[len(list)-1].row)
		p.scroll.ScrollToBottom()
	default:
		p.choose(list[i].t, list[i].row)
	}
}

// Turn scrolls by so many heights of the page.
func (p *Page) Turn(pages float32) {
	most := max(p.pile.MinSize().Height-p.scroll.Size().Height, 0)
	p.scroll.ScrollToOffset(fyne.NewPos(0, min(max(p.scroll.Offset.Y+pages*p.scroll.Size().Height*0.85, 0), most)))
}

// Open goes where the chosen row leads; without one the first is chosen.
func (p *Page) Open() {
	if p.table == nil {
		p.Advance(1)
		return
	}
	if p.row < len(p.table.Rows) && p.table.Rows[p.row].Open != nil {
		p.table.Rows[p.row].Open()
	}
}

// Chosen is the chosen row; nil without one.
func (p *Page) Chosen() *Row {
	if p.table == nil || p.row >= len(p.table.Rows) {
		return nil
	}
	return &p.table.Rows[p.row]
}

func (p *Page) choose(t *Table, row int) {
	if p.table != nil && p.table != t {
		p.table.mark(-1)
	}
	p.table, p.row = t, row
	t.mark(row)
	// It is scrolled to where it is not in sight.
	plan := t.measure(t.width)
	top, end := t.Position().Y+plan.tops[row], t.Position().Y+plan.height
	if row+1 < len(plan.tops) {
		end = t.Position().Y + plan.tops[row+1]
	}
	switch high := p.scroll.Size().Height; {
	case high <= 0:
	case top < p.scroll.Offset.Y:
		p.scroll.ScrollToOffset(fyne.NewPos(0, max(top-look.Apart, 0)))
	case end > p.scroll.Offset.Y+high:
		p.scroll.ScrollToOffset(fyne.NewPos(0, end-high+look.Near))
	}
}
