package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Find lists the moments that a selection picks, in the order of the bout:
// by jam, then by time in the jam, untimed ones last in their jam; tags without
// a jam stand at the end, by film.
func Find(b Bout, f Facts, sel Selection) []Moment {
	q := finder{b: &b, f: &f, sel: sel, index: make(map[ID]int, len(b.Jams))}
	for i := range b.Jams {
		q.index[b.Jams[i].ID] = i
	}
	if !sel.Side.known() {
		q.sel.Side = NoSide
	}
	q.words = strings.ToLower(sel.Words)
	if len(sel.Situations) > 0 && len(sel.Kinds) == 0 {
		q.findSituations()
	} else {
		q.findTags()
	}
	slices.SortStableFunc(q.out, q.compare)
	return q.out
}

type finder struct {
	b     *Bout
	f     *Facts
	sel   Selection
	words string
	index map[ID]int
	out   []Moment
}

func (q *finder) compare(x, y Moment) int {
	i, ok1 := q.index[x.Jam]
	k, ok2 := q.index[y.Jam]
	if !ok1 {
		i = len(q.index)
	}
	if !ok2 {
		k = len(q.index)
	}
	return cmp.Or(
		cmp.Compare(i, k), compareBool(y.Timed, x.Timed), cmp.Compare(x.Range.Start, y.Range.Start),
		cmp.Compare(x.Place.Footage, y.Place.Footage), cmp.Compare(x.Place.Film, y.Place.Film), cmp.Compare(x.Key, y.Key),
	)
}

func (q *finder) findSituations() {
	for i := range q.b.Jams {
		j := &q.b.Jams[i]
		if !q.jamWanted(j) {
			continue
		}
		nth := map[SituationKind]int{}
		for _, s := range j.Situations {
			nth[s.Kind]++
			if !slices.Contains(q.sel.Situations, s.Kind) || s.N < q.sel.ShortBy && s.Kind == SitShort {
				continue
			}
			m := q.moment(j)
			m.Key = fmt.Sprintf("situation/%s/%s/%d", s.Kind, j.ID, nth[s.Kind])
			m.Situation, m.Side, m.Who, m.N, m.Why = s.Kind, s.Side, s.Who, s.N, s.Why
			m.Range, m.Timed = s.Range, !s.Whole || j.Duration > 0
			for _, w := range s.Why {
				for _, id := range w.Tags {
					if !slices.Contains(m.Tags, id) {
						m.Tags = append(m.Tags, id)
					}
				}
			}
			if s.Side != NoSide {
				p := j.Sides[s.Side.Index()].Points
				m.Points = &p
			}
			if !q.sideWanted(s, j) || !q.peopleInSituation(s, j) || q.words != "" {
				continue
			}
			q.keep(m, j)
		}
	}
}

// sideWanted: a situation of no side matches either.
func (q *finder) sideWanted(s Situation, j *Jam) bool {
	return q.sel.Side == NoSide || s.Side == NoSide || s.Side == q.sel.Side
}

// peopleInSituation: a skater matches a stretch in which she was fielded in one
// of the wanted roles, or which is about her.
func (q *finder) peopleInSituation(s Situation, j *Jam) bool {
	if len(q.sel.Skaters) == 0 && len(q.sel.Roles) == 0 {
		return true
	}
	if len(q.sel.Skaters) == 0 {
		return s.Who == "" || s.Side == NoSide || q.roleWanted(j.roleOf(s.Skater(), s.Range.Start))
	}
	for _, who := range q.sel.Skaters {
		if !who.Side.known() {
			continue
		}
		r := j.roleOf(who, s.Range.Start)
		if r != NoRole && q.roleWanted(r) {
			return true
		}
	}
	return false
}

func (j *Jam) roleOf(who SkaterRef, at time.Duration) Role {
	if !who.Side.known() {
		return NoRole
	}
	side := &j.Sides[who.Side.Index()]
	if r := side.RoleAt(who.Number, at); r != NoRole {
		return r
	}
	if who.Number != "" && side.JammerAt(at) == who.Number {
		return Jammer
	}
	return NoRole
}

