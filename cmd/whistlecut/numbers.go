package main

import (
	"fmt"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

type numbersCmd struct {
	Bout     string `arg:"" help:"The bout file."`
	PDF      string `name:"pdf" help:"Print them with charts into this file, too." placeholder:"FILE"`
	XLSX     string `name:"xlsx" help:"Write every table into this workbook, too." placeholder:"FILE"`
	CSV      string `name:"csv" help:"Write every table as a CSV file into this folder, too." placeholder:"DIR"`
	Pairs    int    `default:"10" help:"List so many pairs of blockers." placeholder:"N"`
	Language string `default:"en" enum:"en,es,fr,de" help:"Language of the printed pages: en, es, fr or de."`
}

func (numbersCmd) Help() string {
	return `Shows jammers, line-ups with the 95 % interval of their plus-minus per jam, power
jams with points by the times of passes or trips, star passes, lead changes, runs
of points, penalties by code and period. Fewer than 10 jams are a small sample.
Times in JSON are nanoseconds.

Examples:
  whistlecut numbers final.bout
  whistlecut numbers final.bout --pdf numbers.pdf --xlsx numbers.xlsx
  whistlecut numbers final.bout --csv tables --json`
}

func (c *numbersCmd) Run(e *env) error {
	for _, x := range [][3]string{{"--pdf", c.PDF, ".pdf"}, {"--xlsx", c.XLSX, ".xlsx"}} {
		if err := wantEnding(x[0], x[1], x[2]); err != nil {
			return err
		}
	}
	if c.Pairs < 0 {
		return usage("--pairs takes a number from 0 on, not %d", c.Pairs)
	}
	s, err := e.app.Open(c.Bout, true)
	if err != nil {
		return err
	}
	defer s.Close()
	r := s.Report()
	files, err := c.write(s)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"report": r, "films": filmNames([]*app.Session{s})})
	}
	c.print(e, r)
	e.wrote(files...)
	return nil
}

// write makes the files that were asked for and names them.
func (c *numbersCmd) write(s *app.Session) (files []string, err error) {
	if c.PDF != "" {
		if err := s.PrintNumbers(c.PDF, app.PrintOptions(c.Language)); err != nil {
			return files, err
		}
		files = append(files, c.PDF)
	}
	if c.XLSX != "" {
		if err := s.NumbersWorkbook(c.XLSX); err != nil {
			return files, err
		}
		files = append(files, c.XLSX)
	}
	if c.CSV != "" {
		list, err := s.NumbersCSV(c.CSV)
		if err != nil {
			return files, err
		}
		files = append(files, list...)
	}
	return files, nil
}

func teamName(t numbers.TeamReport) string {
	if t.Name != "" {
		return t.Name
	}
	return t.Side.String()
}

func (c *numbersCmd) print(e *env, r numbers.Report) {
	e.printf("%s\n", strings.TrimSpace(r.Date+" "+r.Title))
	e.printf("%s : %s   %s : %s, %s\n", teamName(r.Sides[0]), teamName(r.Sides[1]), r.Score[0], r.Score[1], count(r.Jams, "jam"))
	for n, side := range timeline.Sides {
		if u := r.Unlogged[n]; u > 0 {
			e.printf("nobody logged the points of %s in %s; they are left out\n", side, count(u, "jam"))
		}
	}
	for _, t := range r.Sides {
		e.printf("\n%s\n", teamName(t))
		c.team(e, t, r)
	}
	e.printf("\nLead changes in the score: %d\n", len(r.LeadChanges))
	for _, x := range r.LeadChanges {
		at := "time not known"
		if x.Timed {
			at = app.Clock(x.At)
		}
		e.printf("  jam %d.%d, %s: to %s, %s\n", x.Period, x.Number, at, x.To, x.Text)
	}
	e.printf("\nLongest runs of points:\n")
	for i, x := range r.Runs {
		if i == 5 {
			break
		}
		sure := ""
		if !x.Sure {
			sure = " at least, the points beside it are not all known"
		}
		e.printf("  %s %s, jam %d.%d to %d.%d%s\n", x.Side, count2(x.Points, "point"), x.First.Period, x.First.Number, x.Last.Period, x.Last.Number, sure)
	}
}

