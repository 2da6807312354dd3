package numbers

import (
	"fmt"
	"strings"

	"whistlecut/timeline"
)

// Source is one bout to be counted: its facts and what Derive made of them.
type Source struct {
	Title string // as shown; empty for one bout
	Date  string // YYYY-MM-DD, empty when not known
	Facts *timeline.Facts
	Bout  *timeline.Bout
}

// SourceOf derives a bout from facts.
func SourceOf(f timeline.Facts) Source {
	b := timeline.Derive(f)
	s := Source{Title: f.Info.Title, Date: f.Info.Date, Facts: &f, Bout: &b}
	if s.Title == "" && b.Teams[0].Name != "" && b.Teams[1].Name != "" {
		s.Title = b.Teams[0].Name + " : " + b.Teams[1].Name
	}
	return s
}

// Name says whom a page is about, through several bouts: by the skater's own name,
// or by team and number.
type Name struct {
	Person string          `json:"person,omitempty"`
	Team   string          `json:"team,omitempty"`
	Number timeline.Number `json:"number,omitempty"`
	// Side is home or away where the page is of one bout and its teams have no names.
	Side timeline.Side `json:"side,omitempty"`
}

func (n Name) String() string {
	team := n.Team
	if team == "" && n.Side != timeline.NoSide {
		team = n.Side.String()
	}
	parts := []string{}
	for _, p := range []string{team, string(n.Number), n.Person} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " ")
}

// ParseName reads "home 052", "Team Name 052" or a skater's own name. Home and
// away are those of the first bout; the team's name then finds her in the others.
// The error says what would do.
func ParseName(text string, bouts []Source) (Name, error) {
	text = strings.TrimSpace(text)
	if text == "" || len(bouts) == 0 {
		return Name{}, fmt.Errorf("say who: a side and a number as \"home 052\", a team and a number, or a skater's name")
	}
	if i := strings.LastIndexByte(text, ' '); i > 0 {
		team, number := strings.TrimSpace(text[:i]), timeline.Number(text[i+1:])
		var side timeline.Side
		if side.UnmarshalText([]byte(strings.ToLower(team))) == nil && side != timeline.NoSide {
			return nameOfSide(side, number, bouts)
		}
		for _, b := range bouts {
			for _, s := range timeline.Sides {
				t := b.Bout.Teams[s.Index()]
				if t.Name != "" && strings.EqualFold(t.Name, team) {
					return Name{Team: t.Name, Number: number, Person: personOf(t, number)}, nil
				}
			}
		}
	}
	for _, b := range bouts {
		for _, s := range timeline.Sides {
			for _, k := range b.Bout.Teams[s.Index()].Roster {
				if k.Name != "" && strings.EqualFold(k.Name, text) {
					return Name{Person: k.Name}, nil
				}
			}
		}
	}
	return Name{}, fmt.Errorf("nobody is called %q in these bouts; write a side and a number as \"home 052\", a team and a number, or a name as the roster has it", text)
}

func nameOfSide(side timeline.Side, number timeline.Number, bouts []Source) (Name, error) {
	t := bouts[0].Bout.Teams[side.Index()]
	n := Name{Team: t.Name, Number: number, Person: personOf(t, number)}
	if t.Name == "" {
		if len(bouts) > 1 {
			return Name{}, fmt.Errorf("the %s team of %s has no name, so %s cannot be found in the other bouts; name the team, or the skater by her own name", side, titleOf(bouts[0], 0), number)
		}
		n.Side = side
	}
	return n, nil
}

func titleOf(b Source, i int) string {
	if b.Title != "" {
		return b.Title
	}
	return fmt.Sprintf("bout %d", i+1)
}

func personOf(t timeline.Team, n timeline.Number) string {
	s, _ := t.Find(n)
	return s.Name
}

// find is who the name is in one bout: her side and number. ok is false when no
// roster, line-up or penalty of the bout has her.
func (n Name) find(b Source) (timeline.SkaterRef, bool) {
	byPerson := func() (timeline.SkaterRef, bool) {
		for _, s := range timeline.Sides {
			for _, k := range b.Bout.Teams[s.Index()].Roster {
				if n.Person != "" && strings.EqualFold(k.Name, n.Person) {
					return timeline.SkaterRef{Side: s, Number: k.Number}, true
				}
			}
		}
		return timeline.SkaterRef{}, false
	}
	if n.Number == "" {
		return byPerson()
	}
	for _, s := range timeline.Sides {
		t := b.Bout.Teams[s.Index()]
		mine := n.Side == s || n.Side == timeline.NoSide && t.Name != "" && strings.EqualFold(t.Name, n.Team)
		if mine && appears(b, timeline.SkaterRef{Side: s, Number: n.Number}) {
			return timeline.SkaterRef{Side: s, Number: n.Number}, true
		}
	}
	return timeline.SkaterRef{}, false
}

// appears reports whether anything of the bout knows a skater.
func appears(b Source, who timeline.SkaterRef) bool {
	i := who.Side.Index()
	if _, ok := b.Bout.Teams[i].Find(who.Number); ok {
		return true
	}
	for k := range b.Bout.Jams {
		if roleIn(&b.Bout.Jams[k].Sides[i], who.Number) != timeline.NoRole {
			return true
		}
	}
	for _, f := range b.Bout.Fouls {
		if f.Skater == who {
			return true
		}
	}
	return false
}

// roleIn is what a skater was lined up as; a new jammer whose line-up nobody
// tagged was the pivot (2.2.4).
func roleIn(s *timeline.JamSide, n timeline.Number) timeline.Role {
	if n == "" {
		return timeline.NoRole
	}
	if r := s.Lineup[n]; r != timeline.NoRole {
		return r
	}
	if s.StarPass && s.NewJammer == n {
		return timeline.Pivot
	}
	return timeline.NoRole
}
