package sheet

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"whistlecut/timeline"
)

// layoutTruth is what every sheet in testdata/sheets/layouts says, each in its
// own layout and language.
type layoutTruth struct {
	Home, Away string
	Rows       []struct {
		Period, Jam               int
		Side                      timeline.Side
		SP, Spacer                bool
		Jammer                    timeline.Number
		Lost, Lead, Call, Inj, NI bool
		Trips                     []int
		JamTotal, GameTotal       int
	}
	Penalties []struct {
		Side        timeline.Side
		Number      timeline.Number
		Code        string
		Period, Jam int
	}
	Lineups []struct {
		Period, Jam   int
		Side          timeline.Side
		Jammer, Pivot timeline.Number
		Blockers      []timeline.Number
	}
}

// layoutMiss lists what a sheet was read wrongly in; right counts what was right.
// What the sheet has no column for does not count either way.
func (w layoutTruth) misses(s Sheet) (miss []string, right int) {
	type key struct {
		p, j int
		side timeline.Side
		sp   bool
	}
	got := map[key]*timeline.JamRow{}
	for i := range s.Rows {
		r := &s.Rows[i]
		if !r.Spacer {
			k := key{r.Period, r.Jam, r.Side, r.StarPass}
			if got[k] != nil {
				miss = append(miss, fmt.Sprintf("%v read twice", k))
			}
			got[k] = r
		}
	}
	check := func(ok bool, format string, args ...any) {
		if ok {
			right++
		} else {
			miss = append(miss, fmt.Sprintf(format, args...))
		}
	}
	star := false
	for _, r := range s.Rows {
		star = star || r.StarPass
	}
	known := 0
	for n, x := range w.Rows {
		if !star {
			// A layout of one line per jam has no SP rows: the line has both jammers' points.
			if x.SP {
				continue
			}
			if n+1 < len(w.Rows) && w.Rows[n+1].SP {
				x.JamTotal += w.Rows[n+1].JamTotal
				x.GameTotal = w.Rows[n+1].GameTotal
				x.Trips = w.Rows[n+1].Trips
			}
		}
		if x.Spacer {
			continue
		}
		k := key{x.Period, x.Jam, x.Side, x.SP}
		r := got[k]
		if r == nil {
			check(false, "%v not read", k)
			continue
		}
		known++
		if r.Jammer.State != timeline.CellAbsent {
			check(r.Jammer.Value == x.Jammer, "%v jammer %q for %q", k, r.Jammer.Value, x.Jammer)
		}
		for _, m := range []struct {
			name string
			c    timeline.Cell[bool]
			want bool
		}{{"lost", r.Lost, x.Lost}, {"lead", r.Lead, x.Lead}, {"call", r.Call, x.Call}, {"inj", r.Inj, x.Inj}, {"ni", r.NI, x.NI}} {
			if m.c.State != timeline.CellAbsent {
				check(m.c.Value == m.want, "%v %s %v for %v", k, m.name, m.c.Value, m.want)
			}
		}
		if len(r.Trips) > 0 {
			var trips []int
			for _, t := range r.Trips {
				if t.State == timeline.CellKnown {
					trips = append(trips, t.Value)
				}
			}
			check(fmt.Sprint(trips) == fmt.Sprint(x.Trips), "%v trips %v for %v", k, trips, x.Trips)
		}
		if r.JamTotal.State == timeline.CellKnown {
			check(r.JamTotal.Value == x.JamTotal, "%v jam total %d for %d", k, r.JamTotal.Value, x.JamTotal)
		}
		if r.GameTotal.State == timeline.CellKnown {
			check(r.GameTotal.Value == x.GameTotal, "%v game total %d for %d", k, r.GameTotal.Value, x.GameTotal)
		}
	}
	check(known == len(got), "%d rows read that are not on the sheet", len(got)-known)
	if len(s.Penalties) > 0 {
		have := map[string]int{}
		for _, p := range s.Penalties {
			have[fmt.Sprint(p.Side, p.Skater.Value, p.Code.Value, p.Jam.Value)]++
		}
		for _, p := range w.Penalties {
			k := fmt.Sprint(p.Side, p.Number, p.Code, p.Jam)
			check(have[k] > 0, "penalty %s not read", k)
			have[k]--
		}
		check(len(s.Penalties) == len(w.Penalties), "%d penalties read, %d are there", len(s.Penalties), len(w.Penalties))
	}
	if len(s.Lineups) > 0 {
		have := map[key]map[timeline.Number]timeline.Role{}
		for i := range s.Lineups {
			if l := &s.Lineups[i]; !l.StarPass {
				have[key{l.Period, l.Jam, l.Side, false}] = slotsOf(l)
			}
		}
		for _, l := range w.Lineups {
			k := key{l.Period, l.Jam, l.Side, false}
			got := have[k]
			check(got[l.Jammer] == timeline.Jammer, "%v line-up jammer %s", k, l.Jammer)
			if l.Pivot != "" {
				check(got[l.Pivot] == timeline.Pivot, "%v line-up pivot %s", k, l.Pivot)
			}
			for _, b := range l.Blockers {
				check(got[b] == timeline.Blocker, "%v line-up blocker %s", k, b)
			}
		}
	}
	return miss, right
}

// TestLayouts reads ten sheets of other layouts in four languages.
func TestLayouts(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "sheets", "layouts")
	data, err := os.ReadFile(filepath.Join(dir, "truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var truth layoutTruth
	if err := json.Unmarshal(data, &truth); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "[0-9]*"))
	if err != nil || len(files) != 10 {
		t.Fatalf("%d sheets, %v", len(files), err)
	}
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			book, err := ReadGrid(name, data)
			if err != nil {
				t.Fatal(err)
			}
			m := Recognise(book)
			s, problems := Read(book, m)
			miss, right := truth.misses(s)
			t.Logf("%d values right, certainty %.2f; %d rows, %d penalties, %d line-ups, %d problems", right, m.Certainty, len(s.Rows), len(s.Penalties), len(s.Lineups), len(problems))
			for _, x := range miss {
				t.Error(x)
			}
		})
	}
}
