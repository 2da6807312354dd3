package examples

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/quiz"
	"whistlecut/export/answers"
	"whistlecut/timeline"
)

// made is a quiz of the first four examples in a folder, as Make leaves it, without
// its films.
func made(t *testing.T, d *tasktest.Desk, x *Task) (string, quiz.Plan) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "quiz")
	if err := os.MkdirAll(filepath.Join(dir, quiz.TrainerDir), 0o755); err != nil {
		t.Fatal(err)
	}
	rules := d.Opened.Bout.Rules
	p := quiz.Plan{ID: quiz.NewID(), Title: "Tuesday", Seed: 7, Made: time.Date(2026, 5, 5, 19, 0, 0, 0, time.UTC), Edition: rules.Edition, Languages: []string{"en"}}
	for n, i := range x.bout.items {
		p.Items = append(p.Items, quiz.Item{
			Number: n + 1, Bout: d.Opened.Path, Example: i.tag.ID, Ask: i.e.Ask, Footage: i.tag.Place.Footage,
			Shown:    timeline.TimeRange{Start: i.tag.Place.Film, End: i.tag.Place.Film + time.Second},
			Verdicts: []timeline.Answer{{Choice: timeline.ChoiceYes, Code: i.e.Called.Code}}, Codes: rules.Codes, Edition: rules.Edition,
		})
	}
	if err := p.WriteFile(quiz.PlanPath(dir)); err != nil {
		t.Fatal(err)
	}
	return dir, p
}

// quizzed is the task with a quiz open that nobody answered.
func quizzed(t *testing.T) (*tasktest.Desk, *Task, quiz.Plan) {
	t.Helper()
	d, x := filled(t)
	dir, p := made(t, d, x)
	d.Keys(t, "G")
	x.quiz.open(dir)
	if x.quiz.why != nil || len(x.quiz.rows) != 4 {
		t.Fatalf("%d rows, %v", len(x.quiz.rows), x.quiz.why)
	}
	return d, x, p
}

// answer types a person's answers by keys: R for right, W for wrong, else nothing.
func answer(t *testing.T, d *tasktest.Desk, x *Task, who, group, marks string) {
	t.Helper()
	d.Keys(t, "T")
	f := x.panel.typed
	f.group.SetText(group)
	typed(t, d, who, fyne.KeyReturn) // the keyboard goes to the questions
	for i, m := range marks {
		switch m {
		case 'R':
			dialogKeys(t, d, fyne.KeyName(x.quiz.plan.Items[i].Verdicts[0].Code))
		case 'W':
			dialogKeys(t, d, "2")
		default:
			dialogKeys(t, d, "0")
		}
	}
	dialogKeys(t, d, fyne.KeyReturn)
	if f.dialog.IsOpen() {
		t.Fatalf("the dialog stayed: %s", f.dialog.Said())
	}
}

// TestTypedAnswers: answers typed by keys are kept in the quiz's folder, measured
// and shown; before and after are compared.
func TestTypedAnswers(t *testing.T) {
	d, x, _ := quizzed(t)
	answer(t, d, x, "Ana", "before", "RWRR")
	answer(t, d, x, "Kim", "before", "RWW-")
	answer(t, d, x, "Ida", "before", "RRWR")
	g := x.quiz.answered()
	if g == nil || len(g.People) != 3 || g.Questions[0].Right.Right != 3 || g.Questions[1].Right.Right != 1 || g.Questions[3].Skipped != 1 {
		t.Fatalf("%+v", g)
	}
	if x.quiz.rows[0].right != "3 of 3" {
		t.Errorf("row %+v", x.quiz.rows[0])
	}
	answer(t, d, x, "Ana", "after", "RRRR")
	answer(t, d, x, "Kim", "after", "RRWR")
	if x.quiz.group != "after" || x.quiz.says.Training == nil {
		t.Fatalf("group %q, training %v", x.quiz.group, x.quiz.says.Training)
	}
	d.Keys(t, "B")
	if x.quiz.group != "before" {
		t.Errorf("group %q", x.quiz.group)
	}
	seen := map[page]int{}
	for range pages {
		d.Keys(t, "R")
		seen[x.quiz.page] = len(x.quiz.rows)
	}
	if len(seen) != int(pages) || seen[pagePeople] != 3 || seen[pageTraining] < 4 || seen[pageConfused] == 0 || seen[pageParts] == 0 {
		t.Errorf("rows by page %v", seen)
	}
	if s := x.quiz.summary(); !strings.Contains(s, "alpha") || !strings.Contains(s, "2 people answered before and after") {
		t.Errorf("it says %q", s)
	}
	// One person is taken out.
	for x.quiz.page != pagePeople {
		d.Keys(t, "R")
	}
	d.Keys(t, "Delete")
	x.panel.asking.Accept()
	if g := x.quiz.answered(); len(g.People) != 2 {
		t.Errorf("%d people are left", len(g.People))
	}
}

