package examples

import (
	"fmt"
	"slices"

	"whistlecut/app"
	"whistlecut/timeline"
)

// Edit changes an example by what edit does with a copy of it; the changes store it.
// Nothing changes when the result could not be stored.
func Edit(s *app.Session, example timeline.ID, edit func(*timeline.Example)) (timeline.Tag, []timeline.Change, error) {
	t, ok := s.Facts.Tags[example]
	if !ok || t.Example == nil {
		return t, nil, fmt.Errorf("%s is no example of this bout", example)
	}
	x := *t.Example
	x.Verdicts = slices.Clone(x.Verdicts)
	edit(&x)
	for i, v := range x.Verdicts {
		x.Verdicts[i] = Complete(v, x.Edition, s.Bout.Rules)
	}
	t.Example = &x
	if err := timeline.CheckTag(t); err != nil {
		return t, nil, fmt.Errorf("cannot change the example: %w", err)
	}
	return t, []timeline.Change{timeline.SetTag(t)}, nil
}

// Complete gives an answer with a letter the section its edition puts the penalty
// in, where it names none. rules are the bout's, which may be edited.
func Complete(a timeline.Answer, edition string, rules timeline.RuleSet) timeline.Answer {
	if a.Code == "" || a.Section != "" {
		return a
	}
	rules, _ = rules.In(edition)
	if c, ok := rules.Code(a.Code); ok {
		a.Section = c.Section
	}
	return a
}
