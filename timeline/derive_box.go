package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// visits follows every box visit through the jams: what it is for, when it
// ended, and the jam time served (Rules 4.4). Where nobody tagged the release,
// the rules' arithmetic gives it and the visit says so.
func (d *deriver) visits() {
	for i := range d.inJam {
		for _, p := range d.inJam[i] {
			if p.Kind == KindBox && p.Side != NoSide {
				d.visit(i, p)
			}
		}
	}
	in := func(v Visit) moment { return moment{v.InJam, v.In, v.InTimed} }
	slices.SortStableFunc(d.bout.Visits, func(x, y Visit) int {
		return cmp.Or(cmp.Compare(x.InJam, y.InJam), compareBool(y.InTimed, x.InTimed), cmp.Compare(x.In, y.In), cmp.Compare(x.Tag, y.Tag))
	})
	// What each visit is for: the penalties it names, else those not served yet.
	served := map[ID]bool{}
	for i := range d.bout.Visits {
		for _, id := range d.bout.Visits[i].Penalties {
			served[id] = true
		}
	}
	open := map[SkaterRef][]penalised{}
	for _, p := range d.penalties {
		if !served[p.ID] {
			open[p.serves] = append(open[p.serves], p)
		}
	}
	for i := range d.bout.Visits {
		v := &d.bout.Visits[i]
		if len(v.Penalties) == 0 {
			open[v.Skater] = slices.DeleteFunc(open[v.Skater], func(p penalised) bool {
				mine := !in(*v).before(p.moment)
				if mine {
					v.Penalties = append(v.Penalties, p.ID)
				}
				return mine
			})
		}
		v.Owed = d.rules.PenaltyTime * time.Duration(max(len(v.Penalties), 1))
	}
	d.serve()
	for i := range d.bout.Visits {
		v := &d.bout.Visits[i]
		d.served(v)
		d.seatedAtStart(v)
	}
}

func (d *deriver) visit(i int, p placed) {
	v := Visit{Skater: SkaterRef{p.Side, p.Who.Number}, Tag: p.ID, OutJam: -1}
	if p.Who.Seen == NotSeen {
		v.Skater.Number = ""
	}
	v.InJam, v.In, v.InTimed = i, p.at, p.timed
	if j := d.bout.Jams[i]; p.timed && j.Duration > 0 && p.at > j.Duration {
		if n, at, ok := d.lineupTime(i, p.at); ok {
			v.InJam, v.In = n, at
		}
	}
	var out Place
	if p.Box != nil {
		v.Role, out = p.Box.Role, p.Box.Out
		for _, id := range p.Box.Penal {
			if t := d.tag[id]; t == nil || t.Kind != KindPenalty {
				d.problem(Problem{Kind: ProblemDangling, Jam: d.bout.Jams[i].ID, Side: p.Side, Tags: []ID{p.ID}, Text: fmt.Sprintf("box visit %s is for penalty %q, which is not there", p.ID, id)})
				continue
			}
			if !slices.Contains(v.Penalties, id) {
				v.Penalties = append(v.Penalties, id)
			}
		}
	}
	if !out.IsZero() {
		v.OutJam, v.Out, v.OutTimed = d.release(v.InJam, out)
		if v.OutJam >= 0 && (moment{v.OutJam, v.Out, v.OutTimed}).before(moment{v.InJam, v.In, v.InTimed}) {
			d.problem(Problem{Kind: ProblemContradict, Jam: d.bout.Jams[i].ID, Side: p.Side, Tags: []ID{p.ID}, Text: fmt.Sprintf("%s leaves the box before she sits down; when she left counts as not known", v.Skater)})
			v.OutJam, v.Out, v.OutTimed = -1, 0, false
		}
	}
	if v.Role == NoRole {
		v.Role = d.bout.Jams[v.InJam].Sides[p.Side.Index()].RoleAt(v.Skater.Number, v.In)
	}
	d.bout.Visits = append(d.bout.Visits, v)
}

