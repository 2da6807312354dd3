package check

import (
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// toReel puts the moment of the chosen finding into the reel that is worked on.
func (t *Task) toReel() {
	s := t.desk.Session()
	i, ok := t.current()
	if s == nil || !ok {
		return
	}
	p, ok := t.place(i)
	if !ok {
		t.desk.Say(words.T("No film shows this moment."))
		return
	}
	footage, at, ok := s.Bout.Alignment.FilmOf(p)
	if !ok {
		return
	}
	jam := timeline.ID("")
	if i.finding != nil {
		jam = i.finding.JamID
	} else {
		jam = i.unchecked.JamID
	}
	m := timeline.Moment{
		Kind: timeline.KindNote, Jam: jam, Place: p, Note: oneLine(i),
		Film: []timeline.FilmStretch{{Camera: s.Facts.Footage[footage].Camera, Footage: footage, From: at, To: at}},
	}
	if j, ok := s.Bout.Jam(jam); ok {
		m.Period, m.Number = j.Period, j.Number
	}
	t.desk.Collect([]timeline.Moment{m})
}

// reelAction is the key of it.
func (t *Task) reelAction() keys.Action {
	return keys.Action{
		ID: "check.reel", Scope: task.Check, Title: words.T("put the finding into the reel"), Group: words.T("Check"),
		Keys: keys.Chords("E"), Run: t.toReel,
	}
}

// reelChip is the button of it.
func (t *Task) reelChip() *look.Chip {
	c := look.NewChip(words.T("into the reel"), "E", t.toReel)
	c.Large = true
	return c
}

// oneLine is an item as a caption.
func oneLine(i item) string {
	text := ""
	if i.unchecked != nil {
		text = uncheckedText(i.unchecked.Why)
	} else {
		text = columnText(*i.finding) + ": " + causeText(*i.finding)
	}
	return whereText(i) + ": " + text
}
