package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/reels"
	"whistlecut/export/reel"
	"whistlecut/timeline"
)

type reelCmd struct {
	Bout string `arg:"" help:"The bout file."`
	Name string `help:"The reel; a new one is begun when moments are added to a name that is not there." placeholder:"NAME"`
	selectFlags
	Marks    bool     `help:"Add every mark of the bout."`
	From     string   `help:"Choose the moments of another bout; its film stays where it is." type:"existingfile" placeholder:"BOUT"`
	FromReel string   `help:"With --from: add the parts of a reel of that bout." placeholder:"NAME"`
	First    int      `help:"Add at most so many moments." placeholder:"N"`
	Language []string `help:"Languages of the captions, the main one first: en, es, fr, de." placeholder:"CODE"`
	Titles   bool     `help:"Put a title before the first clip and before each period."`
	Target   string   `help:"Length wanted, as 30:00." placeholder:"T"`
	marginFlags
	Burned   bool   `help:"Draw the captions into the picture."`
	Bar      bool   `help:"Draw a bar with period, jam, clock, score and skater under each clip."`
	Take     string `help:"Take a reel in from a JSON file, as --give writes it." type:"existingfile" placeholder:"FILE"`
	Give     bool   `help:"Print the reel as JSON, with its drawings, to be changed and taken in again."`
	Delete   bool   `help:"Delete the reel; tags and film stay. Undo brings it back."`
	Into     string `help:"Make the film, with its captions as subtitle files and its session sheet, in this folder." placeholder:"DIR"`
	Sheet    string `help:"Print the session sheet alone, as PDF." placeholder:"FILE"`
	Size     string `help:"Size of the picture, as 1280x720; without it as most of the film has." placeholder:"WxH"`
	Reencode bool   `help:"Encode all film anew, also where it could be copied."`
}

func (reelCmd) Help() string {
	return `Without a name the reels of the bout are listed, with a name its parts. Moments are
chosen as find does and put behind the last part. The film is exact to the frame;
clips that nothing is drawn over are copied where that is possible. A making that
was stopped goes on when it is run again.

Examples:
  whistlecut reel final.bout
  whistlecut reel final.bout --name "Tuesday" --situation "power jam" --titles --language en --language es
  whistlecut reel final.bout --name "Tuesday" --marks
  whistlecut reel final.bout --name "Tuesday" --from semifinal.bout --kind "star pass"
  whistlecut reel final.bout --name "Tuesday" --bar --into "film night"
  whistlecut reel final.bout --name "Tuesday" --give > tuesday.json`
}

func (c *reelCmd) Run(e *env) error {
	adding := c.any() || c.Marks || c.FromReel != ""
	edits := adding || c.Take != "" || c.Delete || len(c.Language) > 0 || c.Target != "" || c.Burned || c.Bar
	switch {
	case c.Name == "" && c.Take == "" && (edits || c.Into != "" || c.Sheet != "" || c.Give):
		return usage("say which reel: --name \"Tuesday\"")
	case c.FromReel != "" && c.From == "":
		return usage("--from-reel names a reel of another bout: say which by --from")
	case c.From != "" && !adding:
		return usage("say what of %s is to be added: --kind, --situation, --marks or --from-reel", c.From)
	case c.Delete && (adding || c.Take != "" || c.Into != ""):
		return usage("--delete goes alone with --name")
	}
	s, err := e.app.Open(c.Bout, !edits)
	if err != nil {
		return err
	}
	defer s.Close()
	if c.Name == "" && c.Take == "" {
		return c.list(e, s)
	}
	r, err := c.change(e, s, adding)
	if err != nil || c.Delete {
		return err
	}
	switch {
	case c.Give:
		var b bytes.Buffer
		if err := reels.Export(s.Facts, r.ID).Write(&b); err != nil {
			return err
		}
		e.printf("%s", b.String())
		return nil
	case c.Into != "":
		return c.film(e, s, r)
	case c.Sheet != "":
		if err := reels.Sheet(e.ctx, e.app, s, r.ID, nil, c.Sheet); err != nil {
			return err
		}
		e.printf("session sheet: %s\n", c.Sheet)
		return nil
	}
	return c.parts(e, s, r)
}

