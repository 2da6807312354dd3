package collection

import (
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
)

func sampleIndex(t testing.TB) *Index {
	t.Helper()
	x := newIndex(t)
	spring, autumn := sample()
	mustPut(t, x, "/bouts/spring.bout", spring)
	mustPut(t, x, "/bouts/autumn.bout", autumn)
	return x
}

func TestSearch(t *testing.T) {
	x := sampleIndex(t)
	penalties := []timeline.Kind{timeline.KindPenalty}
	examples := []timeline.Kind{timeline.KindExample}
	cases := []struct {
		name string
		q    Query
		want string // keys, "a" for autumn and "s" for spring
	}{
		{"all my back blocks this season, by her name", Query{Kinds: penalties, Codes: []string{"B"}, Skaters: []string{"Ada Lace"}, From: "2026", To: "2026"}, "a b1, s b1"},
		{"by her name in other letters", Query{Kinds: penalties, Skaters: []string{"  ADA  lace "}}, "a b1, a c1, s b1, s x1"},
		{"team and number", Query{Kinds: penalties, Skaters: []string{"home team 052"}}, "s b1, s x1"},
		{"side and number", Query{Kinds: penalties, Skaters: []string{"away 052"}}, "s b2"},
		{"a number alone", Query{Kinds: penalties, Skaters: []string{"052"}}, "s b1, s b2, s x1"},
		{"a number is text", Query{Kinds: penalties, Skaters: []string{"52"}}, ""},
		{"two skaters", Query{Kinds: penalties, Skaters: []string{"away 052", "Nobody"}}, "a c2, s b2"},
		{"nobody of that name", Query{Skaters: []string{"Ada"}}, ""},
		{"no name", Query{Skaters: []string{" \" "}}, ""},
		{"in Greek, without its accents", Query{Skaters: []string{"ζωη ροδα"}}, "s s1, s situation/star pass/j2/1"},
		{"the other one of a star pass", Query{Skaters: []string{"home 9"}, Kinds: []timeline.Kind{timeline.KindStarPass}}, "s s1"},
		{"a team", Query{Kinds: penalties, Teams: []string{"guests"}}, "a b1, a c1, s b2"},
		{"the beginning of a team", Query{Kinds: penalties, Teams: []string{"Home Team"}}, "a c2, s b1, s x1"},
		{"a whole team", Query{Kinds: penalties, Teams: []string{"Home Team B"}}, "a c2"},
		{"half a word is no team", Query{Kinds: penalties, Teams: []string{"Hom"}}, ""},
		{"season, other", Query{From: "2025", To: "2025"}, ""},
		{"to a month", Query{Kinds: penalties, To: "2026-03"}, "s b1, s b2, s x1"},
		{"from a day on", Query{Kinds: penalties, From: "2026-03-15"}, "a b1, a c1, a c2"},
		{"a letter of an example called or judged so", Query{Codes: []string{"C"}}, "a c1, a c2, s e2"},
		{"a name goes over editions", Query{Words: "back block", Kinds: penalties}, "a b1, s b1, s b2"},
		{"a section and those below", Query{Rules: []string{"4.1"}}, "s b1, s b2, s e1, s e2"},
		{"one section", Query{Rules: []string{"§ 4.1.3."}}, "s e2"},
		{"4.1 is not 4.10", Query{Rules: []string{"4.10"}, Sensitive: SensitiveIn}, "s e5"},
		{"two sections", Query{Rules: []string{"4.2.2", "4.1.3"}}, "s x1, s e2"},
		{"any verdict", Query{Verdicts: []timeline.Choice{timeline.ChoiceWarning}}, "s e2"},
		{"undecided", Query{Verdicts: []timeline.Choice{timeline.NoChoice}}, "s e3"},
		{"called", Query{Called: []timeline.Choice{timeline.ChoiceYes}}, "s e1, s e2"},
		{"called and judged otherwise", Query{Differing: true}, "s e1"},
		{"difficulty", Query{Easiest: 2, Hardest: 4}, "s e1, s e2"},
		{"up to a difficulty", Query{Hardest: 3}, "s e2"},
		{"impact", Query{Impacts: []timeline.Impact{timeline.ImpactNone}}, "s e1"},
		{"another question", Query{Asks: []timeline.Question{timeline.AskPass}}, "s e3"},
		{"outdated", Query{Outdated: true}, "s e3"},
		{"outdated by another edition", Query{Outdated: true, Newest: "2019", Sensitive: SensitiveIn}, "s e1, s e2, s e4, s e5"},
		{"edition", Query{Editions: []string{"2015"}, Kinds: penalties}, "a b1, a c1, a c2"},
		{"a bout", Query{Bouts: []string{"/bouts/autumn.bout"}, Kinds: penalties}, "a b1, a c1, a c2"},
		{"a bout by a longer way", Query{Bouts: []string{"/bouts/../bouts/autumn.bout"}, Kinds: penalties}, "a b1, a c1, a c2"},
		{"penalties that examples were made of", Query{Kinds: penalties, Examples: With}, "s b1"},
		{"and the others", Query{Kinds: penalties, Examples: Without, From: "2026-03", To: "2026-03"}, "s b2, s x1"},
		{"no sensitive ones", Query{Kinds: examples}, "s e1, s e2, s e3"},
		{"with them: an example of a minor, too", Query{Kinds: examples, Sensitive: SensitiveIn}, "s e1, s e2, s e3, s e4, s e5"},
		{"them alone", Query{Sensitive: SensitiveOnly}, "s situation/injury/j2/1, s i1, s e4, s e5"},
		{"words of a penalty", Query{Words: "behind"}, "s b1"},
		{"words in any order, their beginnings", Query{Words: "INITI from"}, "s b1"},
		{"accents do not count", Query{Words: "arriere naive"}, "s n1"},
		{"they may be typed", Query{Words: "été ETAIT", Kinds: []timeline.Kind{timeline.KindNote}}, ""},
		{"or they may not", Query{Words: "étai"}, "s n1"},
		{"sharp s", Query{Words: "GRÖSSE", Kinds: penalties}, "s b1, s b2, s x1"},
		{"a title in quotes", Query{Words: `"Open"`, Kinds: penalties}, "s b1, s b2, s x1"},
		{"a question of her own", Query{Words: "third earned"}, "s e3"},
		{"signs only do not narrow", Query{Words: `"* - : ^ ()`, Kinds: examples}, "s e1, s e2, s e3"},
		{"easiest", Query{Kinds: examples, Sort: EasiestFirst}, "s e2, s e1, s e3"},
		{"hardest", Query{Kinds: examples, Sort: HardestFirst}, "s e1, s e2, s e3"},
		{"oldest", Query{Kinds: penalties, Sort: OldestFirst}, "s b1, s b2, s x1, a b1, a c1, a c2"},
		{"by code", Query{Kinds: penalties, Sort: ByCode}, "a b1, s b1, s b2, a c1, a c2, s x1"},
		{"a part of them", Query{Kinds: penalties, Limit: 2, Offset: 1}, "a c1, a c2"},
		{"behind the last", Query{Kinds: penalties, Offset: 100}, ""},
		{"jams", Query{Kinds: []timeline.Kind{timeline.KindJam}, To: "2026-09"}, "s j1, s j2"},
		{"situations", Query{Situations: []timeline.SituationKind{timeline.SitLastJam}}, "a situation/last jam/j2/1, s situation/last jam/j2/1"},
		{"in a situation", Query{Situations: []timeline.SituationKind{timeline.SitLastJam}, Kinds: penalties}, "a c1, a c2, s x1"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := mustSearch(t, x, c.q)
			var keys []string
			for _, e := range got {
				keys = append(keys, e.Bout[len("/bouts/"):][:1]+" "+e.Key)
			}
			if d := cmp.Diff(c.want, strings.Join(keys, ", ")); d != "" {
				t.Error(d)
			}
			all := c.q
			all.Limit, all.Offset = -1, 0
			n, err := x.Count(context.Background(), c.q)
			if want := len(mustSearch(t, x, all)); err != nil || n != want {
				t.Errorf("counted %d (%v), there are %d", n, err, want)
			}
		})
	}
}

