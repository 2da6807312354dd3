package timeline

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// findTags looks through the tags, and the jams as wholes.
func (q *finder) findTags() {
	kinds := q.sel.Kinds
	any := len(kinds) == 0
	people := len(q.sel.Skaters)+len(q.sel.Codes)+len(q.sel.Roles) > 0 || q.words != ""
	if any && len(q.sel.Tags) == 0 && !people {
		kinds, any = []Kind{KindJam}, false
	}
	seen := make(map[ID]bool, len(q.f.Tags))
	for i := range q.b.Jams {
		j := &q.b.Jams[i]
		if !q.jamWanted(j) {
			for _, id := range j.Tags {
				seen[id] = true
			}
			seen[j.ID] = true
			continue
		}
		seen[j.ID] = true
		if any && q.words == "" && len(q.sel.Codes) == 0 && len(q.sel.Tags) == 0 {
			// Asked for people alone: their tags, not whole jams.
		} else if any || slices.Contains(kinds, KindJam) {
			q.wholeJam(j)
		}
		for _, id := range j.Tags {
			seen[id] = true
			t, ok := q.f.Tags[id]
			t.ID = id
			if ok && (any || slices.Contains(kinds, t.Kind)) {
				q.tag(t, j)
			}
		}
	}
	q.restTags(kinds, any, seen)
}

// restTags are timeouts and reviews, and tags without a jam.
func (q *finder) restTags(kinds []Kind, any bool, seen map[ID]bool) {
	for _, br := range q.b.Breaks {
		t, ok := q.f.Tags[br.Tag]
		t.ID = br.Tag
		if !ok || seen[br.Tag] || !any && !slices.Contains(kinds, t.Kind) {
			continue
		}
		seen[br.Tag] = true
		var j *Jam
		if br.AfterJam >= 0 {
			j = &q.b.Jams[br.AfterJam]
			if !q.jamWanted(j) {
				continue
			}
		}
		q.tag(t, j)
	}
	if len(q.sel.Jams)+len(q.sel.Periods) > 0 || q.sel.Score != nil {
		return
	}
	for _, l := range q.b.Loose {
		t, ok := q.f.Tags[l.Tag]
		t.ID = l.Tag
		if ok && !seen[l.Tag] && (any || slices.Contains(kinds, t.Kind)) {
			q.tag(t, nil)
		}
	}
}

func (q *finder) wholeJam(j *Jam) {
	m := q.moment(j)
	m.Key, m.Kind, m.Side = string(j.ID), KindJam, q.sel.Side
	if len(q.sel.Tags) > 0 && !slices.Contains(q.sel.Tags, j.ID) || len(q.sel.Codes) > 0 {
		return
	}
	m.Range = TimeRange{0, j.Duration}
	m.Timed = j.Duration > 0
	m.Tags = []ID{j.ID}
	m.Note = q.f.Tags[j.ID].Note
	if q.words != "" && !strings.Contains(strings.ToLower(m.Note), q.words) {
		return
	}
	if len(q.sel.Situations) > 0 && !slices.ContainsFunc(j.Situations, func(s Situation) bool {
		return q.situationWanted(s) && (s.Side == NoSide || q.sel.Side == NoSide || s.Side == q.sel.Side)
	}) {
		return
	}
	if len(q.sel.Skaters) > 0 || len(q.sel.Roles) > 0 {
		who, role, ok := q.fieldedIn(j)
		if !ok {
			return
		}
		m.Side, m.Who, m.Role = who.Side, who.Number, role
	}
	if m.Side != NoSide {
		p := j.Sides[m.Side.Index()].Points
		m.Points = &p
	}
	q.keep(m, j)
}

// fieldedIn finds the first wanted skater that the jam fielded in a wanted role,
// the new jammer after a star pass counting as jammer too.
func (q *finder) fieldedIn(j *Jam) (SkaterRef, Role, bool) {
	if len(q.sel.Skaters) == 0 {
		for _, s := range Sides {
			if q.sel.Side != NoSide && q.sel.Side != s {
				continue
			}
			side := &j.Sides[s.Index()]
			for _, n := range side.fieldOrder() {
				if q.roleWanted(side.Lineup[n]) {
					return SkaterRef{s, n}, side.Lineup[n], true
				}
			}
		}
		return SkaterRef{}, NoRole, false
	}
	for _, who := range q.sel.Skaters {
		if !who.Side.known() || q.sel.Side != NoSide && q.sel.Side != who.Side {
			continue
		}
		side := &j.Sides[who.Side.Index()]
		roles := []Role{side.Lineup[who.Number]}
		if side.StarPass && who.Number != "" && who.Number == side.NewJammer {
			roles = append(roles, Jammer)
		}
		for _, r := range roles {
			if r != NoRole && q.roleWanted(r) {
				return who, r, true
			}
		}
	}
	return SkaterRef{}, NoRole, false
}

