package examples

import (
	"maps"
	"slices"
	"strings"
	"time"

	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	gather "whistlecut/app/examples"
	"whistlecut/timeline"
)

// change edits the chosen example as one action.
func (b *boutShelf) change(what string, edit func(*timeline.Tag, *timeline.Example)) {
	if x, ok := b.current(); ok {
		b.changeOf(x.tag.ID, what, edit)
	}
}

// changeOf edits an example by its ID: a text that was being written belongs to
// the one it was written for.
func (b *boutShelf) changeOf(id timeline.ID, what string, edit func(*timeline.Tag, *timeline.Example)) {
	tag, ok := b.t.facts().Tags[id]
	if !ok || tag.Example == nil {
		return
	}
	e := *tag.Example
	e.Verdicts = slices.Clone(e.Verdicts)
	e.Asked = maps.Clone(e.Asked)
	tag.Example = &e
	edit(&tag, &e)
	b.t.apply(words.T("{.what} of an example", "what", what), timeline.SetTag(tag))
}

// onFilm is where the film stands, when it is the example's; it says so when not.
func (b *boutShelf) onFilm() (item, timeline.Place, bool) {
	x, ok := b.current()
	n := b.t.desk.Now()
	switch {
	case !ok:
		return x, timeline.Place{}, false
	case n.Footage != x.tag.Place.Footage:
		b.t.desk.Say(words.T("Another film is shown than the example's: Enter goes to it."))
		return x, timeline.Place{}, false
	}
	return x, n.Place(), true
}

// beginHere begins the moment at the frame shown.
func (b *boutShelf) beginHere() {
	x, at, ok := b.onFilm()
	switch {
	case !ok:
	case at.Film >= endOf(x) || !x.e.Signal.IsZero() && at.Film >= x.e.Signal.Film:
		b.t.desk.Say(words.T("It would begin after its signal or end: move those first."))
	default:
		b.change(words.T("begin"), func(t *timeline.Tag, e *timeline.Example) {
			if e.End.IsZero() {
				e.End = timeline.OnFilm(at.Footage, endOf(x)) // it stays where it was
			}
			t.Place = at
		})
	}
}

// endHere ends it.
func (b *boutShelf) endHere() {
	x, at, ok := b.onFilm()
	switch {
	case !ok:
	case at.Film <= x.tag.Place.Film:
		b.t.desk.Say(words.T("It would end before it begins: B moves its begin."))
	default:
		b.change(words.T("end"), func(_ *timeline.Tag, e *timeline.Example) { e.End = at })
	}
}

// sameFrame is how near a signal is the one shown.
const sameFrame = 20 * time.Millisecond

// signalHere sets when anything first tells the call; where it is set already it
// is taken away: nobody signalled.
func (b *boutShelf) signalHere() {
	x, at, ok := b.onFilm()
	switch {
	case !ok:
	case !x.e.Signal.IsZero() && (at.Film-x.e.Signal.Film).Abs() < sameFrame:
		b.change(words.T("signal"), func(_ *timeline.Tag, e *timeline.Example) { e.Signal = timeline.Place{} })
		b.t.desk.Say(words.T("Nobody signals in this moment now."))
	case at.Film <= x.tag.Place.Film:
		b.t.desk.Say(words.T("The signal would come before the moment begins: B moves its begin."))
	default:
		b.change(words.T("signal"), func(_ *timeline.Tag, e *timeline.Example) { e.Signal = at })
		b.t.desk.Say(words.T("Whoever is asked sees the film up to here. P plays it so."))
	}
}

// nextPoint goes on to begin, signal, end, and to begin again.
func (b *boutShelf) nextPoint() {
	x, ok := b.current()
	if !ok {
		return
	}
	points := []time.Duration{x.tag.Place.Film}
	if !x.e.Signal.IsZero() {
		points = append(points, x.e.Signal.Film)
	}
	points = append(points, endOf(x))
	to := points[0]
	if n := b.t.desk.Now(); n.Footage == x.tag.Place.Footage {
		for _, p := range points {
			if p > n.Film+sameFrame {
				to = p
				break
			}
		}
	}
	b.t.desk.GoFilm(x.tag.Place.Footage, to)
	b.t.desk.Pause()
}

