package timeline

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"time"
)

// Derive computes everything that follows from facts: a pure function, the same
// bout for equal facts whatever order their maps are walked in. It never panics;
// what contradicts itself or names something that is not there is reported in
// Bout.Problems and Bout.Loose.
func Derive(f Facts) Bout {
	d := &deriver{facts: &f, rules: completeRules(f.Rules)}
	d.bout.Rules = d.rules
	d.bout.Teams = f.Teams
	d.gather()
	d.numberJams()
	d.align()
	d.jamTimes()
	d.assign()
	d.breaks()
	d.clock()
	for i := range d.bout.Jams {
		d.fieldJam(i)
	}
	d.fouls()
	d.visits()
	for i := range d.bout.Jams {
		d.countJam(i)
	}
	d.score()
	d.spreadAway()
	for i := range d.bout.Jams {
		d.situations(i)
	}
	d.settle()
	d.orderProblems()
	return d.bout
}

// deriver is the state of one derivation.
type deriver struct {
	facts *Facts
	rules RuleSet
	bout  Bout

	tags     []Tag // by ID
	tag      map[ID]*Tag
	jamTag   []*Tag // the jam tags in bout order, parallel to bout.Jams
	jamIndex map[ID]int
	inJam    [][]placed // the tags of each jam, by time, untimed ones last
	sides    [][2]sideTags
	// logs: the side has trips or status tagged anywhere in the bout.
	logs    [2]bool
	anyLead bool
	// penalties of known skaters in bout order; fouled says when a skater's bout was over.
	penalties []penalised
	penalty   map[ID]int // index into penalties
	fouled    map[SkaterRef]moment
	away      [][2][]away // by jam and side
}

// placed is a tag with its moment in its jam.
type placed struct {
	*Tag
	at    time.Duration
	timed bool
}

func (d *deriver) problem(p Problem) { d.bout.Problems = append(d.bout.Problems, p) }

// completeRules fills numbers that a rule set leaves at zero from the newest
// published edition, so that facts without a rule set can be read.
func completeRules(r RuleSet) RuleSet {
	def := RuleSet{
		Edition: "2025", Periods: 2, PeriodLength: 30 * time.Minute, JamLength: 2 * time.Minute,
		LineupTime: 30 * time.Second, OvertimeLine: time.Minute, PenaltyTime: 30 * time.Second,
		StandTime: 10 * time.Second, FoulOut: 7, PointsPerTrip: 4,
	}
	if e := Editions(); len(e) > 0 {
		def = e[len(e)-1]
	}
	if r.Edition == "" && r.PeriodLength == 0 && r.JamLength == 0 && r.PointsPerTrip == 0 {
		return def
	}
	fill(&r.Periods, def.Periods)
	fill(&r.PeriodLength, def.PeriodLength)
	fill(&r.JamLength, def.JamLength)
	fill(&r.LineupTime, def.LineupTime)
	fill(&r.OvertimeLine, def.OvertimeLine)
	fill(&r.PenaltyTime, def.PenaltyTime)
	fill(&r.FoulOut, def.FoulOut)
	fill(&r.PointsPerTrip, def.PointsPerTrip)
	return r
}

func fill[T int | time.Duration](v *T, def T) {
	if *v <= 0 {
		*v = def
	}
}

func (d *deriver) gather() {
	d.tags = make([]Tag, 0, len(d.facts.Tags))
	ids := slices.Sorted(maps.Keys(d.facts.Tags))
	for _, id := range ids {
		t := d.facts.Tags[id]
		t.ID = id
		d.tags = append(d.tags, t)
	}
	d.tag = make(map[ID]*Tag, len(d.tags))
	for i := range d.tags {
		t := &d.tags[i]
		if !t.Side.known() {
			t.Side = NoSide
		}
		d.tag[t.ID] = t
		if t.Kind == KindEvent {
			d.logs = [2]bool{true, true}
		}
		if scoring(t.Kind) && t.Side != NoSide {
			d.logs[t.Side.Index()] = true
		}
		if t.Kind == KindLead {
			d.anyLead = true
		}
	}
}

