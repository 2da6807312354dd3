package reel

import (
	"image"
	"image/draw"
	"reflect"

	"whistlecut/app/desk/reel/pen"
	"whistlecut/export/overlay"
	"whistlecut/timeline"
)

// scene is what lies over the film just now.
type scene struct {
	drawings []timeline.Drawing
	points   []timeline.Point // of the chosen drawing, to be taken by the pointer
	card     *cardText
	caption  []string // in one or two languages
	bar      overlay.Caption
	black    bool
	colours  overlay.Colours
}

// cardText is what a card says.
type cardText struct {
	title string
	lines []string
}

// scene tells what lies over the film at the place where it stands.
func (t *Task) scene() scene {
	var out scene
	if t.desk.Session() == nil {
		return out
	}
	f := t.facts()
	out.colours = overlay.TeamColours(f.Teams[0].Colour, f.Teams[1].Colour)
	if t.show != nil && t.show.black {
		out.black = true
		return out
	}
	if t.run != nil {
		p := t.run.part()
		if p.Card != nil {
			out.card = t.cardText(p)
			return out
		}
		out.caption, out.bar = captionLines(t.reelOf(p), p), t.run.bar
	}
	n := t.desk.Now()
	if n.Footage == "" {
		return out
	}
	frozen := !n.Playing
	if t.run != nil {
		frozen = t.run.frozen() || t.draw != nil
	}
	sketches, on := t.sketched(n)
	if on != n.Footage {
		out.colours = overlay.TeamColours(sketches.Teams[0].Colour, sketches.Teams[1].Colour)
	}
	for _, x := range pen.Seen(sketches, on, n.Film, frozen) {
		d := *x.Drawing
		if t.draw != nil && x.ID == t.draw.chosen {
			if t.draw.moving != nil {
				d = *t.draw.moving
			}
			out.points = d.Points
		}
		out.drawings = append(out.drawings, d)
	}
	if t.draw != nil {
		out.drawings = append(out.drawings, t.draw.loose...)
		if d, ok := t.draw.tool.Draft(); ok && t.draw.tool.Begun() {
			d.Width = t.draw.width
			out.drawings = append(out.drawings, d)
		}
	} else if t.show != nil {
		out.drawings = append(out.drawings, t.show.loose...)
	}
	return out
}

// reelOf is the reel of a part.
func (t *Task) reelOf(p timeline.Part) timeline.Reel { return t.facts().Reels[p.Reel] }

// cardText is a card's title and lines in the reel's languages; what two languages
// say alike stands there once.
func (t *Task) cardText(p timeline.Part) *cardText {
	c := &cardText{}
	var titles, lines []string
	once := func(list []string, s string) []string {
		if s == "" || len(list) > 0 && list[0] == s {
			return list
		}
		return append(list, s)
	}
	for _, l := range languages(t.reelOf(p)) {
		titles, lines = once(titles, p.Card.Title.In(l)), once(lines, p.Caption.In(l))
	}
	if len(titles) > 0 {
		c.title, c.lines = titles[0], titles[1:]
	}
	c.lines = append(c.lines, lines...)
	return c
}

// captionLines are a part's captions in the reel's languages.
func captionLines(r timeline.Reel, p timeline.Part) []string {
	var out []string
	some := false
	for _, l := range languages(r) {
		s := p.Caption.In(l)
		out, some = append(out, s), some || s != ""
	}
	if !some {
		return nil
	}
	return out
}

// same reports whether two scenes look alike.
func (s scene) same(o scene) bool { return reflect.DeepEqual(s, o) }

// empty reports whether nothing is to be painted.
func (s scene) empty() bool {
	return len(s.drawings) == 0 && s.card == nil && len(s.caption) == 0 && s.bar.Empty() && !s.black
}

// paint paints a scene over a film of a size in pixels, as the exported film has it.
func (s scene) paint(size image.Point, p *overlay.Painter) *image.RGBA {
	switch {
	case s.black:
		img := image.NewRGBA(image.Rectangle{Max: size})
		draw.Draw(img, img.Rect, image.Black, image.Point{}, draw.Src)
		return img
	case s.card != nil:
		return overlay.Card(size.X, size.Y, s.card.title, s.card.lines...)
	}
	img := image.NewRGBA(image.Rectangle{Max: size})
	p.Paint(img, s.drawings, s.colours)
	over := func(p *image.RGBA, at image.Point) {
		draw.Draw(img, p.Rect.Add(at), p, p.Rect.Min, draw.Over)
	}
	tall := 0
	if !s.bar.Empty() {
		b := overlay.Bar(size.X, size.Y, s.bar)
		tall = b.Rect.Dy()
		over(b, image.Pt(0, size.Y-tall))
	}
	if len(s.caption) > 0 {
		c := overlay.Captions(size.X, size.Y, s.caption, tall)
		over(c, image.Point{})
	}
	return img
}
