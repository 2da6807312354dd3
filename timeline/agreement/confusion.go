package agreement

import (
	"cmp"
	"slices"
)

// Pair is two answers that people gave to the same unit.
type Pair struct {
	A     string `json:"a"` // before B by name
	B     string `json:"b"`
	Pairs int    `json:"pairs"` // of people, one of whom said A and one B to the same unit
	Units int    `json:"units"` // in which it happened
}

// Confusions are the pairs of answers that stood against each other, the most
// frequent first. They take nobody for right.
func Confusions(t Table) []Pair {
	at := map[[2]string]*Pair{}
	for _, row := range t.Answers {
		n := counts(row)
		names := sortedKeys(n)
		for i, a := range names {
			for _, b := range names[i+1:] {
				p := at[[2]string{a, b}]
				if p == nil {
					p = &Pair{A: a, B: b}
					at[[2]string{a, b}] = p
				}
				p.Pairs += n[a] * n[b]
				p.Units++
			}
		}
	}
	out := make([]Pair, 0, len(at))
	for _, p := range at {
		out = append(out, *p)
	}
	slices.SortFunc(out, func(a, b Pair) int {
		return cmp.Or(cmp.Compare(b.Pairs, a.Pairs), cmp.Compare(b.Units, a.Units), cmp.Compare(a.A, b.A), cmp.Compare(a.B, b.B))
	})
	return out
}

// Taken is how often one answer was given where another one was expected.
type Taken struct {
	Want  string `json:"want"`
	Given string `json:"given"`
	N     int    `json:"n"`
}

// TakenFor counts the answers given by the answer expected of each unit; units whose
// want is Missing are left out. It holds the ones as expected, too, and is sorted
// by want, then by how often.
func TakenFor(t Table, want []string) []Taken {
	at := map[[2]string]int{}
	for i, row := range t.Answers {
		if i >= len(want) || want[i] == Missing {
			continue
		}
		for a, n := range counts(row) {
			at[[2]string{want[i], a}] += n
		}
	}
	out := make([]Taken, 0, len(at))
	for k, n := range at {
		out = append(out, Taken{k[0], k[1], n})
	}
	slices.SortFunc(out, func(a, b Taken) int {
		return cmp.Or(cmp.Compare(a.Want, b.Want), cmp.Compare(b.N, a.N), cmp.Compare(a.Given, b.Given))
	})
	return out
}
