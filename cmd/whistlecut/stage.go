package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"whistlecut/app"
	"whistlecut/app/examples"
	"whistlecut/app/reels"
)

type stageCmd struct {
	Dir      string `arg:"" optional:"" default:"demo" help:"Folder to stage it in; demo without it."`
	Seed     uint64 `default:"7" help:"Another number is another bout." placeholder:"7"`
	Jams     int    `default:"3" placeholder:"4" help:"Jams a period; 0 plays full periods."`
	Periods  int    `default:"2" placeholder:"2" help:"Periods to play; 0 is as the rules say."`
	Size     string `default:"1280x720" placeholder:"1280x720" help:"Size of the picture in pixels."`
	Mistakes int    `default:"5" placeholder:"5" help:"Mistakes planted in the official sheet, at most 8."`
	Events   bool   `help:"Tag every physical event, too, for a recount at pass level."`
}

func (stageCmd) Help() string {
	return `Teams, skaters and officials are invented. The folder gets camera files (their
names sort wrongly, as real ones do), the official sheet with planted mistakes,
the truth as JSON and a bout file with everything tagged, a reel and examples for
a quiz.

Examples:
  whistlecut stage
  whistlecut stage small --size 640x360 --jams 2 --mistakes 3 --seed 12`
}

func (c *stageCmd) Run(e *env) error {
	width, height, err := parsePixels(c.Size)
	if err != nil {
		return err
	}
	if c.Mistakes < 0 || c.Mistakes > 8 || c.Jams < 0 || c.Periods < 0 {
		return usage("mistakes go from 0 to 8, jams and periods are not negative")
	}
	out, err := e.app.Stage(e.ctx, app.StageOptions{
		Dir: c.Dir, Seed: c.Seed, Jams: c.Jams, Periods: c.Periods, Width: width, Height: height, Mistakes: c.Mistakes, Events: c.Events,
	})
	if err != nil {
		return err
	}
	if err := stageReel(e, out.Bout); err != nil {
		return err
	}
	if out.Examples, err = stageExamples(e, out.Bout); err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(out)
	}
	e.printf("%s %d : %d %s, %s\n", out.Teams[0], out.Score[0], out.Score[1], out.Teams[1], count(out.Jams, "jam"))
	e.printf("%s of film made in %s, %.1f times as fast as it plays\n", out.Film, out.Took, out.Times)
	rows := [][]string{{"  bout", out.Bout}, {"  official sheet", out.Sheet}, {"  truth", out.Truth}}
	for i, f := range out.Films {
		rows = append(rows, []string{fmt.Sprintf("  film %d", i+1), f})
	}
	e.table(rows)
	e.printf("%s for a quiz, with verdicts from the truth\n", count(out.Examples, "example"))
	if len(out.Planted) == 0 {
		e.printf("No mistakes are planted in the sheet.\n")
		return nil
	}
	e.printf("%s planted in the sheet:\n", count(len(out.Planted), "mistake"))
	for _, m := range out.Planted {
		e.printf("  %s: %s\n", m.Where(), m.Text)
	}
	return nil
}

// parsePixels reads a size as "1280x720".
func parsePixels(text string) (width, height int, err error) {
	w, h, ok := strings.Cut(text, "x")
	width, err1 := strconv.Atoi(w)
	height, err2 := strconv.Atoi(h)
	if !ok || err1 != nil || err2 != nil {
		return 0, 0, usage("%q is not a size; write width and height in pixels, as 1280x720", text)
	}
	return width, height, nil
}

// stageReel puts a reel into the staged bout.
func stageReel(e *env, bout string) error {
	s, err := e.app.Open(bout, false)
	if err != nil {
		return err
	}
	err = s.Apply("a film session", reels.Staged(s)...)
	return errors.Join(err, s.Close())
}

// stageExamples puts examples with verdicts into the staged bout and counts them.
func stageExamples(e *env, bout string) (int, error) {
	s, err := e.app.Open(bout, false)
	if err != nil {
		return 0, err
	}
	changes := examples.Staged(s)
	err = s.Apply("examples", changes...)
	return len(changes), errors.Join(err, s.Close())
}
