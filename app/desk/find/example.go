package find

import (
	"slices"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// toExamples makes the chosen moment an example for officials to learn from.
func (t *Task) toExamples() {
	i := t.index()
	if t.desk.Session() == nil || i < 0 {
		t.desk.Say(words.T("There is nothing for an example: choose a moment first."))
		return
	}
	t.desk.Exemplify([]timeline.Moment{t.moments[i]})
}

// allToExamples makes all moments that are not left out examples.
func (t *Task) allToExamples() {
	m := t.wanted()
	if t.desk.Session() == nil || len(m) == 0 {
		t.desk.Say(words.T("There is nothing for an example: choose a moment first."))
		return
	}
	t.desk.Exemplify(slices.Clone(m))
}

// exampleActions are the keys of it.
func (t *Task) exampleActions() []keys.Action {
	return []keys.Action{
		{
			ID: "find.example", Scope: task.Find, Title: words.T("make the moment an example"), Group: words.T("Find"),
			Keys: keys.Chords("Q"), Run: t.toExamples,
		},
		{
			ID: "find.examples", Scope: task.Find, Title: words.T("make all moments examples"), Group: words.T("Find"),
			Keys: keys.Chords("Shift+Q"), Run: t.allToExamples,
		},
	}
}

// exampleChip is the button of it.
func (t *Task) exampleChip() *look.Chip {
	return look.NewLargeChip(words.T("as example"), "Q", t.toExamples)
}
