package reels

import (
	"whistlecut/app"
	"whistlecut/timeline"
)

// moments lists every moment of a bout by its key.
func moments(s *app.Session) map[string]timeline.Moment {
	out := map[string]timeline.Moment{}
	for _, sel := range []timeline.Selection{{Kinds: timeline.Kinds()}, {Situations: timeline.SituationKinds()}} {
		for _, m := range timeline.Find(s.Bout, s.Facts, sel) {
			out[m.Key] = m
		}
	}
	return out
}

// labels is what the bar under a clip says. Of a clip whose moment is gone only
// its jam is known.
func labels(s *app.Session, all map[string]timeline.Moment, c timeline.Clip) map[string]string {
	if c.Other != nil {
		return c.Other.Shown
	}
	if m, ok := all[c.Moment]; ok {
		return app.Labels(m)
	}
	m := timeline.Moment{Situation: timeline.SituationKind(c.Kind)}
	if j, ok := s.Bout.Jam(c.Jam); ok {
		m.Period, m.Number = j.Period, j.Number
		l := app.Labels(m)
		delete(l, "score")
		return l
	}
	return app.Labels(m)
}

// LabelsOf is what is known in words of a clip's moment, by what it is: period, jam,
// skater, kind, clock and score, as they are said in files and under clips.
func LabelsOf(s *app.Session, c timeline.Clip) map[string]string { return labels(s, moments(s), c) }
