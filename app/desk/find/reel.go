package find

import (
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
)

// toReel puts the moments that are not left out into the reel that is worked on.
func (t *Task) toReel() {
	if t.desk.Session() == nil {
		return
	}
	m := t.wanted()
	if len(m) == 0 {
		t.desk.Say(words.T("There is nothing for a reel: choose moments first."))
		return
	}
	t.desk.Collect(m)
}

// reelAction is the key of it.
func (t *Task) reelAction() keys.Action {
	return keys.Action{
		ID: "find.reel", Scope: task.Find, Title: words.T("put the moments into the reel"), Group: words.T("Find"),
		Keys: keys.Chords("E"), Run: t.toReel,
	}
}

// reelChip is the button of it.
func (t *Task) reelChip() *look.Chip {
	return look.NewLargeChip(words.T("into the reel"), "E", t.toReel)
}
