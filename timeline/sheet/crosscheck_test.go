package sheet_test

import (
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
	"whistlecut/timeline/simulate"
)

// game is one short simulated bout that all tests here share.
var game = sync.OnceValue(func() *simulate.Game {
	return simulate.Play(5, simulate.Options{PeriodLength: 6 * time.Minute, Rates: simulate.Rates{StarPasses: 3, Penalties: 2}})
})

func bout(t interface{ Fatal(...any) }, change func(*timeline.Facts)) (timeline.Bout, timeline.Facts) {
	return boutOf(t, game(), change)
}

// boutOf is a game as its tags tell it, changed.
func boutOf(t interface{ Fatal(...any) }, g *simulate.Game, change func(*timeline.Facts)) (timeline.Bout, timeline.Facts) {
	f := g.Facts()
	if change != nil {
		change(&f)
	}
	b := timeline.Derive(f)
	if len(b.Jams) == 0 {
		t.Fatal("the game has no jams")
	}
	return b, f
}

// accounted fails unless the findings' stakes and the unchecked points add up to
// the difference in score.
func accounted(t interface{ Errorf(string, ...any) }, r sheet.Report) {
	for i, a := range r.Score {
		sum := 0
		for _, f := range r.Findings {
			sum += f.Stake[i]
		}
		if a.Explained != sum || a.Difference != sum+a.Unchecked {
			t.Errorf("%s: difference %d, findings %d, unchecked %d", timeline.Sides[i], a.Difference, sum, a.Unchecked)
		}
	}
}

func only(t *testing.T, r sheet.Report, causes ...sheet.Cause) {
	t.Helper()
	var got []sheet.Cause
	for _, f := range r.Findings {
		got = append(got, f.Cause)
		if f.Key == "" || f.Text == "" || strings.Contains(strings.ToLower(f.Text), "wrong") {
			t.Errorf("finding %+v", f)
		}
	}
	if !slices.Equal(got, causes) {
		t.Errorf("found %v, want %v", got, causes)
		for _, f := range r.Findings {
			t.Logf("%s: %s: %s", f.Cause, f.Where(), f.Text)
		}
	}
	accounted(t, r)
}

// firstTrip finds a row of a side with points in trip 2, and its tag.
func firstTrip(s sheet.Sheet) int {
	return slices.IndexFunc(s.Rows, func(r timeline.JamRow) bool { return len(r.Trips) > 0 && r.Trips[0].Value == 4 })
}

