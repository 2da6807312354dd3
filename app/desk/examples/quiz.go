package examples

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/words"
	"whistlecut/app/quiz"
	"whistlecut/export/answers"
	"whistlecut/timeline"
)

// quizShelf shows a quiz with the answers that came back, and makes new ones.
type quizShelf struct {
	t    *Task
	dir  string // folder of the quiz shown, "" for none
	why  error  // why it cannot be read
	plan quiz.Plan
	got  quiz.Collected
	says quiz.Agreement
	// group is the one whose answers are shown, by its name.
	group  string
	page   page
	rows   []reportRow
	chosen int
	told   string // what came of the last work
	view   *quizPanel
	make   maker
}

// page is what the list of the report shows.
type page int

const (
	pageQuestions page = iota // in the order shown
	pageDividing              // those that split the room first
	pageParts                 // by rule section and letter
	pageConfused              // which answers stood against each other
	pagePeople
	pageTraining // before and after
	pages
)

func newQuizShelf(t *Task) *quizShelf { return &quizShelf{t: t, make: makeQuiz} }

func (q *quizShelf) panel() fyne.CanvasObject {
	if q.view == nil {
		q.view = newQuizPanel(q)
	}
	return q.view.view
}

func (q *quizShelf) refresh() {
	if q.view != nil {
		q.view.refresh()
	}
}

// shown reads the quiz anew: answers may have come into its folder.
func (q *quizShelf) shown() {
	if q.dir == "" {
		if list := q.known(); len(list) > 0 {
			q.dir = list[0]
		}
	}
	q.load()
}

// known are the folders of quizzes that are still there, the latest first.
func (q *quizShelf) known() []string {
	return slices.DeleteFunc(slices.Clone(q.t.desk.Settings().Quizzes), func(dir string) bool {
		_, err := os.Stat(quiz.PlanPath(dir))
		return err != nil
	})
}

// open shows the quiz of a folder and remembers it.
func (q *quizShelf) open(dir string) {
	set := q.t.desk.Settings()
	q.dir, q.told, q.chosen, q.group = dir, "", 0, ""
	q.load()
	if q.why == nil {
		set.Quizzed(dir)
		q.t.desk.Fail(set.Save())
	}
	q.t.refresh()
}

// load reads plan and answers and measures them.
func (q *quizShelf) load() {
	q.plan, q.got, q.says, q.why = quiz.Plan{}, quiz.Collected{}, quiz.Agreement{}, nil
	if q.dir == "" {
		return
	}
	if q.plan, q.got, q.why = quiz.Kept(q.dir); q.why == nil {
		q.says, q.why = quiz.MeasureAgreement(q.plan, q.got, q.plan.Seed)
	}
	if q.answered() == nil && len(q.says.Groups) > 0 {
		q.group = q.says.Groups[0].Group
	}
	if q.page == pageTraining && q.says.Training == nil {
		q.page = pageQuestions
	}
	q.list()
}

// answered is the group shown; nil when nobody answered.
func (q *quizShelf) answered() *quiz.GroupAgreement {
	for i := range q.says.Groups {
		if q.says.Groups[i].Group == q.group {
			return &q.says.Groups[i]
		}
	}
	return nil
}

// nextGroup shows the next group's answers.
func (q *quizShelf) nextGroup() {
	var names []string
	for _, g := range q.says.Groups {
		names = append(names, g.Group)
	}
	if len(names) < 2 {
		q.t.desk.Say(words.T("There is one group only. Answers from before and after a training are told apart by their group."))
		return
	}
	q.group = next(names, q.group)
	q.list()
	q.t.refresh()
}

// nextPage shows the next part of the report that has something.
func (q *quizShelf) nextPage() {
	if q.answered() == nil {
		return
	}
	for range pages {
		q.page = (q.page + 1) % pages
		if q.page != pageTraining || q.says.Training != nil {
			break
		}
	}
	q.chosen = 0
	q.list()
	q.t.refresh()
}

func (q *quizShelf) advance(by int) {
	if len(q.rows) > 0 {
		q.pick(min(max(q.chosen+by, 0), len(q.rows)-1))
	}
}

func (q *quizShelf) pick(i int) {
	if i >= 0 && i < len(q.rows) {
		q.chosen = i
		q.t.refresh()
	}
}