func (q *finder) roleWanted(r Role) bool {
	return len(q.sel.Roles) == 0 || slices.Contains(q.sel.Roles, r)
}

func (q *finder) jamWanted(j *Jam) bool {
	return (len(q.sel.Jams) == 0 || slices.Contains(q.sel.Jams, j.ID)) &&
		(len(q.sel.Periods) == 0 || slices.Contains(q.sel.Periods, j.Period))
}

// moment is a moment with its jam's fields.
func (q *finder) moment(j *Jam) Moment {
	return Moment{Jam: j.ID, Period: j.Period, Number: j.Number, Place: JamAlone(j.ID)}
}

// keep completes a moment that matches so far: film, score, clock, name.
func (q *finder) keep(m Moment, j *Jam) {
	if j != nil {
		m.Score = [2]Range{j.Sides[0].GameBefore, j.Sides[1].GameBefore}
		if m.Timed {
			m.Score, _ = j.ScoreAt(m.Range.Start)
		}
		known := j.Sides[0].GameKnown && j.Sides[1].GameKnown
		if q.sel.Score != nil && (!known || !q.sel.Score.matches(m.Score)) {
			return
		}
		m.Clock, m.ClockKnown = q.clockAt(j, m)
		if m.Timed && m.Place == JamAlone(j.ID) {
			m.Place = InJam(j.ID, m.Range.Start)
		}
	} else if q.sel.Score != nil {
		return
	}
	q.film(&m, j)
	if q.sel.OnFilm && m.State != FilmShown && m.State != FilmPartly {
		return
	}
	if len(q.sel.Cameras) > 0 {
		m.Film = slices.DeleteFunc(m.Film, func(x FilmStretch) bool { return !slices.Contains(q.sel.Cameras, x.Camera) })
		if len(m.Film) == 0 {
			return
		}
	}
	if m.Side != NoSide && m.Who != "" {
		who := Situation{Kind: m.Situation, Side: m.Side, Who: m.Who}.Skater()
		s, _ := q.b.Teams[who.Side.Index()].Find(who.Number)
		m.Skater, m.Name = who, s.Name
		if m.Role == NoRole && j != nil {
			m.Role = j.roleOf(who, m.Range.Start)
		}
	}
	q.out = append(q.out, m)
}

// clockAt is the period clock at the moment's start.
func (q *finder) clockAt(j *Jam, m Moment) (time.Duration, bool) {
	if !j.ClockKnown || j.Overtime {
		return 0, false
	}
	at := time.Duration(0)
	if m.Timed {
		at = m.Range.Start
	}
	if j.Duration > 0 && at > j.Duration {
		return 0, false // between jams a timeout may stand in the way
	}
	return min(max(j.ClockAtStart-at, 0), q.b.Rules.PeriodLength), true
}

// film finds the files that show a moment.
func (q *finder) film(m *Moment, j *Jam) {
	a := q.b.Alignment
	switch {
	case m.Timed && j != nil && len(a.Jams[j.ID]) > 0:
		parts, whole := a.FilmRange(j.ID, m.Range)
		m.Film = parts
		switch {
		case whole:
			m.State = FilmShown
		case len(parts) > 0:
			m.State = FilmPartly
		default:
			m.State = FilmNone
		}
	case m.Place.Footage != "":
		m.State = FilmNone
		for _, s := range a.Films(m.Place) {
			m.Film = append(m.Film, FilmStretch{s.Camera, s.Footage, s.Film, s.Film})
			m.State = FilmShown
		}
	case j != nil && !m.Timed && len(a.Jams[j.ID]) > 0:
		m.State = FilmNoTime
		end := j.Duration
		if end == 0 {
			end = q.b.Rules.JamLength
		}
		m.Film, _ = a.FilmRange(j.ID, TimeRange{0, end})
	default:
		m.State = FilmNone
	}
}
