package main

import (
	"path/filepath"
	"strings"

	"whistlecut/app"
	"whistlecut/app/reels"
)

type interchangeCmd struct {
	Bout   string `arg:"" help:"The bout file."`
	Reel   string `help:"Give this reel away instead of the bout." placeholder:"NAME"`
	Into   string `default:"." help:"Folder for the files." placeholder:"DIR"`
	Format string `enum:"otio,csv,chapters" default:"otio" help:"otio (OpenTimelineIO), csv (a table) or chapters (metadata text for ffmpeg)." placeholder:"FORMAT"`
}

func (interchangeCmd) Help() string {
	return `A bout goes with all its films, cameras in step, and its jams, penalties and marks
as markers. A reel goes as its clips with their speeds and held pictures; cards become
gaps with a marker. Films are named by where they lie and not copied. Chapters of a
bout are one file for each film; they get into it by
  ffmpeg -i film.mp4 -i film.mp4.chapters.txt -map 0 -map_chapters 1 -c copy new.mp4

Examples:
  whistlecut interchange final.bout --into edit
  whistlecut interchange final.bout --reel "Tuesday" --into edit
  whistlecut interchange final.bout --format csv`
}

func (c *interchangeCmd) Run(e *env) error {
	s, err := e.app.Open(c.Bout, true)
	if err != nil {
		return err
	}
	defer s.Close()
	o := app.InterchangeOptions{Dir: c.Into, Format: c.Format, Name: strings.TrimSuffix(filepath.Base(c.Bout), app.Ext)}
	if c.Reel != "" {
		r, err := reels.ByName(s, c.Reel)
		if err != nil {
			return err
		}
		o.Reel, o.Name = r.ID, reels.FileName(r.Name)
	}
	out, err := e.app.Interchange(e.ctx, s, o)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"files": out.Files, "notes": out.Notes})
	}
	e.wrote(out.Files...)
	for _, n := range out.Notes {
		e.printf("%s\n", n)
	}
	return nil
}
