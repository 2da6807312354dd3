package quiz

import (
	"bytes"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"whistlecut/timeline"
)

func plan() Plan {
	return Plan{
		ID: "0123456789ab", Title: "May", Seed: 7, Made: time.Date(2026, 5, 1, 20, 0, 0, 0, time.UTC), Edition: "2025", Languages: []string{"en", "es"},
		Items: []Item{{
			Number: 1, Bout: "/a/b.bout", Example: "x", Ask: timeline.AskPenalty, Footage: "f", Shown: timeline.TimeRange{Start: 1, End: 9},
			Verdicts: []timeline.Answer{{Choice: timeline.ChoiceYes, Code: "B", Section: "4.1.1"}, {Choice: timeline.ChoiceWarning}},
			Codes:    []timeline.PenaltyCode{{Letter: "B", Name: "back block", Section: "4.1.1"}}, Difficulty: 3, Impact: timeline.ImpactSome,
			Edition: "2025", Words: "she <left> & came", Called: timeline.Answer{Choice: timeline.ChoiceNo}, Source: "May, P1 J2",
		}},
	}
}

func TestPlanRoundTrip(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plan.json")
	if err := plan().WriteFile(path); err != nil {
		t.Fatal(err)
	}
	got, err := ReadPlanFile(path)
	if err != nil || !reflect.DeepEqual(got, plan()) {
		t.Errorf("got %+v, %v", got, err)
	}
	if x, ok := got.Item(1); !ok || !x.Accepts(timeline.Answer{Choice: timeline.ChoiceWarning}) || x.Accepts(timeline.Answer{Choice: timeline.ChoiceYes, Code: "X"}) {
		t.Errorf("item %+v", x)
	}
	if _, ok := got.Item(2); ok {
		t.Error("there is a question 2")
	}
}

func TestPlanCheck(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Plan)
		want   string
	}{
		"name":      {func(p *Plan) { p.ID = "quiz 1" }, "id"},
		"languages": {func(p *Plan) { p.Languages = nil }, "languages"},
		"empty":     {func(p *Plan) { p.Items = nil }, "no question"},
		"number":    {func(p *Plan) { p.Items[0].Number = 2 }, "items[0]: number"},
		"bout":      {func(p *Plan) { p.Items[0].Bout = "" }, "bout"},
		"example":   {func(p *Plan) { p.Items[0].Example = "" }, "example"},
		"question":  {func(p *Plan) { p.Items[0].Ask = "who" }, "ask"},
		"film":      {func(p *Plan) { p.Items[0].Shown.End = 1 }, "shown"},
		"verdict":   {func(p *Plan) { p.Items[0].Verdicts = nil }, "verdicts"},
		"choice":    {func(p *Plan) { p.Items[0].Verdicts[0].Choice = "maybe" }, "verdicts[0]"},
	} {
		p := plan()
		c.change(&p)
		if err := p.Check(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzReadPlan(f *testing.F) {
	var b bytes.Buffer
	if err := plan().Write(&b); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte(`{"id":"0123456789ab"}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ReadPlan(bytes.NewReader(data))
		if err == nil && p.Check() != nil {
			t.Error("a plan that is wrong was read")
		}
	})
}
