package main

import (
	"os"
	"path/filepath"
	"strings"

	"whistlecut/app"
	"whistlecut/timeline"
)

type printCmd struct {
	Bout     string `arg:"" help:"The bout file."`
	Findings string `help:"Print the comparison of tags and sheet into this PDF." placeholder:"FILE"`
	Numbers  string `help:"Print the bout's numbers with charts into this PDF." placeholder:"FILE"`
	Skaters  string `help:"Print the page of every skater who was fielded as a PDF into this folder." placeholder:"DIR"`
	Side     string `enum:"home,away," default:"" help:"Only this side's skaters: home or away." placeholder:"SIDE"`
	Anyway   bool   `help:"Print the pages of minors and of who does not want to be shared, too."`
	Language string `default:"en" enum:"en,es,fr,de" help:"Language of the printed pages: en, es, fr or de."`
}

func (printCmd) Help() string {
	return `The pages hold their fonts and are readable in black and white. They say where
tags differ from the sheet, not who is wrong; the head referee's decision is final.
Ask a skater before you share her page; for minors the league's safeguarding
policy and local law decide, and their pages are made only with --anyway.

Examples:
  whistlecut print final.bout --findings findings.pdf
  whistlecut print final.bout --numbers numbers.pdf --language es
  whistlecut print final.bout --skaters pages --side home`
}

func (c *printCmd) Run(e *env) error {
	if c.Findings == "" && c.Numbers == "" && c.Skaters == "" {
		return usage("say what to print: --findings FILE, --numbers FILE or --skaters DIR")
	}
	if c.Skaters == "" && (c.Side != "" || c.Anyway) {
		return usage("--side and --anyway go with --skaters")
	}
	for _, x := range [][2]string{{"--findings", c.Findings}, {"--numbers", c.Numbers}} {
		if err := wantEnding(x[0], x[1], ".pdf"); err != nil {
			return err
		}
	}
	s, err := e.app.Open(c.Bout, true)
	if err != nil {
		return err
	}
	defer s.Close()
	o := app.PrintOptions(c.Language)
	files, left := []string{}, []string{}
	if c.Findings != "" {
		r, err := s.Check()
		if err != nil {
			return err
		}
		if err := s.PrintFindings(c.Findings, r, o); err != nil {
			return err
		}
		files = append(files, c.Findings)
	}
	if c.Numbers != "" {
		if err := s.PrintNumbers(c.Numbers, o); err != nil {
			return err
		}
		files = append(files, c.Numbers)
	}
	if c.Skaters != "" {
		if err := os.MkdirAll(c.Skaters, 0o755); err != nil {
			return usage("cannot make the folder %s: %w", c.Skaters, err)
		}
		for _, t := range s.Report().Sides {
			if c.Side != "" && t.Side.String() != c.Side {
				continue
			}
			for _, k := range t.Skaters {
				if k.Record.All.Jams == 0 {
					continue
				}
				if err := e.ctx.Err(); err != nil {
					return err
				}
				p, err := app.PageOf([]*app.Session{s}, k.Skater.String())
				if err != nil {
					return err
				}
				if (p.Minor || p.NoConsent) && !c.Anyway {
					left = append(left, k.Skater.String())
					continue
				}
				path := filepath.Join(c.Skaters, pageFile(k.Skater))
				if err := app.PrintSkater(path, p, o); err != nil {
					return err
				}
				files = append(files, path)
			}
		}
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"files": files, "left_out": left})
	}
	e.wrote(files...)
	for _, who := range left {
		e.printf("left out %s: a minor, or she does not want to be shared; --anyway prints her page\n", who)
	}
	if c.Skaters != "" {
		e.printf("%s\n", app.ConsentNote)
	}
	return nil
}

// pageFile is the file name of a skater's page. Numbers are digits, by older rules
// letters too; anything else is left out of the name.
func pageFile(who timeline.SkaterRef) string {
	number := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			return r
		}
		return '_'
	}, string(who.Number))
	return who.Side.String() + "-" + number + ".pdf"
}
