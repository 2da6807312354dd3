package sheet

import (
	"fmt"
	"strings"
	"time"

	"whistlecut/timeline"
)

type teamLine struct {
	side timeline.Side
	name timeline.Cell[string]
}

type rosterEntry struct {
	side timeline.Side
	line RosterLine
}

func teamColumns() []ownColumn[teamLine] {
	return []ownColumn[teamLine]{
		sideColumn(func(t *teamLine) *timeline.Side { return &t.side }),
		column("Name", false, func(t *teamLine) *timeline.Cell[string] { return &t.name }, sameText, anyText),
	}
}

func rosterColumns() []ownColumn[rosterEntry] {
	return []ownColumn[rosterEntry]{
		sideColumn(func(t *rosterEntry) *timeline.Side { return &t.side }),
		column("Number", false, func(t *rosterEntry) *timeline.Cell[timeline.Number] { return &t.line.Number }, numberText, parseNumber),
		column("Name", false, func(t *rosterEntry) *timeline.Cell[string] { return &t.line.Name }, sameText, anyText),
	}
}

// scoreColumns are the score row's columns with trips 2 to last.
func scoreColumns(last int) []ownColumn[timeline.JamRow] {
	type row = timeline.JamRow
	mark := func(name string, at func(*row) *timeline.Cell[bool]) ownColumn[row] {
		return column(name, false, at, markText, parseMark)
	}
	points := func(name string, at func(*row) *timeline.Cell[int]) ownColumn[row] {
		return column(name, true, at, wholeText, parseWhole)
	}
	cols := []ownColumn[row]{
		intColumn("Period", func(r *row) *int { return &r.Period }),
		intColumn("Jam", func(r *row) *int { return &r.Jam }),
		sideColumn(func(r *row) *timeline.Side { return &r.Side }),
		plainColumn(
			"Row", false,
			func(r *row) string {
				switch {
				case r.StarPass:
					return "SP"
				case r.Spacer:
					return "SP*"
				}
				return ""
			},
			func(r *row, s string) bool {
				switch starRow(s) {
				case starOwn:
					r.StarPass = true
				case starOther:
					r.Spacer = true
				default:
					return s == ""
				}
				return true
			},
		),
		column("Jammer", false, func(r *row) *timeline.Cell[timeline.Number] { return &r.Jammer }, numberText, parseNumber),
		mark("Lost", func(r *row) *timeline.Cell[bool] { return &r.Lost }),
		mark("Lead", func(r *row) *timeline.Cell[bool] { return &r.Lead }),
		mark("Call", func(r *row) *timeline.Cell[bool] { return &r.Call }),
		mark("Inj", func(r *row) *timeline.Cell[bool] { return &r.Inj }),
		mark("NI", func(r *row) *timeline.Cell[bool] { return &r.NI }),
	}
	for n := 2; n <= last; n++ {
		i := n - 2
		c := points(fmt.Sprintf("Trip %d", n), func(r *row) *timeline.Cell[int] {
			for len(r.Trips) <= i {
				r.Trips = append(r.Trips, timeline.Cell[int]{State: timeline.CellBlank})
			}
			return &r.Trips[i]
		})
		get := c.get
		c.get = func(r *row) ownText {
			if i >= len(r.Trips) {
				return ownText{state: timeline.CellBlank}
			}
			return get(r)
		}
		cols = append(cols, c)
	}
	return append(cols,
		points("Jam total", func(r *row) *timeline.Cell[int] { return &r.JamTotal }),
		points("Game total", func(r *row) *timeline.Cell[int] { return &r.GameTotal }))
}

func totalColumns() []ownColumn[Total] {
	return []ownColumn[Total]{
		intColumn("Period", func(t *Total) *int { return &t.Period }),
		sideColumn(func(t *Total) *timeline.Side { return &t.Side }),
		column("Points", true, func(t *Total) *timeline.Cell[int] { return &t.Points }, wholeText, parseWhole),
	}
}

func penaltyColumns() []ownColumn[Penalty] {
	return []ownColumn[Penalty]{
		column("Period", true, func(p *Penalty) *timeline.Cell[int] { return &p.Period }, wholeText, parseWhole),
		column("Jam", true, func(p *Penalty) *timeline.Cell[int] { return &p.Jam }, wholeText, parseWhole),
		sideColumn(func(p *Penalty) *timeline.Side { return &p.Side }),
		column("Skater", false, func(p *Penalty) *timeline.Cell[timeline.Number] { return &p.Skater }, numberText, parseNumber),
		column("Code", false, func(p *Penalty) *timeline.Cell[string] { return &p.Code }, sameText, anyText),
	}
}

func outColumns() []ownColumn[Out] {
	return []ownColumn[Out]{
		column("Period", true, func(o *Out) *timeline.Cell[int] { return &o.Period }, wholeText, parseWhole),
		column("Jam", true, func(o *Out) *timeline.Cell[int] { return &o.Jam }, wholeText, parseWhole),
		sideColumn(func(o *Out) *timeline.Side { return &o.Side }),
		column("Skater", false, func(o *Out) *timeline.Cell[timeline.Number] { return &o.Skater }, numberText, parseNumber),
		column("FO/EXP", false, func(o *Out) *timeline.Cell[string] { return &o.Kind }, sameText, anyText),
	}
}

