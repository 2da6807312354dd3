package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/sheet"
)

type sheetCmd struct {
	File        string `arg:"" help:"The sheet: XLSX, ODS, CSV or tab-separated text, in any layout."`
	Mapping     string `help:"Read it by this corrected mapping (JSON)." placeholder:"FILE"`
	SaveMapping string `help:"Write the mapping here, to be corrected by hand." placeholder:"FILE"`
	Keep        string `help:"Keep the mapping as a template under this name, for the next sheets of the same layout." placeholder:"NAME"`
	As          string `help:"Write the sheet in our own plain form: .xlsx or .csv." placeholder:"FILE"`
	Into        string `help:"Put the sheet into this bout file." placeholder:"BOUT"`
	Edition     string `default:"2025" help:"Edition of the rules to check by: 2013, 2014, 2015, 2017, 2019 or 2025."`
}

func (sheetCmd) Help() string {
	return `Shows which table and column was taken for what and how sure that is, checks the
sheet in itself (sums, impossible marks, rosters, penalties against line-ups)
and lists what does not fit. Headings are understood in English, Spanish,
French and German. Exit status 3 when the sheet contradicts itself.

Examples:
  whistlecut sheet sheets.xlsx
  whistlecut sheet odd.csv --save-mapping odd.json
  whistlecut sheet odd.csv --mapping odd.json --keep "our league's form" --into final.bout
  whistlecut sheet sheets.ods --as plain.csv`
}

func (c *sheetCmd) Run(e *env) error {
	rules, ok := timeline.Edition(c.Edition)
	if !ok {
		return usage("there is no edition %q of the rules; known are 2013, 2014, 2015, 2017, 2019 and 2025", c.Edition)
	}
	r, err := e.app.ReadSheet(c.File, c.Mapping)
	if err != nil {
		return err
	}
	if c.SaveMapping != "" {
		if err := e.app.SaveMapping(c.SaveMapping, r.Mapping); err != nil {
			return err
		}
	}
	kept := ""
	if c.Keep != "" {
		if kept, err = e.app.KeepTemplate(c.Keep, r.Mapping); err != nil {
			return err
		}
	}
	if c.As != "" {
		if err := writeSheet(c.As, r.Sheet); err != nil {
			return err
		}
	}
	if c.Into != "" {
		if err := putSheet(e, c.Into, r); err != nil {
			return err
		}
	}
	findings := app.CheckSheet(r.Sheet, rules)
	if e.asJSON {
		err = e.printJSON(map[string]any{"reading": r, "findings": findings})
	} else {
		c.print(e, r, findings, kept)
	}
	if err == nil && len(findings) > 0 {
		return errDiffers
	}
	return err
}

func (c *sheetCmd) print(e *env, r app.SheetReading, findings []sheet.Finding, kept string) {
	penalties := fmt.Sprintf("%d penalties", len(r.Sheet.Penalties))
	if len(r.Sheet.Penalties) == 1 {
		penalties = "1 penalty"
	}
	e.printf("%s: %s, %s, %s, %s, %s\n", r.Name, count(len(r.Sheet.Rows), "score row"), penalties,
		count(len(r.Sheet.Lineups), "line-up"), count(len(r.Sheet.Clock), "jam time"), count(len(r.Sheet.Timeouts), "timeout"))
	if r.Template != "" {
		e.printf("read by the kept template %q\n", r.Template)
	}
	e.printf("\nHow it was understood (certainty %.0f %%):\n", 100*r.Mapping.Certainty)
	rows := [][]string{{"  table", "rows", "what", "heading", "taken for", "certainty"}}
	for _, b := range r.Mapping.Blocks {
		what := string(b.Kind)
		if b.Side != timeline.NoSide {
			what += ", " + b.Side.String()
		}
		if b.Period > 0 {
			what += fmt.Sprintf(", period %d", b.Period)
		}
		span := fmt.Sprintf("%d-%d", b.First+1, b.Last+1)
		for i, col := range b.Columns {
			field := string(col.Field)
			if col.N > 0 {
				field += fmt.Sprintf(" %d", col.N)
			}
			row := []string{"", "", "", shorten(col.Heading, 28), field, fmt.Sprintf("%.0f %%", 100*col.Certainty)}
			if i == 0 {
				row[0], row[1], row[2] = "  "+b.Table, span, what
			}
			rows = append(rows, row)
		}
	}
	if len(rows) > 1 {
		e.table(rows)
	} else {
		e.printf("  it is in our own plain form\n")
	}
	if len(r.Problems) > 0 {
		e.printf("\nCells that could not be read:\n")
		for _, p := range r.Problems {
			e.printf("  %s\n", p)
		}
	}
	if kept != "" {
		e.printf("\nkept as a template in %s\n", kept)
	}
	if len(findings) == 0 {
		e.printf("\nThe sheet agrees with itself.\n")
		return
	}
	e.printf("\nThe sheet contradicts itself in %s:\n", count(len(findings), "place"))
	printFindings(e, findings)
}

func printFindings(e *env, list []sheet.Finding) {
	for _, f := range list {
		stake := ""
		if f.Points() > 0 {
			stake = " [" + count(f.Points(), "point") + " at stake]"
		}
		e.printf("  %s: %s%s\n", f.Where(), f.Cause, stake)
		e.printf("      %s\n", f.Text)
		for _, a := range f.Also {
			e.printf("      also %s\n", a)
		}
		if f.Resolution != nil {
			e.printf("      resolved: %s. %s\n", f.Resolution.Verdict, f.Resolution.Note)
		}
	}
}

func writeSheet(path string, s sheet.Sheet) error {
	var b bytes.Buffer
	var err error
	switch strings.ToLower(filepath.Ext(path)) {
	case ".xlsx":
		err = sheet.WriteXLSX(&b, s)
	case ".csv":
		err = sheet.WriteCSV(&b, s)
	default:
		return usage("cannot write %s: the plain form is .xlsx or .csv", path)
	}
	if err != nil {
		return err
	}
	return ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, b.Bytes(), 0o644) })
}

func putSheet(e *env, bout string, r app.SheetReading) (err error) {
	s, err := e.app.Open(bout, false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return s.PutSheet(r)
}
