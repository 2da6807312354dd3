package collection

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"whistlecut/timeline"
)

// Words, names and the like are drawn from few, so that they meet.
var (
	someWords = []string{"back", "Block", "élan", "ÉLAN", "Ρόδα", "ρoda", "ροδα", "Ёлка", "елка", "straße", "STRASSE", "it's", `"quoted"`, "naïve", "4.1", "x", "bl", "背", "a-b", "NEAR", "OR", "*"}
	someNames = []string{"Ada Lace", "ada lace", "Ζωή Ρόδα", "O'Neil", ""}
	someTeams = []string{"Home Team", "Home Team B", "Guests", ""}
	someDays  = []string{"2025-03-01", "2026-03-14", "2026-10-02", "", "soon"}
)

func text(t *rapid.T, most int) string {
	return strings.Join(rapid.SliceOfN(rapid.SampledFrom(someWords), 0, most).Draw(t, "words"), " ")
}

func drawFacts(t *rapid.T) timeline.Facts {
	edition := rapid.SampledFrom([]string{"2015", "2019", "2025"}).Draw(t, "edition")
	f := timeline.Facts{Tags: map[timeline.ID]timeline.Tag{}, Info: timeline.Info{Title: text(t, 2), Date: rapid.SampledFrom(someDays).Draw(t, "day")}}
	f.Rules, _ = timeline.Edition(edition)
	for s := range f.Teams {
		f.Teams[s].Name = rapid.SampledFrom(someTeams).Draw(t, "team")
		for _, n := range []timeline.Number{"052", "52", "9"} {
			f.Teams[s].Roster = append(f.Teams[s].Roster, timeline.Skater{Number: n, Name: rapid.SampledFrom(someNames).Draw(t, "name"), Minor: rapid.Bool().Draw(t, "minor")})
		}
	}
	for i := range 2 {
		id := timeline.ID(fmt.Sprint("j", i))
		f.Tags[id] = timeline.Tag{ID: id, Kind: timeline.KindJam, Place: timeline.JamAlone(id), JamInfo: &timeline.JamInfo{Period: 1, Order: float64(i), End: timeline.InJam(id, time.Minute)}}
	}
	for i := range rapid.IntRange(0, 8).Draw(t, "tags") {
		tag := drawTag(t)
		tag.ID = timeline.ID(fmt.Sprint("t", i))
		f.Tags[tag.ID] = tag
	}
	return f
}

func drawTag(t *rapid.T) timeline.Tag {
	jam := rapid.SampledFrom([]timeline.ID{"j0", "j1"}).Draw(t, "jam")
	tag := timeline.Tag{
		Place: timeline.InJam(jam, time.Duration(rapid.IntRange(0, 60).Draw(t, "at"))*time.Second), Jam: jam,
		Side: rapid.SampledFrom(timeline.Sides[:]).Draw(t, "side"),
		Who:  timeline.Who{Number: rapid.SampledFrom([]timeline.Number{"052", "52", "9", "777", ""}).Draw(t, "number")}, Note: text(t, 3),
	}
	letter := rapid.SampledFrom([]string{"", "B", "C", "X", "?"})
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		tag.Kind, tag.Penalty = timeline.KindPenalty, &timeline.PenaltyInfo{Code: letter.Draw(t, "code"), Words: text(t, 3), Expelled: rapid.IntRange(0, 9).Draw(t, "expelled") == 0}
	case 1:
		tag.Kind = timeline.KindNote
	case 2:
		tag.Kind, tag.StarPass = timeline.KindStarPass, &timeline.StarPassInfo{To: timeline.Who{Number: "9"}}
	default:
		answer := func(name string) timeline.Answer {
			a := timeline.Answer{Choice: rapid.SampledFrom(timeline.AskPenalty.Choices()).Draw(t, name)}
			if a.Choice == timeline.ChoiceYes {
				a.Code, a.Section = letter.Draw(t, "code"), rapid.SampledFrom([]string{"", "4.1", "4.1.1", "4.10", "§4.1.3"}).Draw(t, "section")
			}
			return a
		}
		x := &timeline.Example{
			Ask: rapid.SampledFrom(timeline.Questions()).Draw(t, "ask"), Words: text(t, 3), Difficulty: rapid.IntRange(0, 5).Draw(t, "difficulty"),
			Impact:    rapid.SampledFrom([]timeline.Impact{timeline.ImpactUnknown, timeline.ImpactSome, timeline.ImpactNone}).Draw(t, "impact"),
			Sensitive: rapid.IntRange(0, 4).Draw(t, "sensitive") == 0, Edition: rapid.SampledFrom([]string{"2015", "2019", "2025"}).Draw(t, "of"),
			Source: rapid.SampledFrom([]timeline.ID{"", "t0", "t1"}).Draw(t, "source"),
		}
		if rapid.Bool().Draw(t, "called") {
			x.Called = answer("call")
		}
		for range rapid.IntRange(0, 2).Draw(t, "verdicts") {
			x.Verdicts = append(x.Verdicts, answer("verdict"))
		}
		tag.Kind, tag.Example, tag.Place = timeline.KindExample, x, timeline.OnFilm("film", tag.Place.Offset)
	}
	return tag
}

