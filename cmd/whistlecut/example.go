package main

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/examples"
	"whistlecut/app/quiz"
	"whistlecut/export/answers"
	"whistlecut/timeline"
)

type exampleCmd struct {
	Bout string `arg:"" help:"The bout file."`

	Of            []string `help:"Mark the tag of that ID as an example: a penalty, a trip, a jam, a mark. find --json lists IDs." placeholder:"TAG"`
	FromPenalties bool     `help:"Mark every penalty that is on film and has no example yet." name:"from-penalties"`
	Marks         bool     `help:"Mark every mark: moments that nobody called."`
	selectFlags

	ID         string   `help:"The example that the following options change; the tag it was made of names it, too." name:"id" placeholder:"EXAMPLE"`
	Verdict    []string `help:"An answer that is right, the preferred one first: yes, no or warning, with letter and section, as \"yes B 4.1.1\"; repeat for several." placeholder:"ANSWER" sep:"none"`
	Difficulty int      `help:"From 1, easy, to 5, hard." placeholder:"N"`
	Impact     string   `enum:"yes,no," default:"" help:"Whether it had an effect on play: yes or no." placeholder:"yes|no"`
	Reason     string   `help:"Your reasoning, for the solution." placeholder:"TEXT"`
	Signal     string   `help:"When anything first tells the call, in the time of its film; none: nobody signalled." placeholder:"T"`
	Sensitive  string   `enum:"yes,no," default:"" help:"Drawn for no quiz unless asked for: yes or no." placeholder:"yes|no"`
	Opinion    string   `help:"Your opinion on another trainer's example, as ANSWER; --reason gives its words." placeholder:"ANSWER"`
	Delete     bool     `help:"Delete the example and the opinions on it; undo brings them back."`
	Blind      bool     `help:"List examples without what anybody called, decided or wrote."`
}

func (exampleCmd) Help() string {
	return `Without options the examples of the bout are listed. A penalty becomes an example in
one step: it begins with the act and is signalled by the call or by the whistle that
was heard before it. Verdicts are training opinions, never corrections of the
officials. Whose they are is --author.

Examples:
  whistlecut example final.bout --from-penalties
  whistlecut example final.bout --kind mark
  whistlecut example final.bout --id i4f2... --verdict "yes B 4.1.1" --verdict warning --difficulty 3
  whistlecut example final.bout --blind
  whistlecut example final.bout --id i4f2... --opinion "no" --author Bea`
}

func (c *exampleCmd) marking() bool {
	return len(c.Of) > 0 || c.FromPenalties || c.Marks || c.any()
}

func (c *exampleCmd) editing() bool {
	return len(c.Verdict) > 0 || c.Difficulty != 0 || c.Impact != "" || c.Reason != "" || c.Signal != "" || c.Sensitive != ""
}

func (c *exampleCmd) Run(e *env) (err error) {
	switch {
	case c.ID == "" && (c.editing() || c.Opinion != "" || c.Delete):
		return usage("say which example: --id EXAMPLE; without options the command lists them")
	case c.ID != "" && c.marking():
		return usage("--id changes one example; mark new ones by a call of its own")
	case c.Delete && (c.editing() || c.Opinion != ""):
		return usage("--delete goes alone with --id")
	}
	edits := c.marking() || c.editing() || c.Opinion != "" || c.Delete
	s, err := e.app.Open(c.Bout, !edits)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if made, ok := examples.Made(s.Facts, timeline.ID(c.ID)); ok && c.ID != "" {
		c.ID = string(made.ID)
	}
	id := timeline.ID(c.ID)
	switch {
	case c.marking():
		return c.mark(e, s)
	case c.Delete:
		if t := s.Facts.Tags[id]; t.Example == nil {
			return fmt.Errorf("%s is no example of this bout", id)
		}
		return s.Apply("example deleted", examples.Delete(s.Facts, id)...)
	case c.Opinion != "":
		a, err := parseVerdict(c.Opinion)
		if err != nil {
			return err
		}
		_, change, err := examples.Opine(s, id, e.app.Author, a, c.Reason)
		if err != nil {
			return err
		}
		return s.Apply("opinion on an example", change)
	case c.editing():
		if err := c.edit(s, id); err != nil {
			return err
		}
	}
	return c.list(e, s)
}

// mark makes examples of what was asked for.
func (c *exampleCmd) mark(e *env, s *app.Session) error {
	var moments []timeline.Moment
	if c.any() {
		sel, err := c.selection(s)
		if err != nil {
			return err
		}
		moments = timeline.Find(s.Bout, s.Facts, sel)
	}
	for _, k := range []struct {
		on   bool
		kind timeline.Kind
	}{{c.FromPenalties, timeline.KindPenalty}, {c.Marks, timeline.KindMark}} {
		if k.on {
			moments = append(moments, timeline.Find(s.Bout, s.Facts, timeline.Selection{Kinds: []timeline.Kind{k.kind}})...)
		}
	}
	if len(c.Of) > 0 {
		for _, id := range c.Of {
			got := timeline.Find(s.Bout, s.Facts, timeline.Selection{Tags: []timeline.ID{timeline.ID(id)}})
			if len(got) == 0 {
				return fmt.Errorf("%s is no tag of this bout; find --json lists IDs", id)
			}
			moments = append(moments, got[0])
		}
	}
	if len(moments) == 0 {
		return errors.New("nothing of that is tagged in this bout")
	}
	o := examples.Options{Heard: examples.Heard(e.app, s)}
	var changes []timeline.Change
	var out exampleMarked
	for _, m := range moments {
		t, add, err := examples.OfMoment(s, m, o)
		switch {
		case errors.Is(err, examples.ErrMade):
			out.Known++
		case err != nil:
			out.Not = append(out.Not, err.Error())
		case !out.twice(t):
			changes = append(changes, add...)
			out.IDs = append(out.IDs, t.ID)
		}
	}
	if err := s.Apply("examples", changes...); err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(out)
	}
	e.printf("%s marked", count(len(out.IDs), "example"))
	if out.Known > 0 {
		e.printf(", %d known before", out.Known)
	}
	e.printf("\n")
	for _, why := range out.Not {
		e.printf("  %s\n", why)
	}
	return nil
}

