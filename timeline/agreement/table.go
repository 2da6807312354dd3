package agreement

import "fmt"

// Missing is the answer of somebody who did not answer.
const Missing = ""

// Table holds who answered what. Answers[unit][rater] is the answer of a rater to a
// unit, Missing if there is none. Every row has as many answers as there are raters.
type Table struct {
	Units   []string   `json:"units"`
	Raters  []string   `json:"raters"`
	Answers [][]string `json:"answers"`
}

// NewTable is a table of those units and raters in which nobody has answered.
func NewTable(units, raters []string) Table {
	t := Table{Units: units, Raters: raters, Answers: make([][]string, len(units))}
	for i := range t.Answers {
		t.Answers[i] = make([]string, len(raters))
	}
	return t
}

// Check reports rows that do not fit the names of units and raters.
func (t Table) Check() error {
	if len(t.Answers) != len(t.Units) {
		return fmt.Errorf("the table names %d units and has %d rows; want a row for each", len(t.Units), len(t.Answers))
	}
	for i, row := range t.Answers {
		if len(row) != len(t.Raters) {
			return fmt.Errorf("unit %q has %d answers, %d people are named; want one each, empty where nobody answered", t.Units[i], len(row), len(t.Raters))
		}
	}
	return nil
}

// Given is the number of answers that are there.
func (t Table) Given() int {
	n := 0
	for _, row := range t.Answers {
		n += given(row)
	}
	return n
}

// given is the number of answers in a row.
func given(row []string) int {
	n := 0
	for _, a := range row {
		if a != Missing {
			n++
		}
	}
	return n
}

// counts is how often each answer of a row was given.
func counts(row []string) map[string]int {
	m := map[string]int{}
	for _, a := range row {
		if a != Missing {
			m[a]++
		}
	}
	return m
}

// Only is the part of a table with the units of those places, in that order; a place
// may come more than once.
func (t Table) Only(places []int) Table {
	out := Table{Raters: t.Raters}
	for _, i := range places {
		out.Units = append(out.Units, t.Units[i])
		out.Answers = append(out.Answers, t.Answers[i])
	}
	return out
}

// People is the part of a table with the raters of those places, in that order.
func (t Table) People(places []int) Table {
	out := Table{Units: t.Units}
	for _, j := range places {
		out.Raters = append(out.Raters, t.Raters[j])
	}
	for _, row := range t.Answers {
		r := make([]string, 0, len(places))
		for _, j := range places {
			r = append(r, row[j])
		}
		out.Answers = append(out.Answers, r)
	}
	return out
}
