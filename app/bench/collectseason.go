package bench

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"time"

	"whistlecut/app/collection"
	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// season invents bouts: a few simulated ones, each told again and again with
// other teams, skaters, days, notes and examples.
type season struct {
	seed    uint64
	bouts   int
	entries int
	base    []timeline.Facts
	size    []int // entries of each base
}

func newSeason(seed uint64, bouts, entries int) *season {
	g := &season{seed: seed, bouts: bouts, entries: entries}
	for i := range uint64(3) {
		f := simulate.Play(seed+i, simulate.Options{PeriodLength: 15 * time.Minute}).Facts()
		f.Footage = map[timeline.ID]timeline.Footage{"film": {ID: "film", Path: "film.mp4", Camera: "inside", Duration: 2 * time.Hour}}
		b := timeline.Derive(f)
		n := len(timeline.Find(b, f, timeline.Selection{Situations: timeline.SituationKinds()}))
		n += len(timeline.Find(b, f, timeline.Selection{Kinds: []timeline.Kind{timeline.KindJam, timeline.KindStarPass, timeline.KindPenalty, timeline.KindReview, timeline.KindInjury}}))
		g.base, g.size = append(g.base, f), append(g.size, n)
	}
	return g
}

const (
	seasonTeams = 60
	seasonYears = 6
	seasonFirst = 2021
)

// bout is the i-th bout; the same each time.
func (g *season) bout(i int) timeline.Facts {
	rnd := rand.New(rand.NewPCG(g.seed, uint64(i)+1))
	n := i % len(g.base)
	f := g.base[n]
	day := time.Date(seasonFirst+rnd.IntN(seasonYears), time.January, 1+rnd.IntN(365), 0, 0, 0, 0, time.UTC)
	f.Info = timeline.Info{Date: day.Format(time.DateOnly), Venue: placeName(rnd.IntN(25)) + " Hall"}
	edition := "2025"
	if day.Year() < 2025 {
		edition = "2019"
	}
	f.Rules, _ = timeline.Edition(edition)
	f.Rules.PeriodLength = 15 * time.Minute
	first := rnd.IntN(seasonTeams)
	for s, team := range []int{first, (first + 1 + rnd.IntN(seasonTeams-1)) % seasonTeams} {
		t := timeline.Team{Name: teamName(team)}
		for k, old := range f.Teams[s].Roster {
			old.Name = skaterName(team, k)
			t.Roster = append(t.Roster, old)
		}
		f.Teams[s] = t
	}
	f.Info.Title = f.Teams[0].Name + " : " + f.Teams[1].Name
	f.Tags = maps.Clone(f.Tags)
	g.addTags(f, rnd, edition, max(g.entries-g.size[n], 0))
	return f
}

// addTags brings a bout to its number of entries: one in three an example, the
// others notes and marks.
func (g *season) addTags(f timeline.Facts, rnd *rand.Rand, edition string, missing int) {
	for k := range missing {
		t := timeline.Tag{ID: timeline.ID(fmt.Sprint("added-", k)), Place: timeline.OnFilm("film", time.Duration(rnd.IntN(7000))*time.Second)}
		switch k % 3 {
		case 0:
			side := timeline.Sides[rnd.IntN(2)]
			t.Kind, t.Side = timeline.KindExample, side
			if r := f.Teams[side.Index()].Roster; len(r) > 0 {
				t.Who.Number = r[rnd.IntN(len(r))].Number
			}
			code := f.Rules.Codes[rnd.IntN(len(f.Rules.Codes))]
			yes := timeline.Answer{Choice: timeline.ChoiceYes, Code: code.Letter, Section: code.Section}
			verdicts := []timeline.Answer{yes, {Choice: timeline.ChoiceNo}, {Choice: timeline.ChoiceWarning}}
			t.Example = &timeline.Example{
				Ask: timeline.AskPenalty, End: timeline.OnFilm("film", t.Place.Film+4*time.Second), Called: verdicts[rnd.IntN(2)],
				Verdicts: []timeline.Answer{verdicts[rnd.IntN(3)]}, Impact: timeline.ImpactSome, Difficulty: 1 + rnd.IntN(5),
				Words: sentence(rnd, 12), Sensitive: rnd.IntN(20) == 0, Edition: edition,
			}
		case 1:
			t.Kind, t.Note = timeline.KindNote, sentence(rnd, 8)
		default:
			t.Kind, t.Note = timeline.KindMark, sentence(rnd, 3)
		}
		f.Tags[t.ID] = t
	}
}

// Invented names and words, by number.
var syllables = []string{"ba", "ko", "li", "mer", "no", "ra", "sel", "ti", "vo", "zan", "dre", "fu", "gal", "hin", "jo", "pek"}

