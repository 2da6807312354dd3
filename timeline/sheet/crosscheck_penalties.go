package sheet

import (
	"fmt"
	"sort"
	"strings"

	"whistlecut/timeline"
)

// pen is one penalty on paper or among the tags.
type pen struct {
	side        timeline.Side
	skater      timeline.Number
	code        string
	jam         int // index, -1 unknown
	period, num int // as the paper has it
	anySkater   bool
	anyCode     bool
	anyJam      bool
	from        []string
	tag         timeline.ID
	done        bool
}

// penalties compares the penalty sheet with the penalty tags: first what is
// equal, then pairs that differ in one thing, the least first.
func (c *checker) penalties() {
	if len(c.s.Penalties) == 0 {
		return
	}
	tags := c.penaltyTags()
	if len(tags) == 0 {
		c.unchecked(Unchecked{Table: KindPenalties, Why: "no penalties are tagged"}, -1)
		return
	}
	paper := c.paperPenalties()
	c.pairPenalties(paper, tags)
	for _, p := range paper {
		if p.done {
			continue
		}
		p.done = true
		if p.anySkater || p.anyCode && p.anyJam {
			c.unchecked(Unchecked{Table: KindPenalties, Period: p.period, Jam: p.num, Side: p.side, Why: "the sheet's entry can't be read"}, p.jam)
			continue
		}
		if p.jam >= 0 && !c.b.Jams[p.jam].Logged && len(c.b.Jams[p.jam].Sides[0].Penalties)+len(c.b.Jams[p.jam].Sides[1].Penalties) == 0 {
			c.unchecked(Unchecked{Table: KindPenalties, Period: p.period, Jam: p.num, Side: p.side, Why: "nobody logged this jam"}, p.jam)
			continue
		}
		c.compared(false)
		f := Finding{Cause: CausePenExtra, Skater: p.skater, Column: FieldCode, Sheet: p.text(), Tags: "none"}
		f.Text = fmt.Sprintf("The sheet has a penalty %s of %s that the tags don't have.", p.text(), p.skater)
		if unknownNumber(c.roster, p.side, p.skater) {
			f.Cause = CauseUnknown
			f.Text = fmt.Sprintf("Penalty %s stands on %s, who is on neither roster.", p.text(), p.skater)
		}
		c.penFinding(f, p, nil)
	}
	for _, t := range tags {
		if t.done {
			continue
		}
		c.compared(false)
		f := Finding{Cause: CausePenMissing, Skater: t.skater, Column: FieldCode, Sheet: "none", Tags: t.text()}
		f.Text = fmt.Sprintf("The tags have a penalty %s of %s in jam %d that the sheet doesn't have.", t.code, nameOr(t.skater), t.num)
		c.penFinding(f, t, t)
	}
}

func nameOr(n timeline.Number) string {
	if n == "" {
		return "a skater not seen"
	}
	return string(n)
}

func (p *pen) text() string {
	s := p.code
	if s == "" {
		s = "(no code)"
	}
	if p.num > 0 {
		s += fmt.Sprintf(" in jam %d", p.num)
		if p.period > 0 {
			s += fmt.Sprintf(" of period %d", p.period)
		}
	}
	return s
}

// penFinding adds a finding about a penalty.
func (c *checker) penFinding(f Finding, at, tag *pen) {
	f.Table, f.Side, f.Period, f.Jam = KindPenalties, at.side, at.period, at.num
	f.From = append(f.From, at.from...)
	jam := at.jam
	if tag != nil {
		f.TagID = append(f.TagID, tag.tag)
		jam = tag.jam
		f.touches = append(f.touches, skaterKey(tag.side, tag.skater))
	}
	f.touches = append(f.touches, skaterKey(at.side, at.skater))
	c.add(f, jam)
}

