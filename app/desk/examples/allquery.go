package examples

import (
	"slices"

	"whistlecut/app/collection"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// chooseAsk narrows to one question, or to none.
func (a *allShelf) chooseAsk() {
	texts := []string{words.T("all questions")}
	at := 0
	for i, q := range timeline.Questions() {
		texts = append(texts, askName(q))
		if slices.Contains(a.query.Asks, q) {
			at = i + 1
		}
	}
	a.t.panel.asking = form.Choose(a.t.desk.Window(), words.T("By what is asked"), texts, at, func(i int) {
		a.ask(func(q *collection.Query) {
			q.Asks = nil
			if i > 0 {
				q.Asks = []timeline.Question{timeline.Questions()[i-1]}
			}
		})
	})
}

// chooseCode narrows to a letter of the bout's edition. Letters changed between
// editions, so the penalty's name goes with it as a word.
func (a *allShelf) chooseCode() {
	s := a.t.desk.Session()
	if s == nil {
		return
	}
	texts := []string{words.T("all codes")}
	at := 0
	codes := s.Bout.Rules.Codes
	for i, c := range codes {
		texts = append(texts, codeText(s.Bout.Rules, c.Letter))
		if slices.Contains(a.query.Codes, c.Letter) {
			at = i + 1
		}
	}
	a.t.panel.asking = form.Choose(a.t.desk.Window(), words.T("By code, of the rules of {.edition}", "edition", s.Bout.Rules.Edition), texts, at, func(i int) {
		a.ask(func(q *collection.Query) {
			q.Codes = nil
			if i > 0 {
				q.Codes = []string{codes[i-1].Letter}
			}
		})
	})
}

// next is the value after one in a list that goes round.
func next[T comparable](list []T, now T) T { return list[(slices.Index(list, now)+1)%len(list)] }

// anyChoice stands for no narrowing, beside the undecided ones (NoChoice).
const anyChoice timeline.Choice = "any"

func (a *allShelf) verdict() timeline.Choice {
	if len(a.query.Verdicts) == 0 {
		return anyChoice
	}
	return a.query.Verdicts[0]
}

func (a *allShelf) nextVerdict() {
	v := next([]timeline.Choice{anyChoice, timeline.ChoiceYes, timeline.ChoiceNo, timeline.ChoiceWarning, timeline.NoChoice}, a.verdict())
	a.ask(func(q *collection.Query) {
		q.Verdicts = nil
		if v != anyChoice {
			q.Verdicts = []timeline.Choice{v}
		}
	})
}

// verdictName names what the verdicts are narrowed to.
func (a *allShelf) verdictName() string {
	switch a.verdict() {
	case timeline.ChoiceYes:
		return words.T("yes")
	case timeline.ChoiceNo:
		return words.T("no")
	case timeline.ChoiceWarning:
		return words.T("warning")
	case timeline.NoChoice:
		return words.T("undecided")
	}
	return words.T("all verdicts")
}

func (a *allShelf) nextDifficulty() {
	a.ask(func(q *collection.Query) {
		q.Easiest = (q.Easiest + 1) % (hardest + 1)
		q.Hardest = q.Easiest
	})
}

func (a *allShelf) nextEdition() {
	list := []string{""}
	for _, r := range timeline.Editions() {
		list = append(list, r.Edition)
	}
	now := ""
	if len(a.query.Editions) > 0 {
		now = a.query.Editions[0]
	}
	e := next(list, now)
	a.ask(func(q *collection.Query) {
		q.Editions = nil
		if e != "" {
			q.Editions = []string{e}
		}
	})
}

func (a *allShelf) toggleSensitive() {
	a.ask(func(q *collection.Query) {
		q.Sensitive = next([]collection.Sensitive{collection.SensitiveOut, collection.SensitiveIn, collection.SensitiveOnly}, q.Sensitive)
	})
}

func (a *allShelf) toggleDiffering() {
	a.ask(func(q *collection.Query) { q.Differing = !q.Differing })
}

func (a *allShelf) toggleOutdated() {
	a.ask(func(q *collection.Query) { q.Outdated = !q.Outdated })
}

func (a *allShelf) nextKind() {
	a.kind = (a.kind + 1) % allKinds
	a.ask(func(*collection.Query) {})
}

func (a *allShelf) nextSort() {
	a.ask(func(q *collection.Query) { q.Sort = next(collection.Sorts(), q.Sort) })
}

// sortName names an order.
func sortName(s collection.Sort) string {
	switch s {
	case collection.OldestFirst:
		return words.T("oldest first")
	case collection.EasiestFirst:
		return words.T("easiest first")
	case collection.HardestFirst:
		return words.T("hardest first")
	case collection.ByCode:
		return words.T("by code")
	}
	return words.T("newest first")
}

func (a *allShelf) writeWords() {
	if a.view != nil && a.index != nil {
		a.view.entry.Write()
	}
}
