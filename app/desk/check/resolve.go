package check

import (
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// resolve stores what a person decided about the chosen finding and goes on to
// the next open one. A tag that was wrong is corrected where only one correction
// follows; else Log shows the place, and the finding stays open until it is done.
func (t *Task) resolve(verdict string) {
	i, ok := t.current()
	if !ok {
		return
	}
	if i.finding == nil {
		t.desk.Say(words.T("What is not checkable has nothing to settle yet; tag it in Log, and it is compared."))
		return
	}
	f := *i.finding
	note := t.note
	if note == "" && f.Resolution != nil {
		note = f.Resolution.Note
	}
	next := t.nextOpen(f.Key)
	keep := timeline.SetResolution(timeline.Resolution{ID: timeline.ID(f.Key), Verdict: verdict, Note: note})
	if verdict == timeline.VerdictTagWrong {
		t.correct(f, keep, next)
		return
	}
	label := words.T("sheet differs: {.place}", "place", whereText(i))
	if verdict == timeline.VerdictUnclear {
		label = words.T("unclear: {.place}", "place", whereText(i))
	}
	if t.desk.Apply(label, keep) {
		t.goOn(next)
	}
}

// correct makes the tags agree, or shows where to.
func (t *Task) correct(f sheet.Finding, keep timeline.Change, next string) {
	place := whereText(item{finding: &f})
	paper := t.desk.Sheet()
	if paper != nil {
		if changes, ok := t.desk.Session().Correction(*paper, f); ok {
			if t.desk.Apply(words.T("tag corrected: {.place}", "place", place), append(changes, keep)...) {
				t.desk.Say(words.T("{.place}: the tags agree with the sheet now. Ctrl+Z takes it back.", "place", place))
				t.goOn(next)
			}
			return
		}
	}
	if !t.desk.Apply(words.T("tag to be corrected: {.place}", "place", place), keep) {
		return
	}
	if p, ok := t.place(item{finding: &f}); ok {
		t.desk.Go(p)
	}
	t.desk.Show(task.Log)
	t.desk.Say(words.T("Correct the tags of this place in Log; the finding goes away when they agree. ({.place})", "place", place))
}

// reopen takes a decision back.
func (t *Task) reopen() {
	i, ok := t.current()
	if !ok || i.finding == nil || i.finding.Resolution == nil {
		return
	}
	t.desk.Apply(words.T("opened again: {.place}", "place", whereText(i)), timeline.DeleteResolution(timeline.ID(i.finding.Key)))
}

// nextOpen is the key of the next open finding below, else of the first; "" when
// there is no other.
func (t *Task) nextOpen(but string) string {
	at := t.index()
	for n := range t.items {
		i := t.items[(at+1+n)%len(t.items)]
		if i.open() && i.key() != but {
			return i.key()
		}
	}
	return ""
}

// goOn chooses the finding with that key.
func (t *Task) goOn(key string) {
	for n, i := range t.items {
		if i.key() == key {
			t.choose(n)
			return
		}
	}
	if key == "" && len(t.desk.Report().Findings) > 0 && t.Waiting() == 0 {
		t.desk.Say(words.T("All findings are settled."))
	}
}

// writeNote opens the note of the chosen finding.
func (t *Task) writeNote() {
	i, ok := t.current()
	if !ok || i.finding == nil || t.panel == nil {
		return
	}
	text := t.note
	if text == "" && i.finding.Resolution != nil {
		text = i.finding.Resolution.Note
	}
	t.panel.openNote(text)
}

// noted takes a written note: it is kept at once beside a decision, else it waits
// for one.
func (t *Task) noted(text string) {
	i, ok := t.current()
	if !ok || i.finding == nil {
		return
	}
	if r := i.finding.Resolution; r != nil {
		if r.Note != text {
			x := *r
			x.Note = text
			t.desk.Apply(words.T("note: {.place}", "place", whereText(i)), timeline.SetResolution(x))
		}
		return
	}
	t.note = text
	t.panel.refresh()
}