// tag keeps one tag if it matches.
func (q *finder) tag(t Tag, j *Jam) {
	if !t.Side.known() {
		t.Side = NoSide
	}
	if len(q.sel.Tags) > 0 && !slices.Contains(q.sel.Tags, t.ID) {
		return
	}
	if q.sel.Side != NoSide && t.Side != q.sel.Side {
		return
	}
	m := Moment{Place: t.Place}
	if j != nil {
		m = q.moment(j)
		m.Place = t.Place
		if at, ok := q.timeOf(t, j); ok {
			m.Range, m.Timed = TimeRange{at, at}, true
		}
	}
	m.Key, m.Kind, m.Side, m.Note, m.Tags = string(t.ID), t.Kind, t.Side, t.Note, []ID{t.ID}
	if t.Who.Seen != NotSeen {
		m.Who = t.Who.Number
	}
	words := t.Note
	q.payload(&m, t, j)
	if t.Penalty != nil {
		words += "\n" + t.Penalty.Words
	}
	if q.words != "" && !strings.Contains(strings.ToLower(words), q.words) {
		return
	}
	if len(q.sel.Codes) > 0 && (t.Penalty == nil || t.Penalty.Seen == NotSeen || !slices.Contains(q.sel.Codes, t.Penalty.Code)) {
		return
	}
	if !q.people(t, m) || !q.during(m, j) {
		return
	}
	q.keep(m, j)
}

// timeOf is the jam time of a tag's place in its jam.
func (q *finder) timeOf(t Tag, j *Jam) (at time.Duration, ok bool) {
	switch {
	case t.Place.Footage != "":
		return q.b.Alignment.OffsetIn(j.ID, t.Place.Footage, t.Place.Film)
	case t.Place.InJam && t.Place.Jam == j.ID:
		return t.Place.Offset, true
	}
	return 0, false
}

// payload fills what the tag's kind tells: code, points, and the stretch from the
// act to the call, or of the visit, or of the trip.
func (q *finder) payload(m *Moment, t Tag, j *Jam) {
	if j == nil {
		if t.Penalty != nil && t.Penalty.Seen != NotSeen {
			m.Code = t.Penalty.Code
		}
		return
	}
	stretch := func(from, to Place) {
		x, ok1 := q.timeOf(Tag{Place: from}, j)
		y, ok2 := q.timeOf(Tag{Place: to}, j)
		if ok1 && ok2 && x < y {
			m.Range, m.Timed = TimeRange{x, y}, true
		}
	}
	switch {
	case t.Penalty != nil:
		if t.Penalty.Seen != NotSeen {
			m.Code = t.Penalty.Code
		}
		stretch(t.Penalty.Act, t.Place)
	case t.Box != nil:
		for _, v := range q.b.Visits {
			if v.Tag != t.ID {
				continue
			}
			m.Role, m.Why = v.Role, v.Why
			if v.InTimed && v.OutTimed && v.InJam == v.OutJam && q.b.Jams[v.InJam].ID == j.ID {
				m.Range, m.Timed = TimeRange{v.In, v.Out}, true
			}
		}
	case t.Trip != nil && t.Side != NoSide:
		for _, tr := range j.Sides[t.Side.Index()].Trips {
			if !slices.Contains(tr.Tags, t.ID) {
				continue
			}
			p := tr.Points
			m.Points, m.Why = &p, tr.Why
			m.Who = cmp.Or(m.Who, tr.Jammer)
			m.Role = Jammer
			if tr.Timed {
				m.Range, m.Timed = TimeRange{tr.Start, tr.End}, true
			}
		}
	case t.StarPass != nil, t.Kind == KindLead, t.Kind == KindLost, t.Kind == KindCall:
		if t.Side != NoSide && t.Who.Seen != NotSeen {
			m.Who = cmp.Or(m.Who, j.Sides[t.Side.Index()].Jammer.Number)
		}
	}
	if m.Role == NoRole && m.Who != "" && m.Side != NoSide {
		m.Role = j.roleOf(SkaterRef{m.Side, m.Who}, m.Range.Start)
	}
}

// people: the tag is about a wanted skater in a wanted role. A line-up is about
// everyone in it, a star pass about both jammers.
func (q *finder) people(t Tag, m Moment) bool {
	type part struct {
		who  Number
		role Role
	}
	parts := []part{{m.Who, m.Role}}
	if t.Lineup != nil {
		parts = []part{{t.Lineup.Jammer.Number, Jammer}, {t.Lineup.Pivot.Number, Pivot}}
		for _, b := range t.Lineup.Blockers {
			parts = append(parts, part{b.Number, Blocker})
		}
	}
	if t.StarPass != nil {
		parts = append(parts, part{t.StarPass.To.Number, Pivot})
	}
	if len(q.sel.Skaters) == 0 && len(q.sel.Roles) == 0 {
		return true
	}
	for _, p := range parts {
		if len(q.sel.Skaters) > 0 && !slices.Contains(q.sel.Skaters, SkaterRef{t.Side, p.who}) {
			continue
		}
		if q.roleWanted(p.role) {
			return true
		}
	}
	if t.Event != nil {
		for _, r := range []SkaterRef{t.Event.Who, t.Event.Whom} {
			if slices.Contains(q.sel.Skaters, r) && len(q.sel.Roles) == 0 {
				return true
			}
		}
	}
	return false
}

// during: the moment lies in a stretch of a wanted situation.
func (q *finder) during(m Moment, j *Jam) bool {
	if len(q.sel.Situations) == 0 {
		return true
	}
	if j == nil {
		return false
	}
	for _, s := range j.Situations {
		if !q.situationWanted(s) {
			continue
		}
		if s.Whole || m.Timed && (s.Range.Contains(m.Range.End) || s.Range.Overlaps(m.Range) || m.Range.End == s.Range.End) {
			return true
		}
	}
	return false
}

func (q *finder) situationWanted(s Situation) bool {
	return slices.Contains(q.sel.Situations, s.Kind) && (s.Kind != SitShort || s.N >= q.sel.ShortBy)
}
