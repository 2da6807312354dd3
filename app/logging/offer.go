package logging

import (
	"slices"

	"whistlecut/timeline"
)

// Offer is what guided logging expects next of one side: by the sheet.
type Offer struct {
	Act    Act // Lead, Lost, Star, Trip, CallOff, Injury
	Side   timeline.Side
	Points int             // of a trip
	Trip   int             // its number
	Number timeline.Number // new jammer of a star pass
}

// Offer is the next thing that the sheet has for the side in the jam on show and
// nobody has logged. Lost is offered before a star pass, else behind the trips:
// the sheet does not say when it happened.
func (v View) Offer(side timeline.Side) (Offer, bool) {
	s := v.Standing()
	if v.Sheet == nil || s.Jam < 0 {
		return Offer{}, false
	}
	j := &v.Bout.Jams[s.Jam]
	x := &j.Sides[side.Index()]
	first, sp := v.sheetRows(j, side)
	if first == nil {
		return Offer{}, false
	}
	o := Offer{Side: side}
	is := func(c timeline.Cell[bool]) bool { return c.State == timeline.CellKnown && c.Value }
	if is(first.Lead) && len(v.tags(s.Jam, side, timeline.KindLead)) == 0 {
		o.Act = Lead
		return o, true
	}
	logged := 1
	for _, t := range v.trips(s.Jam, side) {
		logged = max(logged, t.Trip.Number)
	}
	next := func(row *timeline.JamRow) bool {
		for i, c := range row.Trips {
			if n := i + 2; n > logged && c.State == timeline.CellKnown {
				o.Act, o.Trip, o.Points = Trip, n, c.Value
				return true
			}
		}
		return false
	}
	if next(first) {
		return o, true
	}
	if is(first.Lost) && !x.Lost && len(v.tags(s.Jam, side, timeline.KindLost)) == 0 {
		o.Act = Lost
		return o, true
	}
	if sp != nil {
		if !x.StarPass {
			o.Act = Star
			if sp.Jammer.State == timeline.CellKnown {
				o.Number = sp.Jammer.Value
			}
			return o, true
		}
		if next(sp) {
			return o, true
		}
	}
	switch {
	case is(first.Call) && len(v.tags(s.Jam, timeline.NoSide, timeline.KindCall)) == 0:
		o.Act = CallOff
		return o, true
	case is(first.Inj) && len(v.tags(s.Jam, timeline.NoSide, timeline.KindInjury)) == 0:
		o.Act = Injury
		return o, true
	}
	return Offer{}, false
}

// sheetRows are a side's lines of a jam on the sheet.
func (v View) sheetRows(j *timeline.Jam, side timeline.Side) (first, sp *timeline.JamRow) {
	for i := range v.Sheet.Rows {
		r := &v.Sheet.Rows[i]
		if max(r.Period, 1) != j.Period || r.Jam != j.Number || r.Side != side || r.Spacer {
			continue
		}
		switch {
		case r.StarPass:
			sp = r
		case first == nil:
			first = r
		}
	}
	return first, sp
}

// confirm takes what is offered for a side: a number asked for, else the offer.
func (m *Machine) confirm(v View, side timeline.Side) Outcome {
	if p, _, ok := m.Prompt(v); ok && p.Side == side && p.Guess != "" {
		o := m.answer(v, p, timeline.Who{Number: p.Guess})
		if code, ok := v.sheetCode(p); ok && len(o.Changes) == 1 && o.Did.Tag.Penalty != nil && o.Did.Tag.Penalty.Code == "" {
			t := o.Did.Tag
			info := *t.Penalty
			info.Code, info.Seen = code, timeline.Sure
			t.Penalty = &info
			o = v.set(Changed, t)
		}
		return o
	}
	f, ok := v.Offer(side)
	if !ok {
		return Outcome{Say: Say{What: NothingOffered, Side: side}}
	}
	m.unchoose()
	m.armed = false
	switch f.Act {
	case Lead:
		return m.lead(v, side)
	case Lost:
		return m.lost(v, side)
	case Star:
		o := m.star(v, side)
		if f.Number != "" && o.Did.What == Logged {
			t := o.Did.Tag
			info := *t.StarPass
			info.To = timeline.Who{Number: f.Number}
			t.StarPass = &info
			m.answered(t.ID)
			o = v.set(Logged, t)
		}
		return o
	case Trip:
		return m.trip(v, side, f.Points)
	case CallOff:
		return m.called(v, side)
	case Injury:
		return m.injury(v)
	}
	return Outcome{}
}

