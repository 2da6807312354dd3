package interchange

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"whistlecut/timeline"
)

// Reel is a film session to be given away.
type Reel struct {
	Name  string
	Rate  Rate // of the whole; gaps are counted in it
	Parts []Part
}

// Part is a card or a clip.
type Part struct {
	Title   string // of a card, or what a clip shows
	Caption string
	Card    time.Duration // length of a card; 0 for a clip
	Film    Film          // of a clip
	Legs    []Leg
}

// Leg is a stretch of a clip at one speed, or a held picture.
type Leg struct {
	From, To time.Duration // film time; To == From where a picture is held
	Rate     float64       // 1 is normal, 0 a held picture
	Length   time.Duration // as shown
}

// Legs breaks a clip into legs, in the order in which they are shown. A freeze
// stands before the picture it holds goes on.
func Legs(c timeline.Clip) []Leg {
	shown := c.Shown()
	// Where something changes.
	cuts := []time.Duration{shown.Start, shown.End}
	for _, s := range c.Speeds {
		cuts = append(cuts, s.Range.Start, s.Range.End)
	}
	for _, f := range c.Freezes {
		cuts = append(cuts, f.At)
	}
	cuts = slices.DeleteFunc(cuts, func(t time.Duration) bool { return t < shown.Start || t > shown.End })
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []Leg
	for i, t := range cuts {
		for _, f := range c.Freezes {
			if f.At == t && f.Length > 0 && t < shown.End {
				out = append(out, Leg{From: t, To: t, Length: f.Length})
			}
		}
		if i+1 == len(cuts) {
			break
		}
		rate := 1.0
		for _, s := range c.Speeds {
			if s.Rate > 0 && s.Range.Contains(t) {
				rate = s.Rate
			}
		}
		to := cuts[i+1]
		leg := Leg{t, to, rate, time.Duration(float64(to-t) / rate)}
		if n := len(out); n > 0 && out[n-1].Rate == rate && out[n-1].To == t {
			out[n-1].To, out[n-1].Length = to, out[n-1].Length+leg.Length
			continue
		}
		out = append(out, leg)
	}
	return out
}

// Length is how long the part is shown.
func (p Part) Length() time.Duration {
	sum := p.Card
	for _, l := range p.Legs {
		sum += l.Length
	}
	return sum
}

// Timeline puts the reel on one track. A card is a gap of its length with a marker
// that says its words; a clip is a clip for each stretch at one speed. A film
// beside another one, drawings and burned captions are in the film that the
// program makes, not here.
func (r Reel) Timeline() Timeline {
	var items []Item
	for i, p := range r.Parts {
		note := Marker{Schema: "Marker.2", Name: p.Title, Color: "CYAN", Comment: p.Caption, Metadata: Metadata{}}
		if p.Card > 0 {
			length := r.Rate.span(0, p.Card)
			g := gap(p.Title, length)
			note.Range = length
			g.Markers = []Marker{note}
			items = append(items, g)
			continue
		}
		for n, l := range p.Legs {
			source := p.Film.Rate.span(l.From, l.From+l.Length)
			if source.Duration.Value == 0 {
				continue // shorter than half a frame
			}
			x := Item{
				Schema: "Clip.2", Name: cmp.Or(p.Title, fmt.Sprintf("clip %d", i+1)), Source: &source, Enabled: true,
				Media: p.Film.media(), Active: defaultMedia, Metadata: ours("part", fmt.Sprint(i+1), "caption", p.Caption),
			}
			switch {
			case l.Rate == 0:
				x.Effects = []Effect{{Schema: "FreezeFrame.1", Name: "", EffectName: "FreezeFrame", Metadata: Metadata{}}}
			case l.Rate != 1:
				x.Effects = []Effect{{Schema: "LinearTimeWarp.1", Name: "", EffectName: "LinearTimeWarp", Scalar: Number(l.Rate), Metadata: Metadata{}}}
			}
			if n == 0 && p.Caption != "" {
				note.Range = source
				x.Markers = []Marker{note}
			}
			items = append(items, x)
		}
	}
	return timelineOf(r.Name, []Track{videoTrack(r.Name, items)})
}

// Chapters are the parts of the reel as chapters.
func (r Reel) Chapters() []Chapter {
	var out []Chapter
	at := time.Duration(0)
	for i, p := range r.Parts {
		if length := p.Length(); length > 0 {
			out = append(out, Chapter{cmp.Or(p.Title, p.Caption, fmt.Sprintf("part %d", i+1)), at, at + length})
			at += length
		}
	}
	return out
}
