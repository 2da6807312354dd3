package print

import "io"

// Report is a page of results: parts of text and tables, one after the other. Its
// words come from the caller, in the language of the print.
type Report struct {
	Title string
	Under string
	// Cautions stand in a frame before everything else.
	Cautions []string
	Parts    []ReportPart
}

// ReportPart is one part: its text, then its table.
type ReportPart struct {
	Heading string
	Text    []string
	Head    []string
	// Right are the columns, from 0, that hold numbers.
	Right map[int]bool
	Rows  [][]string
}

// WriteReport writes a report as PDF.
func WriteReport(w io.Writer, in Report, o Options) error {
	p := newPaper(in.Title, o)
	p.title(in.Title, in.Under)
	for _, c := range in.Cautions {
		p.boxed(c)
	}
	for _, part := range in.Parts {
		p.heading(part.Heading, 14)
		for _, t := range part.Text {
			p.text(t)
		}
		if len(part.Head) == 0 || len(part.Rows) == 0 {
			continue
		}
		p.gap(1)
		cols := make([]column, len(part.Head))
		for i, h := range part.Head {
			cols[i] = column{title: h, right: part.Right[i], wrap: !part.Right[i]}
		}
		p.grid(cols, part.Rows)
	}
	return p.write(w)
}
