package find

import (
	"cmp"
	"slices"
	"strings"

	"whistlecut/app"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// field is one thing a moment can be chosen by.
type field int

const (
	bySkater field = iota
	byRole
	byKind
	byCode
	bySituation
	byPeriod
	byScore
	byCamera
	fields
	noField field = -1
)

// letters open the fields' choices.
var letters = [fields]string{"S", "R", "K", "D", "I", "T", "B", "A"}

func (f field) name() string {
	switch f {
	case bySkater:
		return words.T("skater")
	case byRole:
		return words.T("role")
	case byKind:
		return words.T("kind")
	case byCode:
		return words.T("code")
	case bySituation:
		return words.T("situation")
	case byPeriod:
		return words.T("period")
	case byScore:
		return words.T("score state")
	case byCamera:
		return words.T("camera")
	}
	return ""
}

// option is one value of a field.
type option struct {
	text string
	side timeline.Side
	on   bool
	// toggled is the selection with this value put in or taken out.
	toggled timeline.Selection
}

// options lists the values that a field has in a bout.
func options(s *app.Session, sel timeline.Selection, f field) []option {
	switch f {
	case bySkater:
		return skaterOptions(s, sel)
	case byRole:
		return list(sel, []timeline.Role{timeline.Jammer, timeline.Pivot, timeline.Blocker}, roleText, func(x *timeline.Selection) *[]timeline.Role { return &x.Roles })
	case byKind:
		return list(sel, timeline.Kinds(), terms.Kind, func(x *timeline.Selection) *[]timeline.Kind { return &x.Kinds })
	case byCode:
		name := func(c string) string {
			if p, ok := s.Bout.Rules.Code(c); ok {
				return c + "  " + terms.Penalty(p.Name)
			}
			return c
		}
		return list(sel, codes(s), name, func(x *timeline.Selection) *[]string { return &x.Codes })
	case bySituation:
		return list(sel, timeline.SituationKinds(), terms.Situation, func(x *timeline.Selection) *[]timeline.SituationKind { return &x.Situations })
	case byPeriod:
		var periods []int
		for _, p := range s.Bout.Periods {
			periods = append(periods, p.Number)
		}
		return list(sel, periods, func(p int) string { return words.T("period {.period}", "period", p) }, func(x *timeline.Selection) *[]int { return &x.Periods })
	case byScore:
		return scoreOptions(sel)
	case byCamera:
		return list(sel, cameras(s), func(c string) string { return c }, func(x *timeline.Selection) *[]string { return &x.Cameras })
	}
	return nil
}

// list makes the options of a field that is a list of values.
func list[T comparable](sel timeline.Selection, values []T, name func(T) string, of func(*timeline.Selection) *[]T) []option {
	var out []option
	for _, v := range values {
		x := sel
		at := of(&x)
		o := option{text: name(v), on: slices.Contains(*at, v)}
		*at = toggled(*at, v)
		o.toggled = x
		out = append(out, o)
	}
	return out
}

// toggled is a new list with v put in, or taken out when it was there.
func toggled[T comparable](list []T, v T) []T {
	out := slices.DeleteFunc(slices.Clone(list), func(x T) bool { return x == v })
	if len(out) == len(list) {
		out = append(out, v)
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// skaterOptions are the sides as wholes, then all skaters on the rosters and in
// the tags, by number.
func skaterOptions(s *app.Session, sel timeline.Selection) []option {
	var out []option
	for _, side := range timeline.Sides {
		x := sel
		x.Side = side
		if sel.Side == side {
			x.Side = timeline.NoSide
		}
		name := s.Bout.Teams[side.Index()].Name
		if name == "" {
			name = terms.Side(side)
		}
		out = append(out, option{text: words.T("all of {.team}", "team", name), side: side, on: sel.Side == side, toggled: x})
	}
	for _, r := range skaters(s) {
		x := sel
		x.Skaters = toggled(sel.Skaters, r)
		out = append(out, option{text: skaterText(s, r), side: r.Side, on: slices.Contains(sel.Skaters, r), toggled: x})
	}
	return out
}

func skaterText(s *app.Session, r timeline.SkaterRef) string {
	if p, ok := s.Bout.Teams[r.Side.Index()].Find(r.Number); ok {
		return strings.TrimSpace(string(r.Number) + " " + p.Name)
	}
	return string(r.Number)
}

func skaters(s *app.Session) []timeline.SkaterRef {
	var out []timeline.SkaterRef
	add := func(side timeline.Side, n timeline.Number) {
		r := timeline.SkaterRef{Side: side, Number: n}
		if n != "" && side != timeline.NoSide && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, side := range timeline.Sides {
		for _, p := range s.Bout.Teams[side.Index()].Roster {
			add(side, p.Number)
		}
	}
	for _, t := range s.Facts.Tags {
		add(t.Side, t.Who.Number)
	}
	slices.SortFunc(out, func(a, b timeline.SkaterRef) int {
		return cmp.Or(cmp.Compare(a.Side, b.Side), cmp.Compare(a.Number, b.Number))
	})
	return out
}

// codes are those of the rule set, then others that somebody tagged.
func codes(s *app.Session) []string {
	var out, other []string
	for _, c := range s.Bout.Rules.Codes {
		out = append(out, c.Letter)
	}
	for _, t := range s.Facts.Tags {
		if t.Penalty != nil && t.Penalty.Code != "" && !slices.Contains(out, t.Penalty.Code) && !slices.Contains(other, t.Penalty.Code) {
			other = append(other, t.Penalty.Code)
		}
	}
	slices.Sort(other)
	return append(out, other...)
}

func cameras(s *app.Session) []string {
	var out []string
	for _, f := range s.Facts.Footage {
		if !slices.Contains(out, f.Camera) {
			out = append(out, f.Camera)
		}
	}
	slices.Sort(out)
	return out
}

// scoreStates are the states of the score that can be chosen.
var scoreStates = []timeline.ScoreState{
	{Side: timeline.Home, State: timeline.Leading},
	{Side: timeline.Away, State: timeline.Leading},
	{Side: timeline.Home, State: timeline.Tied},
	{Side: timeline.Home, ByMax: 5},
	{Side: timeline.Home, ByMax: 10},
	{Side: timeline.Home, State: timeline.Leading, ByMin: 20},
	{Side: timeline.Away, State: timeline.Leading, ByMin: 20},
}

func scoreText(s timeline.ScoreState) string {
	switch {
	case s.State == timeline.Tied:
		return words.T("tied")
	case s.State == timeline.Leading && s.ByMin > 0:
		return words.T("{.side} leads by {.n} or more", "side", terms.Side(s.Side), "n", s.ByMin)
	case s.State == timeline.Leading:
		return words.T("{.side} leads", "side", terms.Side(s.Side))
	case s.State == timeline.Trailing:
		return words.T("{.side} trails", "side", terms.Side(s.Side))
	}
	return words.T("within {.n} points", "n", s.ByMax)
}

// scoreOptions: one state at a time.
func scoreOptions(sel timeline.Selection) []option {
	var out []option
	for _, st := range scoreStates {
		x := sel
		on := sel.Score != nil && *sel.Score == st
		x.Score = &st
		if on {
			x.Score = nil
		}
		out = append(out, option{text: scoreText(st), on: on, toggled: x})
	}
	return out
}

// active lists what is chosen, each with the selection without it.
func active(s *app.Session, sel timeline.Selection) []option {
	var out []option
	for f := range fields {
		for _, o := range options(s, sel, f) {
			if o.on {
				if f == bySkater && o.text == "" {
					continue
				}
				out = append(out, o)
			}
		}
	}
	if sel.Words != "" {
		x := sel
		x.Words = ""
		out = append(out, option{text: "“" + sel.Words + "”", on: true, toggled: x})
	}
	if sel.OnFilm {
		x := sel
		x.OnFilm = false
		out = append(out, option{text: words.T("on film"), on: true, toggled: x})
	}
	return out
}

// start is a ready-made selection to begin with.
type start struct {
	text string
	sel  timeline.Selection
	open field // choices that are shown then, noField for none
}

func starts() []start {
	situation := func(k timeline.SituationKind) timeline.Selection {
		return timeline.Selection{Situations: []timeline.SituationKind{k}}
	}
	return []start{
		{words.T("power jams"), situation(timeline.SitPowerJam), noField},
		{words.T("star passes"), timeline.Selection{Kinds: []timeline.Kind{timeline.KindStarPass}}, noField},
		{words.T("penalties of a skater"), timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}}, bySkater},
		{words.T("no lead"), situation(timeline.SitNoLead), noField},
		{words.T("lead changes in the score"), situation(timeline.SitLeadChange), noField},
		{words.T("ten points or more"), situation(timeline.SitBigJam), noField},
	}
}
