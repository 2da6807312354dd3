package sheet

import "whistlecut/timeline"

// addUp works out the arithmetic of one side's lines in their order: of each row
// the trips, the jam total and its slip against them, and of each game total
// what it is off what it should carry on from the one before.
func addUp(entries []*entry) {
	carried, since := 0, 0 // last game total, jam totals since
	period, first := 0, true
	trips := false
	filled, unfilled := 0, 0 // rows with points, with and without trips
	for _, e := range entries {
		trips = trips || e.line.width() > 0
		for _, r := range e.line.rows {
			switch {
			case r.JamTotal.State != timeline.CellKnown || r.JamTotal.Value == 0:
			case filledTrips(r):
				filled++
			default:
				unfilled++
			}
		}
	}
	// Where trips are filled in as a rule, a row with points and no trips is a slip;
	// else this sheet has points without trips.
	rule := filled >= 3 && unfilled*4 <= filled
	for _, e := range entries {
		e.rows = make([]rowSum, len(e.line.rows))
		for k, r := range e.line.rows {
			x := &e.rows[k]
			sum, readable := tripSum(r)
			x.trips = sum
			x.total, x.totalSet = valueOf(r.JamTotal)
			x.tripsKnown = trips && readable && (rule || filledTrips(r) || !x.totalSet || x.total == 0)
			x.game, x.gameSet = valueOf(r.GameTotal)
		}
		jointTotal(e)
		for k := range e.rows {
			x := &e.rows[k]
			switch {
			case x.totalSet && x.tripsKnown:
				x.slip = x.total - x.trips
			case x.tripsKnown:
				x.total = x.trips
			case !x.totalSet && x.gameSet:
				// Only the running total is there: it tells the jam's points. One that
				// falls at a period's start begins anew.
				x.total, x.totalSet = x.game-carried-since, true
				if e.line.period != period && x.game < carried {
					x.total = x.game
				}
			}
			since += x.total
			if e.line.period != period {
				first = true
				period = e.line.period
			}
			if !x.gameSet {
				continue
			}
			if first && carried != 0 && x.game == since && x.game != carried+since {
				carried = 0 // this sheet's running total begins anew each period
			}
			x.carry = x.game - carried - since
			carried, since, first = x.game, 0, false
		}
	}
}

// filledTrips reports that at least one trip is filled in.
func filledTrips(r *timeline.JamRow) bool {
	for _, c := range r.Trips {
		if c.State == timeline.CellKnown {
			return true
		}
	}
	return false
}

// jointTotal: some sheets write one jam total for both rows of a star pass, on
// the SP row.
func jointTotal(e *entry) {
	if len(e.rows) != 2 {
		return
	}
	a, b := &e.rows[0], &e.rows[1]
	if !a.totalSet && b.totalSet && a.tripsKnown && b.tripsKnown && a.trips != 0 && b.total == a.trips+b.trips {
		a.total, a.totalSet = a.trips, true
		b.total = b.trips
	}
}

// final is a side's final score on the sheet: the last game total and what came
// after it, over all periods.
func final(entries []*entry) (score int, known bool) {
	carried, since, period := 0, 0, 0
	base := 0
	first := true
	for _, e := range entries {
		for _, x := range e.rows {
			if e.line.period != period {
				first, period = true, e.line.period
			}
			since += x.total
			known = known || x.totalSet || x.tripsKnown || x.gameSet
			if !x.gameSet {
				continue
			}
			if first && carried != 0 && x.carry == 0 && x.game == since {
				base, carried = base+carried, 0
			}
			carried, since, first = x.game, 0, false
		}
	}
	return base + carried + since, known
}