// TestAnswersCome: files, tables and codes are taken in; what is wrong is said and
// the dialog stays.
func TestAnswersCome(t *testing.T) {
	d, x, p := quizzed(t)
	s := answers.Sheet{Quiz: p.ID, Person: "Ana", Made: time.Date(2026, 5, 5, 20, 0, 0, 0, time.UTC), Given: map[int]timeline.Answer{1: {Choice: timeline.ChoiceNo}}}
	code, err := s.Code()
	if err != nil {
		t.Fatal(err)
	}
	d.Keys(t, "C")
	f := x.panel.code
	f.text.SetText(code[:len(code)-1])
	f.accept()
	if !f.dialog.IsOpen() || f.dialog.Said() == "" {
		t.Error("a broken code was taken")
	}
	f.text.SetText("It is " + code)
	f.accept()
	if f.dialog.IsOpen() || len(x.quiz.got.Sheets) != 1 {
		t.Fatalf("said %q, %d sheets", f.dialog.Said(), len(x.quiz.got.Sheets))
	}
	path := filepath.Join(t.TempDir(), "kim.json")
	w, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	s.Person = "Kim"
	if err := errors.Join(s.WriteJSON(w), w.Close()); err != nil {
		t.Fatal(err)
	}
	d.Keys(t, "A")
	f = x.panel.code
	f.text.SetText(path + ".gone")
	f.accept()
	if !f.dialog.IsOpen() {
		t.Error("a file that is not there was taken")
	}
	f.text.SetText("\n" + path + "\n")
	f.accept()
	if f.dialog.IsOpen() || len(x.quiz.got.Sheets) != 2 {
		t.Errorf("said %q, %d sheets", f.dialog.Said(), len(x.quiz.got.Sheets))
	}
	// The report is saved as paper and table.
	d.Keys(t, "S")
	f = x.panel.code
	dir := t.TempDir()
	f.text.SetText(dir)
	f.accept()
	for _, n := range []string{reportPaper, reportTable} {
		data, err := os.ReadFile(filepath.Join(dir, n))
		if err != nil || len(data) == 0 {
			t.Errorf("%s: %v", n, err)
		}
		if n == reportTable && strings.Contains(string(data), "Ana") {
			t.Error("the table holds a name")
		}
	}
}

