package log

import (
	"fmt"
	"strconv"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/logging"
	"whistlecut/timeline"
)

// rowKey is one key of a side's letter row.
type rowKey struct {
	id    string // after the side: "log.home.lead"
	cap   string // on the legend
	title string
	key   logging.Key
}

// rowKeys are the ten keys of a side, from the left. Points stand in the middle,
// where the strongest fingers are.
func rowKeys() []rowKey {
	k := []rowKey{
		{"lead", words.T("lead"), words.T("lead jammer"), logging.Key{Act: logging.Lead}},
		{"lost", words.T("lost"), words.T("lead lost"), logging.Key{Act: logging.Lost}},
		{"star", words.T("star"), words.T("star pass; again: not completed"), logging.Key{Act: logging.Star}},
	}
	for n := range 5 {
		k = append(k, rowKey{
			"trip" + strconv.Itoa(n), strconv.Itoa(n), words.N(n, "trip with {.n} point", "trip with {.n} points"),
			logging.Key{Act: logging.Trip, N: n},
		})
	}
	return append(
		k,
		rowKey{"box", words.T("box"), words.T("sits in the box; chosen or with her number again: stands, leaves"), logging.Key{Act: logging.Box}},
		rowKey{"penalty", words.T("pen"), words.T("penalty called; chosen: the act was here"), logging.Key{Act: logging.Penalty}},
	)
}

// actionOf is the ID of a side's action.
func actionOf(s timeline.Side, id string) string { return "log." + s.String() + "." + id }