// penaltyTags lists the tagged penalties by jam.
func (c *checker) penaltyTags() []*pen {
	var out []*pen
	for j := range c.b.Jams {
		for i, side := range timeline.Sides {
			for _, id := range c.b.Jams[j].Sides[i].Penalties {
				t, ok := c.f.Tags[id]
				if !ok {
					continue
				}
				p := &pen{side: side, skater: t.Who.Number, jam: j, period: c.b.Jams[j].Period, num: c.b.Jams[j].Number, tag: id}
				p.anySkater = t.Who.Number == "" || t.Who.Seen != timeline.Sure
				if t.Penalty == nil || t.Penalty.Seen != timeline.Sure || t.Penalty.Code == "" {
					p.anyCode = true
				}
				if t.Penalty != nil {
					p.code = strings.ToUpper(t.Penalty.Code)
				}
				out = append(out, p)
			}
		}
	}
	return out
}

func (c *checker) paperPenalties() []*pen {
	var out []*pen
	for _, x := range c.s.Penalties {
		p := &pen{
			side: x.Side, skater: x.Skater.Value, code: strings.ToUpper(x.Code.Value), period: x.Period.Value, num: x.Jam.Value,
			anySkater: x.Skater.State != timeline.CellKnown, anyCode: x.Code.State != timeline.CellKnown, anyJam: x.Jam.State != timeline.CellKnown,
			from: froms(x.Code.From, x.Skater.From), jam: -1,
		}
		if !p.anyJam && p.period > 0 {
			p.jam = c.jamOf(p.period, p.num)
		}
		out = append(out, p)
	}
	return out
}

