package simulate

import (
	"fmt"
	"strings"

	"whistlecut/timeline"
)

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