// change does what the flags ask for with the reel.
func (c *reelCmd) change(e *env, s *app.Session, adding bool) (timeline.Reel, error) {
	if c.Take != "" {
		data, err := os.ReadFile(c.Take)
		if err != nil {
			return timeline.Reel{}, err
		}
		r, changes, err := reels.Import(s, data)
		if err != nil {
			return r, err
		}
		if err := s.Apply("reel "+r.Name+" taken in", changes...); err != nil {
			return r, err
		}
		if c.Name == "" {
			c.Name = string(r.ID)
		}
	}
	r, err := reels.ByName(s, c.Name)
	if err != nil && !adding {
		return r, err
	}
	if c.Delete {
		e.printf("deleted reel %q with %s; undo brings it back\n", r.Name, count(len(s.Facts.ReelParts(r.ID)), "part"))
		return r, s.Apply("reel "+r.Name+" deleted", reels.Delete(s.Facts, r.ID)...)
	}
	var changes []timeline.Change
	begun := err != nil
	if begun {
		r, _ = reels.New(s, c.Name)
	}
	before := r
	if len(c.Language) > 0 {
		r.Languages = c.Language
	}
	if c.Target != "" {
		if r.Target, err = app.ParseClock(c.Target); err != nil {
			return r, usage("%w", err)
		}
	}
	r.Burned, r.Bar = r.Burned || c.Burned, r.Bar || c.Bar
	if err := timeline.CheckReel(r); err != nil {
		return r, usage("%w", err)
	}
	if begun || fmt.Sprint(before) != fmt.Sprint(r) {
		changes = append(changes, timeline.SetReel(r))
	}
	label := "reel " + r.Name
	if adding {
		got, err := c.collect(e, s, r)
		if err != nil {
			return r, err
		}
		changes = append(changes, got...)
	}
	return r, s.Apply(label, changes...)
}

func (c *reelCmd) collect(e *env, s *app.Session, r timeline.Reel) ([]timeline.Change, error) {
	of := s
	if c.From != "" {
		other, err := c.open(e)
		if err != nil {
			return nil, err
		}
		defer other.Close()
		of = other
	}
	if c.FromReel != "" {
		return c.takeParts(e, s, of, r)
	}
	var moments []timeline.Moment
	if c.any() {
		sel, err := c.selection(of)
		if err != nil {
			return nil, err
		}
		moments = timeline.Find(of.Bout, of.Facts, sel)
	}
	if c.Marks {
		moments = append(moments, reels.FromMarks(of)...)
	}
	if len(moments) == 0 {
		return nil, fmt.Errorf("nothing of that is tagged in %s", of.Path)
	}
	o := reels.CollectOptions{Margins: app.DefaultMargins(), Captions: true, Cards: c.Titles}
	if err := c.addTo(&o.Margins); err != nil {
		return nil, err
	}
	if c.First > 0 {
		shown := moments[:0:0]
		for _, m := range moments {
			if len(m.Film) > 0 && len(shown) < c.First {
				shown = append(shown, m)
			}
		}
		moments = shown
	}
	got := reels.CollectFrom(s, of, r, moments, o)
	if len(got.Parts) == len(got.NotShot) || len(got.Parts) == 0 {
		return nil, errors.New("that is tagged, and none of it is on film as far as the jams are placed; place them with: whistlecut align " + of.Path)
	}
	if n := len(got.NotShot); n > 0 && !e.asJSON {
		e.printf("%s tagged and not on film\n", count(n, "moment"))
	}
	return got.Changes, nil
}

func (c *reelCmd) list(e *env, s *app.Session) error {
	type item struct {
		Name   string  `json:"name"`
		Parts  int     `json:"parts"`
		Length float64 `json:"length_s"`
		Target float64 `json:"target_s,omitempty"`
	}
	out := []item{}
	rows := [][]string{{"reel", "parts", "length", "target"}}
	for _, r := range s.Facts.ReelsInOrder() {
		parts := s.Facts.ReelParts(r.ID)
		length := reels.Length(parts)
		out = append(out, item{r.Name, len(parts), length.Seconds(), r.Target.Seconds()})
		target := "-"
		if r.Target > 0 {
			target = app.Clock(r.Target)
		}
		rows = append(rows, []string{r.Name, fmt.Sprint(len(parts)), app.Clock(length), target})
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"reels": out})
	}
	if len(out) == 0 {
		e.printf("this bout has no reel yet; begin one with: whistlecut reel %s --name NAME --situation \"power jam\"\n", c.Bout)
		return nil
	}
	e.table(rows)
	return nil
}

