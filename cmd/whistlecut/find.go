package main

import (
	"fmt"

	"whistlecut/app"
	"whistlecut/timeline"
)

type findCmd struct {
	Bout string `arg:"" help:"The bout file."`
	selectFlags
	Why bool `help:"Say for each moment why it was picked, with the rule section."`
}

func (findCmd) Help() string {
	return `Without any choice every jam is listed.

Examples:
  whistlecut find demo.bout --situation "power jam" --side home
  whistlecut find demo.bout --kind penalty --skater "away 9"
  whistlecut find demo.bout --kind trip --role jammer --score "home trailing 5"`
}

func (c *findCmd) Run(e *env) error {
	s, err := e.app.Open(c.Bout, true)
	if err != nil {
		return err
	}
	defer s.Close()
	sel, err := c.selection(s)
	if err != nil {
		return err
	}
	moments := timeline.Find(s.Bout, s.Facts, sel)
	if e.asJSON {
		return e.printJSON(map[string]any{"moments": moments})
	}
	if len(moments) == 0 {
		e.printf("nothing of that is tagged in this bout\n")
		return nil
	}
	rows := [][]string{{"jam", "at", "what", "who", "score", "film"}}
	for _, m := range moments {
		rows = append(rows, momentRow(s, m))
		if c.Why {
			for _, w := range m.Why {
				rows = append(rows, []string{"", "", "  " + reason(w)})
			}
		}
	}
	e.table(rows)
	e.printf("%d moments\n", len(moments))
	return nil
}

func momentRow(s *app.Session, m timeline.Moment) []string {
	jam, at := "-", "-"
	if m.Number > 0 {
		jam = fmt.Sprintf("%d.%d", m.Period, m.Number)
	}
	if m.Timed {
		at = app.Clock(m.Range.Start)
	}
	what := string(m.Situation)
	if what == "" {
		what = string(m.Kind)
	}
	if m.Code != "" {
		what += " " + m.Code
	}
	if m.Kind == timeline.KindTrip && m.Points != nil {
		what += ": " + m.Points.String()
	}
	who := ""
	if m.Side != timeline.NoSide {
		who = m.Side.String()
	}
	if m.Who != "" {
		who += " " + string(m.Who)
	}
	if m.Name != "" {
		who += " " + m.Name
	}
	film := string(m.State)
	if len(m.Film) > 0 {
		film = fmt.Sprintf("%s %s", s.Facts.Footage[m.Film[0].Footage].Path, app.Clock(m.Film[0].From))
	}
	return []string{jam, at, what, who, m.Score[0].String() + " : " + m.Score[1].String(), film}
}

func reason(r timeline.Reason) string {
	if r.Section == "" {
		return r.Text
	}
	return r.Text + " (" + r.Section + ")"
}
