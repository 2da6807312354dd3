package reel

import (
	"slices"
	"strings"

	"whistlecut/app/desk/words"
	"whistlecut/app/phrase"
	"whistlecut/timeline"
)

// kindText names what a clip shows.
func (t *Task) kindText(c *timeline.Clip) string {
	s := t.desk.Session()
	m := timeline.Moment{Kind: timeline.Kind(c.Kind)}
	switch {
	case c.Kind == "" || s == nil:
		return words.T("clip")
	case m.Kind == timeline.KindPenalty:
		return words.T("penalty")
	case !slices.Contains(timeline.Kinds(), m.Kind):
		m = timeline.Moment{Situation: timeline.SituationKind(c.Kind)}
		if !slices.Contains(timeline.SituationKinds(), m.Situation) {
			return c.Kind
		}
	}
	return phrase.What(s, m, words.Code())
}

// placeText is the jam of a clip, or the film's time where it has none; a card has
// none.
func (t *Task) placeText(p timeline.Part) string {
	s := t.desk.Session()
	switch {
	case p.Card != nil:
		return words.T("card")
	case p.Clip == nil || s == nil:
		return ""
	}
	if o := p.Clip.Other; o != nil {
		if o.Shown["jam"] == "" {
			return clock(p.Clip.Range.Start)
		}
		return words.T("P{.period} J{.jam}", "period", o.Shown["period"], "jam", o.Shown["jam"])
	}
	if j, ok := s.Bout.Jam(p.Clip.Jam); ok {
		return words.T("P{.period} J{.jam}", "period", j.Period, "jam", j.Number)
	}
	return clock(p.Clip.Range.Start)
}

// partText says what a part is in one line: its caption, its title, or what the
// clip shows.
func (t *Task) partText(p timeline.Part) string {
	main := languages(t.reelOf(p))[0]
	if p.Card != nil {
		title, line := p.Card.Title.In(main), p.Caption.In(main)
		switch {
		case title == "" && line == "":
			return words.T("a card without words")
		case title == "" || line == "":
			return title + line
		}
		return title + ": " + line
	}
	if c := p.Caption.In(main); c != "" {
		return c
	}
	if p.Clip == nil {
		return ""
	}
	if o := p.Clip.Other; o != nil {
		return strings.TrimSpace(t.kindText(p.Clip) + " " + o.Shown["skater"])
	}
	out := []string{t.kindText(p.Clip)}
	for _, r := range p.Clip.Skaters {
		name := string(r.Number)
		if s := t.desk.Session(); s != nil && r.Side != timeline.NoSide {
			if x, ok := s.Bout.Teams[r.Side.Index()].Find(r.Number); ok {
				name = strings.TrimSpace(name + " " + x.Name)
			}
		}
		out = append(out, name)
	}
	return strings.Join(out, " ")
}

// side is whose clip it is, NoSide where it is of none or of both.
func side(p timeline.Part) timeline.Side {
	if p.Clip == nil || p.Clip.Other != nil || len(p.Clip.Skaters) == 0 {
		return timeline.NoSide
	}
	s := p.Clip.Skaters[0].Side
	for _, x := range p.Clip.Skaters {
		if x.Side != s {
			return timeline.NoSide
		}
	}
	return s
}
