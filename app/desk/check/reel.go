package check

import (
	"slices"
	"time"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// toReel puts the moment of the chosen finding into the reel that is worked on.
func (t *Task) toReel() {
	if m, ok := t.moment(); ok {
		t.desk.Collect([]timeline.Moment{m})
	}
}

// What is shown of a place that has no tag: so much before and after it.
const (
	exampleBefore = 4 * time.Second
	exampleAfter  = 2 * time.Second
)

// toExamples makes the moment an example for officials to learn from: of the
// penalty, trip or lead that the finding is about, else of the place itself.
func (t *Task) toExamples() {
	m, ok := t.moment()
	if !ok {
		return
	}
	i, _ := t.current()
	if x, ok := t.taggedMoment(i); ok {
		m = x
	} else {
		f := &m.Film[0]
		f.From, f.To = max(f.From-exampleBefore, 0), f.To+exampleAfter
		if d := t.desk.Session().Facts.Footage[f.Footage].Duration; d > 0 {
			f.To = min(f.To, d)
		}
	}
	t.desk.Exemplify([]timeline.Moment{m})
}

// taggedMoment is the tag that a finding rests on, where it rests on one that asks
// something of officials.
func (t *Task) taggedMoment(i item) (timeline.Moment, bool) {
	if i.finding == nil {
		return timeline.Moment{}, false
	}
	s := t.desk.Session()
	list := timeline.Find(s.Bout, s.Facts, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty, timeline.KindTrip, timeline.KindLead}})
	for _, m := range list {
		for _, id := range m.Tags {
			if slices.Contains(i.finding.TagID, id) && (m.Kind == timeline.KindPenalty || s.Facts.Tags[id].Place == i.finding.Film) {
				return m, true
			}
		}
	}
	return timeline.Moment{}, false
}

// moment is the moment of the chosen finding; it says why where there is none.
func (t *Task) moment() (m timeline.Moment, ok bool) {
	s := t.desk.Session()
	i, ok := t.current()
	if s == nil || !ok {
		return m, false
	}
	p, ok := t.place(i)
	if !ok {
		t.desk.Say(words.T("No film shows this moment."))
		return m, false
	}
	footage, at, ok := s.Bout.Alignment.FilmOf(p)
	if !ok {
		return m, false
	}
	jam := timeline.ID("")
	if i.finding != nil {
		jam = i.finding.JamID
	} else {
		jam = i.unchecked.JamID
	}
	m = timeline.Moment{
		Kind: timeline.KindNote, Jam: jam, Place: p, Note: oneLine(i),
		Film: []timeline.FilmStretch{{Camera: s.Facts.Footage[footage].Camera, Footage: footage, From: at, To: at}},
	}
	if j, ok := s.Bout.Jam(jam); ok {
		m.Period, m.Number = j.Period, j.Number
	}
	return m, true
}

// exampleAction is the key that makes an example.
func (t *Task) exampleAction() keys.Action {
	return keys.Action{
		ID: "check.example", Scope: task.Check, Title: words.T("make the finding's moment an example"), Group: words.T("Check"),
		Keys: keys.Chords("Q"), Run: t.toExamples,
	}
}

// exampleChip is the button of it.
func (t *Task) exampleChip() *look.Chip {
	return look.NewLargeChip(words.T("as example"), "Q", t.toExamples)
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
	return look.NewLargeChip(words.T("into the reel"), "E", t.toReel)
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
