package quiz

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"os"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/app/examples"
	"whistlecut/app/reels"
	"whistlecut/export/print"
	"whistlecut/export/reel"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
)

// How the solution shows a question.
const (
	// throughCall is how much film follows on the signal.
	throughCall = 4 * time.Second
	// Reading a solution: two words a second (common practice, no source), at least
	// shortestVerdict.
	shortestVerdict = 6 * time.Second
	longestVerdict  = 25 * time.Second
	lettersASecond  = 14
)

// opinion stands under every verdict.
const opinion = "A training opinion, not a correction of the officials."

// SolutionFilm makes the trainer's film: for every question the clip through the
// call, then the verdicts with their rule, the trainer's words and what was called on
// the day. What was drawn on the film is shown.
func SolutionFilm(ctx context.Context, a *app.App, b *Bouts, p Plan, out string, o FilmOptions) (reel.Result, error) {
	o = o.usual()
	if err := o.check(); err != nil {
		return reel.Result{}, err
	}
	m := newMaker(ctx, a, b, p)
	return m.make(out, words.In(p.main(), "Solution: {.title}", "title", p.Title), o, "making the film of the solution", m.solve)
}

// solve gives the sections of the solution.
func (m *maker) solve(o FilmOptions) ([]reel.Section, error) {
	out := []reel.Section{m.card("", openingCard/2, words.In(m.p.main(), "Solution: {.title}", "title", m.p.Title),
		m.each(func(l string) []string { return []string{words.In(l, opinion)} })...)}
	for _, x := range m.p.Items {
		head := Heading(x.Number, m.p.main())
		out = append(out, m.card(head, questionCard, head, m.each(func(l string) []string { return []string{Asking(x.Ask, x.Asked, l)} })...))
		f, err := m.through(x, o)
		if err != nil {
			return nil, err
		}
		title, lines := m.verdict(x)
		letters := len([]rune(title))
		for _, l := range lines {
			letters += len([]rune(l))
		}
		stands := min(max(shortestVerdict, time.Duration(letters)*time.Second/lettersASecond), longestVerdict)
		out = append(out, reel.Section{Film: f}, m.card("", stands, title, lines...))
	}
	return out, nil
}

// through is the clip of a question and what follows on it, with its sound.
func (m *maker) through(x Item, o FilmOptions) (*reel.Film, error) {
	path, err := m.path(x)
	if err != nil {
		return nil, err
	}
	s, t, err := m.session(x)
	if err != nil {
		return nil, err
	}
	to := max(x.Shown.End, t.Example.Signal.Film, t.Example.End.Film) + throughCall
	if d := s.Facts.Footage[x.Footage].Duration; d > 0 {
		to = max(min(to, d), x.Shown.End)
	}
	f := &reel.Film{Path: path, From: x.Shown.Start, To: to, Mute: o.Mute}
	v := m.files[path].Info.Video
	f.Layers = reels.DrawnOver(s.Facts, x.Footage, timeline.TimeRange{Start: f.From, End: f.To},
		reel.Fit(v.Width, v.Height, m.form.Whole()), func(timeline.Drawing) bool { return true })
	return f, nil
}

// verdict is the solution of a question in words: the preferred answer, and lines
// below it.
func (m *maker) verdict(x Item) (title string, lines []string) {
	codes := x.Codes
	title = Heading(x.Number, m.p.main()) + ": " + AnswerText(x.Ask, x.Verdicts[0], codes, m.p.main())
	lines = m.each(func(l string) (out []string) {
		if l != m.p.main() {
			out = append(out, AnswerText(x.Ask, x.Verdicts[0], codes, l))
		}
		for _, v := range x.Verdicts[1:] {
			out = append(out, words.In(l, "Also accepted: {.answer}", "answer", AnswerText(x.Ask, v, codes, l)))
		}
		return out
	})
	if x.Words != "" {
		lines = append(lines, x.Words)
	}
	return title, append(lines, m.each(func(l string) []string {
		return []string{m.called(x, l), words.In(l, opinion) + " " + words.In(l, "By the rules of {.edition}", "edition", x.Edition)}
	})...)
}

