package numbers

import (
	"slices"
	"time"

	"whistlecut/timeline"
)

// Sitting is one stay in the box as a page shows it.
type Sitting struct {
	Bout   int                `json:"bout"` // index into the page's bouts
	Skater timeline.SkaterRef `json:"skater"`
	// Penalties she sat for, in the order of the page where they are hers.
	Penalties []timeline.ID `json:"penalties,omitempty"`
	Role      timeline.Role `json:"role"`
	// Parts are the stretches of the jams she sat in, first to last.
	Parts []SittingPart `json:"parts"`
	// Between: she took her seat between jams.
	Between bool `json:"between_jams,omitempty"`
	// BoxTime is jam time in the box (4.4) when BoxTimeKnown; Owed what her penalties cost.
	BoxTime      time.Duration `json:"box_time"`
	BoxTimeKnown bool          `json:"box_time_known"`
	Owed         time.Duration `json:"owed"`
	// Computed: nobody tagged the release, it follows from the rules.
	Computed bool `json:"computed,omitempty"`
	// ToTheEnd: she was still in the box when the bout ended.
	ToTheEnd bool `json:"to_the_end,omitempty"`
	// Conceded are the other team's points while she sat, Scored her own team's.
	Conceded Points `json:"conceded"`
	Scored   Points `json:"scored"`
}

// SittingPart is the part of a stay that lies in one jam, in jam time.
type SittingPart struct {
	Jam    timeline.ID            `json:"jam_id"`
	Period int                    `json:"period"`
	Number int                    `json:"number"`
	From   time.Duration          `json:"from"`
	To     time.Duration          `json:"to"`
	Timed  bool                   `json:"timed"` // From and To are known
	Whole  bool                   `json:"whole"` // the jam from start to end
	Film   []timeline.FilmStretch `json:"film,omitempty"`
	// Conceded in this part.
	Conceded Points `json:"conceded"`
}

// boxStretches are the parts of jams that a stay takes in, from sitting down to
// release. toTheEnd: the bout ended before she was released.
func boxStretches(b *timeline.Bout, v timeline.Visit) (list []stretch, toTheEnd bool) {
	if v.InJam < 0 || v.InJam >= len(b.Jams) {
		return nil, false
	}
	if !v.InTimed {
		// Somewhere in this jam, and whole jams only up to one she surely left after.
		list = append(list, stretch{jam: v.InJam, untimed: true})
		for i := v.InJam + 1; i < v.OutJam; i++ {
			list = append(list, stretch{jam: i, toEnd: true})
		}
		if v.OutJam > v.InJam {
			list = append(list, releaseStretch(v))
		}
		return list, false
	}
	first := stretch{jam: v.InJam, from: max(v.In, 0), toEnd: true}
	switch last := v.OutJam; {
	case last == v.InJam && v.OutTimed:
		first.to, first.toEnd = max(v.Out, first.from), false
		return []stretch{first}, false
	case last == v.InJam:
		return []stretch{{jam: v.InJam, untimed: true}}, false
	case last > v.InJam:
		list = append(list, first)
		for i := v.InJam + 1; i < last; i++ {
			list = append(list, stretch{jam: i, toEnd: true})
		}
		return append(list, releaseStretch(v)), false
	}
	// Nobody tagged a release and the rules' arithmetic gives none. Where every jam
	// length is known, that means the bout ended first; else it means nothing.
	for i := v.InJam; i < len(b.Jams); i++ {
		if b.Jams[i].Duration == 0 {
			return []stretch{{jam: v.InJam, untimed: true}}, false
		}
	}
	list = append(list, first)
	for i := v.InJam + 1; i < len(b.Jams); i++ {
		list = append(list, stretch{jam: i, toEnd: true})
	}
	return list, true
}

// releaseStretch is the part of the jam she was released in.
func releaseStretch(v timeline.Visit) stretch {
	if !v.OutTimed {
		return stretch{jam: v.OutJam, untimed: true}
	}
	return stretch{jam: v.OutJam, to: max(v.Out, 0)}
}

// ownEnd shortens a stay that a substitute took over: it ends when she sat down
// (4.4.3, 4.5), not when the time was served.
func ownEnd(b *timeline.Bout, v timeline.Visit) timeline.Visit {
	if v.OutJam >= 0 && v.OutTimed && !v.Computed {
		return v
	}
	for _, o := range b.Visits {
		if o.Tag == v.Tag || o.Skater == v.Skater || o.Skater.Side != v.Skater.Side || !o.InTimed {
			continue
		}
		later := o.InJam > v.InJam || o.InJam == v.InJam && o.In > v.In
		shared := slices.ContainsFunc(o.Penalties, func(id timeline.ID) bool { return slices.Contains(v.Penalties, id) })
		if !later || !shared {
			continue
		}
		if v.OutJam < 0 || o.InJam < v.OutJam || o.InJam == v.OutJam && o.In < v.Out {
			v.OutJam, v.Out, v.OutTimed = o.InJam, o.In, true
			v.Served, v.Known = boxTime(b, v)
		}
	}
	return v
}

