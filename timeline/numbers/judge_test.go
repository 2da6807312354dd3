package numbers

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// The judge's answer, with its origin in ORIGIN.txt beside it.
var judgeDir = filepath.Join("testdata", "judges")

// tables writes the tags of a bout down as plain tables, without asking Derive.
func tables(t *testing.T, dir string, f timeline.Facts) {
	t.Helper()
	rows := map[string][][]string{
		"jams":      {{"jam", "period", "length", "overtime"}},
		"lineups":   {{"jam", "side", "skater", "role"}},
		"leads":     {{"jam", "side"}},
		"stars":     {{"jam", "side", "to"}},
		"trips":     {{"jam", "side", "number", "points", "end", "by"}},
		"penalties": {{"jam", "period", "side", "skater", "code"}},
		"visits":    {{"side", "skater", "in_jam", "in", "out_jam", "out"}},
	}
	s := func(d time.Duration) string { return strconv.FormatFloat(d.Seconds(), 'f', -1, 64) }
	add := func(table string, cells ...string) { rows[table] = append(rows[table], cells) }
	for _, id := range slices.Sorted(maps.Keys(f.Tags)) { // the simulator's IDs sort by period and jam
		x := f.Tags[id]
		jam, side, who := string(x.Jam), x.Side.String(), string(x.Who.Number)
		period := fmt.Sprint(f.Tags[x.Jam].JamInfo.Period)
		switch x.Kind {
		case timeline.KindJam:
			over := "0"
			if x.JamInfo.Overtime {
				over = "1"
			}
			add("jams", jam, period, s(x.JamInfo.End.Offset), over)
		case timeline.KindLineup:
			add("lineups", jam, side, string(x.Lineup.Jammer.Number), "jammer")
			if n := x.Lineup.Pivot.Number; n != "" {
				add("lineups", jam, side, string(n), "pivot")
			}
			for _, b := range x.Lineup.Blockers {
				add("lineups", jam, side, string(b.Number), "blocker")
			}
		case timeline.KindLead:
			add("leads", jam, side)
		case timeline.KindStarPass:
			if x.StarPass.Complete {
				add("stars", jam, side, string(x.StarPass.To.Number))
			}
		case timeline.KindTrip:
			add("trips", jam, side, fmt.Sprint(x.Trip.Number), fmt.Sprint(x.Trip.Points), s(x.Place.Offset), who)
		case timeline.KindPenalty:
			add("penalties", jam, period, side, who, x.Penalty.Code)
		case timeline.KindBox:
			out := []string{"", ""}
			if !x.Box.Out.IsZero() {
				out = []string{string(x.Box.Out.Jam), s(x.Box.Out.Offset)}
			}
			add("visits", side, who, jam, s(x.Place.Offset), out[0], out[1])
		}
	}
	for name, list := range rows {
		file, err := os.Create(filepath.Join(dir, name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		w := csv.NewWriter(file)
		if err := w.WriteAll(list); err != nil {
			t.Fatal(err)
		}
		if err := file.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

type judgedMean struct {
	N         int
	Mean      float64
	Low, High *float64
}

type judgement struct {
	Scipy   string
	Points  map[string]int
	Skaters map[string]struct {
		Jams, Jammer, Star, For, Against int
		PerJam                           judgedMean `json:"per_jam"`
		Lead                             struct {
			Count, Of int
			From, To  float64
		}
		Trips, Scored, Penalties, Conceded int
		Box                                float64
	}
	Groups, Pairs map[string]judgedMean
	Penalties     map[string]int
}

// TestJudgeNumbers lets Debian's scipy work the same numbers out from plain tables
// of a simulated bout; its answer is kept in testdata/judges.
func TestJudgeNumbers(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") != "1" {
		t.Skip("outside programs judge with WHISTLECUT_JUDGES=1, as in make judges")
	}
	const seed = 6
	g := simulate.Play(seed, simulate.Options{Rates: simulate.Rates{Penalties: 1.5}})
	if slices.ContainsFunc(g.Truth.Visits, func(v simulate.Visit) bool { return v.Substituted }) {
		t.Fatal("a seat is taken over by a substitute, which the plain tables cannot say; take another seed")
	}
	f := g.Facts()
	dir := t.TempDir()
	tables(t, dir, f)
	cmd := exec.Command("/usr/bin/python3", filepath.Join(judgeDir, "bout_numbers.py"), dir)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var said judgement
	if err := json.Unmarshal(out, &said); err != nil {
		t.Fatalf("%v: %.300s", err, out)
	}
	compared := 0
	same := func(what string, got, want float64) {
		t.Helper()
		compared++
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %v, scipy says %v", what, got, want)
		}
	}
	sameMean := func(what string, got Mean, want judgedMean) {
		t.Helper()
		same(what+", n", float64(got.N), float64(want.N))
		same(what+", mean", got.Mean, want.Mean)
		if got.HasInterval != (want.Low != nil) {
			t.Errorf("%s: interval %v, scipy %v", what, got.HasInterval, want.Low != nil)
		} else if got.HasInterval {
			same(what+", low", got.Low, *want.Low)
			same(what+", high", got.High, *want.High)
		}
	}
	r := ReportOf(SourceOf(f))
	for _, side := range r.Sides {
		same(side.Name, float64(side.Points.Low), float64(said.Points[side.Side.String()]))
		for _, k := range side.Skaters {
			who, rec := k.Skater.String(), k.Record
			w, ok := said.Skaters[who]
			if !ok {
				t.Errorf("scipy has no %s", who)
				continue
			}
			for what, pair := range map[string][2]float64{
				"jams":            {float64(rec.All.Jams), float64(w.Jams)},
				"as jammer":       {float64(rec.Jammer.Jams), float64(w.Jammer)},
				"star passes":     {float64(rec.StarPass.Jams), float64(w.Star)},
				"for":             {float64(rec.All.For.Low), float64(w.For)},
				"against":         {float64(rec.All.Against.Low), float64(w.Against)},
				"leads":           {float64(rec.Jamming.Lead.Low), float64(w.Lead.Count)},
				"lead, out of":    {float64(rec.Jamming.Lead.Of), float64(w.Lead.Of)},
				"lead, from":      {rec.Jamming.Lead.From, w.Lead.From},
				"lead, to":        {rec.Jamming.Lead.To, w.Lead.To},
				"scoring trips":   {float64(rec.Jamming.Trips), float64(w.Trips)},
				"scored":          {float64(rec.Jamming.Points.Low), float64(w.Scored)},
				"penalties":       {float64(rec.Penalties), float64(w.Penalties)},
				"seconds in box":  {rec.BoxTime.Seconds(), w.Box},
				"conceded (low)":  {float64(rec.Conceded.Low), float64(w.Conceded)},
				"conceded (high)": {float64(rec.Conceded.High), float64(w.Conceded)},
			} {
				same(who+", "+what, pair[0], pair[1])
			}
			sameMean(who+" per jam", rec.All.PerJam, w.PerJam)
		}
		for name, list := range map[string][]Group{"line-up": side.Groups, "pair": side.Pairs} {
			from := map[string]map[string]judgedMean{"line-up": said.Groups, "pair": said.Pairs}[name]
			n := 0
			for key := range from {
				if strings.HasPrefix(key, side.Side.String()+" ") {
					n++
				}
			}
			same(name+"s of "+side.Name, float64(len(list)), float64(n))
			for _, gr := range list {
				sameMean(name+" "+gr.Key(), gr.Stint.PerJam, from[side.Side.String()+" "+gr.Key()])
			}
		}
		for _, l := range side.Penalties.ByCode {
			for i, p := range side.Penalties.Periods {
				key := fmt.Sprintf("%s %s %d", side.Side, l.Code, p)
				same("penalties "+key, float64(l.ByPeriod[i]), float64(said.Penalties[key]))
			}
		}
	}
	if len(r.Sides[0].Skaters)+len(r.Sides[1].Skaters) != len(said.Skaters) {
		t.Errorf("%d and %d skaters, scipy has %d", len(r.Sides[0].Skaters), len(r.Sides[1].Skaters), len(said.Skaters))
	}
	t.Logf("%d numbers compared with scipy %s", compared, said.Scipy)
	if t.Failed() {
		return
	}
	origin := fmt.Sprintf("numbers-scipy.json: scipy %s of Debian, /usr/bin/python3 bout_numbers.py on the tables of simulated bout %d; %d numbers agree; %s\n",
		said.Scipy, seed, compared, time.Now().UTC().Format("2006-01-02"))
	for name, data := range map[string][]byte{"numbers-scipy.json": out, "ORIGIN.txt": []byte(origin)} {
		if err := os.WriteFile(filepath.Join(judgeDir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
