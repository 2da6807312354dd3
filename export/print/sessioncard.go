package print

import (
	"fmt"
	"strings"
)

// cardRow prints a title between clips as one slim row on grey, together with the
// item that follows where there is one.
func (p *paper) cardRow(x SessionItem, follows bool) {
	const left, pad = margin + 13, 1.5
	const width = inner - 13 - 2
	p.font(11, true)
	title := cutShort(p.wrap(x.Title, width), 3)
	h := float64(len(title)) * p.line()
	p.font(9, false)
	under := fmt.Sprintf("%s  (%s)", clock(x.Start), clock(x.Length))
	var caps []string
	for _, c := range x.Captions {
		if c = strings.TrimSpace(c); c != "" {
			caps = append(caps, c)
		}
	}
	if len(caps) > 0 {
		under += "  ·  " + strings.Join(caps, "  ·  ")
	}
	lines := cutShort(p.wrap(under, width), 4)
	if x.Talk != "" {
		lines = append(lines, cutShort(p.wrap(x.Talk, width), 12)...)
	}
	h += float64(len(lines))*p.line() + 2*pad
	room := h + 3
	if follows {
		room += stillHeight // a heading is not left alone at the foot of a page
	}
	p.need(room)
	y := p.pdf.GetY()
	p.pdf.SetFillColor(238, 238, 238)
	p.pdf.Rect(margin, y, inner, h, "F")
	p.pdf.SetFillColor(255, 255, 255)
	p.font(11, true)
	p.pdf.SetXY(margin+2, y+pad)
	p.pdf.CellFormat(11, p.line(), fmt.Sprint(x.Number), "", 0, "L", false, 0, "")
	p.pdf.SetXY(left, y+pad)
	p.lines(title, left)
	p.font(9, false)
	p.lines(lines, left)
	p.pdf.SetXY(margin, y+h+3)
}
