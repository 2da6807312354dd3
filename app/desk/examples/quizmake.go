package examples

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app"
	"whistlecut/app/collection"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/app/quiz"
)

// order of a quiz: what is drawn, from which bouts, and what is made of it.
type wanted struct {
	draw  quiz.Options
	bouts []string // beside the open one
	dir   string
	make  quiz.MakeOptions
}

// maker draws and makes a quiz; notes are what is to be said of it.
type maker func(ctx context.Context, a *app.App, s *app.Session, w wanted) (made quiz.Made, notes []string, err error)

func makeQuiz(ctx context.Context, a *app.App, s *app.Session, w wanted) (made quiz.Made, notes []string, err error) {
	b, err := quiz.OpenBouts(a, w.bouts, s)
	if err != nil {
		return made, nil, err
	}
	defer func() { err = errors.Join(err, b.Close()) }()
	d, err := quiz.Draw(b, w.draw)
	if err != nil {
		return made, nil, err
	}
	made, err = quiz.Make(ctx, a, b, d.Plan, w.dir, w.make)
	return made, d.Notes, err
}

// Where the questions of a quiz are from.
const (
	fromBout   = iota // drawn from the open bout
	fromAll           // drawn from all bouts of the collection
	fromListed        // those that the list of this bout shows
)

// makeForm is the dialog that asks how a quiz shall be.
type makeForm struct {
	q      *quizShelf
	dialog *form.Dialog
	from   *look.Select
	title  *form.Entry
	folder *form.Entry

	count, seed, think, langs *form.Entry
	rules, easiest, hardest   *form.Entry
	sensitive, fewer, twice   *look.Check
	sound, solution           *look.Check
}

