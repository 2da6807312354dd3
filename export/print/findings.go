package print

import (
	"fmt"
	"io"
	"strings"

	"whistlecut/timeline"
)

// Findings is the report of a check of sheet against tags.
type Findings struct {
	Title, Date string
	Teams       [2]string
	Accounts    [2]Account // by Side.Index
	Compared    int        // cells compared
	Agreed      int
	Unchecked   int // cells that could not be compared
	Items       []Finding
	Notes       []string
}

// Account is one team's score as tags and sheet have it.
type Account struct {
	Tags       timeline.Range
	Sheet      int
	SheetKnown bool
	Explained  int // of the difference, by findings
	Unchecked  int // points that nothing was compared with
}

// Finding is one place where tags differ from the sheet.
type Finding struct {
	Where  string // "period 1, jam 7, home, trip 3"
	Cause  string
	Text   string
	Sheet  string // value on the sheet
	Tags   string // value by the tags
	Points int    // at stake in the score
	Also   []string
	Film   string // file and time; empty when not on film
	// Decided is what a person settled, Note her words; both empty while it is open.
	Decided, Note string
}

// WriteFindings writes the report of a check as PDF.
func WriteFindings(w io.Writer, in Findings, o Options) error {
	p := newPaper(o.words().t("Tags and sheet compared")+": "+in.Title, o)
	p.title(p.t("Tags and sheet compared"), strings.TrimSpace(in.Date+"  "+in.Title))
	p.boxed(p.t("This says where tags differ from the sheet. Tags may be wrong, and so may sheets; the head referee's decision is final."))
	p.heading(p.t("Score"), 20)
	rows := [][]string{}
	for i, s := range timeline.Sides {
		a := in.Accounts[i]
		sheet, diff := "–", "–"
		if a.SheetKnown {
			sheet = fmt.Sprint(a.Sheet)
			diff = fmt.Sprintf("%+d", nearest(a.Sheet, a.Tags))
		}
		rows = append(rows, []string{p.team(in.Teams[i], s), p.rng(a.Tags), sheet, diff, fmt.Sprintf("%+d", a.Explained), fmt.Sprint(a.Unchecked)})
	}
	p.grid([]column{
		{title: "", wrap: true},
		{title: p.t("by the tags"), right: true},
		{title: p.t("by the sheet"), right: true},
		{title: p.t("difference"), right: true},
		{title: p.t("explained by findings"), right: true},
		{title: p.t("not checkable"), right: true},
	}, rows)
	p.font(9, false)
	p.text(fmt.Sprintf(p.t("Cells compared: %d, alike: %d, not checkable: %d."), in.Compared, in.Agreed, in.Unchecked))
	for _, n := range in.Notes {
		p.text(n)
	}
	if len(in.Items) == 0 {
		p.heading(p.t("Findings")+": 0", 6)
		p.text(p.t("Tags and sheet agree wherever they can be compared."))
		return p.write(w)
	}
	p.heading(fmt.Sprintf("%s: %d", p.t("Findings"), len(in.Items)), 24)
	for i, f := range in.Items {
		p.finding(i+1, f)
	}
	return p.write(w)
}

// nearest is sheet minus the nearest score that the tags allow.
func nearest(sheet int, tags timeline.Range) int {
	switch {
	case sheet < tags.Low:
		return sheet - tags.Low
	case sheet > tags.High:
		return sheet - tags.High
	}
	return 0
}

// finding prints one, kept together on a page where it can be.
func (p *paper) finding(n int, f Finding) {
	const indent = 9.0
	p.font(9, false)
	body := []string{}
	if f.Text != "" {
		body = append(body, p.wrap(f.Text, inner-indent)...)
	}
	for _, a := range f.Also {
		body = append(body, p.wrap(p.t("follows from it")+": "+a, inner-indent)...)
	}
	values := fmt.Sprintf("%s: %s  ·  %s: %s", p.t("sheet"), orDash(f.Sheet), p.t("tags"), orDash(f.Tags))
	if f.Points > 0 {
		values += fmt.Sprintf("  ·  %s: %d", p.t("points at stake"), f.Points)
	}
	body = append(body, p.wrap(values, inner-indent)...)
	film := p.t("film") + ": " + orDash(f.Film)
	body = append(body, p.wrap(film, inner-indent)...)
	decided := p.t("open")
	if f.Decided != "" {
		decided = strings.TrimSpace(p.t(f.Decided) + ". " + f.Note)
	}
	body = append(body, p.wrap(p.t("settled")+": "+decided, inner-indent)...)
	p.font(9, true)
	head := p.wrap(f.Where+": "+f.Cause, inner-indent)
	p.need(float64(len(head)+min(len(body), 40))*p.line() + 3)
	p.pdf.SetX(margin)
	y := p.pdf.GetY()
	p.pdf.CellFormat(indent, p.line(), fmt.Sprintf("%d", n), "", 0, "L", false, 0, "")
	p.pdf.SetXY(margin, y)
	p.lines(head, margin+indent)
	p.font(9, false)
	for _, l := range body {
		p.need(p.line())
		p.lines([]string{l}, margin+indent)
	}
	p.gap(1)
	p.pdf.SetDrawColor(150, 150, 150)
	p.rule(0.1)
	p.pdf.SetDrawColor(0, 0, 0)
	p.gap(1.2)
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}
