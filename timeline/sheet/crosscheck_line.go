package sheet

import (
	"fmt"
	"strconv"

	"whistlecut/timeline"
)

// line compares one line of the sheet with the recount of one side of its jam
// (the other side's, where the two were swapped).
func (c *checker) line(e *entry, as timeline.Side) {
	js := &c.b.Jams[e.jam].Sides[as.Index()]
	t := c.tags[as.Index()][e.jam]
	v, known := e.points()
	own := c.span(e.jam, e.side.Index())
	if !c.b.Jams[e.jam].Sides[e.side.Index()].Logged || !js.Logged {
		e.open = v
		u := Unchecked{Table: KindScore, Period: e.line.period, Jam: e.line.jam, Side: e.side, Why: "nobody logged this jam for this side"}
		u.Points[e.side.Index()] = e.open
		c.unchecked(u, e.jam)
		c.jammers(e, t)
		return
	}
	c.jammers(e, t)
	c.marks(e, t)
	switch {
	case !known:
		e.tags = own.Low
		e.open = v - own.Low
		c.unchecked(Unchecked{Table: KindScore, Period: e.line.period, Jam: e.line.jam, Side: e.side, Columns: []string{"points"}, Why: "the sheet has no points that can be read here"}, e.jam)
		return
	case hasTrips(c.sheet[e.side.Index()]) && e.readableTrips():
		c.trips(e, t)
	default:
		c.totals(e, t)
	}
	e.tags = v - e.residual
	if e.swap != nil {
		e.tags = nearest(v-e.residual, own)
		e.swap.Stake[e.side.Index()] += v - e.residual - e.tags
	}
}

// readableTrips reports that every row's trips can be read.
func (e *entry) readableTrips() bool {
	for _, r := range e.rows {
		if !r.tripsKnown {
			return false
		}
	}
	return true
}

// draft records a finding of this line.
func (c *checker) draft(e *entry, f Finding, touches ...string) *Finding {
	f.Table, f.Side = KindScore, e.side
	f.Period, f.Jam = e.line.period, e.line.jam
	for _, t := range touches {
		if t == "points" {
			f.touches = append(f.touches, totalKey(e.side))
		}
		f.touches = append(f.touches, rowKey(e.side, e.line.period, e.line.jam)+"/"+t)
		if e.jam >= 0 {
			f.touches = append(f.touches, rowKey(e.side, c.b.Jams[e.jam].Period, c.paperNumber(e.jam))+"/"+t)
		}
	}
	p := c.add(f, e.jam)
	e.drafts = append(e.drafts, p)
	return p
}

// jammers compares the jammers' numbers.
func (c *checker) jammers(e *entry, t line) {
	s := e.line
	get := func(r *timeline.JamRow) (timeline.Number, bool) {
		if r == nil || r.Jammer.State != timeline.CellKnown {
			return "", false
		}
		return r.Jammer.Value, true
	}
	a0, ok0 := get(s.row(0))
	a1, ok1 := get(s.row(1))
	b0, have0 := get(t.row(0))
	b1, have1 := get(t.row(1))
	if ok0 && ok1 && have0 && have1 && a0 == b1 && a1 == b0 && a0 != a1 {
		c.compared(false)
		c.draft(e, Finding{
			Cause: CauseStarPass, Column: FieldJammer, Sheet: string(a0) + ", " + string(a1), Tags: string(b0) + ", " + string(b1),
			From: froms(s.row(0).Jammer.From, s.row(1).Jammer.From), TagID: t.row(0).Jammer.Tags,
			Text: fmt.Sprintf("Jammers %s and %s stand in each other's row; by the tags the star went from %s to %s.", a0, a1, b0, b1),
		}, "jammer")
		return
	}
	for k := range s.rows {
		n, ok := get(s.row(k))
		want, have := get(t.row(k))
		switch {
		case !ok:
			continue
		case unknownNumber(c.roster, e.side, n):
			c.compared(false)
			f := Finding{Cause: CauseUnknown, Column: FieldJammer, Skater: n, Sheet: string(n), Tags: string(want), From: froms(s.row(k).Jammer.From)}
			f.Text = fmt.Sprintf("Jammer %s is on neither roster.", n)
			if have {
				f.TagID = t.row(k).Jammer.Tags
				f.Text = fmt.Sprintf("Jammer %s is on neither roster; the tags have %s.", n, want)
			}
			c.draft(e, f, "jammer")
		case !have:
			if t.row(k) != nil || k == 0 {
				c.unchecked(Unchecked{Table: KindScore, Period: s.period, Jam: s.jam, Side: e.side, Columns: []string{string(FieldJammer)}, Why: "the tags do not say who the jammer was"}, e.jam)
			}
		case n != want:
			c.compared(false)
			c.draft(e, Finding{
				Cause: CauseWrongJammer, Column: FieldJammer, Skater: n, Sheet: string(n), Tags: string(want), From: froms(s.row(k).Jammer.From),
				TagID: t.row(k).Jammer.Tags, Text: fmt.Sprintf("The sheet has jammer %s, the tags %s.", n, want),
			}, "jammer")
		default:
			c.compared(true)
		}
	}
}