// askMake opens the dialog.
func (q *quizShelf) askMake() {
	s := q.t.desk.Session()
	if s == nil {
		return
	}
	f := &makeForm{q: q, dialog: form.New(q.t.desk.Window(), words.T("A new quiz"), fyne.NewSize(look.Size(560), look.Size(520)))}
	d := f.dialog
	f.from = look.NewSelect([]string{
		words.T("drawn from this bout"), words.T("drawn from all bouts of the collection"),
		words.N(len(q.t.bout.items), "the one example listed in this bout", "the {.n} examples listed in this bout"),
	}, nil)
	f.from.SetSelectedIndex(fromBout)
	f.title = d.Entry(words.T("Quiz"), words.T("what the group reads; it tells no answer"))
	f.folder = d.Entry(freeFolder(filepath.Join(filepath.Dir(s.Path), "quiz-"+time.Now().Format("2006-01-02"))), words.T("a folder that is new or empty"))
	browse := look.NewButton(words.T("Browse"), "", func() {
		form.Folder(q.t.desk.Window(), func(p string) {
			if list, err := os.ReadDir(p); err == nil && len(list) > 0 {
				p = freeFolder(filepath.Join(p, "quiz-"+time.Now().Format("2006-01-02")))
			}
			f.folder.SetText(p)
		})
	})
	f.count = d.Entry("20", "20")
	f.seed = d.Entry(strconv.Itoa(1+rand.IntN(9999)), words.T("a number"))
	f.think = d.Entry("10", "10")
	f.langs = d.Entry(words.Code(), words.T("as en, es; the main one first"))
	f.rules = d.Entry("", words.T("as 4.1; empty for all"))
	f.easiest = d.Entry("", "1")
	f.hardest = d.Entry("", "5")
	f.sensitive = look.NewCheck(words.T("sensitive examples, too (injury, minors, ejections)"), nil)
	f.fewer = look.NewCheck(words.T("take what there is where it is fewer"), nil)
	f.twice = look.NewCheck(words.T("each clip once more at half speed"), nil)
	f.sound = look.NewCheck(words.T("with sound, silent before each clip's end"), nil)
	f.solution = look.NewCheck(words.T("a film of the solution for the trainer"), nil)
	for _, c := range []*look.Check{f.fewer, f.twice, f.solution, f.sound} {
		c.Checked = true
	}
	three := func(o ...fyne.CanvasObject) fyne.CanvasObject { return container.NewGridWithColumns(len(o), o...) }
	content := container.New(look.Pile{Gap: look.Near},
		form.Field(words.T("Questions"), f.from),
		three(form.Field(words.T("Title"), f.title), form.Field(words.T("Languages"), f.langs)),
		form.Field(words.T("Folder"), container.NewBorder(nil, nil, nil, browse, f.folder)),
		three(form.Field(words.T("How many"), f.count), form.Field(words.T("Seconds to answer"), f.think), form.Field(words.T("Seed: the same draws the same"), f.seed)),
		three(form.Field(words.T("Sections of the rules"), f.rules), form.Field(words.T("Difficulty from"), f.easiest), form.Field(words.T("Difficulty to"), f.hardest)),
		container.New(&look.Flow{Gap: look.Tight}, f.fewer, f.twice, f.sound, f.solution, f.sensitive),
		look.NewParagraph(fair(), look.Now.Quiet, look.NoteSize))
	d.Accept = f.accept
	view, _ := look.Scroll(content)
	d.Show(view, f.title,
		look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Make the quiz"), words.T("Enter"), f.accept).Strong())
	q.t.panel.asking, q.t.panel.making = d, f
}

// freeFolder is a folder that is not there yet, with a number where it is.
func freeFolder(dir string) string {
	for n, try := 2, dir; ; n++ {
		if _, err := os.Lstat(try); err != nil {
			return try
		}
		try = fmt.Sprintf("%s-%d", dir, n)
	}
}

// whole reads a number within bounds; an empty text is the usual one.
func whole(text string, usual, least, most int) (int, bool) {
	if text = strings.TrimSpace(text); text == "" {
		return usual, true
	}
	n, err := strconv.Atoi(text)
	return n, err == nil && n >= least && n <= most
}

// listOf are the parts of a text between commas and blanks.
func listOf(text string) (out []string) {
	for _, x := range strings.FieldsFunc(text, func(c rune) bool { return c == ',' || c == ';' || c == ' ' }) {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// wants reads the form; a sentence says what is wrong with it.
func (f *makeForm) wants() (w wanted, wrong string) {
	w.dir = strings.TrimSpace(f.folder.Text)
	if w.dir == "" {
		return w, words.T("Name a folder for the quiz.")
	}
	if list, err := os.ReadDir(w.dir); err == nil && len(list) > 0 {
		return w, words.T("That folder is not empty: choose another one, so that no quiz is mixed with another.")
	}
	o := &w.draw
	o.Title = strings.TrimSpace(f.title.Text)
	o.Languages = listOf(strings.ToLower(f.langs.Text))
	if n := len(o.Languages); n < 1 || n > 2 || slices.ContainsFunc(o.Languages, func(l string) bool {
		return !slices.ContainsFunc(words.Languages, func(k struct{ Code, Name string }) bool { return k.Code == l })
	}) {
		return w, words.T("Languages are one or two of en, es, fr, de.")
	}
	var ok bool
	if o.Questions, ok = whole(f.count.Text, 20, 1, 200); !ok {
		return w, words.T("How many is a number from 1 to 200.")
	}
	seed, err := strconv.ParseUint(strings.TrimSpace(f.seed.Text), 10, 64)
	if err != nil {
		return w, words.T("The seed is a whole number.")
	}
	o.Seed = seed
	think, ok := whole(f.think.Text, 10, 1, 300)
	if !ok {
		return w, words.T("The time to answer is 1 to 300 seconds.")
	}
	w.make.Think = time.Duration(think) * time.Second
	var ok2 bool
	o.Easiest, ok = whole(f.easiest.Text, 0, 1, hardest)
	o.Hardest, ok2 = whole(f.hardest.Text, 0, 1, hardest)
	if !ok || !ok2 || o.Hardest > 0 && o.Easiest > o.Hardest {
		return w, words.T("Difficulty goes from 1 to 5.")
	}
	o.Rules = listOf(f.rules.Text)
	o.Sensitive, o.Fewer = f.sensitive.Checked, f.fewer.Checked
	w.make.Once, w.make.Mute, w.make.NoSolution = !f.twice.Checked, !f.sound.Checked, !f.solution.Checked
	return w, f.source(&w)
}

// source fills in where the questions are from.
func (f *makeForm) source(w *wanted) string {
	q := f.q
	switch f.from.SelectedIndex() {
	case fromListed:
		for _, i := range q.t.bout.items {
			w.draw.Chosen = append(w.draw.Chosen, i.tag.ID)
		}
		if len(w.draw.Chosen) == 0 {
			return words.T("No example is listed in this bout.")
		}
	case fromAll:
		if q.t.all.index == nil {
			q.t.all.shown()
		}
		s := q.t.desk.Session()
		for _, b := range q.t.all.bouts {
			if b.State == collection.Here && b.Examples > 0 && s != nil && !sameFile(b.Path, s.Path) {
				w.bouts = append(w.bouts, b.Path)
			}
		}
	}
	return ""
}

// accept reads the form and starts the work.
func (f *makeForm) accept() {
	w, wrong := f.wants()
	if wrong != "" {
		f.dialog.Say(wrong)
		return
	}
	f.dialog.Close()
	q := f.q
	var made quiz.Made
	var notes []string
	q.t.desk.Work(words.T("Making the quiz"), func(ctx context.Context, a *app.App, s *app.Session) (err error) {
		made, notes, err = q.make(ctx, a, s, w)
		return err
	}, func(err error) {
		if err == nil {
			q.open(w.dir)
			q.told = madeText(made, notes)
			q.t.desk.Say(words.T("The quiz is in {.folder}.", "folder", w.dir))
		}
		q.t.refresh()
	})
}

// madeText says what lies where.
func madeText(m quiz.Made, notes []string) string {
	name := func(list []string) string {
		var out []string
		for _, p := range list {
			out = append(out, filepath.Base(p))
		}
		return strings.Join(out, ", ")
	}
	text := words.T("Made in {.folder}. For the group: {.group}. For you alone, in trainer: {.own}.", "folder", m.Dir, "group", name(m.Group), "own", name(m.Trainer))
	for _, n := range notes {
		text += " " + strings.ToUpper(n[:min(1, len(n))]) + n[min(1, len(n)):] + "."
	}
	return text
}
