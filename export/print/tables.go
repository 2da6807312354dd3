package print

import (
	"fmt"
	"strings"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// Table is one table of a bout's numbers as data: cells are string, int, float64 or
// nil for what is not known. Numbers of skaters are text, so that 02 keeps its zero.
type Table struct {
	Name string // of the worksheet and, in small letters, of the CSV file
	Head []string
	Rows [][]any
}

// seconds is a time as tables have it.
func seconds(d time.Duration) float64 { return d.Round(time.Millisecond).Seconds() }

// low and high put a range into two cells.
func low(r timeline.Range) any  { return r.Low }
func high(r timeline.Range) any { return r.High }

// known puts points into two cells, nothing where they are not known.
func known(p numbers.Points) (any, any) {
	if !p.Known() {
		return nil, nil
	}
	return p.Low, p.High
}

// meanCells are a mean, its interval and what it rests on.
func meanCells(m numbers.Mean) []any {
	switch {
	case m.N == 0:
		return []any{0, nil, nil, nil}
	case !m.HasInterval:
		return []any{m.N, m.Mean, nil, nil}
	}
	return []any{m.N, m.Mean, m.Low, m.High}
}

var meanHead = []string{"Jams counted", "Plus-minus per jam", "95 % from", "95 % to"}

// Tables are the numbers of a bout as data. Their words are English, as the
// headings of data are.
func Tables(r numbers.Report) []Table {
	return []Table{
		jamTable(r), stepTable(r), jammerTable(r), groupTable("Line-ups", r, func(t numbers.TeamReport) []numbers.Group { return t.Groups }),
		groupTable("Pairs", r, func(t numbers.TeamReport) []numbers.Group { return t.Pairs }),
		skaterTable(r), powerTable(r), penaltyTable(r), leadTable(r), runTable(r),
	}
}

func jamTable(r numbers.Report) Table {
	t := Table{Name: "Jams", Head: []string{"Period", "Jam", "Seconds", "Overtime", "Lead", "Home from", "Home to", "Away from", "Away to", "Home total", "Away total", "Home logged", "Away logged"}}
	for _, j := range r.PerJam {
		row := []any{j.Period, j.Number, nil, mark(j.Overtime), side(j.Lead)}
		if j.Duration > 0 {
			row[2] = seconds(j.Duration)
		}
		for _, p := range j.Points {
			row = append(row, low(p), high(p))
		}
		for _, p := range j.Score {
			if p.Sure() {
				row = append(row, p.Low)
			} else {
				row = append(row, nil)
			}
		}
		t.Rows = append(t.Rows, append(row, mark(j.Logged[0]), mark(j.Logged[1])))
	}
	return t
}

func mark(b bool) string {
	if b {
		return "x"
	}
	return ""
}

func side(s timeline.Side) string {
	if s == timeline.NoSide {
		return ""
	}
	return s.String()
}

func stepTable(r numbers.Report) Table {
	t := Table{Name: "Score", Head: []string{"Period", "Jam", "Jam time", "Scored", "Home from", "Home to", "Away from", "Away to", "Margin from", "Margin to"}}
	for _, s := range r.Steps {
		row := []any{s.Period, s.Number, nil, side(s.Side)}
		if s.Timed {
			row[2] = seconds(s.At)
		}
		t.Rows = append(t.Rows, append(row, s.Score[0].Low, s.Score[0].High, s.Score[1].Low, s.Score[1].High, s.Margin.Low, s.Margin.High))
	}
	return t
}

func jammerTable(r numbers.Report) Table {
	t := Table{Name: "Jammers", Head: append([]string{"Team", "Number", "Name", "Jams", "After star pass", "Lead from", "Lead to", "Lead out of", "Lost", "Called", "No initial", "Scoring trips", "Completed trips", "Points from", "Points to"}, meanHead...)}
	for _, x := range r.Sides {
		for _, j := range x.Jammers {
			m := j.Jamming
			row := []any{side(x.Side), string(j.Skater.Number), j.Name, m.Jams, m.StarPass, nil, nil, m.Lead.Of, m.Lost, m.Called, m.NoInitial, m.Trips, m.Completed, m.Points.Low, m.Points.High}
			if x.Jamming.LeadKnown {
				row[5], row[6] = m.Lead.Low, m.Lead.High
			}
			t.Rows = append(t.Rows, append(row, meanCells(j.Stint.PerJam)...))
		}
	}
	return t
}

func groupTable(name string, r numbers.Report, of func(numbers.TeamReport) []numbers.Group) Table {
	t := Table{Name: name, Head: append([]string{"Team", "Skaters", "Jams", "For from", "For to", "Against from", "Against to"}, meanHead...)}
	for _, x := range r.Sides {
		for _, g := range of(x) {
			s := g.Stint
			t.Rows = append(t.Rows, append([]any{side(x.Side), g.Key(), s.Jams, s.For.Low, s.For.High, s.Against.Low, s.Against.High}, meanCells(s.PerJam)...))
		}
	}
	return t
}

func skaterTable(r numbers.Report) Table {
	t := Table{Name: "Skaters", Head: append(append([]string{"Team", "Number", "Name", "Jams", "Jammer", "Pivot", "Blocker", "After star pass", "For from", "For to", "Against from", "Against to"}, meanHead...),
		"On track for from", "On track for to", "On track against from", "On track against to", "Penalties", "Box seconds", "Box not known", "Conceded sitting from", "Conceded sitting to", "Conceded counted by")}
	for _, x := range r.Sides {
		for _, k := range x.Skaters {
			c := k.Record
			row := []any{side(x.Side), string(k.Skater.Number), k.Name, c.All.Jams, c.Jammer.Jams, c.Pivot.Jams, c.Blocker.Jams, c.StarPass.Jams, c.All.For.Low, c.All.For.High, c.All.Against.Low, c.All.Against.High}
			row = append(row, meanCells(c.All.PerJam)...)
			for _, p := range []numbers.Points{c.OnTrackFor, c.OnTrackAgainst} {
				a, b := known(p)
				row = append(row, a, b)
			}
			a, b := known(c.Conceded)
			t.Rows = append(t.Rows, append(row, c.Penalties, seconds(c.BoxTime), c.BoxUnknown, a, b, string(c.Conceded.Basis)))
		}
	}
	return t
}

func powerTable(r numbers.Report) Table {
	t := Table{Name: "Power jams", Head: []string{"Team", "Period", "Jam", "From", "To", "Boxed jammer", "For from", "For to", "Against from", "Against to", "Counted by"}}
	for _, x := range r.Sides {
		for _, p := range x.PowerJams.List {
			a, b := known(p.Scored)
			c, d := known(p.Conceded)
			t.Rows = append(t.Rows, []any{side(x.Side), p.Period, p.Number, seconds(p.Range.Start), seconds(p.Range.End), string(p.Boxed.Number), a, b, c, d, string(p.Scored.Plus(p.Conceded).Basis)})
		}
	}
	return t
}

func penaltyTable(r numbers.Report) Table {
	t := Table{Name: "Penalties", Head: []string{"Team", "Code", "Penalty"}}
	for _, p := range r.Sides[0].Penalties.Periods {
		t.Head = append(t.Head, fmt.Sprintf("Period %d", p))
	}
	t.Head = append(t.Head, "All")
	for _, x := range r.Sides {
		for _, l := range x.Penalties.ByCode {
			row := []any{side(x.Side), l.Code, l.Name}
			for _, n := range l.ByPeriod {
				row = append(row, n)
			}
			t.Rows = append(t.Rows, append(row, l.N))
		}
	}
	return t
}

func leadTable(r numbers.Report) Table {
	t := Table{Name: "Lead changes", Head: []string{"Period", "Jam", "Jam time", "Leads from then on", "Score"}}
	for _, x := range r.LeadChanges {
		row := []any{x.Period, x.Number, nil, side(x.To), x.Text}
		if x.Timed {
			row[2] = seconds(x.At)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func runTable(r numbers.Report) Table {
	t := Table{Name: "Runs", Head: []string{"Team", "Points from", "Points to", "First period", "First jam", "Last period", "Last jam", "Jams", "Ends seen"}}
	for _, x := range r.Runs {
		t.Rows = append(t.Rows, []any{side(x.Side), x.Points.Low, x.Points.High, x.First.Period, x.First.Number, x.Last.Period, x.Last.Number, x.Jams, mark(x.Sure)})
	}
	return t
}

// FileName is the table's name as a CSV file.
func (t Table) FileName() string {
	return strings.ReplaceAll(strings.ToLower(t.Name), " ", "-") + ".csv"
}
