package sheet_test

import (
	"slices"
	"testing"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
)

// rowOf finds a side's first row of a jam.
func rowOf(s *sheet.Sheet, side timeline.Side, period, jam int) *timeline.JamRow {
	for i := range s.Rows {
		if r := &s.Rows[i]; r.Side == side && r.Period == period && r.Jam == jam && !r.StarPass && !r.Spacer {
			return r
		}
	}
	return nil
}

// TestSelfCheck: what a sheet shows to be off with no film at all.
func TestSelfCheck(t *testing.T) {
	rules, _ := timeline.Edition("2025")
	home := timeline.Home
	for _, c := range []struct {
		name   string
		change func(*sheet.Sheet)
		want   []sheet.Cause
	}{
		{"nothing", func(*sheet.Sheet) {}, nil},
		{"trips do not make the jam total", func(s *sheet.Sheet) {
			rowOf(s, home, 1, 2).JamTotal.Value++ // and the displayed total, which the rows no longer make
		}, []sheet.Cause{sheet.CauseJamTotal, sheet.CauseRunning}},
		{"one game total off", func(s *sheet.Sheet) { rowOf(s, home, 2, 2).GameTotal.Value += 10 }, []sheet.Cause{sheet.CauseRunning}},
		{"game total off from there on", func(s *sheet.Sheet) {
			for i := range s.Rows {
				if r := &s.Rows[i]; r.Side == home && r.Period == 2 && r.Jam >= 2 && r.GameTotal.State == timeline.CellKnown {
					r.GameTotal.Value += 10
				}
			}
		}, []sheet.Cause{sheet.CauseRunning}},
		{"displayed total", func(s *sheet.Sheet) { s.Totals[0].Points.Value++ }, []sheet.Cause{sheet.CauseRunning}},
		{"five points in a trip", func(s *sheet.Sheet) {
			r := rowOf(s, home, 1, 2)
			r.Trips = []timeline.Cell[int]{timeline.Known(5)}
			r.JamTotal, r.GameTotal = timeline.Cell[int]{}, timeline.Cell[int]{}
			s.Totals = nil
			for i := range s.Rows {
				s.Rows[i].GameTotal = timeline.Cell[int]{}
			}
		}, []sheet.Cause{sheet.CauseTripDigit}},
		{"two leads", func(s *sheet.Sheet) {
			for _, side := range timeline.Sides {
				rowOf(s, side, 1, 1).Lead = timeline.Known(true)
			}
		}, []sheet.Cause{sheet.CauseLead}},
		{"call without lead", func(s *sheet.Sheet) {
			r := rowOf(s, home, 1, 2)
			r.Lead, r.Call = timeline.Known(false), timeline.Known(true)
		}, []sheet.Cause{sheet.CauseLead}},
		{"injury on one sheet", func(s *sheet.Sheet) { rowOf(s, home, 1, 1).Inj = timeline.Known(true) }, []sheet.Cause{sheet.CauseInj}},
		{"row left out, numbers kept", func(s *sheet.Sheet) {
			s.Rows = slices.DeleteFunc(s.Rows, func(r timeline.JamRow) bool { return r.Side == home && r.Period == 1 && r.Jam == 2 })
			s.Totals = nil
			for i := range s.Rows {
				s.Rows[i].GameTotal = timeline.Cell[int]{}
			}
		}, []sheet.Cause{sheet.CauseMissingRow}},
		{"row twice", func(s *sheet.Sheet) {
			i := slices.IndexFunc(s.Rows, func(r timeline.JamRow) bool { return r.Side == home && r.Period == 1 && r.Jam == 1 })
			s.Rows = slices.Insert(s.Rows, i+1, s.Rows[i])
			s.Totals = nil
			for i := range s.Rows {
				s.Rows[i].GameTotal = timeline.Cell[int]{}
			}
		}, []sheet.Cause{sheet.CauseDoubledRow}},
		{"jammer not in the line-up", func(s *sheet.Sheet) {
			r := rowOf(s, home, 1, 1)
			for _, l := range s.Teams[0].Roster {
				if l.Number.Value != r.Jammer.Value {
					r.Jammer = l.Number
					break
				}
			}
		}, []sheet.Cause{sheet.CauseWrongJammer}},
		{"number on no roster", func(s *sheet.Sheet) { s.Penalties[0].Skater = timeline.Known(timeline.Number("9999")) }, []sheet.Cause{sheet.CauseUnknown}},
		{"twice in a line-up", func(s *sheet.Sheet) {
			s.Lineups[0].Blockers[0].Skater = s.Lineups[0].Blockers[1].Skater
			s.Penalties = nil
		}, []sheet.Cause{sheet.CauseLineup}},
		{"fouled out too early", func(s *sheet.Sheet) {
			p := s.Penalties[0]
			s.Outs = append(s.Outs, sheet.Out{Side: p.Side, Skater: p.Skater, Kind: timeline.Known(sheet.OutFoul), Period: timeline.Known(2), Jam: timeline.Known(99)})
		}, []sheet.Cause{sheet.CausePenMissing}},
		{"in the box, then left out", func(s *sheet.Sheet) {
			for n := range s.Lineups {
				l := &s.Lineups[n]
				for i := range l.Blockers {
					if b := &l.Blockers[i]; len(b.Box) > 0 && b.Box[0].Value == sheet.BoxStillLeft && l.Jam > 1 && len(l.Blockers) > 2 {
						*b = sheet.Slot{}
						s.Penalties = nil
						return
					}
				}
			}
			t.Fatal("nobody was in the box over a jam's start")
		}, []sheet.Cause{sheet.CauseBoxedMissing}},
		{"score rows alone", func(s *sheet.Sheet) { *s = sheet.Sheet{Rows: s.Rows} }, nil},
		{"empty sheet", func(s *sheet.Sheet) { *s = sheet.Sheet{} }, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := plant.Sheet(game())
			c.change(&s)
			var got []sheet.Cause
			r := sheet.SelfCheck(s, rules)
			for _, f := range r.Findings {
				got = append(got, f.Cause)
				if f.State != sheet.StateImpossible || f.Text == "" || f.Key == "" {
					t.Errorf("finding %+v", f)
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("found %v, want %v", got, c.want)
				for _, f := range r.Findings {
					t.Log(f.Where(), f.Text)
				}
			}
		})
	}
}
