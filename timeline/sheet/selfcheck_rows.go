package sheet

import (
	"fmt"
	"strconv"

	"whistlecut/timeline"
)

// arithmetic: a row's trips make its jam total, jam totals carry the game total,
// no trip scores more than the rules allow, and displayed totals agree.
func (c *selfChecker) arithmetic(beside bool) {
	for i, side := range timeline.Sides {
		var es []*entry
		for _, l := range c.lines[i] {
			es = append(es, &entry{line: l, side: side, jam: -1})
		}
		addUp(es)
		back := 0 // a slip that the next game total takes back
		for _, e := range es {
			for k, x := range e.rows {
				r := e.line.rows[k]
				c.tripMost(side, e.line, r)
				if beside {
					continue
				}
				if x.slip != 0 {
					c.slipped(side, e.line, r, x)
				}
				if !x.gameSet || x.carry == 0 {
					if x.gameSet {
						back = 0
					}
					continue
				}
				if x.carry == -x.slip && x.slip != 0 || x.carry == back && back != 0 {
					back = 0
					continue
				}
				back = -x.carry
				f := c.row(CauseRunning, side, e.line, FieldGameTotal, "points")
				f.From = froms(r.GameTotal.From)
				f.Sheet, f.Tags = strconv.Itoa(x.game), strconv.Itoa(x.game-x.carry)
				f.Text = fmt.Sprintf("The game total is %d; the total before and this row's points make %d.", x.game, x.game-x.carry)
				c.add(f)
			}
		}
		c.displayed(i, side, es)
	}
}

// slipped reports a jam total that is not the sum of its trips. When the game
// total went on with the trips' sum, the jam total alone is off; else either may be.
func (c *selfChecker) slipped(side timeline.Side, l line, r *timeline.JamRow, x rowSum) {
	f := c.row(CauseJamTotal, side, l, FieldJamTotal, "points")
	f.From = froms(r.JamTotal.From)
	f.Sheet, f.Tags = strconv.Itoa(x.total), strconv.Itoa(x.trips)
	f.Text = fmt.Sprintf("The jam total is %d; the row's trips make %d.", x.total, x.trips)
	c.add(f)
}

func (c *selfChecker) tripMost(side timeline.Side, l line, r *timeline.JamRow) {
	most := c.rules.PointsPerTrip
	if most == 0 {
		return
	}
	for n, t := range r.Trips {
		if t.State != timeline.CellKnown {
			continue
		}
		limit := most
		// In overtime, and by the lap point of 2013, the first column holds the
		// points of the initial trip as well.
		if n == 0 && (c.overtime(l) || c.rules.LapJammerInitial) {
			limit = 2 * most
		}
		if t.Value > limit || t.Value < 0 {
			f := c.row(CauseTripDigit, side, l, FieldTrip, "points")
			f.N, f.From = n+2, froms(t.From)
			f.Sheet, f.Tags = strconv.Itoa(t.Value), fmt.Sprintf("0 to %d", limit)
			f.Text = fmt.Sprintf("Trip %d has %d points; a trip can score %d at most by the %s rules.", n+2, t.Value, limit, c.rules.Edition)
			c.add(f)
		}
	}
}

// overtime reports a jam that can be overtime: one that the tags know as such, or
// the last of the last period, when the score was tied before it or neither team
// has lead in it (slips can hide the tie).
func (c *selfChecker) overtime(l line) bool {
	if c.late[[2]int{l.period, l.jam}] || c.rules.Periods > 0 && l.period > c.rules.Periods {
		return true
	}
	if c.rules.Periods > 0 && l.period < c.rules.Periods {
		return false
	}
	var before [2]int
	last, lead := true, false
	for i := range c.lines {
		for _, x := range c.lines[i] {
			switch {
			case x.period == l.period && x.jam > l.jam:
				last = false
			case x.period == l.period && x.jam == l.jam:
				led, _ := valueOf(x.rows[0].Lead)
				called, _ := valueOf(x.rows[0].Call)
				lead = lead || led || called
			default:
				for _, r := range x.rows {
					if r.GameTotal.State == timeline.CellKnown {
						before[i] = r.GameTotal.Value
					}
				}
			}
		}
	}
	return last && !lead || before[0] == before[1]
}

// displayed compares displayed totals of a period and of the game.
func (c *selfChecker) displayed(i int, side timeline.Side, es []*entry) {
	game, _ := final(es)
	for _, t := range c.s.Totals {
		if t.Side != side || t.Points.State != timeline.CellKnown || len(es) == 0 {
			continue
		}
		sum, what := game, "the game"
		if t.Period > 0 {
			sum, what = 0, fmt.Sprintf("period %d", t.Period)
			for _, e := range es {
				if e.line.period == t.Period {
					for _, x := range e.rows {
						sum += x.total
					}
				}
			}
		}
		if sum == t.Points.Value || t.Period == 0 && c.periodSum(i, es) == t.Points.Value {
			continue
		}
		f := Finding{
			Cause: CauseRunning, Table: KindScore, Period: t.Period, Side: side, Column: FieldGameTotal, From: froms(t.Points.From),
			Sheet: strconv.Itoa(t.Points.Value), Tags: strconv.Itoa(sum), touches: []string{totalKey(side)},
		}
		f.Text = fmt.Sprintf("The displayed total of %s is %d; the rows make %d.", what, t.Points.Value, sum)
		c.add(f)
	}
}