// lineupTime is a time after jam i's end as a negative time of the jam that follows.
func (d *deriver) lineupTime(i int, at time.Duration) (int, time.Duration, bool) {
	if i+1 >= len(d.bout.Jams) || d.bout.Jams[i+1].Period != d.bout.Jams[i].Period {
		return 0, 0, false
	}
	x, ok1 := d.bout.Alignment.Starts[d.bout.Jams[i].ID]
	y, ok2 := d.bout.Alignment.Starts[d.bout.Jams[i+1].ID]
	if !ok1 || !ok2 || x.Group != y.Group {
		return 0, 0, false
	}
	return i + 1, at - (y.At - x.At), true
}

// release finds the jam of a place that a skater left the box at.
func (d *deriver) release(near int, p Place) (jam int, at time.Duration, timed bool) {
	if p.Jam != "" {
		i, ok := d.jamIndex[p.Jam]
		if !ok {
			d.problem(Problem{Kind: ProblemDangling, Jam: d.bout.Jams[near].ID, Text: fmt.Sprintf("a box visit ends in jam %q, which is not there", p.Jam)})
			return -1, 0, false
		}
		at, timed = d.timeIn(i, p)
		return i, at, timed
	}
	id, off, ok := d.bout.Alignment.JamAt(p.Footage, p.Film)
	if !ok {
		return -1, 0, false
	}
	return d.jamIndex[id], off, true
}

// lengthsKnown reports whether the jams from one to before the other have known lengths.
func (d *deriver) lengthsKnown(from, to int) bool {
	for i := from; i < to && i < len(d.bout.Jams); i++ {
		if d.bout.Jams[i].Duration == 0 {
			return false
		}
	}
	return true
}

// served sums the jam time of a visit: the clock runs only in jams (Rules 4.4).
func (d *deriver) served(v *Visit) {
	v.Served, v.Known = d.jamTime(v)
	if !v.Known {
		return
	}
	text := fmt.Sprintf("served %.1f s of jam time; penalties owed: %.0f s", v.Served.Seconds(), v.Owed.Seconds())
	if v.Computed {
		text += "; nobody tagged the release, it follows from the rules"
	}
	v.Why = append(v.Why, Reason{Text: text, Section: "4.4", Tags: []ID{v.Tag}})
}

// jamTime is the jam time between sitting down and release.
func (d *deriver) jamTime(v *Visit) (sum time.Duration, known bool) {
	if !v.InTimed || !v.OutTimed || !d.lengthsKnown(v.InJam, v.OutJam) {
		return 0, false
	}
	for i := v.InJam; i <= v.OutJam; i++ {
		from, to := time.Duration(0), d.bout.Jams[i].Duration
		if i == v.InJam {
			from = max(v.In, 0)
		}
		if i == v.OutJam {
			to = v.Out
		}
		sum += max(to-from, 0)
	}
	return sum, true
}

// seatedAtStart marks the jams that start while a visit lasts.
func (d *deriver) seatedAtStart(v *Visit) {
	if v.Skater.Number == "" {
		return
	}
	last := v.OutJam
	if last < 0 {
		// Nobody knows when she got out. She was there when the jam started that she
		// sat down before; after that it is open.
		last = v.InJam
	}
	for i := v.InJam; i <= last && i < len(d.bout.Jams); i++ {
		if i == v.InJam && !(v.InTimed && v.In <= 0) || i == v.OutJam && v.OutTimed && v.Out <= 0 {
			continue
		}
		side := &d.bout.Jams[i].Sides[v.Skater.Side.Index()]
		if side.BoxedAtStar == nil {
			side.BoxedAtStar = map[Number]bool{}
		}
		side.BoxedAtStar[v.Skater.Number] = true
	}
}

func compareBool(x, y bool) int {
	switch {
	case x == y:
		return 0
	case y:
		return -1
	}
	return 1
}