func TestCheckStates(t *testing.T) {
	clean := plant.Sheet(game())
	i := firstTrip(clean)
	row := clean.Rows[i]
	tripTag := func(f *timeline.Facts) timeline.ID {
		for id, x := range f.Tags {
			if x.Kind == timeline.KindTrip && x.Trip.Number == 2 && x.Side == row.Side {
				j := f.Tags[x.Jam].JamInfo
				if j.Period == row.Period && int(j.Order) == row.Jam {
					return id
				}
			}
		}
		t.Fatal("no tag of that trip")
		return ""
	}
	digit := func(v int) sheet.Sheet {
		s := clean
		s.Totals = nil
		s.Rows = slices.Clone(clean.Rows)
		d := v - s.Rows[i].Trips[0].Value
		s.Rows[i].Trips = slices.Clone(s.Rows[i].Trips)
		s.Rows[i].Trips[0].Value = v
		s.Rows[i].JamTotal.Value += d
		for n := i; n < len(s.Rows); n++ {
			if s.Rows[n].Side == row.Side && s.Rows[n].GameTotal.State == timeline.CellKnown {
				s.Rows[n].GameTotal.Value += d
			}
		}
		return s
	}
	notSeen := func(f *timeline.Facts) {
		id := tripTag(f)
		x := f.Tags[id]
		x.Seen = timeline.NotSeen
		f.Tags[id] = x
	}

	t.Run("clean", func(t *testing.T) {
		b, f := bout(t, nil)
		only(t, sheet.Check(clean, b, f))
	})
	t.Run("a digit", func(t *testing.T) {
		b, f := bout(t, nil)
		r := sheet.Check(digit(1), b, f)
		only(t, r, sheet.CauseTripDigit)
		x := r.Findings[0]
		if x.Stake[row.Side.Index()] != -3 || x.Sheet != "1" || x.Tags != "4" || x.N != 2 || x.Points() != 3 || !x.Film.HasTime() {
			t.Errorf("finding %+v", x)
		}
	})
	t.Run("not seen: inside the range is open, never agreement", func(t *testing.T) {
		b, f := bout(t, notSeen)
		r := sheet.Check(clean, b, f)
		only(t, r)
		open := slices.ContainsFunc(r.Unchecked, func(u sheet.Unchecked) bool {
			return u.Period == row.Period && u.Jam == row.Jam && u.Side == row.Side && slices.Contains(u.Columns, "trip 2")
		})
		if !open {
			t.Errorf("trip 2 is not among the unchecked: %+v", r.Unchecked)
		}
		full, g := bout(t, nil)
		if r.Agreed >= sheet.Check(clean, full, g).Agreed {
			t.Error("a value that was not seen counts as agreement")
		}
		only(t, sheet.Check(digit(2), b, f))
	})
	t.Run("not seen: outside the range is a finding", func(t *testing.T) {
		b, f := bout(t, notSeen)
		only(t, sheet.Check(digit(7), b, f), sheet.CauseTripDigit)
	})
	t.Run("resolution is attached by key and survives", func(t *testing.T) {
		b, f := bout(t, nil)
		key := sheet.Check(digit(1), b, f).Findings[0].Key
		f.Resolutions = map[timeline.ID]timeline.Resolution{timeline.ID(key): {ID: timeline.ID(key), Verdict: timeline.VerdictSheetDiffers}}
		r := sheet.Check(digit(1), b, f)
		if r.Findings[0].Resolution == nil || len(r.Open()) != 0 {
			t.Errorf("finding %+v", r.Findings[0])
		}
		if r := sheet.Check(digit(2), b, f); r.Findings[0].Resolution != nil {
			t.Error("another value took the old resolution")
		}
	})
	t.Run("no tags at all", func(t *testing.T) {
		r := sheet.Check(clean, timeline.Bout{}, timeline.Facts{})
		only(t, r)
		if r.Compared != 0 || len(r.Unchecked) == 0 || r.Score[0].Unchecked != r.Score[0].Sheet {
			t.Errorf("compared %d, unchecked %d, score %+v", r.Compared, len(r.Unchecked), r.Score)
		}
	})
	t.Run("jams without a log", func(t *testing.T) {
		b, f := bout(t, func(f *timeline.Facts) {
			for id, x := range f.Tags {
				if x.Kind != timeline.KindJam {
					delete(f.Tags, id)
				}
			}
		})
		s := clean
		s.Clock = nil // the jams' lengths are all that there is to compare
		r := sheet.Check(s, b, f)
		only(t, r)
		if r.Score[0].Unchecked != game().Truth.Score[0] || r.Agreed != 0 {
			t.Errorf("score %+v, agreed %d", r.Score, r.Agreed)
		}
	})
	t.Run("a jam that nobody tagged", func(t *testing.T) {
		b, f := bout(t, func(f *timeline.Facts) {
			gone := game().Truth.Jams[1].ID
			for id, x := range f.Tags {
				if id == gone || x.Jam == gone || x.Place.Jam == gone {
					delete(f.Tags, id)
				}
			}
		})
		r := sheet.Check(clean, b, f)
		for _, x := range r.Findings {
			if x.Table == sheet.KindScore {
				t.Errorf("%s: %s", x.Where(), x.Text)
			}
		}
		accounted(t, r)
	})
}