type exampleMarked struct {
	IDs   []timeline.ID `json:"marked"`
	Known int           `json:"known_before"`
	Not   []string      `json:"not_marked,omitempty"`
	taken map[timeline.ID]bool
}

// twice reports whether an example of the same tag was made in this call.
func (m *exampleMarked) twice(t timeline.Tag) bool {
	if m.taken == nil {
		m.taken = map[timeline.ID]bool{}
	}
	of := t.Example.Source
	was := of != "" && m.taken[of]
	m.taken[of] = true
	return was
}

func (c *exampleCmd) edit(s *app.Session, id timeline.ID) error {
	var verdicts []timeline.Answer
	for _, text := range c.Verdict {
		a, err := parseVerdict(text)
		if err != nil {
			return err
		}
		verdicts = append(verdicts, a)
	}
	var signal time.Duration
	if c.Signal != "" && c.Signal != "none" {
		var err error
		if signal, err = app.ParseClock(c.Signal); err != nil {
			return usage("%w", err)
		}
	}
	_, changes, err := examples.Edit(s, id, func(x *timeline.Example) {
		if verdicts != nil {
			x.Verdicts, x.Edition, x.By = verdicts, s.Bout.Rules.Edition, s.File.Log().Author()
		}
		if c.Difficulty != 0 {
			x.Difficulty = c.Difficulty
		}
		switch c.Impact {
		case "yes":
			x.Impact = timeline.ImpactSome
		case "no":
			x.Impact = timeline.ImpactNone
		}
		if c.Reason != "" {
			x.Words = c.Reason
		}
		if c.Signal == "none" {
			x.Signal = timeline.Place{}
		} else if c.Signal != "" {
			x.Signal = timeline.OnFilm(s.Facts.Tags[id].Place.Footage, signal)
		}
		if c.Sensitive != "" {
			x.Sensitive = c.Sensitive == "yes"
		}
	})
	if err != nil {
		return err
	}
	return s.Apply("example", changes...)
}

var sectionAtEnd = regexp.MustCompile(`^(.*?)[\s,;]+(\d+(?:\.\d+)*)$`)

// parseVerdict reads an answer with the section it rests on, as "yes B 4.1.1".
func parseVerdict(text string) (timeline.Answer, error) {
	section := ""
	if m := sectionAtEnd.FindStringSubmatch(strings.TrimSpace(text)); m != nil {
		text, section = m[1], m[2]
	}
	a, err := answers.ParseAnswer(text)
	if err != nil {
		return a, usage("%w", err)
	}
	if a.IsZero() {
		return a, usage("%q is no answer; write yes, no or warning, with letter and section, as \"yes B 4.1.1\"", text)
	}
	a.Section = section
	return a, nil
}

func (c *exampleCmd) list(e *env, s *app.Session) error {
	type item struct {
		timeline.Tag
		Period   int                `json:"period,omitempty"`
		Number   int                `json:"number,omitempty"`
		Opinions []timeline.Opinion `json:"opinions,omitempty"`
		Changed  []examples.Change  `json:"changed,omitempty"`
	}
	out := []item{}
	rows := [][]string{{"example", "jam", "film", "asked", "called", "verdict", "level"}}
	var notes []string
	for _, x := range examples.List(s) {
		t := x.Tag
		if c.ID != "" && t.ID != timeline.ID(c.ID) {
			continue
		}
		if c.Blind {
			t = examples.Blind(t)
			out = append(out, item{Tag: t})
		} else {
			out = append(out, item{t, x.Period, x.Jam, x.Opinions, x.Changed})
		}
		ex := t.Example
		row := []string{string(t.ID), "", app.Clock(t.Place.Film), string(ex.Ask), "", "", ""}
		if !c.Blind {
			codes := s.Bout.Rules.Codes
			if x.Jam > 0 {
				row[1] = fmt.Sprintf("%d.%d", x.Period, x.Jam)
			}
			if !ex.Called.IsZero() {
				row[4] = quiz.AnswerText(ex.Ask, ex.Called, codes, "en")
			}
			row[5] = "open"
			if len(ex.Verdicts) > 0 {
				row[5] = quiz.AnswerText(ex.Ask, ex.Verdicts[0], codes, "en")
			}
			if n := len(ex.Verdicts); n > 1 {
				row[5] += fmt.Sprintf(" +%d", n-1)
			}
			if ex.Difficulty > 0 {
				row[6] = fmt.Sprint(ex.Difficulty)
			}
			if ex.Sensitive {
				row[6] = strings.TrimSpace(row[6] + " sensitive")
			}
			for _, o := range x.Opinions {
				notes = append(notes, fmt.Sprintf("%s: %s says %s", t.ID, o.By, quiz.AnswerText(ex.Ask, o.Answer, codes, "en")))
			}
			for _, d := range x.Changed {
				notes = append(notes, fmt.Sprintf("%s: %s", t.ID, d))
			}
		}
		rows = append(rows, row)
	}
	switch {
	case e.asJSON:
		return e.printJSON(out)
	case len(out) == 0:
		e.printf("This bout has no examples yet. Mark its penalties: whistlecut example %s --from-penalties\n", s.Path)
		return nil
	}
	e.table(rows)
	for _, n := range notes {
		e.printf("  %s\n", n)
	}
	return nil
}
