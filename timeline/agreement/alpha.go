package agreement

import (
	"slices"

	"gonum.org/v1/gonum/stat"
)

// Why says why a coefficient could not be computed.
type Why string

// The reasons. The zero value: it could.
const (
	Computed    Why = ""
	NoAnswers   Why = "no answers"          // nobody answered anything
	NoPairs     Why = "no pairs"            // no unit has two answers, so nobody can agree with anybody
	NoVariation Why = "no variation"        // one and the same answer everywhere: chance alone would agree as well
	NoComplete  Why = "no complete unit"    // Fleiss' kappa only: no unit was answered by everybody
	TooFewUnits Why = "too few units"       // an interval needs two units at least
	Unstable    Why = "too often undefined" // an interval: too many of the tables drawn have no alpha
)

// Coefficient is a measure of agreement: 1 is perfect, 0 what chance would give,
// below 0 less than that.
type Coefficient struct {
	Value float64 `json:"value"` // 0 when Why says why there is none
	Why   Why     `json:"why,omitempty"`
	// Units and Answers were counted; LeftOut are units that could not be.
	Units   int `json:"units"`
	Answers int `json:"answers"`
	LeftOut int `json:"left_out"`
	// Observed is the share of pairs of answers to the same unit that differ, Expected
	// the share that would if answers were dealt out by chance.
	Observed float64 `json:"observed_disagreement"`
	Expected float64 `json:"expected_disagreement"`
}

// Defined reports whether there is a value.
func (c Coefficient) Defined() bool { return c.Why == Computed }

// Alpha is Krippendorff's alpha for nominal answers. Units with fewer than two
// answers are left out, as nothing can be compared in them (Krippendorff 2011,
// section C). Without variation alpha is 0/0 and left undefined.
func Alpha(t Table) Coefficient { return tallyOf(t).alpha(nil) }

// tallies are how often each answer was given to each unit. Answers have a column
// each, in the order of their names, so that drawing units again counts nothing anew.
type tallies struct {
	rows  [][]int
	names int
}

func tallyOf(t Table) tallies {
	column := map[string]int{}
	for _, row := range t.Answers {
		for a := range counts(row) {
			column[a] = 0
		}
	}
	for i, a := range sortedKeys(column) {
		column[a] = i
	}
	x := tallies{make([][]int, len(t.Answers)), len(column)}
	for i, row := range t.Answers {
		x.rows[i] = make([]int, x.names)
		for a, n := range counts(row) {
			x.rows[i][column[a]] = n
		}
	}
	return x
}

// alpha is of the units of those places; nil stands for all.
func (x tallies) alpha(places []int) Coefficient {
	var c Coefficient
	total := make([]int, x.names)
	var differ float64 // observed pairs that differ, weighted by 1/(m-1)
	given := false
	add := func(n []int) {
		m, same := 0, 0
		for _, k := range n {
			m += k
			same += k * (k - 1)
		}
		given = given || m > 0
		if m < 2 {
			c.LeftOut++
			return
		}
		c.Units++
		c.Answers += m
		for a, k := range n {
			total[a] += k
		}
		differ += float64(m*(m-1)-same) / float64(m-1)
	}
	if places == nil {
		for _, n := range x.rows {
			add(n)
		}
	}
	for _, i := range places {
		add(x.rows[i])
	}
	switch {
	case !given:
		c.Why = NoAnswers
		return c
	case c.Units == 0:
		c.Why = NoPairs
		return c
	}
	n, same, kinds := c.Answers, 0, 0
	for _, k := range total {
		same += k * (k - 1)
		if k > 0 {
			kinds++
		}
	}
	c.Observed = differ / float64(n)
	c.Expected = float64(n*(n-1)-same) / float64(n*(n-1))
	if kinds < 2 {
		c.Why = NoVariation
		return c
	}
	c.Value = 1 - c.Observed/c.Expected
	return c
}

// Interval is a 95 % interval of a coefficient or a difference of two.
type Interval struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
	Why  Why     `json:"why,omitempty"` // why there is none
	// Drawn tables the interval rests on; Undefined had no alpha and were left out.
	Drawn     int `json:"drawn,omitempty"`
	Undefined int `json:"undefined,omitempty"`
}

// Defined reports whether there is an interval.
func (i Interval) Defined() bool { return i.Why == Computed }

// Draws is how many tables an interval of alpha is drawn from.
const Draws = 2000

// AlphaInterval is the 95 % percentile interval of alpha over Draws tables whose
// units are drawn from the table's with replacement. Equal seeds give equal
// intervals.
func AlphaInterval(t Table, seed uint64) Interval {
	var paired []int
	for i, row := range t.Answers {
		if given(row) > 1 {
			paired = append(paired, i)
		}
	}
	x := tallyOf(t.Only(paired))
	if c := x.alpha(nil); !c.Defined() {
		return Interval{Why: Alpha(t).Why}
	}
	return draw(len(paired), seed, x.alpha)
}

// draw takes n places of n with replacement, Draws times, and gives the percentiles
// of what is computed from them. It gives none when over half has no value, since
// the rest is then no fair picture (common practice, no source).
func draw(n int, seed uint64, of func([]int) Coefficient) Interval {
	if n < 2 {
		return Interval{Why: TooFewUnits}
	}
	r := random(seed)
	var xs []float64
	out := Interval{Drawn: Draws}
	places := make([]int, n)
	for range Draws {
		for i := range places {
			places[i] = r.IntN(n)
		}
		if c := of(places); c.Defined() {
			xs = append(xs, c.Value)
		} else {
			out.Undefined++
		}
	}
	if out.Undefined*2 > Draws {
		out.Why = Unstable
		return out
	}
	slices.Sort(xs)
	out.Low, out.High = stat.Quantile(0.025, stat.Empirical, xs, nil), stat.Quantile(0.975, stat.Empirical, xs, nil)
	return out
}
