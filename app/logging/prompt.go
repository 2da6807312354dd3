package logging

import (
	"slices"
	"strings"

	"whistlecut/timeline"
)

// Asks is whose number is asked for.
type Asks uint8

// The numbers that are asked for.
const (
	AskJammer Asks = iota + 1
	AskPivot
	AskBlocker
	AskNewJammer // to whom the star went
	AskPenalised
	AskBox
	AskOther // the chosen tag's skater
)

// Prompt is one number asked for. Everything else can be logged while it stands.
type Prompt struct {
	Asks Asks
	Side timeline.Side
	Jam  timeline.ID // of a line-up
	Tag  timeline.ID // of all others
	N    int         // of a blocker, from 0
	// Typed are the digits so far; Guess is a number that can be confirmed.
	Typed string
	Guess timeline.Number
}

// longestNumber is how many digits a number has at most (Uniform rules).
const longestNumber = 4

// Prompt is what is asked for first, and how many more wait.
func (m *Machine) Prompt(v View) (p Prompt, more int, ok bool) {
	n := len(m.prompts)
	if n == 0 {
		return Prompt{}, 0, false
	}
	p = m.prompts[n-1]
	p.Typed, p.Guess = m.typed, v.guess(p)
	return p, n - 1, true
}

func (m *Machine) ask(p Prompt) {
	m.typed = ""
	if p.Tag != "" {
		m.prompts = slices.DeleteFunc(m.prompts, func(o Prompt) bool { return o.Tag == p.Tag })
	}
	m.prompts = append(m.prompts, p)
}

// answered drops the prompts of a tag.
func (m *Machine) answered(tag timeline.ID) {
	m.prompts = slices.DeleteFunc(m.prompts, func(o Prompt) bool { return o.Tag == tag })
	m.typed = ""
}

func (m *Machine) dropLineups() {
	m.prompts = slices.DeleteFunc(m.prompts, func(p Prompt) bool { return p.Tag == "" })
	m.typed = ""
}

// askJammers asks for the jammers that no line-up names, home first.
func (m *Machine) askJammers(v View, jam int) {
	j := v.Bout.Jams[jam]
	for _, side := range []timeline.Side{timeline.Away, timeline.Home} {
		if t, ok := v.lineup(jam, side); !ok || t.Lineup.Jammer.Number == "" && t.Lineup.Jammer.Seen != timeline.NotSeen {
			m.ask(Prompt{Asks: AskJammer, Side: side, Jam: j.ID})
		}
	}
}

// askLineups asks for everybody on the track who is not known yet.
func (m *Machine) askLineups(v View) Outcome {
	s := v.Standing()
	if s.Jam < 0 {
		return refuse(NoJam)
	}
	m.dropLineups()
	for _, side := range []timeline.Side{timeline.Away, timeline.Home} {
		l := timeline.LineupInfo{Jammer: timeline.Who{Seen: timeline.NotSeen}, Pivot: timeline.Who{Seen: timeline.NotSeen}}
		if t, ok := v.lineup(s.Jam, side); ok {
			l = *t.Lineup
		}
		p := Prompt{Side: side, Jam: v.Bout.Jams[s.Jam].ID}
		for n := 2; n >= len(l.Blockers); n-- {
			p.Asks, p.N = AskBlocker, n
			m.ask(p)
		}
		p.N = 0
		if l.Pivot.Seen == timeline.NotSeen {
			p.Asks = AskPivot
			m.ask(p)
		}
		if l.Jammer.Number == "" {
			p.Asks = AskJammer
			m.ask(p)
		}
	}
	return Outcome{}
}

// digit takes one digit of the number asked for. It is done as soon as no other
// number of the roster begins so.
func (m *Machine) digit(v View, n int) Outcome {
	if len(m.prompts) == 0 {
		if o, ok := m.digitPoints(v, n); ok {
			return o
		}
		t, ok := v.tag(m.chosen.Tag)
		if !ok || m.chosen.End || t.Kind == timeline.KindJam || t.Kind == timeline.KindLineup {
			return refuse(NothingAsked)
		}
		m.askAbout(t)
	}
	if len(m.typed) < longestNumber {
		m.typed += string(rune('0' + n))
	}
	p := m.prompts[len(m.prompts)-1]
	if who, sole := match(v.Bout.Teams[p.Side.Index()], m.typed); sole {
		return m.answer(v, p, timeline.Who{Number: who})
	}
	return Outcome{}
}

// digitPoints: a digit on a chosen trip, or on one just logged, is its points.
func (m *Machine) digitPoints(v View, n int) (Outcome, bool) {
	t, ok := m.correcting(v, timeline.KindTrip)
	if !ok && m.chosen.Tag == "" {
		t, ok = v.tag(m.last)
		ok = ok && t.Kind == timeline.KindTrip && v.recent(t.Place)
	}
	if !ok || t.Trip == nil {
		return Outcome{}, false
	}
	if n > v.Bout.Rules.PointsPerTrip {
		return refuse(TooMany), true
	}
	return m.retell(v, t, t.Side, n), true
}

