package main

import (
	"fmt"
	"strings"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

type checkCmd struct {
	File string `arg:"" help:"A bout file, or a sheet alone (XLSX, ODS, CSV)."`
	All  bool   `help:"List what could not be checked, too."`
}

func (checkCmd) Help() string {
	return `With a bout file the official sheet is compared with the recount from the tags,
line by line, and each difference is given its simplest cause, the points at
stake and the place on film. A sheet alone is checked in itself. Tags may be
wrong, too; the head referee's decision is final. Exit status 3 when something
differs.

Examples:
  whistlecut check final.bout
  whistlecut check final.bout --all --json
  whistlecut check sheets.xlsx`
}

func (c *checkCmd) Run(e *env) error {
	if !strings.HasSuffix(strings.ToLower(c.File), app.Ext) {
		return (&sheetCmd{File: c.File, Edition: "2025"}).Run(e)
	}
	s, err := e.app.Open(c.File, true)
	if err != nil {
		return err
	}
	defer s.Close()
	report, err := s.Check()
	if err != nil {
		return err
	}
	if e.asJSON {
		err = e.printJSON(map[string]any{"report": report, "problems": s.Bout.Problems, "settle": s.Bout.Settle})
	} else {
		c.print(e, s, report)
	}
	if err == nil && len(report.Open()) > 0 {
		return errDiffers
	}
	return err
}

func (c *checkCmd) print(e *env, s *app.Session, r sheet.Report) {
	rows := [][]string{{"", "by the tags", "by the sheet", "difference", "explained", "not checkable"}}
	for _, side := range timeline.Sides {
		a := r.Score[side.Index()]
		paper := "-"
		if a.SheetKnown {
			paper = fmt.Sprint(a.Sheet)
		}
		name := s.Bout.Teams[side.Index()].Name
		if name == "" {
			name = side.String()
		}
		rows = append(rows, []string{name, a.Tags.String(), paper, signed(a.Difference), signed(a.Explained), fmt.Sprint(a.Unchecked)})
	}
	e.table(rows)
	e.printf("\n%s compared, %d agree\n", count(r.Compared, "cell"), r.Agreed)
	for _, n := range r.Notes {
		e.printf("%s\n", n)
	}
	if len(r.Findings) == 0 {
		e.printf("\nTags and sheet agree wherever they can be compared.\n")
	} else {
		e.printf("\n%s (tags may be wrong, too; the head referee's decision is final):\n", count(len(r.Findings), "finding"))
		for _, f := range r.Findings {
			printFindings(e, []sheet.Finding{f})
			if id, at, ok := s.Bout.Alignment.FilmOf(f.Film); ok {
				e.printf("      film: %s at %s\n", s.Facts.Footage[id].Path, app.Clock(at))
			}
		}
	}
	if n := len(r.Unchecked); n > 0 {
		e.printf("\nNot checkable: %s", count(n, "cell"))
		if !c.All {
			e.printf("; --all lists them")
		}
		e.printf("\n")
		if c.All {
			for _, u := range r.Unchecked {
				e.printf("  %s period %d jam %d %s: %s\n", u.Table, u.Period, u.Jam, u.Side, u.Why)
			}
		}
	}
	if n := len(s.Bout.Problems); n > 0 {
		e.printf("\n%s in the tags, listed by: whistlecut doctor %q\n", count(n, "odd place"), s.Path)
	}
	for i, x := range s.Bout.Settle {
		if i == 0 {
			e.printf("\nTags that would settle the score:\n")
		}
		if i == 5 {
			break
		}
		e.printf("  %s (worth %d)\n", x.Text, x.Gain)
	}
}

// signed shows a difference with its sign; none is plain 0.
func signed(n int) string {
	if n == 0 {
		return "0"
	}
	return fmt.Sprintf("%+d", n)
}
