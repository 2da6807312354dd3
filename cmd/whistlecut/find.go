package main

import (
	"fmt"
	"strings"

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
	rows := [][]string{{"jam", "jam time", "what", "who", "home : away", "film"}}
	for _, m := range moments {
		rows = append(rows, momentRow(s, m))
		if c.Why {
			for _, w := range m.Why {
				rows = append(rows, []string{"", "", "  " + reason(w)})
			}
		}
	}
	e.table(rows)
	e.printf("%s\n", count(len(moments), "moment"))
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
	film := string(m.State)
	if len(m.Film) > 0 {
		film = fmt.Sprintf("%s %s", s.Facts.Footage[m.Film[0].Footage].Path, app.Clock(m.Film[0].From))
	}
	return []string{jam, at, whatOf(s, m), whoOf(m), m.Score[0].String() + " : " + m.Score[1].String(), film}
}

// whatOf names a moment: its kind with the penalty's letter, the trip's number
// and points, or by how many a team is short.
func whatOf(s *app.Session, m timeline.Moment) string {
	what := string(m.Situation)
	if what == "" {
		what = string(m.Kind)
	}
	if m.Code != "" {
		what += " " + m.Code
	}
	if m.Situation == timeline.SitShort && m.N > 0 {
		what += fmt.Sprintf(" by %d", m.N)
	}
	if m.Kind != timeline.KindTrip {
		return what
	}
	for _, id := range m.Tags {
		if t, ok := s.Facts.Tags[id]; ok && t.Trip != nil {
			if t.Trip.Number == 1 {
				what = "initial trip"
			} else if t.Trip.Number > 1 {
				what += fmt.Sprintf(" %d", t.Trip.Number)
			}
		}
	}
	if m.Points != nil && (what != "initial trip" || *m.Points != timeline.Range{}) {
		what += ": " + m.Points.String()
	}
	return what
}

// whoOf names side and skater. In a power jam the skater named is the opposing
// jammer, who is penalised; she is not taken for one of the side's own.
func whoOf(m timeline.Moment) string {
	if m.Side == timeline.NoSide {
		return ""
	}
	name := strings.TrimSpace(string(m.Who) + " " + m.Name)
	if app.Against(m) {
		return m.Side.String() + "; " + m.Skater.Side.String() + " " + name + " boxed"
	}
	return strings.TrimSpace(m.Side.String() + " " + name)
}

func reason(r timeline.Reason) string {
	if r.Section == "" {
		return r.Text
	}
	return r.Text + " (" + r.Section + ")"
}