// guess is a number that a prompt can be answered with by Confirm: what the
// sheet has (guided only), or the only one that the tags leave.
func (v View) guess(p Prompt) timeline.Number {
	switch p.Asks {
	case AskJammer, AskPivot:
		jam := v.index(p.Jam)
		if v.Sheet == nil || jam < 0 {
			return ""
		}
		j := &v.Bout.Jams[jam]
		if p.Asks == AskJammer {
			if first, _ := v.sheetRows(j, p.Side); first != nil && first.Jammer.State == timeline.CellKnown {
				return first.Jammer.Value
			}
		}
		for _, l := range v.Sheet.Lineups {
			if max(l.Period, 1) != j.Period || l.Jam != j.Number || l.Side != p.Side || l.StarPass {
				continue
			}
			c := l.Jammer.Skater
			if p.Asks == AskPivot {
				c = l.Pivot.Skater
			}
			if c.State == timeline.CellKnown {
				return c.Value
			}
		}
	case AskNewJammer:
		if jam := v.jamOf(p.Tag); jam >= 0 {
			if n := v.Bout.Jams[jam].Sides[p.Side.Index()].Pivot.Number; n != "" {
				return n
			}
			if v.Sheet != nil {
				if _, sp := v.sheetRows(&v.Bout.Jams[jam], p.Side); sp != nil && sp.Jammer.State == timeline.CellKnown {
					return sp.Jammer.Value
				}
			}
		}
	case AskPenalised:
		if list := v.sheetPenalties(p); len(list) > 0 {
			return list[0].number
		}
	case AskBox:
		return v.toSit(p)
	}
	return ""
}

type expected struct {
	number timeline.Number
	code   string
}

// sheetPenalties are the sheet's penalties of the prompt's jam and side that no tag has.
func (v View) sheetPenalties(p Prompt) []expected {
	jam := v.jamOf(p.Tag)
	if v.Sheet == nil || jam < 0 {
		return nil
	}
	j := &v.Bout.Jams[jam]
	have := v.tags(jam, p.Side, timeline.KindPenalty)
	var out []expected
	for _, x := range v.Sheet.Penalties {
		if max(x.Period.Value, 1) != j.Period || x.Jam.Value != j.Number || x.Side != p.Side || x.Skater.State != timeline.CellKnown {
			continue
		}
		i := slices.IndexFunc(have, func(t timeline.Tag) bool {
			return t.Who.Number == x.Skater.Value && (t.Penalty.Code == "" || x.Code.State != timeline.CellKnown || t.Penalty.Code == x.Code.Value)
		})
		if i >= 0 {
			have = slices.Delete(have, i, i+1)
			continue
		}
		out = append(out, expected{x.Skater.Value, x.Code.Value})
	}
	return out
}

func (v View) sheetCode(p Prompt) (string, bool) {
	if p.Asks != AskPenalised {
		return "", false
	}
	list := v.sheetPenalties(p)
	return firstCode(list), firstCode(list) != ""
}

func firstCode(list []expected) string {
	if len(list) == 0 {
		return ""
	}
	return list[0].code
}

// toSit is the one skater of a side with a penalty in this or the last jam whom
// no box visit names since; "" when there are none or several.
func (v View) toSit(p Prompt) timeline.Number {
	jam := v.jamOf(p.Tag)
	if jam < 0 {
		return ""
	}
	served := map[timeline.ID]bool{}
	for _, x := range v.Bout.Visits {
		for _, id := range x.Penalties {
			served[id] = true
		}
	}
	found := timeline.Number("")
	for i := max(jam-1, 0); i <= jam; i++ {
		for _, t := range v.tags(i, p.Side, timeline.KindPenalty) {
			if t.Who.Number == "" || served[t.ID] || t.Who.Number == found {
				continue
			}
			if found != "" {
				return ""
			}
			found = t.Who.Number
		}
	}
	return found
}