// TestToTheFilm: Enter on a question goes to its film; one of another bout asks.
func TestToTheFilm(t *testing.T) {
	d, x, p := quizzed(t)
	d.Keys(t, "Down", "Return")
	if n := len(d.Loops); n != 1 || d.Loops[0].From != p.Items[1].Shown.Start || x.view != ofQuiz {
		t.Errorf("loops %+v", d.Loops)
	}
	other := filepath.Join(t.TempDir(), "other.bout")
	if err := os.WriteFile(other, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	x.quiz.plan.Items[1].Bout = other
	d.Keys(t, "Return")
	x.panel.asking.Accept()
	if !slices.Equal(d.Staged.Visited, []string{other}) {
		t.Errorf("visited %v", d.Staged.Visited)
	}
}

// TestMake: the form asks for a quiz of the open bout, of all, or of those listed.
func TestMake(t *testing.T) {
	d, x := filled(t)
	var got wanted
	fail := error(nil)
	x.quiz.make = func(_ context.Context, _ *app.App, _ *app.Session, w wanted) (quiz.Made, []string, error) {
		got = w
		if fail != nil {
			return quiz.Made{}, nil, fail
		}
		dir, _ := made(t, d, x)
		if err := os.Rename(dir, w.dir); err != nil {
			t.Fatal(err)
		}
		return quiz.Made{Dir: w.dir, Group: []string{w.dir + "/quiz.mp4"}}, []string{"there are 4 questions instead of 20"}, nil
	}
	d.Keys(t, "G", "N")
	f := x.panel.making
	for _, c := range []struct {
		name string
		set  func()
	}{
		{"no folder", func() { f.folder.SetText(" ") }},
		{"a full folder", func() { f.folder.SetText(filepath.Dir(d.Opened.Path)) }},
		{"no number", func() { f.count.SetText("many") }},
		{"too many", func() { f.count.SetText("999") }},
		{"no seed", func() { f.seed.SetText("-1") }},
		{"a language nobody speaks here", func() { f.langs.SetText("en, xx") }},
		{"three languages", func() { f.langs.SetText("en es fr") }},
		{"backwards", func() { f.easiest.SetText("4"); f.hardest.SetText("2") }},
		{"no time", func() { f.think.SetText("0") }},
	} {
		before := []string{f.folder.Text, f.count.Text, f.seed.Text, f.langs.Text, f.easiest.Text, f.hardest.Text, f.think.Text}
		c.set()
		f.accept()
		if !f.dialog.IsOpen() || f.dialog.Said() == "" {
			t.Fatalf("%s: the form was taken", c.name)
		}
		for i, e := range []interface{ SetText(string) }{f.folder, f.count, f.seed, f.langs, f.easiest, f.hardest, f.think} {
			e.SetText(before[i])
		}
	}
	dir := filepath.Join(t.TempDir(), "tuesday")
	f.folder.SetText(dir)
	f.seed.SetText("42")
	f.langs.SetText("es, en")
	f.rules.SetText("4.1, 4.2")
	f.from.SetSelectedIndex(fromListed)
	f.sensitive.Checked = true
	f.accept()
	o := got.draw
	if got.dir != dir || o.Seed != 42 || o.Questions != 20 || !slices.Equal(o.Languages, []string{"es", "en"}) || !slices.Equal(o.Rules, []string{"4.1", "4.2"}) ||
		len(o.Chosen) != 4 || !o.Sensitive || got.make.Think != 10*time.Second {
		t.Errorf("asked for %+v", got)
	}
	if x.quiz.dir != dir || !strings.Contains(x.quiz.told, "4 questions instead of 20") || !slices.Equal(x.desk.Settings().Quizzes, []string{dir}) {
		t.Errorf("quiz %q, told %q", x.quiz.dir, x.quiz.told)
	}
	fail = errors.New("the disk is full")
	d.Keys(t, "N")
	x.panel.making.folder.SetText(filepath.Join(t.TempDir(), "next"))
	x.panel.making.accept()
	if len(d.Failed) != 1 || x.quiz.dir != dir {
		t.Errorf("failed %v, quiz %q", d.Failed, x.quiz.dir)
	}
}

// TestDrawn: a quiz is made for real of examples without film up to the point where
// the film is needed; the failure is a sentence.
func TestDrawn(t *testing.T) {
	d, _ := filled(t)
	_, _, err := makeQuiz(context.Background(), d.Program, d.Opened, wanted{dir: filepath.Join(t.TempDir(), "q"), draw: quiz.Options{Languages: []string{"en"}, Questions: 3}})
	if err == nil || !strings.Contains(err.Error(), "undecided") && !strings.Contains(err.Error(), "verdict") {
		t.Errorf("a quiz of undecided examples: %v", err)
	}
}

// TestQuizPictures holds what the pages show.
func TestQuizPictures(t *testing.T) {
	d, x, _ := quizzed(t)
	answer(t, d, x, "Ana", "before", "RWRR")
	answer(t, d, x, "Kim", "before", "RWW-")
	answer(t, d, x, "Ida", "before", "RRWR")
	x.quiz.told = "" // it holds no folder
	x.refresh()
	d.Picture(t, "quiz")
	x.quiz.dir = "/quiz"
	x.refresh()
	test.AssertRendersToMarkup(t, "quiz.xml", d.Win.Canvas())
}