func coined(n, length int) string {
	w := ""
	for range length {
		w += syllables[n%len(syllables)]
		n = n/len(syllables) + n*7 + 3
	}
	return w
}

func placeName(n int) string { return coined(n+400, 3) }
func teamName(n int) string  { return coined(n, 3) + " " + []string{"Rollers", "Wheels", "City"}[n%3] }

func skaterName(team, k int) string {
	return coined(team*31+k, 2) + " " + coined(team*17+k*5+900, 3)
}

// tradeWords stand in many notes, coined ones in few.
var tradeWords = []string{"back", "block", "contact", "no", "impact", "relative", "position", "initiation", "pack", "bridge", "engagement", "zone", "cut", "inside", "line", "star", "pass", "release", "hand", "helmet", "apex", "turn", "two", "late", "hit", "legal", "target"}

func someWord(rnd *rand.Rand) string {
	if rnd.IntN(3) == 0 {
		return coined(rnd.IntN(4000), 4)
	}
	return tradeWords[rnd.IntN(len(tradeWords))]
}

func sentence(rnd *rand.Rand, words int) string {
	s := ""
	for range words {
		s += someWord(rnd) + " "
	}
	return s
}

// searchKind is one kind of search that is timed.
type searchKind struct {
	name   string
	facets bool // its entries are counted by facets, too
	make   func(*rand.Rand, *season) collection.Query
}

func yearOf(rnd *rand.Rand) string { return fmt.Sprint(seasonFirst + rnd.IntN(seasonYears)) }

var searchKinds = []searchKind{
	{"my back blocks this season, by her name", false, func(rnd *rand.Rand, _ *season) collection.Query {
		y := yearOf(rnd)
		return collection.Query{Kinds: []timeline.Kind{timeline.KindPenalty}, Codes: []string{"B"}, Skaters: []string{skaterName(rnd.IntN(seasonTeams), rnd.IntN(10))}, From: y, To: y}
	}},
	{"all of a skater, by team and number", false, func(rnd *rand.Rand, g *season) collection.Query {
		r := g.base[0].Teams[0].Roster
		return collection.Query{Skaters: []string{teamName(rnd.IntN(seasonTeams)) + " " + string(r[rnd.IntN(len(r))].Number)}}
	}},
	{"one word of the trade", true, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{Words: tradeWords[rnd.IntN(len(tradeWords))]}
	}},
	{"three words", true, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{Words: tradeWords[rnd.IntN(len(tradeWords))] + " " + tradeWords[rnd.IntN(len(tradeWords))] + " " + tradeWords[rnd.IntN(len(tradeWords))]}
	}},
	{"a rare word", false, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{Words: coined(rnd.IntN(4000), 4)}
	}},
	{"typing: one to three letters", false, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{Words: (coined(rnd.IntN(4000), 4) + "xx")[:1+rnd.IntN(3)]}
	}},
	{"a team's name", false, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{Words: teamName(rnd.IntN(seasonTeams))}
	}},
	{"a section of the rules", true, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{Rules: []string{[]string{"4.1", "4.1.1", "4.2.2", "4"}[rnd.IntN(4)]}}
	}},
	{"examples by code, difficulty, verdict", true, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{
			Codes: []string{[]string{"B", "X", "C", "F"}[rnd.IntN(4)]}, Easiest: 2, Hardest: 4,
			Verdicts: []timeline.Choice{timeline.ChoiceYes, timeline.ChoiceNo}[:1+rnd.IntN(2)],
		}
	}},
	{"examples called otherwise, hardest first", false, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{Differing: true, Sort: collection.HardestFirst, From: yearOf(rnd)}
	}},
	{"examples of an older edition", false, func(*rand.Rand, *season) collection.Query {
		return collection.Query{Outdated: true}
	}},
	{"power jams, and penalties in them", false, func(rnd *rand.Rand, _ *season) collection.Query {
		q := collection.Query{Situations: []timeline.SituationKind{timeline.SitPowerJam}}
		if rnd.IntN(2) == 0 {
			q.Kinds = []timeline.Kind{timeline.KindPenalty}
		}
		return q
	}},
	{"one bout", true, func(rnd *rand.Rand, g *season) collection.Query {
		return collection.Query{Bouts: []string{fmt.Sprintf("/season/%04d.bout", rnd.IntN(g.bouts))}}
	}},
	{"everything, the newest first", true, func(*rand.Rand, *season) collection.Query { return collection.Query{} }},
	{"everything, the oldest first", false, func(*rand.Rand, *season) collection.Query {
		return collection.Query{Sort: collection.OldestFirst}
	}},
	{"everything, a page far down", false, func(rnd *rand.Rand, _ *season) collection.Query {
		return collection.Query{Offset: rnd.IntN(5000)}
	}},
}
