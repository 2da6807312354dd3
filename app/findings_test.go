package app

import (
	"path/filepath"
	"testing"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
	"whistlecut/timeline/simulate"
)

// TestCorrection: whatever is planted, a correction that is offered takes its
// finding away when it is applied, and lets tags and sheet differ nowhere else;
// where none is offered nothing is changed.
func TestCorrection(t *testing.T) {
	game := simulate.Play(5, simulate.Options{Jams: 4})
	clean := plant.Sheet(game)
	offered := map[sheet.Cause]int{}
	for seed := range uint64(12) {
		paper, _ := plant.Plant(clean, seed, 3)
		if seed%3 == 0 { // a sheet of scores and penalties alone
			paper, _ = plant.Plant(clean, seed, 3, sheet.CauseTripDigit, sheet.CauseWrongJammer, sheet.CausePenCode, sheet.CausePenMissing)
			paper.Lineups = nil
		}
		a := New("tester")
		s, err := a.Create(filepath.Join(t.TempDir(), "game"+Ext))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Apply("game", timeline.FactsChanges(game.Facts())...); err != nil {
			t.Fatal(err)
		}
		before := sheet.Check(paper, s.Bout, s.Facts)
		tags := len(s.Facts.Tags)
		for _, f := range before.Findings {
			changes, ok := s.Correction(paper, f)
			if len(s.Facts.Tags) != tags {
				t.Fatal("trying out changed the facts")
			}
			if ok != (len(changes) > 0) {
				t.Errorf("%s: ok %v with %d changes", f.Key, ok, len(changes))
			}
			if !ok {
				continue
			}
			offered[f.Cause]++
			if err := s.Apply("correct", changes...); err != nil {
				t.Fatalf("%s: %v", f.Key, err)
			}
			known := map[string]bool{}
			for _, x := range before.Findings {
				known[x.Key] = true
			}
			for _, x := range sheet.Check(paper, s.Bout, s.Facts).Findings {
				slip := x.State == sheet.StateImpossible || x.Cause == sheet.CauseJamTotal || x.Cause == sheet.CauseRunning
				if x.Key == f.Key || !known[x.Key] && !slip {
					t.Errorf("seed %d, %s: after its correction there is %s", seed, f.Key, x.Key)
				}
			}
			if _, err := s.File.Undo(); err != nil {
				t.Fatal(err)
			}
			s.Refresh()
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []sheet.Cause{sheet.CauseTripDigit, sheet.CauseLead, sheet.CausePenCode, sheet.CausePenMissing, sheet.CauseWrongJammer} {
		if offered[c] == 0 {
			t.Errorf("no correction was ever offered for %q", c)
		}
	}
	for _, c := range []sheet.Cause{sheet.CauseMissingRow, sheet.CauseDoubledRow, sheet.CauseSwappedTeams, sheet.CausePenExtra} {
		if offered[c] > 0 {
			t.Errorf("a correction was offered for %q, which more than one change could settle", c)
		}
	}
}

func TestUnsettled(t *testing.T) {
	with := func(v string) sheet.Finding {
		return sheet.Finding{Key: v, Resolution: &timeline.Resolution{Verdict: v}}
	}
	r := &sheet.Report{Findings: []sheet.Finding{{Key: "open"}, with(timeline.VerdictTagWrong), with(timeline.VerdictSheetDiffers), with(timeline.VerdictUnclear)}}
	got := UnsettledOf(r)
	if len(got) != 2 || got[0].Key != "open" || got[1].Key != timeline.VerdictTagWrong || len(r.Findings) != 4 {
		t.Errorf("got %v", got)
	}
	if UnsettledOf(nil) != nil {
		t.Error("no report, yet something is unsettled")
	}
}
