package timeline

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"time"
)

// Reel is a film session: clips and cards in an order, with captions and talking
// points. Its parts are records of their own (Part), so that two people can work
// on one reel and merge.
type Reel struct {
	ID    ID      `json:"id"`
	Name  string  `json:"name"`
	Order float64 `json:"order,omitempty"` // sorts the reels of a bout
	// Target is the length wanted, 0 for none.
	Target time.Duration `json:"target,omitempty"`
	// Languages of captions and titles (ISO 639-1, "en"), the main one first;
	// at most two are shown at once.
	Languages []string `json:"languages,omitempty"`
	// Burned captions are drawn into the picture; subtitle files are written anyway.
	Burned bool `json:"burned,omitempty"`
	// Bar draws period, jam, clock, score and skater under each clip.
	Bar bool `json:"bar,omitempty"`
}

// Words are one text in several languages, by ISO 639-1 code; the code "" holds
// for every language that has none of its own.
type Words map[string]string

// In is the text in a language; where it is missing the one of code "", else of
// the first code in order.
func (w Words) In(language string) string {
	if s, ok := w[language]; ok {
		return s
	}
	if s, ok := w[""]; ok {
		return s
	}
	for _, k := range slices.Sorted(maps.Keys(w)) {
		return w[k]
	}
	return ""
}

// Part is one part of a reel: a card with words on it, or a stretch of film.
// Exactly one of Card and Clip is set.
type Part struct {
	ID    ID      `json:"id"`
	Reel  ID      `json:"reel"`
	Order float64 `json:"order"` // sorts the parts of a reel; fractions insert between
	Card  *Card   `json:"card,omitempty"`
	Clip  *Clip   `json:"clip,omitempty"`
	// Caption is shown under the clip, and as the second line of a card.
	Caption Words `json:"caption,omitempty"`
	// Point is the talking point: printed on the session sheet, not in the film.
	Point string `json:"point,omitempty"`
	// Private notes are for the person who presents, in no film and on no sheet.
	Private string `json:"private,omitempty"`
}

// Card is a title shown for a while between clips.
type Card struct {
	Title  Words         `json:"title"`
	Length time.Duration `json:"length"`
}

// Clip is a stretch of film in a reel.
type Clip struct {
	Footage ID        `json:"footage"`
	Range   TimeRange `json:"range"` // the moment, in film time; Start == End for an instant
	// Before and After say how much film is shown round the moment.
	Before time.Duration `json:"before,omitempty"`
	After  time.Duration `json:"after,omitempty"`
	// Beside is film of another camera shown on the right, in step by bout time.
	Beside ID `json:"beside,omitempty"`
	// Speeds are stretches at another speed, in film time; they do not overlap.
	Speeds []Speed `json:"speeds,omitempty"`
	// Freezes hold the picture, in order of film time.
	Freezes []Freeze `json:"freezes,omitempty"`
	Mute    bool     `json:"mute,omitempty"`
	// What it shows, for captions, packs and lists.
	Moment  string      `json:"moment,omitempty"` // key of the moment it was made of
	Kind    string      `json:"kind,omitempty"`   // "penalty", "power jam"...
	Jam     ID          `json:"jam,omitempty"`
	Tags    []ID        `json:"tags,omitempty"`
	Skaters []SkaterRef `json:"skaters,omitempty"`
	// Other is set when the film belongs to another bout.
	Other *OtherBout `json:"other,omitempty"`
}

// OtherBout says where a clip of another bout comes from. Its words are as they
// were when the clip was collected.
type OtherBout struct {
	Bout        string `json:"bout"`  // path of the bout file, last known
	Title       string `json:"title"` // of the bout
	Film        string `json:"film"`  // path of the film, last known
	Fingerprint string `json:"fingerprint,omitempty"`
	// Length of the film, 0 where it is not known.
	Length time.Duration `json:"length,omitempty"`
	// Shown is what the bar under the clip says.
	Shown map[string]string `json:"shown,omitempty"`
	// Drawings are that bout's on the film of the clip, with their places there; what
	// one of them hides is hidden in this bout's films, too. Colours are its teams'.
	Drawings []Tag     `json:"drawings,omitempty"`
	Colours  [2]string `json:"colours,omitzero"`
}

// Speed is a stretch of a clip shown slower or faster.
type Speed struct {
	Range TimeRange `json:"range"` // film time
	Rate  float64   `json:"rate"`  // 0.1 to 4; 0.5 is half as fast
}

// Freeze holds one picture.
type Freeze struct {
	At     time.Duration `json:"at"` // film time
	Length time.Duration `json:"length"`
}

// Shown is the film a clip shows with its margins, in film time; it never
// begins before the film does.
func (c Clip) Shown() TimeRange {
	return TimeRange{max(0, c.Range.Start-c.Before), max(c.Range.Start, c.Range.End) + c.After}
}