// known reports whether a side is one of the two teams; stored text cannot make
// another value, a broken program could.
func (s Side) known() bool { return s == Home || s == Away }

// scoring kinds show that somebody logged the jammers of a jam.
func scoring(k Kind) bool {
	switch k {
	case KindTrip, KindEvent, KindLead, KindLost, KindCall, KindStarPass:
		return true
	}
	return false
}

// numberJams orders the jams by period and order, ties by ID, and numbers them
// from 1 in each period, as the paperwork does.
func (d *deriver) numberJams() {
	for i := range d.tags {
		t := &d.tags[i]
		if t.Kind != KindJam {
			continue
		}
		if t.JamInfo == nil {
			d.loose(t, "a jam tag without its period and order")
			continue
		}
		d.jamTag = append(d.jamTag, t)
	}
	slices.SortStableFunc(d.jamTag, func(x, y *Tag) int {
		return cmp.Or(cmp.Compare(x.JamInfo.Period, y.JamInfo.Period), cmp.Compare(x.JamInfo.Order, y.JamInfo.Order), cmp.Compare(x.ID, y.ID))
	})
	d.jamIndex = make(map[ID]int, len(d.jamTag))
	d.bout.Jams = make([]Jam, len(d.jamTag))
	d.inJam = make([][]placed, len(d.jamTag))
	d.sides = make([][2]sideTags, len(d.jamTag))
	for i, t := range d.jamTag {
		info := t.JamInfo
		n := len(d.bout.Periods)
		if n == 0 || d.bout.Periods[n-1].Number != info.Period {
			d.bout.Periods = append(d.bout.Periods, Period{Number: info.Period})
			n++
		}
		p := &d.bout.Periods[n-1]
		p.Jams = append(p.Jams, i)
		d.jamIndex[t.ID] = i
		d.bout.Jams[i] = Jam{
			ID: t.ID, Period: info.Period, Number: len(p.Jams), Overtime: info.Overtime,
			Start: t.Place, End: info.End, Ended: info.Ended,
		}
		if info.Period < 1 {
			d.problem(Problem{Kind: ProblemEmpty, Jam: t.ID, Tags: []ID{t.ID}, Text: fmt.Sprintf("jam %s is in period %d; periods count from 1", t.ID, info.Period)})
		}
		if i > 0 {
			before := d.jamTag[i-1]
			if before.JamInfo.Period == info.Period && before.JamInfo.Order == info.Order {
				d.problem(Problem{
					Kind: ProblemDuplicate, Jam: t.ID, Tags: []ID{before.ID, t.ID},
					Text: fmt.Sprintf("jams %s and %s stand at the same place in the order; they are taken in the order of their IDs", d.jamName(before.ID), d.jamName(t.ID)),
				})
			}
		}
	}
}

func (d *deriver) loose(t *Tag, why string) {
	d.bout.Loose = append(d.bout.Loose, Loose{t.ID, why})
}

// jamName is a jam as people say it: "1-7" is jam 7 of period 1.
func (d *deriver) jamName(id ID) string {
	i, ok := d.jamIndex[id]
	if !ok {
		return string(id)
	}
	return d.bout.Jams[i].Name()
}

// Name is a jam as people say it: "1-7" is jam 7 of period 1.
func (j Jam) Name() string { return fmt.Sprintf("%d-%d", j.Period, j.Number) }

// orderProblems sorts problems by jam, then as found (which is deterministic).
func (d *deriver) orderProblems() {
	at := func(p Problem) int {
		if i, ok := d.jamIndex[p.Jam]; ok {
			return i
		}
		return -1
	}
	slices.SortStableFunc(d.bout.Problems, func(x, y Problem) int { return cmp.Compare(at(x), at(y)) })
	slices.SortFunc(d.bout.Loose, func(x, y Loose) int { return cmp.Or(cmp.Compare(x.Tag, y.Tag), cmp.Compare(x.Why, y.Why)) })
}

// Jam returns the jam with that ID.
func (b Bout) Jam(id ID) (Jam, bool) {
	for i := range b.Jams {
		if b.Jams[i].ID == id {
			return b.Jams[i], true
		}
	}
	return Jam{}, false
}
