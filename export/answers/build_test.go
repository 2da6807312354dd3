package answers

import (
	"strings"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
)

const quizName = "0a1b2c3d4e5f"

// formOf is a small form that asks one question of a penalty and two others.
func formOf(language string) Form {
	return Form{
		Quiz: quizName, Title: "Tuesday <b>night</b> & \"quotes\" שלום 🛼", Language: language, Edition: "2025",
		Questions: []Question{
			{
				Number: 1, Ask: timeline.AskPenalty, Text: "Penalty or no penalty?",
				Choices: []Choice{{timeline.ChoiceYes, "penalty"}, {timeline.ChoiceNo, "no penalty"}, {timeline.ChoiceWarning, "warning"}},
				Codes:   []timeline.PenaltyCode{{Letter: "B", Name: "back block"}, {Letter: "X", Name: "cut"}, {Letter: "C", Name: "illegal contact"}},
			},
			{Number: 2, Ask: timeline.AskPass, Text: "=Was the pass earned?", Choices: []Choice{{timeline.ChoiceYes, "earned"}, {timeline.ChoiceNo, "not earned"}}},
			{Number: 4, Ask: timeline.AskPack, Text: "Is there a pack?", Choices: []Choice{{timeline.ChoiceYes, "pack"}, {timeline.ChoiceNo, "no pack"}}},
		},
	}
}

// drawSheet makes any sheet that may be handed in.
func drawSheet(t *rapid.T) Sheet {
	text := func(label string, least int) string {
		s := plain(rapid.StringN(least, 50, 200).Draw(t, label))
		if r := []rune(s); len(r) > longestName {
			s = plain(string(r[:longestName]))
		}
		return s
	}
	s := Sheet{Quiz: rapid.StringMatching(`[0-9a-f]{12}`).Draw(t, "quiz"), Given: map[int]timeline.Answer{}}
	if s.Person = text("person", 0); s.Person == "" {
		s.Person = "Ann"
	}
	s.Group = GroupOf(rapid.OneOf(rapid.SampledFrom([]string{"", Before, After}), rapid.Custom(func(*rapid.T) string { return text("group", 0) })).Draw(t, "group"))
	if rapid.Bool().Draw(t, "timed") {
		s.Made = epoch.Add(time.Duration(rapid.IntRange(1, 1<<32-1).Draw(t, "made")) * time.Second)
	}
	for range rapid.IntRange(0, 30).Draw(t, "answers") {
		n := rapid.IntRange(1, 60).Draw(t, "number")
		a := timeline.Answer{Choice: rapid.SampledFrom(choices[1:]).Draw(t, "choice")}
		if a.Choice != timeline.ChoiceNo {
			a.Code = rapid.OneOf(rapid.Just(""), rapid.StringMatching(`[A-Z]`), rapid.StringMatching(`[A-Z0-9]{2,8}`)).Draw(t, "code")
		}
		s.Given[n] = a
	}
	return s
}

// hostile are names people may give themselves.
var hostile = []string{
	"Ann", "O'Neil \"the <script>\"", "=SUM(A1)", "שלום", "مرحبا 12", "🛼👩‍👩‍👧 Ñandú", "a,b;c\td", "WCA1-0000", "'; DROP TABLE", strings.Repeat("W", longestName), "yes", "null", "\\u0000", "é" /* decomposed */, "-",
}