// Length is how long a part runs, in seconds of the reel: film at its speeds,
// and its freezes.
func (p Part) Length() time.Duration {
	switch {
	case p.Card != nil:
		return p.Card.Length
	case p.Clip == nil:
		return 0
	}
	return p.Clip.Length()
}

// Length is how long the clip runs at its speeds and with its freezes.
func (c Clip) Length() time.Duration {
	shown := c.Shown()
	sum := shown.Duration()
	for _, s := range c.Speeds {
		from, to := max(s.Range.Start, shown.Start), min(s.Range.End, shown.End)
		if from < to && s.Rate > 0 {
			sum += time.Duration(float64(to-from)/s.Rate) - (to - from)
		}
	}
	for _, f := range c.Freezes {
		if f.At >= shown.Start && f.At < shown.End {
			sum += f.Length
		}
	}
	return sum
}

// ReelParts lists the parts of a reel in order.
func (f Facts) ReelParts(reel ID) []Part {
	var out []Part
	for _, p := range f.Parts {
		if p.Reel == reel {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b Part) int { return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.ID, b.ID)) })
	return out
}

// ReelsInOrder lists the reels of a bout in order.
func (f Facts) ReelsInOrder() []Reel {
	return slices.SortedFunc(maps.Values(f.Reels), func(a, b Reel) int {
		return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
}

// Bounds of a reel; they only keep out mistakes of unit or sign.
const (
	slowest     = 0.1
	fastest     = 4.0
	longestPart = 4 * time.Hour
)

// CheckReel checks a reel that comes from outside. The error is a *FieldError.
func CheckReel(r Reel) error {
	c := &checker{}
	c.id("id", r.ID, true)
	c.text("name", r.Name, longestLabel)
	c.span("target", r.Target, 0, longestJamTime)
	c.order("order", r.Order)
	for i, l := range r.Languages {
		if l == "" || len(l) > 12 {
			c.fail(fmt.Sprintf("languages[%d]", i), "%q is no language code; want one such as en", l)
		}
	}
	return c.err
}

// CheckPart checks a part of a reel that comes from outside. The error is a
// *FieldError.
func CheckPart(p Part) error {
	c := &checker{}
	c.id("id", p.ID, true)
	c.id("reel", p.Reel, true)
	c.order("order", p.Order)
	c.words("caption", p.Caption)
	c.text("point", p.Point, longestNote)
	c.text("private", p.Private, longestNote)
	switch {
	case (p.Card == nil) == (p.Clip == nil):
		c.fail("", "a part is either a card or a clip")
	case p.Card != nil:
		c.words("card.title", p.Card.Title)
		c.span("card.length", p.Card.Length, 0, longestPart)
	default:
		c.clip(p.Clip)
	}
	return c.err
}

func (c *checker) clip(p *Clip) {
	c.id("clip.footage", p.Footage, p.Other == nil)
	c.span("clip.range.start", p.Range.Start, 0, longestFilm)
	c.span("clip.range.end", p.Range.End, p.Range.Start, longestFilm)
	c.span("clip.before", p.Before, -longestPart, longestPart)
	c.span("clip.after", p.After, -longestPart, longestPart)
	c.id("clip.beside", p.Beside, false)
	last := time.Duration(math.MinInt64)
	for i, s := range p.Speeds {
		path := fmt.Sprintf("clip.speeds[%d]", i)
		if !(s.Rate >= slowest && s.Rate <= fastest) {
			c.fail(path+".rate", "%g is outside %g..%g", s.Rate, slowest, fastest)
		}
		if s.Range.End <= s.Range.Start {
			c.fail(path+".range", "it ends before it begins")
		}
		if s.Range.Start < last {
			c.fail(path+".range", "it begins before the one before it ends")
		}
		last = s.Range.End
	}
	for i, f := range p.Freezes {
		path := fmt.Sprintf("clip.freezes[%d]", i)
		c.span(path+".at", f.At, 0, longestFilm)
		c.span(path+".length", f.Length, 0, longestPart)
		if i > 0 && f.At < p.Freezes[i-1].At {
			c.fail(path+".at", "it is before the one before")
		}
	}
	if o := p.Other; o != nil {
		if o.Film == "" {
			c.fail("clip.other.film", "it is missing; a clip of another bout needs the path of its film")
		}
		for i, t := range o.Drawings {
			if err := CheckTag(t); err != nil || t.Drawing == nil {
				c.fail(fmt.Sprintf("clip.other.drawings[%d]", i), "it is no drawing: %v", err)
			}
		}
	}
	c.ids("clip.tags", p.Tags)
	for i, s := range p.Skaters {
		c.skater(fmt.Sprintf("clip.skaters[%d]", i), s)
	}
}

func (c *checker) order(path string, x float64) {
	if math.IsNaN(x) || math.Abs(x) > 1e12 {
		c.fail(path, "%v is out of range", x)
	}
}

func (c *checker) words(path string, w Words) {
	for _, k := range slices.Sorted(maps.Keys(w)) {
		c.text(path+"."+k, w[k], longestNote)
	}
}
