package timeline

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"
)

// A jam script is a jam written as plain lines, one physical event each:
//
//	R passes W1 W2        hips from behind to ahead, one after the other
//	W1 drops behind R     W1 goes clockwise behind R (a pass by R that W1 made)
//	R ahead | within | behind     where she is to the engagement zone
//	R first trip          passes every blocker on the track, exits, comes round
//	R exits               out at the front
//	R round               behind, then within, for the next trip
//	R down | up | takes off | lands
//	R out [by opponent]   R in [ahead|within|behind]
//	R star off [by opponent]      R star on | RP stripe off | on
//	R grips star with RP | R releases star to RP | R throws star to RP | RP takes star
//	W1 penalised | sits | stands | freed | leaves box | off | on
//	W1 returns [zone] [behind R] [ahead of R]
//	R calls | no pack | pack | jam ends
//
// Home is red (R, R1, R2, R3, RP), away white (W, W1, W2, W3, WP). Events are a
// second apart; "@12.5 ..." sets the time.
type jamScript struct {
	t      testing.TB
	now    time.Duration
	events []Event
	on     []string // blockers on the track, for "first trip"
}

func redWhite() JamStart {
	var s JamStart
	for i, name := range []string{"W", "R", "R1", "W1", "R2", "W2", "R3", "W3", "RP", "WP"} {
		s.Skaters = append(s.Skaters, Fielded{SkaterRef: scriptRef(name), Role: scriptRole(name), Order: i})
	}
	return s
}

// with changes skaters of a start: each change gets the skater named.
func (s JamStart) with(change func(*Fielded), names ...string) JamStart {
	out := s
	out.Skaters = append([]Fielded(nil), s.Skaters...)
	for _, n := range names {
		for i := range out.Skaters {
			if out.Skaters[i].SkaterRef == scriptRef(n) {
				change(&out.Skaters[i])
			}
		}
	}
	return out
}

func (s JamStart) without(names ...string) JamStart {
	out := s
	out.Skaters = nil
	for _, f := range s.Skaters {
		keep := true
		for _, n := range names {
			keep = keep && f.SkaterRef != scriptRef(n)
		}
		if keep {
			out.Skaters = append(out.Skaters, f)
		}
	}
	return out
}

func inBox(f *Fielded)  { f.InBox, f.Order = true, 0 }
func absent(f *Fielded) { f.Absent = true }

func scriptRef(name string) SkaterRef {
	switch name[0] {
	case 'R':
		return SkaterRef{Home, Number(name)}
	case 'W':
		return SkaterRef{Away, Number(name)}
	}
	panic("skater " + name)
}

func scriptRole(name string) Role {
	switch {
	case len(name) == 1:
		return Jammer
	case name[1] == 'P':
		return Pivot
	}
	return Blocker
}

func scriptEvents(t testing.TB, start JamStart, script string) []Event {
	t.Helper()
	p := &jamScript{t: t}
	for _, f := range start.Skaters {
		if f.Role != Jammer && !f.InBox && !f.Absent {
			p.on = append(p.on, string(f.Number))
		}
	}
	for line := range strings.Lines(script) {
		if i := strings.Index(line, "//"); i >= 0 {
			line = line[:i]
		}
		if w := strings.Fields(line); len(w) > 0 {
			p.line(w)
		}
	}
	return p.events
}

func (p *jamScript) add(e Event) {
	e.At = p.now
	e.Tags = []ID{ID("e" + strconv.Itoa(len(p.events)))}
	p.events = append(p.events, e)
}