// pairPenalties pairs paper and tags at rising cost.
func (c *checker) pairPenalties(paper, tags []*pen) {
	type match struct {
		p, t *pen
		cost float64
		n    int
	}
	var all []match
	for i, p := range paper {
		for j, t := range tags {
			if cost, ok := c.penCost(p, t); ok {
				all = append(all, match{p, t, cost, i*len(tags) + j})
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool {
		if all[i].cost != all[j].cost {
			return all[i].cost < all[j].cost
		}
		return all[i].n < all[j].n
	})
	for _, m := range all {
		if m.p.done || m.t.done {
			continue
		}
		m.p.done, m.t.done = true, true
		c.penaltyPair(m.p, m.t)
	}
}

// penCost is how far a paper penalty is from a tagged one: 0 equal, below 2 one
// thing differs; ok is false when more does.
func (c *checker) penCost(p, t *pen) (float64, bool) {
	if p.side != t.side {
		return 0, false
	}
	skater := p.anySkater || t.anySkater || p.skater == t.skater
	code := p.anyCode || t.anyCode || p.code == t.code
	jam := p.anyJam || p.jam == t.jam && p.jam >= 0 || p.period == 0 && p.num == t.num
	soft := 0.0
	for _, v := range [...]bool{p.anySkater || t.anySkater, p.anyCode || t.anyCode, p.anyJam} {
		if v {
			soft += 0.01
		}
	}
	apart := 0.4
	if p.jam >= 0 {
		apart = min(0.4, 0.01*float64(abs(p.jam-t.jam)))
	}
	switch {
	case skater && code && jam:
		return soft, true
	case skater && jam:
		return 1 + soft, true
	case skater && code:
		return 1.01 + apart + soft, true
	case code && jam && !t.anySkater && !p.anySkater:
		if unknownNumber(c.roster, p.side, p.skater) {
			return 1.45 + soft, true
		}
		return 1.9 + soft, true
	}
	return 0, false
}

// penaltyPair reports what differs in a pair.
func (c *checker) penaltyPair(p, t *pen) {
	switch {
	case p.skater != t.skater && !p.anySkater && !t.anySkater:
		c.compared(false)
		f := Finding{Cause: CausePenSkater, Skater: p.skater, Column: FieldSkater, Sheet: string(p.skater), Tags: string(t.skater)}
		f.Text = fmt.Sprintf("Penalty %s stands on %s; the tags have it on %s.", p.text(), p.skater, t.skater)
		if unknownNumber(c.roster, p.side, p.skater) {
			f.Cause = CauseUnknown
			f.Text = fmt.Sprintf("Penalty %s stands on %s, who is on neither roster; the tags have it on %s.", p.text(), p.skater, t.skater)
		}
		c.penFinding(f, p, t)
	case !p.anyCode && !t.anyCode && p.code != t.code:
		c.compared(false)
		f := Finding{Cause: CausePenCode, Skater: p.skater, Column: FieldCode, Sheet: p.code, Tags: t.code}
		f.Text = fmt.Sprintf("The penalty of %s in jam %d has code %s on the sheet, %s by the tags.", p.skater, p.num, p.code, t.code)
		c.penFinding(f, p, t)
	case !p.anyJam && p.jam != t.jam && (p.period > 0 || p.num != t.num):
		c.compared(false)
		f := Finding{Cause: CausePenJam, Skater: p.skater, Column: FieldPenaltyJam, Sheet: p.text(), Tags: t.text()}
		f.Text = fmt.Sprintf("Penalty %s of %s stands in jam %d on the sheet, in jam %d of period %d by the tags.", p.code, p.skater, p.num, t.num, t.period)
		c.penFinding(f, p, t)
	case p.anySkater || t.anySkater || p.anyCode || t.anyCode || p.anyJam:
		c.unchecked(Unchecked{Table: KindPenalties, Period: t.period, Jam: t.num, Side: t.side, Columns: []string{"penalty"}, Why: "skater, code or jam is not seen or can't be read"}, t.jam)
	default:
		c.compared(true)
	}
}

// outs compares foul-outs and expulsions, where the sheet notes any.
func (c *checker) outs() {
	if len(c.s.Penalties) == 0 || len(c.b.Fouls) == 0 {
		return
	}
	paper := map[timeline.SkaterRef]Out{}
	for _, o := range c.s.Outs {
		paper[timeline.SkaterRef{Side: o.Side, Number: o.Skater.Value}] = o
	}
	seen := map[timeline.SkaterRef]bool{}
	for _, f := range c.b.Fouls {
		out := f.FouledOut != "" || f.Expelled != ""
		o, noted := paper[f.Skater]
		seen[f.Skater] = true
		if out == noted {
			continue
		}
		if !noted && len(c.s.Outs) == 0 {
			c.unchecked(Unchecked{Table: KindPenalties, Side: f.Skater.Side, Columns: []string{"FO/EXP"}, Why: "the sheet notes no foul-outs at all"}, -1)
			return
		}
		tag := f.Expelled
		if tag == "" {
			tag = f.FouledOut
		}
		c.outFinding(f.Skater, noted, o, tag)
	}
	for who, o := range paper {
		if !seen[who] {
			c.outFinding(who, true, o, "")
		}
	}
}

// outFinding reports a foul-out mark, unless a finding about that skater's
// penalties explains it.
func (c *checker) outFinding(who timeline.SkaterRef, noted bool, o Out, tag timeline.ID) {
	key := skaterKey(who.Side, who.Number)
	text := fmt.Sprintf("%s is not noted as out of the game on the sheet, but by the tags.", who.Number)
	if noted {
		text = fmt.Sprintf("%s is noted as out of the game on the sheet, not by the tags.", who.Number)
	}
	for _, f := range c.found {
		if touch(f.touches, []string{key}) {
			f.Also = append(f.Also, text)
			return
		}
	}
	f := Finding{Cause: CauseOut, Table: KindPenalties, Side: who.Side, Skater: who.Number, Column: FieldOut, Sheet: markWord(noted), Tags: markWord(!noted), From: froms(o.Kind.From), Text: text, touches: []string{key}}
	if tag != "" {
		f.TagID = []timeline.ID{tag}
	}
	c.add(f, -1)
}
