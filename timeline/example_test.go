package timeline

import (
	"strings"
	"testing"
	"time"
)

func TestAnExampleIsCheckedAgainstItsQuestion(t *testing.T) {
	good := func() Tag {
		return Tag{ID: "e", Kind: KindExample, Place: OnFilm("f", 10*time.Second), Example: &Example{
			Ask: AskPenalty, Edition: "2025", End: OnFilm("f", 12*time.Second), Signal: OnFilm("f", 11*time.Second),
			Verdicts: []Answer{{Choice: ChoiceYes, Code: "B"}, {Choice: ChoiceNo}},
		}}
	}
	for name, c := range map[string]struct {
		spoil func(*Tag)
		want  string // path of the field that is refused, "" for none
	}{
		"good":                     {func(*Tag) {}, ""},
		"nothing decided":          {func(t *Tag) { t.Example.Verdicts = nil }, ""},
		"warning for a penalty":    {func(t *Tag) { t.Example.Called = Answer{Choice: ChoiceWarning, Code: "I"} }, ""},
		"unknown question":         {func(t *Tag) { t.Example.Ask = "offside" }, "example.ask"},
		"not on film":              {func(t *Tag) { t.Place = JamAlone("j") }, "place"},
		"end on another film":      {func(t *Tag) { t.Example.End.Footage = "g" }, "example.end"},
		"end before the beginning": {func(t *Tag) { t.Example.End.Film = time.Second }, "example.end"},
		"signal before beginning":  {func(t *Tag) { t.Example.Signal.Film = time.Second }, "example.signal"},
		"code of no penalty":       {func(t *Tag) { t.Example.Verdicts[1].Code = "B" }, "example.verdicts[1].code"},
		"code of a lead question":  {func(t *Tag) { t.Example.Ask = AskLead }, "example.verdicts[0].code"},
		"warning for a pass": {func(t *Tag) {
			t.Example.Ask, t.Example.Verdicts = AskPass, []Answer{{Choice: ChoiceWarning}}
		}, "example.verdicts[0].choice"},
		"no edition":      {func(t *Tag) { t.Example.Edition = " " }, "example.edition"},
		"too hard":        {func(t *Tag) { t.Example.Difficulty = 6 }, "example.difficulty"},
		"payload missing": {func(t *Tag) { t.Example = nil }, "example"},
	} {
		t.Run(name, func(t *testing.T) {
			tag := good()
			c.spoil(&tag)
			err := CheckTag(tag)
			switch {
			case c.want == "" && err != nil:
				t.Error(err)
			case c.want != "" && (err == nil || !strings.HasPrefix(err.Error(), c.want+":")):
				t.Errorf("error %v, want one about %s", err, c.want)
			}
		})
	}
}

func TestWhatAVerdictAccepts(t *testing.T) {
	e := Example{Verdicts: []Answer{{ChoiceYes, "B", "4.1.1"}, {ChoiceNo, "", ""}}}
	for _, c := range []struct {
		given Answer
		want  bool
	}{
		{Answer{ChoiceYes, "B", ""}, true},
		{Answer{ChoiceYes, "B", "4.1"}, true},
		{Answer{ChoiceYes, "C", "4.1.1"}, false},
		{Answer{ChoiceYes, "", ""}, false},
		{Answer{ChoiceNo, "", ""}, true},
		{Answer{ChoiceWarning, "", ""}, false},
		{Answer{}, false},
	} {
		if got := e.Accepts(c.given); got != c.want {
			t.Errorf("%v accepted: %v, want %v", c.given, got, c.want)
		}
	}
	if !(Answer{Choice: ChoiceYes}).Accepts(Answer{ChoiceYes, "B", ""}) {
		t.Error("a verdict without a code refuses one with it")
	}
}

func TestOpinionsAreRecordsOfTheirOwn(t *testing.T) {
	log := NewLog("me", NewSession())
	o := Opinion{ID: "o", Example: "e", By: "Second", Answer: Answer{ChoiceNo, "", ""}}
	if err := CheckOpinion(o); err != nil {
		t.Fatal(err)
	}
	if _, _, err := log.Apply("", SetOpinion(o)); err != nil {
		t.Fatal(err)
	}
	if got := log.Facts().Opinions["o"]; got != o {
		t.Errorf("kept %v, want %v", got, o)
	}
	if _, _, err := log.Apply("", DeleteOpinion("o")); err != nil {
		t.Fatal(err)
	}
	if n := len(log.Facts().Opinions); n != 0 {
		t.Errorf("%d opinions left after deleting", n)
	}
	o.Answer.Choice = "perhaps"
	if err := CheckOpinion(o); err == nil || !strings.HasPrefix(err.Error(), "answer.choice") {
		t.Errorf("error %v, want one about answer.choice", err)
	}
}
