package print

import (
	"fmt"
	"math"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// plot is a field of a page with its own scales.
type plot struct {
	p              *paper
	x, y, w, h     float64 // on the page
	left, right    float64 // values at the edges
	bottom, ceiled float64
}

func (c plot) px(v float64) float64 { return c.x + (v-c.left)/(c.right-c.left)*c.w }
func (c plot) py(v float64) float64 { return c.y + c.h - (v-c.bottom)/(c.ceiled-c.bottom)*c.h }

// newPlot takes a field of that height at the current place.
func (p *paper) newPlot(height, left, right, low, high float64) plot {
	p.need(height + 8)
	if right <= left {
		right = left + 1
	}
	if high <= low {
		high = low + 1
	}
	return plot{p, margin + 10, p.pdf.GetY() + 2, inner - 10, height, left, right, low, high}
}

// step is a round distance of marks, so that there are at most n of them.
func step(span float64, n int) float64 {
	base := math.Pow(10, math.Floor(math.Log10(span/float64(n))))
	for _, m := range []float64{1, 2, 5, 10} {
		if span/(base*m) <= float64(n) {
			return max(base*m, 1)
		}
	}
	return max(base*10, 1)
}

// levels draws the level lines and their values; even zero has a heavier line.
func (c plot) levels() {
	pdf := c.p.pdf
	c.p.font(7, false)
	by := step(c.ceiled-c.bottom, 6)
	for v := math.Ceil(c.bottom/by) * by; v <= c.ceiled+1e-9; v += by {
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

// bars draws the points of each jam: home upwards, away downwards. The part of a
// range above its lower end is left white.
func (p *paper) bars(r numbers.Report) {
	high, low := 4.0, 4.0
	for _, j := range r.PerJam {
		high, low = max(high, float64(j.Points[0].High)), max(low, float64(j.Points[1].High))
	}
	c := p.newPlot(45, 0, float64(len(r.PerJam)), -low-1, high+1)
	c.levels()
	for i, j := range r.PerJam {
		x, w := c.px(float64(i)+0.15), c.w/float64(max(len(r.PerJam), 1))*0.7
		for n := range timeline.Sides {
			pts := j.Points[n]
			sign := 1.0 - 2*float64(n)
			draw := func(from, to int, fill bool) {
				y1, y2 := c.py(sign*float64(from)), c.py(sign*float64(to))
				if y1 > y2 {
					y1, y2 = y2, y1
				}
				if fill {
					p.side(n, x, y1, w, y2-y1)
					return
				}
				p.pdf.SetLineWidth(0.2)
				p.pdf.Rect(x, y1, w, y2-y1, "D")
			}
			if pts.Low > 0 {
				draw(0, pts.Low, true)
			}
			if pts.High > pts.Low {
				draw(pts.Low, pts.High, false)
			}
			if !j.Logged[n] {
				p.font(7, false)
				p.pdf.SetXY(x-2, c.py(sign*1.2)-1.5)
				p.pdf.CellFormat(w+4, 3, "?", "", 0, "C", false, 0, "")
			}
		}
	}
	c.jamMarks(r)
}

// along draws the margin along the bout: home's lead above the line of nothing,
// away's below it. Steps lie where in their jam they happened, where that is known.
func (p *paper) along(r numbers.Report) {
	if len(r.PerJam) == 0 {
		return
	}
	low, high := -4.0, 4.0
	for _, s := range r.Steps {
		low, high = min(low, float64(s.Margin.Low)), max(high, float64(s.Margin.High))
	}
	c := p.newPlot(50, 0, float64(len(r.PerJam)), low-1, high+1)
	c.levels()
	type point struct {
		at float64
		m  timeline.Range
	}
	var pts []point
	for _, s := range r.Steps {
		at := float64(s.Index + 1)
		if d := r.PerJam[s.Index].Duration; s.Timed && d > 0 {
			at = float64(s.Index) + min(max(s.At.Seconds()/d.Seconds(), 0), 1)
		}
		pts = append(pts, point{at, s.Margin})
	}
	before := point{}
	zero := c.py(0)
	for i, q := range append(pts, point{float64(len(r.PerJam)), timeline.Range{}}) {
		x1, x2 := c.px(before.at), c.px(q.at)
		if x2 > x1 {
			switch m := before.m; {
			case m.Low > 0:
				p.pdf.SetFillColor(60, 60, 60)
				p.pdf.Rect(x1, c.py(float64(m.Low)), x2-x1, zero-c.py(float64(m.Low)), "F")
			case m.High < 0:
				p.pdf.SetFillColor(215, 215, 215)
				p.pdf.Rect(x1, zero, x2-x1, c.py(float64(m.High))-zero, "F")
			}
			p.pdf.SetLineWidth(0.3)
			p.pdf.Line(x1, c.py(float64(before.m.Low)), x2, c.py(float64(before.m.Low)))
			if !before.m.Sure() {
				p.pdf.Line(x1, c.py(float64(before.m.High)), x2, c.py(float64(before.m.High)))
			}
		}
		if i < len(pts) {
			p.pdf.SetLineWidth(0.3)
			p.pdf.Line(x2, c.py(float64(before.m.Low)), x2, c.py(float64(q.m.Low)))
			if !before.m.Sure() || !q.m.Sure() {
				p.pdf.Line(x2, c.py(float64(before.m.High)), x2, c.py(float64(q.m.High)))
			}
		}
		before = q
	}
	p.pdf.SetFillColor(255, 255, 255)
	c.jamMarks(r)
}