// called says what the officials called on the day.
func (m *maker) called(x Item, language string) string {
	switch {
	case x.Called.IsZero():
		return words.In(language, "What was called on the day is not known")
	case x.Called.Choice == timeline.ChoiceNo && x.Ask == timeline.AskPenalty:
		return words.In(language, "Nobody called anything on the day")
	}
	return words.In(language, "Called on the day: {.answer}", "answer", AnswerText(x.Ask, x.Called, x.Codes, language))
}

// SolutionPaper prints the solution as PDF in the main language: for every question
// a still, the verdicts, the call of the day, other trainers' opinions and where it is
// in the film of the solution, whose sections are given where that was made.
func SolutionPaper(ctx context.Context, a *app.App, b *Bouts, p Plan, sections []reel.SectionResult, path string) error {
	m := newMaker(ctx, a, b, p)
	if err := p.Check(); err != nil {
		return fmt.Errorf("cannot print the solution: %w", err)
	}
	l := p.main()
	in := print.Session{
		Title: words.In(l, "Solution: {.title}", "title", p.Title),
		Under: fmt.Sprintf("%s  ·  %s  ·  %s", p.ID, p.Made.Format(time.DateOnly), words.In(l, "By the rules of {.edition}", "edition", p.Edition)),
		Notes: []string{words.In(l, opinion), words.In(l, consent)},
	}
	step := a.Step("printing the solution")
	for i, x := range p.Items {
		item := print.SessionItem{Number: x.Number, Title: AnswerText(x.Ask, x.Verdicts[0], x.Codes, l), Captions: []string{Asking(x.Ask, x.Asked, l)}}
		var talk []string
		for _, v := range x.Verdicts[1:] {
			talk = append(talk, words.In(l, "Also accepted: {.answer}", "answer", AnswerText(x.Ask, v, x.Codes, l)))
		}
		talk = append(talk, m.called(x, l))
		if x.Words != "" {
			talk = append(talk, x.Words)
		}
		var about []string
		if x.Impact == timeline.ImpactSome {
			about = append(about, words.In(l, "with an effect on play"))
		} else if x.Impact == timeline.ImpactNone {
			about = append(about, words.In(l, "without an effect on play"))
		}
		if x.Difficulty > 0 {
			about = append(about, words.In(l, "Difficulty {.n} of 5", "n", x.Difficulty))
		}
		if x.Source != "" {
			about = append(about, x.Source)
		}
		s, _, err := m.session(x)
		if err != nil {
			return err
		}
		for _, o := range examples.OpinionsOn(s.Facts, x.Example) {
			talk = append(talk, words.In(l, "{.by} says: {.answer}", "by", o.By, "answer", AnswerText(x.Ask, o.Answer, x.Codes, l)))
		}
		item.Talk = strings.Join(append(talk, strings.Join(about, "  ·  ")), "\n")
		// The solution's film has an opening card, and three sections a question.
		if k := 1 + 3*i; k+2 < len(sections) {
			item.Start = sections[k].Start
			item.Length = sections[k].Length + sections[k+1].Length + sections[k+2].Length
		}
		if item.Still, err = m.still(x); err != nil {
			item.Still, item.NoStill = nil, err.Error()
			if m.ctx.Err() != nil {
				return err
			}
		}
		in.Items = append(in.Items, item)
		step(float64(i+1) / float64(len(p.Items)))
	}
	var text bytes.Buffer
	if err := print.WriteSession(&text, in, print.Options{Language: l, Made: p.Made}); err != nil {
		return fmt.Errorf("cannot print the solution: %w", err)
	}
	return ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, text.Bytes(), 0o644) })
}

// still is the last picture a question shows, with what is hidden hidden.
func (m *maker) still(x Item) (image.Image, error) {
	path, err := m.path(x)
	if err != nil {
		return nil, err
	}
	s, _, err := m.session(x)
	if err != nil {
		return nil, err
	}
	img, err := reel.Still(m.ctx, m.files[path], x.Shown.End-1, reels.StillWidth, reels.StillHeight)
	if err != nil {
		return nil, err
	}
	reels.HideOn(img, s.Facts, x.Footage, x.Shown.End-1)
	return img, nil
}
