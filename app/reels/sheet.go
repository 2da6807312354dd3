package reels

import (
	"context"
	"image"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/export/overlay"
	"whistlecut/export/print"
	"whistlecut/export/reel"
	"whistlecut/timeline"
)

// Size of the stills of a session sheet in pixels, at most; they are printed 56 mm wide,
// so this is about 220 dots an inch.
const StillWidth, StillHeight = 480, 270

// Sheet prints the session sheet of a reel: each part with a still, its captions,
// its talking point and its time in the reel. It needs no finished film; sections
// are those of one that was made, else nil. A still that cannot be taken is left
// out and said on the paper.
func Sheet(ctx context.Context, a *app.App, s *app.Session, id timeline.ID, sections []reel.SectionResult, path string) error {
	return newBuilder(ctx, a, s, s.Facts.Reels[id]).sheet(s.Facts.ReelParts(id), sections, path)
}

func (b *builder) sheet(parts []timeline.Part, sections []reel.SectionResult, path string) error {
	s, r := b.s, b.r
	language := first(r.Languages)
	in := print.Session{Title: r.Name, Under: boutLine(s).In(""), Target: r.Target, Notes: []string{words.In(language, consentNote)}}
	step := b.a.Step("printing the session sheet")
	var at time.Duration
	for i, p := range parts {
		if err := b.ctx.Err(); err != nil {
			return err
		}
		x := print.SessionItem{Number: i + 1, Start: at, Length: p.Length(), Talk: p.Point}
		if i < len(sections) {
			x.Start, x.Length = sections[i].Start, sections[i].Length
		}
		at = x.Start + x.Length
		said := map[string]bool{"": true}
		for _, l := range append(r.Languages[:len(r.Languages):len(r.Languages)], "") {
			if t := p.Caption.In(l); !said[t] {
				said[t] = true
				x.Captions = append(x.Captions, t)
			}
		}
		if p.Card != nil {
			x.Card = true
			x.Title = p.Card.Title.In(language)
		} else {
			l := labels(s, b.all, *p.Clip)
			x.Title = strings.Join(strings.Fields(jamLabel(l)+" "+l["kind"]+" "+l["skater"]), " ")
			img, err := b.still(*p.Clip)
			if err != nil {
				x.NoStill = err.Error()
			} else {
				x.Still = img
			}
		}
		in.Items = append(in.Items, x)
		step(float64(i+1) / float64(len(parts)))
	}
	return app.PrintSession(path, in, app.PrintOptions(language))
}

// still is the picture at a clip's moment, with what is drawn on it.
func (b *builder) still(c timeline.Clip) (image.Image, error) {
	path, err := b.film(c)
	if err != nil {
		return nil, err
	}
	f, err := b.open(path)
	if err != nil {
		return nil, err
	}
	at := c.Range.Start
	if len(c.Freezes) > 0 {
		at = c.Freezes[0].At
	}
	img, err := reel.Still(b.ctx, f, at, StillWidth, StillHeight)
	if err != nil {
		return nil, err
	}
	sketches := Sketches(b.s.Facts, c)
	var list []timeline.Drawing
	for _, t := range frozen(sketches, c.Footage, at) {
		list = append(list, *t.Drawing)
	}
	var p overlay.Painter
	p.Paint(img, list, overlay.TeamColours(sketches.Teams[0].Colour, sketches.Teams[1].Colour))
	return img, nil
}
