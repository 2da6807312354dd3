package app

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"whistlecut/export/interchange"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// Formats in which a bout or a reel is given to other programs.
const (
	FormatOTIO     = "otio"
	FormatCSV      = "csv"
	FormatChapters = "chapters"
)

// InterchangeOptions say what is given away and how.
type InterchangeOptions struct {
	Reel   timeline.ID // "" for the bout with its jams, penalties and marks
	Dir    string      // made if it is not there
	Name   string      // of the file without its ending
	Format string      // FormatOTIO, FormatCSV or FormatChapters
}

// Interchanged says what was written.
type Interchanged struct {
	Files []string
	Notes []string // what is to be said, in sentences
}

// Interchange writes a bout or one of its reels for editing programs and players.
// Chapters of a bout are one file for each film that shows a jam.
func (a *App) Interchange(ctx context.Context, s *Session, o InterchangeOptions) (Interchanged, error) {
	x := giver{a: a, s: s, ctx: ctx, films: map[string]interchange.Film{}}
	var out Interchanged
	type file struct {
		name  string
		write func(io.Writer) error
	}
	var files []file
	if o.Reel != "" {
		r, err := x.reel(o.Reel)
		if err != nil {
			return out, err
		}
		switch o.Format {
		case FormatCSV:
			files = append(files, file{o.Name + ".csv", r.WriteCSV})
		case FormatChapters:
			files = append(files, file{o.Name + ".chapters.txt", func(w io.Writer) error { return interchange.WriteChapters(w, r.Name, r.Chapters()) }})
		default:
			files = append(files, file{o.Name + ".otio", func(w io.Writer) error { return interchange.WriteOTIO(w, r.Timeline()) }})
		}
	} else {
		b, err := x.bout()
		if err != nil {
			return out, err
		}
		switch o.Format {
		case FormatCSV:
			files = append(files, file{o.Name + ".csv", b.WriteCSV})
		case FormatChapters:
			taken := map[string]bool{}
			for i := range b.Films {
				f := &b.Films[i]
				list := f.Chapters()
				if len(list) == 0 {
					continue
				}
				name := filepath.Base(f.Path)
				if taken[strings.ToLower(name)] { // films of two folders may be called alike
					name = fmt.Sprintf("%s (%d)", name, i+1)
				}
				taken[strings.ToLower(name)] = true
				files = append(files, file{name + ".chapters.txt", func(w io.Writer) error { return interchange.WriteChapters(w, b.Title, list) }})
			}
			if len(files) == 0 {
				return out, fmt.Errorf("no jam is on film yet, so there is no chapter; place the jams with: whistlecut align %s", s.Path)
			}
		default:
			files = append(files, file{o.Name + ".otio", func(w io.Writer) error { return interchange.WriteOTIO(w, b.Timeline()) }})
		}
	}
	if err := os.MkdirAll(o.Dir, 0o755); err != nil {
		return out, fmt.Errorf("cannot make the folder %s: %w; choose another place", o.Dir, err)
	}
	for _, f := range files {
		path := filepath.Join(o.Dir, f.name)
		if err := printTo(path, f.write); err != nil {
			return out, err
		}
		out.Files = append(out.Files, path)
	}
	out.Notes = x.notes
	return out, nil
}

// giver collects what is given away.
type giver struct {
	a     *App
	s     *Session
	ctx   context.Context
	films map[string]interchange.Film // by path
	notes []string
}

// film is a film as other programs need it. A film that is missing is named, and
// counted at a usual rate.
func (x *giver) film(path string) (interchange.Film, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		abs = path
	}
	if f, ok := x.films[abs]; ok {
		return f, nil
	}
	f := interchange.Film{Path: abs}
	switch probed, err := x.a.openNamed(x.ctx, abs); {
	case x.ctx.Err() != nil:
		return f, x.ctx.Err()
	case err != nil:
		f.Missing = true
		x.notes = append(x.notes, fmt.Sprintf("%s cannot be read (%v); it is named, and its times are counted at 30 frames a second", filepath.Base(abs), err))
	default:
		v := probed.Info.Video
		rate := v.AverageRate
		if !rate.Known() {
			rate = v.Rate
		}
		f.Rate, f.Length = interchange.Rate{Num: rate.Num, Den: rate.Den}, lengthOf(probed)
		if v.Variable {
			x.notes = append(x.notes, filepath.Base(abs)+" has frames of different lengths; frames are counted at its mean rate, times stay as they are")
		}
	}
	x.films[abs] = f
	return f, nil
}

// lengthOf is how long a film's picture is as its container says, else the file.
func lengthOf(f *footage.File) time.Duration {
	return cmp.Or(f.Info.Video.Duration, f.Info.Duration)
}

// path is where a footage file is, or was.
func (x *giver) path(id timeline.ID) string {
	if p, err := x.s.Film(id); err == nil {
		return p
	}
	p := x.s.Facts.Footage[id].Path
	if !filepath.IsAbs(p) {
		p = filepath.Join(filepath.Dir(x.s.Path), p)
	}
	return p
}

