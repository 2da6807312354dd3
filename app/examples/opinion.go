package examples

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"whistlecut/app"
	"whistlecut/timeline"
)

// Blind is an example as another trainer gets it: what is asked and the film up to
// the signal, without who it was, what was called, what anybody decided or wrote.
func Blind(t timeline.Tag) timeline.Tag {
	if t.Example == nil {
		return t
	}
	x := *t.Example
	x.Called, x.Verdicts, x.Impact, x.Difficulty = timeline.Answer{}, nil, timeline.ImpactUnknown, 0
	x.Words, x.Source, x.By, x.Sensitive = "", "", "", false
	return timeline.Tag{ID: t.ID, Kind: t.Kind, Place: t.Place, Example: &x}
}

// Opine stores another trainer's verdict on an example. Each person has one opinion
// on an example; a second one replaces it. It is judged by the bout's edition.
func Opine(s *app.Session, example timeline.ID, by string, a timeline.Answer, words string) (timeline.Opinion, timeline.Change, error) {
	by = strings.TrimSpace(by)
	o := timeline.Opinion{
		ID: timeline.ImportID("opinion", string(example), by), Example: example, By: by, Answer: a, Words: words, Edition: s.Bout.Rules.Edition,
	}
	t, ok := s.Facts.Tags[example]
	switch {
	case !ok || t.Example == nil:
		return o, timeline.Change{}, fmt.Errorf("cannot store the opinion: %s is no example of this bout", example)
	case by == "":
		return o, timeline.Change{}, errors.New("cannot store the opinion: say whose it is")
	case by == t.Example.By && len(t.Example.Verdicts) > 0:
		return o, timeline.Change{}, fmt.Errorf("cannot store the opinion: the verdict on this example is by %s already; an opinion is another person's", by)
	case !slices.Contains(t.Example.Ask.Choices(), a.Choice):
		return o, timeline.Change{}, fmt.Errorf("cannot store the opinion: %q does not answer the question; it takes %q", a.Choice, t.Example.Ask.Choices())
	case a.Code != "" && (t.Example.Ask != timeline.AskPenalty || a.Choice == timeline.ChoiceNo):
		return o, timeline.Change{}, errors.New("cannot store the opinion: a letter goes with a penalty or a warning for it only")
	}
	if _, ok := s.Bout.Rules.Code(a.Code); a.Code != "" && !ok {
		return o, timeline.Change{}, fmt.Errorf("cannot store the opinion: the rules of %s have no penalty %q", s.Bout.Rules.Edition, a.Code)
	}
	// A person who gave an opinion in another copy of the bout keeps its record.
	for _, was := range OpinionsOn(s.Facts, example) {
		if was.By == by {
			o.ID = was.ID
		}
	}
	if err := timeline.CheckOpinion(o); err != nil {
		return o, timeline.Change{}, fmt.Errorf("cannot store the opinion: %w", err)
	}
	return o, timeline.SetOpinion(o), nil
}
