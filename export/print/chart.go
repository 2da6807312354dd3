package print

import (
	"fmt"
	"math"

	"whistlecut/export/chart"
	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// plot is a chart in its field of a page.
type plot struct {
	chart.Chart
	p          *paper
	x, y, w, h float64 // on the page
}

func (c plot) px(v float64) float64 { return c.x + v/float64(max(c.Jams, 1))*c.w }
func (c plot) py(v float64) float64 { return c.y + c.h - (v-c.Low)/(c.High-c.Low)*c.h }

// newPlot takes a field of that height for a chart at the current place.
func (p *paper) newPlot(height float64, c chart.Chart) plot {
	p.need(height + 8)
	return plot{c, p, margin + 10, p.pdf.GetY() + 2, inner - 10, height}
}

// levels draws the level lines and their values; even zero has a heavier line.
func (c plot) levels() {
	pdf := c.p.pdf
	c.p.font(7, false)
	for _, v := range c.Levels() {
		y := c.py(v)
		pdf.SetLineWidth(0.1)
		pdf.SetDrawColor(180, 180, 180)
		if math.Abs(v) < 1e-9 {
			pdf.SetLineWidth(0.3)
			pdf.SetDrawColor(0, 0, 0)
		}
		pdf.Line(c.x, y, c.x+c.w, y)
		pdf.SetXY(c.x-10, y-1.5)
		pdf.CellFormat(9, 3, fmt.Sprintf("%.0f", math.Abs(v)), "", 0, "R", false, 0, "")
	}
	pdf.SetDrawColor(0, 0, 0)
}

// jamMarks names the jams under the field and separates the periods.
func (c plot) jamMarks(r numbers.Report) {
	pdf := c.p.pdf
	c.p.font(7, false)
	every := int(math.Ceil(float64(len(r.PerJam)) / 30))
	for i, j := range r.PerJam {
		x := c.px(float64(i))
		if i > 0 && r.PerJam[i-1].Period != j.Period {
			pdf.SetLineWidth(0.3)
			pdf.SetDashPattern([]float64{1, 1}, 0)
			pdf.Line(x, c.y, x, c.y+c.h)
			pdf.SetDashPattern(nil, 0)
		}
		if (j.Number-1)%every == 0 {
			pdf.SetXY(c.px(float64(i)+0.5)-6, c.y+c.h+0.5)
			pdf.CellFormat(12, 3, jam(j.Period, j.Number), "", 0, "C", false, 0, "")
		}
	}
	pdf.SetXY(margin, c.y+c.h+5)
}

// legend says what dark and light are.
func (p *paper) legend(home, away string) {
	p.font(8, false)
	y := p.pdf.GetY()
	x := margin + 10
	for i, name := range []string{home, away} {
		p.side(i, x, y+0.6, 3, 2.4)
		p.pdf.SetXY(x+4, y)
		text := p.fit(name, inner/2-14)
		p.pdf.CellFormat(inner/2-10, 3.6, text, "", 0, "L", false, 0, "")
		x += p.width(text) + 12
	}
	p.pdf.SetXY(margin, y+5)
}

// side fills a bar of home (dark) or away (light with a line round it).
func (p *paper) side(i int, x, y, w, h float64) {
	p.pdf.SetLineWidth(0.2)
	if i == 0 {
		p.pdf.SetFillColor(60, 60, 60)
	} else {
		p.pdf.SetFillColor(215, 215, 215)
	}
	p.pdf.Rect(x, y, w, h, "FD")
	p.pdf.SetFillColor(255, 255, 255)
}

// bars draws the points of each jam. The part of a range above its lower end is
// left white.
func (p *paper) bars(r numbers.Report) {
	c := p.newPlot(45, chart.PerJam(r))
	c.levels()
	for _, b := range c.Boxes {
		x, y, w, h := c.px(b.Left), c.py(b.High), c.px(b.Right)-c.px(b.Left), c.py(b.Low)-c.py(b.High)
		if b.Sure {
			p.side(b.Side.Index(), x, y, w, h)
			continue
		}
		p.pdf.SetLineWidth(0.2)
		p.pdf.Rect(x, y, w, h, "D")
	}
	for _, u := range c.Unknown {
		p.font(7, false)
		p.pdf.SetXY(c.px(u.X)-6, c.py(u.Y)-1.5)
		p.pdf.CellFormat(12, 3, "?", "", 0, "C", false, 0, "")
	}
	c.jamMarks(r)
}

// along draws the margin along the bout.
func (p *paper) along(r numbers.Report) {
	if len(r.PerJam) == 0 {
		return
	}
	c := p.newPlot(50, chart.Margin(r))
	c.levels()
	for _, b := range c.Boxes {
		if b.Side == timeline.Home {
			p.pdf.SetFillColor(60, 60, 60)
		} else {
			p.pdf.SetFillColor(215, 215, 215)
		}
		p.pdf.Rect(c.px(b.Left), c.py(b.High), c.px(b.Right)-c.px(b.Left), c.py(b.Low)-c.py(b.High), "F")
	}
	p.pdf.SetLineWidth(0.3)
	for _, l := range c.Lines {
		p.pdf.Line(c.px(l.X1), c.py(l.Y1), c.px(l.X2), c.py(l.Y2))
	}
	p.pdf.SetFillColor(255, 255, 255)
	c.jamMarks(r)
}
