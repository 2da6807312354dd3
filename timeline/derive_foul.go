package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// moment is a point on the jam-time axis. An untimed one is somewhere in its jam.
type moment struct {
	jam   int
	at    time.Duration
	timed bool
}

// before orders moments; within one jam, untimed ones tie with everything.
func (m moment) before(o moment) bool {
	if m.jam != o.jam {
		return m.jam < o.jam
	}
	return m.timed && o.timed && m.at < o.at
}

// penalised is one penalty of a known skater.
type penalised struct {
	*Tag
	moment
	serves SkaterRef // who serves it
}

// fouls counts the penalties of each skater: the seventh fouls her out (Rules
// 4.5), an expulsion ends her bout at once.
func (d *deriver) fouls() {
	by := map[SkaterRef][]penalised{}
	for i := range d.inJam {
		for _, p := range d.inJam[i] {
			if p.Kind != KindPenalty || p.Side == NoSide {
				continue
			}
			if p.Penalty == nil {
				d.problem(Problem{Kind: ProblemEmpty, Jam: d.bout.Jams[i].ID, Side: p.Side, Tags: []ID{p.ID}, Text: "a penalty tag without its code counts, but cannot be compared"})
			}
			if p.Who.Number == "" || p.Who.Seen == NotSeen {
				continue
			}
			who := SkaterRef{p.Side, p.Who.Number}
			x := penalised{p.Tag, moment{i, p.at, p.timed}, who}
			if p.Penalty != nil && p.Penalty.Served.Number != "" {
				x.serves.Number = p.Penalty.Served.Number
			}
			by[who] = append(by[who], x)
			d.penalties = append(d.penalties, x)
		}
	}
	d.penalty = make(map[ID]int, len(d.penalties))
	for i, p := range d.penalties {
		d.penalty[p.ID] = i
	}
	d.fouled = map[SkaterRef]moment{}
	for who, list := range by {
		f := FoulCount{Skater: who}
		for n, p := range list {
			f.Penalties = append(f.Penalties, p.ID)
			if p.Penalty != nil && p.Penalty.Expelled && f.Expelled == "" {
				f.Expelled = p.ID
				f.Why = append(f.Why, Reason{Text: "expelled by the head referee, as tagged", Section: "4.5", Tags: []ID{p.ID}})
				d.out(who, p.moment)
			}
			if n+1 == d.rules.FoulOut {
				f.FouledOut = p.ID
				f.Why = append(f.Why, Reason{Text: fmt.Sprintf("fouled out: %d penalties are recorded", n+1), Section: "4.5", Tags: slices.Clone(f.Penalties)})
				d.out(who, p.moment)
			}
		}
		d.bout.Fouls = append(d.bout.Fouls, f)
	}
	slices.SortFunc(d.bout.Fouls, func(x, y FoulCount) int { return x.Skater.compare(y.Skater) })
	d.checkPenalties()
}

func (d *deriver) out(who SkaterRef, m moment) {
	if was, ok := d.fouled[who]; !ok || m.before(was) {
		d.fouled[who] = m
	}
}

// checkPenalties reports penalties tagged twice, unknown codes, skaters nobody
// knows, and skaters fielded after their bout was over.
func (d *deriver) checkPenalties() {
	last := map[SkaterRef]penalised{}
	for _, p := range d.penalties {
		who := SkaterRef{p.Side, p.Who.Number}
		j := d.bout.Jams[p.jam]
		if o, ok := last[who]; ok && o.jam == p.jam && o.timed && p.timed && p.at-o.at < time.Second && o.code() == p.code() {
			d.problem(Problem{
				Kind: ProblemDuplicate, Jam: j.ID, Side: p.Side, Tags: []ID{o.ID, p.ID},
				Text: fmt.Sprintf("the same penalty of %s is tagged twice within a second of jam %s; both count as they stand", who, j.Name()),
			})
		}
		last[who] = p
		if c := p.code(); c != "" && len(d.rules.Codes) > 0 {
			if _, ok := d.rules.Code(c); !ok {
				d.problem(Problem{Kind: ProblemContradict, Jam: j.ID, Side: p.Side, Tags: []ID{p.ID}, Text: fmt.Sprintf("penalty code %q of %s in jam %s is not one of edition %s", c, who, j.Name(), d.rules.Edition)})
			}
		}
		team := d.bout.Teams[p.Side.Index()]
		if _, ok := team.Find(p.Who.Number); !ok && len(team.Roster) > 0 && j.Sides[p.Side.Index()].Lineup[p.Who.Number] == NoRole {
			d.problem(Problem{Kind: ProblemRoster, Jam: j.ID, Side: p.Side, Tags: []ID{p.ID}, Text: fmt.Sprintf("%s has a penalty in jam %s and is not on the roster", who, j.Name())})
		}
	}
	for i := range d.bout.Jams {
		j := &d.bout.Jams[i]
		for _, s := range Sides {
			for _, n := range lineupNumbers(j.Sides[s.Index()].Lineup) {
				who := SkaterRef{s, n}
				if m, ok := d.fouled[who]; ok && m.jam < i {
					d.problem(Problem{
						Kind: ProblemRule, Jam: j.ID, Side: s, Tags: []ID{d.foulTag(who)}, Section: "4.5",
						Text: fmt.Sprintf("%s is fielded in jam %s, but her bout was over in jam %s (fouled out or expelled)", who, j.Name(), d.bout.Jams[m.jam].Name()),
					})
				}
			}
		}
	}
}

func (d *deriver) foulTag(who SkaterRef) ID {
	for _, f := range d.bout.Fouls {
		if f.Skater == who {
			return cmp.Or(f.Expelled, f.FouledOut)
		}
	}
	return ""
}

func (p penalised) code() string {
	if p.Penalty == nil || p.Penalty.Seen == NotSeen {
		return ""
	}
	return p.Penalty.Code
}

func lineupNumbers(m map[Number]Role) []Number {
	out := make([]Number, 0, len(m))
	for n := range m {
		out = append(out, n)
	}
	slices.Sort(out)
	return out
}

func (r SkaterRef) compare(o SkaterRef) int {
	return cmp.Or(cmp.Compare(r.Side, o.Side), cmp.Compare(r.Number, o.Number))
}

// RoleAt is a skater's role at a jam time: after a completed star pass the pivot
// is jammer and the old jammer a blocker (Rules 2.2.4).
func (s *JamSide) RoleAt(n Number, at time.Duration) Role {
	r := s.Lineup[n]
	if !s.StarPass || !s.StarPassTimed || at < s.StarPassAt {
		return r
	}
	switch {
	case n == s.NewJammer:
		return Jammer
	case r == Jammer:
		return Blocker
	}
	return r
}

// JammerAt is who has the jammer position at a jam time.
func (s *JamSide) JammerAt(at time.Duration) Number {
	if s.StarPass && s.StarPassTimed && at >= s.StarPassAt {
		return s.NewJammer
	}
	return s.Jammer.Number
}
