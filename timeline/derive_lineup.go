package timeline

import (
	"cmp"
	"fmt"
	"slices"
)

// fielded finds who one side fielded. Two line-ups that differ leave the
// differing places unsure and are reported.
func (d *deriver) fielded(j *Jam, s Side, side *JamSide, t *sideTags) {
	side.Lineup = map[Number]Role{}
	side.Jammer.Seen, side.Pivot.Seen = NotSeen, NotSeen
	have := false
	first := ID("")
	for _, p := range t.lineup {
		if p.Lineup == nil {
			d.problem(Problem{Kind: ProblemEmpty, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: "a line-up tag that names nobody is left out"})
			continue
		}
		l := *p.Lineup
		if !have {
			have, first = true, p.ID
			side.Jammer, side.Pivot = l.Jammer, l.Pivot
			side.Blockers = slices.Clone(l.Blockers)
			continue
		}
		same := merge(&side.Jammer, l.Jammer)
		same = merge(&side.Pivot, l.Pivot) && same
		same = mergeBlockers(&side.Blockers, l.Blockers) && same
		kind, text := ProblemContradict, "differ; where they do the first is shown as unsure"
		if same {
			kind, text = ProblemDuplicate, "say the same"
		}
		d.problem(Problem{Kind: kind, Jam: j.ID, Side: s, Tags: []ID{first, p.ID}, Text: fmt.Sprintf("two line-ups of %s in jam %s %s", s, j.Name(), text)})
	}
	side.LineupTagged = have
	if !have || side.Jammer.Number == "" {
		d.inferJammer(j, s, side, t)
	}
	put := func(w Who, r Role) {
		if w.Number == "" || w.Seen == NotSeen {
			return
		}
		if was, dup := side.Lineup[w.Number]; dup {
			d.problem(Problem{
				Kind: ProblemContradict, Jam: j.ID, Side: s, Tags: []ID{first}, Section: "2.2",
				Text: fmt.Sprintf("%s %s stands in the line-up of jam %s twice, as %s and %s", s, w.Number, j.Name(), was, r),
			})
			return
		}
		side.Lineup[w.Number] = r
		team := d.bout.Teams[s.Index()]
		if _, ok := team.Find(w.Number); !ok && len(team.Roster) > 0 {
			d.problem(Problem{
				Kind: ProblemRoster, Jam: j.ID, Side: s, Tags: []ID{cmp.Or(first, j.ID)},
				Text: fmt.Sprintf("%s fields %s in jam %s, who is not on its roster", s, w.Number, j.Name()),
			})
		}
	}
	put(side.Jammer, Jammer)
	put(side.Pivot, Pivot)
	blockers := 0
	for _, b := range side.Blockers {
		put(b, Blocker)
		blockers++
	}
	if side.Pivot.Number != "" {
		blockers++
	}
	if blockers > 4 {
		d.problem(Problem{
			Kind: ProblemRule, Jam: j.ID, Side: s, Tags: []ID{first}, Section: "2.2",
			Text: fmt.Sprintf("%s has %d blockers in the line-up of jam %s; four, one of them pivot, are the most", s, blockers, j.Name()),
		})
	}
}

// merge keeps the first of two readings, unsure where they differ.
func merge(w *Who, o Who) bool {
	switch {
	case *w == o, o.Seen == NotSeen:
		return true
	case w.Seen == NotSeen || w.Number == "":
		*w = o
		return w.Number == o.Number
	case w.Number == o.Number:
		w.Seen = min(w.Seen, o.Seen)
		return true
	}
	w.Seen = Unsure
	return false
}

func mergeBlockers(w *[]Who, o []Who) bool {
	in := func(list []Who, n Number) bool {
		return slices.ContainsFunc(list, func(x Who) bool { return x.Number == n })
	}
	same := len(*w) == len(o)
	for i := range *w {
		if !in(o, (*w)[i].Number) {
			same = false
			(*w)[i].Seen = max((*w)[i].Seen, Unsure)
		}
	}
	for _, x := range o {
		if !in(*w, x.Number) {
			same = false
		}
	}
	return same
}

// inferJammer takes the jammer from tags that only a jammer can have, when all
// of them agree.
func (d *deriver) inferJammer(j *Jam, s Side, side *JamSide, t *sideTags) {
	var got Number
	var from []ID
	clash := false
	see := func(n Number, id ID) {
		if n == "" {
			return
		}
		if got != "" && got != n {
			clash = true
		}
		got = n
		from = append(from, id)
	}
	given := len(t.star) > 0
	for _, p := range t.star {
		see(p.Who.Number, p.ID)
	}
	for _, list := range [][]placed{t.lead, t.call, t.lost} {
		for _, p := range list {
			see(p.Who.Number, p.ID)
		}
	}
	if !given {
		for _, p := range t.trip {
			see(p.Who.Number, p.ID)
		}
	}
	for _, p := range t.box {
		if p.Box != nil && p.Box.Role == Jammer && !given && p.Who.Seen != NotSeen {
			see(p.Who.Number, p.ID)
		}
	}
	switch {
	case clash:
		d.problem(Problem{
			Kind: ProblemContradict, Jam: j.ID, Side: s, Tags: from,
			Text: fmt.Sprintf("no line-up names the jammer of %s in jam %s and the tags name more than one; she is left open", s, j.Name()),
		})
	case got != "":
		side.Jammer = Who{Number: got}
		side.Why = append(side.Why, Reason{Text: fmt.Sprintf("%s is jammer because her tags are a jammer's; no line-up names one", got), Section: "2.2.1", Tags: from})
	}
}