// lineupColumns are the line-up's columns with that many blockers.
func lineupColumns(blockers int) []ownColumn[Lineup] {
	cols := []ownColumn[Lineup]{
		intColumn("Period", func(l *Lineup) *int { return &l.Period }),
		intColumn("Jam", func(l *Lineup) *int { return &l.Jam }),
		sideColumn(func(l *Lineup) *timeline.Side { return &l.Side }),
		plainColumn(
			"Row", false,
			func(l *Lineup) string {
				if l.StarPass {
					return "SP"
				}
				return ""
			},
			func(l *Lineup, s string) bool {
				l.StarPass = starRow(s) == starOwn
				return s == "" || l.StarPass
			},
		),
		column("No pivot", false, func(l *Lineup) *timeline.Cell[bool] { return &l.NoPivot }, markText, parseMark),
	}
	cols = append(cols, slotColumns("Jammer", func(l *Lineup) *Slot { return &l.Jammer })...)
	cols = append(cols, slotColumns("Pivot", func(l *Lineup) *Slot { return &l.Pivot })...)
	for i := range blockers {
		slot := slotColumns(fmt.Sprintf("Blocker %d", i+1), func(l *Lineup) *Slot {
			for len(l.Blockers) <= i {
				l.Blockers = append(l.Blockers, Slot{Skater: timeline.Cell[timeline.Number]{State: timeline.CellBlank}})
			}
			return &l.Blockers[i]
		})
		for j := range slot {
			get := slot[j].get
			slot[j].get = func(l *Lineup) ownText {
				if i >= len(l.Blockers) {
					return ownText{state: timeline.CellBlank}
				}
				return get(l)
			}
		}
		cols = append(cols, slot...)
	}
	return cols
}

func timeColumn[T any](name string, at func(*T) *timeline.Cell[time.Duration]) ownColumn[T] {
	return column(name, false, at, clockText, parseClock)
}

func gameTimeColumn[T any](name string, at func(*T) *timeline.Cell[time.Duration]) ownColumn[T] {
	return column(name, false, at, clockText, parseGameTime)
}

func clockColumns() []ownColumn[JamClock] {
	return []ownColumn[JamClock]{
		intColumn("Period", func(c *JamClock) *int { return &c.Period }),
		intColumn("Jam", func(c *JamClock) *int { return &c.Jam }),
		gameTimeColumn("Duration", func(c *JamClock) *timeline.Cell[time.Duration] { return &c.Duration }),
		gameTimeColumn("Clock at start", func(c *JamClock) *timeline.Cell[time.Duration] { return &c.Start }),
		gameTimeColumn("Clock at end", func(c *JamClock) *timeline.Cell[time.Duration] { return &c.End }),
	}
}

func timeoutColumns() []ownColumn[Timeout] {
	return []ownColumn[Timeout]{
		column("Period", true, func(t *Timeout) *timeline.Cell[int] { return &t.Period }, wholeText, parseWhole),
		column("After jam", true, func(t *Timeout) *timeline.Cell[int] { return &t.AfterJam }, wholeText, parseWhole),
		plainColumn(
			"Team", false,
			func(t *Timeout) string {
				if t.Side == timeline.NoSide {
					return "official"
				}
				return t.Side.String()
			},
			func(t *Timeout, s string) bool {
				return officialWord(s) || t.Side.UnmarshalText([]byte(strings.ToLower(s))) == nil
			},
		),
		column("Type", false, func(t *Timeout) *timeline.Cell[string] { return &t.Kind }, sameText, anyText),
		gameTimeColumn("Clock", func(t *Timeout) *timeline.Cell[time.Duration] { return &t.Clock }),
		gameTimeColumn("Length", func(t *Timeout) *timeline.Cell[time.Duration] { return &t.Length }),
		column("Retained", false, func(t *Timeout) *timeline.Cell[bool] { return &t.Retained }, markText, parseMark),
	}
}

func boxColumns() []ownColumn[BoxVisit] {
	return []ownColumn[BoxVisit]{
		column("Period", true, func(b *BoxVisit) *timeline.Cell[int] { return &b.Period }, wholeText, parseWhole),
		column("Jam", true, func(b *BoxVisit) *timeline.Cell[int] { return &b.Jam }, wholeText, parseWhole),
		sideColumn(func(b *BoxVisit) *timeline.Side { return &b.Side }),
		column("Skater", false, func(b *BoxVisit) *timeline.Cell[timeline.Number] { return &b.Skater }, numberText, parseNumber),
		column("Role", false, func(b *BoxVisit) *timeline.Cell[timeline.Role] { return &b.Role }, roleText, parseOwnRole),
		column("Between jams", false, func(b *BoxVisit) *timeline.Cell[bool] { return &b.Between }, markText, parseMark),
		timeColumn("In", func(b *BoxVisit) *timeline.Cell[time.Duration] { return &b.In }),
		timeColumn("Stand", func(b *BoxVisit) *timeline.Cell[time.Duration] { return &b.Stand }),
		timeColumn("Done", func(b *BoxVisit) *timeline.Cell[time.Duration] { return &b.Done }),
		column("Out jam", true, func(b *BoxVisit) *timeline.Cell[int] { return &b.OutJam }, wholeText, parseWhole),
	}
}

func keptColumns() []ownColumn[Kept] {
	return []ownColumn[Kept]{
		plainColumn("Heading", false, func(k *Kept) string { return k.Heading }, func(k *Kept, s string) bool { k.Heading = s; return true }),
		plainColumn("Text", false, func(k *Kept) string { return k.Text }, func(k *Kept, s string) bool { k.Text = s; return true }),
	}
}
