package agreement

import (
	"cmp"
	"maps"
	"math"
	"slices"
)

// Split says how far one unit divided those who answered it.
type Split struct {
	Unit   int            `json:"unit"` // its place in the table
	Given  int            `json:"given"`
	Counts map[string]int `json:"counts"`
	// Top is the most frequent answer (of several, the first by name), TopShare its share.
	Top      string  `json:"top"`
	TopShare float64 `json:"top_share"`
	// Differ is the chance that two of those who answered gave different answers.
	Differ float64 `json:"differ"`
	// Entropy of the answers in bits: 0 when all say the same, 1 for two even camps.
	Entropy float64 `json:"entropy"`
	// Divides marks a unit that splits the room.
	Divides bool `json:"divides"`
}

// dividing is the share of the most frequent answer below which a unit counts as
// splitting the room: fewer than two of three (common practice, no source).
const dividing = 2.0 / 3

// leastDividing is how many answers are needed to call it that.
const leastDividing = 3

// SplitOf says how far a unit divided the room.
func SplitOf(t Table, unit int) Split {
	s := Split{Unit: unit, Counts: counts(t.Answers[unit])}
	same := 0
	for _, a := range sortedKeys(s.Counts) {
		k := s.Counts[a]
		s.Given += k
		same += k * (k - 1)
		if k > s.Counts[s.Top] {
			s.Top = a
		}
	}
	if s.Given == 0 {
		return s
	}
	n := float64(s.Given)
	s.TopShare = float64(s.Counts[s.Top]) / n
	if s.Given > 1 {
		s.Differ = 1 - float64(same)/(n*(n-1))
	}
	for _, a := range sortedKeys(s.Counts) {
		p := float64(s.Counts[a]) / n
		s.Entropy -= p * math.Log2(p)
	}
	s.Entropy = max(0, s.Entropy)
	s.Divides = s.Given >= leastDividing && s.TopShare < dividing
	return s
}

// Splits are all units with an answer, those that divide most first: by Differ, then
// by Entropy, then as they stand.
func Splits(t Table) []Split {
	var out []Split
	for i := range t.Answers {
		if s := SplitOf(t, i); s.Given > 0 {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Split) int {
		return cmp.Or(cmp.Compare(b.Differ, a.Differ), cmp.Compare(b.Entropy, a.Entropy))
	})
	return out
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
