package align

import (
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
)

// Verbs of the task's keys. What one does depends on the section that is open;
// the list of keys says it for all.
const (
	doUp, doDown        = "up", "down"
	doEnter, doRemove   = "enter", "remove"
	doLess, doMore      = "less", "more"
	doMuchLess          = "much less"
	doMuchMore          = "much more"
	doBefore, doAfter   = "before", "after"
	doAdd, doHere       = "add", "here"
	doFrom, doTo        = "from", "to"
	doType, doKeep      = "type", "keep"
	doPaste, doTeam     = "paste", "team"
	doAll               = "all"
	doPrevious, doFurth = "previous", "further"
)

// Actions are the task's keys.
func (t *Task) Actions() []keys.Action {
	moving, changing, sections := words.T("Move in the list"), words.T("Change what is chosen"), words.T("Sections")
	filmGroup, sheetGroup := words.T("Film and rosters"), words.T("Sheet")
	listenGroup := words.T("Lining up")
	act := func(verb, group, title string, chords ...string) keys.Action {
		a := keys.Action{ID: "align." + verb, Scope: task.Align, Title: title, Group: group, Run: func() { t.press(verb) }}
		a.Keys = keys.Chords(chords...)
		return a
	}
	repeat := func(a keys.Action) keys.Action { a.Repeats = true; return a }
	list := []keys.Action{
		act(doPrevious, sections, words.T("Section before"), "Prior"),
		act(doFurth, sections, words.T("Section after"), "Next"),
		repeat(act(doUp, moving, words.T("Line before"), "Up")),
		repeat(act(doDown, moving, words.T("Line after"), "Down")),
		act(doEnter, changing, words.T("Accept, or open what is chosen"), "Return", "KP_Enter"),
		act(doRemove, changing, words.T("Remove; of a jam: it is not here"), "Delete", "BackSpace"),
		act(doAdd, changing, words.T("Add; of a penalty: the act was now"), "A"),
		repeat(act(doLess, listenGroup, words.T("One frame earlier"), ",")),
		repeat(act(doMore, listenGroup, words.T("One frame later"), ".")),
		repeat(act(doMuchLess, listenGroup, words.T("A tenth of a second earlier"), "Shift+,")),
		repeat(act(doMuchMore, listenGroup, words.T("A tenth of a second later"), "Shift+.")),
		act("listen", listenGroup, words.T("Listen and line up"), "G"),
		act(doHere, listenGroup, words.T("The jam starts where the film stands"), "H"),
		act(doAll, listenGroup, words.T("Show all jams or the doubtful ones"), "V"),
		act(doBefore, filmGroup, words.T("Film file earlier in the order"), "Shift+Up"),
		act(doAfter, filmGroup, words.T("Film file later in the order"), "Shift+Down"),
		act(doFrom, filmGroup, words.T("The bout begins where the film stands"), "I"),
		act(doTo, filmGroup, words.T("The bout ends where the film stands"), "O"),
		act(doPaste, filmGroup, words.T("Paste a roster"), "P"),
		act(doTeam, filmGroup, words.T("Team's name and colour, table's side and period"), "E"),
		act(doType, sheetGroup, words.T("Type a sheet beside its photo"), "T"),
		act(doKeep, sheetGroup, words.T("Keep the columns as a template"), "K"),
	}
	calls := words.T("Calls of penalties")
	for i, title := range []string{
		words.T("Play the first call"), words.T("Play the second call"), words.T("Play the third call"),
		words.T("Play the fourth call"), words.T("Play the fifth call"),
	} {
		n := string(rune('1' + i))
		list = append(list, act(callVerb+n, calls, title, n))
	}
	return list
}

// callVerb with a digit plays that candidate of a penalty.
const callVerb = "call "

// press does what a key says in the open section.
func (t *Task) press(verb string) {
	if t.fold == nil {
		return
	}
	switch verb {
	case doPrevious:
		t.fold.show(t.fold.at - 1)
		return
	case doFurth:
		t.fold.show(t.fold.at + 1)
		return
	case "listen":
		if t.fold.at == atCalls && t.listen.linedUp() && !t.working {
			t.calls.seekCalls()
		} else {
			t.LineUp()
		}
		return
	}
	t.open().do(verb)
}