func froms(list ...string) []string {
	var out []string
	for _, s := range list {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// marks compares lost, lead, call, inj and NI row by row. A mark that stands in
// the other row of a star pass is one finding.
func (c *checker) marks(e *entry, t line) {
	byField := map[Field]*Finding{}
	var open []string
	for k := range e.line.rows {
		r, q := e.line.row(k), t.row(k)
		if q == nil {
			continue
		}
		for _, m := range marksOf(r, q) {
			v, skip := marked(*m.sheet)
			switch {
			case skip:
				if m.sheet.State == timeline.CellUnread {
					open = append(open, string(m.field))
				}
				continue
			case m.tag.State != timeline.CellKnown:
				if v || k == 0 {
					open = append(open, string(m.field))
				}
				continue
			}
			c.compared(v == m.tag.Value)
			if v == m.tag.Value {
				continue
			}
			if f := byField[m.field]; f != nil {
				f.From = append(f.From, froms(m.sheet.From)...)
				continue
			}
			f := Finding{Cause: m.cause, Column: m.field, Sheet: markWord(v), Tags: markWord(m.tag.Value), From: froms(m.sheet.From), TagID: m.tag.Tags}
			if len(f.TagID) == 0 {
				f.TagID = c.statusTags(e.jam, e.side, m.field)
			}
			f.Text = fmt.Sprintf("%s is marked on the sheet, not by the tags.", title1(string(m.field)))
			if !v {
				f.Text = fmt.Sprintf("%s is not marked on the sheet, but by the tags.", title1(string(m.field)))
			}
			byField[m.field] = c.draft(e, f, "marks/"+string(m.field))
		}
	}
	if len(open) > 0 {
		c.unchecked(Unchecked{Table: KindScore, Period: e.line.period, Jam: e.line.jam, Side: e.side, Columns: open, Why: "the tags leave it open"}, e.jam)
	}
}

func (c *checker) statusTags(jam int, side timeline.Side, f Field) []timeline.ID {
	kind := map[Field]timeline.Kind{FieldLead: timeline.KindLead, FieldLost: timeline.KindLost, FieldCall: timeline.KindCall}[f]
	var out []timeline.ID
	for _, id := range c.b.Jams[jam].Tags {
		if t, ok := c.f.Tags[id]; ok && kind != "" && t.Kind == kind && t.Side == side {
			out = append(out, id)
		}
	}
	return out
}

func markWord(v bool) string {
	if v {
		return "marked"
	}
	return "not marked"
}

func title1(s string) string {
	if s == "ni" {
		return "NI"
	}
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-32) + s[1:]
}

// foldMarks makes one finding of a lead or injury mark that is wrong on both
// sheets of a jam: the mark stands on the other team's line, or on one only.
func (c *checker) foldMarks(jam int) {
	h, a := c.byJam[0][jam], c.byJam[1][jam]
	if h == nil || a == nil {
		return
	}
	for _, cause := range [...]Cause{CauseLead, CauseInj, CauseCall, CauseLost} {
		x, y := h.draftOf(cause), a.draftOf(cause)
		if x == nil || y == nil || cause != CauseInj && x.Sheet == y.Sheet {
			continue
		}
		x.Also = append(x.Also, y.Text)
		x.From = append(x.From, y.From...)
		x.touches = append(x.touches, y.touches...)
		c.drop(y)
		a.undraft(y)
	}
}

func (e *entry) draftOf(cause Cause) *Finding {
	for _, f := range e.drafts {
		if f.Cause == cause {
			return f
		}
	}
	return nil
}

func (e *entry) undraft(f *Finding) {
	for i, x := range e.drafts {
		if x == f {
			e.drafts = append(e.drafts[:i:i], e.drafts[i+1:]...)
			return
		}
	}
}

func (c *checker) drop(f *Finding) {
	for i, x := range c.found {
		if x == f {
			c.found = append(c.found[:i:i], c.found[i+1:]...)
			return
		}
	}
}

// totals compares jam totals where the sheet has no trips.
func (c *checker) totals(e *entry, t line) {
	v, _ := e.points()
	span := timeline.Range{}
	for _, r := range t.rows {
		span = span.Add(spanOf(r))
	}
	if !span.Sure() && span.Contains(v) {
		c.rangeOpen(e, "points", v, span)
		return
	}
	c.compared(span.Contains(v))
	if span.Contains(v) {
		return
	}
	f := Finding{Cause: CauseJamTotal, Column: FieldJamTotal, Sheet: strconv.Itoa(v), Tags: rangeText(span), From: froms(e.line.rows[0].JamTotal.From), TagID: tripTags(t)}
	e.residual = v - nearest(v, span)
	f.Stake[e.side.Index()] = e.residual
	f.Text = fmt.Sprintf("The sheet has %d points in the jam, the tags %s.", v, rangeText(span))
	c.draft(e, f, "points")
}

func (c *checker) rangeOpen(e *entry, what string, v int, span timeline.Range) {
	c.unchecked(Unchecked{
		Table: KindScore, Period: e.line.period, Jam: e.line.jam, Side: e.side, Columns: []string{what},
		Why: fmt.Sprintf("the tags allow %s, which %d is within; not seen or unsure", rangeText(span), v),
	}, e.jam)
}

func tripTags(t line) []timeline.ID {
	var out []timeline.ID
	for _, r := range t.rows {
		for _, x := range r.Trips {
			out = append(out, x.Tags...)
		}
	}
	return out
}

func rangeText(r timeline.Range) string {
	if r.Sure() {
		return strconv.Itoa(r.Low)
	}
	return fmt.Sprintf("%d to %d", r.Low, r.High)
}