// askAbout asks for the skater of a tag.
func (m *Machine) askAbout(t timeline.Tag) {
	p := Prompt{Asks: AskOther, Side: t.Side, Tag: t.ID}
	switch t.Kind {
	case timeline.KindPenalty:
		p.Asks = AskPenalised
	case timeline.KindBox:
		p.Asks = AskBox
	case timeline.KindStarPass:
		p.Asks = AskNewJammer
	}
	if t.Side != timeline.NoSide {
		m.ask(p)
	}
}

// match finds a roster number by its digits. It is the sole one when nothing
// else on the roster begins so.
func match(team timeline.Team, typed string) (n timeline.Number, sole bool) {
	exact, begins := timeline.Number(""), 0
	for _, s := range team.Roster {
		d := digits(string(s.Number))
		if !strings.HasPrefix(d, typed) {
			continue
		}
		begins++
		if d == typed && (exact == "" || string(s.Number) == typed) {
			exact = s.Number
		}
	}
	return exact, begins == 1 && exact != ""
}

func digits(s string) string {
	return strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, s)
}

// closeNumber takes the typed digits as the number, on a roster or not.
func (m *Machine) closeNumber(v View) Outcome {
	if len(m.prompts) == 0 {
		m.typed = ""
		return Outcome{}
	}
	p := m.prompts[len(m.prompts)-1]
	team := v.Bout.Teams[p.Side.Index()]
	n, _ := match(team, m.typed)
	known := n != ""
	if !known {
		n = timeline.Number(m.typed)
	}
	o := m.answer(v, p, timeline.Who{Number: n})
	if !known && len(team.Roster) > 0 {
		o.Say = Say{What: NotOnRoster, Side: p.Side, Number: n}
	}
	return o
}

// answer stores a number, or that it was not seen, and goes on to the next prompt.
func (m *Machine) answer(v View, p Prompt, who timeline.Who) Outcome {
	m.typed = ""
	m.prompts = slices.DeleteFunc(m.prompts, func(o Prompt) bool {
		return o.Asks == p.Asks && o.Side == p.Side && o.Jam == p.Jam && o.Tag == p.Tag && o.N == p.N
	})
	if p.Tag == "" {
		return m.fielded(v, p, who)
	}
	t, ok := v.tag(p.Tag)
	if !ok {
		return Outcome{}
	}
	switch p.Asks {
	case AskNewJammer:
		info := *t.StarPass
		info.To = who
		t.StarPass = &info
	case AskBox:
		if who.Number != "" {
			if o, ok := m.stands(v, t, who.Number); ok {
				return o
			}
		}
		t.Who = who
	default:
		t.Who = who
	}
	return v.set(Changed, t)
}

// lineup is a side's line-up tag of a jam.
func (v View) lineup(jam int, side timeline.Side) (timeline.Tag, bool) {
	for _, t := range v.tags(jam, side, timeline.KindLineup) {
		if t.Lineup != nil {
			return t, true
		}
	}
	return timeline.Tag{}, false
}

// fielded stores one number of a line-up. A number that stands elsewhere in it
// moves here.
func (m *Machine) fielded(v View, p Prompt, who timeline.Who) Outcome {
	jam := v.index(p.Jam)
	if jam < 0 {
		return Outcome{}
	}
	what := Changed
	t, ok := v.lineup(jam, p.Side)
	l := timeline.LineupInfo{Jammer: timeline.Who{Seen: timeline.NotSeen}, Pivot: timeline.Who{Seen: timeline.NotSeen}}
	if ok {
		l = *t.Lineup
		l.Blockers = slices.Clone(l.Blockers)
	} else {
		what = Logged
		t = timeline.Tag{ID: m.newID(), Kind: timeline.KindLineup, Place: timeline.InJam(p.Jam, 0), Side: p.Side}
	}
	if who.Number != "" {
		l.Blockers = slices.DeleteFunc(l.Blockers, func(w timeline.Who) bool { return w.Number == who.Number })
		for _, w := range []*timeline.Who{&l.Jammer, &l.Pivot} {
			if w.Number == who.Number {
				*w = timeline.Who{Seen: timeline.NotSeen}
			}
		}
	}
	switch p.Asks {
	case AskJammer:
		l.Jammer = who
	case AskPivot:
		l.Pivot = who
	case AskBlocker:
		if len(l.Blockers) < 4 {
			l.Blockers = append(l.Blockers, who)
		}
	}
	t.Lineup = &l
	return v.set(what, t)
}
