package find

import (
	"strings"

	"whistlecut/app"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// kindText names a kind of tag.
func kindText(k timeline.Kind) string {
	switch k {
	case timeline.KindJam:
		return words.T("jam")
	case timeline.KindLineup:
		return words.T("line-up")
	case timeline.KindLead:
		return words.T("lead")
	case timeline.KindLost:
		return words.T("lost")
	case timeline.KindCall:
		return words.T("call-off")
	case timeline.KindStarPass:
		return words.T("star pass")
	case timeline.KindTrip:
		return words.T("trip")
	case timeline.KindEvent:
		return words.T("single pass or act")
	case timeline.KindPenalty:
		return words.T("penalty")
	case timeline.KindBox:
		return words.T("time in the box")
	case timeline.KindTimeout:
		return words.T("timeout")
	case timeline.KindReview:
		return words.T("official review")
	case timeline.KindInjury:
		return words.T("injury")
	case timeline.KindNote:
		return words.T("note")
	case timeline.KindMark:
		return words.T("mark")
	case timeline.KindDrawing:
		return words.T("drawing")
	case timeline.KindExample:
		return words.T("example")
	}
	return string(k)
}

// situationText names a situation.
func situationText(s timeline.SituationKind) string {
	switch s {
	case timeline.SitPowerJam:
		return words.T("power jam")
	case timeline.SitShort:
		return words.T("short-handed")
	case timeline.SitNoLead:
		return words.T("no lead")
	case timeline.SitLeadLost:
		return words.T("lead lost")
	case timeline.SitStarPass:
		return words.T("after a star pass")
	case timeline.SitFullTime:
		return words.T("full two minutes")
	case timeline.SitCalled:
		return words.T("called off")
	case timeline.SitLastJam:
		return words.T("last jam of a period")
	case timeline.SitNearFoulOut:
		return words.T("one from fouling out")
	case timeline.SitLeadChange:
		return words.T("lead change in the score")
	case timeline.SitTied:
		return words.T("score tied")
	case timeline.SitNoPivot:
		return words.T("no pivot")
	case timeline.SitInjury:
		return words.T("ended by injury")
	case timeline.SitOvertime:
		return words.T("overtime")
	case timeline.SitScoreless:
		return words.T("scoreless jam")
	case timeline.SitBigJam:
		return words.T("ten points or more")
	}
	return string(s)
}

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
		return situationText(m.Situation)
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
		return kindText(m.Kind) + ": " + m.Note
	case m.Kind == timeline.KindJam:
		if j, ok := s.Bout.Jam(m.Jam); ok && j.Sides[0].Logged && j.Sides[1].Logged {
			return words.T("jam, {.home} – {.away}", "home", terms.Span(j.Sides[0].Points), "away", terms.Span(j.Sides[1].Points))
		}
	}
	return kindText(m.Kind)
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
	return kindText(m.Kind)
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
