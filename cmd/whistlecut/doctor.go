package main

import "errors"

type doctorCmd struct {
	Bout string `arg:"" optional:"" help:"A bout file to look at, too."`
}

func (doctorCmd) Help() string {
	return `Looks for ffmpeg and the encoders that clips need, at the folders the program
keeps things in, and with a bout file at its footage and its tags.

Examples:
  whistlecut doctor
  whistlecut doctor final.bout`
}

func (c *doctorCmd) Run(e *env) error {
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
		if err := e.printJSON(map[string]any{"checks": list}); err != nil {
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
