package reels

import (
	"context"
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/export/caption"
	"whistlecut/export/clip"
	"whistlecut/export/overlay"
	"whistlecut/export/reel"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// MakeOptions say how a reel becomes a film.
type MakeOptions struct {
	Out string // the film; "" names it after the reel, in Dir
	Dir string
	// Width and Height of the pictures, 0 as most of the film has.
	Width, Height int
	// Subtitles writes WebVTT and SubRip files beside the film, one a language.
	Subtitles bool
	// Sheet prints the session sheet beside the film.
	Sheet    bool
	Reencode bool
	// Told hears how far the making is, besides the App's own progress.
	Told func(reel.Progress)
}

// Made says what became of a reel.
type Made struct {
	reel.Result
	Reel      timeline.Reel
	Parts     []timeline.Part // as many as Sections, in the same order
	Subtitles []string        // files
	Sheet     string          // the session sheet
	Notes     []string        // what is to be said, in sentences
}

// Make makes a reel into a film. It goes on where an earlier try was stopped.
func Make(ctx context.Context, a *app.App, s *app.Session, id timeline.ID, o MakeOptions) (Made, error) {
	r, ok := s.Facts.Reels[id]
	if !ok {
		return Made{}, errors.New("that reel is not part of this bout")
	}
	parts := s.Facts.ReelParts(id)
	if len(parts) == 0 {
		return Made{}, fmt.Errorf("the reel %q has no part yet; choose moments and add them", r.Name)
	}
	if o.Out == "" {
		o.Out = filepath.Join(o.Dir, FileName(r.Name)+".mp4")
	}
	out := Made{Reel: r, Parts: parts}
	b := newBuilder(ctx, a, s, r)
	film, err := b.reel(parts, o)
	if err != nil {
		return out, err
	}
	step := a.Step("making the reel")
	film.Progress = func(p reel.Progress) {
		step(p.Fraction)
		if o.Told != nil {
			o.Told(p)
		}
	}
	out.Result, err = film.Make(ctx, a.Runner)
	if err != nil {
		return out, err
	}
	out.Notes = b.notes
	for i, x := range out.Sections {
		for _, n := range x.Notes {
			out.Notes = append(out.Notes, fmt.Sprintf("part %d: %s", i+1, n))
		}
	}
	if o.Subtitles {
		if out.Subtitles, err = subtitles(r, parts, out.Sections, o.Out); err != nil {
			return out, err
		}
	}
	if o.Sheet {
		out.Sheet = strings.TrimSuffix(o.Out, filepath.Ext(o.Out)) + ".pdf"
		err = b.sheet(parts, out.Sections, out.Sheet)
	}
	return out, err
}

// FileName is a reel's name as a file can have it.
func FileName(name string) string {
	if s := clip.SafeName(name); s != "" {
		return s
	}
	return "reel"
}

// subtitles writes the captions beside the film.
func subtitles(r timeline.Reel, parts []timeline.Part, sections []reel.SectionResult, film string) ([]string, error) {
	lengths := make([]time.Duration, len(sections))
	for i, x := range sections {
		lengths[i] = x.Length
	}
	var out []string
	base := strings.TrimSuffix(film, filepath.Ext(film))
	for _, t := range caption.OfReel(r.Name, r.Languages, parts, lengths) {
		if len(t.Cues) == 0 {
			continue
		}
		for _, form := range []struct {
			ext   string
			write func(*strings.Builder) error
		}{
			{".vtt", func(b *strings.Builder) error { return caption.WriteVTT(b, t) }},
			{".srt", func(b *strings.Builder) error { return caption.WriteSRT(b, t) }},
		} {
			var text strings.Builder
			if err := form.write(&text); err != nil {
				return out, fmt.Errorf("cannot write the captions: %w", err)
			}
			name := base + "." + t.Language + form.ext
			if err := writeWhole(name, []byte(text.String())); err != nil {
				return out, fmt.Errorf("cannot write the captions: %w", err)
			}
			out = append(out, name)
		}
	}
	return out, nil
}

// builder turns stored parts into sections with painted pictures.
type builder struct {
	ctx   context.Context
	a     *app.App
	s     *app.Session
	r     timeline.Reel
	files map[string]*footage.File
	all   map[string]timeline.Moment
	form  reel.Format
	notes []string
}

func newBuilder(ctx context.Context, a *app.App, s *app.Session, r timeline.Reel) *builder {
	return &builder{ctx: ctx, a: a, s: s, r: r, files: map[string]*footage.File{}, all: moments(s)}
}

// reel lays out the whole film. Pictures are painted once its size is known.
func (b *builder) reel(parts []timeline.Part, o MakeOptions) (reel.Reel, error) {
	film := reel.Reel{Out: o.Out, Title: b.r.Name, Width: o.Width, Height: o.Height, Resume: true, Reencode: o.Reencode, Files: b.files}
	var errs []error
	for i, p := range parts {
		x, err := b.section(p)
		if err != nil {
			errs = append(errs, fmt.Errorf("part %d: %w", i+1, err))
			continue
		}
		film.Sections = append(film.Sections, x)
	}
	if err := errors.Join(errs...); err != nil {
		return film, fmt.Errorf("cannot make the reel: %w", err)
	}
	var err error
	if b.form, err = film.Format(b.ctx, b.a.Runner); err != nil {
		return film, err
	}
	film.Width, film.Height, film.Rate = b.form.Width, b.form.Height, b.form.Rate
	for i, p := range parts {
		b.paint(&film.Sections[i], p)
	}
	return film, nil
}

func (b *builder) section(p timeline.Part) (reel.Section, error) {
	main := first(b.r.Languages)
	if p.Card != nil {
		return reel.Section{
			Chapter: p.Card.Title.In(main),
			// A picture of the right size follows; the format is chosen by films.
			Card: &reel.Card{Image: image.NewRGBA(image.Rect(0, 0, 16, 9)), Length: p.Card.Length},
		}, nil
	}
	c := *p.Clip
	path, err := b.film(c)
	if err != nil {
		return reel.Section{}, err
	}
	if _, err := b.open(path); err != nil {
		return reel.Section{}, err
	}
	shown := c.Shown()
	f := &reel.Film{Path: path, From: shown.Start, To: shown.End, Mute: c.Mute}
	for _, v := range c.Speeds {
		if from, to := max(v.Range.Start, shown.Start), min(v.Range.End, shown.End); from < to {
			f.Speeds = append(f.Speeds, reel.Speed{From: from, To: to, Rate: v.Rate})
		}
	}
	for _, z := range c.Freezes {
		if z.At >= shown.Start && z.At < shown.End && z.Length > 0 {
			f.Freezes = append(f.Freezes, reel.Freeze{At: z.At, Length: z.Length})
		}
	}
	if c.Beside != "" {
		if f.Beside, err = b.beside(c, shown.Start); err != nil {
			return reel.Section{}, err
		}
	}
	x := reel.Section{Chapter: p.Caption.In(main), Film: f}
	if x.Chapter == "" {
		l := labels(b.s, b.all, c)
		x.Chapter = strings.TrimSpace(jamLabel(l) + " " + l["kind"])
	}
	return x, nil
}

func jamLabel(l map[string]string) string {
	if l["jam"] == "" {
		return ""
	}
	return "P" + l["period"] + " J" + l["jam"]
}

// film is the path of a clip's film.
func (b *builder) film(c timeline.Clip) (string, error) {
	if c.Other == nil {
		path, err := b.s.Film(c.Footage)
		return path, err
	}
	path, note, err := OtherFilm(b.s, *c.Other)
	if note != "" && !slices.Contains(b.notes, note) {
		b.notes = append(b.notes, note)
	}
	return path, err
}

// beside is where the second camera's film stands when the clip begins.
func (b *builder) beside(c timeline.Clip, at time.Duration) (*reel.Beside, error) {
	second, ok := b.s.Facts.Footage[c.Beside]
	if !ok || c.Other != nil {
		return nil, errors.New("the second camera's film is not part of this bout")
	}
	id, film, ok := b.s.Bout.Alignment.FilmOn(second.Camera, timeline.OnFilm(c.Footage, at))
	if !ok {
		return nil, fmt.Errorf("the camera %s does not show this moment, or is not in step with the other one yet", second.Camera)
	}
	path, err := b.s.Film(id)
	if err != nil {
		return nil, err
	}
	return &reel.Beside{Path: path, From: film}, nil
}

// paint paints the card, or what lies over the film.
func (b *builder) paint(x *reel.Section, p timeline.Part) {
	w, h := b.form.Width, b.form.Height
	if p.Card != nil {
		var lines []string
		languages := b.r.Languages[:min(len(b.r.Languages), 2)]
		title := p.Card.Title.In(first(languages))
		if len(languages) == 2 {
			if other := p.Card.Title.In(languages[1]); other != title {
				lines = append(lines, other)
			}
		}
		said := map[string]bool{"": true}
		for _, l := range append(languages[:len(languages):len(languages)], "") {
			if t := p.Caption.In(l); !said[t] {
				said[t] = true
				lines = append(lines, t)
			}
		}
		x.Card.Image = overlay.Card(w, h, title, lines...)
		return
	}
	c := *p.Clip
	shown := c.Shown()
	in := b.form.Whole()
	if c.Beside != "" {
		in, _ = b.form.Halves()
	}
	if f, err := b.open(x.Film.Path); err == nil {
		in = reel.Fit(f.Info.Video.Width, f.Info.Video.Height, in)
	}
	add := func(l layer, off image.Point, freeze int) {
		x.Film.Layers = append(x.Film.Layers, reel.Layer{
			Image: l.img, X: l.at.X + off.X, Y: l.at.Y + off.Y, From: l.from, To: l.to, Freeze: freeze,
		})
	}
	sketches := Sketches(b.s.Facts, c)
	for _, l := range drawingLayers(sketches, c.Footage, shown, in.Dx(), in.Dy()) {
		add(l, in.Min, 0)
	}
	for i, z := range x.Film.Freezes {
		var only []timeline.Drawing
		for _, t := range frozen(sketches, c.Footage, z.At) {
			if t.Drawing.End.Film == t.Place.Film {
				only = append(only, *t.Drawing)
			}
		}
		if img, at, ok := paint(sketches, only, in.Dx(), in.Dy()); ok {
			add(layer{img: img, at: at}, in.Min, i+1)
		}
	}
	bar := 0
	if b.r.Bar {
		l, tall := barLayer(labels(b.s, b.all, c), shown, w, h)
		l.from, l.to, bar = 0, 0, tall
		add(l, image.Point{}, 0)
	}
	if b.r.Burned {
		if l, ok := captionLayer(p.Caption, b.r.Languages, shown, w, h, bar); ok {
			l.from, l.to = 0, 0
			add(l, image.Point{}, 0)
		}
	}
}

func (b *builder) open(path string) (*footage.File, error) {
	if f := b.files[path]; f != nil {
		return f, nil
	}
	f, err := footage.Open(b.ctx, b.a.Runner, path)
	if err == nil {
		b.files[path] = f
	}
	return f, err
}

func writeWhole(path string, data []byte) error {
	return ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, data, 0o644) })
}
