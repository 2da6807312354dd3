package timeline

import (
	"fmt"
	"slices"
	"strings"
)

// Question is what an example asks the officials who look at it.
type Question string

// What can be asked of a moment.
const (
	AskPenalty Question = "penalty"     // was it a penalty, and which
	AskPass    Question = "earned pass" // was the pass earned
	AskLead    Question = "lead"        // was the jammer lead
	AskPack    Question = "pack"        // was there a pack
	AskWarning Question = "warning"     // should there have been a warning
)

// Questions lists what can be asked, in the order a menu shows it.
func Questions() []Question { return []Question{AskPenalty, AskPass, AskLead, AskPack, AskWarning} }

// Choice is one of the answers a question allows. Yes with a code names the
// penalty; a warning is also an answer to whether something was a penalty.
type Choice string

// The answers. The zero value is no answer.
const (
	NoChoice      Choice = ""
	ChoiceYes     Choice = "yes"
	ChoiceNo      Choice = "no"
	ChoiceWarning Choice = "warning" // to AskPenalty only
)

// Choices lists the answers a question allows.
func (q Question) Choices() []Choice {
	if q == AskPenalty {
		return []Choice{ChoiceYes, ChoiceNo, ChoiceWarning}
	}
	return []Choice{ChoiceYes, ChoiceNo}
}

// Answer is a verdict, a call of the day or one person's answer.
type Answer struct {
	Choice Choice `json:"choice"`
	// Code is the penalty's letter in the example's edition, with ChoiceYes to
	// AskPenalty; "" accepts or leaves open any code.
	Code string `json:"code,omitempty"`
	// Section of the rules the answer rests on ("4.1.1").
	Section string `json:"section,omitempty"`
}

// IsZero reports whether nothing was answered.
func (a Answer) IsZero() bool { return a == Answer{} }

// Accepts reports whether an answer given is right by this verdict: the same
// choice and, where the verdict names a code, the same code. Sections are not
// compared, since people cite them at different depths.
func (a Answer) Accepts(given Answer) bool {
	return a.Choice == given.Choice && (a.Code == "" || a.Code == given.Code)
}

// Impact says whether what happened had an effect on play, which decides whether
// most illegal contact is penalised (Rules 4.1, impact on relative position or
// on the ability to play).
type Impact string

// The zero value is not said.
const (
	ImpactUnknown Impact = ""
	ImpactSome    Impact = "impact"
	ImpactNone    Impact = "no impact"
)

// Example is the payload of an example: a moment that officials learn from. The
// tag's Place is on film, where the moment begins; side, skater and jam are the
// tag's own and are never shown in a quiz.
//
// Verdicts are training opinions. They correct no official.
type Example struct {
	Ask Question `json:"ask"`
	// Asked is the question in the trainer's own words; empty is the usual one.
	Asked Words `json:"asked,omitempty"`
	// End of the moment, on the same film; the zero Place is the beginning again.
	End Place `json:"end,omitzero"`
	// Signal is when anything first tells the call on the same film: an official's
	// arm, voice or whistle, or the skater leaving. A quiz cuts before it. The zero
	// Place: nobody signalled.
	Signal Place `json:"signal,omitzero"`
	// Called is what was called on the day.
	Called Answer `json:"called,omitzero"`
	// Verdicts are the answers the trainer accepts, the preferred one first; none
	// means that she has not decided.
	Verdicts   []Answer `json:"verdicts,omitempty"`
	Impact     Impact   `json:"impact,omitempty"`
	Difficulty int      `json:"difficulty,omitempty"` // 1 easy to 5 hard, 0 not said
	Angle      string   `json:"angle,omitempty"`      // where one looks from: "inside, turn 2"
	Words      string   `json:"words,omitempty"`      // the trainer's reasoning, for the solution
	// Sensitive examples (injury, minors, ejections) are drawn for no quiz unless asked for.
	Sensitive bool `json:"sensitive,omitempty"`
	// Edition is the rule set the verdicts were given by.
	Edition string `json:"edition"`
	// Source is the tag the example was made of, for example a penalty.
	Source ID `json:"source,omitempty"`
	// By is who marked it.
	By string `json:"by,omitempty"`
}