func drawQuery(t *rapid.T) Query {
	var q Query
	// One to three fields, so that queries find something.
	for range rapid.IntRange(1, 3).Draw(t, "fields") {
		switch rapid.IntRange(0, 19).Draw(t, "field") {
		case 0:
			q.Words = text(t, 3)
		case 1:
			q.Words = rapid.StringN(0, 6, -1).Draw(t, "any text")
		case 2:
			q.Kinds = rapid.SliceOfN(rapid.SampledFrom(timeline.Kinds()), 1, 3).Draw(t, "kinds")
		case 3:
			q.Situations = rapid.SliceOfN(rapid.SampledFrom(timeline.SituationKinds()), 1, 3).Draw(t, "situations")
		case 4:
			q.Codes = rapid.SliceOfN(rapid.SampledFrom([]string{"B", "C", "?", "b", ""}), 1, 2).Draw(t, "codes")
		case 5:
			q.Rules = rapid.SliceOfN(rapid.SampledFrom([]string{"4", "4.1", "4.1.1", "4.10", "5.9", " 4.1.", ""}), 1, 2).Draw(t, "rules")
		case 6:
			q.Asks = rapid.SliceOfN(rapid.SampledFrom(timeline.Questions()), 1, 2).Draw(t, "asks")
		case 7:
			q.Verdicts = rapid.SliceOfN(rapid.SampledFrom([]timeline.Choice{"", "yes", "no", "warning"}), 1, 2).Draw(t, "verdicts")
		case 8:
			q.Called = rapid.SliceOfN(rapid.SampledFrom([]timeline.Choice{"", "yes", "no", "warning"}), 1, 2).Draw(t, "called")
		case 9:
			q.Easiest, q.Hardest = rapid.IntRange(0, 5).Draw(t, "easiest"), rapid.IntRange(0, 5).Draw(t, "hardest")
		case 10:
			q.Impacts = []timeline.Impact{rapid.SampledFrom([]timeline.Impact{timeline.ImpactUnknown, timeline.ImpactSome}).Draw(t, "impacts")}
		case 11:
			q.Differing = true
		case 12:
			q.Outdated, q.Newest = true, rapid.SampledFrom([]string{"", "2019"}).Draw(t, "newest")
		case 13:
			q.Editions = []string{rapid.SampledFrom([]string{"2015", "2025", "1999"}).Draw(t, "editions")}
		case 14:
			q.Skaters = rapid.SliceOfN(rapid.SampledFrom([]string{"ADA lace", "home 052", "away 9", "Home Team 052", "guests 52", "ζωη ροδα", "oneil", "o neil", "777", "", "'"}), 1, 2).Draw(t, "skaters")
		case 15:
			q.Teams = []string{rapid.SampledFrom([]string{"home", "Home Team", "HOME TEAM B", "guest", ""}).Draw(t, "teams")}
		case 16:
			q.From = rapid.SampledFrom([]string{"", "2026", "2026-03-14", "2026-04"}).Draw(t, "from")
			q.To = rapid.SampledFrom([]string{"", "2025", "2026-03", "2026-10-02"}).Draw(t, "to")
		case 17:
			q.Examples = rapid.SampledFrom([]Has{With, Without}).Draw(t, "examples")
		case 18:
			q.Bouts = []string{rapid.SampledFrom([]string{"/b/0.bout", "/b/1.bout", "/b/7.bout"}).Draw(t, "bouts")}
		default:
			q.Sensitive = rapid.SampledFrom([]Sensitive{SensitiveIn, SensitiveOnly}).Draw(t, "sensitive")
		}
	}
	q.Sort = rapid.SampledFrom(Sorts()).Draw(t, "sort")
	return q
}