func (c *selfChecker) periodSum(_ int, es []*entry) int {
	sum := 0
	for _, e := range es {
		for _, x := range e.rows {
			sum += x.total
		}
	}
	return sum
}

// combinations: what the rules exclude in one jam. At most one lead (Rules
// 2.2.2); only a lead who has not lost it calls off (2.2.2); the new jammer of a
// star pass is never lead (2.2.2); an uncompleted initial trip scores nothing
// (3.2); an injury stops the jam for both.
func (c *selfChecker) combinations() {
	type jamKey [2]int
	leads := map[jamKey][]timeline.Side{}
	inj := map[jamKey][2]int{} // 1 marked, -1 not marked
	at := map[jamKey][2]line{}
	for i, side := range timeline.Sides {
		for _, l := range c.lines[i] {
			k := jamKey{l.period, l.jam}
			both := at[k]
			both[i] = l
			at[k] = both
			if len(l.rows) == 0 {
				continue
			}
			c.status(side, l)
			if v, open := marked(l.rows[0].Lead); !open && v {
				leads[k] = append(leads[k], side)
			}
			if v, open := marked(l.rows[0].Inj); !open {
				x := inj[k]
				x[i] = -1
				if v {
					x[i] = 1
				}
				inj[k] = x
			}
		}
	}
	for _, l := range c.lines[0] {
		k := jamKey{l.period, l.jam}
		if s := leads[k]; len(s) == 2 && s[0] != s[1] {
			f := c.row(CauseLead, timeline.NoSide, l, FieldLead)
			f.Sheet, f.Tags = "both teams", "one at most"
			f.Text = fmt.Sprintf("Both teams have lead in jam %d.", l.jam)
			for _, side := range timeline.Sides {
				f.touches = append(f.touches, rowKey(side, l.period, l.jam)+"/marks")
			}
			c.add(f)
		}
		if x := inj[k]; x[0]*x[1] == -1 {
			f := c.row(CauseInj, timeline.NoSide, l, FieldInj)
			f.Sheet, f.Tags = "one team", "both or none"
			f.Text = fmt.Sprintf("Injury is marked on one team's sheet of jam %d only.", l.jam)
			for _, side := range timeline.Sides {
				f.touches = append(f.touches, rowKey(side, l.period, l.jam)+"/marks")
			}
			c.add(f)
		}
	}
}

// mayHaveLostLate: lead can still be lost by a penalty after the call, before the
// jam is over. Only a penalty sheet without one for the jammer rules that out.
func (c *selfChecker) mayHaveLostLate(side timeline.Side, l line) bool {
	if len(c.s.Penalties) == 0 {
		return true
	}
	for _, p := range c.s.Penalties {
		sure := p.Period.State == timeline.CellKnown && p.Jam.State == timeline.CellKnown
		if p.Side == side && p.Skater.Value == l.rows[0].Jammer.Value && (!sure || p.Period.Value == l.period && p.Jam.Value == l.jam) {
			return true
		}
	}
	return false
}

// status checks the marks of one line.
func (c *selfChecker) status(side timeline.Side, l line) {
	first := l.rows[0]
	lead, noLead := marked(first.Lead)
	call, noCall := marked(first.Call)
	lost, _ := marked(first.Lost)
	touches := []string{"marks"}
	var people []string
	report := func(cause Cause, f Field, sheet, want, text string) {
		x := c.row(cause, side, l, f, touches...)
		x.touches = append(x.touches, people...)
		x.Sheet, x.Tags, x.Text = sheet, want, text
		c.add(x)
	}
	switch {
	case noLead || noCall || !call:
	case !lead:
		report(CauseLead, FieldLead, "call, no lead", "lead with a call", fmt.Sprintf("Jam %d is called off without lead.", l.jam))
	case lost && !c.mayHaveLostLate(side, l):
		touches = []string{"marks", "jammer"}
		people = []string{skaterKey(side, first.Jammer.Value)}
		report(CauseLost, FieldLost, "call after lost", "call or lost", fmt.Sprintf("Jam %d is called off after lead was lost.", l.jam))
	}
	if c.rules.Periods > 0 && l.period > c.rules.Periods && (lead || call) {
		report(CauseLead, FieldLead, "lead or call", "neither", fmt.Sprintf("Jam %d is overtime, where there is no lead and no call-off.", l.jam))
	}
	for k, r := range l.rows {
		if k > 0 {
			if v, open := marked(r.Lead); !open && v {
				report(CauseLead, FieldLead, "lead in SP row", "no lead", fmt.Sprintf("The new jammer of jam %d has lead, which a star pass does not hand on.", l.jam))
			}
		}
		ni, open := marked(r.NI)
		sum, known := tripSum(r)
		if !open && ni && known && sum > 0 && !c.overtime(l) && !c.rules.LapJammerInitial {
			touches = []string{"marks", "points"}
			report(CauseNI, FieldNI, "NI and points", "one of them", fmt.Sprintf("Jam %d has points in a row marked as without a completed initial trip.", l.jam))
		}
	}
}
