package quiz

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/export/answers"
	"whistlecut/timeline"
	"whistlecut/timeline/agreement"
)

var (
	yes     = timeline.Answer{Choice: timeline.ChoiceYes}
	no      = timeline.Answer{Choice: timeline.ChoiceNo}
	warning = timeline.Answer{Choice: timeline.ChoiceWarning}
)

func penalty(code string) timeline.Answer {
	return timeline.Answer{Choice: timeline.ChoiceYes, Code: code}
}

// testPlan is a quiz of that many questions: penalties of some letters, no penalties,
// passes, packs.
func testPlan(t testing.TB, n int) Plan {
	t.Helper()
	edition, ok := timeline.Edition("2025")
	if !ok {
		t.Fatal("the edition of 2025 is gone")
	}
	p := Plan{ID: "0a1b2c3d4e5f", Title: "Tuesday", Seed: 1, Made: time.Date(2026, 11, 27, 18, 0, 0, 0, time.UTC), Edition: "2025", Languages: []string{"en", "de"}}
	for i := range n {
		x := Item{Number: i + 1, Bout: "a.bout", Example: timeline.ID(fmt.Sprint("x", i)), Ask: timeline.AskPenalty, Edition: "2025", Difficulty: i%5 + 1, Codes: edition.Codes, Footage: "f", Shown: timeline.TimeRange{End: time.Second}}
		switch i % 5 {
		case 0:
			x.Verdicts = []timeline.Answer{penalty("B")}
		case 1:
			x.Verdicts = []timeline.Answer{penalty("X"), warning}
		case 2:
			x.Verdicts = []timeline.Answer{no}
		case 3:
			x.Ask, x.Verdicts = timeline.AskPass, []timeline.Answer{{Choice: timeline.ChoiceNo, Section: "3.1"}}
		case 4:
			x.Ask, x.Verdicts = timeline.AskWarning, []timeline.Answer{yes}
		}
		p.Items = append(p.Items, x)
	}
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
	return p
}

func sheetOf(p Plan, person, group string, minutes int, given ...timeline.Answer) answers.Sheet {
	s := answers.Sheet{Quiz: p.ID, Person: person, Group: group, Made: p.Made.Add(time.Duration(minutes) * time.Minute), Given: map[int]timeline.Answer{}}
	for i, a := range given {
		if !a.IsZero() {
			s.Given[i+1] = a
		}
	}
	return s
}

func TestFormOf(t *testing.T) {
	p := testPlan(t, 5)
	p.Items[0].Asked = timeline.Words{"en": "Was that a penalty on the pivot?"}
	p.Items[0].Words = "SECRETREASON"
	f := FormOf(p)
	if err := f.Check(); err != nil {
		t.Fatal(err)
	}
	if f.Language != "en" || f.Quiz != p.ID || len(f.Questions) != 5 || len(f.Questions[3].Codes) != 0 || len(f.Questions[0].Codes) != len(p.Items[0].Codes) {
		t.Errorf("%+v", f)
	}
	if got := f.Questions[2].Choices[1].Label; got != "no penalty / keine Strafe" {
		t.Errorf("the choice reads %q", got)
	}
	if got := f.Questions[1].Text; got != "Penalty or no penalty? / Strafe oder keine Strafe?" {
		t.Errorf("the question reads %q", got)
	}
	// The same form comes of other verdicts, reasons and sources: nothing of them is in it.
	other := p
	other.Items = slices.Clone(p.Items)
	for i := range other.Items {
		x := &other.Items[i]
		x.Verdicts, x.Called, x.Words, x.Difficulty, x.Source, x.Bout, x.Example = []timeline.Answer{yes}, no, "", 0, "x", "b", "y"
	}
	if diff := cmp.Diff(f, FormOf(other)); diff != "" {
		t.Errorf("the form depends on what must not be known: %s", diff)
	}
	dir := t.TempDir()
	if err := writeForms(p, func(name string) string { return filepath.Join(dir, name) }); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{FormPageName, FormTableName, FormPaperName} {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || len(data) == 0 || bytes.Contains(data, []byte("SECRETREASON")) || bytes.Contains(data, []byte("a.bout")) {
			t.Errorf("%s: %d bytes, %v", name, len(data), err)
		}
	}
}