// boxTime is the jam time between sitting down and release.
func boxTime(b *timeline.Bout, v timeline.Visit) (sum time.Duration, known bool) {
	if !v.InTimed || !v.OutTimed || v.OutJam < v.InJam {
		return 0, false
	}
	for i := v.InJam; i <= v.OutJam; i++ {
		from, to := time.Duration(0), b.Jams[i].Duration
		if i == v.InJam {
			from = max(v.In, 0)
		}
		if i == v.OutJam {
			to = v.Out
		} else if to == 0 {
			return 0, false
		}
		sum += max(to-from, 0)
	}
	return sum, true
}

// sitting makes a stay of one bout ready for a page.
func sitting(src Source, nth int, v timeline.Visit) Sitting {
	b := src.Bout
	v = ownEnd(b, v)
	s := Sitting{
		Bout: nth, Skater: v.Skater, Penalties: v.Penalties, Role: v.Role, BoxTime: v.Served, BoxTimeKnown: v.Known,
		Owed: v.Owed, Computed: v.Computed, Between: v.InTimed && v.In < 0,
	}
	list, toTheEnd := boxStretches(b, v)
	s.ToTheEnd = toTheEnd
	if toTheEnd {
		v.OutJam, v.OutTimed = len(b.Jams)-1, true
		v.Out = b.Jams[v.OutJam].Duration
		s.BoxTime, s.BoxTimeKnown = boxTime(b, v)
	}
	s.Conceded, s.Scored = Points{Basis: ByJams}, Points{Basis: ByJams}
	for _, x := range list {
		j := &b.Jams[x.jam]
		p := SittingPart{
			Jam: j.ID, Period: j.Period, Number: j.Number, From: x.from, To: x.to, Timed: !x.untimed, Whole: x.whole(),
			Conceded: pointsIn(b, x, v.Skater.Side.Other()),
		}
		if x.toEnd {
			p.To = j.Duration
			p.Timed = p.Timed && j.Duration > 0
		}
		if p.Timed && p.To <= p.From {
			continue // sat down after the jam, or was released at its start
		}
		if p.Timed {
			p.Film, _ = b.Alignment.FilmRange(j.ID, timeline.TimeRange{Start: p.From, End: p.To})
		}
		s.Parts = append(s.Parts, p)
		s.Conceded = s.Conceded.Plus(p.Conceded)
		s.Scored = s.Scored.Plus(pointsIn(b, x, v.Skater.Side))
	}
	return s
}

// awayStretches are the parts of jams that a skater could not play for her
// penalties: from the call, or from sitting down where it is not timed, to her
// release. A penalty without a box visit takes the rest of its jam, a penalty's
// length at the most.
func awayStretches(src Source, who timeline.SkaterRef) []stretch {
	b := src.Bout
	var list []stretch
	sat := map[timeline.ID]bool{}
	for _, v := range b.Visits {
		if v.Skater != who {
			continue
		}
		v = ownEnd(b, v)
		for _, id := range v.Penalties {
			sat[id] = true
			t, jam, at, timed := penaltyAt(src, id)
			if !timed || t.Who.Number != who.Number || jam > v.InJam {
				continue
			}
			// The way to the box: to the seat in the same jam, or over the ends of jams.
			for i := jam; i <= v.InJam; i++ {
				x := stretch{jam: i, toEnd: true}
				if i == jam {
					x.from = max(at, 0)
				}
				if i == v.InJam {
					if !v.InTimed {
						continue
					}
					x.to, x.toEnd = v.In, false
				}
				if x.toEnd || x.to > x.from {
					list = append(list, x)
				}
			}
		}
		more, _ := boxStretches(b, v)
		list = append(list, more...)
	}
	for i := range b.Jams {
		for _, id := range b.Jams[i].Sides[who.Side.Index()].Penalties {
			t, jam, at, timed := penaltyAt(src, id)
			if sat[id] || t.Who.Number != who.Number || t.Who.Seen == timeline.NotSeen || !timed {
				continue
			}
			if t.Penalty != nil && t.Penalty.Served.Number != "" && t.Penalty.Served.Number != who.Number {
				continue
			}
			if d := b.Jams[jam].Duration; d > 0 && at >= d {
				continue
			}
			x := stretch{jam: jam, from: max(at, 0)}
			x.to = x.from + b.Rules.PenaltyTime
			list = append(list, x)
		}
	}
	return union(list)
}
