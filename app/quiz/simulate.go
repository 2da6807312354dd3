package quiz

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"whistlecut/export/answers"
	"whistlecut/timeline"
)

// SimulateGroup invents the answers of a group of people before and after a training,
// for demos and tests: people differ in skill, hard questions go wrong more often, a
// letter is mistaken for its neighbour on the list more often than for another one,
// some questions are skipped, and most people do better after. One in eight is missing
// after. Equal seeds give equal answers. The figures are invented and stand for no
// study.
func SimulateGroup(p Plan, people int, seed uint64) []answers.Sheet {
	r := rand.New(rand.NewPCG(seed, 0x73696d756c617465))
	skill := make([]float64, people)
	for i := range skill {
		skill[i] = 0.7 * r.NormFloat64()
	}
	strange := make([]float64, len(p.Items)) // what makes a question hard beyond what the trainer thinks
	for i := range strange {
		strange[i] = 0.8 * r.NormFloat64()
	}
	made := p.Made.UTC().Truncate(time.Second)
	var out []answers.Sheet
	for k, group := range []string{answers.Before, answers.After} {
		for i := range people {
			if group == answers.After && i%8 == 7 {
				continue
			}
			s := answers.Sheet{
				Quiz: p.ID, Person: fmt.Sprintf("Official %02d", i+1), Group: group, Given: map[int]timeline.Answer{},
				Made: made.Add(time.Duration(24*60*k+20+i) * time.Minute),
			}
			for n, x := range p.Items {
				if r.Float64() < 0.04 {
					continue
				}
				easy := 1 + skill[i] + strange[n] + 0.8*float64(k)
				if x.Difficulty > 0 {
					easy -= 0.6 * float64(x.Difficulty-3)
				}
				if r.Float64() < 1/(1+math.Exp(-easy)) {
					a := x.Verdicts[0]
					s.Given[x.Number] = timeline.Answer{Choice: a.Choice, Code: a.Code}
				} else {
					s.Given[x.Number] = mistake(x, r)
				}
			}
			out = append(out, s)
		}
	}
	return out
}

// mistake is an answer other than the preferred one.
func mistake(x Item, r *rand.Rand) timeline.Answer {
	v := x.Verdicts[0]
	if v.Code != "" && len(x.Codes) > 1 && r.Float64() < 0.4 {
		at := r.IntN(len(x.Codes))
		for i, c := range x.Codes {
			if c.Letter == v.Code && r.Float64() < 0.7 {
				at = (i + 1) % len(x.Codes)
			}
		}
		if c := x.Codes[at].Letter; c != v.Code {
			return timeline.Answer{Choice: v.Choice, Code: c}
		}
	}
	var others []timeline.Choice
	for _, c := range x.Ask.Choices() {
		if c != v.Choice {
			others = append(others, c)
		}
	}
	a := timeline.Answer{Choice: others[r.IntN(len(others))]}
	if x.Ask == timeline.AskPenalty && a.Choice == timeline.ChoiceYes && len(x.Codes) > 0 {
		a.Code = x.Codes[r.IntN(len(x.Codes))].Letter
	}
	return a
}