// plainly is the query as a filter over one entry after the other.
func plainly(q Query, path string, info timeline.Info, it item) bool {
	x := it.IsExample()
	day := info.Date
	if _, err := time.Parse(time.DateOnly, day); err != nil {
		day = ""
	}
	words := tokens(strings.Join(it.text, "\n"))
	for _, w := range tokens(q.Words) {
		if !slices.ContainsFunc(words, func(have string) bool { return strings.HasPrefix(have, w) }) {
			return false
		}
	}
	ofExample := len(q.Asks)+len(q.Verdicts)+len(q.Called)+len(q.Impacts) > 0 || q.Easiest > 0 || q.Hardest > 0 || q.Differing || q.Outdated
	during := slices.ContainsFunc(q.Situations, func(s timeline.SituationKind) bool { return slices.Contains(it.During, s) })
	switch {
	case ofExample && !x,
		len(q.Kinds) > 0 && !slices.Contains(q.Kinds, it.Kind),
		len(q.Situations) > 0 && (len(q.Kinds) > 0 || ofExample) && !during,
		len(q.Situations) > 0 && len(q.Kinds) == 0 && !ofExample && !slices.Contains(q.Situations, it.Situation),
		len(q.Codes) > 0 && !slices.ContainsFunc(q.Codes, func(c string) bool { return slices.Contains(it.codes, c) }),
		len(q.Rules) > 0 && !slices.ContainsFunc(q.Rules, func(r string) bool {
			r = strings.Trim(r, " .")
			return r != "" && slices.ContainsFunc(it.Rules, func(have string) bool { return have == r || strings.HasPrefix(have, r+".") })
		}),
		len(q.Asks) > 0 && !slices.Contains(q.Asks, it.Ask),
		len(q.Verdicts) > 0 && !slices.ContainsFunc(q.Verdicts, func(c timeline.Choice) bool {
			if c == "" {
				return len(it.Verdicts) == 0
			}
			return slices.ContainsFunc(it.Verdicts, func(v timeline.Answer) bool { return v.Choice == c })
		}),
		len(q.Called) > 0 && !slices.Contains(q.Called, it.Called.Choice),
		len(q.Impacts) > 0 && !slices.Contains(q.Impacts, it.Impact),
		(q.Easiest > 0 || q.Hardest > 0) && it.Difficulty == 0,
		q.Easiest > 0 && it.Difficulty < q.Easiest,
		q.Hardest > 0 && it.Difficulty > q.Hardest,
		q.Differing && (it.Called.IsZero() || len(it.Verdicts) == 0 || timeline.Example{Verdicts: it.Verdicts}.Accepts(it.Called)),
		q.Outdated && it.Edition == cmp.Or(q.Newest, "2025"),
		len(q.Editions) > 0 && !slices.Contains(q.Editions, it.Edition),
		len(q.Bouts) > 0 && !slices.Contains(q.Bouts, path),
		(q.From != "" || q.To != "") && day == "",
		day < q.From,
		q.To != "" && day[:min(len(day), len(q.To))] > q.To,
		q.Examples == With && !x && it.Examples == 0,
		q.Examples == Without && (x || it.Examples > 0),
		q.Sensitive == SensitiveOut && it.Sensitive,
		q.Sensitive == SensitiveOnly && !it.Sensitive:
		return false
	}
	return (len(q.Skaters) == 0 || slices.ContainsFunc(q.Skaters, it.isAbout)) &&
		(len(q.Teams) == 0 || slices.ContainsFunc(q.Teams, it.isOf))
}

func same(a, b string) bool {
	return strings.Join(tokens(a), " ") == strings.Join(tokens(b), " ")
}

func (it item) isAbout(who string) bool {
	return len(tokens(who)) > 0 && slices.ContainsFunc(it.people, func(p person) bool {
		return same(who, p.Name) || p.Number != "" && (same(who, string(p.Number)) || same(who, p.Side.String()+" "+string(p.Number)) ||
			p.Team != "" && same(who, p.Team+" "+string(p.Number)))
	})
}

func (it item) isOf(team string) bool {
	teams := []string{it.Team}
	for _, p := range it.people {
		teams = append(teams, p.Team)
	}
	return len(tokens(team)) > 0 && slices.ContainsFunc(teams, func(t string) bool {
		have := strings.Join(tokens(t), " ") + " "
		return strings.HasPrefix(have, strings.Join(tokens(team), " ")+" ")
	})
}

