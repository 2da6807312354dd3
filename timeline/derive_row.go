package timeline

// rows projects one side of one jam to the score sheet's lines: one, a second
// (SP) with a completed star pass, or an empty one (SP*) beside the opponents'
// star pass. Trips stand on the row of the jammer who completed them; a started
// scoring trip without points is 0. Cells that nobody logged stay absent.
func (d *deriver) rows(j *Jam, s Side, side *JamSide) {
	base := JamRow{Period: j.Period, Jam: j.Number, Side: s}
	first := base
	first.Jammer = whoCell(side.Jammer, side.jammerTags(d))
	if !side.LineupTagged && side.Jammer.Number == "" {
		first.Jammer = Cell[Number]{}
	}
	total := side.GameBefore
	if side.Logged {
		d.statusCells(j, side, &first)
		first.NI = side.NI[0]
		pts := side.tripCells(&first, false)
		total = total.Add(pts)
		first.JamTotal = rangeCell(pts)
		if side.GameKnown {
			first.GameTotal = rangeCell(total)
		}
	}
	side.Rows = append(side.Rows, first)
	switch {
	case side.StarPass:
		sp := base
		sp.StarPass = true
		sp.Jammer = whoCell(Who{Number: side.NewJammer, Seen: seenOf(side.NewJammer)}, nil)
		if side.Logged {
			sp.Lost, sp.Lead, sp.Call = Known(false), Known(false), Known(false)
			sp.Inj = first.Inj
			sp.NI = side.NI[1]
			pts := side.tripCells(&sp, true)
			sp.JamTotal = rangeCell(pts)
			if side.GameKnown {
				sp.GameTotal = rangeCell(total.Add(pts))
			}
		}
		side.Rows = append(side.Rows, sp)
	case j.Sides[s.Other().Index()].StarPass:
		sp := base
		sp.Spacer = true
		sp.Jammer.State = CellBlank
		sp.JamTotal.State, sp.GameTotal.State = CellBlank, CellBlank
		side.Rows = append(side.Rows, sp)
	}
}

// statusCells fills lead, lost, call and injury of the first row. Lost is left
// open where the paper may go either way: a jammer without lead who took a
// penalty or her star off (example sheets differ).
func (d *deriver) statusCells(j *Jam, side *JamSide, row *JamRow) {
	tags := func(ks ...Kind) (ids []ID) {
		for _, k := range ks {
			for _, p := range d.inJam[d.jamIndex[j.ID]] {
				if p.Kind == k && p.Side == row.Side {
					ids = append(ids, p.ID)
				}
			}
		}
		return ids
	}
	row.Lead = Known(side.Lead)
	row.Lead.Tags = tags(KindLead)
	if side.LeadUnknown {
		row.Lead.State = CellUnread
	}
	row.Call = Known(side.Called)
	row.Call.Tags = tags(KindCall)
	lost := tags(KindLost)
	switch {
	case side.Lost:
		row.Lost = Known(true)
		row.Lost.Tags = append(lost, tags(KindStarPass)...)
	case side.LeadUnknown, len(tags(KindStarPass)) > 0:
	case !side.Lead && d.jammerPenalised(j, side):
	default:
		row.Lost = Known(false)
	}
	if j.Ended != EndUnknown {
		row.Inj = Known(j.Ended == EndInjury)
		row.Inj.Tags = []ID{j.ID}
	}
}

func (d *deriver) jammerPenalised(j *Jam, side *JamSide) bool {
	for _, id := range side.Penalties {
		n := d.tag[id].Who.Number
		if n == "" || n == side.Jammer.Number {
			return true
		}
	}
	return false
}

func (side *JamSide) jammerTags(d *deriver) []ID {
	for _, w := range side.Why {
		if w.Section == "2.2.1" {
			return w.Tags
		}
	}
	return nil
}

// tripCells fills the trip columns of one row and returns its points. Points of
// the initial trip (overtime, or the jammer lap of 2013) stand in the first
// column with those of trip 2 (from memory).
func (side *JamSide) tripCells(row *JamRow, after bool) Range {
	sum := Range{}
	for _, tr := range side.Trips {
		if tr.NewStar != after {
			continue
		}
		sum = sum.Add(tr.Points)
		if tr.Number == 1 && tr.Points == (Range{}) {
			continue
		}
		col := max(tr.Number-2, 0)
		for len(row.Trips) <= col {
			row.Trips = append(row.Trips, Cell[int]{State: CellBlank})
		}
		c := rangeCell(tr.Points)
		if col == 0 && row.Trips[0].State >= CellKnown {
			c = rangeCell(row.Trips[0].span().Add(tr.Points))
			c.Tags = append(c.Tags, row.Trips[0].Tags...)
		}
		c.Tags = append(c.Tags, tr.Tags...)
		row.Trips[col] = c
	}
	return sum
}

func (c Cell[T]) span() Range {
	if v, ok := any(c.Value).(int); ok && c.State == CellKnown {
		return Exactly(v)
	}
	return Range{c.Low, c.High}
}

// rangeCell is a sure number or a range.
func rangeCell(r Range) Cell[int] {
	if r.Sure() {
		return Known(r.Low)
	}
	return Cell[int]{State: CellRange, Low: r.Low, High: r.High}
}

func seenOf(n Number) Seen {
	if n == "" {
		return NotSeen
	}
	return Sure
}

// whoCell is a number, or unread when it was not seen or is unsure.
func whoCell(w Who, tags []ID) Cell[Number] {
	c := Cell[Number]{State: CellKnown, Value: w.Number, Tags: tags}
	switch {
	case w.Number == "" || w.Seen == NotSeen:
		c.Value = ""
		c.State = CellUnread
	case w.Seen == Unsure:
		c.State = CellUnread
	}
	return c
}

// Rows lists every line of the bout as a score sheet of one side would have it.
func (b Bout) Rows(side Side) []JamRow {
	var out []JamRow
	if !side.known() {
		return nil
	}
	for i := range b.Jams {
		out = append(out, b.Jams[i].Sides[side.Index()].Rows...)
	}
	return out
}
