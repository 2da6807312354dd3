package app

import (
	"time"

	"whistlecut/app/settings"
	"whistlecut/export/clip"
	"whistlecut/timeline"
)

// MarginKind is the kind by which a moment gets its margins: its situation, else
// the kind of its tag.
func MarginKind(m timeline.Moment) string {
	if m.Situation != "" {
		return string(m.Situation)
	}
	return string(m.Kind)
}

// MarginsOf are the usual margins with a person's own on top.
func MarginsOf(s *settings.Settings) clip.Margins {
	m := DefaultMargins()
	if s == nil {
		return m
	}
	set := func(x clip.Margin) clip.Margin {
		if s.Before > 0 {
			x.Before = s.Before
		}
		if s.After > 0 {
			x.After = s.After
		}
		return x
	}
	m.Default = set(m.Default)
	for k, x := range m.ByKind {
		m.ByKind[k] = set(x)
	}
	return m
}

// Shown is the film of a moment with its margins: the best file, from and to in
// film time within the file. ok is false when no film shows it.
func (s *Session) Shown(m timeline.Moment, margins clip.Margins) (film timeline.FilmStretch, ok bool) {
	if len(m.Film) == 0 {
		return film, false
	}
	film, x := m.Film[0], margins.Of(MarginKind(m))
	film.From, film.To = max(film.From-x.Before, 0), max(film.From, film.To)+x.After
	if f := s.Facts.Footage[film.Footage]; f.Duration > 0 {
		film.To = min(film.To, f.Duration)
	}
	return film, film.To > film.From
}

// FilmLength is how much film clips of the moments have together: what two of
// them share is in one clip and counts once.
func (s *Session) FilmLength(moments []timeline.Moment, margins clip.Margins) time.Duration {
	var list []clip.Moment
	for _, m := range moments {
		if len(m.Film) > 0 {
			list = append(list, clip.Moment{Footage: string(m.Film[0].Footage), From: m.Film[0].From, To: m.Film[0].To, Kind: MarginKind(m)})
		}
	}
	var sum time.Duration
	for _, w := range clip.Windows(list, margins) {
		to := w.To
		if f := s.Facts.Footage[timeline.ID(w.Footage)]; f.Duration > 0 {
			to = min(to, f.Duration)
		}
		sum += max(to-max(w.From, 0), 0)
	}
	return sum
}
