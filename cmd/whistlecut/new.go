package main

import (
	"strconv"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
)

type newCmd struct {
	Bout      string   `arg:"" help:"The bout file to make."`
	Footage   []string `short:"f" help:"A footage file; repeat for several. Write CAMERA=FILE for a second camera." placeholder:"FILE" sep:"none"`
	Sheet     string   `short:"s" help:"The official sheet (XLSX, ODS, CSV)." placeholder:"FILE"`
	Mapping   string   `help:"A corrected mapping of the sheet's columns." placeholder:"FILE"`
	Edition   string   `help:"Edition of the rules: 2013, 2014, 2015, 2017, 2019 or 2025; the newest without it." placeholder:"YEAR"`
	Title     string   `help:"What the bout is called." placeholder:"TEXT"`
	Date      string   `help:"Day of the bout, as 2026-03-14." placeholder:"DAY"`
	Venue     string   `help:"Where it was played." placeholder:"TEXT"`
	Home      string   `help:"Name of the home team." placeholder:"TEXT"`
	Away      string   `help:"Name of the away team." placeholder:"TEXT"`
	KeepOrder bool     `help:"Keep the footage in the order given instead of finding it from the film."`
}

func (newCmd) Help() string {
	return `The files of a camera are put in order by what they show, not by their names or
clocks. Film without a sheet and a sheet without film are fine. With a sheet the bout gets
its jams, to be placed on the film by: whistlecut align.

Examples:
  whistlecut new final.bout --sheet sheets.xlsx
  whistlecut new final.bout -f GH010042.MP4 -f GH020042.MP4 -f high=stand.mov -s sheets.xlsx`
}

func (c *newCmd) Run(e *env) error {
	o := app.NewOptions{
		Path: c.Bout, Title: c.Title, Date: c.Date, Venue: c.Venue, Home: c.Home, Away: c.Away,
		Edition: c.Edition, Sheet: c.Sheet, Mapping: c.Mapping, KeepOrder: c.KeepOrder,
	}
	if _, ok := timeline.Edition(c.Edition); !ok && c.Edition != "" {
		return usage("there is no edition %q of the rules; known are 2013, 2014, 2015, 2017, 2019 and 2025", c.Edition)
	}
	if _, err := time.Parse(time.DateOnly, c.Date); err != nil && c.Date != "" {
		return usage("%q is not a day; write it as 2026-03-14", c.Date)
	}
	at := map[string]int{}
	for _, f := range c.Footage {
		camera, file := "main", f
		// A name before "=" is a camera unless it looks like a path.
		if name, rest, ok := strings.Cut(f, "="); ok && name != "" && !strings.ContainsAny(name, `/\.`) {
			camera, file = name, rest
		}
		i, ok := at[camera]
		if !ok {
			i = len(o.Cameras)
			at[camera] = i
			o.Cameras = append(o.Cameras, app.Camera{Name: camera})
		}
		o.Cameras[i].Files = append(o.Cameras[i].Files, file)
	}
	rep, err := e.app.NewBout(e.ctx, o)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(rep)
	}
	e.printf("made %s\n", rep.Path)
	for _, cam := range rep.Cameras {
		if len(cam.Files) == 1 {
			e.printf("camera %s:\n", cam.Camera)
		} else {
			e.printf("camera %s, the order is certain to %.0f %%:\n", cam.Camera, 100*cam.Confidence)
		}
		rows := [][]string{}
		for i, f := range cam.Files {
			rows = append(rows, []string{"  " + strconv.Itoa(i+1), f.Path, f.Film, strings.Join(f.Notes, "; ")})
		}
		e.table(rows)
		for _, w := range cam.Why {
			e.printf("  %s\n", w)
		}
	}
	if rep.Sheet != nil {
		e.printf("sheet %s: %s, understood with a certainty of %.0f %%; %s to be placed on film\n",
			rep.Sheet.Name, count(len(rep.Sheet.Sheet.Rows), "score row"), 100*rep.Sheet.Mapping.Certainty, count(rep.JamsMade, "jam"))
	}
	return nil
}
