package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"whistlecut/app"
	"whistlecut/export/clip"
)

type cutCmd struct {
	Bout string `arg:"" optional:"" help:"The bout file; leave it out with --footage."`
	selectFlags
	Into    string `required:"" help:"Folder for the clips." placeholder:"DIR"`
	Footage string `help:"Cut a window of this film instead." placeholder:"FILE"`
	From    string `help:"Film time at which the window starts." placeholder:"T"`
	To      string `help:"Film time at which it ends; the frame shown from then on is not in the clip." placeholder:"T"`
	marginFlags
	Name     string `help:"Template of the names from {n} {film} {period} {jam} {skater} {side} {kind} {code} {clock} {score}; what stands in [ ] is left out when a word in it is empty." placeholder:"TEMPLATE"`
	Caption  bool   `help:"Draw a bar with period, jam, clock, score, skater and kind into each clip."`
	Reencode bool   `help:"Encode whole clips anew, also where the film could be copied."`
}

func (cutCmd) Help() string {
	return `First and last frame are exact. Clips that need no caption are copied but for
their edges. Overlapping windows of one film become one clip. Beside each clip
lies a JSON file that says what it is. A batch that was stopped goes on when it
is run again.

Examples:
  whistlecut cut final.bout --situation "power jam" --into "power jams"
  whistlecut cut final.bout --kind penalty --skater "home 052" --before 10s --caption --into 052
  whistlecut cut --footage film.mp4 --from 12:30 --to 13:10.5 --into clips`
}

// nameWords are the words of a name template.
var nameWords = []string{"n", "film", "period", "jam", "skater", "side", "kind", "code", "clock", "score", "from"}

var nameWord = regexp.MustCompile(`\{([^{}]*)\}`)

func (c *cutCmd) Run(e *env) error {
	o := app.CutOptions{Dir: c.Into, Name: c.Name, Margins: app.DefaultMargins(), Captions: c.Caption, Reencode: c.Reencode}
	for _, m := range nameWord.FindAllStringSubmatch(c.Name, -1) {
		if !slices.Contains(nameWords, m[1]) {
			return usage("a name knows no {%s}; its words are {%s}", m[1], strings.Join(nameWords, "} {"))
		}
	}
	if c.Footage != "" {
		return c.window(e, o)
	}
	switch {
	case c.Bout == "":
		return usage("name a bout file, or a film with --footage, --from and --to")
	case c.From != "" || c.To != "":
		return usage("--from and --to go with --footage")
	case !c.any():
		return usage("say what to cut, for example --kind jam or --situation \"power jam\"; find lists it first")
	}
	if err := c.addTo(&o.Margins); err != nil {
		return err
	}
	s, err := e.app.Open(c.Bout, true)
	if err != nil {
		return err
	}
	defer s.Close()
	sel, err := c.selection(s)
	if err != nil {
		return err
	}
	rep, err := e.app.Cut(e.ctx, s, sel, o)
	if e.asJSON {
		return errors.Join(err, e.printJSON(clipsJSON(rep.Clips)))
	}
	printClips(e, c.Into, rep.Clips)
	if n := len(rep.NotShot); n > 0 && err == nil {
		e.printf("%s tagged and not on film\n", count(n, "moment"))
	}
	return err
}

func (c *cutCmd) window(e *env, o app.CutOptions) error {
	if c.Bout != "" || c.any() {
		return usage("--footage cuts a window of a film; leave the bout file and the choices out")
	}
	if c.From == "" || c.To == "" {
		return usage("say which window: --from and --to")
	}
	if len(c.Before)+len(c.After) > 0 {
		return usage("--before and --after go with a bout file; a window is what --from and --to say")
	}
	if c.Caption {
		return usage("a caption needs a bout file: a window of a film has nothing to say")
	}
	from, err := app.ParseClock(c.From)
	if err != nil {
		return usage("--from: %w", err)
	}
	to, err := app.ParseClock(c.To)
	if err != nil {
		return usage("--to: %w", err)
	}
	if to <= from {
		return usage("the window ends at %s, which is not after its start at %s", app.Clock(to), app.Clock(from))
	}
	one, err := e.app.CutWindow(e.ctx, c.Footage, from, to, o)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(clipsJSON([]clip.Clip{one}))
	}
	printClips(e, c.Into, []clip.Clip{one})
	return nil
}

type clipJSON struct {
	File       string   `json:"file"`
	Source     string   `json:"source"`
	FirstFrame int      `json:"first_frame"`
	LastFrame  int      `json:"last_frame"`
	FirstTime  float64  `json:"first_time_s"`
	LastTime   float64  `json:"last_time_s"`
	End        float64  `json:"end_s"`
	Method     string   `json:"method"`
	Why        string   `json:"why,omitempty"`
	Encoded    int      `json:"encoded_frames"`
	Clamped    bool     `json:"clamped,omitempty"`
	Dropped    []string `json:"dropped,omitempty"`
	Kept       bool     `json:"kept,omitempty"`
	Error      string   `json:"error,omitempty"`
}

func clipsJSON(clips []clip.Clip) map[string]any {
	out := []clipJSON{}
	for _, c := range clips {
		r := c.Result
		x := clipJSON{
			File: r.Out, Source: c.Window.Footage, FirstFrame: r.FirstFrame, LastFrame: r.LastFrame,
			FirstTime: r.FirstTime.Seconds(), LastTime: r.LastTime.Seconds(), End: r.End.Seconds(),
			Method: string(r.Method), Why: r.Why, Encoded: r.Encoded, Clamped: r.Clamped, Dropped: r.Dropped, Kept: c.Kept,
		}
		if c.Err != nil {
			x.Error = c.Err.Error()
		}
		out = append(out, x)
	}
	return map[string]any{"clips": out}
}

// madeBy says how a clip was made.
func madeBy(c clip.Clip) string {
	r := c.Result
	switch {
	case c.Kept:
		return "kept from an earlier run"
	case r.Method == clip.Copied:
		return "copied"
	case r.Method == clip.Edges:
		return "copied, " + count(r.Encoded, "frame") + " at the edges encoded"
	case r.Why != "":
		return "encoded: " + r.Why
	}
	return "encoded"
}

func printClips(e *env, dir string, clips []clip.Clip) {
	rows := [][]string{{"clip", "first frame", "last frame", "length", "made by"}}
	notes := []string{}
	for _, c := range clips {
		r := c.Result
		if r.Out == "" {
			continue
		}
		rows = append(rows, []string{
			filepath.Base(r.Out),
			fmt.Sprintf("%d at %s", r.FirstFrame, app.Clock(r.FirstTime)), fmt.Sprintf("%d at %s", r.LastFrame, app.Clock(r.LastTime)),
			app.Clock(r.End - r.FirstTime), madeBy(c),
		})
		if r.Clamped {
			notes = append(notes, filepath.Base(r.Out)+": the window reached beyond the film and was shortened")
		}
		for _, d := range r.Dropped {
			notes = append(notes, filepath.Base(r.Out)+": left out "+d)
		}
		if r.Silent {
			notes = append(notes, filepath.Base(r.Out)+": the film has no sound in this window")
		}
	}
	if len(rows) > 1 {
		e.table(rows)
		e.printf("%s in %s\n", count(len(rows)-1, "clip"), dir)
	}
	for _, n := range notes {
		e.printf("%s\n", n)
	}
}
