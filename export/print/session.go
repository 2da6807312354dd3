package print

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// Session is the agenda of a session in which a reel is shown.
type Session struct {
	Title string
	Under string // a line below it: date, place, who it is for; may be empty
	// Target is how long the session's film should be; 0: no target.
	Target time.Duration
	Items  []SessionItem
	// Notes are printed at the end (what is not on film, cautions).
	Notes []string
}

// SessionItem is one item of the reel.
type SessionItem struct {
	// Number is printed large; 0 takes the item's place in the list.
	Number int
	Title  string
	// Captions are shown in the film; Talk is what to speak about.
	Captions []string
	Talk     string
	// Start is where the item begins in the reel, Length how long it runs.
	Start, Length time.Duration
	// Still is a picture of it, or JPEG the bytes of one; neither leaves a frame with
	// NoStill in it (why there is none; may be empty).
	Still   image.Image
	JPEG    []byte
	NoStill string
	// Card is a title between clips: it gets a slim row without still and lines.
	Card bool
}

// The parts of an item's block, in millimetres.
const (
	stillWidth, stillHeight = 56.0, 31.5
	ruledGap                = 7.0
	ruledLines              = 3
)

// WriteSession writes the agenda as PDF: per item number, still, title, captions,
// talking point, time in the reel and ruled lines to write on.
func WriteSession(w io.Writer, in Session, o Options) error {
	p := newPaper(in.Title, o)
	p.title(in.Title, in.Under)
	var total time.Duration
	for _, x := range in.Items {
		total += max(x.Length, 0)
	}
	length := fmt.Sprintf("%s: %d  ·  %s: %s", p.t("items"), len(in.Items), p.t("film"), clock(total))
	if in.Target > 0 {
		length += fmt.Sprintf("  ·  %s: %s  ·  ", p.t("target"), clock(in.Target))
		switch over := total - in.Target; {
		case over >= time.Second:
			length += fmt.Sprintf(p.t("%s over"), clock(over))
		case over <= -time.Second:
			length += fmt.Sprintf(p.t("%s left"), clock(-over))
		default:
			length += p.t("as long as planned")
		}
	}
	p.font(10, true)
	p.lines(p.wrap(length, inner), margin)
	p.gap(2)
	for i, x := range in.Items {
		if x.Number == 0 {
			x.Number = i + 1
		}
		if x.Card {
			p.cardRow(x, i+1 < len(in.Items))
			continue
		}
		if err := p.item(i, x); err != nil {
			return fmt.Errorf("item %d of the agenda, %s: %w", x.Number, x.Title, err)
		}
	}
	if len(in.Notes) > 0 {
		p.font(9, false)
		for _, n := range in.Notes {
			p.text("– " + n)
		}
	}
	return p.write(w)
}

