package simulate

import (
	"math/rand/v2"
	"slices"
	"strconv"

	"whistlecut/timeline"
)

// All names are made up for this program.
var teamNames = []struct{ name, colour string }{
	{"Pylon Fen Power Cuts", "#D9480F"},
	{"Copperkettle Scald Squad", "#1864AB"},
	{"Lower Mould Hinge Rattlers", "#2B8A3E"},
	{"Saltpan Tideline Wreckage", "#862E9C"},
	{"Quarry Bottom Gravel Tax", "#C92A2A"},
	{"Windlass Moor Night Ferry", "#0B7285"},
}

var skaterNames = []string{
	"Marge Inoverror", "Dee Fenestrator", "Polly Gonometry", "Tess Elation Point", "Cora Gated-Iron",
	"Hedda Traffic-Jam", "Ada Vantage Out", "Mona Lithograph", "Greta Nuffspeed", "Isla Bar-Graph",
	"Gale Forecast", "Sheer Pin Alley", "Torque Amada", "Decibelle Epoch", "Ruth Lessmath",
	"Penny Alty-Kicks", "Rhea Curring", "Flora Fauna-Brawl", "Nora Mal-Force", "Eve Aporate",
	"Dinah Mometer", "Cal Amity Clause", "Stella Mate", "Wanda Off-Course", "Carrie Bou-Charge",
	"Paige Margins", "Ellie Vator-Shaft", "Joule Thief-Hunter", "Roxanne Hardplace", "Bea Fuddle",
	"Tilly Metry", "Minnie Mumwage", "Sally Force-Ten", "Clara Fication", "Otta Control-Knob",
	"Vera Tebrae", "Hattie Trick-Question", "Andi Climax", "Gwen Pitch-Black", "Maude Ulation",
	"Tara Incognita-Map", "Fern Ace Door", "Lotte Ree Ticket", "Perl Script-Kid", "Effie Cacious",
	"Dot Matrix-Printer", "Sue Dough-Science", "Inga Nition-Key", "Bette Noir-Film", "Constance Motion",
	"Ivy League-Table", "Trudge Judy", "Anna Log-Clock", "Brie Lliance", "Kat Astrophic-Error",
	"Lin Oleum", "May Hemline", "Nell Ectable", "Peg Board-Meeting", "Una Bridged",
}

// inventTeams draws two teams of n skaters with numbers that try text handling:
// leading zeros, "0" beside "00", one to four numerals (Uniform requirements 2017).
func inventTeams(rng *rand.Rand, n int) [2]timeline.Team {
	names := slices.Clone(skaterNames)
	rng.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
	order := rng.Perm(len(teamNames))
	var teams [2]timeline.Team
	for i := range teams {
		t := teamNames[order[i]]
		team := timeline.Team{Name: t.name, Colour: t.colour}
		taken := map[timeline.Number]bool{}
		captain := rng.IntN(n)
		for k := range n {
			num := inventNumber(rng, k)
			for taken[num] {
				num = inventNumber(rng, n)
			}
			taken[num] = true
			team.Roster = append(team.Roster, timeline.Skater{
				Number: num, Name: names[(i*n+k)%len(names)], Captain: k == captain,
			})
		}
		slices.SortFunc(team.Roster, func(a, b timeline.Skater) int {
			switch {
			case a.Number < b.Number:
				return -1
			case a.Number > b.Number:
				return 1
			}
			return 0
		})
		teams[i] = team
	}
	return teams
}

func inventNumber(rng *rand.Rand, k int) timeline.Number {
	digits := func(n int) timeline.Number {
		low, high := 1, 10
		for range n - 1 {
			low, high = low*10, high*10
		}
		return timeline.Number(strconv.Itoa(low + rng.IntN(high-low)))
	}
	switch k {
	case 0:
		return "0"
	case 1:
		return []timeline.Number{"00", "052", "007", "02"}[rng.IntN(4)]
	}
	switch p := rng.Float64(); {
	case p < 0.1:
		return digits(1)
	case p < 0.45:
		return digits(2)
	case p < 0.75:
		return digits(3)
	case p < 0.85:
		return "0" + digits(2)
	}
	return digits(4)
}
