package quiz

import (
	"strings"

	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Asking is what a question asks in a language, in the trainer's words where she
// wrote any. It never depends on the verdict.
func Asking(ask timeline.Question, asked timeline.Words, language string) string {
	if t := strings.TrimSpace(asked.In(language)); t != "" {
		return t
	}
	return words.In(language, questions[ask])
}

// questions are the usual words of what is asked.
var questions = map[timeline.Question]string{
	timeline.AskPenalty: "Penalty or no penalty?",
	timeline.AskPass:    "Was the pass earned?",
	timeline.AskLead:    "Is the jammer lead?",
	timeline.AskPack:    "Is there a pack?",
	timeline.AskWarning: "Warning or no warning?",
}

// Heading numbers a question in a language, as "Question 3".
func Heading(number int, language string) string {
	return words.In(language, "Question {.n}", "n", number)
}

// AnswerText is an answer to a question in words of a language, with the rule it
// rests on: "penalty B, back block (4.1.1)". codes are those of the edition.
func AnswerText(ask timeline.Question, a timeline.Answer, codes []timeline.PenaltyCode, language string) string {
	text := words.In(language, choiceNames[ask][a.Choice])
	if a.Choice == timeline.NoChoice {
		text = words.In(language, "no answer")
	}
	section := a.Section
	if a.Code != "" {
		name := a.Code
		for _, c := range codes {
			if c.Letter == a.Code {
				name += ", " + words.In(language, c.Name)
				if section == "" {
					section = c.Section
				}
			}
		}
		text += " " + name
	}
	if section != "" {
		text += " (" + section + ")"
	}
	return text
}

// choiceNames are what the choices mean to each question.
var choiceNames = map[timeline.Question]map[timeline.Choice]string{
	timeline.AskPenalty: {timeline.ChoiceYes: "penalty", timeline.ChoiceNo: "no penalty", timeline.ChoiceWarning: "warning"},
	timeline.AskPass:    {timeline.ChoiceYes: "earned", timeline.ChoiceNo: "not earned"},
	timeline.AskLead:    {timeline.ChoiceYes: "lead", timeline.ChoiceNo: "not lead"},
	timeline.AskPack:    {timeline.ChoiceYes: "pack", timeline.ChoiceNo: "no pack"},
	timeline.AskWarning: {timeline.ChoiceYes: "warning", timeline.ChoiceNo: "no warning"},
}
