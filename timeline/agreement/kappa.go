package agreement

// Kappa is Fleiss' kappa. It needs as many answers to every unit, so units that not
// everybody answered are left out and counted in LeftOut; people who answered nothing
// at all do not count as people. With missing answers Alpha uses more of what is
// there.
func Kappa(t Table) Coefficient {
	var c Coefficient
	people := answering(t)
	if len(people) == 0 {
		c.Why, c.LeftOut = NoAnswers, len(t.Answers)
		return c
	}
	if len(people) < 2 {
		c.Why, c.LeftOut = NoPairs, len(t.Answers)
		return c
	}
	total := map[string]int{}
	var agree float64
	n := len(people)
	for _, row := range t.Answers {
		if given(row) != n {
			c.LeftOut++
			continue
		}
		c.Units++
		same := 0
		for a, k := range counts(row) {
			total[a] += k
			same += k * (k - 1)
		}
		agree += float64(same) / float64(n*(n-1))
	}
	c.Answers = c.Units * n
	if c.Units == 0 {
		c.Why = NoComplete
		return c
	}
	agree /= float64(c.Units)
	chance := 0.0
	for _, a := range sortedKeys(total) {
		p := float64(total[a]) / float64(c.Answers)
		chance += p * p
	}
	c.Observed, c.Expected = 1-agree, 1-chance
	if len(total) < 2 {
		c.Why, c.Observed, c.Expected = NoVariation, 0, 0
		return c
	}
	c.Value = 1 - c.Observed/c.Expected
	return c
}

// answering are the places of the people who answered anything.
func answering(t Table) []int {
	var out []int
	for j := range t.Raters {
		for _, row := range t.Answers {
			if row[j] != Missing {
				out = append(out, j)
				break
			}
		}
	}
	return out
}
