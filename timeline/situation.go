package timeline

import (
	"fmt"
	"slices"
	"time"
)

// situations finds every stretch of one jam that something holds for.
func (d *deriver) situations(i int) {
	j := &d.bout.Jams[i]
	add := func(s Situation) { j.Situations = append(j.Situations, s) }
	d.powerJams(i, add)
	d.shortHanded(i, add)
	d.statusSituations(i, add)
	d.endSituations(i, add)
	d.foulSituations(i, add)
	d.scoreSituations(i, add)
	slices.SortStableFunc(j.Situations, func(x, y Situation) int {
		return int(min(max(x.Range.Start-y.Range.Start, -1), 1))
	})
}

// whole is a situation of the whole jam.
func (j *Jam) whole(k SituationKind, s Side, why ...Reason) Situation {
	return Situation{Kind: k, Side: s, Range: TimeRange{0, j.Duration}, Whole: true, Why: why}
}

// from is a situation from a moment to the jam's end; without a known moment it
// holds for the jam as a whole.
func (j *Jam) from(k SituationKind, s Side, at time.Duration, timed bool, why ...Reason) Situation {
	if !timed {
		return j.whole(k, s, why...)
	}
	at = max(at, 0)
	return Situation{Kind: k, Side: s, Range: TimeRange{at, max(j.Duration, at)}, Why: why}
}

func (d *deriver) statusSituations(i int, add func(Situation)) {
	j := &d.bout.Jams[i]
	if j.Overtime {
		add(j.whole(SitOvertime, NoSide, Reason{Text: "overtime: no lead, and points from the first trip on", Section: "1.5.1", Tags: []ID{j.ID}}))
	}
	h, a := &j.Sides[0], &j.Sides[1]
	if j.Logged && d.anyLead && !j.Overtime && !h.Lead && !a.Lead && !h.LeadUnknown && !a.LeadUnknown {
		add(j.whole(SitNoLead, NoSide, Reason{Text: "the jam is logged and no jammer got lead", Section: "2.2.2"}))
	}
	for _, s := range Sides {
		side := &j.Sides[s.Index()]
		if side.Lead && side.Lost {
			x := j.from(SitLeadLost, s, side.LostAt, side.LostTimed, side.whyOf("2.2.2")...)
			x.Who = side.Jammer.Number
			add(x)
		}
		if side.StarPass {
			x := j.from(SitStarPass, s, side.StarPassAt, side.StarPassTimed, side.whyOf("2.2.4")...)
			x.Who = side.NewJammer
			add(x)
		}
		if side.LineupTagged && side.Pivot.Number == "" && side.Pivot.Seen == Sure && len(side.Blockers) > 0 {
			add(j.whole(SitNoPivot, s, Reason{Text: "the line-up names no pivot", Section: "2.2"}))
		}
		if side.Called {
			x := j.from(SitCalled, s, side.CalledAt, side.CalledTimed, side.whyOf("2.2.2")...)
			x.Who = side.Jammer.Number
			add(x)
		}
	}
}

func (s *JamSide) whyOf(section string) (out []Reason) {
	for _, w := range s.Why {
		if w.Section == section {
			out = append(out, w)
		}
	}
	return out
}

func (d *deriver) endSituations(i int, add func(Situation)) {
	j := &d.bout.Jams[i]
	switch j.Ended {
	case EndTime:
		add(j.whole(SitFullTime, NoSide, j.EndedWhy))
	case EndInjury:
		add(j.whole(SitInjury, NoSide, j.EndedWhy))
	}
	last := i == len(d.bout.Jams)-1 || d.bout.Jams[i+1].Period != j.Period || d.bout.Jams[i+1].Overtime && !j.Overtime
	if last && !j.Overtime {
		add(j.whole(SitLastJam, NoSide, Reason{Text: fmt.Sprintf("no jam follows it in period %d", j.Period), Section: "1.3.3"}))
	}
}

// foulSituations: a skater fielded who is one penalty from fouling out (Rules 4.5).
func (d *deriver) foulSituations(i int, add func(Situation)) {
	j := &d.bout.Jams[i]
	near := d.rules.FoulOut - 1
	if near < 1 {
		return
	}
	for _, f := range d.bout.Fouls {
		if len(f.Penalties) < near || f.Skater.Side == NoSide {
			continue
		}
		nth := d.momentOf(f.Penalties[near-1])
		until := moment{jam: len(d.bout.Jams)}
		if len(f.Penalties) > near {
			until = d.momentOf(f.Penalties[near])
		}
		if nth.jam > i || until.jam < i {
			continue
		}
		side := &j.Sides[f.Skater.Side.Index()]
		if side.Lineup[f.Skater.Number] == NoRole {
			continue
		}
		s := j.whole(SitNearFoulOut, f.Skater.Side)
		if nth.jam == i {
			s = j.from(SitNearFoulOut, f.Skater.Side, nth.at, nth.timed)
		}
		if until.jam == i && until.timed {
			s.Whole = false
			s.Range.End = max(until.at, s.Range.Start)
		}
		s.Who = f.Skater.Number
		s.Why = []Reason{{Text: fmt.Sprintf("%d penalties; %d foul a skater out", near, d.rules.FoulOut), Section: "4.5", Tags: f.Penalties[:near:near]}}
		add(s)
	}
}

