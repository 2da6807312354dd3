package main

import (
	"fmt"
	"path/filepath"

	"whistlecut/app"
)

type listenCmd struct {
	File string `arg:"" help:"The film, or a file of sound alone." type:"path"`
}

func (listenCmd) Help() string {
	return `Blasts are listed by the pattern they sound in: short, pair, four, long, rolling.
What was heard is kept, so that asking again is quick. Where nothing can be heard, or
something is odd with the sound, a sentence says so.

Example:
  whistlecut listen GH010042.MP4 --json`
}

// heardBlast and heardSeries are what was heard; the JSON names are documented.
type heardBlast struct {
	Start      float64 `json:"start_s"`
	End        float64 `json:"end_s"`
	Hz         float64 `json:"hz"`
	Confidence float64 `json:"confidence"`
}

type heardSeries struct {
	Kind       string  `json:"kind"`
	Start      float64 `json:"start_s"`
	End        float64 `json:"end_s"`
	Confidence float64 `json:"confidence"`
}

func (c *listenCmd) Run(e *env) error {
	heard, err := e.app.Listen(e.ctx, c.File)
	if err != nil {
		return err
	}
	blasts, series := []heardBlast{}, []heardSeries{}
	for _, b := range heard.Blasts {
		blasts = append(blasts, heardBlast{b.Start.Seconds(), b.End.Seconds(), b.Hz, b.Confidence})
	}
	for _, s := range heard.Series {
		series = append(series, heardSeries{string(s.Kind), s.Start.Seconds(), s.End.Seconds(), s.Confidence})
	}
	if heard.Note != "" {
		fmt.Fprintf(e.err, "%s: %s\n", filepath.Base(c.File), heard.Note)
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"blasts": blasts, "series": series, "length_s": heard.Length.Seconds(), "note": heard.Note})
	}
	rows := [][]string{{"series", "start", "end", "blasts", "confidence"}}
	for _, s := range heard.Series {
		rows = append(rows, []string{string(s.Kind), app.Clock(s.Start), app.Clock(s.End), fmt.Sprint(len(s.Blasts)), fmt.Sprintf("%.0f %%", 100*s.Confidence)})
	}
	e.table(rows)
	e.printf("%s in %d series, %s of sound\n", count(len(heard.Blasts), "blast"), len(heard.Series), app.Clock(heard.Length))
	return nil
}
