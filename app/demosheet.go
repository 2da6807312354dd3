package app

import (
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/simulate"
)

// DemoSheet is the paperwork of a simulated game as officials without a mistake
// would hand it in.
func DemoSheet(g *simulate.Game) sheet.Sheet {
	p := paper{g: g, jam: map[timeline.ID]*simulate.Jam{}}
	for _, j := range g.Truth.Jams {
		p.jam[j.ID] = j
	}
	s := sheet.Sheet{Title: g.Teams[0].Name + " v " + g.Teams[1].Name, Rows: g.Rows()}
	for i, t := range g.Teams {
		s.Teams[i].Name = timeline.Known(t.Name)
		for _, sk := range t.Roster {
			s.Teams[i].Roster = append(s.Teams[i].Roster, sheet.RosterLine{Number: timeline.Known(sk.Number), Name: timeline.Known(sk.Name)})
		}
	}
	p.penalties(&s)
	p.lineups(&s)
	p.clock(&s)
	p.totals(&s)
	return s
}

// paper fills in the forms of one game.
type paper struct {
	g   *simulate.Game
	jam map[timeline.ID]*simulate.Jam
}

func (p paper) penalties(s *sheet.Sheet) {
	for _, x := range p.g.Truth.Penalties {
		j := p.jam[x.Jam]
		s.Penalties = append(s.Penalties, sheet.Penalty{
			Side: x.Side, Skater: timeline.Known(x.Number), Code: timeline.Known(x.Code),
			Period: timeline.Known(j.Period), Jam: timeline.Known(j.Number),
		})
		if x.FoulOut {
			s.Outs = append(s.Outs, sheet.Out{
				Side: x.Side, Skater: timeline.Known(x.Number), Kind: timeline.Known(sheet.OutFoul),
				Period: timeline.Known(j.Period), Jam: timeline.Known(j.Number),
			})
		}
	}
}

func (p paper) lineups(s *sheet.Sheet) {
	for _, j := range p.g.Truth.Jams {
		for _, side := range timeline.Sides {
			t := j.Sides[side.Index()]
			l := sheet.Lineup{Period: j.Period, Jam: j.Number, Side: side, Jammer: p.slot(j, side, t.Jammer)}
			if t.Pivot == "" {
				l.NoPivot = timeline.Known(true)
			} else {
				l.Pivot = p.slot(j, side, t.Pivot)
			}
			for _, b := range t.Blockers {
				l.Blockers = append(l.Blockers, p.slot(j, side, b))
			}
			s.Lineups = append(s.Lineups, l)
		}
	}
}

// slot is one skater of a line-up with the box symbols of her visits that touch the jam.
func (p paper) slot(j *simulate.Jam, side timeline.Side, n timeline.Number) sheet.Slot {
	out := sheet.Slot{Skater: timeline.Known(n)}
	for _, v := range p.g.Truth.Visits {
		if v.Side != side || v.Number != n {
			continue
		}
		in := p.jam[v.InJam]
		if in == nil || in.Start > j.Start {
			continue
		}
		left := p.jam[v.OutJam]
		if left != nil && left.Start < j.Start {
			continue
		}
		before := in != j || v.In < 0
		stays := left == nil || left != j
		mark := sheet.BoxBoth
		switch {
		case before && stays:
			mark = sheet.BoxStill
		case before:
			mark = sheet.BoxStillLeft
		case stays:
			mark = sheet.BoxEntered
		}
		out.Box = append(out.Box, timeline.Known(mark))
	}
	return out
}

func (p paper) clock(s *sheet.Sheet) {
	for _, j := range p.g.Truth.Jams {
		s.Clock = append(s.Clock, sheet.JamClock{
			Period: j.Period, Jam: j.Number,
			// The jam timer reads a stopwatch: whole seconds.
			Duration: timeline.Known(j.Duration().Round(time.Second)),
			Start:    timeline.Known(j.ClockAtStart.Round(time.Second)),
		})
	}
	for _, x := range p.g.Truth.Stoppages {
		j := p.jam[x.AfterJam]
		t := sheet.Timeout{
			Period: timeline.Known(j.Period), AfterJam: timeline.Known(j.Number), Side: x.Side,
			Kind: timeline.Known(sheet.KindTimeout), Clock: timeline.Known(x.Clock.Round(time.Second)),
			Length: timeline.Known((x.End - x.Start).Round(time.Second)),
		}
		if x.Kind == timeline.KindReview {
			t.Kind, t.Retained = timeline.Known(sheet.KindReview), timeline.Known(x.Retained)
		}
		s.Timeouts = append(s.Timeouts, t)
	}
}

func (p paper) totals(s *sheet.Sheet) {
	sum := map[int]*[2]int{}
	for _, j := range p.g.Truth.Jams {
		if sum[j.Period] == nil {
			sum[j.Period] = &[2]int{}
		}
		for i := range j.Sides {
			sum[j.Period][i] += j.Sides[i].Points
		}
	}
	for period := 1; sum[period] != nil; period++ {
		for _, side := range timeline.Sides {
			s.Totals = append(s.Totals, sheet.Total{Period: period, Side: side, Points: timeline.Known(sum[period][side.Index()])})
		}
	}
	for _, side := range timeline.Sides {
		s.Totals = append(s.Totals, sheet.Total{Side: side, Points: timeline.Known(p.g.Truth.Score[side.Index()])})
	}
}
