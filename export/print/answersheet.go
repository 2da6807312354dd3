package print

import (
	"fmt"
	"io"

	"whistlecut/export/answers"
)

// The parts of a question on the answer sheet, in millimetres.
const (
	numberWidth = 12.0
	tickSize    = 4.2
	codeLine    = 16.0
	questionGap = 2.6
)

// WriteAnswerSheet writes the sheet on which one person answers a quiz on paper: room
// for the name, a row of boxes to tick for every question, and the letters of the
// edition. Nothing on it tells what is right. The form's language is the sheet's.
func WriteAnswerSheet(w io.Writer, f answers.Form, o Options) error {
	if err := f.Check(); err != nil {
		return fmt.Errorf("cannot print the answer sheet: %w", err)
	}
	o.Language = f.Language
	title := f.Title
	if title == "" {
		title = f.T("Answers")
	}
	p := newPaper(title, o)
	p.title(title, "Quiz "+f.Quiz)
	p.answerHead(f)
	p.boxed(answers.FairnessIn(f.Language))
	p.gap(1)
	for _, q := range f.Questions {
		p.answerRow(f, q)
	}
	p.answerCodes(f)
	return p.write(w)
}

// answerHead is the room for name, date and group.
func (p *paper) answerHead(f answers.Form) {
	p.font(10, false)
	p.gap(3)
	y := p.pdf.GetY()
	name, date := f.T("Name"), f.T("Date")
	p.pdf.SetXY(margin, y)
	p.lines([]string{name}, margin)
	p.pdf.SetXY(margin+inner*0.66, y)
	p.lines([]string{date}, margin+inner*0.66)
	p.pdf.SetLineWidth(0.25)
	p.pdf.Line(margin+p.width(name)+2, y+p.line(), margin+inner*0.63, y+p.line())
	p.pdf.Line(margin+inner*0.66+p.width(date)+2, y+p.line(), margin+inner, y+p.line())
	p.pdf.SetXY(margin, y+p.line()+1)
	p.font(8, false)
	p.lines(p.wrap(f.T("A pseudonym will do; use the same one before and after."), inner), margin)
	p.font(10, false)
	p.gap(2)
	p.ticks([]string{f.T("before the training"), f.T("after the training"), f.T("there is no training")}, margin, "")
	p.gap(1)
}

// ticks writes boxes to tick with their labels from x on, in as many lines as they
// need, and after them a line to write behind a word; "" is none.
func (p *paper) ticks(labels []string, x float64, word string) {
	at, y := x, p.pdf.GetY()
	h := max(p.line(), tickSize) + 1.6
	next := func(width float64) {
		if at > x && at+width > margin+inner {
			at, y = x, y+h
		}
	}
	p.pdf.SetLineWidth(0.35)
	for _, l := range labels {
		l = p.fit(l, margin+inner-x-tickSize-2)
		width := tickSize + 1.6 + p.width(l)
		next(width)
		p.pdf.Rect(at, y+(p.line()-tickSize)/2, tickSize, tickSize, "D")
		p.pdf.SetXY(at+tickSize+1.6, y)
		p.pdf.CellFormat(p.width(l), p.line(), l, "", 0, "L", false, 0, "")
		at += width + 6
	}
	if word != "" {
		width := p.width(word) + 1.5 + codeLine
		next(width)
		p.pdf.SetXY(at, y)
		p.pdf.CellFormat(p.width(word), p.line(), word, "", 0, "L", false, 0, "")
		p.pdf.SetLineWidth(0.25)
		p.pdf.Line(at+p.width(word)+1.5, y+p.line(), at+width, y+p.line())
	}
	p.pdf.SetXY(margin, y+h)
}

// answerRow is one question; it is not divided between pages.
func (p *paper) answerRow(f answers.Form, q answers.Question) {
	p.font(10, false)
	text := p.wrap(q.Text, inner-numberWidth)
	p.need(float64(len(text))*p.line() + 2*(tickSize+2) + questionGap + 2)
	p.gap(questionGap)
	p.pdf.SetDrawColor(150, 150, 150)
	p.rule(0.1)
	p.pdf.SetDrawColor(0, 0, 0)
	p.gap(1.6)
	y := p.pdf.GetY()
	p.font(14, true)
	p.pdf.SetXY(margin, y-0.6)
	p.lines([]string{fmt.Sprint(q.Number)}, margin)
	p.font(10, false)
	p.pdf.SetXY(margin, y)
	p.lines(text, margin+numberWidth)
	p.gap(1)
	var labels []string
	for _, c := range q.Choices {
		labels = append(labels, c.Label)
	}
	word := ""
	if len(q.Codes) > 0 {
		word = f.T("Code")
	}
	p.ticks(labels, margin+numberWidth, word)
}

// answerCodes is the legend of the letters, in three columns.
func (p *paper) answerCodes(f answers.Form) {
	list := f.Codes()
	if len(list) == 0 {
		return
	}
	const columns = 3
	rows := (len(list) + columns - 1) / columns
	head := f.T("Code")
	if f.Edition != "" {
		head += " (" + f.Edition + ")"
	}
	p.heading(head, float64(rows)*4.6)
	p.font(9, false)
	y, width := p.pdf.GetY(), inner/columns
	for i, c := range list {
		row := i % rows
		x := margin + float64(i/rows)*width
		p.pdf.SetXY(x, y+float64(row)*4.6)
		p.lines([]string{p.fit(c.Letter+"  "+c.Name, width-2)}, x)
	}
	p.pdf.SetXY(margin, y+float64(rows)*4.6)
}
