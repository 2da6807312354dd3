package main

import (
	"os"
	"path/filepath"
	"time"

	"whistlecut/app/quiz"
	"whistlecut/export/print"
)

type agreementCmd struct {
	Plan     string   `arg:"" help:"The quiz: its folder, or its plan.json."`
	Answers  []string `arg:"" help:"Answers: files, folders, or text codes that begin with WCA1."`
	PDF      string   `name:"pdf" help:"Print the result into this PDF, too." placeholder:"FILE"`
	CSV      string   `name:"csv" help:"Write a row for each question of each group into this CSV file, too." placeholder:"FILE"`
	People   bool     `help:"Show each person's own share, too. It is for her and the trainer alone."`
	Seed     uint64   `default:"1" help:"Seed of the intervals that are drawn by chance." placeholder:"N"`
	Language string   `default:"en" enum:"en,es,fr,de" help:"Language of the result: en, es, fr or de."`
}

func (agreementCmd) Help() string {
	return `Reads a group's answers to a quiz and says how far the group agrees: Krippendorff's
alpha and Fleiss' kappa, which questions split the room, what was taken for what; how
many answers a verdict accepts, by question, rule section and letter; and, for people
who answered before and after a training, what changed.

Answers are files saved by answers.html, answers.csv filled in (also as XLSX or ODS,
a column for each person), text codes, and text files with codes in them, such as a
saved chat. A person who answered twice counts with the newest answers. What is left
out is said.

The verdicts are training opinions, never corrections of the officials.

Examples:
  whistlecut agreement tuesday answers
  whistlecut agreement tuesday ann.json sheets.xlsx WCA1-0W18-DJRF-...
  whistlecut agreement tuesday answers --pdf agreement.pdf --csv agreement.csv`
}

func (c *agreementCmd) Run(e *env) error {
	for _, x := range [][3]string{{"--pdf", c.PDF, ".pdf"}, {"--csv", c.CSV, ".csv"}} {
		if err := wantEnding(x[0], x[1], x[2]); err != nil {
			return err
		}
	}
	path := c.Plan
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, quiz.TrainerDir, quiz.PlanName)
	}
	plan, err := quiz.ReadPlanFile(path)
	if err != nil {
		return err
	}
	found, err := quiz.CollectAnswers(plan, c.Answers)
	if err != nil {
		return err
	}
	a, err := quiz.MeasureAgreement(plan, found, c.Seed)
	if err != nil {
		return err
	}
	report := a.Report(plan, c.Language, c.People)
	if c.PDF != "" {
		if err := quiz.AgreementPDF(c.PDF, report, c.Language, time.Now()); err != nil {
			return err
		}
	}
	if c.CSV != "" {
		if err := quiz.AgreementCSV(c.CSV, a); err != nil {
			return err
		}
	}
	if e.asJSON {
		if !c.People {
			for i := range a.Groups {
				a.Groups[i].People = nil
			}
		}
		return e.printJSON(a)
	}
	printReport(e, report)
	e.wrote(c.PDF, c.CSV)
	return nil
}

// printReport writes a report as text.
func printReport(e *env, r print.Report) {
	e.printf("%s\n%s\n", r.Title, r.Under)
	for _, c := range r.Cautions {
		e.printf("%s\n", c)
	}
	for _, p := range r.Parts {
		e.printf("\n%s\n", p.Heading)
		for _, t := range p.Text {
			e.printf("  %s\n", t)
		}
		if len(p.Rows) == 0 {
			continue
		}
		rows := [][]string{append([]string{}, p.Head...)}
		for _, x := range p.Rows {
			rows = append(rows, append([]string{}, x...))
		}
		for i := range rows {
			rows[i][0] = "  " + rows[i][0]
		}
		e.table(rows)
	}
}