func TestCollectAnswers(t *testing.T) {
	p := testPlan(t, 5)
	dir := t.TempDir()
	put := func(name string, data []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	putJSON := func(name string, s answers.Sheet) {
		t.Helper()
		var b bytes.Buffer
		if err := s.WriteJSON(&b); err != nil {
			t.Fatal(err)
		}
		put(name, b.Bytes())
	}
	code := func(s answers.Sheet) string {
		t.Helper()
		c, err := s.Code()
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	putJSON("ann.json", sheetOf(p, "Ann", answers.Before, 10, penalty("B"), warning, no, no, yes))
	putJSON("ann older.json", sheetOf(p, "ANN", answers.Before, 5, no))
	putJSON("bob.json", sheetOf(p, "Bob", answers.Before, 7, penalty("Q"), yes, no, warning, warning, yes))
	stranger := sheetOf(p, "Cy", answers.Before, 3, yes)
	stranger.Quiz = "ffffffffffff"
	putJSON("cy.json", stranger)
	put("chat.txt", []byte("Dee: "+code(sheetOf(p, "Dee", answers.After, 50, penalty("B")))+"\nEve: WCA1-0000\n"))
	put("blank.csv", []byte("Whistlecut answers,quiz 0a1b2c3d4e5f\nName,,\nGroup,,\nNumber,Question,Answer\n1,x,\n"))
	put("picture.png", []byte("x"))
	put(".hidden.json", []byte("{"))
	if err := os.Mkdir(filepath.Join(dir, "trainer"), 0o755); err != nil {
		t.Fatal(err)
	}
	got, err := CollectAnswers(p, []string{dir, code(sheetOf(p, "Fay", answers.After, 60, no, no)), code(sheetOf(p, "Gus", answers.After, 60))})
	if err != nil {
		t.Fatal(err)
	}
	var who []string
	for _, s := range got.Sheets {
		who = append(who, s.Group+" "+s.Person)
	}
	if diff := cmp.Diff([]string{"before Ann", "before Bob", "after Dee", "after Fay"}, who); diff != "" {
		t.Error(diff)
	}
	if ann := got.Sheets[0].Given; len(ann) != 5 || ann[1].Code != "B" {
		t.Errorf("of Ann's sheets the older one counts: %+v", ann)
	}
	if bob := got.Sheets[1].Given; len(bob) != 4 || bob[5].Choice != timeline.ChoiceYes || bob[1].Code != "Q" {
		t.Errorf("Bob answered %+v", bob)
	}
	var notes []string
	for _, n := range got.Notes {
		notes = append(notes, n.String())
	}
	all := strings.Join(notes, "\n")
	for _, want := range []string{
		"ann.json: Ann answered twice (before); the newer answers count and those of ann older.json are left out",
		"bob.json: Bob answered question 6, which the quiz does not have",
		`bob.json: Bob answered "warning" to question 4`,
		"bob.json: Bob gave the letter Q to question 1, which is none of the edition 2025",
		"cy.json: the answers of Cy are to another quiz (ffffffffffff",
		"chat.txt: code 2: ",
		"blank.csv: nobody has filled the table",
		"code: Gus answered no question",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("the notes lack %q:\n%s", want, all)
		}
	}
	if len(notes) != 8 {
		t.Errorf("%d notes:\n%s", len(notes), all)
	}
	for _, c := range []struct{ name, place, want string }{
		{"no such file", filepath.Join(dir, "gone.json"), "give a file, a folder or a code"},
		{"only strangers", filepath.Join(dir, "cy.json"), "no answers to the quiz 0a1b2c3d4e5f were found; cy.json"},
		{"an empty folder", filepath.Join(dir, "trainer"), "no answers to the quiz"},
		{"a broken code", "WCA1-12", "cut off"},
	} {
		if _, err := CollectAnswers(p, []string{c.place}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// TestMeasureAgreement works a room of three out by hand.
//
// Question 1 (back block): B, B, no; 2 (cut, or a warning): warning, X, B; 3 (no
// penalty): no, no, no; 4 (not earned): not earned, earned, -; 5 (warning): yes, yes,
// yes. Accepted: 2 of 3, 2 of 3, 3 of 3, 1 of 2, 3 of 3, so 11 of 14; by the choice
// alone question 2 has 3 of 3, as "yes" is accepted with some letter.
func TestMeasureAgreement(t *testing.T) {
	p := testPlan(t, 5)
	c := Collected{Sheets: []answers.Sheet{
		sheetOf(p, "Ann", "", 1, penalty("B"), warning, no, no, yes),
		sheetOf(p, "Bob", "", 2, penalty("B"), penalty("X"), no, yes, yes),
		sheetOf(p, "Cy", "", 3, no, penalty("B"), no, timeline.Answer{}, yes),
	}}
	a, err := MeasureAgreement(p, c, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Groups) != 1 || a.Training != nil || a.Note != TrainingNote {
		t.Fatalf("%+v", a)
	}
	g := a.Groups[0]
	if g.Right.Right != 11 || g.Right.Of != 14 || g.RightCall.Right != 12 || !g.Small {
		t.Errorf("right %+v, by the choice %+v", g.Right, g.RightCall)
	}
	if g.People[0].Right.Right != 5 || g.People[2].Right.Of != 4 || g.People[2].Right.Right != 2 {
		t.Errorf("%+v", g.People)
	}
	// By hand, the choices: yes yes no | warning yes yes | no no no | no yes | yes yes yes.
	// Observed (2/2*2 + 2/2*2 + 0 + 2/1 + 0)/14 with 4, 4, 0, 2 pairs that differ, over m-1:
	// (4/2+4/2+0+2/1+0)/14 = 6/14. yes 8, no 5, warning 1: expected 1 - (56+20+0)/(14*13).
	want := 1 - (6.0/14)/(1-76.0/182)
	if math.Abs(g.Call.Alpha.Value-want) > 1e-12 {
		t.Errorf("alpha %v, by hand %v", g.Call.Alpha.Value, want)
	}
	if g.Call.Kappa.Units != 4 || g.Call.Kappa.LeftOut != 1 {
		t.Errorf("kappa %+v", g.Call.Kappa)
	}
	if q := g.Questions[3]; q.Skipped != 1 || q.Right.Right != 1 || q.Section != "3.1" {
		t.Errorf("question 4: %+v", q)
	}
	if diff := cmp.Diff([]int{2}, g.Dividing); diff != "" {
		t.Errorf("what splits the room: %s", diff)
	}
	var sections, codes, asks []string
	for _, x := range g.Sections {
		sections = append(sections, fmt.Sprint(x.Name, x.Questions, x.Right.Right, "/", x.Right.Of))
	}
	for _, x := range g.Codes {
		codes = append(codes, fmt.Sprint(x.Name, " ", x.Title, x.Questions, x.Right.Right))
	}
	for _, x := range g.Asks {
		asks = append(asks, fmt.Sprint(x.Name, x.Questions))
	}
	if diff := cmp.Diff([]string{"[3 5] 6/6", "3.1[4] 1/2", "4.1.1[1] 2/3", "4.2.2[2] 2/3"}, sections); diff != "" {
		t.Errorf("sections: %s", diff)
	}
	if diff := cmp.Diff([]string{"B back block[1] 2", "X cut[2] 2"}, codes); diff != "" {
		t.Errorf("codes: %s", diff)
	}
	if diff := cmp.Diff([]string{"penalty[1 2 3]", "earned pass[4]", "warning[5]"}, asks); diff != "" {
		t.Errorf("what was asked: %s", diff)
	}
	if diff := cmp.Diff([]agreement.Taken{{Want: "no", Given: "no", N: 3}, {Want: "yes B", Given: "yes B", N: 2}, {Want: "yes B", Given: "no", N: 1}, {Want: "yes X", Given: "warning", N: 1}, {Want: "yes X", Given: "yes B", N: 1}, {Want: "yes X", Given: "yes X", N: 1}}, g.Taken); diff != "" {
		t.Errorf("what was taken for what: %s", diff)
	}
}

func TestTraining(t *testing.T) {
	p := testPlan(t, 5)
	c := Collected{Sheets: []answers.Sheet{
		sheetOf(p, "Ann", answers.Before, 1, no, no, no, yes, yes),
		sheetOf(p, "Bob", answers.Before, 1, penalty("B"), no, yes),
		sheetOf(p, "Only before", answers.Before, 1, penalty("B")),
		sheetOf(p, "ann", answers.After, 90, penalty("B"), warning, no, no, no),
		sheetOf(p, "Bob", answers.After, 90, penalty("B"), penalty("X"), timeline.Answer{}, no),
		sheetOf(p, "Zoë", "guests", 90, no),
	}}
	a, err := MeasureAgreement(p, c, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Groups) != 3 || a.Groups[2].Group != "guests" || a.Training == nil {
		t.Fatalf("%d groups, training %v", len(a.Groups), a.Training)
	}
	// Ann: 2 of 5, then 4 of 5. Bob answered 1 and 2 both times: 1 of 2, then 2 of 2.
	all := a.Training.All
	if all.People != 2 || all.Before.Right != 3 || all.Before.Of != 7 || all.After.Right != 6 || all.Gained != 4 || all.Lost != 1 || math.Abs(all.Mean-0.45) > 1e-12 {
		t.Errorf("%+v", all)
	}
	if q := a.Training.Questions[4]; q.Before.Right != 1 || q.After.Right != 0 || q.Lost != 1 {
		t.Errorf("question 5: %+v", q)
	}
	if len(a.Training.Sections) != 4 || len(a.Training.Codes) != 2 {
		t.Errorf("%d sections, %d codes", len(a.Training.Sections), len(a.Training.Codes))
	}
}

// Simulated answers survive every form, and the training shows.
func TestSimulateGroup(t *testing.T) {
	p := testPlan(t, 20)
	list := SimulateGroup(p, 16, 4)
	if len(list) != 16+14 {
		t.Fatalf("%d sheets", len(list))
	}
	if diff := cmp.Diff(list, SimulateGroup(p, 16, 4)); diff != "" {
		t.Errorf("the same seed gives other answers: %s", diff)
	}
	if cmp.Equal(list, SimulateGroup(p, 16, 5)) {
		t.Error("another seed gives the same answers")
	}
	var codes []string
	for _, s := range list {
		if err := s.Check(); err != nil {
			t.Fatal(err)
		}
		code, err := s.Code()
		if err != nil {
			t.Fatal(err)
		}
		codes = append(codes, code)
	}
	c, err := CollectAnswers(p, codes)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Notes) > 0 || len(c.Sheets) != len(list) {
		t.Errorf("%d sheets, notes %v", len(c.Sheets), c.Notes)
	}
	a, err := MeasureAgreement(p, c, 1)
	if err != nil {
		t.Fatal(err)
	}
	g := a.Groups[0]
	if g.Small || !g.Call.Alpha.Defined() || !g.Call.Interval.Defined() || len(g.Dividing) == 0 || len(g.Confused) == 0 {
		t.Errorf("%+v", g.Call)
	}
	if all := a.Training.All; all.People != 14 || all.Mean <= 0 || all.Gained <= all.Lost {
		t.Errorf("the training does not show: %+v", all)
	}
}