func (c *reelCmd) parts(e *env, s *app.Session, r timeline.Reel) error {
	parts := s.Facts.ReelParts(r.ID)
	if e.asJSON {
		return e.printJSON(reels.Export(s.Facts, r.ID))
	}
	rows := [][]string{{"", "at", "length", "film", "caption"}}
	var at time.Duration
	for i, p := range parts {
		film, said := "title", p.Caption
		if p.Card != nil {
			said = p.Card.Title
		} else if o := p.Clip.Other; o != nil {
			film = p.Clip.Kind + " " + o.Film + " " + app.Clock(p.Clip.Shown().Start) + " (" + o.Title + ")"
		} else {
			film = p.Clip.Kind + " " + s.Facts.Footage[p.Clip.Footage].Path + " " + app.Clock(p.Clip.Shown().Start)
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), app.Clock(at), app.Clock(p.Length()), film, said.In(first(r.Languages))})
		at += p.Length()
	}
	e.table(rows)
	e.printf("%s, %s", count(len(parts), "part"), app.Clock(at))
	if r.Target > 0 {
		e.printf(", target %s", app.Clock(r.Target))
	}
	e.printf("\n")
	return nil
}

func first(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[0]
}

func (c *reelCmd) film(e *env, s *app.Session, r timeline.Reel) error {
	o := reels.MakeOptions{Dir: c.Into, Subtitles: true, Sheet: true, Reencode: c.Reencode}
	if c.Size != "" {
		var err error
		if o.Width, o.Height, err = parsePixels(c.Size); err != nil {
			return err
		}
		if min(o.Width, o.Height) < 64 || max(o.Width, o.Height) > 8192 {
			return usage("%q is not a size of a film; its sides have 64 to 8192 pixels, as 1280x720", c.Size)
		}
	}
	if err := os.MkdirAll(c.Into, 0o777); err != nil {
		return fmt.Errorf("cannot make the folder for the reel: %w", err)
	}
	made, err := reels.Make(e.ctx, e.app, s, r.ID, o)
	if err != nil {
		return err
	}
	if e.asJSON {
		type part struct {
			Start   float64 `json:"start_s"`
			Length  float64 `json:"length_s"`
			Frames  int     `json:"frames"`
			Method  string  `json:"method"`
			Why     string  `json:"why,omitempty"`
			Encoded int     `json:"encoded_frames"`
		}
		list := []part{}
		for _, x := range made.Sections {
			list = append(list, part{x.Start.Seconds(), x.Length.Seconds(), x.Frames, string(x.Method), x.Why, x.Encoded})
		}
		return e.printJSON(map[string]any{
			"film": made.Out, "length_s": made.Length.Seconds(), "frames": made.Frames, "subtitles": made.Subtitles, "session_sheet": made.Sheet, "parts": list, "notes": made.Notes,
		})
	}
	rows := [][]string{{"", "at", "length", "made by", "chapter"}}
	for i, x := range made.Sections {
		by := string(x.Method)
		switch {
		case x.Kept:
			by = "kept from an earlier run"
		case x.Method == reel.Encoded && x.Why != "":
			by = "encoded: " + x.Why
		case x.Method == reel.Encoded:
			by = "encoded"
		case x.Method == reel.Edges:
			by = "copied, " + count(x.Encoded, "frame") + " at the edges encoded"
		case x.Method == reel.Copied:
			by = "copied"
		}
		said := made.Parts[i].Caption
		if made.Parts[i].Card != nil {
			said = made.Parts[i].Card.Title
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), app.Clock(x.Start), app.Clock(x.Length), by, said.In(first(r.Languages))})
	}
	e.table(rows)
	e.printf("%s, %s: %s\n", count(len(made.Sections), "part"), app.Clock(made.Length), made.Out)
	if len(made.Subtitles) > 0 {
		e.printf("captions: %s\n", strings.Join(made.Subtitles, ", "))
	}
	e.printf("session sheet: %s\n", made.Sheet)
	for _, n := range made.Notes {
		e.printf("%s\n", n)
	}
	return nil
}