func (b *boutShelf) nextImpact() {
	x, _ := b.current()
	all := []timeline.Impact{timeline.ImpactUnknown, timeline.ImpactSome, timeline.ImpactNone}
	next := all[(slices.Index(all, x.e.Impact)+1)%len(all)]
	b.change(words.T("impact"), func(_ *timeline.Tag, e *timeline.Example) { e.Impact = next })
}

func (b *boutShelf) setDifficulty(n int) {
	if x, ok := b.current(); ok && x.e.Difficulty != n {
		b.change(words.T("difficulty"), func(_ *timeline.Tag, e *timeline.Example) { e.Difficulty = n })
	}
}

func (b *boutShelf) toggleSensitive() {
	b.change(words.T("sensitivity"), func(_ *timeline.Tag, e *timeline.Example) { e.Sensitive = !e.Sensitive })
}

// judgedNow says that the verdicts hold by the rules of this bout. Letters mean
// another penalty in another edition, so codes that it lacks are taken out.
func (b *boutShelf) judgedNow() {
	x, ok := b.current()
	s := b.t.desk.Session()
	if !ok || s == nil {
		return
	}
	if !x.outdated {
		b.t.desk.Say(words.T("It is judged by the rules of this bout already."))
		return
	}
	rules := s.Bout.Rules
	kept := func(a timeline.Answer) timeline.Answer { return carried(rulesOf(s, x.e.Edition), rules, a) }
	b.change(words.T("edition"), func(_ *timeline.Tag, e *timeline.Example) {
		e.Edition = rules.Edition
		e.Called = kept(e.Called)
		for i, v := range e.Verdicts {
			e.Verdicts[i] = kept(v)
		}
	})
	b.t.desk.Say(words.T("Judged by the rules of {.edition} now: look whether codes and sections still hold.", "edition", rules.Edition))
}

// carried is an answer in another edition: the letter of the same penalty there,
// or none where that edition has no such penalty. Sections count anew.
func carried(from, to timeline.RuleSet, a timeline.Answer) timeline.Answer {
	if a.Code == "" {
		return a
	}
	name := a.Code
	if c, ok := from.Code(a.Code); ok {
		name = c.Name
	}
	a.Code, a.Section = "", ""
	for _, c := range to.Codes {
		if c.Name == name {
			a.Code, a.Section = c.Letter, c.Section
		}
	}
	return a
}

// remove deletes the example; undo brings it back with its opinions.
func (b *boutShelf) remove() {
	x, ok := b.current()
	if !ok {
		return
	}
	changes := gather.Delete(b.t.facts(), x.tag.ID)
	if b.t.apply(words.T("example at {.time} deleted", "time", clock(x.tag.Place.Film)), changes...) {
		b.t.desk.Say(words.T("The example is deleted. Ctrl+Z brings it back."))
	}
}

// setAsk changes what is asked; answers that do not fit it any more go.
func (b *boutShelf) setAsk(q timeline.Question) {
	b.change(words.T("question"), func(_ *timeline.Tag, e *timeline.Example) {
		if e.Ask == q {
			return
		}
		e.Ask = q
		e.Called = fitting(q, e.Called)
		var kept []timeline.Answer
		for _, v := range e.Verdicts {
			if v = fitting(q, v); !v.IsZero() && !slices.Contains(kept, v) {
				kept = append(kept, v)
			}
		}
		e.Verdicts = kept
	})
}

// fitting is an answer as far as it answers a question.
func fitting(q timeline.Question, a timeline.Answer) timeline.Answer {
	if !slices.Contains(q.Choices(), a.Choice) {
		return timeline.Answer{}
	}
	if q != timeline.AskPenalty {
		a.Code = ""
	}
	return a
}

// clock is a film time to tenths of a second.
func clock(d time.Duration) string { return terms.Clock(d, 1) }

// keepText stores one of an example's texts.
func (b *boutShelf) keepText(of, what, text string, set func(*timeline.Example, string)) {
	b.changeOf(timeline.ID(of), what, func(_ *timeline.Tag, e *timeline.Example) { set(e, strings.TrimSpace(text)) })
}
