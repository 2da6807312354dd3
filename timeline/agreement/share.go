package agreement

import (
	"math"
	"slices"
)

// Share is how many of how many were right, with Wilson's 95 % score interval.
type Share struct {
	Right int `json:"right"`
	Of    int `json:"of"`
	// Low and High bound the true share; without an answer they are 0 and 1.
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// z95 is the 97.5 % point of the normal distribution.
const z95 = 1.959963984540054

// ShareOf makes a share with its interval.
func ShareOf(right, of int) Share {
	s := Share{Right: right, Of: of, High: 1}
	if of <= 0 {
		return s
	}
	n, p := float64(of), float64(right)/float64(of)
	z2 := z95 * z95
	mid := (p + z2/(2*n)) / (1 + z2/n)
	half := z95 / (1 + z2/n) * math.Sqrt(p*(1-p)/n+z2/(4*n*n))
	s.Low, s.High = max(0, mid-half), min(1, mid+half)
	if right == 0 {
		s.Low = 0
	}
	if right == of {
		s.High = 1
	}
	return s
}

// Value is the share; ok is false without an answer.
func (s Share) Value() (v float64, ok bool) {
	if s.Of == 0 {
		return 0, false
	}
	return float64(s.Right) / float64(s.Of), true
}

// Marks hold what each answer of a table was worth, by unit and rater.
type Marks [][]Mark

// Mark is what an answer was worth.
type Mark int8

// The zero value is no answer.
const (
	NotAnswered Mark = iota
	Wrong
	Right
)

// Share of a unit's answers that were right.
func (m Marks) Share(unit int) Share {
	right, of := 0, 0
	for _, x := range m[unit] {
		right, of = tally(x, right, of)
	}
	return ShareOf(right, of)
}

// Total is the share over the units of those places; nil stands for all. The
// answers of one person hang together, so the interval is narrower than what
// drawing other people would give.
func (m Marks) Total(units []int) Share {
	right, of := 0, 0
	for i, row := range m {
		if units != nil && !slices.Contains(units, i) {
			continue
		}
		for _, x := range row {
			right, of = tally(x, right, of)
		}
	}
	return ShareOf(right, of)
}

// Person is the share of one person's answers that were right.
func (m Marks) Person(rater int) Share {
	right, of := 0, 0
	for _, row := range m {
		right, of = tally(row[rater], right, of)
	}
	return ShareOf(right, of)
}

func tally(x Mark, right, of int) (int, int) {
	switch x {
	case Right:
		return right + 1, of + 1
	case Wrong:
		return right, of + 1
	}
	return right, of
}
