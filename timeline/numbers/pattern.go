package numbers

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// Pattern is something that repeats in a skater's penalties: the same letter, or
// the same situation at the call, twice at least (common practice, no source).
type Pattern struct {
	// Kind is PatternCode, PatternRole or PatternSituation.
	Kind string `json:"kind"`
	Key  string `json:"key"`
	// Penalties are indices into the page's penalties; Of is how many she has in all.
	Penalties []int `json:"penalties"`
	Of        int   `json:"of"`
	// Jams is in how many of the jams she was fielded in (Fielded) the role or the
	// situation was there at some time, so that what is always there is not taken
	// for a cause. Both are 0 for a letter.
	Jams    int `json:"jams,omitempty"`
	Fielded int `json:"fielded,omitempty"`
}

// The kinds of pattern.
const (
	PatternCode      = "code"
	PatternRole      = "role"
	PatternSituation = "situation"
)

// Situations as patterns name them, seen from the skater's team.
const (
	PowerFor      = "power jam for her team"
	PowerAgainst  = "power jam against her team"
	ShortOwn      = "her team short-handed"
	ShortOther    = "other team short-handed"
	LeadOwn       = "own jammer is lead"
	LeadOther     = "other jammer is lead"
	LeadNobody    = "no jammer is lead in the jam"
	StarPassOwn   = "after own star pass"
	StarPassOther = "after the other team's star pass"
	OneLeft       = "one from fouling out"
	InOvertime    = "overtime"
	InLastJam     = "last jam of the period"
	WithoutPivot  = "no pivot"
	InLineup      = "in the line-up"
	WhenLeading   = "her team leading"
	WhenTrailing  = "her team trailing"
	WhenTied      = "score tied"
)

// situationsAt lists what held at a penalty's call, without what the penalty
// itself brought about. An untimed one gets what held for its jam as a whole.
func situationsAt(src Source, who timeline.SkaterRef, p Penalty, jam int) []string {
	if jam < 0 {
		return nil
	}
	var out []string
	j := &src.Bout.Jams[jam]
	for _, s := range j.Situations {
		if !s.Whole && (!p.Timed || !s.Range.Contains(p.At)) || causedBy(s, p) {
			continue
		}
		if s.Kind != timeline.SitNearFoulOut {
			out = addKey(out, keyOf(s, who))
		}
	}
	if p.Nth == src.Bout.Rules.FoulOut {
		out = append(out, OneLeft)
	}
	if p.Timed {
		out = append(out, leadAt(j, who.Side, p.At)...)
		if p.At < 0 {
			out = append(out, InLineup)
		}
	}
	return append(out, standing(p.Score, who.Side, j)...)
}

// situationsOfJam lists what held at some time of a jam, and how the score stood
// when it started.
func situationsOfJam(src Source, who timeline.SkaterRef, jam int) []string {
	var out []string
	j := &src.Bout.Jams[jam]
	for _, s := range j.Situations {
		out = addKey(out, keyOf(s, who))
	}
	for _, s := range timeline.Sides {
		if j.Sides[s.Index()].Lead {
			out = addKey(out, leadKey(s, who.Side))
		}
	}
	return append(out, standing([2]timeline.Range{j.Sides[0].GameBefore, j.Sides[1].GameBefore}, who.Side, j)...)
}

func addKey(list []string, key string) []string {
	if key == "" || slices.Contains(list, key) {
		return list
	}
	return append(list, key)
}

// causedBy reports whether a situation is there because of the penalty: nobody is
// short-handed before it.
func causedBy(s timeline.Situation, p Penalty) bool {
	return slices.ContainsFunc(s.Why, func(w timeline.Reason) bool { return slices.Contains(w.Tags, p.ID) })
}

// keyOf names a situation as seen from a skater's team; empty for what only the
// jam's end or its points tell.
func keyOf(s timeline.Situation, who timeline.SkaterRef) string {
	own := s.Side == who.Side
	pick := func(mine, theirs string) string {
		if own {
			return mine
		}
		return theirs
	}
	switch s.Kind {
	case timeline.SitPowerJam:
		return pick(PowerFor, PowerAgainst)
	case timeline.SitShort:
		return pick(ShortOwn, ShortOther)
	case timeline.SitNoLead:
		return LeadNobody
	case timeline.SitStarPass:
		return pick(StarPassOwn, StarPassOther)
	case timeline.SitNearFoulOut:
		if own && s.Who == who.Number {
			return OneLeft
		}
	case timeline.SitOvertime:
		return InOvertime
	case timeline.SitLastJam:
		return InLastJam
	case timeline.SitNoPivot:
		return pick(WithoutPivot, "")
	}
	return ""
}

// leadAt says whose jammer is lead at a jam time.
func leadAt(j *timeline.Jam, mine timeline.Side, at time.Duration) []string {
	for _, s := range timeline.Sides {
		x := &j.Sides[s.Index()]
		if x.Lead && x.LeadTimed && x.LeadAt < at && !(x.Lost && (!x.LostTimed || x.LostAt <= at)) {
			return []string{leadKey(s, mine)}
		}
	}
	return nil
}

func leadKey(s, mine timeline.Side) string {
	if s == mine {
		return LeadOwn
	}
	return LeadOther
}

// standing says how the score stood, where it is known.
func standing(score [2]timeline.Range, mine timeline.Side, j *timeline.Jam) []string {
	if !gameKnownBefore(j) {
		return nil
	}
	a, b := score[mine.Index()], score[mine.Other().Index()]
	switch {
	case a.Low > b.High:
		return []string{WhenLeading}
	case a.High < b.Low:
		return []string{WhenTrailing}
	case a.Sure() && b.Sure():
		return []string{WhenTied}
	}
	return nil
}

// gameKnownBefore reports whether every jam up to this one is logged on both sides.
func gameKnownBefore(j *timeline.Jam) bool { return j.Sides[0].GameKnown && j.Sides[1].GameKnown }

// patterns finds what repeats, most frequent first.
func patterns(pens []Penalty, held map[string]int, roles map[string]int, fielded int) []Pattern {
	by := map[[2]string][]int{}
	for i, p := range pens {
		add := func(kind, key string) {
			if key != "" {
				by[[2]string{kind, key}] = append(by[[2]string{kind, key}], i)
			}
		}
		add(PatternCode, p.Code)
		if p.Role != timeline.NoRole {
			add(PatternRole, p.Role.String())
		}
		for _, s := range p.Situations {
			add(PatternSituation, s)
		}
	}
	var out []Pattern
	for k, list := range by {
		if len(list) < 2 {
			continue
		}
		p := Pattern{Kind: k[0], Key: k[1], Penalties: list, Of: len(pens)}
		switch k[0] {
		case PatternRole:
			p.Jams, p.Fielded = roles[k[1]], fielded
		case PatternSituation:
			p.Jams, p.Fielded = held[k[1]], fielded
		}
		out = append(out, p)
	}
	slices.SortFunc(out, func(x, y Pattern) int {
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(len(y.Penalties), len(x.Penalties)), cmp.Compare(x.Key, y.Key))
	})
	return out
}
