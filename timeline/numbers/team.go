package numbers

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// teamSum is one team over several bouts, for comparing a skater with it.
type teamSum struct {
	all        Stint
	jamming    Jamming
	penalties  int
	skaterJams int
	box        time.Duration
	begun      bool
}

func (t *teamSum) add(src Source, side timeline.Side) {
	var m Jamming
	var all Stint
	for i := range src.Bout.Jams {
		j := &src.Bout.Jams[i]
		all.add(j, side)
		m.addJam(j, side, "")
		s := &j.Sides[side.Index()]
		t.skaterJams += len(s.Lineup)
		if s.StarPass && s.NewJammer != "" && s.Lineup[s.NewJammer] == timeline.NoRole {
			t.skaterJams++
		}
	}
	m.LeadKnown = leadTagged(src)
	t.all.plus(all)
	if !t.begun {
		t.jamming, t.begun = m, true
	} else {
		t.jamming.plus(m)
	}
	for _, f := range src.Bout.Fouls {
		if f.Skater.Side == side {
			t.penalties += len(f.Penalties)
		}
	}
	for _, v := range src.Bout.Visits {
		if v.Skater.Side == side {
			if s := sitting(src, 0, v); s.BoxTimeKnown {
				t.box += s.BoxTime
			}
		}
	}
	t.all.settle()
	t.jamming.settle()
}

// compare puts a skater's record beside the team's. Rates per jam of a skater are
// over the jams she was fielded in; the team's over all jams fielded of all its
// skaters, so that both are per skater and jam.
func (t *teamSum) compare(r Record) Comparison {
	c := Comparison{TeamJams: t.all.Jams, SkaterJams: t.skaterJams}
	jams := r.All.Jams
	c.PlusMinus = compared(r.All.PerJam.Mean, t.all.PerJam.Mean, r.All.PerJam.N, r.All.PerJam.N > 0 && t.all.PerJam.N > 0)
	rates := jams > 0 && t.skaterJams > 0
	c.Penalties = compared(ratio(float64(r.Penalties), jams), ratio(float64(t.penalties), t.skaterJams), jams, rates)
	c.BoxPerJam = compared(ratio(r.BoxTime.Seconds(), jams), ratio(t.box.Seconds(), t.skaterJams), jams, rates)
	hers, ok1 := r.Jamming.Lead.Value()
	team, ok2 := t.jamming.Lead.Value()
	c.LeadRate = compared(hers, team, r.Jamming.Lead.Of, ok1 && ok2 && r.Jamming.LeadKnown && t.jamming.LeadKnown)
	low, high, ok1 := r.Jamming.PerTrip()
	tlow, thigh, ok2 := t.jamming.PerTrip()
	c.PerTrip = compared((low+high)/2, (tlow+thigh)/2, r.Jamming.Trips, ok1 && ok2)
	return c
}

// sortCounts puts the most frequent letter first.
func sortCounts(list []Count) {
	slices.SortStableFunc(list, func(x, y Count) int { return cmp.Or(cmp.Compare(y.N, x.N), cmp.Compare(x.Code, y.Code)) })
}
