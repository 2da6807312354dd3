package main

import (
	"errors"

	"whistlecut/app"
)

type doctorCmd struct {
	Bout string   `arg:"" optional:"" help:"A bout file to look at, too."`
	Find []string `help:"Look for the bout's missing films in this folder and all below it; repeat for several." placeholder:"DIR" sep:"none"`
}

func (doctorCmd) Help() string {
	return `Looks for ffmpeg and the encoders that clips need, at the folders the program
keeps things in, and with a bout file at its footage and its tags. Films that were
moved or renamed are found again with --find, by what is in them.

Examples:
  whistlecut doctor final.bout --find /media/card
  whistlecut doctor
  whistlecut doctor final.bout`
}

func (c *doctorCmd) Run(e *env) error {
	found, err := c.find(e)
	if err != nil {
		return err
	}
	list := e.app.Doctor(e.ctx, c.Bout)
	sick := 0
	rows := [][]string{}
	for _, h := range list {
		state := "ok"
		if !h.OK {
			state, sick = "look", sick+1
		}
		rows = append(rows, []string{state, h.What, h.Detail})
	}
	if e.asJSON {
		out := map[string]any{"checks": list}
		if len(c.Find) > 0 {
			out["films"] = found
		}
		if err := e.printJSON(out); err != nil {
			return err
		}
	} else {
		e.table(rows)
	}
	if sick > 0 {
		return errors.New("something needs a look; see the lines above")
	}
	return nil
}

// find looks for missing films where it is asked to and says what came of it.
func (c *doctorCmd) find(e *env) (found []app.FoundFilm, err error) {
	if len(c.Find) == 0 {
		return nil, nil
	}
	if c.Bout == "" {
		return nil, usage("--find needs the bout file whose films are missing")
	}
	s, err := e.app.Open(c.Bout, false)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	found, err = e.app.FindMissing(e.ctx, s, c.Find)
	if e.asJSON || err != nil {
		return append([]app.FoundFilm{}, found...), err
	}
	for _, f := range found {
		if f.Now != "" {
			e.printf("found %s: %s\n", f.Was, f.Now)
		} else {
			e.printf("not found: %s: %s\n", f.Was, f.Why)
		}
	}
	if len(found) == 0 {
		e.printf("no film is missing\n")
	}
	return found, nil
}