func (c *numbersCmd) team(e *env, t numbers.TeamReport, r numbers.Report) {
	rows := [][]string{{"  jammer", "jams", "after SP", "lead", "points", "trips", "per trip", "plus-minus per jam (95 %)"}}
	for _, j := range t.Jammers {
		lead := app.ShareText(j.Jamming.Lead)
		if !t.Jamming.LeadKnown {
			lead = "not known"
		}
		rows = append(rows, []string{
			"  " + strings.TrimSpace(string(j.Skater.Number)+" "+j.Name), fmt.Sprint(j.Jamming.Jams), fmt.Sprint(j.Jamming.StarPass), lead,
			j.Jamming.Points.String(), fmt.Sprint(j.Jamming.Trips), app.PerTripText(j.Jamming), meanCell(j.Stint.PerJam),
		})
	}
	e.table(rows)
	groups := func(title string, list []numbers.Group, most int) {
		if len(list) == 0 || most == 0 {
			return
		}
		rows := [][]string{{"  " + title, "jams", "for", "against", "plus-minus per jam (95 %)"}}
		for i, g := range list {
			if i == most {
				break
			}
			rows = append(rows, []string{"  " + g.Key(), fmt.Sprint(g.Stint.Jams), g.Stint.For.String(), g.Stint.Against.String(), meanCell(g.Stint.PerJam)})
		}
		e.table(rows)
		if len(list) > most {
			e.printf("  %d more\n", len(list)-most)
		}
	}
	groups("four blockers", t.Groups, 10)
	groups("pair", t.Pairs, c.Pairs)
	if t.GroupsUnknown > 0 {
		e.printf("  in %s not all four blockers are known\n", count(t.GroupsUnknown, "jam"))
	}
	other := r.Sides[t.Side.Other().Index()]
	for _, x := range []struct {
		name string
		p    numbers.PowerJams
	}{{"power jams", t.PowerJams}, {"power jams against", other.PowerJams}} {
		length := x.p.Time.Round(time.Second).String()
		if !x.p.TimeKnown {
			length = "about " + length
		}
		own, their := x.p.Scored, x.p.Conceded
		if x.name != "power jams" {
			own, their = their, own
		}
		e.printf("  %s: %d, %s, points %s : %s (by %s)\n", x.name, x.p.N, length, app.PointsText(own), app.PointsText(their), own.Plus(their).Basis)
	}
	sp := t.StarPass
	e.printf("  star passes: %d completed, %d not; %s by the new jammer\n", sp.Completed, sp.Failed, count2(sp.Points, "point"))
	head := []string{"  penalties"}
	for _, p := range t.Penalties.Periods {
		head = append(head, fmt.Sprintf("period %d", p))
	}
	rows = [][]string{append(head, "all")}
	for _, l := range t.Penalties.ByCode {
		name := strings.TrimSpace(l.Code + " " + l.Name)
		if l.Code == "" {
			name = "letter not seen"
		}
		row := []string{"  " + name}
		for _, n := range l.ByPeriod {
			row = append(row, fmt.Sprint(n))
		}
		rows = append(rows, append(row, fmt.Sprint(l.N)))
	}
	e.table(rows)
	box := app.GameClock(t.BoxTime, true)
	if !t.BoxKnown {
		box = "at least " + box
	}
	e.printf("  in the box: %s\n", box)
}

// meanCell marks a mean that rests on little.
func meanCell(m numbers.Mean) string {
	text := app.MeanText(m)
	if m.Small && m.N > 0 {
		text += " small sample"
	}
	return text
}
