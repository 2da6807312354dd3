package quiz

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"whistlecut/export/answers"
	"whistlecut/timeline"
)

// TestKept: answers are kept beside the plan, the newest of a person and group
// count, and a person's can be taken out.
func TestKept(t *testing.T) {
	dir := t.TempDir()
	p := Plan{ID: NewID(), Languages: []string{"en"}, Edition: "2025"}
	for n := 1; n <= 3; n++ {
		p.Items = append(p.Items, Item{
			Number: n, Bout: "x.bout", Example: "e", Ask: timeline.AskPenalty, Verdicts: []timeline.Answer{{Choice: timeline.ChoiceNo}}, Edition: "2025",
			Footage: "f", Shown: timeline.TimeRange{End: time.Second},
		})
	}
	if err := os.MkdirAll(filepath.Join(dir, TrainerDir), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := p.WriteFile(PlanPath(dir)); err != nil {
		t.Fatal(err)
	}
	if got, c, err := Kept(dir); err != nil || got.ID != p.ID || len(c.Sheets) != 0 {
		t.Fatalf("a quiz without answers: %v, %+v, %v", got.ID, c, err)
	}
	at := time.Date(2026, 5, 1, 20, 0, 0, 0, time.UTC)
	sheet := func(person, group string, after time.Duration, c timeline.Choice) answers.Sheet {
		return answers.Sheet{Quiz: p.ID, Person: person, Group: group, Made: at.Add(after), Given: map[int]timeline.Answer{1: {Choice: c}}}
	}
	if err := Keep(dir, sheet("Ana", "before", 0, timeline.ChoiceYes), sheet("Kim", "before", 0, timeline.ChoiceNo)); err != nil {
		t.Fatal(err)
	}
	if err := Keep(dir, sheet("ana", "before", time.Hour, timeline.ChoiceNo), sheet("Ana", "after", 2*time.Hour, timeline.ChoiceNo)); err != nil {
		t.Fatal(err)
	}
	_, c, err := Kept(dir)
	if err != nil || len(c.Sheets) != 3 {
		t.Fatalf("%d sheets, %v, notes %v", len(c.Sheets), err, c.Notes)
	}
	if s := c.Sheets[0]; s.Group != "before" || s.Given[1].Choice != timeline.ChoiceNo {
		t.Errorf("the older answers counted: %+v", s)
	}
	if n, err := Drop(dir, "ANA", "before"); err != nil || n != 2 {
		t.Errorf("%d files, %v", n, err)
	}
	if _, c, err = Kept(dir); err != nil || len(c.Sheets) != 2 {
		t.Errorf("%d sheets are left, %v", len(c.Sheets), err)
	}
	bad := sheet("", "", 0, timeline.ChoiceNo)
	if err := Keep(dir, sheet("Ida", "", 0, timeline.ChoiceNo), bad); err == nil {
		t.Error("nobody's answers were kept")
	}
	if _, c, _ = Kept(dir); len(c.Sheets) != 2 {
		t.Error("of sheets that cannot all be kept one was")
	}
}
