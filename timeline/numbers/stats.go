package numbers

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// SmallSample is how many jams, trips or penalties a number should rest on at
// least before it is compared with another (common practice, no source).
const SmallSample = 10

// Mean is a mean over jams with the 95 % interval of the true mean.
type Mean struct {
	N    int     `json:"n"`
	Mean float64 `json:"mean"`
	// Low and High bound the mean with 95 % confidence when HasInterval: mean ±
	// t(0.975, n-1)·s/√n with s the sample's standard deviation and t the quantile of
	// Student's distribution. Source: NIST/SEMATECH e-Handbook of Statistical Methods,
	// 1.3.5.2, confidence limits for the mean; after Student, Biometrika 6 (1908) 1.
	// It takes jams for independent of each other and roughly normal; jam scores are
	// skewed, so few jams tell less than the interval says.
	Low         float64 `json:"low"`
	High        float64 `json:"high"`
	HasInterval bool    `json:"has_interval"` // two jams at least
	Small       bool    `json:"small_sample"`
}

// meanOf is the mean of the values, with its interval from two values on.
func meanOf(xs []float64) Mean {
	m := Mean{N: len(xs), Small: len(xs) < SmallSample}
	if len(xs) == 0 {
		return m
	}
	m.Mean = stat.Mean(xs, nil)
	m.Low, m.High = m.Mean, m.Mean
	if len(xs) < 2 {
		return m
	}
	n := float64(len(xs))
	half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(0.975) * stat.StdDev(xs, nil) / math.Sqrt(n)
	m.Low, m.High, m.HasInterval = m.Mean-half, m.Mean+half, true
	return m
}

// Share is how often something happened out of how often it could.
type Share struct {
	// Low and High bound the count where it was not always seen.
	Low  int `json:"count_low"`
	High int `json:"count_high"`
	Of   int `json:"of"`
	// From and To bound the true share with 95 % confidence by Wilson's score
	// interval, the lower end for Low and the upper for High. Source: E. B. Wilson,
	// J. Am. Stat. Assoc. 22 (1927) 209.
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Small bool    `json:"small_sample"`
}

// shareOf is low to high out of n.
func shareOf(low, high, n int) Share {
	s := Share{Low: low, High: high, Of: n, Small: n < SmallSample}
	if n > 0 {
		s.From, _ = wilson(low, n)
		_, s.To = wilson(high, n)
	}
	return s
}

// Plus adds two counts up.
func (s Share) Plus(o Share) Share { return shareOf(s.Low+o.Low, s.High+o.High, s.Of+o.Of) }

// Value is the share, in the middle where the count is a range; ok is false out
// of nothing.
func (s Share) Value() (v float64, ok bool) {
	if s.Of == 0 {
		return 0, false
	}
	return float64(s.Low+s.High) / 2 / float64(s.Of), true
}

// wilson is the 95 % score interval of k out of n.
func wilson(k, n int) (low, high float64) {
	z := distuv.UnitNormal.Quantile(0.975)
	p, m := float64(k)/float64(n), float64(n)
	centre := (p + z*z/(2*m)) / (1 + z*z/m)
	half := z / (1 + z*z/m) * math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	return max(centre-half, 0), min(centre+half, 1)
}

// ratio is a over b, nothing out of nothing.
func ratio(a float64, b int) float64 {
	if b == 0 {
		return 0
	}
	return a / float64(b)
}
