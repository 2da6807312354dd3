package whistle

import "math"

// Weigher turns candidates into probabilities that an official blew there. It
// weighs twice: first among neighbours that are known by their own frames alone,
// then among what the first weighing said of them. Without a Second the First
// counts.
type Weigher struct {
	First  Forest
	Second *Forest
}

// Forest turns a candidate's traits into a probability: the sum of many small
// decision trees in log odds (gradient boosting: Friedman, "Greedy function
// approximation: a gradient boosting machine", Annals of Statistics 29(5), 2001).
type Forest struct {
	Base  float32 // log odds before any tree
	Trees []Tree
}

// Depth is how many questions a tree asks.
const Depth = 4

// Tree asks Depth questions of the form "is the trait above the limit?"; the
// questions lie level by level, the answer to question n leads to 2n+1 (no) or
// 2n+2 (yes).
type Tree struct {
	Trait  [1<<Depth - 1]uint8
	Limit  [1<<Depth - 1]float32
	Leaves [1 << Depth]float32 // log odds
}

// Leaf is the number of the leaf that traits fall into.
func (t *Tree) Leaf(x *[Traits]float64) int {
	n := 0
	for range Depth {
		n = 2*n + 1
		if q := (n - 1) / 2; x[t.Trait[q]] > float64(t.Limit[q]) {
			n++
		}
	}
	return n - (1<<Depth - 1)
}

// Weigh returns the probability, 0..1.
func (f *Forest) Weigh(x *[Traits]float64) float64 {
	s := float64(f.Base)
	for i := range f.Trees {
		s += float64(f.Trees[i].Leaves[f.Trees[i].Leaf(x)])
	}
	return 1 / (1 + math.Exp(-s))
}