// bout is all footage with its jams, penalties and marks.
func (x *giver) bout() (interchange.Bout, error) {
	facts := &x.s.Facts
	b := interchange.Bout{Title: cmp.Or(facts.Info.Title, strings.TrimSuffix(filepath.Base(x.s.Path), Ext))}
	list := slices.SortedFunc(maps.Values(facts.Footage), func(a, b timeline.Footage) int {
		return cmp.Or(cmp.Compare(a.Camera, b.Camera), cmp.Compare(a.Order, b.Order), cmp.Compare(a.ID, b.ID))
	})
	if len(list) == 0 {
		return b, fmt.Errorf("%s has no footage yet; add some with the desk or with: whistlecut new", x.s.Path)
	}
	at := map[timeline.ID]int{}
	for _, f := range list {
		film, err := x.film(x.path(f.ID))
		if err != nil {
			return b, err
		}
		if f.Duration > 0 {
			film.Length = f.Duration
		}
		film.Camera = f.Camera
		if film.Start, film.Placed = x.start(f.ID); !film.Placed && len(list) > 1 {
			x.notes = append(x.notes, fmt.Sprintf("%s shows no jam in common with the other films; it is not in step with them", filepath.Base(film.Path)))
		}
		at[f.ID] = len(b.Films)
		b.Films = append(b.Films, film)
	}
	kinds := []timeline.Kind{timeline.KindJam, timeline.KindPenalty, timeline.KindMark}
	for _, m := range timeline.Find(x.s.Bout, *facts, timeline.Selection{Kinds: kinds}) {
		mark := markOf(m)
		for _, on := range m.Film {
			if i, ok := at[on.Footage]; ok {
				mark.At, mark.End = on.From, on.To
				b.Films[i].Marks = append(b.Films[i].Marks, mark)
			}
		}
	}
	return b, nil
}

// start is where a file starts on the clock of its group, and whether anything
// places it. Groups of films that show no common jam have clocks of their own; only
// the first one's are in step here.
func (x *giver) start(id timeline.ID) (time.Duration, bool) {
	a := x.s.Bout.Alignment
	spot, ok := a.Files[id]
	if !ok || a.Stretches[spot.Stretch].Group != 0 {
		return 0, false
	}
	g, ok := a.GroupAt(id, 0)
	return g.At, ok
}

func markOf(m timeline.Moment) interchange.Mark {
	out := interchange.Mark{Kind: interchange.MarkKind(m.Kind), Note: m.Note, Period: m.Period, Jam: m.Number, Side: "", Skater: strings.TrimSpace(string(m.Who) + " " + m.Name)}
	if m.Side != timeline.NoSide {
		out.Side = m.Side.String()
	}
	place := ""
	if m.Number > 0 {
		place = fmt.Sprintf("P%d J%d", m.Period, m.Number)
	}
	switch m.Kind {
	case timeline.KindJam:
		out.Name = place
	case timeline.KindPenalty:
		out.Name = strings.Join(strings.Fields(strings.Join([]string{"penalty", m.Code, out.Side, string(m.Who)}, " ")), " ")
	default:
		out.Name = cmp.Or(m.Note, "mark")
	}
	return out
}

// reel is a reel with its films.
func (x *giver) reel(id timeline.ID) (interchange.Reel, error) {
	r, ok := x.s.Facts.Reels[id]
	if !ok {
		return interchange.Reel{}, fmt.Errorf("that reel is not part of this bout")
	}
	out := interchange.Reel{Name: r.Name}
	language := ""
	if len(r.Languages) > 0 {
		language = r.Languages[0]
	}
	for _, p := range x.s.Facts.ReelParts(id) {
		part := interchange.Part{Caption: p.Caption.In(language)}
		if p.Card != nil {
			part.Title, part.Card = p.Card.Title.In(language), p.Card.Length
			out.Parts = append(out.Parts, part)
			continue
		}
		path := x.path(p.Clip.Footage)
		if o := p.Clip.Other; o != nil {
			path = o.Film
		}
		f, err := x.film(path)
		if err != nil {
			return out, err
		}
		if out.Rate == (interchange.Rate{}) {
			out.Rate = f.Rate
		}
		c := *p.Clip
		if c.Beside != "" {
			x.notes = append(x.notes, fmt.Sprintf("part %d shows another film beside this one; the other one is left out", len(out.Parts)+1))
		}
		if f.Length > 0 { // the film made ends with its footage, too
			if over := c.Shown().End - f.Length; over > 0 {
				c.After -= over
			}
		}
		part.Title, part.Film, part.Legs = x.title(c), f, interchange.Legs(c)
		out.Parts = append(out.Parts, part)
	}
	if len(out.Parts) == 0 {
		return out, fmt.Errorf("the reel %q has no part yet; choose moments and add them", r.Name)
	}
	return out, nil
}

// title says what a clip shows: its jam and kind.
func (x *giver) title(c timeline.Clip) string {
	place := ""
	if o := c.Other; o != nil {
		if o.Shown["jam"] != "" {
			place = "P" + o.Shown["period"] + " J" + o.Shown["jam"]
		}
		return strings.TrimSpace(place + " " + c.Kind)
	}
	for _, j := range x.s.Bout.Jams {
		if j.ID == c.Jam {
			place = fmt.Sprintf("P%d J%d", j.Period, j.Number)
		}
	}
	return strings.TrimSpace(place + " " + c.Kind)
}
