package agreement

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Change compares the answers before a training with those after it. Both tables
// have the same units and the same raters in the same order.
type Change struct {
	// People answered at least one unit both times; only what they answered twice counts.
	People int   `json:"people"`
	Before Share `json:"before"`
	After  Share `json:"after"`
	// Gained answers were wrong before and right after, Lost the other way about.
	Gained int `json:"gained"`
	Lost   int `json:"lost"`
	// Mean is the mean of the people's own changes in their share right, from -1 to 1,
	// each person counting the same; the interval is Student's t at 95 %.
	Mean        float64 `json:"mean"`
	Low         float64 `json:"low"`
	High        float64 `json:"high"`
	HasInterval bool    `json:"has_interval"` // two people at least, whose changes differ
	Small       bool    `json:"small"`        // under SmallPeople
	// AlphaBefore and AlphaAfter are of the same people; Alpha is the interval of the
	// difference, after minus before, with the units drawn for both at once.
	AlphaBefore Coefficient `json:"alpha_before"`
	AlphaAfter  Coefficient `json:"alpha_after"`
	Alpha       Interval    `json:"alpha_change"`
}

// Compare compares what the same people answered before and after.
func Compare(before, after Table, marksBefore, marksAfter Marks, seed uint64) (Change, error) {
	var c Change
	n, m := len(before.Answers), len(before.Raters)
	if len(after.Answers) != n || len(after.Raters) != m || len(marksBefore) != n || len(marksAfter) != n {
		return c, errors.New("before and after have other units or people; want the same ones in the same order")
	}
	for _, t := range []Table{before, after} {
		if err := t.Check(); err != nil {
			return c, err
		}
	}
	var both []int
	var own []float64
	var b, a, of int
	for j := range m {
		var pb, pa, po int
		for i := range n {
			x, y := marksBefore[i][j], marksAfter[i][j]
			if x == NotAnswered || y == NotAnswered {
				continue
			}
			po++
			if x == Right {
				pb++
			}
			if y == Right {
				pa++
			}
			switch {
			case x == Wrong && y == Right:
				c.Gained++
			case x == Right && y == Wrong:
				c.Lost++
			}
		}
		if po == 0 {
			continue
		}
		both = append(both, j)
		own = append(own, float64(pa-pb)/float64(po))
		b, a, of = b+pb, a+pa, of+po
	}
	c.People, c.Before, c.After = len(both), ShareOf(b, of), ShareOf(a, of)
	c.Small = c.People < SmallPeople
	if len(own) > 0 {
		c.Mean = stat.Mean(own, nil)
	}
	// Without any spread the interval would have no width, which few people cannot bear out.
	if k := float64(len(own)); k > 1 && slices.Min(own) < slices.Max(own) {
		half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: k - 1}.Quantile(0.975) * stat.StdDev(own, nil) / math.Sqrt(k)
		c.Low, c.High, c.HasInterval = max(-1, c.Mean-half), min(1, c.Mean+half), true
	}
	c.alphas(before.People(both), after.People(both), seed)
	return c, nil
}

// alphas compares the agreement of the same people, on the units that have answers
// to compare both times.
func (c *Change) alphas(before, after Table, seed uint64) {
	var places []int
	for i := range before.Answers {
		if given(before.Answers[i]) > 1 && given(after.Answers[i]) > 1 {
			places = append(places, i)
		}
	}
	before, after = before.Only(places), after.Only(places)
	first, second := tallyOf(before), tallyOf(after)
	c.AlphaBefore, c.AlphaAfter = first.alpha(nil), second.alpha(nil)
	for _, x := range []Coefficient{c.AlphaBefore, c.AlphaAfter} {
		if !x.Defined() {
			c.Alpha.Why = x.Why
			return
		}
	}
	c.Alpha = draw(len(places), seed, func(at []int) Coefficient {
		x, y := first.alpha(at), second.alpha(at)
		if !x.Defined() {
			return x
		}
		y.Value -= x.Value
		return y
	})
}