// TestSearchIsAFilter: what a search finds is what a plain filter over all entries
// leaves, in the order asked for.
func TestSearchIsAFilter(t *testing.T) {
	x := newIndex(t)
	ctx := context.Background()
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		facts := map[string]timeline.Facts{}
		for i := range 3 {
			path := fmt.Sprintf("/b/%d.bout", i)
			facts[path] = drawFacts(t)
			if err := x.PutFacts(ctx, path, facts[path]); err != nil {
				t.Fatal(err)
			}
		}
		for range 8 {
			q := drawQuery(t)
			q.Limit = -1
			got, err := x.Search(ctx, q)
			if err != nil {
				t.Fatalf("%+v: %v", q, err)
			}
			var want []string
			for path, f := range facts {
				for _, it := range itemsOf(f) {
					if plainly(q, path, f.Info, it) {
						want = append(want, path+" "+it.Key)
					}
				}
			}
			have := make([]string, 0, len(got))
			for _, e := range got {
				have = append(have, e.Bout+" "+e.Key)
			}
			found += len(have)
			slices.Sort(want)
			sorted := slices.Sorted(slices.Values(have))
			if d := gocmp.Diff(want, sorted, cmpopts.EquateEmpty()); d != "" {
				t.Fatalf("%+v: %s", q, d)
			}
			inOrder(t, q.Sort, got)
			n, err := x.Count(ctx, q)
			if err != nil || n != len(got) {
				t.Fatalf("%+v: counted %d of %d (%v)", q, n, len(got), err)
			}
			q.Limit, q.Offset = 3, 2
			page, err := x.Search(ctx, q)
			if err != nil {
				t.Fatal(err)
			}
			if d := gocmp.Diff(got[min(2, len(got)):min(5, len(got))], page, cmpopts.EquateEmpty()); d != "" {
				t.Fatalf("a page of %+v: %s", q, d)
			}
		}
	})
	if found < 100 {
		t.Errorf("all queries together found %d entries; they show little", found)
	}
}

func inOrder(t *rapid.T, s Sort, list []Entry) {
	late := func(b bool) int {
		if b {
			return 1
		}
		return 0
	}
	less := map[Sort]func(a, b Entry) int{
		NewestFirst: func(a, b Entry) int { return cmp.Compare(b.Date, a.Date) },
		OldestFirst: func(a, b Entry) int { return cmp.Compare(a.Date, b.Date) },
		EasiestFirst: func(a, b Entry) int {
			return cmp.Or(cmp.Compare(late(a.Difficulty == 0), late(b.Difficulty == 0)), cmp.Compare(a.Difficulty, b.Difficulty))
		},
		HardestFirst: func(a, b Entry) int { return cmp.Compare(b.Difficulty, a.Difficulty) },
		ByCode: func(a, b Entry) int {
			return cmp.Or(cmp.Compare(late(a.Code == ""), late(b.Code == "")), cmp.Compare(a.Code, b.Code))
		},
	}[s]
	if !slices.IsSortedFunc(list, less) {
		t.Fatalf("not sorted by %q", s)
	}
}

// TestRebuildEqualsIncremental: however bouts came in, changed and went, the index
// answers as one that was made of them at once.
func TestRebuildEqualsIncremental(t *testing.T) {
	ctx := context.Background()
	if f := flag.Lookup("rapid.checks"); f != nil && f.Value.String() == f.DefValue && os.Getenv("WHISTLECUT_SOAK") != "1" {
		if err := f.Value.Set("15"); err != nil { // each makes two indices; WHISTLECUT_SOAK=1 has them all
			t.Fatal(err)
		}
		defer f.Value.Set(f.DefValue)
	}
	dir := t.TempDir()
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		var both [2]*Index
		for i := range both {
			made++
			x, err := Open(filepath.Join(dir, fmt.Sprint(made)))
			if err != nil {
				t.Fatal(err)
			}
			defer x.Close()
			both[i] = x
		}
		step, fresh := both[0], both[1]
		now := map[string]timeline.Facts{}
		for range rapid.IntRange(1, 8).Draw(t, "steps") {
			path := rapid.SampledFrom([]string{"/b/0.bout", "/b/1.bout", "/b/2.bout"}).Draw(t, "path")
			if rapid.IntRange(0, 3).Draw(t, "what") == 0 {
				if _, err := step.Forget(ctx, path); err != nil {
					t.Fatal(err)
				}
				delete(now, path)
				continue
			}
			now[path] = drawFacts(t)
			if err := step.PutFacts(ctx, path, now[path]); err != nil {
				t.Fatal(err)
			}
		}
		for path, f := range now {
			if err := fresh.PutFacts(ctx, path, f); err != nil {
				t.Fatal(err)
			}
		}
		for _, q := range []Query{everything, {Words: "back", Limit: -1}, {Skaters: []string{"Ada Lace"}, Limit: -1}, {Rules: []string{"4.1"}, Sort: ByCode}} {
			a, err1 := step.Search(ctx, q)
			b, err2 := fresh.Search(ctx, q)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			if d := gocmp.Diff(b, a); d != "" {
				t.Fatalf("%+v: %s", q, d)
			}
		}
		a, err1 := step.Counts(ctx, everything, Facets()...)
		b, err2 := fresh.Counts(ctx, everything, Facets()...)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if d := gocmp.Diff(b, a); d != "" {
			t.Fatal(d)
		}
		if err := step.wholly(ctx); err != nil {
			t.Fatal(err)
		}
	})
}
