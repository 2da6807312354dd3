package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/quiz"
	"whistlecut/timeline"
)

type quizCmd struct {
	Make quizMakeCmd `cmd:"" help:"Draw examples from bouts and make a quiz of them: blinded film, answer sheets, solution."`
	Show quizShowCmd `cmd:"" help:"List what the questions of a quiz stand for, for the trainer."`
}

type quizMakeCmd struct {
	Bout []string `arg:"" optional:"" help:"The bout files to draw from."`
	Into string   `required:"" help:"Folder for the quiz; it must be new or empty." placeholder:"DIR"`
	Plan string   `help:"Make the quiz of this plan.json once more, in another size or language, instead of drawing one." type:"existingfile" placeholder:"FILE"`

	Title     string   `help:"Title on the film and on the sheets; without it Quiz." placeholder:"TEXT"`
	Questions int      `default:"20" help:"How many questions." placeholder:"20"`
	Seed      uint64   `default:"1" help:"Another number draws other questions in another order; the same one the same." placeholder:"1"`
	Language  []string `help:"Languages on the film, one or two, the main one first: en, es, fr, de." placeholder:"CODE"`

	Rule       []string `help:"Only examples whose verdict rests on this section or one under it, as 4.1." placeholder:"SECTION"`
	Code       []string `help:"Only examples whose verdict has this letter." placeholder:"LETTER"`
	Ask        []string `help:"Only what asks this: penalty, earned pass, lead, pack, warning." placeholder:"QUESTION"`
	Difficulty string   `help:"Only of this difficulty, as 3 or 2-4 (1 easy, 5 hard)." placeholder:"N[-N]"`
	Edition    string   `help:"Only examples judged by this edition of the rules." placeholder:"YEAR"`
	Choose     []string `help:"Exactly this example; repeat for each. Their order is shuffled." placeholder:"EXAMPLE"`
	Cut        []string `help:"End an example's clip at a time of its film instead of before the signal." placeholder:"EXAMPLE=T"`
	Sensitive  bool     `help:"Sensitive examples, too."`
	Fewer      bool     `help:"Make a shorter quiz when there are too few examples."`

	Clip       string `default:"8" help:"How long every clip is, in seconds." placeholder:"8"`
	Margin     string `default:"0.3" help:"How long before the signal a clip ends, in seconds." placeholder:"0.3"`
	Think      int    `default:"10" help:"Seconds to answer." placeholder:"10"`
	Quiet      string `default:"2" help:"How long before a clip's end its sound is out, in seconds." placeholder:"2"`
	Once       bool   `help:"Do not show each clip again at half speed."`
	Mute       bool   `help:"Leave the sound out."`
	Drawings   bool   `help:"Show what is drawn on the film, too; it may tell the answer. What is hidden is hidden in any case."`
	Size       string `help:"Size of the picture, as 1280x720; without it as most of the film has." placeholder:"WxH"`
	NoSolution bool   `help:"Do not make the film of the solution; it is printed in any case."`
}

func (quizMakeCmd) Help() string {
	return `The folder gets quiz.mp4 and the answer sheets for the group, and in trainer/ the
plan and the solution. Every clip is equally long and ends before anything tells the
call. Needed are a verdict, the film, and when the call was signalled (or that
nobody signalled). No question shows film that gives another one away.

Examples:
  whistlecut quiz make final.bout semi.bout --questions 20 --seed 7 --into "quiz May"
  whistlecut quiz make final.bout --rule 4.1 --difficulty 3-5 --questions 8 --into contact --language en --language es
  whistlecut quiz make --plan "quiz May/trainer/plan.json" --size 1920x1080 --into "quiz May large"`
}