// Actions are the keys of the task. The upper letter row is home and the lower
// one away, whatever is printed on them; middle letters go by name.
func (t *Task) Actions() []keys.Action {
	var out []keys.Action
	group := ""
	add := func(id, title string, k logging.Key, chords ...string) {
		a := keys.Action{ID: "log." + id, Scope: task.Log, Title: title, Group: group, Run: func() { t.press(k) }}
		a.Keys = keys.Chords(chords...)
		out = append(out, a)
	}
	for _, s := range timeline.Sides {
		group = words.T("Log: {.side}", "side", terms.Side(s))
		row, confirm, initial := keys.Upper, "G", "S"
		if s == timeline.Away {
			row, confirm, initial = keys.Lower, "H", "J"
		}
		for i, k := range rowKeys() {
			k.key.Side = s
			add(s.String()+"."+k.id, k.title, k.key, fmt.Sprintf("%s %d", row, i+1))
		}
		add(s.String()+".initial", words.T("initial trip completed; again: not completed (NI)"), logging.Key{Act: logging.Initial, Side: s}, initial)
		add(s.String()+".confirm", words.T("take what is offered"), logging.Key{Act: logging.Confirm, Side: s}, confirm)
	}
	group = words.T("Log: jam")
	add("edge", words.T("jam starts or ends here; closes a number"), logging.Key{Act: logging.JamEdge}, "Return", "KP_Enter")
	add("period", words.T("first jam of the next period, or overtime"), logging.Key{Act: logging.NextPeriod}, "Shift+Return")
	add("call", words.T("call-off; leaves what is open first"), logging.Key{Act: logging.Leave}, "Escape")
	add("injury", words.T("injury ends the jam"), logging.Key{Act: logging.Injury}, "K")
	add("ended", words.T("how the jam ended, one after the other"), logging.Key{Act: logging.HowEnded}, "Ctrl+K")
	add("timeout", words.T("timeout: whose; again: ends here"), logging.Key{Act: logging.Timeout}, "Ctrl+T")
	add("review", words.T("official review: whose; again: ends here; again: retained, or not"), logging.Key{Act: logging.Review}, "Ctrl+R")
	add("jammers", words.T("ask for the jammers' numbers"), logging.Key{Act: logging.Jammers}, "Ctrl+J")
	add("lineups", words.T("ask for both line-ups"), logging.Key{Act: logging.Lineups}, "Ctrl+L")
	group = words.T("Log: values")
	add("notseen", words.T("not seen: what is asked for, chosen, just logged, or next"), logging.Key{Act: logging.NotSeen}, "`", "D")
	add("unsure", words.T("unsure, or sure again"), logging.Key{Act: logging.Unsure}, "Shift+`", "Ctrl+D")
	for n := range 10 {
		add("digit"+strconv.Itoa(n), words.T("digit {.n} of a number", "n", n), logging.Key{Act: logging.Digit, N: n}, strconv.Itoa(n), "Shift+"+strconv.Itoa(n))
	}
	add("backspace", words.T("last digit back"), logging.Key{Act: logging.Backspace}, "BackSpace")
	for c := 'A'; c <= 'Z'; c++ {
		add("code."+string(c), words.T("penalty code {.letter}", "letter", string(c)), logging.Key{Act: logging.Code, Letter: string(c)}, "Shift+"+string(c))
	}
	group = words.T("Log: correct")
	own := func(id, title string, run func(), repeats bool, chord string) {
		out = append(out, keys.Action{ID: "log." + id, Scope: task.Log, Group: group, Title: title, Repeats: repeats, Keys: []keys.Chord{keys.MustParse(chord)}, Run: run})
	}
	own("up", words.T("choose the tag above"), func() { t.choose(-1) }, true, "Up")
	own("down", words.T("choose the tag below"), func() { t.choose(1) }, true, "Down")
	add("delete", words.T("remove the chosen tag"), logging.Key{Act: logging.Delete}, "Delete")
	add("here", words.T("move the chosen tag to this frame"), logging.Key{Act: logging.MoveHere}, "Insert")
	own("earlier", words.T("chosen tag one frame earlier"), func() { t.press(logging.Key{Act: logging.Nudge, By: -t.frame}) }, true, "Shift+Up")
	own("later", words.T("chosen tag one frame later"), func() { t.press(logging.Key{Act: logging.Nudge, By: t.frame}) }, true, "Shift+Down")
	own("show", words.T("show the chosen tag on film"), t.showChosen, false, "Prior")
	add("settle", words.T("next thing that is not settled"), logging.Key{Act: logging.Settle}, "Ctrl+Return")
	own("open", words.T("list what is not settled, or the last tags"), t.toggleOpen, false, "Ctrl+U")
	own("guided", words.T("blind or guided"), func() { t.setBlind(t.guided()) }, false, "Ctrl+G")
	for i := range out {
		if out[i].ID == "log.backspace" {
			out[i].Repeats = true
		}
	}
	return out
}

// keyName is how a person would name the key of an action: as it is bound now,
// with the letter that is printed on it.
func (t *Task) keyName(action string) string {
	chord := keys.Chord{}
	if b := t.desk.Book(); b != nil {
		if a := b.Action(action); a != nil && len(a.Keys) > 0 {
			chord = a.Keys[0]
		}
	}
	if chord.Key == "" {
		for _, a := range t.own() {
			if a.ID == action && len(a.Keys) > 0 {
				chord = a.Keys[0]
			}
		}
	}
	if chord.Key == "`" && t.otherLayout() {
		chord.Key = "D" // the backquote is a dead key there, or elsewhere
		if chord.Shift {
			chord.Ctrl, chord.Shift = true, false
		}
	}
	if chord.Key == "" {
		return ""
	}
	return form.KeyName(chord, t.desk.Legend())
}

// own are the task's actions as they are bound from the start.
func (t *Task) own() []keys.Action {
	if t.actions == nil {
		t.actions = t.Actions()
	}
	return t.actions
}

// deskKey is keyName of an action of the desk itself.
func (t *Task) deskKey(action, usual string) string {
	if k := t.keyName(action); k != "" {
		return k
	}
	return usual
}

// otherLayout reports whether the letters are known not to stand as on QWERTY.
func (t *Task) otherLayout() bool {
	l := t.desk.Legend()
	return l.Of(keys.MustParse("upper 1")) != "Q" || l.Of(keys.MustParse("upper 6")) != "Y"
}