func (d *deriver) momentOf(penalty ID) moment {
	if i, ok := d.penalty[penalty]; ok {
		return d.penalties[i].moment
	}
	return moment{}
}

// scoreSituations: what the jam did to the score. Only sure scores tell.
func (d *deriver) scoreSituations(i int, add func(Situation)) {
	j := &d.bout.Jams[i]
	h, a := &j.Sides[0], &j.Sides[1]
	if h.Logged && a.Logged && h.Points == (Range{}) && a.Points == (Range{}) {
		add(j.whole(SitScoreless, NoSide, Reason{Text: "no trip of either side scored", Section: "3.1"}))
	}
	for _, s := range Sides {
		if p := j.Sides[s.Index()].Points; p.Low >= 10 {
			add(j.whole(SitBigJam, s, Reason{Text: fmt.Sprintf("%s scored %s points", s, p), Section: "3.1"}))
		}
	}
	if !h.GameKnown || !a.GameKnown {
		return
	}
	steps := d.scoreSteps(j)
	for n := 1; n < len(steps); n++ {
		was, is := steps[n-1], steps[n]
		if !was.sure() || !is.sure() {
			continue
		}
		m, k := was.margin(), is.margin()
		x := j.from(SitTied, NoSide, is.at, is.timed)
		x.Why = []Reason{{Text: fmt.Sprintf("%d to %d after %d to %d", is.score[0].Low, is.score[1].Low, was.score[0].Low, was.score[1].Low), Section: "3"}}
		if k == 0 && m != 0 {
			add(x)
		}
		// A lead taken from a tie counts as a change when the other side led before the tie.
		prev := m
		if prev == 0 {
			prev = d.lastMargin(i, steps[:n])
		}
		if k != 0 && prev != 0 && (k > 0) != (prev > 0) {
			x.Kind, x.Side = SitLeadChange, Home
			if k < 0 {
				x.Side = Away
			}
			add(x)
		}
	}
}

// scoreStep is the score after one trip; untimed steps stand for the jam's end.
type scoreStep struct {
	at    time.Duration
	timed bool
	score [2]Range
}

func (s scoreStep) sure() bool  { return s.score[0].Sure() && s.score[1].Sure() }
func (s scoreStep) margin() int { return s.score[0].Low - s.score[1].Low }

// scoreSteps is the score through a jam, trip by trip when all that scored are
// timed, else its start and its end.
func (d *deriver) scoreSteps(j *Jam) []scoreStep { return j.scoreSteps() }

func (j *Jam) scoreSteps() []scoreStep {
	start := scoreStep{timed: true, score: [2]Range{j.Sides[0].GameBefore, j.Sides[1].GameBefore}}
	steps := []scoreStep{start}
	type gain struct {
		at   time.Duration
		side int
		by   Range
	}
	var gains []gain
	timed := true
	end := start
	end.timed = false
	for n := range j.Sides {
		for _, t := range j.Sides[n].Trips {
			if t.Points == (Range{}) {
				continue
			}
			timed = timed && t.Timed
			gains = append(gains, gain{t.End, n, t.Points})
			end.score[n] = end.score[n].Add(t.Points)
		}
	}
	if len(gains) == 0 {
		return steps
	}
	if !timed {
		return append(steps, end)
	}
	slices.SortStableFunc(gains, func(x, y gain) int { return int(min(max(x.at-y.at, -1), 1)) })
	for _, g := range gains {
		s := steps[len(steps)-1]
		s.at, s.timed = g.at, true
		s.score[g.side] = s.score[g.side].Add(g.by)
		if last := &steps[len(steps)-1]; len(steps) > 1 && last.at == g.at {
			*last = s // both at once, as at the jam's end
			continue
		}
		steps = append(steps, s)
	}
	return steps
}

// lastMargin is the last margin that was not a tie, in this jam's steps or before.
func (d *deriver) lastMargin(i int, steps []scoreStep) int {
	for n := len(steps) - 1; n >= 0; n-- {
		if m := steps[n].margin(); m != 0 {
			return m
		}
	}
	for i--; i >= 0; i-- {
		steps := d.bout.Jams[i].scoreSteps()
		for n := len(steps) - 1; n >= 0; n-- {
			if !steps[n].sure() {
				return 0
			}
			if m := steps[n].margin(); m != 0 {
				return m
			}
		}
	}
	return 0
}

// ScoreAt is the score at a jam time. Where a trip that scored has no time, it
// is the score before the jam, and timed is false.
func (j *Jam) ScoreAt(at time.Duration) (score [2]Range, timed bool) {
	steps := j.scoreSteps()
	score = steps[0].score
	for _, s := range steps[1:] {
		if !s.timed {
			return score, false
		}
		if s.at <= at {
			score = s.score
		}
	}
	return score, true
}
