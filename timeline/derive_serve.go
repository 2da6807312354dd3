package timeline

import (
	"fmt"
	"time"
)

// visitTolerance is how far a stay in the box may be off what is owed before it is
// reported: officials time by hand (common practice, no source).
const visitTolerance = 3 * time.Second

// serve asks the box arithmetic for the releases nobody tagged.
func (d *deriver) serve() {
	jams := make([]BoxJam, len(d.bout.Jams))
	for i, j := range d.bout.Jams {
		jams[i].Length = j.Duration
		for n := range j.Sides {
			w := j.Sides[n]
			jams[i].NoJammer[n] = w.LineupTagged && w.Jammer.Number == "" && w.Jammer.Seen == Sure
		}
	}
	ev := make([]BoxEvent, 0, 3*len(d.bout.Visits))
	var left []BoxEvent
	var jammers []*Visit
	for i := range d.bout.Visits {
		if d.bout.Visits[i].Role == Jammer {
			jammers = append(jammers, &d.bout.Visits[i])
		}
	}
	// A substitute goes on with a penalty that another visit began: for the clock she
	// is the skater she replaces (4.4.3, 4.5).
	owner := map[ID]int{} // penalty to the visit that began it
	clock := make([]SkaterRef, len(d.bout.Visits))
	goesOn := make([]bool, len(d.bout.Visits)) // continues an earlier visit
	later := make([]bool, len(d.bout.Visits))  // an other visit continues it
	owes := map[SkaterRef]bool{}
	for i := range d.bout.Visits {
		v := &d.bout.Visits[i]
		clock[i] = v.Skater
		if !v.InTimed || v.Skater.Number == "" {
			continue
		}
		for _, id := range v.Penalties {
			if k, ok := owner[id]; ok {
				clock[i], goesOn[i], later[k] = clock[k], true, true
			}
		}
		who := clock[i]
		for _, id := range v.Penalties {
			if _, ok := owner[id]; ok {
				continue
			}
			owner[id] = i
			m := moment{v.InJam, v.In, true}
			// One who serves from the start for another owes it from sitting down on: at the
			// call she may still have been serving her own.
			if p, t := d.momentOf(id), d.tag[id]; p.timed && (t == nil || t.Who.Number == v.Skater.Number) {
				m = p
			}
			ev = append(ev, BoxEvent{Jam: m.jam, At: m.at, Skater: who, Role: v.Role, What: BoxPenalised, Penalty: id, Tags: []ID{id}})
		}
		if len(v.Penalties) == 0 && !owes[who] {
			ev = append(ev, BoxEvent{Jam: v.InJam, At: v.In, Skater: who, Role: v.Role, What: BoxPenalised, Tags: []ID{v.Tag}})
		}
		ev = append(ev, BoxEvent{Jam: v.InJam, At: v.In, Skater: who, Role: v.Role, What: BoxSits, Tags: []ID{v.Tag}})
		sum, known := d.jamTime(v)
		owes[who] = known && sum < v.Owed-visitTolerance
		if v.OutTimed {
			left = append(left, BoxEvent{Jam: v.OutJam, At: leftAt(v, jammers), Skater: who, Role: v.Role, What: BoxLeaves, Tags: []ID{v.Tag}})
		}
	}
	ev = append(ev, left...) // at one moment, sitting down comes before being freed by it
	if len(ev) == 0 {
		return
	}
	count := ServeBox(d.rules, jams, ev)
	stays := map[SkaterRef][]BoxServed{}
	for _, s := range count.Stays {
		stays[s.Skater] = append(stays[s.Skater], s)
	}
	for i := range d.bout.Visits {
		v := &d.bout.Visits[i]
		for _, s := range stays[clock[i]] {
			if s.InJam != v.InJam || s.In != v.In || !v.InTimed {
				continue
			}
			v.Why = append(v.Why, s.Why...)
			if goesOn[i] {
				v.Owed = s.Owed
			}
			if !v.OutTimed && s.Released && d.lengthsKnown(v.InJam, s.OutJam) && (v.OutJam < 0 || v.OutJam == s.OutJam) {
				v.OutJam, v.Out, v.OutTimed, v.Computed = s.OutJam, s.Out, true, true
			}
			if v.OutTimed && !v.Computed && s.Left && !later[i] && s.Remains > visitTolerance && d.lengthsKnown(v.InJam, v.OutJam) {
				d.problem(Problem{
					Kind: ProblemBox, Jam: d.bout.Jams[v.OutJam].ID, Side: v.Skater.Side, Tags: []ID{v.Tag}, Section: "4.4",
					Text: fmt.Sprintf("%s leaves the box with %.0f s of her penalty time not served", v.Skater, s.Remains.Seconds()),
				})
			}
			break
		}
	}
}

// leftAt is when a skater left, for the arithmetic: a jammer freed by the other's
// sitting down leaves then, even if hands tagged her out a moment before.
func leftAt(v *Visit, jammers []*Visit) time.Duration {
	if v.Role != Jammer {
		return v.Out
	}
	for _, o := range jammers {
		if o.Skater.Side != v.Skater.Side && o.InTimed && o.InJam == v.OutJam && o.In > v.Out && o.In-v.Out <= visitTolerance {
			return o.In
		}
	}
	return v.Out
}