func TestCheckForms(t *testing.T) {
	clean := plant.Sheet(game())
	b, f := bout(t, nil)
	t.Run("score rows alone", func(t *testing.T) {
		only(t, sheet.Check(sheet.Sheet{Rows: clean.Rows}, b, f))
	})
	t.Run("jam totals without trips, one line per jam", func(t *testing.T) {
		s := sheet.Sheet{}
		for _, r := range clean.Rows {
			n := len(s.Rows) - 1
			if r.StarPass {
				s.Rows[n].JamTotal.Value += r.JamTotal.Value
				continue
			}
			if !r.Spacer {
				s.Rows = append(s.Rows, timeline.JamRow{Period: r.Period, Jam: r.Jam, Side: r.Side, JamTotal: r.JamTotal})
			}
		}
		r := sheet.Check(s, b, f)
		only(t, r)
		s.Rows[4].JamTotal.Value += 3
		only(t, sheet.Check(s, b, f), sheet.CauseJamTotal)
	})
	t.Run("running totals alone", func(t *testing.T) {
		s := sheet.Sheet{}
		for _, r := range clean.Rows {
			if n := len(s.Rows) - 1; r.StarPass {
				s.Rows[n].GameTotal = r.GameTotal
			} else if !r.Spacer {
				s.Rows = append(s.Rows, timeline.JamRow{Period: r.Period, Jam: r.Jam, Side: r.Side, GameTotal: r.GameTotal})
			}
		}
		only(t, sheet.Check(s, b, f))
	})
	t.Run("running total that begins anew each period", func(t *testing.T) {
		s := sheet.Sheet{Rows: slices.Clone(clean.Rows)}
		var half [2]int
		for _, r := range s.Rows {
			if r.Period == 1 && r.GameTotal.State == timeline.CellKnown {
				half[r.Side.Index()] = r.GameTotal.Value
			}
		}
		for i := range s.Rows {
			if r := &s.Rows[i]; r.Period == 2 {
				r.GameTotal.Value -= half[r.Side.Index()]
			}
		}
		r := sheet.Check(s, b, f)
		only(t, r)
		if r.Score[0].Sheet != game().Truth.Score[0] {
			t.Errorf("score %+v", r.Score)
		}
	})
	t.Run("first period alone", func(t *testing.T) {
		s := sheet.Sheet{Rows: slices.DeleteFunc(slices.Clone(clean.Rows), func(r timeline.JamRow) bool { return r.Period > 1 })}
		r := sheet.Check(s, b, f)
		only(t, r)
		if len(r.Notes) != 1 {
			t.Errorf("notes %v", r.Notes)
		}
	})
	t.Run("second period alone: what it carries over is open, not a finding", func(t *testing.T) {
		s := sheet.Sheet{Rows: slices.DeleteFunc(slices.Clone(clean.Rows), func(r timeline.JamRow) bool { return r.Period == 1 })}
		r := sheet.Check(s, b, f)
		only(t, r)
		for i, a := range r.Score {
			if a.Sheet != game().Truth.Score[i] || a.Unchecked != a.Difference || a.Unchecked == 0 {
				t.Errorf("%s: %+v", timeline.Sides[i], a)
			}
		}
	})
	t.Run("teams swapped throughout", func(t *testing.T) {
		s := sheet.Sheet{Rows: slices.Clone(clean.Rows)}
		for i := range s.Rows {
			s.Rows[i].Side = s.Rows[i].Side.Other()
		}
		only(t, sheet.Check(s, b, f), sheet.CauseSwappedTeams)
	})
	t.Run("swapped throughout and a row missing", func(t *testing.T) {
		s := sheet.Sheet{}
		for _, r := range clean.Rows {
			if r.Side == timeline.Home && r.Period == 1 && r.Jam == 2 {
				continue
			}
			r.Side = r.Side.Other()
			s.Rows = append(s.Rows, r)
		}
		r := sheet.Check(s, b, f)
		accounted(t, r)
		for _, want := range []sheet.Cause{sheet.CauseSwappedTeams, sheet.CauseMissingRow} {
			if !slices.ContainsFunc(r.Findings, func(f sheet.Finding) bool { return f.Cause == want }) {
				t.Errorf("%q not found", want)
			}
		}
	})
}
