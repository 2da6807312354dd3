package find

import (
	"strings"

	"whistlecut/app"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

func roleText(r timeline.Role) string {
	switch r {
	case timeline.Jammer:
		return words.T("jammer")
	case timeline.Pivot:
		return words.T("pivot")
	case timeline.Blocker:
		return words.T("blocker")
	}
	return ""
}

// placeText is "P2 J7", or the film time of what has no jam.
func placeText(m timeline.Moment) string {
	if m.Number > 0 {
		return words.T("P{.period} J{.jam}", "period", m.Period, "jam", m.Number)
	}
	if m.Place.Footage != "" {
		return terms.Clock(m.Place.Film, 0)
	}
	return "–"
}

// whatText is what happened, with what tells it from others of its kind.
func whatText(s *app.Session, m timeline.Moment) string {
	switch {
	case m.Situation == timeline.SitShort && m.N > 0:
		return words.T("short-handed by {.n}", "n", m.N)
	case m.Situation != "":
		return terms.Situation(m.Situation)
	case m.Kind == timeline.KindPenalty:
		if m.Code == "" {
			return words.T("penalty, code not seen")
		}
		if c, ok := s.Bout.Rules.Code(m.Code); ok {
			return words.T("penalty {.code}, {.name}", "code", m.Code, "name", terms.Penalty(c.Name))
		}
		return words.T("penalty {.code}", "code", m.Code)
	case m.Kind == timeline.KindTrip:
		return tripText(s, m)
	case m.Note != "":
		return terms.Kind(m.Kind) + ": " + m.Note
	case m.Kind == timeline.KindJam:
		if j, ok := s.Bout.Jam(m.Jam); ok && j.Sides[0].Logged && j.Sides[1].Logged {
			return words.T("jam, {.home} – {.away}", "home", terms.Span(j.Sides[0].Points), "away", terms.Span(j.Sides[1].Points))
		}
	}
	return terms.Kind(m.Kind)
}

// shortText is whatText for a row, where there is little room.
func shortText(s *app.Session, m timeline.Moment) string {
	if c, ok := s.Bout.Rules.Code(m.Code); ok && m.Kind == timeline.KindPenalty {
		return m.Code + "  " + terms.Penalty(c.Name)
	}
	return whatText(s, m)
}

func tripText(s *app.Session, m timeline.Moment) string {
	n := 0
	for _, id := range m.Tags {
		if t, ok := s.Facts.Tags[id]; ok && t.Trip != nil {
			n = t.Trip.Number
		}
	}
	points := "?"
	if m.Points != nil && m.Points.High-m.Points.Low < 4 {
		points = terms.Span(*m.Points)
	}
	switch {
	case n == 1:
		return words.T("initial trip")
	case n > 1:
		return words.T("trip {.n}: {.points}", "n", n, "points", points)
	}
	return terms.Kind(m.Kind)
}

// whoText is the skater's number and name. In a power jam she is the opposing
// jammer, who sits.
func whoText(m timeline.Moment) string {
	name := strings.TrimSpace(string(m.Who) + " " + m.Name)
	if name != "" && app.Against(m) {
		return words.T("against {.who}", "who", name)
	}
	return name
}

// filmText says whether film shows the moment.
func filmText(s timeline.FilmState) string {
	switch s {
	case timeline.FilmShown:
		return words.T("on film")
	case timeline.FilmPartly:
		return words.T("partly on film")
	case timeline.FilmNone:
		return words.T("not on film")
	case timeline.FilmNoTime:
		return words.T("time not known, the film shows its jam")
	}
	return string(s)
}

// fullText says all of a moment in one or two lines.
func fullText(s *app.Session, m timeline.Moment) string {
	var parts []string
	place := placeText(m)
	if m.Timed && m.Number > 0 {
		place += " " + terms.Clock(m.Range.Start, 0)
	}
	parts = append(parts, place)
	if m.Side != timeline.NoSide {
		parts = append(parts, terms.Side(m.Side))
	}
	if w := whoText(m); w != "" {
		if r := roleText(m.Role); r != "" {
			w += " (" + r + ")"
		}
		parts = append(parts, w)
	}
	parts = append(parts, whatText(s, m))
	if m.Number > 0 {
		parts = append(parts, words.T("score {.home} – {.away}", "home", terms.Score(&s.Bout, m.Jam, timeline.Home, m.Score[0]), "away", terms.Score(&s.Bout, m.Jam, timeline.Away, m.Score[1])))
	}
	if m.ClockKnown {
		parts = append(parts, words.T("clock {.clock}", "clock", terms.Clock(m.Clock, 0)))
	}
	return strings.Join(append(parts, filmText(m.State)), ", ")
}
