package footage

import (
	"iter"
	"math"
	"slices"
)

// maxExact is the number of files up to which all orders are weighed: the table
// has n·2ⁿ entries.
const maxExact = 14

// likeliest weighs all orders. An order's weight is the product of exp(score)
// over its joints; partial sums over sets of files (Held and Karp's dynamic
// programming, J. SIAM 10, 1962) make n·2ⁿ steps of n! orders. The confidence of
// a joint is the weight of all orders that have it.
func likeliest(score [][]float64) (order []int, confidence float64, joints []float64) {
	n := len(score)
	all := 1<<n - 1
	sum := table(n)  // log weight of all paths over a set that end in a file
	best := table(n) // log weight of the best one
	from := make([][]int8, all+1)
	for s := 1; s <= all; s++ {
		from[s] = make([]int8, n)
		for last := range n {
			if s&(1<<last) == 0 {
				continue
			}
			rest := s &^ (1 << last)
			if rest == 0 {
				sum[s][last], best[s][last] = 0, 0
				continue
			}
			for prev := range n {
				if rest&(1<<prev) == 0 {
					continue
				}
				w := score[prev][last]
				sum[s][last] = logAdd(sum[s][last], sum[rest][prev]+w)
				if b := best[rest][prev] + w; b > best[s][last] {
					best[s][last], from[s][last] = b, int8(prev)
				}
			}
		}
	}
	total, end := math.Inf(-1), 0
	for last := range n {
		total = logAdd(total, sum[all][last])
		if best[all][last] > best[all][end] {
			end = last
		}
	}
	confidence = math.Exp(best[all][end] - total)
	for s, last := all, end; s != 0; {
		order = append(order, last)
		prev := int(from[s][last])
		s &^= 1 << last
		last = prev
	}
	slices.Reverse(order)

	// The same sums from the other end, for the weight of single joints.
	after := table(n) // log weight of all paths over a set that begin in a file
	for s := 1; s <= all; s++ {
		for first := range n {
			if s&(1<<first) == 0 {
				continue
			}
			rest := s &^ (1 << first)
			if rest == 0 {
				after[s][first] = 0
			}
			for next := range n {
				if rest&(1<<next) != 0 {
					after[s][first] = logAdd(after[s][first], after[rest][next]+score[first][next])
				}
			}
		}
	}
	for k := 0; k+1 < n; k++ {
		a, b := order[k], order[k+1]
		w := math.Inf(-1)
		for s := 1; s < all; s++ {
			if s&(1<<a) != 0 && s&(1<<b) == 0 {
				w = logAdd(w, sum[s][a]+score[a][b]+after[all&^s][b])
			}
		}
		joints = append(joints, min(1, math.Exp(w-total)))
	}
	return order, min(1, confidence), joints
}

func table(n int) [][]float64 {
	t := make([][]float64, 1<<n)
	for s := range t {
		t[s] = make([]float64, n)
		for i := range t[s] {
			t[s][i] = math.Inf(-1)
		}
	}
	return t
}

// logAdd is log(exp(a)+exp(b)).
func logAdd(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// neighbours is for more files than can be weighed in all orders: it joins the
// two ends that fit best, again and again, and then moves single files as long as
// that helps. Confidences weigh the order against all that differ from it by the
// place of one file.
func neighbours(score [][]float64) (order []int, confidence float64, joints []float64) {
	order = chained(score)
	best := weight(score, order)
	for better := true; better; {
		better = false
		for moved := range moves(order) {
			if w := weight(score, moved); w > best+1e-9 {
				order, best, better = moved, w, true
				break
			}
		}
	}
	n := len(order)
	rivals := 0.0
	against := make([]float64, n-1) // weight of the rivals that lack a joint
	for moved := range moves(order) {
		w := math.Exp(weight(score, moved) - best)
		rivals += w
		after := make([]int, n)
		for k, f := range moved {
			after[f] = -1
			if k+1 < n {
				after[f] = moved[k+1]
			}
		}
		for k := range against {
			if after[order[k]] != order[k+1] {
				against[k] += w
			}
		}
	}
	for _, a := range against {
		joints = append(joints, 1-a/(1+rivals))
	}
	return order, 1 / (1 + rivals), joints
}

// moves yields every order that comes from one by moving a single file. Two
// neighbours exchanged come once.
func moves(order []int) iter.Seq[[]int] {
	return func(yield func([]int) bool) {
		for from := range order {
			rest := slices.Delete(slices.Clone(order), from, from+1)
			for to := range order {
				if to == from || to == from-1 {
					continue
				}
				if !yield(slices.Insert(slices.Clone(rest), to, order[from])) {
					return
				}
			}
		}
	}
}

func weight(score [][]float64, order []int) float64 {
	sum := 0.0
	for k := 1; k < len(order); k++ {
		sum += score[order[k-1]][order[k]]
	}
	return sum
}

// chained joins the two ends that fit best until all files are in one chain.
func chained(score [][]float64) []int {
	n := len(score)
	next, prev := make([]int, n), make([]int, n)
	chain := make([]int, n) // the chain a file belongs to
	for i := range n {
		next[i], prev[i], chain[i] = -1, -1, i
	}
	for range n - 1 {
		a, b := -1, -1
		for i := range n {
			for j := range n {
				if next[i] < 0 && prev[j] < 0 && chain[i] != chain[j] && (a < 0 || score[i][j] > score[a][b]) {
					a, b = i, j
				}
			}
		}
		next[a], prev[b] = b, a
		old := chain[b]
		for i := range chain {
			if chain[i] == old {
				chain[i] = chain[a]
			}
		}
	}
	var order []int
	for at := slices.Index(prev, -1); at >= 0; at = next[at] {
		order = append(order, at)
	}
	return order
}