// enter goes to the film of the chosen question.
func (q *quizShelf) enter() {
	if q.chosen < 0 || q.chosen >= len(q.rows) {
		return
	}
	n := q.rows[q.chosen].number
	x, ok := q.plan.Item(n)
	s := q.t.desk.Session()
	switch {
	case s == nil:
	case !ok:
		q.t.desk.Say(words.T("This row is no single question. R goes to the questions."))
	case !sameFile(x.Bout, s.Path):
		if _, err := os.Stat(x.Bout); err != nil {
			q.t.desk.Say(words.T("The bout {.bout} is not there: connect its disk.", "bout", filepath.Base(x.Bout)))
			return
		}
		q.t.panel.asking = form.Confirm(q.t.desk.Window(), words.T("Open the other bout?"),
			words.T("The moment is in {.bout}. The bout that is open now is closed; all its edits are stored already.", "bout", filepath.Base(x.Bout)),
			words.T("Open it"), func() { q.t.desk.Visit(x.Bout, x.Example, x.Footage, x.Shown.Start, x.Shown.End) })
	default:
		// The quiz stays in the panel: the trainer goes through its questions.
		if tag, here := s.Facts.Tags[x.Example]; here && tag.Example != nil {
			_, to := played(item{tag: tag, e: *tag.Example})
			q.t.desk.Loop(tag.Place.Footage, min(tag.Place.Film, x.Shown.Start), to)
			return
		}
		q.t.desk.Loop(x.Footage, x.Shown.Start, x.Shown.End)
	}
}

// escape goes back to the questions; false when they are shown.
func (q *quizShelf) escape() bool {
	if q.page == pageQuestions {
		return false
	}
	q.page, q.chosen = pageQuestions, 0
	q.list()
	return true
}

// choose asks for another quiz: one worked with before, or one in a folder.
func (q *quizShelf) choose() {
	list := q.known()
	texts := []string{words.T("a quiz in a folder…")}
	at := 0
	for i, dir := range list {
		name := filepath.Base(dir)
		if p, err := quiz.ReadPlanFile(quiz.PlanPath(dir)); err == nil {
			name = words.N(len(p.Items), "{.title}, {.n} question, {.date}", "{.title}, {.n} questions, {.date}", "title", cmp.Or(p.Title, words.T("Quiz")), "date", p.Made.Local().Format("2006-01-02"))
		}
		texts = append(texts, name+"  "+filepath.Base(dir))
		if dir == q.dir {
			at = i + 1
		}
	}
	q.t.panel.asking = form.Choose(q.t.desk.Window(), words.T("Quizzes"), texts, at, func(i int) {
		if i == 0 {
			form.Folder(q.t.desk.Window(), q.open)
			return
		}
		q.open(list[i-1])
	})
}

// take keeps sheets in the quiz's folder and shows what they say.
func (q *quizShelf) take(c quiz.Collected) {
	if err := quiz.Keep(q.dir, c.Sheets...); err != nil {
		q.t.desk.Fail(err)
		return
	}
	n := len(c.Sheets)
	q.told = words.N(n, "The answers of {.n} person were taken in.", "The answers of {.n} people were taken in.")
	for i, x := range c.Notes {
		if i == 3 {
			q.told += " " + words.N(len(c.Notes)-i, "There is {.n} more note.", "There are {.n} more notes.")
			break
		}
		q.told += " " + x.String() + "."
	}
	q.t.desk.Say(q.told)
	if n > 0 {
		q.group = c.Sheets[0].Group
	}
	q.load()
	q.t.refresh()
}

// ready reports whether a quiz is shown, and says so when not.
func (q *quizShelf) ready() bool {
	if q.dir == "" || q.why != nil {
		q.t.desk.Say(words.T("No quiz is open: N makes one, O opens one."))
		return false
	}
	return true
}

// removeSheet takes the chosen person's answers of the group shown out.
func (q *quizShelf) removeSheet() {
	if q.page != pagePeople || q.chosen >= len(q.rows) || q.rows[q.chosen].person == "" {
		q.t.desk.Say(words.T("R goes to the people; there Delete takes the answers of one out."))
		return
	}
	who, group := q.rows[q.chosen].person, q.group
	q.t.panel.asking = form.Confirm(q.t.desk.Window(), words.T("Take these answers out?"),
		words.T("The answers of {.who} ({.group}) are deleted from the quiz's folder. This cannot be undone; the files they came from stay.", "who", who, "group", groupText(group)),
		words.T("Take them out"), func() {
			_, err := quiz.Drop(q.dir, who, group)
			q.t.desk.Fail(err)
			q.load()
			q.t.refresh()
		})
}

// groupText names a group.
func groupText(g string) string {
	switch g {
	case "":
		return words.T("no group")
	case answers.Before:
		return words.T("before")
	case answers.After:
		return words.T("after")
	}
	return g
}

// planRules is the edition of a question, with the letters that were offered.
func planRules(x quiz.Item) timeline.RuleSet {
	return timeline.RuleSet{Edition: x.Edition, Codes: x.Codes}
}
