package bench

import (
	"math"

	"whistlecut/timeline/whistle"
)

// left are traits that are left out: how far a whistle stands out and how much of
// the whole sound it is depends on the microphone and the hall's loudspeakers
// more than on whether it is a whistle.
var left = []int{6, 8}

// Fit finds the weights that turn a candidate's traits into log odds of an
// official's blast: logistic regression by Newton's method with a small penalty
// on large weights. Takes should be of the tuning family.
func Fit(takes []*Take, net *whistle.Net) ([whistle.Traits]float64, error) {
	var w [whistle.Traits]float64
	type sample struct {
		x [whistle.Traits]float64
		y float64
	}
	var all []sample
	for _, take := range takes {
		_, heard, err := take.Hear(whistle.Options{Least: 1e-12, Net: net})
		if err != nil {
			return w, err
		}
		match := pairs(take.Truth.Blasts, plain(heard))
		for i, h := range heard {
			y := 0.0
			if match[i] >= 0 {
				y = 1
			}
			for _, k := range left {
				h.Traits[k] = 0
			}
			all = append(all, sample{h.Traits, y})
		}
	}
	const n = whistle.Traits
	for range 30 {
		var g [n]float64
		var h [n][n]float64
		for i := range w {
			g[i] = -2 * w[i]
			h[i][i] = 2
		}
		for _, s := range all {
			z := 0.0
			for i, x := range s.x {
				z += w[i] * x
			}
			p := 1 / (1 + math.Exp(-z))
			for i, x := range s.x {
				g[i] += (s.y - p) * x
				for j, y := range s.x {
					h[i][j] += p * (1 - p) * x * y
				}
			}
		}
		d := solve(h, g)
		for i := range w {
			w[i] += d[i]
		}
	}
	return w, nil
}

// solve is Gauss elimination; h is positive definite.
func solve(h [whistle.Traits][whistle.Traits]float64, g [whistle.Traits]float64) [whistle.Traits]float64 {
	n := len(g)
	for i := range n {
		for k := i + 1; k < n; k++ {
			f := h[k][i] / h[i][i]
			for j := i; j < n; j++ {
				h[k][j] -= f * h[i][j]
			}
			g[k] -= f * g[i]
		}
	}
	for i := n - 1; i >= 0; i-- {
		for j := i + 1; j < n; j++ {
			g[i] -= h[i][j] * g[j]
		}
		g[i] /= h[i][i]
	}
	return g
}
