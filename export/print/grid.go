package print

import "slices"

// column is one column of a table on paper.
type column struct {
	title string
	right bool // numbers stand to the right
	wrap  bool // may be made narrower than its longest cell; its cells then get more lines
}

const cellPad = 1.7

// grid writes a table: columns as wide as their longest cell, those that may wrap
// made narrower until all fit the page. The head is repeated on every page.
func (p *paper) grid(cols []column, rows [][]string) {
	p.font(8, false)
	w := p.columnWidths(cols, rows)
	p.need(3 * (p.line() + 1.4))
	p.gridRow(cols, w, titles(cols), true)
	for i, r := range rows {
		h := p.rowHeight(cols, w, r)
		if p.pdf.GetY()+h > bottom && i > 0 {
			p.pdf.AddPage()
			p.pdf.SetXY(margin, margin)
			p.gridRow(cols, w, titles(cols), true)
		}
		p.gridRow(cols, w, r, false)
	}
	p.gap(1)
}

func titles(cols []column) []string {
	out := make([]string, len(cols))
	for i, c := range cols {
		out[i] = c.title
	}
	return out
}

func (p *paper) columnWidths(cols []column, rows [][]string) []float64 {
	w := make([]float64, len(cols))
	for i, c := range cols {
		p.font(8, true)
		w[i] = p.width(clean(c.title)) + 2*cellPad
		p.font(8, false)
		for _, r := range rows {
			if i < len(r) {
				w[i] = max(w[i], p.width(clean(r[i]))+2*cellPad)
			}
		}
	}
	sum := 0.0
	for _, x := range w {
		sum += x
	}
	for sum > inner {
		// The widest column that may wrap gives way, down to 14 mm; then any other.
		at := widest(w, func(i int) bool { return cols[i].wrap && w[i] > 14 })
		if at < 0 {
			at = widest(w, func(i int) bool { return w[i] > 8 })
		}
		if at < 0 {
			break
		}
		cut := min(1, sum-inner)
		w[at] -= cut
		sum -= cut
		if sum-inner < 1e-6 {
			break
		}
	}
	return w
}

func widest(w []float64, may func(int) bool) int {
	at := -1
	for i := range w {
		if may(i) && (at < 0 || w[i] > w[at]) {
			at = i
		}
	}
	return at
}

func (p *paper) rowHeight(cols []column, w []float64, row []string) float64 {
	n := 1
	for i := range cols {
		if i < len(row) {
			n = max(n, len(p.wrap(row[i], w[i]-2*cellPad+0.01)))
		}
	}
	return float64(n)*p.line() + 1.4
}

func (p *paper) gridRow(cols []column, w []float64, row []string, head bool) {
	p.font(8, head)
	y, h := p.pdf.GetY(), p.rowHeight(cols, w, row)
	sum := 0.0
	for _, x := range w {
		sum += x
	}
	if head {
		p.pdf.SetFillColor(230, 230, 230)
		p.pdf.Rect(margin, y, sum, h, "F")
	}
	x := margin
	for i, c := range cols {
		if i >= len(row) {
			break
		}
		list := p.wrap(row[i], w[i]-2*cellPad+0.01)
		for n, l := range list {
			p.pdf.SetXY(x+cellPad, y+0.7+float64(n)*p.line())
			align := "L"
			if c.right {
				align = "R"
			}
			p.pdf.CellFormat(w[i]-2*cellPad, p.line(), l, "", 0, align, false, 0, "")
		}
		x += w[i]
	}
	p.pdf.SetLineWidth(0.1)
	p.pdf.SetDrawColor(150, 150, 150)
	p.pdf.Line(margin, y+h, margin+sum, y+h)
	p.pdf.SetDrawColor(0, 0, 0)
	p.pdf.SetXY(margin, y+h)
	p.font(8, false)
}

// pairs writes a list of names and values, the values in one column.
func (p *paper) pairs(list [][2]string) {
	p.font(9, false)
	w := 0.0
	for _, x := range list {
		w = max(w, p.width(clean(x[0])))
	}
	w = min(w+4, inner/2)
	for _, x := range list {
		left, right := p.wrap(x[0], w-2), p.wrap(x[1], inner-w)
		h := float64(max(len(left), len(right))) * p.line()
		p.need(h)
		y := p.pdf.GetY()
		p.lines(left, margin)
		p.pdf.SetXY(margin, y)
		p.lines(right, margin+w)
		p.pdf.SetXY(margin, y+h+0.4)
	}
}

// longest is the number of the longest rows, for cutting a table short.
func longest[T any](list []T, most int) []T { return slices.Clip(list[:min(most, len(list))]) }