func TestEntry(t *testing.T) {
	x := sampleIndex(t)
	got, ok, err := x.Get(context.Background(), "/bouts/spring.bout", "e1")
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	want := Entry{
		Bout: "/bouts/spring.bout", Title: `Spring "Open"`, Date: "2026-03-14", State: Here, Key: "e1", Tag: "e1", Kind: timeline.KindExample,
		Side: timeline.Home, Number: "052", Name: "Ada Lace", Team: "Home Team", Code: "B", CodeName: "back block", Rules: []string{"4.1.1"},
		Words: "contact, yet no effect", Edition: "2025", Ask: timeline.AskPenalty, Called: timeline.Answer{Choice: timeline.ChoiceYes, Code: "B"},
		Verdicts: []timeline.Answer{{Choice: timeline.ChoiceNo}}, Impact: timeline.ImpactNone, Difficulty: 4, Differing: true, Source: "b1",
		Footage: "film", Film: "/films/2026-03-14.mp4", Start: 100e9, End: 104e9,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if _, ok, err := x.Get(context.Background(), "/bouts/spring.bout", "none"); ok || err != nil {
		t.Error("found what is not there", err)
	}
}

func TestCounts(t *testing.T) {
	x := sampleIndex(t)
	q := Query{Kinds: []timeline.Kind{timeline.KindPenalty, timeline.KindExample}}
	got, err := x.Counts(context.Background(), q, Facets()...)
	if err != nil {
		t.Fatal(err)
	}
	want := map[Facet][]Count{
		FacetKind:       {{"penalty", 6}, {"example", 3}},
		FacetSituation:  {{"", 9}},
		FacetCode:       {{"B back block", 4}, {"C direction of game play", 2}, {"", 1}, {"C illegal contact", 1}, {"X cut", 1}},
		FacetRule:       {{"4.1.1", 3}, {"5.9", 2}, {"4.1.3", 1}, {"4.2.2", 1}, {"5.1", 1}},
		FacetAsk:        {{"penalty", 2}, {"earned pass", 1}},
		FacetVerdict:    {{"", 1}, {"no", 1}, {"yes", 1}},
		FacetCalled:     {{"yes", 2}, {"", 1}},
		FacetDiffering:  {{"no", 2}, {"yes", 1}},
		FacetDifficulty: {{"0", 1}, {"2", 1}, {"4", 1}},
		FacetImpact:     {{"", 1}, {"impact", 1}, {"no impact", 1}},
		FacetEdition:    {{"2025", 5}, {"2015", 3}, {"2019", 1}},
		FacetBout:       {{"/bouts/spring.bout", 6}, {"/bouts/autumn.bout", 3}},
		FacetTeam:       {{"Guests", 3}, {"Home Team", 3}, {"Home Team B", 1}},
		FacetSkater:     {{"Home Team 052 Ada Lace", 3}, {"Guests 17 Ada Lace", 2}, {"Guests 052 Other One", 1}, {"Home Team B 1 Nobody", 1}},
		FacetYear:       {{"2026", 9}},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if _, err := x.Counts(context.Background(), q, "colour"); err == nil || !strings.Contains(err.Error(), `by "colour"`) {
		t.Error(err)
	}
	if _, err := x.Search(context.Background(), Query{Sort: "size"}); err == nil || !strings.Contains(err.Error(), `by "size"`) {
		t.Error(err)
	}
}
