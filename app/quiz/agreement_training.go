package quiz

import (
	"whistlecut/export/answers"
	"whistlecut/timeline"
	"whistlecut/timeline/agreement"
)

// trainingOf compares what the same people answered before and after; nil when nobody
// answered both times.
func trainingOf(p Plan, before, after []answers.Sheet, seed uint64) (*Training, error) {
	first, second := paired(before, after)
	if len(first) == 0 {
		return nil, nil
	}
	c := comparison{newTally(p, first), newTally(p, second), seed}
	var out Training
	var all []int
	for i := range p.Items {
		all = append(all, i)
	}
	var err error
	if out.All, err = c.of(all); err != nil {
		return nil, err
	}
	if out.Sections, err = c.parts(c.before.sections()); err != nil {
		return nil, err
	}
	if out.Codes, err = c.parts(c.before.codes()); err != nil {
		return nil, err
	}
	for i, x := range p.Items {
		change, err := c.of([]int{i})
		if err != nil {
			return nil, err
		}
		out.Questions = append(out.Questions, TrainingQuestion{x.Number, change.Before, change.After, change.Gained, change.Lost})
	}
	return &out, nil
}

// paired are the sheets of people who answered both times, in the same order.
func paired(before, after []answers.Sheet) (first, second []answers.Sheet) {
	at := map[string]answers.Sheet{}
	for _, s := range after {
		at[personKey(s.Person)] = s
	}
	for _, s := range before {
		if t, ok := at[personKey(s.Person)]; ok && shares(s.Given, t.Given) {
			first, second = append(first, s), append(second, t)
		}
	}
	return first, second
}

// shares reports whether two people answered one question both.
func shares(a, b map[int]timeline.Answer) bool {
	for n := range a {
		if _, ok := b[n]; ok {
			return true
		}
	}
	return false
}

// comparison is of the same people, in the same order.
type comparison struct {
	before, after tally
	seed          uint64
}

func (c comparison) parts(list []part) ([]TrainingPart, error) {
	out := []TrainingPart{}
	for _, x := range list {
		change, err := c.of(x.places)
		if err != nil {
			return nil, err
		}
		out = append(out, TrainingPart{x.name, x.title, c.before.numbers(x.places), change})
	}
	return out, nil
}

// of compares a part of the questions, by their places.
func (c comparison) of(places []int) (agreement.Change, error) {
	marks := func(m agreement.Marks) agreement.Marks {
		out := make(agreement.Marks, 0, len(places))
		for _, i := range places {
			out = append(out, m[i])
		}
		return out
	}
	return agreement.Compare(c.before.call.Only(places), c.after.call.Only(places), marks(c.before.marks), marks(c.after.marks), c.seed)
}