func (p *jamScript) line(w []string) {
	p.t.Helper()
	p.now += time.Second
	if at, ok := strings.CutPrefix(w[0], "@"); ok {
		sec, err := strconv.ParseFloat(at, 64)
		if err != nil {
			p.t.Fatalf("script time %q: %v", at, err)
		}
		p.now = time.Duration(sec * float64(time.Second))
		w = w[1:]
	}
	switch strings.Join(w, " ") {
	case "no pack":
		p.add(Event{What: EvNoPack})
		return
	case "pack":
		p.add(Event{What: EvPack})
		return
	case "jam ends":
		p.add(Event{What: EvJamEnds})
		return
	}
	who, verb, rest := w[0], w[1], w[2:]
	e := Event{Who: scriptRef(who)}
	two := verb
	if len(rest) > 0 {
		two = verb + " " + rest[0]
	}
	for i, x := range rest {
		if x == "by" {
			e.By = Agent(rest[i+1])
		}
	}
	simple := map[string]EventKind{
		"down": EvDown, "up": EvUp, "out": EvOut, "in": EvIn, "takes off": EvTakesOff, "lands": EvLands,
		"star off": EvStarOff, "star on": EvStarOn, "stripe off": EvStripeOff, "stripe on": EvStripeOn,
		"takes star": EvStarTaken, "penalised": EvPenalised, "sits": EvSits, "stands": EvStands, "freed": EvFreed,
		"leaves box": EvLeavesBox, "off": EvOff, "on": EvOn, "calls": EvCalls, "returns": EvReturns,
	}
	switch {
	case verb == "passes":
		for _, x := range rest {
			p.add(Event{What: EvPass, Who: e.Who, Whom: scriptRef(x)})
			p.now += 100 * time.Millisecond
		}
	case two == "drops behind":
		p.add(Event{What: EvPass, Who: scriptRef(rest[1]), Whom: e.Who, Moved: MovedPassed})
	case verb == "ahead" || verb == "within" || verb == "behind":
		p.add(Event{What: EvZone, Who: e.Who, Zone: Zone(verb)})
	case verb == "exits":
		p.add(Event{What: EvZone, Who: e.Who, Zone: ZoneAhead})
	case verb == "round":
		p.add(Event{What: EvZone, Who: e.Who, Zone: ZoneBehind})
		p.now += time.Second
		p.add(Event{What: EvZone, Who: e.Who, Zone: ZoneWithin})
	case two == "first trip":
		p.line(append([]string{who, "passes"}, p.on...))
		p.line([]string{who, "exits"})
		p.line([]string{who, "round"})
	case two == "grips star":
		p.add(Event{What: EvStarGrip, Who: e.Who, Whom: scriptRef(rest[2])})
	case two == "releases star":
		p.add(Event{What: EvStarRelease, Who: e.Who, Whom: scriptRef(rest[2])})
	case two == "throws star":
		e.What = EvStarLost
		if len(rest) > 2 {
			e.Whom = scriptRef(rest[2])
		}
		p.add(e)
	case simple[two] != "":
		e.What = simple[two]
		p.add(e)
	case simple[verb] != "":
		e.What = simple[verb]
		for i, x := range rest {
			switch {
			case x == "of" || x == "behind" && i+1 < len(rest):
				if x == "of" {
					e.AheadOf = append(e.AheadOf, scriptRef(rest[i+1]))
				} else {
					e.Behind = append(e.Behind, scriptRef(rest[i+1]))
				}
			case x == "ahead" && i+1 < len(rest) && rest[i+1] == "of":
			case x == "ahead" || x == "within" || x == "behind":
				e.Zone = Zone(x)
			}
		}
		p.add(e)
	default:
		p.t.Fatalf("script line %q is not understood", strings.Join(w, " "))
	}
	p.track(who, verb)
}

// track keeps who is on the track for "first trip".
func (p *jamScript) track(who, verb string) {
	switch verb {
	case "sits", "off":
		for i, x := range p.on {
			if x == who {
				p.on = append(p.on[:i:i], p.on[i+1:]...)
				return
			}
		}
	case "returns", "on":
		if scriptRole(who) != Jammer {
			p.track(who, "off")
			p.on = append(p.on, who)
		}
	}
}

// recountScript counts a script and, on failure, tells everything it found.
func recountScript(t testing.TB, edition string, start JamStart, script string) JamCount {
	t.Helper()
	rules, ok := Edition(edition)
	if !ok {
		t.Fatalf("no edition %q", edition)
	}
	got := RecountEvents(rules, start, scriptEvents(t, start, script))
	t.Cleanup(func() {
		if t.Failed() {
			t.Log(tellCount(got))
		}
	})
	return got
}

func tellCount(c JamCount) string {
	var b strings.Builder
	fmt.Fprintf(&b, "ended %q %v (%s)\n", c.Ended, c.EndAt, c.EndWhy.Text)
	for i, s := range c.Sides {
		fmt.Fprintf(&b, "%v: %d points, lead %v, lost %v, called %v, NI %v, why lead: %s\n",
			Sides[i], s.Points, s.Lead, s.Lost, s.Called, s.NoInitial, s.LeadWhy.Text)
		for _, tr := range s.Trips {
			fmt.Fprintf(&b, "  trip %d by %s, open %v\n", tr.Number, tr.Jammer, tr.Open)
			for _, p := range tr.Points {
				fmt.Fprintf(&b, "    %v %s: %s (%s)\n", p.On, p.Kind, p.Why.Text, p.Why.Section)
			}
			for _, u := range tr.Unscored {
				fmt.Fprintf(&b, "    %v none: %s (%s)\n", u.On, u.Why.Text, u.Why.Section)
			}
		}
		for _, st := range s.Status {
			fmt.Fprintf(&b, "  %v %s %s: %s (%s)\n", st.At, st.Who, st.Status, st.Why.Text, st.Why.Section)
		}
	}
	for _, p := range c.Problems {
		fmt.Fprintf(&b, "problem at %v: %s\n", p.At, p.Text)
	}
	return b.String()
}
