package print

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"codeberg.org/go-pdf/fpdf"
)

// The page in millimetres, and the font's name within the file.
const (
	pageWidth, pageHeight = 210.0, 297.0
	margin                = 15.0
	bottom                = pageHeight - 18
	inner                 = pageWidth - 2*margin
	family                = "dejavu"
)

// paper is a PDF being made, top to bottom.
type paper struct {
	pdf *fpdf.Fpdf
	words
	bold bool
	size float64
}

// newPaper starts a file of that title.
func newPaper(title string, o Options) *paper {
	pdf := fpdf.New("P", "mm", "A4", "")
	p := &paper{pdf: pdf, words: o.words()}
	pdf.SetCatalogSort(true)
	made := o.Made
	if made.IsZero() {
		made = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	pdf.SetCreationDate(made)
	pdf.SetModificationDate(made)
	pdf.SetTitle(clean(title), true)
	pdf.SetCreator("Whistlecut", true)
	pdf.AddUTF8FontFromBytes(family, "", dejavusanscondensed.TTF)
	pdf.AddUTF8FontFromBytes(family, "B", dejavusanscondensedbold.TTF)
	pdf.SetMargins(margin, margin, margin)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCellMargin(0)
	pdf.AliasNbPages("{n}") // short, as its width is taken for that of the number
	pdf.SetFooterFunc(func() {
		size, bold := p.size, p.bold
		p.font(8, false)
		pdf.SetTextColor(90, 90, 90)
		pdf.SetXY(margin, pageHeight-12)
		left := clean(title)
		if !o.Made.IsZero() {
			left += "  ·  " + o.Made.Format(time.DateOnly)
		}
		pdf.CellFormat(inner-20, 4, p.fit(left, inner-22), "", 0, "L", false, 0, "")
		pdf.CellFormat(20, 4, fmt.Sprintf("%d / {n}", pdf.PageNo()), "", 0, "R", false, 0, "")
		pdf.SetTextColor(0, 0, 0)
		p.font(size, bold)
	})
	p.font(10, false)
	pdf.AddPage()
	return p
}

// font sets the size in points.
func (p *paper) font(size float64, bold bool) {
	style := ""
	if bold {
		style = "B"
	}
	p.size, p.bold = size, bold
	p.pdf.SetFont(family, style, size)
}

// line is the height of a line of the current font in millimetres.
func (p *paper) line() float64 { return p.size * 0.46 }

// need starts a new page unless so many millimetres are left on this one.
func (p *paper) need(height float64) bool {
	if p.pdf.GetY()+height <= bottom {
		return false
	}
	p.pdf.AddPage()
	p.pdf.SetXY(margin, margin)
	return true
}

func (p *paper) gap(mm float64) { p.pdf.SetXY(margin, p.pdf.GetY()+mm) }

// title is the head of the first page.
func (p *paper) title(text, under string) {
	p.font(17, true)
	p.lines(p.wrap(text, inner), margin)
	if under != "" {
		p.font(10, false)
		p.lines(p.wrap(under, inner), margin)
	}
	p.gap(1.5)
	p.rule(0.5)
	p.gap(2)
}

// heading starts a section; keep is the height of what must stand with it.
func (p *paper) heading(text string, keep float64) {
	p.gap(2.5)
	p.need(8 + keep)
	p.font(12, true)
	p.lines(p.wrap(text, inner), margin)
	p.gap(1)
	p.font(9, false)
}

// text writes a paragraph over the width of the page.
func (p *paper) text(s string) {
	for _, l := range p.wrap(s, inner) {
		p.need(p.line())
		p.lines([]string{l}, margin)
	}
}

// boxed writes a caution in a frame.
func (p *paper) boxed(s string) {
	p.font(9, false)
	list := p.wrap(s, inner-6)
	h := float64(len(list))*p.line() + 4
	p.need(h + 2)
	y := p.pdf.GetY() + 1
	p.pdf.SetLineWidth(0.3)
	p.pdf.Rect(margin, y, inner, h, "D")
	p.pdf.SetXY(margin, y+2)
	p.lines(list, margin+3)
	p.pdf.SetXY(margin, y+h+1)
}

// lines writes lines one below the other from x.
func (p *paper) lines(list []string, x float64) {
	for _, l := range list {
		p.pdf.SetX(x)
		p.pdf.CellFormat(0, p.line(), l, "", 2, "L", false, 0, "")
	}
	p.pdf.SetX(margin)
}

// rule draws a line over the width of the page.
func (p *paper) rule(width float64) {
	y := p.pdf.GetY()
	p.pdf.SetLineWidth(width)
	p.pdf.Line(margin, y, pageWidth-margin, y)
}

// width of a text in millimetres, in the current font.
func (p *paper) width(s string) float64 { return p.pdf.GetStringWidth(s) }

// fit shortens a text to a width, with an ellipsis.
func (p *paper) fit(s string, w float64) string {
	s = clean(s)
	if p.width(s) <= w {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && p.width(string(r)+"…") > w {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "…"
}

// wrap breaks a text into lines of a width: at blanks, and within a word that is
// longer than a line.
func (p *paper) wrap(s string, w float64) []string {
	out := []string{}
	for _, par := range strings.Split(strings.ReplaceAll(s, "\r", ""), "\n") {
		line := ""
		for _, word := range strings.FieldsFunc(clean(par), blank) {
			switch {
			case line == "" && p.width(word) <= w:
				line = word
			case line != "" && p.width(line+" "+word) <= w:
				line += " " + word
			default:
				if line != "" {
					out = append(out, line)
				}
				for p.width(word) > w {
					n := p.head(word, w)
					out = append(out, string([]rune(word)[:n]))
					word = string([]rune(word)[n:])
				}
				line = word
			}
		}
		out = append(out, line)
	}
	return out
}

// blank reports whether a line may be broken at a character; at a no-break space it
// may not.
func blank(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' && r != '\u202f' }

// head is how many characters of a word fit a width, one at least.
func (p *paper) head(word string, w float64) int {
	r := []rune(word)
	n := 1
	for n < len(r) && p.width(string(r[:n+1])) <= w {
		n++
	}
	return n
}

// clean replaces what the fonts or the file format cannot hold: characters beyond
// the basic plane become a box, control characters a blank.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r > 0xFFFF, r == unicode.ReplacementChar:
			return '□'
		case unicode.IsControl(r):
			return ' '
		}
		return r
	}, s)
}

// write finishes the file and writes it in one go.
func (p *paper) write(w io.Writer) error {
	var buf bytes.Buffer
	if err := p.pdf.Output(&buf); err != nil {
		return fmt.Errorf("make the PDF: %w", err)
	}
	if _, err := w.Write(buf.Bytes()); err != nil {
		return fmt.Errorf("write the PDF: %w; check that the place has room and may be written to", err)
	}
	return nil
}