// Accepts reports whether one of the verdicts accepts an answer.
func (e Example) Accepts(given Answer) bool {
	return slices.ContainsFunc(e.Verdicts, func(v Answer) bool { return v.Accepts(given) })
}

// Opinion is another trainer's verdict on an example, given without seeing the
// first one. It is a record of its own, so that trainers can work apart and merge.
type Opinion struct {
	ID      ID     `json:"id"`
	Example ID     `json:"example"` // the example's tag
	By      string `json:"by"`
	Answer  Answer `json:"answer"`
	Words   string `json:"words,omitempty"`
	Edition string `json:"edition,omitempty"`
}

// HardestExample is the highest difficulty.
const HardestExample = 5

// Bounds of examples: they only keep out what cannot be meant.
const (
	mostVerdicts   = 20
	longestSection = 40
)

func (c *checker) example(t Tag) {
	e := t.Example
	oneOf(c, "example.ask", e.Ask, Questions()...)
	if t.Place.Footage == "" {
		c.fail("place", "an example is on film; want footage and film time")
	}
	c.words("example.asked", e.Asked)
	for _, p := range []struct {
		path string
		at   Place
	}{{"example.end", e.End}, {"example.signal", e.Signal}} {
		c.place(p.path, p.at)
		if !p.at.IsZero() && p.at.Footage != t.Place.Footage {
			c.fail(p.path, "it is on another film than the place")
		}
	}
	c.after("example.end", t.Place, e.End)
	c.after("example.signal", t.Place, e.Signal)
	if !e.Called.IsZero() {
		c.answer("example.called", e.Ask, e.Called)
	}
	if len(e.Verdicts) > mostVerdicts {
		c.fail("example.verdicts", "%d answers are accepted, at most %d are kept", len(e.Verdicts), mostVerdicts)
	}
	for i, v := range e.Verdicts {
		c.answer(fmt.Sprintf("example.verdicts[%d]", i), e.Ask, v)
	}
	oneOf(c, "example.impact", e.Impact, ImpactUnknown, ImpactSome, ImpactNone)
	c.whole("example.difficulty", e.Difficulty, 0, HardestExample)
	c.text("example.angle", e.Angle, longestLabel)
	c.text("example.words", e.Words, longestNote)
	c.text("example.edition", e.Edition, longestID)
	if strings.TrimSpace(e.Edition) == "" {
		c.fail("example.edition", "it is missing; say which edition of the rules the example is judged by")
	}
	c.id("example.source", e.Source, false)
	c.text("example.by", e.By, longestID)
}

func (c *checker) answer(path string, ask Question, a Answer) {
	oneOf(c, path+".choice", a.Choice, ask.Choices()...)
	c.text(path+".code", a.Code, longestCode)
	if a.Code != "" && (ask != AskPenalty || a.Choice == ChoiceNo) {
		c.fail(path+".code", "code %s goes with a penalty or a warning for it only", a.Code)
	}
	c.text(path+".section", a.Section, longestSection)
}

// CheckOpinion checks an opinion that comes from outside. The error is a
// *FieldError.
func CheckOpinion(o Opinion) error {
	c := &checker{}
	c.id("id", o.ID, true)
	c.id("example", o.Example, true)
	c.text("by", o.By, longestID)
	oneOf(c, "answer.choice", o.Answer.Choice, ChoiceYes, ChoiceNo, ChoiceWarning)
	c.text("answer.code", o.Answer.Code, longestCode)
	c.text("answer.section", o.Answer.Section, longestSection)
	c.text("words", o.Words, longestNote)
	c.text("edition", o.Edition, longestID)
	return c.err
}
