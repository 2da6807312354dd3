package plant

import (
	"sort"
	"strings"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/simulate"
)

// Sheet is the paperwork of a simulated bout as faultless officials fill it in,
// from the simulator's own record and not from any recount.
func Sheet(g *simulate.Game) sheet.Sheet {
	s := sheet.Sheet{Title: g.Teams[0].Name + " : " + g.Teams[1].Name, Rows: g.Rows()}
	for i, t := range g.Teams {
		s.Teams[i].Name = timeline.Known(t.Name)
		for _, p := range t.Roster {
			s.Teams[i].Roster = append(s.Teams[i].Roster, sheet.RosterLine{Number: timeline.Known(p.Number), Name: timeline.Known(p.Name)})
		}
	}
	p := paper{g: g, s: &s, jams: map[timeline.ID]int{}}
	for n, j := range g.Truth.Jams {
		p.jams[j.ID] = n
	}
	p.penalties()
	p.lineups()
	p.clock()
	p.box()
	p.totals()
	return s
}

type paper struct {
	g    *simulate.Game
	s    *sheet.Sheet
	jams map[timeline.ID]int
}

func (p *paper) jam(id timeline.ID) *simulate.Jam { return p.g.Truth.Jams[p.jams[id]] }

func (p *paper) penalties() {
	for _, x := range p.g.Truth.Penalties {
		j := p.jam(x.Jam)
		period, jam := timeline.Known(j.Period), timeline.Known(j.Number)
		p.s.Penalties = append(p.s.Penalties, sheet.Penalty{
			Side: x.Side, Skater: timeline.Known(x.Number), Code: timeline.Known(x.Code), Period: period, Jam: jam,
		})
		if x.FoulOut {
			p.s.Outs = append(p.s.Outs, sheet.Out{Side: x.Side, Skater: timeline.Known(x.Number), Kind: timeline.Known(sheet.OutFoul), Period: period, Jam: jam})
		}
	}
	// The penalty sheet is kept by skater.
	sort.SliceStable(p.s.Penalties, func(i, j int) bool {
		a, b := p.s.Penalties[i], p.s.Penalties[j]
		if a.Side != b.Side {
			return a.Side < b.Side
		}
		return strings.Compare(string(a.Skater.Value), string(b.Skater.Value)) < 0
	})
}

func (p *paper) lineups() {
	for n, j := range p.g.Truth.Jams {
		for i, side := range timeline.Sides {
			js := &j.Sides[i]
			l := sheet.Lineup{Period: j.Period, Jam: j.Number, Side: side, NoPivot: timeline.Known(js.Pivot == "")}
			l.Jammer = p.slot(side, n, js.Jammer)
			l.Pivot = p.slot(side, n, js.Pivot)
			for _, b := range js.Blockers {
				l.Blockers = append(l.Blockers, p.slot(side, n, b))
			}
			p.s.Lineups = append(p.s.Lineups, l)
			if js.NewJammer != "" {
				sp := l
				sp.StarPass = true
				sp.Jammer, sp.Pivot = sheet.Slot{Skater: l.Pivot.Skater}, sheet.Slot{Skater: l.Jammer.Skater}
				sp.Blockers = nil
				for _, b := range l.Blockers {
					sp.Blockers = append(sp.Blockers, sheet.Slot{Skater: b.Skater})
				}
				p.s.Lineups = append(p.s.Lineups, sp)
			}
		}
	}
}

// slot is a place with its box marks: by jam of entry and exit.
func (p *paper) slot(side timeline.Side, n int, who timeline.Number) sheet.Slot {
	if who == "" {
		return sheet.Slot{Skater: timeline.Cell[timeline.Number]{State: timeline.CellBlank}}
	}
	s := sheet.Slot{Skater: timeline.Known(who)}
	for _, v := range p.g.Truth.Visits {
		if v.Side != side || v.Number != who || v.InJam == "" { // never sat: the game ended first
			continue
		}
		in, out := p.jams[v.InJam], len(p.g.Truth.Jams)
		left := false // in jam out
		if v.OutJam != "" {
			out = p.jams[v.OutJam]
			left = v.Out >= 0
		}
		var m sheet.BoxMark
		switch sat := v.In >= 0; {
		case n < in || n > out || n == out && !left:
			continue
		case n == in && sat && n == out:
			m = sheet.BoxBoth
		case n == in && sat:
			m = sheet.BoxEntered
		case n == out:
			m = sheet.BoxStillLeft
		default:
			m = sheet.BoxStill
		}
		s.Box = append(s.Box, timeline.Known(m))
	}
	return s
}

func (p *paper) clock() {
	for _, j := range p.g.Truth.Jams {
		p.s.Clock = append(p.s.Clock, sheet.JamClock{
			Period: j.Period, Jam: j.Number, Duration: timeline.Known(j.Duration().Round(time.Second)),
			Start: timeline.Known(j.ClockAtStart.Round(time.Second)), End: timeline.Known(j.ClockAtEnd.Round(time.Second)),
		})
	}
	for _, x := range p.g.Truth.Stoppages {
		j := p.jam(x.AfterJam)
		t := sheet.Timeout{
			Period: timeline.Known(j.Period), AfterJam: timeline.Known(j.Number), Side: x.Side, Kind: timeline.Known(sheet.KindTimeout),
			Clock: timeline.Known(x.Clock.Round(time.Second)), Length: timeline.Known((x.End - x.Start).Round(time.Second)),
			Retained: timeline.Known(x.Retained),
		}
		if x.Kind == timeline.KindReview {
			t.Kind = timeline.Known(sheet.KindReview)
		}
		p.s.Timeouts = append(p.s.Timeouts, t)
	}
}

func (p *paper) box() {
	for _, v := range p.g.Truth.Visits {
		if v.InJam == "" {
			continue
		}
		j := p.jam(v.InJam)
		b := sheet.BoxVisit{
			Side: v.Side, Skater: timeline.Known(v.Number), Role: timeline.Known(v.Role),
			Period: timeline.Known(j.Period), Jam: timeline.Known(j.Number), Between: timeline.Known(v.In < 0),
			In: timeline.Known(max(v.In, 0).Round(time.Second)),
		}
		b.OutJam.State, b.Stand.State, b.Done.State = timeline.CellBlank, timeline.CellBlank, timeline.CellBlank
		if v.OutJam != "" {
			b.OutJam = timeline.Known(p.jam(v.OutJam).Number)
			b.Done = timeline.Known(max(v.Out, 0).Round(time.Second))
		}
		if v.Stood {
			b.Stand = timeline.Known(max(v.Stand, 0).Round(time.Second))
		}
		p.s.Box = append(p.s.Box, b)
	}
}

func (p *paper) totals() {
	var sum [8][2]int
	last := 0
	for _, j := range p.g.Truth.Jams {
		for i := range j.Sides {
			if j.Period < len(sum) {
				sum[j.Period][i] += j.Sides[i].Points
				last = max(last, j.Period)
			}
		}
	}
	for n := 1; n <= last; n++ {
		for i, side := range timeline.Sides {
			p.s.Totals = append(p.s.Totals, sheet.Total{Period: n, Side: side, Points: timeline.Known(sum[n][i])})
		}
	}
	for i, side := range timeline.Sides {
		p.s.Totals = append(p.s.Totals, sheet.Total{Side: side, Points: timeline.Known(p.g.Truth.Score[i])})
	}
}