// options are the flags as the use case takes them.
func (c *quizMakeCmd) options() (o quiz.Options, m quiz.MakeOptions, err error) {
	o = quiz.Options{
		Title: c.Title, Languages: c.Language, Questions: c.Questions, Seed: c.Seed, Rules: c.Rule, Codes: c.Code,
		Edition: c.Edition, Sensitive: c.Sensitive, Fewer: c.Fewer, Cuts: map[timeline.ID]time.Duration{},
	}
	m.Think, m.Once, m.Mute, m.Drawings, m.NoSolution = time.Duration(c.Think)*time.Second, c.Once, c.Mute, c.Drawings, c.NoSolution
	for _, l := range c.Language {
		if l != "en" && l != "es" && l != "fr" && l != "de" {
			return o, m, usage("%q is no language of ours; choose en, es, fr or de", l)
		}
	}
	for _, t := range []struct {
		text string
		to   *time.Duration
	}{{c.Clip, &o.Length}, {c.Margin, &o.Margin}, {c.Quiet, &m.Quiet}} {
		if *t.to, err = app.ParseClock(t.text); err != nil {
			return o, m, usage("%w", err)
		}
		// Nothing at all is meant, not what is usual.
		*t.to = max(*t.to, 1)
	}
	for _, q := range c.Ask {
		ask := timeline.Question(q)
		if len(ask.Choices()) == 0 || !known(ask) {
			return o, m, usage("nothing asks %q; known are %s", q, join(timeline.Questions()))
		}
		o.Ask = append(o.Ask, ask)
	}
	if c.Difficulty != "" {
		low, high, ok := strings.Cut(c.Difficulty, "-")
		if !ok {
			high = low
		}
		if _, err := fmt.Sscanf(low+" "+high, "%d %d", &o.Easiest, &o.Hardest); err != nil || o.Easiest < 1 || o.Hardest < o.Easiest || o.Hardest > 5 {
			return o, m, usage("%q is no difficulty; write 3, or 2-4, of 1 to 5", c.Difficulty)
		}
	}
	for _, id := range c.Choose {
		o.Chosen = append(o.Chosen, timeline.ID(id))
	}
	for _, x := range c.Cut {
		id, at, ok := strings.Cut(x, "=")
		t, err := app.ParseClock(at)
		if !ok || err != nil {
			return o, m, usage("%q ends no clip; write the example and a time of its film, as i4f2...=12:30.5", x)
		}
		o.Cuts[timeline.ID(id)] = t
	}
	if c.Size != "" {
		m.Width, m.Height, err = parsePixels(c.Size)
	}
	return o, m, err
}

func known(q timeline.Question) bool {
	for _, x := range timeline.Questions() {
		if x == q {
			return true
		}
	}
	return false
}

type quizJSON struct {
	Quiz     string   `json:"quiz"`
	Items    int      `json:"questions"`
	Group    []string `json:"group_files"`
	Trainer  []string `json:"trainer_files"`
	Length   float64  `json:"film_s"`
	Solution float64  `json:"solution_s,omitempty"`
	Notes    []string `json:"notes,omitempty"`
}

func (c *quizMakeCmd) Run(e *env) (err error) {
	if (len(c.Bout) == 0) == (c.Plan == "") {
		return usage("name the bout files to draw from, or --plan with the plan of a quiz that was made")
	}
	o, m, err := c.options()
	if err != nil {
		return err
	}
	paths := c.Bout
	var got quiz.Drawn
	if c.Plan != "" {
		if got.Plan, err = quiz.ReadPlanFile(c.Plan); err != nil {
			return err
		}
		if len(c.Language) > 0 {
			got.Plan.Languages = c.Language
		}
		if c.Title != "" {
			got.Plan.Title = c.Title
		}
		paths = got.Plan.Paths()
	}
	b, err := quiz.OpenBouts(e.app, paths)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, b.Close()) }()
	if c.Plan == "" {
		if got, err = quiz.Draw(b, o); err != nil {
			return err
		}
	}
	made, err := quiz.Make(e.ctx, e.app, b, got.Plan, c.Into, m)
	if err != nil {
		return err
	}
	out := quizJSON{
		Quiz: got.Plan.ID, Items: len(got.Plan.Items), Group: made.Group, Trainer: made.Trainer,
		Length: made.Film.Length.Seconds(), Solution: made.Solution.Length.Seconds(), Notes: got.Notes,
	}
	if e.asJSON {
		return e.printJSON(out)
	}
	e.printf("quiz %s: %s, the film runs %s\n", got.Plan.ID, count(out.Items, "question"), app.Clock(made.Film.Length))
	for _, n := range got.Notes {
		e.printf("  %s\n", n)
	}
	e.printf("for the group:\n")
	for _, f := range made.Group {
		e.printf("  %s\n", f)
	}
	e.printf("for you alone:\n")
	for _, f := range made.Trainer {
		e.printf("  %s\n", f)
	}
	return nil
}

type quizShowCmd struct {
	Plan string `arg:"" help:"The plan.json of the quiz." type:"existingfile"`
}

func (quizShowCmd) Help() string {
	return `The list tells the answers: it is the trainer's.

Example:
  whistlecut quiz show "quiz May/trainer/plan.json"`
}

func (c *quizShowCmd) Run(e *env) error {
	p, err := quiz.ReadPlanFile(c.Plan)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(p)
	}
	e.printf("quiz %s, %q, seed %d, rules of %s\n", p.ID, p.Title, p.Seed, p.Edition)
	rows := [][]string{{"no.", "asked", "verdict", "called", "level", "from"}}
	for _, x := range p.Items {
		row := []string{fmt.Sprint(x.Number), string(x.Ask), quiz.AnswerText(x.Ask, x.Verdicts[0], x.Codes, "en"), "", "", x.Source}
		if !x.Called.IsZero() {
			row[3] = quiz.AnswerText(x.Ask, x.Called, x.Codes, "en")
		}
		if x.Difficulty > 0 {
			row[4] = fmt.Sprint(x.Difficulty)
		}
		rows = append(rows, row)
	}
	e.table(rows)
	return nil
}
