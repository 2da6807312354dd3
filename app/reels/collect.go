package reels

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/app/phrase"
	"whistlecut/export/clip"
	"whistlecut/timeline"
)

// CardLength is how long a title is shown: long enough to read two lines aloud
// (common practice, no source).
const CardLength = 3 * time.Second

// CollectOptions say how moments become parts of a reel.
type CollectOptions struct {
	Margins   clip.Margins
	Languages []string // captions are written in these; nil: those of the reel
	Camera    string   // the camera to be preferred, "" the best one of each moment
	Captions  bool     // say what each moment is
	// Cards puts a title before the first clip and before each change of period.
	Cards bool
}

// Collected is what Collect would change.
type Collected struct {
	Changes []timeline.Change
	Parts   []timeline.Part
	NotShot []timeline.Moment // no film shows them
	Notes   []string          // what was left out, in sentences
}

// New makes a reel; the change stores it.
func New(s *app.Session, name string, languages ...string) (timeline.Reel, timeline.Change) {
	order := 1.0
	for _, r := range s.Facts.Reels {
		order = max(order, r.Order+1)
	}
	if len(languages) == 0 {
		languages = []string{"en"}
	}
	r := timeline.Reel{ID: s.File.Log().NewID(), Name: name, Order: order, Languages: languages}
	return r, timeline.SetReel(r)
}

// ByName finds a reel by its name, whatever the case of its letters.
func ByName(s *app.Session, name string) (timeline.Reel, error) {
	var names []string
	for _, r := range s.Facts.ReelsInOrder() {
		if strings.EqualFold(r.Name, name) || string(r.ID) == name {
			return r, nil
		}
		names = append(names, fmt.Sprintf("%q", r.Name))
	}
	if len(names) == 0 {
		return timeline.Reel{}, errors.New("this bout has no reel yet")
	}
	return timeline.Reel{}, fmt.Errorf("this bout has no reel called %q; it has %s", name, strings.Join(names, ", "))
}

// Collect makes parts of moments and puts them behind the last part of a reel,
// in the order given.
func Collect(s *app.Session, reel timeline.Reel, moments []timeline.Moment, o CollectOptions) Collected {
	return CollectFrom(s, s, reel, moments, o)
}

// CollectFrom makes parts of a reel of s of moments of another bout. What is said
// about them is kept as it is now; their film stays where it is.
func CollectFrom(s, of *app.Session, reel timeline.Reel, moments []timeline.Moment, o CollectOptions) Collected {
	var out Collected
	languages := o.Languages
	if len(languages) == 0 {
		languages = reel.Languages
	}
	order := 0.0
	for _, p := range s.Facts.ReelParts(reel.ID) {
		order = max(order, p.Order)
	}
	add := func(p timeline.Part) {
		order++
		p.ID, p.Reel, p.Order = s.File.Log().NewID(), reel.ID, order
		out.Parts = append(out.Parts, p)
		out.Changes = append(out.Changes, timeline.SetPart(p))
	}
	if o.Cards && order == 0 && len(moments) > 0 {
		add(timeline.Part{Card: &timeline.Card{Title: timeline.Words{"": reel.Name}, Length: CardLength}, Caption: boutLine(of)})
	}
	period := 0
	for _, m := range moments {
		c, ok := ClipOf(of, m, o.Margins, o.Camera)
		if !ok {
			out.NotShot = append(out.NotShot, m)
			continue
		}
		if o.Cards && m.Period != period && m.Period > 0 {
			period = m.Period
			add(timeline.Part{Card: &timeline.Card{Title: in(languages, func(l string) string {
				return words.In(l, "Period {.period}", "period", period)
			}), Length: CardLength}})
		}
		if of != s {
			c.Other = otherOf(of, c, app.Labels(m))
		}
		p := timeline.Part{Clip: &c}
		// A mark without words says nothing that the picture does not.
		if o.Captions && (m.Kind != timeline.KindMark || m.Note != "") {
			p.Caption = in(languages, func(l string) string { return phrase.Moment(of, m, l) })
		}
		add(p)
	}
	return out
}

func in(languages []string, text func(string) string) timeline.Words {
	w := timeline.Words{}
	for _, l := range languages {
		w[l] = text(l)
	}
	return w
}

// boutLine names the bout under a title.
func boutLine(s *app.Session) timeline.Words {
	line := s.Facts.Info.Title
	if line == "" && s.Facts.Teams[0].Name != "" && s.Facts.Teams[1].Name != "" {
		line = s.Facts.Teams[0].Name + " – " + s.Facts.Teams[1].Name
	}
	if d := s.Facts.Info.Date; d != "" {
		line = strings.TrimPrefix(line+", "+d, ", ")
	}
	if line == "" {
		return nil
	}
	return timeline.Words{"": line}
}

// ClipOf is a moment as a clip with its margins; ok is false when no film (of
// the camera, if one is named) shows it.
func ClipOf(s *app.Session, m timeline.Moment, margins clip.Margins, camera string) (timeline.Clip, bool) {
	var on *timeline.FilmStretch
	for i := range m.Film {
		if camera == "" || m.Film[i].Camera == camera {
			on = &m.Film[i]
			break
		}
	}
	if on == nil {
		return timeline.Clip{}, false
	}
	x := margins.Of(app.MarginKind(m))
	c := timeline.Clip{
		Footage: on.Footage, Range: timeline.TimeRange{Start: on.From, End: max(on.From, on.To)},
		Before: x.Before, After: x.After, Moment: m.Key, Kind: app.MarginKind(m), Jam: m.Jam, Tags: slices.Clone(m.Tags),
	}
	if f := s.Facts.Footage[on.Footage]; f.Duration > 0 && c.Range.End+c.After > f.Duration {
		c.After = max(0, f.Duration-c.Range.End)
	}
	if !m.Skater.IsZero() {
		c.Skaters = append(c.Skaters, m.Skater)
	} else if m.Who != "" && m.Side != timeline.NoSide {
		c.Skaters = append(c.Skaters, timeline.SkaterRef{Side: m.Side, Number: m.Who})
	}
	return c, true
}

// FromMarks makes moments of the marks of a bout, each where it was set: a reel
// of film with no sheet, no roster and no jam.
func FromMarks(s *app.Session) []timeline.Moment {
	return timeline.Find(s.Bout, s.Facts, timeline.Selection{Kinds: []timeline.Kind{timeline.KindMark}})
}
