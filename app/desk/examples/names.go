package examples

import (
	"strconv"
	"strings"

	"whistlecut/app"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	gather "whistlecut/app/examples"
	"whistlecut/app/quiz"
	"whistlecut/timeline"
)

// fair is the sentence that stands wherever examples are shown to others.
func fair() string {
	return words.T("Verdicts are training opinions; they correct no official. Show nobody who has not agreed to be shown, and judge moments, never people.")
}

// asking is what an example asks in the language spoken.
func asking(q timeline.Question, own timeline.Words) string { return quiz.Asking(q, own, words.Code()) }

// askName is the question in a word, for lists.
func askName(q timeline.Question) string {
	switch q {
	case timeline.AskPenalty:
		return words.T("penalty")
	case timeline.AskPass:
		return words.T("earned pass")
	case timeline.AskLead:
		return words.T("lead")
	case timeline.AskPack:
		return words.T("pack")
	case timeline.AskWarning:
		return words.T("warning")
	}
	return string(q)
}

// choiceText is an answer without its code.
func choiceText(q timeline.Question, c timeline.Choice) string {
	yes := c == timeline.ChoiceYes
	switch {
	case c == timeline.ChoiceWarning:
		return words.T("warning")
	case c == timeline.NoChoice:
		return words.T("not known")
	case q == timeline.AskPenalty && yes:
		return words.T("penalty")
	case q == timeline.AskPenalty:
		return words.T("no penalty")
	case q == timeline.AskPass && yes:
		return words.T("earned")
	case q == timeline.AskPass:
		return words.T("not earned")
	case q == timeline.AskLead && yes:
		return words.T("lead")
	case q == timeline.AskLead:
		return words.T("not lead")
	case q == timeline.AskPack && yes:
		return words.T("pack")
	case q == timeline.AskPack:
		return words.T("no pack")
	case q == timeline.AskWarning && yes:
		return words.T("warning")
	case q == timeline.AskWarning:
		return words.T("no warning")
	}
	return string(c)
}

// codeText is a letter with its penalty's name, where the rules know it.
func codeText(r timeline.RuleSet, code string) string {
	if c, ok := r.Code(code); ok {
		return code + " " + terms.Penalty(c.Name)
	}
	return code
}

// answerText is an answer in a few words, as "B back block" or "no penalty".
func answerText(r timeline.RuleSet, q timeline.Question, a timeline.Answer) string {
	text := choiceText(q, a.Choice)
	switch {
	case a.Code == "":
	case a.Choice == timeline.ChoiceYes:
		text = codeText(r, a.Code)
	default:
		text = words.T("{.answer} for {.code}", "answer", text, "code", codeText(r, a.Code))
	}
	return text
}

// cited is an answer with the section of the rules it rests on.
func cited(r timeline.RuleSet, q timeline.Question, a timeline.Answer) string {
	text := answerText(r, q, a)
	if a.Section != "" {
		text += " (" + a.Section + ")"
	}
	return text
}

// answersText lists answers, the preferred one first.
func answersText(r timeline.RuleSet, q timeline.Question, list []timeline.Answer) string {
	var out []string
	for _, a := range list {
		out = append(out, answerText(r, q, a))
	}
	return strings.Join(out, " / ")
}

// rulesOf is the edition an example was judged by; the bout's own where it is
// none of those published.
func rulesOf(s *app.Session, edition string) timeline.RuleSet {
	if r, ok := s.Bout.Rules.In(edition); ok {
		return r
	}
	return s.Bout.Rules
}

func impactText(i timeline.Impact) string {
	switch i {
	case timeline.ImpactSome:
		return words.T("impact")
	case timeline.ImpactNone:
		return words.T("no impact")
	}
	return words.T("impact not said")
}

// placeText is "P2 J7", or the film time of what has no jam.
func placeText(m timeline.Moment) string {
	if m.Number > 0 {
		return words.T("P{.period} J{.jam}", "period", m.Period, "jam", m.Number)
	}
	return terms.Clock(m.Place.Film, 0)
}

// dots is a difficulty as so many filled dots of five.
func dots(n int) string {
	if n <= 0 {
		return ""
	}
	return strings.Repeat("●", min(n, hardest)) + strings.Repeat("○", max(hardest-n, 0))
}

// hardest is the highest difficulty.
const hardest = timeline.HardestExample

// ordinal is a place in an order of preference.
func ordinal(n int) string { return strconv.Itoa(n) + "." }

// changeText says what changed for an example between two editions.
func changeText(c gather.Change) string {
	name := func(s string) string { return terms.Penalty(s) }
	switch c.Kind {
	case gather.ChangeUnknown:
		return words.T("it was judged by the rules of {.then}, which are not known here", "then", c.Then)
	case gather.ChangeLetter:
		if c.Now == "" {
			return words.T("{.code} was {.then}; no penalty has that letter now", "code", c.Code, "then", name(c.Then))
		}
		return words.T("{.code} was {.then}; it is {.now} now", "code", c.Code, "then", name(c.Then), "now", name(c.Now))
	case gather.ChangeMoved:
		return words.T("{.then} was {.code}; it has the letter {.now} now", "code", c.Code, "then", name(c.Then), "now", c.Now)
	case gather.ChangeGone:
		return words.T("{.then} ({.code}) is no penalty of that name now", "code", c.Code, "then", name(c.Then))
	case gather.ChangeSection:
		return words.T("{.code} stood in section {.then}; it stands in {.now} now", "code", c.Code, "then", c.Then, "now", c.Now)
	case gather.ChangePoints:
		return words.T("a trip could score {.then} points; it can score {.now} now", "then", c.Then, "now", c.Now)
	case gather.ChangeLap:
		return words.T("whether passing the opposing jammer scores is ruled otherwise now")
	case gather.ChangeLead:
		return words.T("whether lead survives a cover that comes off in play is ruled otherwise now")
	case gather.ChangeStar:
		return words.T("when the star is passed is ruled otherwise now")
	}
	return words.T("it was judged by the rules of {.then}, not of {.now}", "then", c.Then, "now", c.Now)
}
