package simulate

import (
	"fmt"
	"strings"
	"testing"

	"whistlecut/timeline"
)

// The heart of it: what the simulator booked from where everybody was, and what
// the recount makes of the physical events alone, are the same for every jam.
func checkRecount(t *testing.T, g *Game) {
	for _, j := range g.Truth.Jams {
		for _, d := range differences(j, timeline.RecountEvents(g.Options.Rules, j.Field, j.Events)) {
			t.Errorf("%s: %s", j.ID, d)
		}
		if t.Failed() {
			t.Logf("%s:\n%s", j.ID, story(j))
			return
		}
	}
}

// Trip level equals pass level equals truth, for every jam and the whole bout;
// perfect tags leave nothing loose and no problem.
func checkDerived(t *testing.T, g *Game) {
	counted := 0
	played := *g
	for _, passes := range []bool{false, true} {
		played.Options.PassEvents = passes
		b := timeline.Derive(played.Facts())
		for _, p := range b.Problems {
			t.Errorf("passes %v: problem in %s: %s: %s", passes, p.Jam, p.Kind, p.Text)
		}
		for _, l := range b.Loose {
			t.Errorf("loose tag %s: %s", l.Tag, l.Why)
		}
		if len(b.Jams) != len(g.Truth.Jams) {
			t.Fatalf("%d jams, played %d", len(b.Jams), len(g.Truth.Jams))
		}
		for i, j := range g.Truth.Jams {
			got := &b.Jams[i]
			if got.ID != j.ID || got.Number != j.Number || got.Duration != j.Duration() || got.Ended != j.Ended {
				t.Errorf("jam %s %d lasts %v, ended by %q; played %s %d %v %q", got.ID, got.Number, got.Duration, got.Ended, j.ID, j.Number, j.Duration(), j.Ended)
			}
			for side := range j.Sides {
				s, o := &j.Sides[side], &got.Sides[side]
				if o.PassLevel {
					counted++ // all but those in which the jammer passed nobody
				}
				if o.Points != timeline.Exactly(s.Points) || o.Lead != s.Lead || o.NewJammer != s.NewJammer || o.PassLevel && !passes {
					t.Errorf("passes %v %s %s: points %v lead %v new jammer %q; played %d %v %q (pass level %v)",
						passes, j.ID, timeline.Sides[side], o.Points, o.Lead, o.NewJammer, s.Points, s.Lead, s.NewJammer, o.PassLevel)
				}
			}
		}
		for side, want := range g.Truth.Score {
			if b.Score[side] != timeline.Exactly(want) {
				t.Errorf("score %v, played %d", b.Score[side], want)
			}
		}
	}
	if counted < len(g.Truth.Jams) {
		t.Errorf("only %d sides of %d jams were counted from their passes", counted, len(g.Truth.Jams))
	}
}

// Every line of the score sheet that perfect officials write stands in the
// recount, too.
func checkRows(t *testing.T, g *Game) {
	var own [2][]timeline.JamRow
	for _, r := range g.Rows() {
		own[r.Side.Index()] = append(own[r.Side.Index()], r)
	}
	b := timeline.Derive(g.Facts())
	for _, side := range timeline.Sides {
		got := b.Rows(side)
		if len(got) != len(own[side.Index()]) {
			t.Fatalf("%s: %d rows, written %d", side, len(got), len(own[side.Index()]))
		}
		for i, r := range own[side.Index()] {
			if got[i].NI.State != timeline.CellKnown {
				// Lead before the exit and called at once: the paper may go either way.
				r.NI = got[i].NI
			}
			if a, b := line(r), line(got[i]); a != b {
				t.Errorf("%s jam %d.%d: written %s, recount %s", side, r.Period, r.Jam, a, b)
			}
		}
	}
}

// line prints what counts of a row.
func line(r timeline.JamRow) string {
	mark := func(name string, c timeline.Cell[bool]) string {
		if c.State == timeline.CellKnown && c.Value {
			return name + " "
		}
		return ""
	}
	s := fmt.Sprintf("%d.%d sp %v spacer %v %s %s%s%s%s", r.Period, r.Jam, r.StarPass, r.Spacer, r.Jammer.Value,
		mark("lead", r.Lead), mark("call", r.Call), mark("inj", r.Inj), mark("NI", r.NI))
	for _, c := range r.Trips {
		if c.State == timeline.CellKnown {
			s += fmt.Sprintf("|%d", c.Value)
		} else {
			s += "|-"
		}
	}
	return s + fmt.Sprintf(" = %d, %d", r.JamTotal.Value, r.GameTotal.Value)
}

// differences holds the simulator's own book of one jam against a recount of it.
func differences(j *Jam, c timeline.JamCount) []string {
	var diffs []string
	add := func(format string, args ...any) { diffs = append(diffs, fmt.Sprintf(format, args...)) }
	for side := range j.Sides {
		name := timeline.Sides[side]
		own, got := &j.Sides[side], &c.Sides[side]
		if own.Lead != got.Lead {
			add("%s lead: %v, recount %v (%s)", name, own.Lead, got.Lead, got.LeadWhy.Text)
		} else if own.LeadAt != got.LeadAt {
			add("%s lead at: %v, recount %v", name, own.LeadAt, got.LeadAt)
		}
		if own.Lost != got.Lost {
			add("%s lost: %v, recount %v (%s)", name, own.Lost, got.Lost, got.LostWhy.Text)
		}
		if called := own.Called && j.Ended == timeline.EndCalled; called != got.Called {
			add("%s called: %v, recount %v", name, called, got.Called)
		}
		if own.NewJammer != got.NewJammer {
			add("%s new jammer: %q, recount %q", name, own.NewJammer, got.NewJammer)
		}
		if own.NI != got.NoInitial {
			add("%s NI: %v, recount %v", name, own.NI, got.NoInitial)
		}
		if len(own.Trips) != len(got.Trips) {
			add("%s trips: %d, recount %d", name, len(own.Trips), len(got.Trips))
			continue
		}
		for i, t := range own.Trips {
			o := got.Trips[i]
			if len(t.Points) != len(o.Points) || t.Open != o.Open || t.End != o.End || t.Jammer != o.Jammer || t.NewStar != o.NewStar {
				add("%s trip %d: %d points, open %v, to %v by %s; recount %d, open %v, to %v by %s\n      own %v\n      recount %v\n      not %v",
					name, t.Number, len(t.Points), t.Open, t.End, t.Jammer, len(o.Points), o.Open, o.End, o.Jammer, t.Points, o.Points, o.Unscored)
			}
		}
	}
	for _, p := range c.Problems {
		add("recount finds a problem at %v: %s", p.At, p.Text)
	}
	return diffs
}

// story prints a jam's events but for blockers among themselves.
func story(j *Jam) string {
	role := map[timeline.SkaterRef]timeline.Role{}
	var b strings.Builder
	for _, f := range j.Field.Skaters {
		role[f.SkaterRef] = f.Role
		fmt.Fprintf(&b, "    %s %s order %d box %v\n", f.SkaterRef, f.Role, f.Order, f.InBox)
	}
	for _, e := range j.Events {
		if e.What == timeline.EvPass && role[e.Who] == timeline.Blocker && role[e.Whom] == timeline.Blocker {
			continue
		}
		fmt.Fprintf(&b, "    %8.3f %s %s %s %s %s %s\n", e.At.Seconds(), e.What, e.Who, e.Whom, e.Zone, e.Moved, e.By)
	}
	return b.String()
}