// item prints one block, never over two pages.
func (p *paper) item(i int, x SessionItem) error {
	const left = margin + 13 + stillWidth + 4
	const width = pageWidth - margin - left
	p.font(11, true)
	title := p.wrap(x.Title, width)
	p.font(9, false)
	var caps []string
	for _, c := range x.Captions {
		caps = append(caps, p.wrap("“"+strings.TrimSpace(c)+"”", width)...)
	}
	talk := []string{}
	if x.Talk != "" {
		talk = p.wrap(x.Talk, width-4)
	}
	p.font(11, true)
	h := float64(len(title)) * p.line()
	p.font(9, false)
	h += float64(1+len(caps)+len(talk))*p.line() + 3
	top := max(h, stillHeight) + 2
	block := top + ruledLines*ruledGap + 4
	if block > bottom-margin { // more text than a page holds: it is cut, the page is not left
		most := max(int((bottom-margin-ruledLines*ruledGap-30)/p.line()), 4)
		caps, talk, title = cutShort(caps, most/3), cutShort(talk, most/2), cutShort(title, 3)
		top = float64(len(caps)+len(talk)+2)*p.line() + 20
		block = top + ruledLines*ruledGap + 4
	}
	p.need(block)
	y := p.pdf.GetY()
	p.font(20, true)
	p.pdf.SetXY(margin, y)
	p.pdf.CellFormat(13, 9, fmt.Sprint(x.Number), "", 0, "L", false, 0, "")
	if err := p.still(i, x, margin+13, y+0.5); err != nil {
		return err
	}
	p.font(11, true)
	p.pdf.SetXY(left, y)
	p.lines(title, left)
	p.font(9, false)
	p.lines([]string{fmt.Sprintf("%s – %s  (%s)", clock(x.Start), clock(x.Start+x.Length), clock(x.Length))}, left)
	p.lines(caps, left)
	if len(talk) > 0 {
		p.pdf.SetXY(left, p.pdf.GetY()+1)
		ty := p.pdf.GetY()
		p.lines(talk, left+4)
		p.pdf.SetLineWidth(0.8)
		p.pdf.Line(left+1, ty+0.3, left+1, p.pdf.GetY()-0.3)
	}
	p.ruled(margin+13, y+top)
	p.pdf.SetXY(margin, y+block)
	return nil
}

// ruled draws lines to write on below y.
func (p *paper) ruled(left, y float64) {
	p.pdf.SetLineWidth(0.15)
	p.pdf.SetDrawColor(130, 130, 130)
	for n := range ruledLines {
		ry := y + float64(n+1)*ruledGap
		p.pdf.Line(left, ry, pageWidth-margin, ry)
	}
	p.pdf.SetDrawColor(0, 0, 0)
}

// cutShort keeps so many lines and says by an ellipsis that there was more.
func cutShort(list []string, most int) []string {
	if len(list) <= most {
		return list
	}
	list = list[:max(most, 1)]
	last := list[len(list)-1]
	if i := strings.LastIndexByte(last, ' '); i > 0 {
		last = last[:i]
	}
	list[len(list)-1] = last + " …"
	return list
}

// still places a picture into its frame, whole, with its own proportions.
func (p *paper) still(i int, x SessionItem, left, y float64) error {
	data := x.JPEG
	if len(data) == 0 && x.Still != nil {
		var buf bytes.Buffer
		if err := jpeg.Encode(&buf, x.Still, &jpeg.Options{Quality: 85}); err != nil {
			return fmt.Errorf("the still cannot be written: %w", err)
		}
		data = buf.Bytes()
	}
	p.pdf.SetLineWidth(0.2)
	if len(data) == 0 {
		p.pdf.Rect(left, y, stillWidth, stillHeight, "D")
		if x.NoStill != "" {
			p.font(8, false)
			list := p.wrap(x.NoStill, stillWidth-6)
			list = cutShort(list, 6)
			p.pdf.SetXY(left+3, y+stillHeight/2-float64(len(list))*p.line()/2)
			p.lines(list, left+3)
		}
		return nil
	}
	cfg, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return fmt.Errorf("the still is no JPEG picture: %w", err)
	}
	if cfg.Width <= 0 || cfg.Height <= 0 {
		return fmt.Errorf("the still is empty")
	}
	w, h := stillWidth, stillWidth*float64(cfg.Height)/float64(cfg.Width)
	if h > stillHeight {
		w, h = stillHeight*float64(cfg.Width)/float64(cfg.Height), stillHeight
	}
	name := fmt.Sprintf("still-%d", i)
	opt := fpdf.ImageOptions{ImageType: "JPG"}
	p.pdf.RegisterImageOptionsReader(name, opt, bytes.NewReader(data))
	if err := p.pdf.Error(); err != nil {
		return fmt.Errorf("the still cannot be put into the file: %w", err)
	}
	p.pdf.ImageOptions(name, left, y, w, h, false, opt, 0, "")
	p.pdf.Rect(left, y, w, h, "D")
	return nil
}
