package examples

import (
	"strings"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
)

// keyed is what one key does: alike in every view, or in each its own.
type keyed struct {
	id      string
	chords  []string
	repeats bool
	all     *use
	in      [views]*use
}

// use is one meaning of a key.
type use struct {
	title string
	run   func()
}

// Actions are the keys of the task. Some letters mean another thing in each of
// the three views, so one action stands for all of them.
func (t *Task) Actions() []keys.Action {
	var out []keys.Action
	for _, k := range t.keys() {
		a := keys.Action{ID: "examples." + k.id, Scope: task.Examples, Group: words.T("Examples"), Repeats: k.repeats, Keys: keys.Chords(k.chords...)}
		if k.all != nil {
			a.Title, a.Run = k.all.title, k.all.run
			out = append(out, a)
			continue
		}
		var titles []string
		for v, u := range k.in {
			switch {
			case u == nil:
			case view(v) == ofAll:
				titles = append(titles, words.T("all bouts: {.what}", "what", u.title))
			case view(v) == ofQuiz:
				titles = append(titles, words.T("quiz: {.what}", "what", u.title))
			default:
				titles = append(titles, u.title)
			}
		}
		a.Title = strings.Join(titles, " | ")
		a.Run = func() {
			if u := k.in[t.view]; u != nil {
				u.run()
			}
		}
		out = append(out, a)
	}
	return out
}

// keys lists them.
func (t *Task) keys() []keyed {
	every := func(id, title string, repeats bool, run func(), chords ...string) keyed {
		return keyed{id: id, chords: chords, repeats: repeats, all: &use{title, run}}
	}
	each := func(chord string, bout, all, quiz *use) keyed {
		return keyed{id: "key." + strings.ToLower(chord), chords: []string{chord}, in: [views]*use{bout, all, quiz}}
	}
	b, a, q := t.bout, t.all, t.quiz
	is := func(title string, run func()) *use { return &use{title, run} }
	out := []keyed{
		every("up", words.T("row before"), true, func() { t.shelf().advance(-1) }, "Up"),
		every("down", words.T("next row"), true, func() { t.shelf().advance(1) }, "Down"),
		every("pageup", words.T("a page up"), true, func() { t.shelf().advance(-8) }, "Prior"),
		every("pagedown", words.T("a page down"), true, func() { t.shelf().advance(8) }, "Next"),
		every("enter", words.T("go to the moment and play it again and again"), false, func() { t.shelf().enter() }, "Return", "KP_Enter"),
		every("back", words.T("a step back, or let the film run on"), false, t.escape, "Escape"),
		every("mark", words.T("make the moment shown an example"), false, t.here, "Q"),
		every("all", words.T("search all bouts, or back"), false, func() { t.show(ofAll) }, "M"),
		every("quiz", words.T("quizzes and answers, or back"), false, func() { t.show(ofQuiz) }, "G"),

		each("A", is(words.T("what is asked"), b.chooseAsk), is(words.T("by what is asked"), a.chooseAsk), is(words.T("take answers from files"), q.answerFiles)),
		each("B", is(words.T("the moment begins here"), b.beginHere), nil, is(words.T("the next group"), q.nextGroup)),
		each("C", is(words.T("what was called on the day"), b.chooseCalled), is(words.T("by code"), a.chooseCode), is(words.T("take an answer code"), q.answerCode)),
		each("D", is(words.T("list by what is asked"), b.nextAsk), is(words.T("by difficulty"), a.nextDifficulty), nil),
		each("E", is(words.T("the moment ends here"), b.endHere), is(words.T("by edition of the rules"), a.nextEdition), nil),
		each("H", is(words.T("handle with care, or not"), b.toggleSensitive), is(words.T("with the sensitive ones, or without"), a.toggleSensitive), nil),
		each("I", is(words.T("impact"), b.nextImpact), is(words.T("where verdict and call differ"), a.toggleDiffering), nil),
		each("J", is(words.T("next point: begin, signal, end"), b.nextPoint), nil, nil),
		each("K", is(words.T("write where one looks from"), b.writeAngle), is(words.T("examples, penalties or all"), a.nextKind), nil),
		each("N", nil, is(words.T("take in bouts of a folder"), a.addFolder), is(words.T("make a new quiz"), q.askMake)),
		each("O", is(words.T("a second opinion, blind"), b.askBlind), is(words.T("order of the results"), a.nextSort), is(words.T("open another quiz"), q.choose)),
		each("P", is(words.T("play up to the signal, as a group sees it"), b.playToSignal), nil, nil),
		each("R", is(words.T("list by verdict"), b.nextState), is(words.T("those that need another look"), a.toggleOutdated), is(words.T("what the report shows"), q.nextPage)),
		each("S", is(words.T("the call is first told here, or by nobody"), b.signalHere), nil, is(words.T("save the report"), q.askSave)),
		each("T", is(words.T("write the question"), b.writeAsked), nil, is(words.T("type in a person's answers"), q.askTyped)),
		each("U", is(words.T("judged by the rules of this bout"), b.judgedNow), is(words.T("look at all bouts again"), a.update), nil),
		each("V", is(words.T("verdicts accepted"), b.chooseVerdicts), is(words.T("by verdict"), a.nextVerdict), nil),
		each("W", is(words.T("write the reasoning"), b.writeWords), is(words.T("words to search for"), a.writeWords), nil),
		each("X", is(words.T("compare the opinions"), b.compare), is(words.T("clear the search"), a.clear), nil),
		each("Y", is(words.T("order of the list"), b.nextSort), nil, nil),
		{id: "delete", chords: []string{"Delete", "BackSpace"}, in: [views]*use{is(words.T("delete the example"), b.remove), nil, is(words.T("take a person's answers out"), q.removeSheet)}},
	}
	for n, key := range []string{"0", "1", "2", "3", "4", "5"} {
		title := words.T("difficulty {.n}", "n", n)
		if n == 0 {
			title = words.T("difficulty not said")
		}
		out = append(out, each(key, is(title, func() { b.setDifficulty(n) }), nil, nil))
	}
	return out
}
